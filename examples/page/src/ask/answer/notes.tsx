// What must be known before the numbers: STOP first, then cautions, each with the way to its field.
import { Forms, nodeAt, type Node } from "../../model/nodes";
import { useQuestion } from "../context";
import { nameOf, type Note } from "../question";

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

function Line({ note }: { note: Note }) {
  const question = useQuestion();
  const node = note.field === "" ? question.root : nodeAt(question.root, note.field);
  return (
    <li class={note.level}>
      <b class="mark">{note.level === "limit" ? "STOP" : "Caution"}</b>{" "}
      {note.message.charAt(0).toUpperCase() + note.message.slice(1)}{" "}
      {node !== question.root && <button type="button" class="link" onClick={() => goTo(node)}>{nameOf(node)}</button>}
    </li>
  );
}

export function Warnings() {
  const notes = useQuestion().notes.value;
  const shown = ["limit", "caution"].flatMap((level) => notes.filter((note) => note.level === level));
  return shown.length > 0 ? <ul class="warnings">{shown.map((note) => <Line key={note.code + note.field} note={note} />)}</ul> : null;
}

export function Explained() {
  const infos = useQuestion().notes.value.filter(({ level }) => level === "info");
  return infos.length > 0 ? <ul class="infos">{infos.map((note) => <li key={note.code + note.field}>{note.message.charAt(0).toUpperCase() + note.message.slice(1)}</li>)}</ul> : null;
}
