// The Job door: a whole order, stop by stop from the art to the box, and what is printed of it.
import { useComputed, useSignal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { FillingContext } from "../ask/context";
import { Example } from "../ask/form/example";
import { Faults } from "../ask/form/frame";
import { spokenOf } from "../ask/answer/notes";
import { FloodbarError } from "../work/engine";
import { linkToJob, type Paper } from "../shell/place";
import { read, save, type Told } from "./files";
import { job, openJob, useJob } from "./job";
import { PAPER_NAMES, Papers } from "./papers";
import { STOPS } from "./stops";
import { StopView } from "./stop_view";

export function JobDoor({ paper }: { paper?: Paper }) {
  const order = job.value;
  useEffect(() => void openJob(), []);
  useEffect(() => order?.open(), [order]);
  if (order === undefined) return <main class="page" id="main"><h1>{TITLE}</h1></main>;
  return <FillingContext.Provider value={order}>{paper === undefined ? <Way /> : <Papers key={paper} paper={paper} />}</FillingContext.Provider>;
}

const TITLE = "From the art to the box";

/** Whether a text field differs from when it was entered: the browser's own undo is then at work in it. */
function useTyping() {
  const entered = useRef<{ field: Element; text: string } | undefined>(undefined);
  useEffect(() => {
    const text = (field: EventTarget | null) => (field instanceof HTMLTextAreaElement || (field instanceof HTMLInputElement && field.type === "text") ? field.value : undefined);
    const note = ({ target }: FocusEvent) => {
      const now = text(target);
      entered.current = now === undefined ? undefined : { field: target as Element, text: now };
    };
    document.addEventListener("focusin", note);
    return () => document.removeEventListener("focusin", note);
  }, []);
  return () => {
    const at = entered.current;
    return at !== undefined && at.field === document.activeElement && (at.field as HTMLInputElement).value !== at.text;
  };
}

function Tools() {
  const order = useJob();
  const told = useSignal<Told | undefined>(undefined);
  const typing = useTyping();
  const file = useRef<HTMLInputElement>(null);
  const take = async (taken: File | undefined) => {
    if (taken !== undefined) told.value = await read(order, taken);
  };
  useEffect(() => {
    const keys = (event: KeyboardEvent) => {
      if (event.key.toLowerCase() !== "z" || !(event.ctrlKey || event.metaKey) || event.altKey || typing()) return;
      event.preventDefault();
      if (event.shiftKey) order.redo();
      else order.undo();
    };
    const over = (event: DragEvent) => event.dataTransfer?.types.includes("Files") && event.preventDefault();
    const drop = (event: DragEvent) => {
      // A place of its own on the page may have taken it.
      if (event.defaultPrevented || !event.dataTransfer?.files.length) return;
      event.preventDefault();
      void take(event.dataTransfer.files[0]);
    };
    addEventListener("keydown", keys);
    addEventListener("dragover", over);
    addEventListener("drop", drop);
    return () => {
      removeEventListener("keydown", keys);
      removeEventListener("dragover", over);
      removeEventListener("drop", drop);
    };
  }, []);
  const { theirs } = order;
  return (
    <div class="tools">
      <div class="doors">
        <button type="button" class="plain" onClick={() => order.begin()}>New order</button>
        <label class="plain">Read from a file<input class="unseen" type="file" accept=".json,application/json" ref={file} onChange={({ currentTarget }) => {
          void take(currentTarget.files?.[0]);
          // The same file can be taken again.
          currentTarget.value = "";
        }} /></label>
        <button type="button" class="plain" onClick={() => (told.value = save(order))}>Save to a file</button>
        <button type="button" class="plain" aria-keyshortcuts="Control+Z Meta+Z" aria-disabled={!order.steps.back.value} onClick={order.undo}>Undo</button>
        <button type="button" class="plain" aria-keyshortcuts="Control+Shift+Z Meta+Shift+Z" aria-disabled={!order.steps.forth.value} onClick={order.redo}>Redo</button>
      </div>
      <p class={told.value?.refused ? "refused told" : "told"} role="status">
        {told.value?.text}
        {told.value?.anyway && <> <button type="button" class="link" onClick={() => {
          told.value!.anyway!();
          told.value = undefined;
        }}>Read it all the same</button></>}
      </p>
      {theirs.value !== undefined && (
        <p class="refused" role="alert">
          Another tab changed this order while you worked on it here.{" "}
          <button type="button" class="link" onClick={() => order.take(theirs.peek()?.request)}>Take what the other has</button>{" or "}
          <button type="button" class="link" onClick={() => order.keepOwn()}>keep what stands here</button>
        </p>
      )}
    </div>
  );
}

/** Says what is wrong in the order and how far it is, once it has settled. */
function Said() {
  const order = useJob();
  const text = useComputed(() => {
    const states = STOPS.map((stop) => order.stateOf(stop));
    const count = (one: string, of: (state: (typeof states)[number]) => number) => {
      const sum = states.reduce((total, state) => total + of(state), 0);
      return sum > 0 ? `${sum} ${one}` : "";
    };
    const level = (name: string) => (state: (typeof states)[number]) => state.notes.filter((note) => note.level === name).length;
    const error = order.error.value;
    // What is wanted still is counted.
    const wrong = error === undefined || (error instanceof FloodbarError && error.code === "missing_field") ? "" : `${spokenOf(order, error)}. `;
    return wrong + [order.plan.answer.value === undefined ? "No plan yet" : "Planned", order.quote.answer.value && "priced",
      count("STOP", level("limit")), count("cautions", level("caution")), count("still wanted", (state) => state.wanted.length)].filter(Boolean).join(", ");
  }).value;
  const said = useSignal("");
  useEffect(() => {
    const timer = setTimeout(() => (said.value = text), 900);
    return () => clearTimeout(timer);
  }, [text]);
  return <p class="unseen" role="status">{said.value}</p>;
}

function Way() {
  const order = useJob();
  const title = order.request.value.title;
  useEffect(() => {
    document.title = `${TITLE} · Floodbar`;
    document.querySelector<HTMLElement>("h1")?.focus();
  }, []);
  return (
    <main class="page job" id="main">
      <header class="asked">
        <h1 tabIndex={-1}>{TITLE}</h1>
        {typeof title === "string" && title !== "" && <p class="order-name">{title}</p>}
      </header>
      <form class="form" noValidate onSubmit={(event) => event.preventDefault()} aria-label={order.entry.title}>
        <Example />
        <Tools />
        <Faults node={order.root} />
        <ol class="thread route">{STOPS.map((stop, index) => <StopView key={stop.name} stop={stop} next={STOPS[index + 1]} />)}</ol>
      </form>
      <section class="papers" aria-label="On paper">
        <h2>On paper</h2>
        <ul>{PAPER_NAMES.map(([paper, name]) => <li key={paper}><a class="question" href={linkToJob(paper)}>Print the {name}</a></li>)}</ul>
      </section>
      <Said />
    </main>
  );
}
