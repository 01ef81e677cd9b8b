// Rows are checked by the core: as part of a question that takes one, whose other inputs are its example's.
import { entries, type Entry } from "../model/catalogue";
import { fieldOf, type Field, type FieldOf } from "../model/fields";
import type { Members } from "../model/node";
import { answerOf, FloodbarError } from "../work/engine";
import { labelIn } from "./words";

const roots = new Map<string, FieldOf<"record">>();
/** All that a question asks for, as one field. */
export function rootOf(entry: Entry): FieldOf<"record"> {
  const root = roots.get(entry.id) ?? (fieldOf(entry.request, "", true, entry.title) as FieldOf<"record">);
  roots.set(entry.id, root);
  return root;
}

export const fieldsIn = (field: Field): Field[] => (field.kind === "record" ? field.fields() : []);

/** A machine that heats stands in it, or in what it names. */
const isHeated = (field: Field): boolean =>
  field.kind === "stock" && (["flash", "dryer"].includes(field.shelf) || fieldsIn(field.changed()).some(isHeated));
/** What takes a while to work out. */
export const heats = (entry: Entry): boolean => rootOf(entry).fields().some(isHeated);

export interface Checker { entry: Entry; field: FieldOf<"stock"> }

/** The question that checks rows of a shelf: of those that take one the quickest, that which asks for the least else. */
function checkers(): Map<string, Checker> {
  const found = new Map<string, Checker>();
  for (const heated of [false, true]) {
    const some = entries.filter((one) => heats(one) === heated);
    if (!heated) some.sort((one, other) => rootOf(one).fields().length - rootOf(other).fields().length);
    for (const entry of some) {
      for (const field of rootOf(entry).fields()) if (field.kind === "stock" && !found.has(field.shelf)) found.set(field.shelf, { entry, field });
    }
  }
  return found;
}
let made: Map<string, Checker> | undefined;
/** By shelf: those whose rows can be the user's own. */
export const shelves = (): Map<string, Checker> => (made ??= checkers());
export const checkerOf = (shelf: string): Checker | undefined => shelves().get(shelf);

/** The request that checks a row with these values. */
export const checking = ({ entry, field }: Checker, name: string, values: Members): Members => ({ ...entry.example, [field.name]: { from: name, ...values } });

/** Why a row does not take these values, in a sentence; undefined where it does. */
export async function refusal(shelf: string, name: string, values: Members): Promise<string | undefined> {
  const checker = checkerOf(shelf);
  const known = checker === undefined ? [] : fieldsIn(checker.field.changed()).map((field) => field.name);
  const stranger = Object.keys(values).find((member) => !known.includes(member));
  if (checker === undefined || stranger !== undefined) return `there is no “${stranger ?? shelf}”`;
  try {
    await answerOf(checker.entry.id, { ...checking(checker, name, values), explain: false });
  } catch (error) {
    if (!(error instanceof FloodbarError)) throw error;
    const at = `/${checker.field.name}`;
    if (error.field === at || error.field.startsWith(`${at}/`)) return toldIn(checker, error);
  }
  return undefined;
}

/** What is wrong with a row, its members by their labels. */
function toldIn({ field }: Checker, { field: at, message }: FloodbarError): string {
  const [, , member] = at.split("/");
  const text = message.replace(/\bdeg([CF])\b/g, "°$1");
  if (member === undefined) return text.replaceAll("`", "");
  const label = labelIn(field, member);
  const named = text.replaceAll(`\`${member}\``, label).replaceAll("`", "");
  return named.startsWith(label) ? named : `${label}: ${named}`;
}
