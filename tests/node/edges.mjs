// What shared vectors cannot say, on both builds: node --no-warnings edges.mjs PACKAGE_DIR
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import path from "node:path";
import { pathToFileURL } from "node:url";
import vm from "node:vm";
import zlib from "node:zlib";
import { LACKING, check, close, openPage } from "./checks.mjs";

const [packageDir] = process.argv.slice(2);
if (packageDir === undefined) {
  console.error("usage: node edges.mjs PACKAGE_DIR");
  process.exit(2);
}
const file = (name) => path.resolve(packageDir, name);
const load = (name) => import(pathToFileURL(file(name)));

const [leanFile, wholeFile] = ["floodbar_bg.wasm", "floodbar_whole_bg.wasm"];

const node = await load("node.js");
const web = await openPage(packageDir);

const mesh = { mesh: "77-55" };
const listings = [await load("catalogue.js"), createRequire(import.meta.url)(file("catalogue.cjs"))];
const { calculations } = listings[0].catalogue();
const exampleOf = (id) => calculations.find((entry) => entry.id === id).example;
const run = exampleOf("press.overs");

const inLean = calculations.filter(({ id }) => !LACKING.includes(id));
const kinds = node.calculate("stock.list", { explain: false }).kinds.map(({ kind }) => kind);
// What only quotes ask for it has not in stock either.
const inLeanStock = kinds.filter((kind) => kind !== "rates");
const texts = ({ calculateText }) => [
  ...inLeanStock.map((kind) => ["stock.list", { kind }]), ...inLean.map(({ id, example }) => [id, example]),
]
  .map(([id, request]) => calculateText(id, JSON.stringify(request)));

await check("web: init fetches the lean binary beside the module, once", async () => {
  const fetched = [];
  const { fetch } = globalThis;
  globalThis.fetch = async (address) => {
    fetched.push(path.basename(address.pathname));
    return new Response(readFileSync(address), { headers: { "Content-Type": "application/wasm" } });
  };
  await Promise.all([web.init(), web.init()]);
  await web.init();
  globalThis.fetch = fetch;
  assert.deepEqual(fetched, [leanFile]);
});

await check("web: the lean binary answers as the whole one", () => assert.deepEqual(texts(web), texts(node)));

await check("web: the lean binary has the stock of what it can answer, and says so of the rest", () => {
  assert.deepEqual(web.calculate("stock.list", {}).kinds.map(({ kind }) => kind), inLeanStock);
  assert.throws(() => web.calculate("stock.list", { kind: "rates" }), { code: "impossible", field: "/kind" });
});

await check("web: the lean binary says where more calculations are, of whatever it does not have", () => {
  const spec = { inputs: [], outputs: [] };
  const asks = (id) => [
    () => web.calculate(id, {}), () => web.calculateMany(id, []), () => web.prepare(id, {}, spec), () => web.sweep(id, {}, { vary: "/x" }),
    () => web.solve(id, {}, { vary: "/x" }),
  ];
  const pixels = () => web.measureArtwork(new Uint8Array(9), { pixels_wide: 3, pixels_high: 3, resolution: "300 /in", ink: "dark" });
  for (const ask of [...[...LACKING, "nothing"].flatMap(asks), pixels]) {
    assert.throws(ask, (error) => {
      assert.ok(error instanceof web.FloodbarError);
      assert.equal(error.code, "unknown_calculation");
      assert.match(error.message, /`initWhole\(\)` loads more calculations/);
      assert.deepEqual(error.allowed, inLean.map(({ id }) => id));
      return true;
    });
  }
});

await check("web: initWhole takes the place of what init loaded, and stays; it has all calculations", async () => {
  await web.initWhole(readFileSync(file(wholeFile)));
  await web.init();
  for (const id of LACKING) assert.deepEqual(web.calculate(id, exampleOf(id)), node.calculate(id, exampleOf(id)));
  assert.deepEqual(texts(web), texts(node));
  assert.throws(() => web.calculate("nothing", {}), ({ message, allowed }) => {
    assert.doesNotMatch(message, /initWhole/);
    assert.deepEqual(allowed, calculations.map(({ id }) => id));
    return true;
  });
});

