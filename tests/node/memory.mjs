// The WebAssembly with less memory than there is, as a browser or a container may leave it:
// node --no-warnings memory.mjs PACKAGE_DIR VECTORS_DIR CORPUS_DIR
import assert from "node:assert/strict";
import { cpSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { check, close, openPage } from "./checks.mjs";

const [packageDir, vectorsDir, corpusDir] = process.argv.slice(2);
if (corpusDir === undefined) {
  console.error("usage: node memory.mjs PACKAGE_DIR VECTORS_DIR CORPUS_DIR");
  process.exit(2);
}
const [leanFile, wholeFile] = ["floodbar_bg.wasm", "floodbar_whole_bg.wasm"];
const PAGE = 1 << 16;

/** A number as WebAssembly writes it, seven bits a byte. */
const leb = (value) => (value < 128 ? [value] : [(value & 127) | 128, ...leb(value >>> 7)]);

/** A binary whose memory grows by so many bytes at most: its memory section (5) says how much there is, not how much there may be. */
function limited(bytes, more) {
  let at = 8;
  const number = (shift = 0) => {
    const byte = bytes[at];
    at += 1;
    return byte < 128 ? byte << shift : ((byte & 127) << shift) | number(shift + 7);
  };
  for (;;) {
    const start = at;
    const kind = bytes[at];
    at += 1;
    const end = number() + at;
    if (kind === 5) {
      assert.deepEqual([bytes[at], bytes[at + 1]], [1, 0], "one memory, without a limit");
      at += 2;
      const least = number();
      const section = [1, 1, ...leb(least), ...leb(least + more / PAGE)];
      return Buffer.concat([bytes.subarray(0, start), Buffer.of(5, ...leb(section.length), ...section), bytes.subarray(end)]);
    }
    at = end;
  }
}

const wholeBytes = readFileSync(path.resolve(packageDir, wholeFile));

/** A page with the larger binary. */
async function pageWith(bytes) {
  const page = await openPage(packageDir);
  await page.initWhole(bytes);
  return page;
}

/** A door of the package as Node has it, whose WebAssembly may grow by so many bytes. */
async function nodeWith(more, door) {
  const copy = mkdtempSync(path.join(tmpdir(), "floodbar-"));
  process.on("exit", () => rmSync(copy, { recursive: true }));
  cpSync(packageDir, copy, { recursive: true });
  writeFileSync(path.join(copy, wholeFile), limited(wholeBytes, more));
  return import(pathToFileURL(path.join(copy, door)));
}

/** The text of an answer, or what is said of an error; anything else that is thrown fails the check. */
function told({ calculateText, FloodbarError }, [id, request]) {
  try {
    return calculateText(id, request);
  } catch (error) {
    if (!(error instanceof FloodbarError)) throw error;
    return JSON.stringify({ ...error, message: error.message });
  }
}

const list = (count, entry) => `[${Array(count).fill(entry).join(",")}]`;
/** Texts as long as one may be, and as much in one as may be. */
const LONGEST = 4 << 20;
const large = [
  ["mesh.geometry", `{"mesh": "${"7".repeat(LONGEST - 12)}"}`], ["mesh.geometry", " ".repeat(LONGEST)],
  ["mesh.geometry", list(9_900, `[${"{},".repeat(8)}{}]`)], ["exposure.curve", `{"steps": ${list(10_000, list(9, "\"1e-300 um\""))}}`],
];
const corpus = readdirSync(path.join(corpusDir, "text")).map((name) => {
  const text = readFileSync(path.join(corpusDir, "text", name), "utf8");
  const end = text.indexOf("\n");
  return [text.slice(0, end), text.slice(end + 1)];
});
const vectors = readdirSync(vectorsDir).filter((name) => name.endsWith(".json"))
  .flatMap((name) => JSON.parse(readFileSync(path.join(vectorsDir, name), "utf8")))
  .map(({ calculation, request, text }) => [calculation, text ?? JSON.stringify(request)]);

await check("256 MB are enough for every request", async () => {
  const free = await pageWith(wholeBytes);
  const bytes = limited(wholeBytes, 256 << 20);
  assert.ok(corpus.length > 0 && vectors.length > 0);
  const one = await pageWith(bytes);
  for (const asked of vectors) assert.equal(told(one, asked), told(free, asked), asked.join(" "));
  for (const asked of [...corpus, ...large]) {
    const own = await pageWith(bytes);
    assert.equal(told(own, asked), told(free, asked), asked[0]);
  }
});

const LITTLE = 2 << 20;
const mesh = { mesh: "77-55" };
const window = { dryer: "air-dryer-2m", ink: "plastisol", cloth: "cotton-jersey-180" };
const columns = { inputs: ["/mesh/thread"], outputs: ["/opening"] };
const picture = { pixels_wide: 2000, pixels_high: 2000, resolution: "100 /cm", ink: "dark" };
const tooMuch = [
  ...large.map(([id, text]) => ({ calculateText }) => calculateText(id, text)),
  ({ measureArtwork }) => measureArtwork(new Uint8Array(4_000_000), picture),
];
const breaks = (call) => assert.throws(call, (error) => error instanceof WebAssembly.RuntimeError);

for (const [what, open] of [["node", () => nodeWith(LITTLE, "node.js")], ["web", () => pageWith(limited(wholeBytes, LITTLE))]]) {
  const own = await open();
  const free = await pageWith(wholeBytes);
  const wanted = [free.calculate("mesh.geometry", mesh), free.calculate("dryer.window", window)];
  const answers = (options) => [own.calculate("mesh.geometry", mesh, options), own.calculate("dryer.window", window, options)];

  await check(`${what}: with little memory a call that needs more breaks off, and the next has its answer`, () => {
    assert.deepEqual(answers(), wanted);
    for (const call of tooMuch) {
      breaks(() => call(own));
      assert.deepEqual(answers(), wanted);
    }
  });

  await check(`${what}: what was prepared is lost with the call that breaks off, a cache begins anew`, () => {
    const cache = new own.Cache(10);
    assert.deepEqual(answers({ cache }), wanted);
    const prepared = own.prepare("mesh.geometry", mesh, columns, { cache });
    assert.equal(prepared.run([[50]]).status[0], "success");
    breaks(() => tooMuch[0](own));
    const lost = { code: "null_pointer", message: /prepare it anew/ };
    assert.throws(() => prepared.run([[50]]), lost);
    assert.throws(() => prepared.explain([50]), lost);
    prepared.free();
    assert.deepEqual(cache.counts(), { hits: 0, misses: 0 });
    assert.deepEqual(answers({ cache }), wanted);
    breaks(() => tooMuch[0](own));
    cache.free();
    assert.deepEqual(own.prepare("mesh.geometry", mesh, columns).run([[50]]).columns, free.prepare("mesh.geometry", mesh, columns).run([[50]]).columns);
  });

  // Each leaves the memory that it took, and its stack, as they were when it broke off.
  await check(`${what}: however many calls break off`, () => {
    for (let turn = 0; turn < 200; turn += 1) breaks(() => tooMuch[2](own));
    assert.deepEqual(answers(), wanted);
  });

  await check(`${what}: a stack that is too deep breaks off a call too`, () => {
    const prepared = own.prepare("mesh.geometry", mesh, columns);
    const deeper = () => {
      own.calculateText("mesh.geometry", "{\"mesh\": \"77-55\"}");
      deeper();
    };
    assert.throws(deeper, RangeError);
    assert.deepEqual(answers(), wanted);
    prepared.free();
  });
}

await check("web: what is lost with one binary is not lost with the other", async () => {
  const page = await openPage(packageDir);
  await page.init(readFileSync(path.resolve(packageDir, leanFile)));
  const prepared = page.prepare("mesh.geometry", mesh, columns);
  await page.initWhole(limited(wholeBytes, LITTLE));
  breaks(() => tooMuch[0](page));
  assert.equal(prepared.run([[50]]).status[0], "success");
  assert.ok(page.calculate("stock.list", { kind: "rates" }).kinds);
});

await check("worker: a call that breaks off ends the worker; the next, and what was prepared, go on in another", async () => {
  const own = await nodeWith(LITTLE, "worker.node.js");
  const free = await pageWith(wholeBytes);
  const cache = new own.Cache(10);
  const prepared = await own.prepare("mesh.geometry", mesh, columns, { cache });
  const threads = [40, 50];
  const rows = free.prepare("mesh.geometry", mesh, columns).run([threads]);
  for (const call of [...tooMuch, ...tooMuch]) {
    const broken = call(own);
    const waiting = own.calculate("dryer.window", window, { cache });
    await assert.rejects(broken, (error) => error instanceof Error && !(error instanceof own.FloodbarError));
    assert.deepEqual(await waiting, free.calculate("dryer.window", window));
    assert.deepEqual(await prepared.run([threads]), rows);
  }
});

close();
