// What both builds share: plain objects and FloodbarError around the text that the WebAssembly gives.
import * as wasm from "./floodbar.js";

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

function ask(calculate, ...request) {
  try {
    return calculate(...request);
  } catch (thrown) {
    throw typeof thrown === "string" ? new FloodbarError(JSON.parse(thrown).error) : thrown;
  }
}

export const calculate = (id, request) => JSON.parse(ask(wasm.calculate, id, request));

export const calculateText = (id, text) => ask(wasm.calculateText, id, text);

export function measureArtwork(pixels, spec) {
  // Any other array would be read as bytes too, its numbers cut to eight bits.
  if (!["[object Uint8Array]", "[object Uint8ClampedArray]"].includes(Object.prototype.toString.call(pixels))) {
    const message = "the pixels must be a Uint8Array";
    throw new FloodbarError({ code: "wrong_type", field: "", message, got: null, allowed: ["Uint8Array", "Uint8ClampedArray"] });
  }
  return JSON.parse(ask(wasm.measureArtwork, pixels, spec));
}
