// A form's fields, read from a JSON Schema and from nothing else.
import { resolved, shelfOf, type Range, type Schema, type Source } from "./catalogue";
import type { Json } from "./numbers";

/** Alternatives of which one is given: the names of each, and what they are called together. */
export interface Choice { options: string[][]; names: Set<string> }

interface Common {
  name: string; label: string; meaning: string; rank: string; group: string; optional: boolean; vary: boolean;
  preset?: Json; presetWords?: string; basis?: Source;
}
/** A number, of whichever kind. */
type Numeric<K> = K extends string ? { kind: K; range: Range; share: boolean } : never;
type Plain<K> = K extends string ? { kind: K; examples: string[] } : never;
type Shape =
  | Numeric<"quantity" | "number" | "count">
  | Plain<"text" | "json">
  | { kind: "word"; words: string[] }
  | { kind: "truth" }
  | { kind: "record"; schema: Schema; fields: () => Field[]; choices: () => Choice[] }
  | { kind: "list"; most: number; item: () => Field }
  | { kind: "tuple"; items: Field[] }
  | { kind: "stock"; shelf: string; words: string[]; changed: () => Field; own: () => Field }
  | { kind: "forms"; forms: Field[] };
export type Field = Common & Shape;
export type FieldOf<K extends Shape["kind"]> = Common & Extract<Shape, { kind: K }>;

const NO_RANGE: Range = { dimension: "", unit: "1", units: ["1"] };

/** One of the ways in which a value may be written. */
type Way = { way: "null" | "number" | "integer" | "quantity" | "text" | "words" | "truth" | "record" | "list" | "json"; schema: Schema };

function ways(given: Schema): Way[] {
  const schema = resolved(given);
  const parts = schema.anyOf?.map(resolved);
  if (parts?.some((part) => part.properties?.value !== undefined && part.properties.unit !== undefined)) return [{ way: "quantity", schema }];
  if (schema.anyOf !== undefined) return schema.anyOf.flatMap(ways);
  if (schema.const !== undefined) return [{ way: "words", schema: { ...schema, enum: [schema.const] } }];
  if (schema.enum !== undefined) return [{ way: "words", schema }];
  const types = [schema.type].flat();
  const nothing: Way[] = types.includes("null") ? [{ way: "null", schema }] : [];
  if (types.includes("object") && schema.properties !== undefined) return [...nothing, { way: "record", schema }];
  const way = ({ string: "text", number: "number", integer: "integer", boolean: "truth", array: "list" } as const)[types.find((type) => type !== "null") as "string"];
  return way === undefined && nothing.length > 0 ? nothing : [...nothing, { way: way ?? "json", schema }];
}

const lower = (text: string): string => text.charAt(0).toLowerCase() + text.slice(1).replace(/\.$/, "");

/** The field of a schema, under the name that its record gives it. */
export function fieldOf(schema: Schema, name: string, required = true, label?: string): Field {
  const all = ways(schema);
  const some = all.filter(({ way }) => way !== "null");
  const common: Common = {
    name, label: label ?? schema.title ?? name.replaceAll("_", " "), meaning: schema.description ?? "", rank: schema["x-rank"] ?? "first",
    group: schema["x-group"] ?? "", optional: !required, vary: schema["x-vary"] === "number",
    preset: schema.default, presetWords: schema["x-default"], basis: schema["x-basis"],
  };
  return { ...common, ...shapeOf(schema, some, name, common.label) } as Field;
}

function shapeOf(schema: Schema, some: Way[], name: string, label: string): Shape {
  const kinds = new Set(some.map(({ way }) => way));
  const only = (...names: Way["way"][]) => some.length > 0 && [...kinds].every((kind) => names.includes(kind));
  const first = some[0]?.schema ?? {};
  const range = schema["x-quantity"] ?? first["x-quantity"];
  if (only("integer")) return { kind: "count", range: range ?? NO_RANGE, share: false };
  if (kinds.has("number") && only("number", "quantity")) {
    return { kind: "number", range: range ?? NO_RANGE, share: /_fraction$|_probability$|^confidence$|^probability$/.test(name) };
  }
  if (only("quantity")) return quantityOf(schema, some);
  if (only("text")) return { kind: "text", examples: first.examples ?? [] };
  if (only("truth")) return { kind: "truth" };
  if (only("list")) return listOf(first, label);
  const stock = stockOf(some, name, label);
  if (stock !== undefined) return stock;
  if (only("words")) return { kind: "word", words: some.flatMap(({ schema: { enum: all = [] } }) => all.filter((word) => word !== null).map(String)) };
  if (only("record") && some.length === 1) return recordOf(first);
  if (some.length > 1) return { kind: "forms", forms: some.map((way) => formOf(schema, way, name)) };
  return { kind: "json", examples: [] };
}

