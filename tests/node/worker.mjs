// Calls that a worker thread answers: node --no-warnings worker.mjs
import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { Worker } from "node:worker_threads";
import * as here from "floodbar";
import { catalogue } from "floodbar/catalogue";
import * as worker from "floodbar/worker";
import { check, close, collected, watchFreed } from "./checks.mjs";

const mesh = { mesh: "77-55" };
const exampleOf = (id) => catalogue().calculations.find((entry) => entry.id === id).example;
/** Work for seconds, if nobody ends it. */
const long = (options) => worker.sweep("job.plan", exampleOf("job.plan"), { vary: "/pieces", from: 100, to: 10_000, points: 2000 }, options);
const bits = (numbers) => [...new BigUint64Array(Float64Array.from(numbers).buffer)];

/** What a call is refused with, by itself and in the worker. */
async function alike(call) {
  const [own, other] = [await settled(() => call(here)), await settled(() => call(worker))];
  assert.ok(own instanceof here.FloodbarError, String(own));
  assert.ok(other instanceof here.FloodbarError, String(other));
  const members = ({ name, code, field, message, got, allowed }) => ({ name, code, field, message, got, allowed });
  assert.deepEqual(members(other), members(own));
}
const settled = async (call) => {
  try {
    return await call();
  } catch (error) {
    return error;
  }
};

await check("each function answers as it does without a worker", async () => {
  for (const { id, example } of catalogue().calculations) {
    assert.equal(JSON.stringify(await worker.calculate(id, example)), JSON.stringify(here.calculate(id, example)), id);
  }
  const request = JSON.stringify(mesh);
  assert.equal(await worker.calculateText("mesh.geometry", request), here.calculateText("mesh.geometry", request));
  const many = [mesh, {}, { mesh: NaN }, undefined, new Date(0), { mesh: "43-80" }];
  assert.deepEqual(await worker.calculateMany("mesh.geometry", many), here.calculateMany("mesh.geometry", many));
  const usage = { mesh: "77-55", ink: "plastisol", prints: 100 };
  const spec = { vary: "/printed_area", from: "100 cm2", to: "900 cm2", points: 5, want: ["/wet_film", "/mass_to_mix"] };
  assert.deepEqual(await worker.sweep("ink.usage", usage, spec), here.sweep("ink.usage", usage, spec));
  const wanted = { vary: "/printed_area", from: "1 cm2", to: "1 m2", want: "/mass_to_mix", equals: "1 kg" };
  assert.deepEqual(await worker.solve("ink.usage", usage, wanted), here.solve("ink.usage", usage, wanted));
  const pixels = Uint8Array.of(255, 255, 255, 255, 0, 255, 255, 255, 255);
  const picture = { pixels_wide: 3, pixels_high: 3, resolution: "100 /cm", ink: "dark" };
  assert.deepEqual(await worker.measureArtwork(pixels, picture), here.measureArtwork(pixels, picture));
  assert.equal(pixels.length, 9);
});

await check("errors keep their class and members", async () => {
  for (const request of [{ mehs: "77-55" }, { mesh: 77 }, {}, undefined, { mesh: NaN }, new Map()]) await alike(({ calculate }) => calculate("mesh.geometry", request));
  await alike(({ calculate }) => calculate("mesh.geometri", mesh));
  await alike(({ calculate }) => calculate(Symbol("id"), mesh));
  await alike(({ calculateText }) => calculateText("mesh.geometry", "{"));
  await alike(({ calculateMany }) => calculateMany("mesh.geometri", []));
  await alike(({ calculateMany }) => calculateMany("mesh.geometry", {}));
  await alike(({ sweep }) => sweep("mesh.geometry", {}, { vary: "/nothing" }));
  await alike(({ solve }) => solve("mesh.geometry", {}, {}));
  await alike(({ prepare }) => prepare("mesh.geometry", {}, {}));
  await alike(({ measureArtwork }) => measureArtwork([0], {}));
});

const columns = { inputs: ["/mesh/thread"], outputs: ["/opening"] };

await check("rows are the same bit for bit, their columns copied or given away", async () => {
  const [own, other] = [here.prepare("mesh.geometry", mesh, columns), await worker.prepare("mesh.geometry", mesh, columns)];
  assert.deepEqual([other.inputs, other.outputs], [own.inputs, own.outputs]);
  assert.ok(Object.isFrozen(other) && Object.isFrozen(other.inputs[0]));
  const threads = Float64Array.from({ length: 3000 }, (_, index) => 30 + index / 40);
  const want = own.run([threads]);
  const got = await other.run([threads]);
  assert.deepEqual(got.columns.map(bits), want.columns.map(bits));
  assert.deepEqual([got.status, got.cautions, got.limits], [want.status, want.cautions, want.limits]);
  assert.equal(threads.length, 3000);
  assert.deepEqual(await other.run([[40, 50]]), own.run([[40, 50]]));
  await other.run([threads], { transfer: true });
  assert.equal(threads.length, 0);
  assert.deepEqual(await other.explain([50]), own.explain([50]));
  await assert.rejects(other.run([["50"]]), { code: "wrong_type", field: "/inputs/0/0" });
  await assert.rejects(other.run([]), { code: "impossible", field: "/inputs" });
  other.free();
  other.free();
  await assert.rejects(other.run([[50]]), { code: "null_pointer" });
  await assert.rejects(other.explain([50]), { code: "null_pointer" });
});

