// What all builds share: plain objects and FloodbarError around the text that the WebAssembly takes and gives.
import { isBroken, leave, plain, wasm } from "./binary.js";
import { MOST_REQUESTS, STATUSES } from "./limits.js";
import { bytes, cacheOf, entries, entriesOf, FloodbarError, membersOf, numbers, places, refuse, text } from "./values.js";

export { FloodbarError } from "./values.js";

/** What is asked of an instance. */
function ask(asked, instance = wasm) {
  try {
    return asked();
  } catch (thrown) {
    if (typeof thrown === "string") throw new FloodbarError(JSON.parse(thrown).error);
    // Errors of these two kinds are thrown before anything has begun.
    if (!(thrown instanceof FloodbarError || thrown instanceof TypeError)) leave(instance);
    throw thrown;
  }
}

/** What answers: with a cache, or without. */
const by = (options) => (options === undefined ? plain : halfIn(options) ?? plain);
/** The half of the cache in the options of a call, if they have one. */
let halfIn;

/** Of the function of that name, the answer to what has been read: reading it may free a cache. */
const answer = (name, options, ...given) => ask(() => by(options)[name](...given));

export const calculate = (id, request, options) => JSON.parse(answer("calculateText", options, id, text(request)));

export const calculateText = (id, text, options) => answer("calculateText", options, id, text);

export function calculateMany(id, requests, options) {
  by(options);
  ask(() => wasm.find(id));
  return entries(requests, "", "a list of requests", (request) => {
    try {
      return calculate(id, request, options);
    } catch (error) {
      if (!(error instanceof FloodbarError)) throw error;
      return { error: membersOf(error) };
    }
  }, MOST_REQUESTS);
}

export const sweep = (id, request, spec, options) => JSON.parse(answer("sweep", options, id, text(request), text(spec)));

export const solve = (id, request, spec, options) => JSON.parse(answer("solve", options, id, text(request), text(spec)));

export const prepare = (id, request, columns, options) => new Prepared(answer("prepare", options, id, text(request), text(columns)));

export class Cache {
  /** How many runs it keeps; nothing once it is freed. */
  #entries;
  /** The binary in use, and its half of this, which is made when it is first asked. */
  #wasm;
  #half;

  constructor(entries) {
    this.#entries = entriesOf(entries);
    Object.freeze(this);
  }

  static {
    halfIn = (options) => cacheOf(options, (given) => #entries in given)?.#held();
  }

  #held() {
    if (this.#entries === undefined) refuse("null_pointer", "", "the cache was freed");
    if (this.#wasm !== wasm) {
      if (!isBroken(this.#wasm)) this.#half?.free();
      this.#half = new wasm.Calculations(this.#entries);
      this.#wasm = wasm;
    }
    return this.#half;
  }

  counts() {
    const half = this.#held();
    return { hits: half.hits(), misses: half.misses() };
  }

  free() {
    if (!isBroken(this.#wasm)) this.#half?.free();
    this.#entries = undefined;
    this.#half = undefined;
    this.#wasm = undefined;
  }
}

/** Rows that go over at once, so that the memory of the WebAssembly does not grow with the columns. */
const AT_ONCE = 1024;

class Prepared {
  /** Its half in the WebAssembly that prepared it, which may not be the one in use; freed with this. */
  #prepared;
  #wasm = wasm;

  constructor(prepared) {
    this.#prepared = prepared;
    for (const [name, columns] of Object.entries(JSON.parse(prepared.columns()))) {
      this[name] = Object.freeze(columns.map(Object.freeze));
    }
    Object.freeze(this);
  }

  #held() {
    if (isBroken(this.#wasm)) refuse("null_pointer", "", "what was prepared here was lost when a call broke off: prepare it anew");
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
    const count = ask(() => prepared.count(lengths(inputs), lengths(outputs)), this.#wasm);
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
      ask(() => prepared.run(cells.subarray(0, rows * width)), this.#wasm);
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
    return JSON.parse(ask(() => prepared.explain(values), this.#wasm));
  }

  free() {
    if (!isBroken(this.#wasm)) this.#prepared?.free();
    this.#prepared = undefined;
  }
}

export const measureArtwork = (pixels, spec) => JSON.parse(ask(() => wasm.measureArtwork(bytes(pixels), text(spec))));
