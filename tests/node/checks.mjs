// Counts what passed, and closes with the line that the runner reads.
import { cpSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { pathToFileURL } from "node:url";

let passed = 0;
let failed = 0;

export async function check(name, body) {
  try {
    await body();
    passed += 1;
  } catch (error) {
    failed += 1;
    console.log(`FAILED ${name}: ${error.message.split("\n")[0]}`);
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
