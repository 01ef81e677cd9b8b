// What a field is called.
import { rowOf } from "../model/catalogue";
import { Forms, Leaf, Rows, Stock, type Node } from "../model/nodes";

/** What a node is called, with what it is part of: "Test strips 2, Exposure given". */
export function nameOf(node: Node): string {
  const names: string[] = [];
  for (let part: Node | undefined = node; part?.parent !== undefined; part = part.parent) {
    if (part.parent instanceof Forms) continue;
    if (part.parent instanceof Rows && part.parent.field.kind === "list") names.unshift(`${part.parent.field.label} ${part.parent.nameOf(part) === "-1" ? "" : Number(part.parent.nameOf(part)) + 1}`);
    else if (!(part instanceof Rows) || names.length === 0) if (!(part.parent instanceof Stock) && names[0] !== part.field.label) names.unshift(part.field.label);
  }
  return [...new Set(names)].join(", ");
}

/** What a thing of the order is called: by the name that was given to it, or else by what it is. */
export function ownName(node: Node): string {
  const name = node.part("name");
  if (name instanceof Leaf && name.given.value && !(node instanceof Stock)) return name.text.value;
  return (node instanceof Stock && rowOf(node.field.shelf, node.standing.value)?.label) || nameOf(node) || node.field.label;
}
