// What a call costs in Node beside the same from C: node speed.mjs LIBRARY_DIR [PACKAGE_DIR]
//
// By hand, not part of tests/run. LIBRARY_DIR has libfloodbar_ffi.so as `cargo build --release -p floodbar-ffi` makes it. Both answer
// the examples of the catalogue, Node from objects to objects, and from text to text as C. Times are the shortest of several, taken
// in turn, in one run.
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import path from "node:path";

const [library, packageDir = path.resolve(import.meta.dirname, "../../wasm/pkg")] = process.argv.slice(2);
if (library === undefined) {
  console.error("usage: node speed.mjs LIBRARY_DIR [PACKAGE_DIR]");
  process.exit(2);
}
const TURNS = 3;
const MILLISECONDS = 150;
const require = createRequire(import.meta.url);
const { calculate, calculateText } = require(path.resolve(packageDir, "node.cjs"));
const examples = new Map(require(path.resolve(packageDir, "catalogue.cjs")).catalogue().calculations.map(({ id, example }) => [id, example]));

const work = mkdtempSync(path.join(tmpdir(), "floodbar-"));
writeFileSync(path.join(work, "native.c"), `
#include <floodbar.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>
static double now(void) { struct timespec t; clock_gettime(CLOCK_MONOTONIC, &t); return 1e3 * t.tv_sec + 1e-6 * t.tv_nsec; }
int main(int count, char **given) {
    double least = 1e300, until = now() + atof(given[3]);
    do {
        char *answer = NULL;
        double from = now();
        if (count != 4 || floodbar_calculate(given[1], given[2], &answer) != 0) return 1;
        floodbar_free(answer);
        double took = now() - from;
        if (took < least) least = took;
    } while (now() < until);
    printf("%.9f", least);
    return 0;
}`);
const root = path.resolve(import.meta.dirname, "../..");
const built = path.resolve(library);
execFileSync("cc", ["-O2", "native.c", "-o", "native", `-I${root}/ffi/include`, `-L${built}`, "-lfloodbar_ffi"], { cwd: work });
// The linker was given the file; the loader looks for its SONAME.
symlinkSync(path.join(built, "libfloodbar_ffi.so"), path.join(work, "libfloodbar.so.0"));

/** The shortest time of a call, in milliseconds. */
function shortest(call) {
  const until = performance.now() + MILLISECONDS;
  let least = Infinity;
  do {
    const from = performance.now();
    call();
    least = Math.min(least, performance.now() - from);
  } while (performance.now() < until);
  return least;
}

for (const [id, request] of examples) {
  const text = JSON.stringify(request);
  const native = () => Number(execFileSync(path.join(work, "native"), [id, text, String(MILLISECONDS)], { env: { LD_LIBRARY_PATH: work } }));
  const best = [Infinity, Infinity, Infinity];
  for (let turn = 0; turn < TURNS; turn += 1) {
    [native(), shortest(() => calculateText(id, text)), shortest(() => calculate(id, request))].forEach((time, way) => {
      best[way] = Math.min(best[way], time);
    });
  }
  const [c, texts, objects] = best.map((time) => 1000 * time);
  console.log(`${id.padEnd(24)} C ${c.toFixed(1).padStart(9)} us   text ${(texts / c).toFixed(2)}   objects ${(objects / c).toFixed(2)}, ${(objects - c).toFixed(1)} us more`);
}
rmSync(work, { recursive: true });