await check("web: the whole binary stays where the lean one comes after it", async () => {
  const page = await openPage(packageDir);
  const whole = page.initWhole(readFileSync(file(wholeFile)));
  await page.init(whole.then(() => readFileSync(file(leanFile))));
  assert.ok(page.calculate("job.plan", exampleOf("job.plan")));
});

for (const [build, { calculate, calculateText, FloodbarError, measureArtwork }] of Object.entries({ node, web })) {
  const test = (name, body) => check(`${build}: ${name}`, body);

  /** The error of a call; anything else that is thrown, or nothing, fails the check. */
  const refusal = (call) => {
    try {
      call();
    } catch (error) {
      assert.ok(error instanceof FloodbarError, `threw ${error}`);
      return error;
    }
    assert.fail("nothing was thrown");
  };
  const refused = (request, code, field, id = "mesh.geometry") => {
    const error = refusal(() => calculate(id, request));
    assert.deepEqual([error.code, error.field], [code, field], error.message);
    return error;
  };

  for (const entry of calculations) {
    await test(`${entry.id} answers its own example, as value and as text`, () => {
      const answer = calculate(entry.id, entry.example);
      assert.equal(JSON.stringify(answer), JSON.stringify(JSON.parse(calculateText(entry.id, JSON.stringify(entry.example)))));
      plain(answer);
    });
  }

  await test("pixels are bytes, and only bytes", () => {
    // Three rows of three, four bytes apart; one pixel is ink, 0.1 mm wide.
    const pixels = Uint8Array.of(255, 255, 255, 0, 255, 0, 255, 0, 255, 255, 255);
    const spec = { pixels_wide: 3, pixels_high: 3, stride: 4, resolution: "100 /cm", ink: "dark" };
    const measured = measureArtwork(pixels, spec);
    assert.deepEqual(measured.width, { value: 0.1, unit: "mm" });
    assert.deepEqual(measureArtwork(new Uint8ClampedArray(pixels), spec), measured);
    const numbers = [255, 255, 255, 255, 0, 255, 255, 255, 255];
    assert.deepEqual(calculate("artwork.measure", { ...spec, stride: undefined, pixels: numbers }), measured);
    for (const other of [[...pixels], new Uint16Array(pixels), pixels.buffer, "pixels", null, undefined, { length: 9 }]) {
      assert.equal(refusal(() => measureArtwork(other, spec)).code, "wrong_type");
    }
    const short = refusal(() => measureArtwork(pixels.subarray(1), spec));
    assert.deepEqual([short.code, short.field], ["impossible", "/pixels_high"]);
    assert.equal(refusal(() => measureArtwork(pixels, undefined)).code, "wrong_type");
    assert.equal(refusal(() => measureArtwork(pixels, { ...spec, pixels: numbers })).field, "/pixels");
  });

  await test("numbers that JSON does not have are refused with their place", () => {
    for (const value of [NaN, Infinity, -Infinity]) {
      refused({ mesh: { count: { value, unit: "/cm" }, thread: "55 um" } }, "bad_json", "/mesh/count/value");
      refused([0, { "a/b": value }], "bad_json", "/1/a~1b");
    }
  });

  await test("a whole number is an integer, however it is written", () => {
    const { pieces, ...rest } = run;
    const want = JSON.stringify(calculate("press.overs", run));
    assert.equal(JSON.stringify(calculate("press.overs", { ...rest, pieces: Number(`${pieces}.0`) })), want);
    refused({ ...rest, pieces: 2.5 }, "out_of_range", "/pieces", "press.overs");
    assert.equal(refused({ ...rest, pieces: 2 ** 60 }, "out_of_range", "/pieces", "press.overs").got, 2 ** 60);
  });

  await test("undefined is absent", () => {
    const want = JSON.stringify(calculate("mesh.geometry", mesh));
    assert.equal(JSON.stringify(calculate("mesh.geometry", { ...mesh, units: undefined, anything: undefined })), want);
    refused({ mesh: undefined }, "missing_field", "/mesh");
    refused(undefined, "wrong_type", "");
    refused(null, "wrong_type", "");
  });

  await test("what is not JSON is refused with its place, never taken for something else", () => {
    class Mesh {
      count = "77 /cm";
      thread = "55 um";
    }
    const strangers = [
      new Map([["count", "77 /cm"]]), new Set(), 77n, () => mesh, Symbol("mesh"), new Date(0), /77-55/, new Mesh(),
      new String("77-55"), new Number(77), new Uint8Array(2), new ArrayBuffer(2), new Error("mesh"), Promise.resolve(),
    ];
    for (const value of strangers) {
      refused({ mesh: value }, "bad_json", "/mesh");
      refused(value, "bad_json", "");
    }
  });

  await test("objects of another realm, without a prototype, frozen or behind a proxy are plain", () => {
    const want = JSON.stringify(calculate("mesh.geometry", mesh));
    const same = [
      vm.runInNewContext('({ mesh: "77-55" })'), Object.assign(Object.create(null), mesh), Object.freeze({ ...mesh }),
      new Proxy({ ...mesh }, {}), { get mesh() { return "77-55"; } },
    ];
    for (const request of same) assert.equal(JSON.stringify(calculate("mesh.geometry", request)), want);
  });

  await test("the request is left as it was", () => {
    const request = { mesh: { count: "77 /cm", thread: "55 um", thickness: undefined } };
    const before = structuredClone(request);
    calculate("mesh.geometry", request);
    assert.deepEqual(request, before);
  });

  await test("an own member called __proto__ is an unknown field", () => {
    refused(JSON.parse('{"mesh": "77-55", "__proto__": {}}'), "unknown_field", "/__proto__");
  });

  await test("what throws when it is read is refused, again and again", () => {
    const { proxy, revoke } = Proxy.revocable({}, {});
    revoke();
    const getter = { get mesh() { throw new Error("no"); } };
    for (let turn = 0; turn < 1000; turn += 1) {
      refused(getter, "bad_json", "/mesh");
      refused({ mesh: proxy }, "bad_json", "/mesh");
    }
    calculate("mesh.geometry", mesh);
  });

  await test("cycles, depth, width and bulk end in too_long", () => {
    const cycle = { mesh: "77-55" };
    cycle.self = cycle;
    refused(cycle, "too_long", "");
    const ring = [];
    ring.push(ring, ring);
    refused({ mesh: ring }, "too_long", "");
    let shared = ["x"];
    for (let level = 0; level < 40; level += 1) shared = [shared, shared];
    assert.equal(refusal(() => calculate("mesh.geometry", { mesh: shared })).code, "too_long");
    refused({ mesh: Array(1e9) }, "too_long", "/mesh");
    refused({ mesh: "7".repeat(5e6) }, "too_long", "");
  });

  await test("names and texts that are none", () => {
    for (const id of [undefined, null, 7, {}, Symbol("id")]) {
      assert.equal(refusal(() => calculate(id, mesh)).code, "wrong_type");
      assert.equal(refusal(() => calculateText(id, "{}")).code, "wrong_type");
      assert.equal(refusal(() => calculateText("mesh.geometry", id)).code, "wrong_type");
    }
    const error = refusal(() => calculate("mesh.geometri", mesh));
    assert.equal(error.code, "unknown_calculation");
    assert.match(error.message, /mesh\.geometry/);
  });

  await test("an error is an Error with its members", () => {
    const error = refused({ mehs: "77-55" }, "unknown_field", "/mehs");
    assert.ok(error instanceof Error);
    assert.equal(error.name, "FloodbarError");
    assert.match(error.message, /did you mean `mesh`/);
    assert.match(error.stack, /edges\.mjs/);
    assert.equal(error.got, "77-55");
    assert.deepEqual(error.allowed, ["mesh", "units", "explain", "doubt"]);
  });

  await test("value and text are refused alike", () => {
    for (const request of [{}, { mesh: 77 }, { mesh: "77" }, { mesh: "77-55", units: "x" }, { mesh: { count: "77 mm" } }, []]) {
      const members = ({ code, field, message, got, allowed }) => ({ code, field, message, got, allowed });
      const value = refusal(() => calculate("mesh.geometry", request));
      const text = refusal(() => calculateText("mesh.geometry", JSON.stringify(request)));
      assert.deepEqual(members(value), members(text));
    }
    assert.equal(refusal(() => calculateText("mesh.geometry", '{"mesh": 1, "mesh": 2}')).code, "bad_json");
    assert.equal(refusal(() => calculateText("mesh.geometry", '{"mesh": 18446744073709551615}')).code, "wrong_type");
  });
}

