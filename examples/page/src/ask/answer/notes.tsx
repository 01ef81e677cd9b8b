// What must be known before the numbers: STOP first, then cautions, each with the way to its field.
import { Forms, nodeAt, type Node } from "../../model/nodes";
import { entryOf } from "../../model/catalogue";
import { linkTo } from "../../shell/place";
import { useFilling } from "../context";
import type { Note } from "../filling";
import { nameOf } from "../names";

/** Moves to the control of a field, opening what hides it. */
export function goTo(node: Node): void {
  const find = () => {
    for (let part: Node | undefined = node; part !== undefined; part = part.parent) {
      const control = document.getElementById(part.uid) ?? (part instanceof Forms ? document.getElementById(part.current.uid) : null);
      if (control !== null) return control;
    }
    return null;
  };
  const control = find();
  control?.closest("details")?.setAttribute("open", "");
  control?.focus();
  control?.scrollIntoView({ block: "center" });
}

/** A message: the calculations that it names as links to their questions, members of the request by their labels. */
export function Message({ text }: { text: string }) {
  const { root } = useFilling();
  const parts = text.replace(/\bdeg([CF])\b/g, "°$1").split(/(`[^`]+`|\b[a-z]+\.[a-z_]+\b)/);
  return <>{parts.map((part, index) => {
    if (part.startsWith("`")) {
      const name = part.slice(1, -1);
      return <i key={index}>{root.field.fields().find((field) => field.name === name)?.label ?? name}</i>;
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
