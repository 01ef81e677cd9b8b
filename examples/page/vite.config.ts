// The build, and what makes it one version: a list of all its files, each with its digest, in the service worker.
import { createHash } from "node:crypto";
import { readFileSync, readdirSync, writeFileSync } from "node:fs";
import path from "node:path";
import { defineConfig, type Plugin } from "vite";

/** Writes `sw.js` beside the files that it keeps. */
function oneVersion(): Plugin {
  let dist = "";
  return {
    name: "one-version",
    apply: "build",
    configResolved(config) {
      dist = path.resolve(config.root, config.build.outDir);
    },
    // The binary is under way while the script is still read.
    transformIndexHtml(_, { bundle }) {
      const lean = Object.keys(bundle ?? {}).find((name) => /floodbar_bg-[^/]*\.wasm$/.test(name));
      if (lean === undefined) throw new Error("the WebAssembly is not in the bundle");
      return [{ tag: "link", attrs: { rel: "preload", as: "fetch", type: "application/wasm", crossorigin: true, href: `./${lean}` }, injectTo: "head" }];
    },
    closeBundle() {
      const digest = (data: Buffer | string) => createHash("sha256").update(data).digest("base64");
      const names = readdirSync(dist, { recursive: true, withFileTypes: true })
        .filter((entry) => entry.isFile() && entry.name !== "sw.js")
        .map((entry) => path.relative(dist, path.join(entry.parentPath, entry.name)).split(path.sep).join("/"))
        .sort();
      const files = Object.fromEntries(names.map((name) => [name, digest(readFileSync(path.join(dist, name)))]));
      const version = createHash("sha256").update(JSON.stringify(files)).digest("hex").slice(0, 16);
      const head = `const VERSION = ${JSON.stringify(version)};\nconst FILES = ${JSON.stringify(files)};\n`;
      writeFileSync(path.join(dist, "sw.js"), head + readFileSync(path.join(import.meta.dirname, "src/shell/service_worker.js"), "utf8"));
    },
  };
}

/** The terms of all that is in the build, as they ask for, in one file beside it. */
function licences(): Plugin {
  const texts = {
    floodbar: ["LICENSE-MIT", "LICENSE-APACHE", "THIRD-PARTY.txt"], "../decoder/pkg": ["THIRD-PARTY.txt"], preact: ["LICENSE"], "@preact/signals": ["LICENSE"], "@preact/signals-core": ["LICENSE"],
    "idb-keyval": ["LICENCE"], "@fontsource/atkinson-hyperlegible": ["LICENSE"], "@fontsource/atkinson-hyperlegible-mono": ["LICENSE"],
  };
  const read = (name: string, file: string) => readFileSync(path.join(import.meta.dirname, "node_modules", name, file), "utf8").trim();
  const source = Object.entries(texts).flatMap(([name, files]) => files.map((file) => `${name.replace("../decoder/pkg", "the decoder of pictures")}\n\n${read(name, file)}\n`)).join(`\n${"-".repeat(80)}\n\n`);
  return { name: "licences", apply: "build", generateBundle() {
    this.emitFile({ type: "asset", fileName: "licences.txt", source });
  } };
}

/** Leaves out of the catalogue what the page does not read: the meanings of what only answers have, and what is said to programs. */
function readCatalogue(): Plugin {
  type Node = { [name: string]: unknown };
  const without = (value: unknown, names: string[]): unknown => JSON.parse(JSON.stringify(value, (name, part) => (names.includes(name) && typeof part === "string" ? undefined : part)));
  const referred = (value: unknown): string[] => [...JSON.stringify(value).matchAll(/"#\/\$defs\/([^"]+)"/g)].map(([, name]) => name!);
  return {
    name: "read-catalogue",
    transform(code, id) {
      if (!id.endsWith("floodbar/document.js") && !id.endsWith("wasm/pkg/document.js")) return undefined;
      const { keywords: _, beyond_schemas: __, operators: ___, ...document } = JSON.parse(code.slice(code.indexOf("{"), code.lastIndexOf("}") + 1)) as Node & { calculations: Node[]; $defs: Node };
      const asked = new Set(document.calculations.flatMap(({ request }) => referred(request)));
      for (const name of asked) for (const other of referred(document.$defs[name])) asked.add(other);
      const calculations = document.calculations.map((entry) => ({ ...entry, answer: without(entry.answer, ["description"]) }));
      const $defs = Object.fromEntries(Object.entries(document.$defs).map(([name, one]) => [name, asked.has(name) ? one : without(one, ["description"])]));
      return { code: `export default ${JSON.stringify({ ...document, calculations, $defs })};`, map: null };
    },
  };
}

export default defineConfig({
  base: "./",
  // The WebAssembly is found from its own package's address.
  optimizeDeps: { exclude: ["floodbar"] },
  worker: { format: "es" },
  build: {
    target: "es2022",
    // Nothing inlined as a data address, which the page's policy does not allow.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    // The catalogue is one document of half a megabyte, 50 kB when it is sent.
    chunkSizeWarningLimit: 750,
  },
  plugins: [readCatalogue(), licences(), oneVersion()],
});