await check("the package loads by its name, with import and with require, and there is one of everything", async () => {
  const require = createRequire(import.meta.url);
  for (const name of ["floodbar", "floodbar/worker"]) {
    const [imported, required] = [await import(name), require(name)];
    assert.deepEqual(Object.keys(imported).sort(), Object.keys(required).sort());
    for (const own of Object.keys(imported)) assert.equal(imported[own], required[own], own);
    assert.equal(imported.FloodbarError, node.FloodbarError);
  }
  assert.equal((await import("floodbar")).calculate, node.calculate);
});

await check("all builds offer the same functions", async () => {
  const names = Object.keys(node).sort();
  const workers = [await load("worker.js"), await load("worker.node.js")];
  assert.deepEqual(Object.keys(web).sort(), names);
  for (const build of workers) assert.deepEqual(Object.keys(build).sort(), [...names, "warm"].sort());
});

await check("the catalogue is what the packer wrote, and an import of its own", async () => {
  for (const listing of [...listings, await import("floodbar/catalogue")]) assert.deepEqual(listing.catalogue(), listings[0].catalogue());
  assert.deepEqual(listings[1].schema("ink.usage", "request"), listings[0].schema("ink.usage", "request"));
  for (const name of ["node.js", "node.cjs", "core.cjs", "web.js", "api.js", "binary.js", "json.js", "worker.js"]) {
    assert.ok(!/document\.js/.test(readFileSync(file(name), "utf8")), `${name} loads the catalogue`);
  }
});

