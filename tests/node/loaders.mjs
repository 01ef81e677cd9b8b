// A tiny project for each way to load the package, built and run; those of browsers in Chromium, over http, under a strict policy:
// node loaders.mjs PROJECTS
//
// PROJECTS has the folders of tests/install/loaders, the package installed in each. CHROMIUM names the browser.
import assert from "node:assert/strict";
import { execFile } from "node:child_process";
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import http from "node:http";
import { tmpdir } from "node:os";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { promisify } from "node:util";
import { createRequire } from "node:module";
import esbuild from "esbuild";
import { chromium } from "playwright-core";
import * as vite from "vite";
import webpack from "webpack";
import { check, close } from "./checks.mjs";

const [projects] = process.argv.slice(2);
if (projects === undefined) {
  console.error("usage: node loaders.mjs PROJECTS");
  process.exit(2);
}
const folder = (...names) => path.resolve(projects, ...names);
const POLICY = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; worker-src 'self'; connect-src 'self'; img-src data:";
const TYPES = { ".html": "text/html", ".js": "text/javascript", ".wasm": "application/wasm", ".json": "application/json" };

// What all are held against: the package as Node has it.
const require = createRequire(folder("node-cjs", "main.js"));
const here = require("floodbar");
const plan = JSON.stringify(require("floodbar/catalogue").catalogue().calculations.find(({ id }) => id === "job.plan").example);
const planned = here.calculateText("job.plan", plan);
const mesh = { mesh: "77-55" };
const dryer = here.calculateText("dryer.window", '{"dryer": "air-dryer-2m", "ink": "plastisol", "cloth": "cotton-jersey-180"}');
const refused = [true, "unknown_field", "/mehs"];
const wanted = {
  lean: here.calculateText("mesh.geometry", JSON.stringify(mesh)), refused, whole: planned, worker: planned, ended: "enough",
  rows: [...here.prepare("mesh.geometry", mesh, { inputs: ["/mesh/thread"], outputs: ["/opening"] }).run([[50, 55]]).columns[0]],
  given: 0, again: refused, cached: [dryer, dryer, { hits: 1, misses: 1 }], freed: "null_pointer",
  early: "floodbar/worker is not loaded yet: `await init()`, or `await initWhole()`, comes before the first call",
};

/** Serves a folder; `answer` may give a status and a text of its own. */
async function served(root, body, { policy = POLICY, answer = () => undefined } = {}) {
  const read = (name) => {
    try {
      return [200, name === "plan.json" ? plan : readFileSync(path.join(root, path.normalize(`/${name}`)))];
    } catch {
      return [404, "no such file"];
    }
  };
  const server = http.createServer((request, response) => {
    const name = new URL(request.url, "http://localhost").pathname.slice(1) || "index.html";
    const [status, text] = answer(name) ?? read(name);
    const type = text === PAGE ? "text/html" : TYPES[path.extname(name)] ?? "text/plain";
    response.writeHead(status, { "Content-Type": type, "Content-Security-Policy": policy }).end(text);
  });
  await new Promise((done) => server.listen(0, "127.0.0.1", done));
  try {
    return await body(`http://127.0.0.1:${server.address().port}/`);
  } finally {
    server.close();
    server.closeAllConnections();
  }
}
const PAGE = "<!DOCTYPE html><title>Not found</title>";

const profile = mkdtempSync(path.join(tmpdir(), "floodbar-"));
const browser = await chromium.launchPersistentContext(profile, {
  executablePath: process.env.CHROMIUM, headless: true, chromiumSandbox: false,
  args: ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync"],
});

/** What a page tells, and what its console says of errors. */
async function opened(address) {
  const page = await browser.newPage();
  const said = [];
  page.on("console", (message) => message.type() === "error" && said.push(message.text()));
  page.on("pageerror", (error) => said.push(String(error)));
  try {
    await page.goto(address);
    const output = page.locator("output:not(:empty)");
    await output.waitFor({ state: "attached", timeout: 20_000 }).catch(() => assert.fail(`nothing is told: ${said}`));
    return [JSON.parse(await output.textContent()), said];
  } finally {
    await page.close();
  }
}

async function answers(address) {
  const [told, said] = await opened(address);
  assert.deepEqual(told, wanted);
  assert.deepEqual(said, []);
}

async function bundled(options, outdir) {
  cpSync(folder("esbuild", "index.html"), path.join(outdir, "index.html"));
  await esbuild.build({ ...options, absWorkingDir: folder("esbuild"), outdir, logLevel: "error" });
}

