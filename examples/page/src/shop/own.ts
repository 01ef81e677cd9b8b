// The user's own numbers: rows of the stock with other values, each with how it came. Kept on the device.
import { signal } from "@preact/signals";
import type { Members } from "../model/node";
import { load, onChange, store } from "../shell/store";

/** When a number came, and the question that gave it; one that was typed has none. */
export interface How { at: number; id?: string; request?: Members }
export interface OwnRow { values: Members; how: { [member: string]: How } }
/** By shelf of the stock, and by the name of the row. */
export type OwnRows = { [shelf: string]: { [name: string]: OwnRow } };
/** Measurements that no row of the stock takes up, by calculation. */
export type Readings = { [id: string]: { at: number; request: Members } };
export interface Kept { rows: OwnRows; readings: Readings }

const KEY = "own";
export const ownRows = signal<OwnRows>({});
export const readings = signal<Readings>({});
/** Whether the browser promised to keep what it was given; undefined where it was not asked. */
export const lasting = signal<boolean | undefined>(undefined);

export async function recallOwn(): Promise<void> {
  const kept = await load<Kept>(KEY);
  // Nothing was kept yet, or nothing can be read: what there is stays.
  if (kept === undefined) return;
  ownRows.value = kept.rows;
  readings.value = kept.readings;
  lasting.value = await promised("persisted");
}
onChange(KEY, () => void recallOwn());

/** What the browser says of keeping things; one that cannot be asked promises nothing. */
async function promised(ask: "persist" | "persisted"): Promise<boolean> {
  try {
    return await navigator.storage[ask]();
  } catch {
    return false;
  }
}

export async function putAll(kept: Kept): Promise<void> {
  ownRows.value = kept.rows;
  readings.value = kept.readings;
  await store(KEY, kept);
  if (lasting.peek() === undefined) lasting.value = await promised("persist");
}

/** These rows with other values of one of them; without values it is gone. */
function replaced(rows: OwnRows, shelf: string, name: string, row: OwnRow): OwnRows {
  const { [name]: _, ...others } = rows[shelf] ?? {};
  const names = Object.keys(row.values).length > 0 ? { ...others, [name]: row } : others;
  const { [shelf]: __, ...shelves } = rows;
  return Object.keys(names).length > 0 ? { ...shelves, [shelf]: names } : shelves;
}

/** These rows with some values more. */
export function withValues(rows: OwnRows, shelf: string, name: string, values: Members, how: (member: string) => How): OwnRows {
  const row = rows[shelf]?.[name] ?? { values: {}, how: {} };
  const hows = Object.fromEntries(Object.keys(values).map((member) => [member, how(member)]));
  return replaced(rows, shelf, name, { values: { ...row.values, ...values }, how: { ...row.how, ...hows } });
}

/** A row without some of its values. */
function withoutValues(rows: OwnRows, shelf: string, name: string, members: string[]): OwnRows {
  const row = rows[shelf]?.[name] ?? { values: {}, how: {} };
  const left = <T>(all: { [member: string]: T }) => Object.fromEntries(Object.entries(all).filter(([member]) => !members.includes(member)));
  return replaced(rows, shelf, name, { values: left(row.values), how: left(row.how) });
}

/** Keeps values in the place of those that stand for these members. */
export function keep(shelf: string, name: string, values: Members, how: How, members = Object.keys(values)): void {
  void putAll({ rows: withValues(withoutValues(ownRows.peek(), shelf, name, members), shelf, name, values, () => how), readings: readings.peek() });
}

export function takeOut(shelf: string, name: string, members: string[]): void {
  void putAll({ rows: withoutValues(ownRows.peek(), shelf, name, members), readings: readings.peek() });
}

export function keepReading(id: string, request: Members): void {
  void putAll({ rows: ownRows.peek(), readings: { ...readings.peek(), [id]: { at: Date.now(), request } } });
}

export function takeOutReading(id: string): void {
  const { [id]: _, ...others } = readings.peek();
  void putAll({ rows: ownRows.peek(), readings: others });
}
