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

function ask(calculate, id, request) {
  try {
    return calculate(id, request);
  } catch (thrown) {
    throw typeof thrown === "string" ? new FloodbarError(JSON.parse(thrown).error) : thrown;
  }
}

export const calculate = (id, request) => JSON.parse(ask(wasm.calculate, id, request));

export const calculateText = (id, text) => ask(wasm.calculateText, id, text);