await check("a signal ends the call with its reason, and the worker; the next call has a new one", async () => {
  const controller = new AbortController();
  const reason = new Error("enough");
  const began = performance.now();
  setTimeout(() => controller.abort(reason), 100);
  assert.equal(await settled(() => long({ signal: controller.signal })), reason);
  assert.ok(performance.now() - began < 2000, "it was not waited for");
  assert.deepEqual(await worker.calculate("mesh.geometry", mesh), here.calculate("mesh.geometry", mesh));
  assert.equal((await settled(() => long({ signal: AbortSignal.timeout(20) }))).name, "TimeoutError");
  assert.equal(await settled(() => worker.calculate("mesh.geometry", mesh, { signal: AbortSignal.abort(reason) })), reason);
});

await check("calls that wait, and what was prepared, go on in the new worker", async () => {
  const prepared = await worker.prepare("mesh.geometry", mesh, columns);
  const controller = new AbortController();
  const ended = settled(() => long({ signal: controller.signal }));
  const threads = Float64Array.of(40, 50);
  const waiting = [worker.calculate("mesh.geometry", mesh), prepared.run([threads]), worker.calculate("mesh.geometry", {})];
  // What is changed after the call does not change the call.
  threads.fill(0);
  // One that waits is ended alone.
  const other = new AbortController();
  const left = settled(() => worker.calculate("mesh.geometry", mesh, { signal: other.signal }));
  other.abort("not needed");
  assert.equal(await left, "not needed");
  controller.abort("enough");
  const [answer, rows, refused] = await Promise.allSettled(waiting);
  assert.equal(await ended, "enough");
  assert.deepEqual(answer.value, here.calculate("mesh.geometry", mesh));
  assert.deepEqual(rows.value, here.prepare("mesh.geometry", mesh, columns).run([[40, 50]]));
  assert.equal(refused.reason.code, "missing_field");
});

await check("what was prepared in a worker that was ended is freed without another", async () => {
  const prepared = await worker.prepare("mesh.geometry", mesh, columns);
  const controller = new AbortController();
  setTimeout(() => controller.abort(), 50);
  await settled(() => long({ signal: controller.signal }));
  prepared.free();
  assert.deepEqual(await worker.calculate("mesh.geometry", mesh), here.calculate("mesh.geometry", mesh));
});

await check("a signal after the answer has no effect, and nothing is left on it", async () => {
  const controller = new AbortController();
  let listeners = 0;
  for (const [name, step] of [["addEventListener", 1], ["removeEventListener", -1]]) {
    const own = controller.signal[name].bind(controller.signal);
    controller.signal[name] = (...args) => {
      listeners += step;
      return own(...args);
    };
  }
  await worker.calculate("mesh.geometry", mesh, { signal: controller.signal });
  assert.equal(listeners, 0);
  controller.abort();
  await worker.calculate("mesh.geometry", mesh);
});

await check("what nothing refers to is freed in the worker, and what is freed once", async () => {
  const { freed, end } = watchFreed("prepare");
  const make = () => worker.prepare("mesh.geometry", mesh, columns);
  const kept = await make();
  for (let turn = 0; turn < 50; turn += 1) await make();
  for (let turn = 0; turn < 10; turn += 1) (await make()).free();
  await collected(() => freed.size >= 55);
  end();
  assert.ok(freed.size >= 55 && freed.size <= 60, `${freed.size} of 60`);
  assert.equal((await kept.run([[50]])).status[0], "success");
});

await check("one that was kept ready takes the place of a worker that is ended", async () => {
  const started = [];
  process.on("worker", (thread) => started.push(thread));
  const used = [];
  const { postMessage } = Worker.prototype;
  Worker.prototype.postMessage = function post(message, transfer) {
    used.push(this);
    return postMessage.call(this, message, transfer);
  };
  const end = async () => {
    const controller = new AbortController();
    setTimeout(() => controller.abort(), 50);
    await settled(() => long({ signal: controller.signal }));
  };
  await end();
  worker.warm();
  await new Promise(setImmediate);
  assert.equal(started.length, 1, "a worker before the first call");
  for (let turn = 0; turn < 3; turn += 1) {
    assert.deepEqual(await worker.calculate("mesh.geometry", mesh), here.calculate("mesh.geometry", mesh));
    const ready = started.length;
    assert.equal(ready, turn + 2);
    await end();
    assert.equal(started.length, ready);
    await worker.calculate("mesh.geometry", mesh);
    assert.equal(used.at(-1), started[ready - 1], "the one that was ready answers");
  }
  Worker.prototype.postMessage = postMessage;
});

await check("a process ends though its worker stays", () => {
  const program = 'import { calculate, warm } from "floodbar/worker"; warm(); console.log((await calculate("mesh.geometry", { mesh: "77-55" })).opening.unit);';
  const ran = spawnSync(process.execPath, ["--input-type=module", "-e", program], { encoding: "utf8", cwd: import.meta.dirname, timeout: 20_000 });
  assert.deepEqual([ran.stdout, ran.stderr, ran.status], ["um\n", "", 0]);
});

close();
