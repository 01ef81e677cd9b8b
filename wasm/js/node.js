// For Node: ready when imported, with all calculations.
import { readFileSync } from "node:fs";
import { use } from "./binary.js";
import { glue } from "./floodbar.js";

const whole = glue();
whole.initSync({ module: readFileSync(new URL("./floodbar_whole_bg.wasm", import.meta.url)) });
use(whole);

export * from "./api.js";
