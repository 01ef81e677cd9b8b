// Caches of the numbers of heat, on both builds, both binaries and in a worker: node --no-warnings caches.mjs PACKAGE_DIR
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import path from "node:path";
import * as node from "floodbar";
import * as worker from "floodbar/worker";
import { check, close, collected, openCounted, openPage, watchFreed } from "./checks.mjs";

const [packageDir] = process.argv.slice(2);
if (packageDir === undefined) {
  console.error("usage: node --no-warnings caches.mjs PACKAGE_DIR");
  process.exit(2);
}
const binary = (name) => readFileSync(path.resolve(packageDir, name));
const [lean, whole] = [await openPage(packageDir), await openPage(packageDir)];
await lean.init(binary("floodbar_bg.wasm"));
await whole.initWhole(binary("floodbar_whole_bg.wasm"));

const request = { dryer: "air-dryer-2m", ink: "plastisol", cloth: "cotton-jersey-180" };
const other = { ...request, cloth: "cotton-fleece-280" };
const swept = { vary: "/film", values: ["40 um", "60 um"] };
const wanted = { vary: "/film", from: "30 um", to: "60 um", want: "/recommended", equals: "1 m/min" };
const columns = { inputs: [{ at: "/film", unit: "um" }], outputs: ["/recommended", "/dwell"] };
const mesh = { mesh: "77-55" };

const settled = async (call) => {
  try {
    return await call();
  } catch (error) {
    return error;
  }
};
async function refused(code, call) {
  const error = await settled(call);
  assert.ok(error instanceof node.FloodbarError || error.name === "FloodbarError", `${call}: ${error?.stack ?? JSON.stringify(error)}`);
  assert.equal(error.code, code, String(call));
}

for (const [build, floodbar] of Object.entries({ node, lean, whole, worker })) {
  const test = (name, body) => check(`${build}: ${name}`, body);
  const { Cache, calculate, calculateMany, calculateText, prepare, solve, sweep } = floodbar;

  await test("the same answers with it as without, and what was asked before is found", async () => {
    const cache = new Cache();
    assert.deepEqual(await cache.counts(), { hits: 0, misses: 0 });
    const ways = {
      calculate: (options) => calculate("dryer.window", request, options),
      calculateText: (options) => calculateText("dryer.window", JSON.stringify(other), options),
      calculateMany: (options) => calculateMany("dryer.window", [request, {}, other], options),
      sweep: (options) => sweep("dryer.window", request, swept, options),
      solve: (options) => solve("dryer.window", request, wanted, options),
      prepare: async (options) => {
        const prepared = await prepare("dryer.window", request, columns, options);
        return [await prepared.run([[40, 60]]), await prepared.explain([40])];
      },
    };
    for (const [name, ask] of Object.entries(ways)) {
      const without = await settled(() => ask());
      const cold = await settled(() => ask({ cache }));
      const before = await cache.counts();
      assert.deepEqual(cold, without, name);
      assert.deepEqual(await settled(() => ask({ cache })), without, name);
      const { hits, misses } = await cache.counts();
      assert.ok(hits > before.hits && misses === before.misses, `${name}: ${JSON.stringify([before, { hits, misses }])}`);
    }
    cache.free();
  });

  await test("it keeps so many, and what was not asked for the longest goes first", async () => {
    const missed = async (entries) => {
      const cache = new Cache(entries);
      for (const asked of [request, other, request, other]) await calculate("dryer.window", asked, { cache });
      return (await cache.counts()).misses;
    };
    const [none, all] = [await missed(0), await missed(2 ** 32 - 1)];
    assert.equal(all * 2, none);
    assert.equal(await missed(1), none);
  });

  await test("what is no cache, and no number of runs, is refused", async () => {
    for (const entries of [-1, 1.5, NaN, 2 ** 32]) await refused("out_of_range", () => new Cache(entries));
    for (const entries of ["3", null, 3n, {}]) await refused("wrong_type", () => new Cache(entries));
    const cache = new Cache();
    const foreign = build === "worker" ? new node.Cache() : new worker.Cache();
    for (const options of [{ cache: {} }, { cache: 3 }, { cache: foreign }, cache]) {
      await refused("wrong_type", () => calculate("mesh.geometry", mesh, options));
      await refused("wrong_type", () => calculateMany("mesh.geometry", [mesh], options));
      await refused("wrong_type", () => sweep("dryer.window", request, swept, options));
      await refused("wrong_type", () => prepare("dryer.window", request, columns, options));
    }
    const plain = await calculate("mesh.geometry", mesh);
    for (const options of [{}, { cache: undefined }, { cache: null }, null, 7, "cache"]) {
      assert.deepEqual(await calculate("mesh.geometry", mesh, options), plain);
    }
  });

  await test("after it is freed it is refused, and what was prepared with it goes on", async () => {
    const cache = new Cache();
    const prepared = await prepare("dryer.window", request, columns, { cache });
    const before = await prepared.run([[60]]);
    cache.free();
    cache.free();
    assert.deepEqual(await prepared.run([[60]]), before);
    await refused("null_pointer", () => cache.counts());
    await refused("null_pointer", () => calculate("dryer.window", request, { cache }));
    await refused("null_pointer", () => calculateMany("dryer.window", [request], { cache }));
    await refused("null_pointer", () => solve("dryer.window", request, wanted, { cache }));
    // Reading a request may run anything.
    const late = new Cache();
    const frees = { ...request, get film() { return late.free(), "50 um"; } };
    await refused("null_pointer", () => calculate("dryer.window", frees, { cache: late }));
  });
}

