// The file of a shop's own numbers, read: all of it is checked before any of it is taken.
import { entryOf, rowOf } from "../model/catalogue";
import { isRecord, type Members } from "../model/node";
import type { Json } from "../model/numbers";
import { answerOf, FloodbarError } from "../work/engine";
import { checkerOf, refusal } from "./check";
import { measureOf } from "./measures";
import { withValues, type How, type Kept, type OwnRows } from "./own";

/** Written into the file: what it is, and the version of how it is written. */
export const MARK = "floodbar_shop";
const VERSION = 1;
/** More than any shop's own numbers come to. */
const LONGEST = 4_000_000;

export const written = (kept: Kept): string => `${JSON.stringify({ [MARK]: VERSION, ...kept }, null, 1)}\n`;

/** Why a file is not taken. */
export class Unread extends Error {}

function parsed(text: string): Members {
  if (text.length > LONGEST) throw new Unread("This file is too long to be one of these");
  let whole: Json;
  try {
    whole = JSON.parse(text) as Json;
  } catch {
    throw new Unread("This file is not JSON");
  }
  if (!isRecord(whole) || whole[MARK] === undefined) throw new Unread("This file holds no numbers of a shop");
  if (whole[MARK] !== VERSION) throw new Unread("This file is of another version than this page reads");
  return whole;
}

const dated = (value: Json | undefined): number => (typeof value === "number" && Number.isFinite(new Date(value).getTime()) ? value : Date.now());

function howFrom(value: Json | undefined): How {
  if (!isRecord(value)) return { at: Date.now() };
  const { at, id, request } = value;
  return typeof id === "string" && entryOf(id) !== undefined && isRecord(request) ? { at: dated(at), id, request } : { at: dated(at) };
}

const section = (whole: Members, name: string): [string, Json][] => {
  const part = whole[name] ?? {};
  if (!isRecord(part)) throw new Unread(`Its “${name}” cannot be read`);
  return Object.entries(part);
};

/** What stands in the file beside what is kept already; what is in both is the file's. */
export async function read(text: string, kept: Kept): Promise<Kept> {
  const whole = parsed(text);
  let rows: OwnRows = kept.rows;
  for (const [shelf, names] of section(whole, "rows")) {
    for (const [name, row] of isRecord(names) ? Object.entries(names) : [[shelf, null] as const]) {
      const stock = checkerOf(shelf) && rowOf(shelf, name);
      if (stock === undefined || !isRecord(row) || !isRecord(row.values)) throw new Unread(`There is no “${name}” among what this page knows as ${shelf}, or its numbers cannot be read`);
      const why = await refusal(shelf, name, row.values);
      if (why !== undefined) throw new Unread(`${stock.label}: ${why}`);
      const hows = isRecord(row.how) ? row.how : {};
      rows = withValues(rows, shelf, name, row.values, (member) => howFrom(hows[member]));
    }
  }
  const readings = { ...kept.readings };
  for (const [id, reading] of section(whole, "readings")) {
    const measure = measureOf(id);
    if (measure === undefined || Object.keys(measure.takes).length > 0 || !isRecord(reading) || !isRecord(reading.request)) throw new Unread(`Its readings “${id}” cannot be read`);
    try {
      await answerOf(id, reading.request);
    } catch (error) {
      if (!(error instanceof FloodbarError)) throw error;
      throw new Unread(`${entryOf(id)?.title}: ${error.message}`);
    }
    readings[id] = { at: dated(reading.at), request: reading.request };
  }
  return { rows, readings };
}
