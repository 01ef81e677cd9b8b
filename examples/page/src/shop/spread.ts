// Own rows put into a request: wherever it names a row of the stock, or leaves a default that is one, and in rows that name others.
import { rowOf, rowsOf } from "../model/catalogue";
import type { Field, FieldOf } from "../model/fields";
import { isRecord, type Members } from "../model/node";
import type { Json } from "../model/numbers";
import type { OwnRows } from "./own";

type StockField = FieldOf<"stock">;

/** The same to the wire, in whatever order. */
export function same(one: Json | undefined, other: Json | undefined): boolean {
  if (Array.isArray(one) && Array.isArray(other)) return one.length === other.length && one.every((entry, index) => same(entry, other[index]));
  if (!isRecord(one) || !isRecord(other)) return one === other;
  const names = Object.keys(one);
  return names.length === Object.keys(other).length && names.every((name) => same(one[name], other[name]));
}

/** The row that stands in where the field is left out, as far as its words name one. */
export const standsIn = ({ presetWords, shelf, words }: StockField): string =>
  words.find((name) => presetWords === `the ${rowOf(shelf, name)?.label.toLowerCase()}`) ?? "";

/** What the user has in the place of members of a row, in the rows that it names too. */
export function mine(field: StockField, name: string, rows: OwnRows): Members {
  const row = rowOf(field.shelf, name);
  if (row === undefined || Object.keys(rows).length === 0) return {};
  const own = rows[field.shelf]?.[name]?.values ?? {};
  const members: Members = { ...own };
  for (const part of fieldsOf(field.changed())) {
    const given = own[part.name];
    const next = walked(part, given ?? row.values[part.name], { rows, inStock: given === undefined });
    if (next !== undefined && next !== row.values[part.name]) members[part.name] = next;
  }
  return members;
}

/** The request with the user's own rows in it. */
export const spread = (field: Field, request: Json, rows: OwnRows): Json => walked(field, request, { rows }) ?? request;
/** The request with the built-in values wherever the user has others. */
export const unspread = (field: Field, request: Json, rows: OwnRows): Json => walked(field, request, { rows, away: true }) ?? request;

/** `inStock`: a row of the stock is walked, in which rows stand with all their values; `away`: own values are taken out. */
interface Walk { rows: OwnRows; inStock?: boolean; away?: boolean }

const fieldsOf = (field: Field): Field[] => (field.kind === "record" ? field.fields() : []);

/** The same value where nothing in it changes. */
function walked(field: Field, value: Json | undefined, walk: Walk): Json | undefined {
  if (field.kind === "stock") return stocked(field, value, walk);
  if (field.kind === "list" && Array.isArray(value)) {
    const next = value.map((entry) => walked(field.item(), entry, walk) ?? entry);
    return next.some((entry, index) => entry !== value[index]) ? next : value;
  }
  if (field.kind === "forms" && isRecord(value)) {
    const form = field.forms.find((one) => Object.keys(value).every((name) => fieldsOf(one).some((part) => part.name === name)));
    return form === undefined ? value : walked(form, value, walk);
  }
  return field.kind === "record" && isRecord(value) ? within(field, value, walk) : value;
}

function within(field: Field, value: Members, walk: Walk): Members {
  const next = { ...value };
  for (const part of fieldsOf(field)) {
    const member = walked(part, value[part.name], walk);
    if (member !== undefined) next[part.name] = member;
  }
  return Object.keys(next).some((name) => next[name] !== value[name]) ? next : value;
}

function stocked(field: StockField, value: Json | undefined, walk: Walk): Json | undefined {
  const { rows, inStock, away } = walk;
  if (isRecord(value) && value.from === undefined && !inStock) return within(field.own(), value, walk);
  const named = inStock ? nameWith(field.shelf, value) : value ?? standsIn(field);
  const { from, ...given }: Members = isRecord(value) && !inStock ? value : { from: named ?? null };
  if (typeof from !== "string") return value;
  const direct = rows[field.shelf]?.[from]?.values ?? {};
  const left = away ? Object.fromEntries(Object.entries(given).filter(([name]) => direct[name] === undefined)) : given;
  const members = { ...(away ? {} : mine(field, from, rows)), ...within(field.changed(), left, walk) };
  const next = Object.keys(members).length > 0 ? { from, ...members } : value === undefined || inStock ? undefined : from;
  return next === undefined || same(next, value) ? value : next;
}

/** The name of a row that is given by all its values. */
export const nameWith = (shelf: string, value: Json | undefined): string | undefined => rowsOf(shelf).find(({ values }) => same(values, value))?.name;
