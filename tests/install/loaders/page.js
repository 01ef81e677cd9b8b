// What each page does with the package, however it was loaded: both binaries, an error, the worker, its cache and its end. Beside that page.
export async function run(floodbar, worker) {
  const told = {};
  try {
    const mesh = { mesh: "77-55" };
    const dryer = '{"dryer": "air-dryer-2m", "ink": "plastisol", "cloth": "cotton-jersey-180"}';
    const spec = { vary: "/printed_area", from: "1 cm2", to: "900 cm2", points: 10_000 };
    await floodbar.init();
    told.lean = floodbar.calculateText("mesh.geometry", JSON.stringify(mesh));
    try {
      floodbar.calculate("mesh.geometry", { mehs: "77-55" });
    } catch (error) {
      told.refused = [error instanceof floodbar.FloodbarError, error.code, error.field];
    }
    await floodbar.initWhole();
    const plan = await (await fetch("plan.json")).text();
    told.whole = floodbar.calculateText("job.plan", plan);

    told.early = await worker.calculate("mesh.geometry", mesh).catch((error) => error.message);
    await worker.initWhole();
    told.worker = await worker.calculateText("job.plan", plan);
    const cache = new worker.Cache();
    const cached = () => worker.calculateText("dryer.window", dryer, { cache });
    told.cached = [await cached(), await cached(), await cache.counts()];
    cache.free();
    told.freed = await cache.counts().catch(({ code }) => code);
    const controller = new AbortController();
    const ended = worker.sweep("ink.usage", { mesh: "77-55", ink: "plastisol", prints: 100 }, spec, { signal: controller.signal });
    setTimeout(() => controller.abort("enough"), 20);
    told.ended = await ended.then(() => "answered", (reason) => reason);
    const prepared = await worker.prepare("mesh.geometry", mesh, { inputs: ["/mesh/thread"], outputs: ["/opening"] });
    const threads = Float64Array.of(50, 55);
    told.rows = Array.from((await prepared.run([threads], { transfer: true })).columns[0]);
    told.given = threads.length;
    told.again = await worker.calculate("mesh.geometry", { mehs: "77-55" })
      .catch((error) => [error instanceof floodbar.FloodbarError && error instanceof worker.FloodbarError, error.code, error.field]);
  } catch (error) {
    told.error = String(error.message);
  }
  document.querySelector("output").textContent = JSON.stringify(told);
}