await check("a cache begins anew with another binary", async () => {
  const page = await openPage(packageDir);
  await page.init(binary("floodbar_bg.wasm"));
  const cache = new page.Cache();
  const prepared = page.prepare("dryer.window", request, columns, { cache });
  const before = [page.calculate("dryer.window", request, { cache }), prepared.run([[60]])];
  await page.initWhole(binary("floodbar_whole_bg.wasm"));
  assert.deepEqual(cache.counts(), { hits: 0, misses: 0 });
  assert.deepEqual([page.calculate("dryer.window", request, { cache }), prepared.run([[60]])], before);
  assert.ok(cache.counts().misses > 0);
});

await check("a cache that is made before anything is loaded serves once it is", async () => {
  const page = await openPage(packageDir);
  const cache = new page.Cache();
  assert.throws(() => cache.counts(), /not loaded yet/);
  await page.init(binary("floodbar_bg.wasm"));
  page.calculate("dryer.window", request, { cache });
  assert.ok(cache.counts().misses > 0);
});

await check("worker: one that takes the place of another begins with none, and is asked in turn", async () => {
  const cache = new worker.Cache();
  await worker.calculate("dryer.window", request, { cache });
  const prepared = await worker.prepare("dryer.window", request, columns, { cache });
  const controller = new AbortController();
  const points = { vary: "/film", from: "20 um", to: "90 um", points: 5000 };
  const ended = settled(() => worker.sweep("dryer.window", request, points, { signal: controller.signal }));
  // These wait behind it, and the freed cache and calculation stay until they have been asked.
  const waiting = [worker.calculate("dryer.window", request, { cache }), cache.counts(), prepared.run([[60]])];
  cache.free();
  prepared.free();
  setTimeout(() => controller.abort("enough"), 50);
  const [answer, counts, rows] = await Promise.all(waiting);
  assert.equal(await ended, "enough");
  assert.deepEqual(answer, node.calculate("dryer.window", request));
  assert.ok(counts.hits === 0 && counts.misses > 0, JSON.stringify(counts));
  assert.deepEqual(rows, node.prepare("dryer.window", request, columns).run([[60]]));
});

await check("what nothing refers to is freed", async () => {
  const { page, freed } = await openCounted(packageDir);
  for (let turn = 0; turn < 100; turn += 1) page.calculate("mesh.geometry", mesh, { cache: new page.Cache() });
  await collected(() => freed() >= 90);
  assert.ok(freed() >= 90 && freed() <= 100, `${freed()} of 100`);
});

await check("worker: what nothing refers to is freed, once", async () => {
  const { freed, end } = watchFreed("counts");
  for (let turn = 0; turn < 50; turn += 1) await new worker.Cache().counts();
  await collected(() => freed.size >= 45);
  end();
  assert.ok(freed.size >= 45 && freed.size <= 50, `${freed.size} of 50`);
});

close();
