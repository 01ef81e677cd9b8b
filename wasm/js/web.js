// For browsers, bundlers and whatever else is no Node: ready when init or initWhole has been awaited.
import { isLoaded, use } from "./binary.js";
import { leanFile, once, wholeFile } from "./files.js";
import { glue } from "./floodbar.js";
import { instanceOf } from "./load.js";

export * from "./api.js";

const lean = once((source) => instanceOf(glue, source, leanFile));
const whole = once((source) => instanceOf(glue, source, wholeFile));

export async function init(source) {
  if (isLoaded()) return;
  const loaded = await lean(source);
  // The whole one may have come meanwhile, and stays.
  if (!isLoaded()) use(...loaded);
}

export async function initWhole(source) {
  use(...await whole(source));
}