const built = {
  async script() {
    return folder("script");
  },
  async vite() {
    await vite.build({ root: folder("vite"), logLevel: "error" });
    return folder("vite", "dist");
  },
  async esbuild() {
    const { options, copy } = await import(pathToFileURL(folder("esbuild", "build.mjs")));
    const outdir = folder("esbuild", options.outdir);
    mkdirSync(outdir, { recursive: true });
    await bundled(options, outdir);
    await copy(outdir);
    return outdir;
  },
  async webpack() {
    const options = require(folder("webpack", "webpack.config.cjs"));
    const compiler = webpack({ ...options, context: folder("webpack"), output: { ...options.output, path: folder("webpack", "dist") } });
    const stats = await promisify(compiler.run.bind(compiler))();
    assert.ok(!stats.hasErrors() && !stats.hasWarnings(), stats.toString());
    await promisify(compiler.close.bind(compiler))();
    cpSync(folder("webpack", "index.html"), folder("webpack", "dist", "index.html"));
    return folder("webpack", "dist");
  },
};

for (const [name, build] of Object.entries(built)) {
  await check(`${name}: a page answers, under a strict policy`, async () => served(await build(), answers));
}

await check("vite: its server for work in progress", async () => {
  const server = await vite.createServer({ root: folder("vite"), logLevel: "error", server: { port: 0, host: "127.0.0.1", hmr: false } });
  try {
    writeFileSync(folder("vite", "plan.json"), plan);
    await server.listen();
    await answers(`http://127.0.0.1:${server.httpServer.address().port}/`);
  } finally {
    await server.close();
  }
});

for (const name of ["node-esm", "node-cjs"]) {
  await check(`${name}: a program answers`, async () => {
    const { stdout, stderr } = await promisify(execFile)(process.execPath, [folder(name, "main.js")], { cwd: folder(name), timeout: 20_000 });
    assert.equal(stderr, "");
    assert.deepEqual(JSON.parse(stdout), { whole: planned, worker: planned, same: [true, true, true] });
  });
}

// What stands in the way of a page is told in a sentence.
const says = (options, message, root = folder("script")) => served(root, async (address) => {
  const [told] = await opened(address);
  assert.match(told.error, message);
}, options);

await check("a policy without wasm-unsafe-eval is named", () =>
  says({ policy: POLICY.replace(" 'wasm-unsafe-eval'", "") }, /Content-Security-Policy forbids WebAssembly: add 'wasm-unsafe-eval' to its script-src/));
await check("a missing wasm file is named", () =>
  says({ answer: (name) => (name.endsWith(".wasm") ? [404, "no such file"] : undefined) }, /floodbar_bg\.wasm is answered 404, .*give init\(\) its address/));
await check("a page in the place of the wasm file is known for one", () =>
  says({ answer: (name) => (name.endsWith(".wasm") ? [200, PAGE] : undefined) }, /floodbar_bg\.wasm is an HTML page, .*found 3c 21 44 4f/));
await check("a policy that lets nothing be fetched is thought of", () =>
  says({ policy: POLICY.replace("connect-src 'self'", "connect-src 'none'") }, /floodbar_bg\.wasm cannot be fetched: .*connect-src/));
await check("a missing script of the worker is named", () =>
  says({ answer: (name) => (name.endsWith("worker_script.js") ? [404, "no such file"] : undefined) }, /worker's script did not load: put worker_script\.js beside/));
await check("a policy that lets no worker run is thought of", () =>
  says({ policy: POLICY.replace("worker-src 'self'", "worker-src 'none'") }, /worker's script did not load: .*worker-src/));
await check("a page from a file is told what to do", async () => {
  const outdir = folder("esbuild", "file");
  mkdirSync(outdir, { recursive: true });
  writeFileSync(folder("esbuild", "file.js"), `
    import { init } from "floodbar";
    const failure = (source) => init(source).catch((error) => error.message);
    const tell = async () => [await failure(), await failure("floodbar_bg.wasm")];
    tell().then((told) => document.querySelector("output").textContent = JSON.stringify(told));`);
  // A module would not even be loaded from there.
  await bundled({ entryPoints: { main: "file.js" }, bundle: true, format: "iife", logOverride: { "empty-import-meta": "silent" } }, outdir);
  const page = path.join(outdir, "index.html");
  writeFileSync(page, readFileSync(page, "utf8").replace('type="module"', "defer"));
  const [told] = await opened(pathToFileURL(page).href);
  assert.match(told[0], /this bundle does not know where it lies: give init\(\) the address/);
  assert.match(told[1], /floodbar_bg\.wasm cannot be fetched: nothing may be fetched from files: serve the folder over http/);
});

await browser.close();
rmSync(profile, { recursive: true, force: true });
close();
