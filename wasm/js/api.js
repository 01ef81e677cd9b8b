// What both builds share: plain objects and FloodbarError around the text that the WebAssembly takes and gives.
import { wasm } from "./binary.js";
import { textOf } from "./json.js";
import { MOST_REQUESTS, STATUSES } from "./limits.js";

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

function refuse(code, field, message, allowed = []) {
  throw new FloodbarError({ code, field, message, got: null, allowed });
}

function ask(calculate, ...request) {
  try {
    return calculate(...request);
  } catch (thrown) {
    throw typeof thrown === "string" ? new FloodbarError(JSON.parse(thrown).error) : thrown;
  }
}

const text = (value) => textOf(value, (field, message) => refuse("bad_json", field, message));

/** The name of a typed array's kind, of whichever page or frame; undefined for anything else. */
const typedArray = Object.getOwnPropertyDescriptor(Object.getPrototypeOf(Uint8Array.prototype), Symbol.toStringTag).get;
const kindOf = (value) => typedArray.call(value);

function read(field, action) {
  try {
    return action();
  } catch {
    return refuse("bad_json", field, "reading the value threw an exception");
  }
}

/** What `each` makes of the entries of a list, each of which is read once. */
function entries(list, field, wanted, each, most = Infinity) {
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

export const calculate = (id, request) => JSON.parse(ask(wasm.calculateText, id, text(request)));

export const calculateText = (id, text) => ask(wasm.calculateText, id, text);

export function calculateMany(id, requests) {
  ask(wasm.find, id);
  return entries(requests, "", "a list of requests", (request) => {
    try {
      return calculate(id, request);
    } catch (error) {
      if (!(error instanceof FloodbarError)) throw error;
      const { code, field, message, got, allowed } = error;
      return { error: { code, field, message, got, allowed } };
    }
  }, MOST_REQUESTS);
}

export const sweep = (id, request, spec) => JSON.parse(ask(wasm.sweep, id, text(request), text(spec)));

export const solve = (id, request, spec) => JSON.parse(ask(wasm.solve, id, text(request), text(spec)));

export const prepare = (id, request, columns) => new Prepared(ask(wasm.prepare, id, text(request), text(columns)));

/** Rows that go over at once, so that the memory of the WebAssembly does not grow with the columns. */
const AT_ONCE = 1024;

class Prepared {
  /** Its half in the WebAssembly that prepared it, which may not be the one in use; freed with this. */
  #prepared;

  constructor(prepared) {
    this.#prepared = prepared;
    for (const [name, columns] of Object.entries(JSON.parse(prepared.columns()))) {
      this[name] = Object.freeze(columns.map(Object.freeze));
    }
    Object.freeze(this);
  }

  #held() {
    return this.#prepared ?? refuse("null_pointer", "", "what was prepared here was freed");
  }

  run(columns, into) {
    const inputs = entries(columns, "/inputs", "a list of columns", numbers);
    const outputs = into === undefined
      ? this.outputs.map(() => new Float64Array(inputs[0]?.length ?? 0))
      : entries(into, "/outputs", "a list of columns", places);
    // Only now: what is read may free this.
    const prepared = this.#held();
    const lengths = (lists) => lists.map(({ length }) => length);
    const count = ask(() => prepared.count(lengths(inputs), lengths(outputs)));
    const [status, cautions, limits] = [[], new Uint32Array(count), new Uint32Array(count)];
    // Row by row: the inputs, the outputs, then what became of the row.
    const told = inputs.length + outputs.length;
    const width = told + 3;
    const cells = new Float64Array(Math.min(count, AT_ONCE) * width);
    for (let from = 0; from < count; from += AT_ONCE) {
      const rows = Math.min(AT_ONCE, count - from);
      inputs.forEach((column, place) => {
        for (let row = 0; row < rows; row += 1) cells[row * width + place] = column[from + row];
      });
      ask(() => prepared.run(cells.subarray(0, rows * width)));
      outputs.forEach((column, index) => {
        for (let row = 0; row < rows; row += 1) column[from + row] = cells[row * width + inputs.length + index];
      });
      for (let row = 0, at = told; row < rows; row += 1, at += width) {
        status.push(STATUSES[cells[at]]);
        cautions[from + row] = cells[at + 1];
        limits[from + row] = cells[at + 2];
      }
    }
    return { columns: outputs, status, cautions, limits };
  }

  explain(row) {
    const values = Float64Array.from(numbers(row, "/inputs"));
    const prepared = this.#held();
    return JSON.parse(ask(() => prepared.explain(values)));
  }

  free() {
    this.#prepared?.free();
    this.#prepared = undefined;
  }
}

/** A column to be read. */
function numbers(column, field) {
  if (kindOf(column) === "Float64Array") return column;
  return entries(column, field, "a Float64Array or a list of numbers", (value, at) =>
    typeof value === "number" ? value : refuse("wrong_type", at, "wanted is a number", ["a number"]));
}

/** A column to be written. */
const places = (column, field) =>
  kindOf(column) === "Float64Array" ? column : refuse("wrong_type", field, "wanted is a Float64Array", ["a Float64Array"]);

export function measureArtwork(pixels, spec) {
  // Any other array would be read as bytes too, its numbers cut to eight bits.
  if (!["Uint8Array", "Uint8ClampedArray"].includes(kindOf(pixels))) {
    refuse("wrong_type", "", "the pixels must be a Uint8Array", ["Uint8Array", "Uint8ClampedArray"]);
  }
  return JSON.parse(ask(wasm.measureArtwork, pixels, text(spec)));
}
