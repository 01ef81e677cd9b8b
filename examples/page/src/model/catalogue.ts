// What the catalogue says, looked up: calculations, definitions, stock rows, and which unit stands for which in the other system.
import { catalogue } from "floodbar/catalogue";
import type { Json } from "./numbers";

/** A JSON Schema with the catalogue's own keywords. */
export interface Schema {
  $ref?: string; type?: string | string[]; title?: string; description?: string; pattern?: string; examples?: string[];
  anyOf?: Schema[]; allOf?: Schema[]; oneOf?: Schema[]; enum?: Json[]; const?: Json; default?: Json; not?: Schema;
  properties?: { [name: string]: Schema }; required?: string[]; items?: Schema; prefixItems?: Schema[];
  "x-quantity"?: Range; "x-default"?: string; "x-basis"?: Source; "x-rank"?: string; "x-group"?: string; "x-vary"?: string;
  "x-want"?: string; "x-unit"?: { metric: string; us: string };
}
export interface Range { dimension: string; unit: string; units: string[]; least?: number; most?: number; usual?: [number, number] }
export interface Source { kind: string; source: string }
export interface Row { name: string; label: string; values: { [name: string]: Json }; basis: (Source & { field: string })[] }
export interface Entry {
  id: string; title: string; question: string; asked: string[]; headline: string[]; formula: string; sources: Source[];
  example: { [name: string]: Json }; request: Schema; answer: Schema;
}

const document = catalogue() as unknown as {
  version: string; calculations: Entry[]; stock: { kind: string; rows: Row[] }[]; $defs: { [name: string]: Schema };
};

export const version = document.version;
export const entries = document.calculations;
export const entryOf = (id: string): Entry | undefined => entries.find((entry) => entry.id === id);
export const stepOf = (id: string): string => id.split(".")[0] ?? id;

/** The schema that is referred to, what stands beside the reference kept. */
export function resolved(schema: Schema): Schema {
  if (schema.$ref === undefined) return schema;
  const { $ref, ...beside } = schema;
  return { ...document.$defs[$ref.split("/").at(-1) ?? ""], ...beside };
}

const rows = new Map(document.stock.flatMap((shelf) => shelf.rows.map((row) => [`${shelf.kind}/${row.name}`, row] as const)));

/** The shelf of the stock that has all these names. */
export const shelfOf = (names: string[]): string | undefined =>
  document.stock.find(({ rows: all }) => names.every((name) => all.some((row) => row.name === name)))?.kind;
export const rowsOf = (shelf: string): Row[] => document.stock.find(({ kind }) => kind === shelf)?.rows ?? [];
export const rowOf = (shelf: string, name: string): Row | undefined => rows.get(`${shelf}/${name}`);

export type System = "metric" | "us";
const pairs = new Map<string, string>();
(function collect(part: unknown): void {
  if (typeof part !== "object" || part === null) return;
  const unit = (part as Schema)["x-unit"];
  if (unit?.metric !== undefined) pairs.set(unit.metric, unit.us);
  Object.values(part).forEach(collect);
})(document);

/** The unit in which this system writes what the other writes so, of those that the field takes. */
export function unitIn(system: System, unit: string, units: string[]): string {
  const wanted = system === "us" ? pairs.get(unit) : [...pairs].find(([, us]) => us === unit)?.[0];
  return wanted !== undefined && units.includes(wanted) ? wanted : unit;
}

const KINDS: { [kind: string]: string } = {
  memory: "from memory, measure yours", common_practice: "common practice", published: "published", standard: "standard", physics: "physics",
  user: "yours",
};
export const kindOf = (kind: string): string => KINDS[kind] ?? kind.replaceAll("_", " ");
