// What a form still lacks: all that must be given and is not.
import { Forms, Leaf, Part, Rows, Stock, type Node } from "./nodes";

function lacking(node: Node, needed: boolean): Node[] {
  if (node instanceof Part) return node.on.value ? wanted(node) : needed ? [node] : [];
  if (node instanceof Rows) {
    const rows = node.rows.value;
    return rows.length === 0 && needed && node.preset.value === undefined ? [node] : rows.flatMap((row) => lacking(row, true));
  }
  if (node instanceof Stock && node.isOwn.value) return lacking(node.own.value!, needed);
  if (node instanceof Forms && !(node.current instanceof Leaf)) return lacking(node.current, needed);
  return needed && node.read() === undefined ? [node] : [];
}

/** The fields of a record that are wanted still, its own and those of records within. */
export function wanted(part: Part): Node[] {
  // What is not given of a row of the stock is as the stock has it.
  if (part.standsFor()) return [];
  const chosen = ({ field }: Node) => part.field.choices().some(({ names }) => names.has(field.name));
  return part.parts().flatMap((node) => lacking(node, !node.field.optional || chosen(node)));
}