await check("a member that is read is read once", () => {
  let reads = 0;
  const request = { get mesh() { reads += 1; return reads === 1 ? "77-55" : NaN; } };
  node.calculate("mesh.geometry", request);
  assert.equal(reads, 1);
});

// What every page loads has the bound that is wanted; what has all calculations is held where it is.
for (const [name, most] of [[leanFile, 250_000], [wholeFile, 560_000]]) {
  const binary = readFileSync(file(name));
  await check(`${name} keeps its size`, () => {
    const { constants, brotliCompressSync } = zlib;
    const size = brotliCompressSync(binary, { params: { [constants.BROTLI_PARAM_LGWIN]: 24 } }).length;
    console.log(`${name}: ${binary.length} bytes, ${size} after brotli`);
    assert.ok(size <= most, `${size} bytes after brotli, at most ${most}`);
  });
  await check(`the prose of the catalogue is not in ${name}`, () => {
    for (const { id, question } of calculations) assert.ok(!binary.includes(question), id);
  });
}

close();

/** Only plain objects, arrays, texts, truth values and finite numbers, all the way down. */
function plain(value) {
  if (Array.isArray(value)) return value.forEach(plain);
  if (value !== null && typeof value === "object") {
    assert.equal(Object.getPrototypeOf(value), Object.prototype);
    return Object.values(value).forEach(plain);
  }
  assert.ok(["string", "boolean"].includes(typeof value) || Number.isFinite(value), String(value));
  assert.ok(!Object.is(value, -0), "a negative zero");
}
