// For Node: ready when imported.
import { readFileSync } from "node:fs";
import { initSync } from "./floodbar.js";

initSync({ module: readFileSync(new URL("./floodbar_bg.wasm", import.meta.url)) });

export * from "./api.js";