function quantityOf(schema: Schema, some: Way[]): Shape {
  const ranges = some.flatMap((way) => schema["x-quantity"] ?? way.schema["x-quantity"] ?? []);
  const [first] = ranges;
  if (first === undefined) return { kind: "text", examples: some[0]?.schema.anyOf?.[0]?.examples ?? [] };
  if (new Set(ranges.map(({ dimension }) => dimension)).size === 1) return { kind: "quantity", range: first, share: false };
  // Either of two dimensions: which one it is, the unit says.
  return { kind: "quantity", range: { dimension: "", unit: first.unit, units: ranges.flatMap(({ units }) => units) }, share: false };
}

function listOf(schema: Schema, label: string): Shape {
  const one = (part: Schema, index?: number) => fieldOf(part, "", true, index === undefined ? label : `${label} ${index + 1}`);
  if (schema.prefixItems !== undefined) return { kind: "tuple", items: schema.prefixItems.map(one) };
  const items = schema.items ?? {};
  let item: Field | undefined;
  const most = (schema as { maxItems?: number }).maxItems ?? 10_000;
  return { kind: "list", most, item: () => (item ??= one(items)) };
}

function recordOf(schema: Schema): Shape {
  let fields: Field[] | undefined;
  let choices: Choice[] | undefined;
  const read = () => Object.entries(schema.properties ?? {})
    .filter(([, part]) => ways(part).some(({ way }) => way !== "null"))
    .map(([name, part]) => fieldOf(part, name, schema.required?.includes(name) ?? false))
    // What is taken in any form and not looked at goes along as it came, and is nothing to fill in.
    .filter((field) => field.kind !== "json" || !field.optional);
  return { kind: "record", schema, fields: () => (fields ??= read()), choices: () => (choices ??= choicesOf(schema)) };
}

/** A name of the stock, a row of it changed, or one of one's own. */
function stockOf(some: Way[], name: string, label: string): Shape | undefined {
  const names = some.find(({ way }) => way === "words")?.schema.enum?.map(String);
  const records = some.filter(({ way }) => way === "record").map(({ schema }) => schema);
  const isChanged = (part: Schema) => resolved(part.properties?.from ?? {}).enum !== undefined;
  const changed = records.find(isChanged);
  const own = records.find((part) => !isChanged(part));
  const shelf = names && shelfOf(names);
  if (names === undefined || shelf === undefined || changed === undefined || own === undefined) return undefined;
  const { from: _, ...properties } = changed.properties ?? {};
  let [changedField, ownField]: Field[] = [];
  return {
    kind: "stock", shelf, words: names, changed: () => (changedField ??= fieldOf({ ...changed, properties }, name, true, label)),
    own: () => (ownField ??= fieldOf(own, name, true, label)),
  };
}

function formOf(schema: Schema, { way, schema: one }: Way, name: string): Field {
  const label = way === "text" ? `as ${one.examples?.slice(0, 2).join(" or ") ?? "text"}`
    : way === "words" ? one.enum?.length === 1 ? String(one.enum[0]) : "by its name"
    : way === "quantity" || way === "number" || way === "integer" ? "a number"
    : lower(one.description ?? way);
  return fieldOf({ ...one, "x-vary": schema["x-vary"] }, name, true, label);
}

/** Either this or that: what the schema's oneOf says of members that exclude each other. */
function choicesOf(schema: Schema): Choice[] {
  return (schema.allOf ?? []).flatMap(({ oneOf = [] }) => {
    const options = oneOf.map((option) => (option.allOf ?? [option]).flatMap(({ required = [] }) => required));
    return options.length > 1 && options.every((names) => names.length > 0) ? [{ options, names: new Set(options.flat()) }] : [];
  });
}
