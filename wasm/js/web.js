// For browsers, bundlers and whatever else is no Node: ready when init or initWhole has been awaited.
import { isLoaded, use } from "./binary.js";
import { glue } from "./floodbar.js";
import { instanceOf } from "./load.js";

export * from "./api.js";

// Each loads its binary once, however often it is asked to; after a failure it may be asked again.
let lean;
let whole;

// Bundlers look for these expressions, and put the files where they lead to.
const leanFile = () => new URL("./floodbar_bg.wasm", import.meta.url);
const wholeFile = () => new URL("./floodbar_whole_bg.wasm", import.meta.url);

export async function init(source) {
  if (isLoaded()) return;
  lean ??= instanceOf(glue, source, leanFile);
  try {
    const loaded = await lean;
    // The whole one may have come meanwhile, and stays.
    if (!isLoaded()) use(loaded);
  } catch (error) {
    lean = undefined;
    throw error;
  }
}

export async function initWhole(source) {
  whole ??= instanceOf(glue, source, wholeFile);
  try {
    use(await whole);
  } catch (error) {
    whole = undefined;
    throw error;
  }
}
