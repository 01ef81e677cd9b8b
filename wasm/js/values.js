// What callers give and get, whichever way it is worked out: their values as text and numbers, and FloodbarError.
import { textOf } from "./json.js";

export class FloodbarError extends Error {
  constructor({ code, field, message, got, allowed }) {
    super(message);
    this.name = "FloodbarError";
    this.code = code;
    this.field = field;
    this.got = got;
    this.allowed = allowed;
  }
}

/** An error without its stack, as it goes over to another thread or into a list. */
export const membersOf = ({ code, field, message, got, allowed }) => ({ code, field, message, got, allowed });

export function refuse(code, field, message, allowed = []) {
  throw new FloodbarError({ code, field, message, got: null, allowed });
}

export const text = (value) => textOf(value, (field, message) => refuse("bad_json", field, message));

/** The name of a typed array's kind, of whichever page or frame; undefined for anything else. */
const typedArray = Object.getOwnPropertyDescriptor(Object.getPrototypeOf(Uint8Array.prototype), Symbol.toStringTag).get;
export const kindOf = (value) => typedArray.call(value);

function read(field, action) {
  try {
    return action();
  } catch {
    return refuse("bad_json", field, "reading the value threw an exception");
  }
}

/** What `each` makes of the entries of a list, each of which is read once. */
export function entries(list, field, wanted, each, most = Infinity) {
  if (!read(field, () => Array.isArray(list))) refuse("wrong_type", field, `wanted is ${wanted}`, [wanted]);
  const count = read(field, () => list.length);
  if (count > most) refuse("too_long", field, "too many entries", [`at most ${most} entries`]);
  const made = [];
  for (let index = 0; index < count; index += 1) {
    const at = `${field}/${index}`;
    made.push(each(read(at, () => list[index]), at));
  }
  return made;
}

/** A column to be read. */
export function numbers(column, field) {
  if (kindOf(column) === "Float64Array") return column;
  return entries(column, field, "a Float64Array or a list of numbers", (value, at) =>
    typeof value === "number" ? value : refuse("wrong_type", at, "wanted is a number", ["a number"]));
}

/** A column to be written. */
export const places = (column, field) =>
  kindOf(column) === "Float64Array" ? column : refuse("wrong_type", field, "wanted is a Float64Array", ["a Float64Array"]);

/** Pixels; any other array would be read as bytes too, its numbers cut to eight bits. */
export function bytes(pixels) {
  if (["Uint8Array", "Uint8ClampedArray"].includes(kindOf(pixels))) return pixels;
  return refuse("wrong_type", "", "the pixels must be a Uint8Array", ["Uint8Array", "Uint8ClampedArray"]);
}

/** How many runs a cache keeps, as the WebAssembly counts. */
export function entriesOf(entries = 1000) {
  const most = 2 ** 32 - 1;
  if (typeof entries !== "number") refuse("wrong_type", "", "how many runs a cache keeps must be a number", ["a number"]);
  if (Number.isInteger(entries) && entries >= 0 && entries <= most) return entries;
  return refuse("out_of_range", "", "how many runs a cache keeps must be a whole number", [`0 to ${most}`]);
}

/** The cache in the options of a call; `isOne` says whether it is one. */
export function cacheOf(options, isOne) {
  const isCache = (given) => typeof given === "object" && given !== null && isOne(given);
  if (isCache(options)) refuse("wrong_type", "", "a cache is given as { cache }", ["{ cache }"]);
  const cache = options?.cache ?? undefined;
  return cache === undefined || isCache(cache) ? cache : refuse("wrong_type", "", "the cache must be a Cache made here", ["a Cache"]);
}
