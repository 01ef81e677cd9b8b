// What must be known before the numbers: STOP first, then cautions, each with the way to its field.
import { signal } from "@preact/signals";
import { Forms, nodeAt, type Node, type Part } from "../../model/nodes";
import { entryOf } from "../../model/catalogue";
import { linkTo } from "../../shell/place";
import { useFilling } from "../context";
import type { Filling, Note } from "../filling";
import { fault, type FloodbarError } from "../../work/engine";
import { nameOf } from "../names";

/** The field that a reader was led to last: what hides it is open. */
export const sought = signal<Node | undefined>(undefined);

/** Moves to the control of a field, opening what hides it. */
export function goTo(node: Node): void {
  const controlOf = (part: Node) => document.getElementById(part.uid) ?? (part instanceof Forms ? document.getElementById(part.current.uid) : null);
  const show = () => {
    let control = controlOf(node);
    for (let part = node.parent; control === null && part !== undefined; part = part.parent) control = controlOf(part);
    control?.closest("details")?.setAttribute("open", "");
    control?.focus();
    control?.scrollIntoView({ block: "center" });
  };
  sought.value = node;
  // What is closed has no controls before it is drawn.
  if (controlOf(node) !== null) show();
  else requestAnimationFrame(() => requestAnimationFrame(show));
}

const DEGREES = /\bdeg([CF])\b/g;
/** What a member of the request is called. */
const labelIn = (root: Part, name: string): string => root.field.fields().find((field) => field.name === name)?.label ?? name;

/** An error in words to be heard, its field first. */
export function spokenOf({ root, wrong }: Filling, error: Error): string {
  const node = wrong.peek();
  const says = node === undefined || node === root || (error as FloodbarError).code === "missing_field";
  return (says ? "" : `${nameOf(node)}: `) + fault(error).replace(DEGREES, "°$1").replace(/`([^`]+)`/g, (_, name: string) => labelIn(root, name));
}

/** A message: the calculations that it names as links to their questions, members of the request by their labels. */
export function Message({ text }: { text: string }) {
  const { root } = useFilling();
  const parts = text.replace(DEGREES, "°$1").split(/(`[^`]+`|\b[a-z]+\.[a-z_]+\b)/);
  return <>{parts.map((part, index) => {
    if (part.startsWith("`")) {
      return <i key={index}>{labelIn(root, part.slice(1, -1))}</i>;
    }
    const entry = index % 2 === 1 ? entryOf(part) : undefined;
    return entry === undefined ? (index === 0 ? part.charAt(0).toUpperCase() + part.slice(1) : part) : <a key={index} href={linkTo(part)}>{entry.question}</a>;
  })}</>;
}

function Line({ note, lead }: { note: Note; lead: (node: Node) => void }) {
  const { root } = useFilling();
  const node = note.field === "" ? root : nodeAt(root, note.field);
  return (
    <li class={note.level}>
      <b class="mark">{note.level === "limit" ? "STOP" : "Caution"}</b>{" "}
      <Message text={note.message} />{" "}
      {node !== root && <button type="button" class="link" onClick={() => lead(node)}>{nameOf(node)}</button>}
    </li>
  );
}

/** STOPs, then cautions; `lead` is how the reader comes to a field. */
export function Warnings({ notes, lead = goTo }: { notes: Note[]; lead?: (node: Node) => void }) {
  const shown = ["limit", "caution"].flatMap((level) => notes.filter((note) => note.level === level));
  return shown.length > 0 ? <ul class="warnings">{shown.map((note) => <Line key={note.code + note.field} note={note} lead={lead} />)}</ul> : null;
}

export function Explained({ notes }: { notes: Note[] }) {
  const infos = notes.filter(({ level }) => level === "info");
  return infos.length > 0 ? <ul class="infos">{infos.map((note) => <li key={note.code + note.field}><Message text={note.message} /></li>)}</ul> : null;
}
