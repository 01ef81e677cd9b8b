// What a measurement gives: of which row, and which of its members.
import { rowsOf } from "../model/catalogue";
import { isRecord, type Members } from "../model/node";
import { nodeAt, Stock, type Part } from "../model/nodes";
import type { Json } from "../model/numbers";
import type { Answer } from "../work/engine";
import type { Measure } from "./measures";
import { same } from "./spread";

/** The rows that a measurement may stand on, the likeliest first; none where the request has one of its own. */
export function rowsFor(measure: Measure, root: Part): { shelf: string; name: string }[] {
  const { at, shelf } = measure;
  if (shelf !== undefined) {
    const has = (values: Members) => membersOf(measure).some((member) => values[member] !== undefined && values[member] !== null);
    const rows = rowsOf(shelf);
    return [...rows.filter(({ values }) => has(values)), ...rows.filter(({ values }) => !has(values))].map(({ name }) => ({ shelf, name }));
  }
  const node = at === undefined ? undefined : nodeAt(root, at);
  return node instanceof Stock && !node.isOwn.value && node.name.value !== "" ? [{ shelf: node.field.shelf, name: node.name.value }] : [];
}

const valueAt = (whole: Json, at: string): Json | undefined =>
  at.split("/").slice(1).reduce<Json | undefined>((part, name) => (isRecord(part) ? part[name] : undefined), whole);

/** The members of a row that a measurement gives. */
export const membersOf = ({ takes }: Measure): string[] => [...new Set(Object.keys(takes).map((at) => at.split("/")[1]!))];

/** What a question measures does not stand in it already: it starts from the row as the stock has it. */
export function leaveOut(measure: Measure | undefined, root: Part): void {
  const node = measure?.at === undefined ? undefined : nodeAt(root, measure.at);
  if (measure !== undefined && node instanceof Stock) node.sought = membersOf(measure);
}

/** The members of the row with their measured values; what came out as it is built in is none of the user's own. */
export function taken({ takes }: Measure, request: Members, answer: Answer, builtIn: Members): Members {
  const members: Members = {};
  for (const [to, from] of Object.entries(takes)) {
    const value = valueAt({ request, answer }, from);
    const [, member = "", part] = to.split("/");
    if (value === undefined || value === null) continue;
    members[member] = part === undefined ? value : { ...(members[member] as Members | undefined), [part]: value };
  }
  return Object.fromEntries(Object.entries(members).filter(([name, value]) => !same(value, builtIn[name])));
}
