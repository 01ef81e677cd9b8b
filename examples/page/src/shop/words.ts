// How the user's own numbers are spoken of.
import { entryOf } from "../model/catalogue";
import type { FieldOf } from "../model/fields";
import type { How } from "./own";

export const dayOf = (at: number): string => new Date(at).toLocaleDateString("en-GB", { day: "numeric", month: "long", year: "numeric" });

/** How and when a number came, to go on from its name: ", Ink release by weighing, 14 May 2027". */
export function told(how: How | undefined): string {
  if (how === undefined) return "";
  const { id, at } = how;
  return `, ${(id !== undefined && entryOf(id)?.title) || "typed"}, ${dayOf(at)}`;
}

/** Names of fields within a sentence: "released share and flood strokes". */
export const listed = (labels: string[]): string =>
  labels.map((label) => label.charAt(0).toLowerCase() + label.slice(1)).join(", ").replace(/, ([^,]*)$/, " and $1");

/** What a member of a row is called. */
export function labelIn(field: FieldOf<"stock">, member: string): string {
  const row = field.changed();
  return (row.kind === "record" ? row.fields().find(({ name }) => name === member)?.label : undefined) ?? member.replaceAll("_", " ");
}
