// What both builds share: plain objects and FloodbarError around the text that the WebAssembly takes and gives.
import { wasm } from "./binary.js";
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

export const calculate = (id, request) => JSON.parse(ask(wasm.calculateText, id, text(request)));

export const calculateText = (id, text) => ask(wasm.calculateText, id, text);

export function measureArtwork(pixels, spec) {
  // Any other array would be read as bytes too, its numbers cut to eight bits.
  if (!["[object Uint8Array]", "[object Uint8ClampedArray]"].includes(Object.prototype.toString.call(pixels))) {
    refuse("wrong_type", "", "the pixels must be a Uint8Array", ["Uint8Array", "Uint8ClampedArray"]);
  }
  return JSON.parse(ask(wasm.measureArtwork, pixels, text(spec)));
}
