// Runs the shared vectors through the Node build: node vectors.mjs VECTORS_DIR PACKAGE_DIR OUT.jsonl
import assert from "node:assert/strict";
import { readFileSync, readdirSync, writeFileSync } from "node:fs";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { check, close } from "./checks.mjs";

const [vectorsDir, packageDir, outFile] = process.argv.slice(2);
if (outFile === undefined) {
  console.error("usage: node vectors.mjs VECTORS_DIR PACKAGE_DIR OUT.jsonl");
  process.exit(2);
}
const { calculate, calculateText, FloodbarError } = await import(pathToFileURL(path.resolve(packageDir, "node.js")));

function answer({ calculation, request, text }) {
  try {
    return text === undefined ? calculate(calculation, request) : JSON.parse(calculateText(calculation, text));
  } catch (error) {
    if (!(error instanceof FloodbarError)) throw error;
    const { code, field, message, got, allowed } = error;
    return { error: { code, field, message, got, allowed } };
  }
}

function at(document, pointer) {
  const steps = pointer.split("/").slice(1).map((step) => step.replaceAll("~1", "/").replaceAll("~0", "~"));
  return steps.reduce((value, step) => value?.[step], document);
}

function same(got, wanted, what) {
  assert.deepEqual(got, wanted, `${what} is ${JSON.stringify(got)}, wanted ${JSON.stringify(wanted)}`);
}

function compare(got, vector) {
  if (vector.error !== undefined) {
    const { got: value, allowed = [], ...exact } = vector.error;
    const error = got.error ?? assert.fail("an answer came where an error belongs");
    for (const [member, wanted] of Object.entries(exact)) same(error[member], wanted, member);
    if ("got" in vector.error) same(error.got, value, "got");
    for (const word of [allowed].flat()) assert.ok(error.allowed.includes(word), `allowed lacks ${word}`);
    return;
  }
  assert.ok(got.error === undefined, JSON.stringify(got.error));
  const wants = Object.entries(vector.want ?? {});
  assert.ok(wants.length > 0, "the vector wants nothing");
  for (const [pointer, wanted] of wants) {
    const value = at(got, pointer);
    if (wanted !== null && typeof wanted === "object") {
      const { value: target, within } = wanted;
      assert.ok(Math.abs(value - target) <= within, `${pointer} is ${value}, wanted ${target} within ${within}`);
    } else {
      same(value ?? null, wanted, pointer);
    }
  }
}

const files = readdirSync(vectorsDir).filter((name) => name.endsWith(".json")).sort();
const lines = [];
for (const vector of files.flatMap((name) => JSON.parse(readFileSync(path.join(vectorsDir, name), "utf8")))) {
  await check(vector.name, () => {
    const got = answer(vector);
    lines.push(`${JSON.stringify(got)}\n`);
    compare(got, vector);
  });
}
writeFileSync(outFile, lines.join(""));
close();
