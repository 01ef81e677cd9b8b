// A worker of a browser, whose binary is compiled here, once, and handed to each worker.
import { client } from "./client.js";
import { leanFile, once, wholeFile } from "./files.js";
import { moduleOf } from "./load.js";

export { FloodbarError } from "./values.js";

let module;

const lean = once((source) => moduleOf(source, leanFile));
const whole = once((source) => moduleOf(source, wholeFile));

export async function init(source) {
  if (module !== undefined) return;
  const loaded = await lean(source);
  module ??= loaded;
}

export async function initWhole(source) {
  module = await whole(source);
}

function open(onReply, onFault) {
  // Bundlers look for this expression, and put the script where it leads to.
  const worker = new Worker(new URL("./worker_script.js", import.meta.url), { type: "module", name: "floodbar" });
  worker.onmessage = ({ data }) => onReply(data);
  // Without a message it is the script that is missing.
  worker.onerror = ({ message }) => onFault(new Error(message
    ? `floodbar: the worker failed: ${message}`
    : "floodbar: the worker's script did not load: put worker_script.js beside this one, with what it imports, and allow it in the page's Content-Security-Policy (worker-src)"));
  return {
    post: (message, transfer) => worker.postMessage(message, transfer),
    end: () => worker.terminate(),
    busy() {},
  };
}

function ready(worker) {
  if (module === undefined) throw new Error("floodbar/worker is not loaded yet: `await init()`, or `await initWhole()`, comes before the first call");
  if (worker.module === module) return;
  worker.module = module;
  worker.post({ module }, []);
}

export const { Cache, warm, calculate, calculateText, calculateMany, sweep, solve, prepare, measureArtwork } = client(open, ready);
