// What stands around every control: its label, what it means, the usual range, and what is wrong or noteworthy there.
import type { ComponentChildren } from "preact";
import { FloodbarError } from "floodbar/worker";
import { kindOf } from "../../model/catalogue";
import { Forms, Leaf, nodeAt, Part, Stock, type Node } from "../../model/nodes";
import { figures, unitSign } from "../../model/numbers";
import { scaleOf } from "../../work/engine";
import { told } from "../../shop/words";
import { Message } from "../answer/notes";
import { useFilling } from "../context";
import type { Note } from "../filling";

/** The usual range in the unit that is chosen. */
export function usualRange(node: Leaf): string | undefined {
  if (!("range" in node.field)) return undefined;
  const { unit, usual } = node.field.range;
  if (usual === undefined) return undefined;
  const own = node.unit.value;
  const scale = node.field.share ? { slope: own === "%" ? 100 : 1, start: 0 } : node.field.kind === "quantity" ? scaleOf(unit, own) : { slope: 1, start: 0 };
  if (scale === undefined) return undefined;
  const [low, high] = usual.map((end) => figures(end * scale.slope + scale.start));
  return `usually ${low} to ${high} ${node.field.kind === "quantity" || node.field.share ? unitSign(own) : ""}`.trim();
}

/** Said only where it says more than the label: in two words or more that tell something. */
function telling(meaning: string, label: string): string | undefined {
  const wordsOf = (text: string) => text.toLowerCase().match(/[a-z]{4,}/g) ?? [];
  const known = new Set([...wordsOf(label), "what", "with", "that", "this", "when", "from", "where", "called", "print", "screen"]);
  return wordsOf(meaning).filter((word) => !known.has(word)).length >= 2 ? meaning.replace(/; or give .*$/, "").replace(/\.?$/, ".") : undefined;
}

export function Hint({ node }: { node: Node }) {
  const { field } = node;
  const range = node instanceof Leaf ? usualRange(node) : undefined;
  const said = [telling(field.meaning, field.label), range && `${range.charAt(0).toUpperCase()}${range.slice(1)}.`].filter(Boolean);
  return said.length > 0 ? <p class="hint" id={`${node.uid}-hint`}>{said.join(" ")}</p> : null;
}

/** Where a default comes from, or the way back to it. */
export function Origin({ node }: { node: Leaf }) {
  const filling = useFilling();
  const { field } = node;
  const basis = node.basis.value;
  const preset = node.preset.value;
  if (preset === undefined) {
    return field.presetWords !== undefined && !node.given.value
      ? <p class="origin" id={`${node.uid}-origin`}>If left empty: {field.presetWords}.</p> : null;
  }
  if (!node.given.value) {
    if (basis?.kind === "user") return null;
    return <p class="origin" id={`${node.uid}-origin`}>Usual value{basis && <>: {basis.source} ({kindOf(basis.kind)})</>}</p>;
  }
  const reset = () => filling.edit(node, () => {
    node.put(undefined);
    node.picked = false;
    node.unit.value = node.usualUnit("metric");
  });
  return <p class="origin" id={`${node.uid}-origin`}><button type="button" class="link" onClick={reset}>{basis?.kind === "user" ? "Back to mine" : "Back to the usual value"}<span class="unseen"> of {field.label}</span></button></p>;
}

/** Of a value that the user has a number of their own for: how it came, and the way to the built-in one for this once. */
export function Mine({ node }: { node: Node }) {
  const filling = useFilling();
  const stock = node.parent?.parent;
  const { name } = node.field;
  if (!(stock instanceof Stock) || stock.isOwn.value || stock.mine.value[name] === undefined || node.read() !== undefined) return null;
  const builtIn = stock.builtIn.value.has(name);
  return (
    <p class="origin" id={`${node.uid}-mine`}>
      {builtIn ? "Built in, for this once." : `Yours${told(stock.howOf(name))}.`}{" "}
      {!filling.apart && (
        <button type="button" class="link" onClick={() => filling.vary(() => stock.useBuiltIn(name, !builtIn))}>
          {builtIn ? "Use mine" : "Use the built-in one here"}<span class="unseen">: {node.field.label}</span>
        </button>
      )}
    </p>
  );
}

const MARKS: { [level in Note["level"]]: string } = { limit: "STOP", caution: "Caution", info: "Note" };

/** Errors and notes of this very field. */
export function Faults({ node }: { node: Node }) {
  const filling = useFilling();
  const error = filling.error.value;
  const mine = error instanceof FloodbarError && filling.wrong.value === node;
  const notes = filling.notes.value.filter((note) => note.level !== "info" && note.field !== "" && nodeAt(filling.root, note.field) === node);
  return (
    <div id={`${node.uid}-fault`} class="faults">
      {mine && (error.code === "missing_field"
        ? <p class="wanted"><Message text={error.message.replace(/^`\w+` is missing: wanted is /, "Wanted: ")} /></p>
        : <p class="fault"><Message text={error.message} /></p>)}
      {notes.map((note) => <p key={note.code} class={`noted ${note.level}`}><b>{MARKS[note.level]}</b> <Message text={note.message} /></p>)}
    </div>
  );
}

/** Whose label and faults stand around a control: one of several ways to write a value has none of its own. */
const holderOf = (node: Node): Node => (node instanceof Leaf && node.parent instanceof Forms ? node.parent : node);

export const isWrong = (filling: ReturnType<typeof useFilling>, node: Node): boolean =>
  filling.wrong.value === holderOf(node) && (filling.error.value as FloodbarError).code !== "missing_field";

/** The ids of all that describes a control. */
export const describedBy = (node: Node): string => {
  const { uid } = holderOf(node);
  return `${uid}-fault ${uid}-hint ${uid}-origin ${uid}-mine`;
};

/** Whether a form does without it: not so for the alternative that was picked. */
const isAny = ({ field, parent }: Node): boolean =>
  field.optional && field.rank === "first" && !(parent instanceof Part && parent.overrides) && field.preset === undefined && !(parent instanceof Part && parent.field.choices().some(({ names }) => names.has(field.name)));

/** A label and its control; the opening beside it fills when it is answered. */
export function Frame({ node, given, label, children }: { node: Node; given: boolean; label?: string; children: ComponentChildren }) {
  return (
    <div class="field" data-at={node.pointer()} data-given={given || undefined}>
      <label class="label" for={node.uid}>{label ?? node.field.label}{isAny(node) && <span class="if-any"> if any</span>}</label>
      {children}
      <Hint node={node} />
      {node instanceof Leaf && <Origin node={node} />}
      <Mine node={node} />
      <Faults node={node} />
    </div>
  );
}
