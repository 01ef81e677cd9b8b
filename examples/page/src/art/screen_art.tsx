// The picture of a screen's separation: dropped or chosen, measured, and drawn with what was found in it.
import { batch, signal } from "@preact/signals";
import { useId } from "preact/hooks";
import { Message } from "../ask/answer/notes";
import { Figure, labelOf } from "../ask/answer/value";
import { useFilling } from "../ask/context";
import type { Note } from "../ask/filling";
import { ChoiceField } from "../ask/form/fields";
import { entryOf, resolved } from "../model/catalogue";
import { Part, pick, Rows, type Node } from "../model/nodes";
import type { Json } from "../model/numbers";
import { system } from "../shell/settings";
import type { Answer } from "../work/engine";
import { Found } from "./found";
import { decoded, measure, type Ink, type Small } from "./picture";

const entry = entryOf("artwork.measure")!;
const spec = (name: string) => resolved(entry.request.properties?.[name] ?? {});
const inks = (spec("ink").enum ?? []).map(String) as Ink[];

/** What was dropped for a screen, and what came of it; kept while the page is open. */
class Art {
  /** What stood in the order for the separation when the file came, and then what was measured: with anything else there the file is another's. */
  readonly of = signal<string | undefined>(undefined);
  readonly file = signal<File | undefined>(undefined);
  readonly ink = signal<Ink>(inks[0] ?? "dark");
  /** As typed, where the file does not say. */
  readonly resolution = signal("");
  readonly wantsResolution = signal(false);
  readonly busy = signal(false);
  readonly refused = signal("");
  readonly drawn = signal<{ small: Small; wide: number; high: number; resolution: string; answer: Answer } | undefined>(undefined);
  private stopper?: AbortController;

  isOf(screen: Part): boolean {
    return this.of.value === separationOf(screen);
  }

  stop(): void {
    this.stopper?.abort();
  }

  /** Reads and measures the file anew; what was found before for the same separation stays until there is something else. */
  async go(screen: Part, take: (answer: Answer) => void): Promise<void> {
    const file = this.file.peek();
    if (file === undefined) return;
    this.stop();
    if (!this.isOf(screen)) {
      this.drawn.value = undefined;
      this.wantsResolution.value = false;
    }
    this.of.value = separationOf(screen);
    const stopper = new AbortController();
    this.stopper = stopper;
    this.busy.value = true;
    this.refused.value = "";
    try {
      const picture = await decoded(file, this.ink.peek(), stopper.signal);
      this.wantsResolution.value = picture.resolution === undefined;
      const resolution = picture.resolution ?? this.resolution.peek().trim();
      if (resolution === "") return;
      const answer = await measure(picture, resolution, this.ink.peek(), system.peek(), stopper.signal);
      // The order may have become another one meanwhile.
      if (!this.isOf(screen)) return;
      batch(() => {
        take(answer);
        this.drawn.value = { small: picture.small, wide: picture.wide, high: picture.high, resolution, answer };
        this.of.value = separationOf(screen);
      });
    } catch (error) {
      if (!stopper.signal.aborted) this.refused.value = (error as Error).message;
    } finally {
      if (this.stopper === stopper) this.busy.value = false;
    }
  }
}

/** What the order has of a screen's separation. */
const separationOf = (screen: Part): string => JSON.stringify((screen.hidden("artwork") ? undefined : screen.part("artwork")?.read()) ?? null);

const kept = new WeakMap<Part, Art>();
function artOf(screen: Part): Art {
  const art = kept.get(screen) ?? new Art();
  kept.set(screen, art);
  return art;
}

/** Puts what was measured where a covered share would stand. */
function take(artwork: Node, answer: Answer): void {
  const { notes: _, basis: __, doubt: ___, ...measured } = answer;
  pick(artwork);
  artwork.put(measured as Json);
}

/** The print that a screen belongs to, if its size is another. */
function ofOtherSize(screen: Part, answer: Answer): Part | undefined {
  const print = screen.parent instanceof Rows ? screen.parent.parent : undefined;
  if (!(print instanceof Part)) return undefined;
  const sizes = ["width", "height"].map((name) => JSON.stringify(print.part(name)?.read() ?? null) === JSON.stringify(written(answer[name])));
  return sizes.every(Boolean) ? undefined : print;
}
/** A size of an answer as a field has it: to a tenth of a millimetre, or a hundredth of an inch. */
function written(size: Json | undefined): string {
  const { value, unit } = size as { value: number; unit: string };
  return `${Number(value.toFixed(unit === "in" ? 2 : 1))} ${unit}`;
}

