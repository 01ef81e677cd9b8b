// How quick the page is, by its own marks: node speed.mjs DIST
//
// By hand, not part of tests/run. A slider is moved step by step by keys, and dragged, and the median of the answers told, with the
// longest task of the main thread and the longest time from a key to the next picture. Then cold loads at 10 Mbit/s, files sent by brotli, with the CPU of the
// page slowed 4 times, and as it is: the throttle slows neither the threads that compile nor the worker, so that what they take is told apart, to be scaled.
import { brotliCompressSync } from "node:zlib";
import { readFileSync, readdirSync } from "node:fs";
import path from "node:path";
import { browser, serve } from "./browser.mjs";

const [dist] = process.argv.slice(2);
if (dist === undefined) {
  console.error("usage: node speed.mjs DIST");
  process.exit(2);
}
const median = (values) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];
// Packed beforehand: to pack takes longer than to load.
const names = readdirSync(dist, { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile()).map(({ parentPath, name }) => path.join(parentPath, name));
const packed = new Map(names.map((name) => [path.relative(dist, name).split(path.sep).join("/"), brotliCompressSync(readFileSync(name))]));
const server = await serve(dist, {
  headers: { "Content-Encoding": "br" },
  change: (name) => packed.get(name),
});

const { context, close } = await browser();
const page = await context.newPage();
await page.addInitScript(() => {
  window.longest = { task: 0, event: 0 };
  const watch = (type, name, options) => new PerformanceObserver((list) => {
    for (const { duration } of list.getEntries()) window.longest[name] = Math.max(window.longest[name], duration);
  }).observe({ type, ...options });
  watch("longtask", "task", {});
  watch("event", "event", { durationThreshold: 16 });
});
// Of an order the width of its print: its pieces are refused where its sizes stay as they are.
for (const id of ["ink.usage", "dryer.window", "job.plan"]) {
  await page.goto(`${server.address}#/ask/${id}`);
  await page.reload();
  await page.waitForSelector(".large, .members");
  await page.locator(".what-if select").first().selectOption({ index: id === "job.plan" ? 4 : 1 });
  const handle = page.locator(".handle");
  await handle.waitFor();
  await page.waitForTimeout(3000);
  let box;
  const moves = {
    keys: (step) => page.keyboard.press(step % 2 === 0 ? "PageUp" : "PageDown"),
    drag: (step) => page.mouse.move(box.x + box.width * (0.4 + 0.005 * (step % 20)), box.y + box.height / 2),
  };
  for (const [by, move] of Object.entries(moves)) {
    await handle.focus();
    if (by === "drag") {
      box = await handle.boundingBox();
      await move(0);
      await page.mouse.down();
    }
    await page.waitForTimeout(500);
    await page.evaluate(() => {
      performance.clearMeasures("floodbar-answer");
      window.longest.task = 0;
      window.longest.event = 0;
    });
    for (let step = 0; step < 40; step += 1) {
      await move(step);
      await page.waitForTimeout(id === "job.plan" ? 250 : 120);
    }
    const told = await page.evaluate(() => ({ times: performance.getEntriesByName("floodbar-answer").map(({ duration }) => duration), ...window.longest }));
    console.log(`${id}, ${by}: ${told.times.length} answers, median ${median(told.times).toFixed(1)} ms; longest task ${told.task.toFixed(0)} ms, from the event to the picture at most ${told.event.toFixed(0)} ms`);
  }
  await page.mouse.up();
}
await close();

/** The marks of a cold load, and how long after its last byte the WebAssembly was compiled. */
async function cold(rate) {
  const fresh = await browser();
  const first = await fresh.context.newPage();
  const session = await fresh.context.newCDPSession(first);
  await session.send("Network.enable");
  await session.send("Network.emulateNetworkConditions", { offline: false, latency: 20, downloadThroughput: 1.25e6, uploadThroughput: 1.25e6 });
  await session.send("Emulation.setCPUThrottlingRate", { rate });
  await first.goto(`${server.address}#/ask/ink.usage`);
  await first.waitForFunction(() => performance.getEntriesByName("floodbar-first-answer").length > 0, undefined, { timeout: 30_000 });
  const marks = await first.evaluate(() => {
    const at = (name) => performance.getEntriesByName(`floodbar-${name}`)[0].startTime;
    const [binary] = performance.getEntriesByType("resource").filter(({ name }) => /floodbar_bg-[^/]*\.wasm$/.test(name));
    const [drawn, ready, answer] = ["drawn", "ready", "first-answer"].map(at);
    return { drawn, "last byte of the binary": binary.responseEnd, ready, answer, "ready after the last byte": ready - binary.responseEnd, "answer after both": answer - Math.max(drawn, ready) };
  });
  await fresh.close();
  return marks;
}

for (const rate of [4, 1]) {
  const loads = [];
  for (let turn = 0; turn < 5; turn += 1) loads.push(await cold(rate));
  for (const name of Object.keys(loads[0])) console.log(`cold load, CPU slowed ${rate} times, ${name}: median ${median(loads.map((load) => load[name])).toFixed(0)} ms of ${loads.map((load) => load[name].toFixed(0)).join(", ")}`);
}
server.close();
