// Counts what passed, and closes with the line that the runner reads.
import assert from "node:assert/strict";
import { cpSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { pathToFileURL } from "node:url";
import v8 from "node:v8";
import vm from "node:vm";
import { Worker } from "node:worker_threads";

/** What only the larger binary has. */
export const LACKING = [
  "mesh.choose", "ink.hiding", "ink.opacity", "ink.open_time", "artwork.measure", "artwork.tone", "artwork.curve", "register.marks",
  "dryer.fit", "flash.fit", "shop.learn", "job.plan", "job.quote",
];

let passed = 0;
let failed = 0;

export async function check(name, body) {
  try {
    await body();
    passed += 1;
  } catch (error) {
    failed += 1;
    console.log(`FAILED ${name}: ${error.message.split("\n").slice(0, 12).join("\n    ")}`);
  }
}

export function close() {
  console.log(`${passed} passed, ${failed} failed`);
  process.exitCode = failed > 0 || passed === 0 ? 1 : 0;
}

/** The web build as a page has it, nothing loaded: a copy, since within one process the same modules share what is loaded. */
export async function openPage(packageDir) {
  const copy = mkdtempSync(path.join(tmpdir(), "floodbar-"));
  process.on("exit", () => rmSync(copy, { recursive: true }));
  cpSync(packageDir, copy, { recursive: true });
  return import(pathToFileURL(path.join(copy, "web.js")));
}

/** Such a page, and how often its finalizers have freed something. */
export async function openCounted(packageDir) {
  let count = 0;
  const { FinalizationRegistry: Registry } = globalThis;
  globalThis.FinalizationRegistry = class extends Registry {
    constructor(free) {
      super((held) => {
        count += 1;
        free(held);
      });
    }
  };
  const page = await openPage(packageDir);
  await page.init(readFileSync(path.resolve(packageDir, "floodbar_bg.wasm")));
  globalThis.FinalizationRegistry = Registry;
  return { page, freed: () => count };
}

/** What calls of a kind make in workers, and what of it is freed there, which may be once only; until `end`. */
export function watchFreed(call) {
  const [made, freed] = [new Set(), new Set()];
  const { postMessage } = Worker.prototype;
  Worker.prototype.postMessage = function post(message, transfer) {
    if (message.call === call) made.add(message.values[0][0]);
    // Others may be left of what was checked before.
    if (message.call === "free" && made.has(message.values[0])) {
      assert.ok(!freed.has(message.values[0]));
      freed.add(message.values[0]);
    }
    return postMessage.call(this, message, transfer);
  };
  return { freed, end: () => (Worker.prototype.postMessage = postMessage) };
}

/** Collects what nothing refers to, until that was enough or for a while. */
export async function collected(enough) {
  v8.setFlagsFromString("--expose-gc");
  const collect = vm.runInNewContext("gc");
  for (let turn = 0; turn < 20 && !enough(); turn += 1) {
    collect();
    await new Promise((done) => setTimeout(done, 10));
  }
}
