// For Node: ready when loaded, with all calculations. Both `import` and `require` come here, so that there is one of everything.
"use strict";

const { readFileSync } = require("node:fs");
const path = require("node:path");
const { api, glue, made, use } = require("./core.cjs");

const file = path.join(__dirname, "floodbar_whole_bg.wasm");
const bytes = read();
const compiled = new WebAssembly.Module(bytes);
const whole = () => made(glue, compiled);
use(whole(), whole);

function read() {
  if (typeof WebAssembly !== "object") {
    throw new Error("floodbar: this Node runs without WebAssembly (as by --jitless): start it with WebAssembly");
  }
  try {
    return readFileSync(file);
  } catch (cause) {
    throw new Error(`floodbar: ${file} cannot be read: install the package anew, and see that a bundler leaves it as it is (external)`, { cause });
  }
}

/** Nothing is left to load; there so that the same program runs in browsers. */
async function init() {}

module.exports = { ...api, init, initWhole: init };