export function ScreenArt({ node }: { node: Part }) {
  const filling = useFilling();
  const id = useId();
  const art = artOf(node);
  const artwork = node.all.value.get("artwork")!;
  const go = () => void art.go(node, (answer) => filling.edit(artwork, () => take(artwork, answer)));
  const give = (file: File | null | undefined) => {
    if (!file) return;
    art.file.value = file;
    go();
  };
  // A screen that took over another order's row has nothing of the file that was dropped for that one.
  const isOf = art.isOf(node);
  const found = art.drawn.value;
  const drawn = isOf ? found : undefined;
  const choice = node.field.choices().findIndex(({ names }) => names.has("artwork"));
  const name = String(node.part("name")?.read() ?? "the screen");
  return (
    <>
    <div
      class="art" onDragOver={(event) => event.preventDefault()}
      onDrop={(event) => {
        event.preventDefault();
        give(event.dataTransfer?.files[0]);
      }}
    >
      <label class="label" for={id}>Separation of {name}: a PNG or TIFF at the size it prints</label>
      {/* Emptied when it is opened, so that a file that was saved anew can be chosen again. */}
      <input
        id={id} class="file" type="file" accept=".png,.tif,.tiff,image/png,image/tiff" aria-describedby={`${id}-said`}
        onClick={({ currentTarget }) => (currentTarget.value = "")} onChange={({ currentTarget }) => give(currentTarget.files?.[0])}
      />
      <fieldset class="options">
        <legend class="unseen">{spec("ink").title ?? "Ink"}</legend>
        {inks.map((ink) => (
          <label key={ink} class="option"><input type="radio" name={`${id}-ink`} checked={art.ink.value === ink} onChange={() => {
            art.ink.value = ink;
            if (isOf) go();
          }} /><span>{ink === "dark" ? "dark prints" : "light prints"}</span></label>
        ))}
      </fieldset>
      {isOf && art.wantsResolution.value && <Resolution art={art} id={id} go={go} />}
      <div id={`${id}-said`} role="status">
        {isOf && art.busy.value && <p class="busy">Measuring {art.file.value?.name} <button type="button" class="plain" onClick={() => art.stop()}>Stop</button></p>}
        {isOf && !art.busy.value && art.refused.value !== "" && <p class="fault">{art.file.value?.name}: <Message text={art.refused.value} />.</p>}
        {!art.busy.value && drawn !== undefined && art.refused.value === "" && <p class="unseen">{name} is measured.</p>}
      </div>
      {drawn !== undefined && <Found {...drawn} name={name} />}
      {drawn !== undefined && <Measured node={node} answer={drawn.answer} />}
    </div>
    {/* Opened, not moved out, when the picture goes: a number in it may be the one that is being changed. */}
    {found === undefined ? <ChoiceField node={node} index={choice} />
      : <details class="more" open={!isOf}><summary>Without the picture</summary><ChoiceField node={node} index={choice} /></details>}
    </>
  );
}

/** Asked where the file does not say it. */
function Resolution({ art, id, go }: { art: Art; id: string; go: () => void }) {
  const { title, examples } = { ...spec("resolution"), title: spec("resolution").title ?? "Resolution" };
  return (
    <form class="field" noValidate onSubmit={(event) => {
      event.preventDefault();
      go();
    }}>
      <label class="label" for={`${id}-resolution`}>{title}</label>
      <p class="hint" id={`${id}-why`}>The file does not say it. As in {examples?.[0] ?? "300 /in"}.</p>
      <span class="control">
        <input id={`${id}-resolution`} type="text" class="text" autocomplete="off" value={art.resolution.value} aria-describedby={`${id}-why ${id}-said`} onInput={({ currentTarget }) => (art.resolution.value = currentTarget.value)} />
        <button type="submit" class="plain">Measure</button>
      </span>
    </form>
  );
}

/** The numbers, what is to be said of them, and the size for the print. */
function Measured({ node, answer }: { node: Part; answer: Answer }) {
  const filling = useFilling();
  const notes = ((answer.notes ?? []) as unknown as Note[]).filter(({ level }) => level !== "info");
  const print = ofOtherSize(node, answer);
  const told = entry.headline.filter((name) => answer[name] !== undefined);
  return (
    <>
      {notes.map(({ code, level, message }) => <p key={code} class={`noted ${level}`}><b>{level === "limit" ? "STOP" : "Caution"}</b> <Message text={message} /></p>)}
      <dl class="measured">{told.map((name) => <div key={name}><dt>{labelOf(entry.answer, name)}</dt><dd><Figure value={answer[name]!} name={name} /></dd></div>)}</dl>
      {print !== undefined && (
        <p><button type="button" class="link" onClick={() => filling.edit(node, () => {
          for (const name of ["width", "height"]) print.all.peek().get(name)?.put(written(answer[name]));
        })}>Make the print as large: {written(answer.width)} by {written(answer.height)}</button></p>
      )}
    </>
  );
}
