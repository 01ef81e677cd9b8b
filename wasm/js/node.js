// For Node: ready when imported.
import { readFileSync } from "node:fs";
import { initSync } from "./floodbar.js";

const read = (name) => readFileSync(new URL(name, import.meta.url));

initSync({ module: read("./floodbar_bg.wasm") });
const document = JSON.parse(read("./catalogue.json"));

export * from "./api.js";
export const catalogue = () => document;
