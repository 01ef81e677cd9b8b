// For browsers: ready when init or initWhole has been awaited.
import { use, wasm } from "./binary.js";
import { glue } from "./floodbar.js";

export * from "./api.js";

// Each loads its binary once, however often it is asked to.
const lean = glue();
const whole = glue();

export async function init(source = new URL("./floodbar_bg.wasm", import.meta.url)) {
  if (wasm !== undefined) return;
  await lean({ module_or_path: source });
  // The whole one may have come meanwhile, and stays.
  if (wasm === undefined) use(lean);
}
export default init;

export async function initWhole(source = new URL("./floodbar_whole_bg.wasm", import.meta.url)) {
  await whole({ module_or_path: source });
  use(whole);
}
