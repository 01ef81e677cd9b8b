// How the WebAssembly is loaded, and what is said where it cannot be: node --no-warnings loads.mjs PACKAGE_DIR
import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { cpSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { check, close, openPage } from "./checks.mjs";

const [packageDir] = process.argv.slice(2);
if (packageDir === undefined) {
  console.error("usage: node loads.mjs PACKAGE_DIR");
  process.exit(2);
}
const lean = readFileSync(path.resolve(packageDir, "floodbar_bg.wasm"));
const mesh = { mesh: "77-55" };
const type = (type) => ({ headers: { "Content-Type": type } });
const page = () => openPage(packageDir);
const answers = ({ calculate }) => assert.equal(calculate("mesh.geometry", mesh).opening.unit, "um");

/** Runs `body` while `fetch` gives this. */
async function served(give, body) {
  const { fetch } = globalThis;
  globalThis.fetch = async (address) => give(String(address));
  try {
    return await body();
  } finally {
    globalThis.fetch = fetch;
  }
}

const withUrl = (response, url) => Object.defineProperty(response, "url", { value: url });

for (const [what, give] of Object.entries({
  "bytes": () => lean,
  "an ArrayBuffer": () => new Uint8Array(lean).buffer,
  "a view of more": () => new Uint8Array([0, ...lean, 0]).subarray(1, lean.length + 1),
  "a module": () => new WebAssembly.Module(lean),
  "a response": () => new Response(lean, type("application/wasm")),
  "a response of another type": () => new Response(lean, type("application/octet-stream")),
  "a promise of one": () => Promise.resolve(new Response(lean)),
})) {
  await check(`init takes ${what}`, async () => {
    const { init, ...floodbar } = await page();
    await init(give());
    answers(floodbar);
  });
}

for (const [what, address] of Object.entries({
  "an address": "https://example.org/a.wasm", "a URL": new URL("https://example.org/a.wasm"), "a Request": new Request("https://example.org/a.wasm"),
})) {
  await check(`init takes ${what}`, async () => {
    const { init, ...floodbar } = await page();
    await served(() => new Response(lean, type("application/wasm")), () => init(address));
    answers(floodbar);
  });
}

await check("before init each function says that it is wanted", async () => {
  const floodbar = await page();
  const spec = { inputs: [], outputs: [] };
  for (const call of [
    () => floodbar.calculate("mesh.geometry", mesh), () => floodbar.calculateText("mesh.geometry", "{}"), () => floodbar.calculateMany("mesh.geometry", []),
    () => floodbar.sweep("mesh.geometry", {}, {}), () => floodbar.solve("mesh.geometry", {}, {}), () => floodbar.prepare("mesh.geometry", mesh, spec),
    () => floodbar.measureArtwork(new Uint8Array(1), {}),
  ]) assert.throws(call, /^Error: floodbar is not loaded yet: `await init\(\)`/);
});

const html = "<!DOCTYPE html><title>Not found</title>";
const missing = "https://example.org/floodbar_bg.wasm";
for (const [what, give, message] of [
  ["is missing", () => new Response("no", { status: 404 }), /floodbar_bg\.wasm is answered 404, .* give init\(\) its address/],
  ["is a page", () => new Response(html, type("text/html")), /an HTML page, .*expected magic word 00 61 73 6d, found 3c 21 44 4f/],
  ["is a page that calls itself WebAssembly", () => new Response(html, type("application/wasm")), /an HTML page, .*expected magic word .*found 3c 21 44 4f/],
  ["is a text", () => new Response("hello"), /is no WebAssembly .*found 68 65 6c 6c/],
  ["is empty", () => new Response(""), /is no WebAssembly .*found nothing/],
  ["is cut short", () => new Response(lean.subarray(0, 1000), type("application/wasm")), /is no whole WebAssembly file/],
  ["is another program", () => new Response(Uint8Array.of(0, 97, 115, 109, 1, 0, 0, 0)), /not of the same version as the JavaScript/],
  ["cannot be reached", () => { throw new TypeError("fetch failed"); }, /cannot be fetched: see that the address is right/],
]) {
  await check(`where the binary ${what}, init says what to do, and can be asked again`, async () => {
    const { init, initWhole, ...floodbar } = await page();
    for (const load of [init, initWhole]) {
      const failure = served((url) => withUrl(give(), url), () => load(missing));
      await assert.rejects(failure, (error) => {
        assert.match(error.message, /^floodbar: /);
        assert.match(error.message.replace("floodbar: the response", missing), message);
        return true;
      });
      assert.throws(() => floodbar.calculate("mesh.geometry", mesh), /not loaded yet/);
    }
    await init(lean);
    answers(floodbar);
  });
}

await check("a page from a file is told to come by http", async () => {
  const { init } = await page();
  await assert.rejects(served(() => { throw new TypeError("Failed to fetch"); }, () => init()), /nothing may be fetched from files: serve the folder over http/);
});

await check("a policy against WebAssembly is named, in the words of each browser", async () => {
  const { compile } = WebAssembly;
  for (const words of [
    "WebAssembly.compile(): Compiling or instantiating WebAssembly module violates the following Content Security policy directive because neither 'wasm-eval' nor 'unsafe-eval' is an allowed source of script in the following Content Security Policy directive: \"script-src 'self'\"",
    "call to WebAssembly.compile() blocked by CSP",
    "Refused to create a WebAssembly object because 'unsafe-eval' or 'wasm-unsafe-eval' is not an allowed source of script",
  ]) {
    WebAssembly.compile = async () => { throw new WebAssembly.CompileError(words); };
    try {
      await assert.rejects((await page()).init(lean), /add 'wasm-unsafe-eval' to its script-src/);
    } finally {
      WebAssembly.compile = compile;
    }
  }
});

await check("a runtime without WebAssembly is told of", async () => {
  const { WebAssembly: kept } = globalThis;
  const { init } = await page();
  delete globalThis.WebAssembly;
  try {
    await assert.rejects(init(lean), /^Error: floodbar: this runtime has no WebAssembly/);
  } finally {
    globalThis.WebAssembly = kept;
  }
});

await check("Node says so where it runs without WebAssembly, or the file is missing", () => {
  const copy = mkdtempSync(path.join(tmpdir(), "floodbar-"));
  try {
    cpSync(packageDir, copy, { recursive: true });
    const run = (...flags) => spawnSync(process.execPath, [...flags, path.join(copy, "node.cjs")], { encoding: "utf8" }).stderr;
    assert.equal(run(), "");
    assert.match(run("--jitless"), /floodbar: this Node runs without WebAssembly/);
    rmSync(path.join(copy, "floodbar_whole_bg.wasm"));
    assert.match(run(), /floodbar: .*floodbar_whole_bg\.wasm cannot be read: install the package anew/);
  } finally {
    rmSync(copy, { recursive: true });
  }
});

await check("in Node init and initWhole have nothing to do", async () => {
  const floodbar = await import("floodbar");
  await floodbar.init();
  await floodbar.initWhole(missing);
  answers(floodbar);
});

close();
