// The user's own numbers: kept from a measurement or typed, in every request that names their row, taken out, carried in a file.
import assert from "node:assert/strict";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { check } from "../node/checks.mjs";
import { browser, looked, over, small } from "./browser.mjs";

const here = import.meta.dirname;
const packageDir = path.resolve(here, "../../wasm/pkg");
const load = createRequire(path.join(packageDir, "package.json"));
const { calculate } = load(path.join(packageDir, "node.cjs"));
const document_ = load(path.join(packageDir, "catalogue.cjs")).catalogue();
const exampleOf = (id) => structuredClone(document_.calculations.find((entry) => entry.id === id).example);
const rowOf = (shelf, name) => document_.stock.find(({ kind }) => kind === shelf).rows.find((row) => row.name === name);

const WEIGHED = { mesh: "55-64", ink: "plastisol-white", printed_area: "460 cm2", prints: 12, mass_before: "1890.0 g", mass_after: "1904.1 g" };
const RELEASE = calculate("ink.weigh", WEIGHED).release_fraction;
const linkTo = (id, request) => `#/ask/${id}${request === undefined ? "" : `?${encodeURIComponent(JSON.stringify(request))}`}`;

/** What the table of measurements says, read as the page's own build reads it. */
async function measures() {
  const { transformWithOxc } = await import(pathToFileURL(createRequire(path.resolve(here, "../../examples/page/package.json")).resolve("vite")).href);
  const file = path.resolve(here, "../../examples/page/src/shop/measures.ts");
  const { code } = await transformWithOxc(readFileSync(file, "utf8"), file, { sourcemap: false });
  return import(`data:text/javascript,${encodeURIComponent(code)}`);
}

const resolved = (schema) => (schema?.$ref === undefined ? schema : { ...document_.$defs[schema.$ref.split("/").at(-1)], ...schema });
/** All that a schema may be. */
const alternatives = (schema) => {
  const whole = resolved(schema);
  return [whole, ...(whole?.anyOf ?? []).flatMap(alternatives)];
};
const memberOf = (schema, name) => alternatives(schema).map((one) => one?.properties?.[name]).find((part) => part !== undefined);
const schemaAt = (schema, at) => at.split("/").slice(1).reduce(memberOf, schema);

async function table() {
  const { MEASURES, TYPED } = await measures();
  assert.ok(MEASURES.length >= 5);
  for (const { id, at, shelf, takes } of MEASURES) {
    const entry = document_.calculations.find((one) => one.id === id);
    assert.ok(entry !== undefined, `there is no ${id}`);
    if (Object.keys(takes).length === 0) continue;
    const kind = shelf ?? schemaAt(entry.request, at)?.["x-stock"];
    const rows = document_.stock.find((one) => one.kind === kind)?.rows;
    assert.ok(rows?.length > 0, `${id}: there is no shelf ${kind}`);
    const owner = document_.calculations.flatMap(({ request }) => Object.values(request.properties)).find((part) => alternatives(part).some((one) => one["x-stock"] === kind));
    for (const [to, from] of Object.entries(takes)) {
      assert.ok(schemaAt(owner, to) !== undefined, `${id}: a ${kind} has no ${to}`);
      const [, where, ...names] = from.split("/");
      assert.ok(schemaAt(entry[where], `/${names.join("/")}`) !== undefined, `${id}: there is no ${from}`);
    }
  }
  for (const kind of TYPED) assert.ok(document_.stock.some((one) => one.kind === kind), `there is no shelf ${kind}`);
}

export async function shop(context, page, server, axed) {
  const home = async () => {
    await page.evaluate(() => { location.hash = "#/"; });
    await page.waitForSelector("#search");
  };
  const go = async (hash, wait = ".answer :is(.large, .members)") => {
    await home();
    await page.evaluate((to) => { location.hash = to; }, hash);
    await page.waitForSelector(wait);
  };
  const at = (pointer, on = page) => on.locator(`[data-at="${pointer}"]`).first();
  const json = async (which, on = page) => {
    await on.evaluate(() => { [...document.querySelectorAll(".fold")].at(-1).open = true; });
    await on.waitForSelector(`.raw.${which}`);
    return JSON.parse(await on.textContent(`.raw.${which}`));
  };
  /** Until the answer is that of this request, and it is the core's to the last bit. */
  const answers = async (id, request, on = page) => {
    await json("answer", on);
    const wanted = JSON.stringify(request);
    await on.waitForFunction((text) => JSON.stringify(JSON.parse(document.querySelector(".raw.request").textContent)) === text && document.querySelector(".raw.answer").textContent !== "null", wanted)
      .catch(async () => assert.deepEqual(await json("request", on), request));
    await on.waitForFunction((text) => document.querySelector(".raw.answer").textContent === text, JSON.stringify(calculate(id, request), null, 1))
      .catch(async () => assert.deepEqual(await json("answer", on), calculate(id, request)));
  };
  /** Keeps what a measurement gave. */
  const measured = async (id, request) => {
    await go(linkTo(id, request), ".keep button");
    await page.locator(".keep > .plain").click();
  };
  const kept = () => page.locator(".keep [role=status]").first().waitFor();
  const stored = () => page.evaluate(async () => (await new Promise((done) => {
    const open = indexedDB.open("keyval-store");
    open.onsuccess = () => { const get = open.result.transaction("keyval").objectStore("keyval").get("own"); get.onsuccess = () => { open.result.close(); done(get.result); }; };
  })));
  const toShop = () => go("#/shop", ".shop h1");
  const own = (label) => page.locator(".shop .kept section", { has: page.getByRole("heading", { name: label }) });

  await check("the table of measurements is of the catalogue", table);

  await check("a weigh-in is kept: it stands wherever its ink is named, to the last bit", async () => {
    await page.addInitScript(() => {
      const { persist } = navigator.storage;
      navigator.storage.persist = function () { window.persisting = (window.persisting ?? 0) + 1; return persist.call(this); };
    });
    await page.reload();
    await go(linkTo("ink.weigh"));
    assert.equal(await page.locator(".keep").count(), 0, "the example is nobody's measurement");
    await measured("ink.weigh", WEIGHED);
    await kept();
    assert.match(await page.textContent(".keep"), /Kept for Plastisol white: released share 44/);
    assert.match(await page.textContent(".keep .lasting"), /This browser (may clear them|keeps them)/);
    assert.equal(await page.evaluate(() => window.persisting), 1);
    // The measurement itself goes on from what is built in.
    assert.deepEqual(await json("request"), WEIGHED);
    await go(linkTo("ink.usage"));
    await answers("ink.usage", { ...exampleOf("ink.usage"), ink: { from: "plastisol-white", release_fraction: RELEASE } });
    assert.notDeepEqual((await json("answer")).mass_to_mix, calculate("ink.usage", exampleOf("ink.usage")).mass_to_mix);
    assert.match(await at("/ink").textContent(), /With your own released share/);
  });
  await check("its value is told as one's own, and the built-in one is taken for this once", async () => {
    await at("/ink").getByText("See and change its values").click();
    const field = at("/ink/release_fraction");
    assert.match(await field.textContent(), /Yours, Release from a weighing, \d+ \w+ \d{4}/);
    assert.equal(await field.locator("input").inputValue(), "44.0044");
    await field.getByRole("button").click();
    const builtIn = { ...exampleOf("ink.usage"), ink: { from: "plastisol-white", release_fraction: rowOf("ink", "plastisol-white").values.release_fraction } };
    await answers("ink.usage", builtIn);
    assert.match(await field.textContent(), /Built in, for this once/);
    // A link has it so.
    await go(linkTo("ink.usage", builtIn));
    await answers("ink.usage", builtIn);
    await at("/ink").getByText("See and change its values").click();
    await at("/ink/release_fraction").getByRole("button").click();
    await answers("ink.usage", { ...exampleOf("ink.usage"), ink: { from: "plastisol-white", release_fraction: RELEASE } });
    // What is typed goes before both.
    await at("/ink/release_fraction").locator("input").fill("30");
    await answers("ink.usage", { ...exampleOf("ink.usage"), ink: { from: "plastisol-white", release_fraction: 0.3 } });
    assert.doesNotMatch(await at("/ink").textContent(), /With your own/);
    await at("/ink/release_fraction").getByText("Back to mine").click();
    await answers("ink.usage", { ...exampleOf("ink.usage"), ink: { from: "plastisol-white", release_fraction: RELEASE } });
  });
  await check("a link carries the number that was used to a device that has none", async () => {
    await page.waitForTimeout(350);
    const other = await browser();
    try {
      const there = await other.context.newPage();
      await there.goto(page.url());
      await there.waitForSelector(".large");
      await answers("ink.usage", { ...exampleOf("ink.usage"), ink: { from: "plastisol-white", release_fraction: RELEASE } }, there);
    } finally {
      await other.close();
    }
  });
  await check("it is taken out again where it was kept", async () => {
    await go(linkTo("ink.weigh", WEIGHED), ".keep [role=status]");
    await page.getByText("Take it out again").click();
    await page.locator(".keep > .plain").waitFor();
    assert.match(await page.textContent(".keep"), /released share 44\s?% in place of 40\s?%/);
    await go(linkTo("ink.usage"));
    await answers("ink.usage", exampleOf("ink.usage"));
    assert.deepEqual((await stored()).rows, {});
    await measured("ink.weigh", WEIGHED);
    await kept();
  });

  await check("what no row takes is not kept, and what it was measured with otherwise is told", async () => {
    const before = await stored();
    const heavy = { ...WEIGHED, mass_after: "1990 g" };
    assert.ok(calculate("ink.weigh", heavy).release_fraction > 1, "more than the mesh holds");
    await measured("ink.weigh", heavy);
    await page.getByText("Not kept: Released share is out of range").waitFor();
    assert.deepEqual(await stored(), before);
    await go(linkTo("ink.weigh", { ...WEIGHED, ink: { from: "plastisol-white", density: "1.3 g/cm3" } }), ".keep button");
    assert.match(await page.textContent(".keep"), /Measured with another wet density, which is not kept with it/);
    // One of one's own stands on no row.
    const whole = Object.fromEntries(Object.entries(rowOf("ink", "plastisol-white").values));
    await go(linkTo("ink.weigh", { ...WEIGHED, ink: whole }), ".large");
    assert.equal(await page.locator(".keep").count(), 0);
  });
  const STEP = { time: "95 s", solid_step: 6 };
  const fit = { dryer: calculate("dryer.fit", exampleOf("dryer.fit")).dryer, flash: calculate("flash.fit", exampleOf("flash.fit")).flash };
  await check("a step test asks for its mesh, and is kept for the shop", async () => {
    await measured("exposure.step", STEP);
    const mesh = page.locator(".lacking input").first();
    await page.getByText("Keep it", { exact: true }).click();
    assert.ok(await mesh.evaluate((input) => input === document.activeElement || input.closest(".field").contains(document.activeElement)), "the field that is wanted");
    await mesh.fill("no mesh");
    await page.getByText("Keep it", { exact: true }).click();
    await page.getByText("Not kept:").waitFor();
    await mesh.fill("77-55");
    await page.getByText("Keep it", { exact: true }).click();
    await kept();
    assert.deepEqual((await stored()).rows.shop["starter-shop"].values, { exposure: { ...STEP, tested_on: "77-55" } });
  });
  await check("dryer and flash are kept as their readings fit them", async () => {
    await measured("dryer.fit", exampleOf("dryer.fit"));
    await kept();
    await measured("flash.fit", exampleOf("flash.fit"));
    await kept();
    const { rows } = await stored();
    assert.deepEqual(rows.dryer["air-dryer-2m"].values, { zones: fit.dryer.zones, fitted: true });
    assert.deepEqual(rows.flash["panel-flash"].values, { exchange_fraction: fit.flash.exchange_fraction, fitted: true });
    // The next fit starts from what is built in, and finds the same.
    await go(linkTo("dryer.fit"));
    await answers("dryer.fit", exampleOf("dryer.fit"));
  });
  await check("a list of one's own is begun with, changed for this once, and comes back", async () => {
    await go(linkTo("dryer.window"));
    await at("/dryer").getByText("See and change its values").click();
    await at("/dryer").locator("xpath=..").locator(".part.values details.more summary").first().click();
    const zones = page.locator('[data-at="/dryer/zones"]');
    await zones.getByText("Begin with it").click();
    await page.getByText("Keep its other values").click();
    await at("/dryer/zones/0/air").locator("input").fill("181");
    const request = await json("request");
    assert.deepEqual(Object.keys(request.dryer), ["from", "zones", "fitted"]);
    assert.equal(request.dryer.zones[0].air, "181 degC");
    assert.equal(request.dryer.zones.length, fit.dryer.zones.length);
    await zones.getByText("Back to what was in place").click();
    await answers("dryer.window", { ...exampleOf("dryer.window"), dryer: { from: "air-dryer-2m", zones: fit.dryer.zones, fitted: true } });
  });
  await check("in US units what is laid out stays in them, and a kept number is the same", async () => {
    await page.getByLabel("US", { exact: true }).check();
    await go(linkTo("flash.dwell"));
    await at("/flash").getByText("See and change its values").click();
    const unit = at("/flash/panel").locator("select");
    const share = at("/flash/exchange_fraction").getByRole("button");
    await share.click();
    assert.equal(await unit.inputValue(), "degF");
    await share.click();
    const ink = { from: "plastisol-white", release_fraction: RELEASE };
    await answers("flash.dwell", { ...exampleOf("flash.dwell"), ink, flash: { from: "panel-flash", exchange_fraction: fit.flash.exchange_fraction, fitted: true }, units: "us" });
    assert.equal(await unit.inputValue(), "degF");
    await page.getByLabel("Metric", { exact: true }).check();
  });
  await check("readings that no row takes up are kept with their date, and show at the questions of their kind", async () => {
    await measured("tension.assess", exampleOf("tension.assess"));
    await kept();
    assert.match(await page.textContent(".keep"), /No built-in number is replaced/);
    await go(linkTo("mesh.geometry"));
    await page.getByText("Verdict: matched").waitFor();
    assert.match(await page.textContent(".reading"), /Screens as a set, \d+ \w+ \d{4}/);
    await go(linkTo("ink.deposit"));
    assert.equal(await page.locator(".reading").count(), 0);
  });

  /** An order that leaves the shop to its default. */
  const plain = () => {
    const { shop: _, ...request } = exampleOf("job.plan");
    return request;
  };
  const withOwn = () => {
    const request = plain();
    for (const { screens } of request.placements) for (const screen of screens) if (screen.ink === "plastisol-white") screen.ink = { from: "plastisol-white", release_fraction: RELEASE };
    request.shop = {
      from: "starter-shop", exposure: { ...STEP, tested_on: "77-55" },
      flash: { from: "panel-flash", exchange_fraction: fit.flash.exchange_fraction, fitted: true }, dryer: { from: "air-dryer-2m", zones: fit.dryer.zones, fitted: true },
    };
    return request;
  };
  await check("rows that a row names: the shop that stands in by default has the dryer, the flash and the test", async () => {
    await go(linkTo("job.plan", plain()));
    await answers("job.plan", withOwn());
    const [mine, builtIn] = [await json("answer"), calculate("job.plan", plain())];
    assert.notDeepEqual(mine.dryer.recommended, builtIn.dryer.recommended);
    assert.notDeepEqual(mine.flash, builtIn.flash);
    assert.ok(mine.screens.every(({ stencil }) => stencil.exposure_time !== undefined) && builtIn.screens.every(({ stencil }) => stencil.exposure_time === undefined), "exposure times");
  });
  await check("a shop that is chosen, one of its machines as built in, another machine in its place", async () => {
    await go(linkTo("job.plan", { ...plain(), shop: "starter-shop" }));
    await answers("job.plan", withOwn());
    await page.locator(".form > .thread > .more > summary").click();
    assert.match(await at("/shop").textContent(), /With your own exposure test, flash and dryer/);
    await at("/shop").getByText("See and change its values").click();
    await at("/shop/dryer").getByText("Use the built-in one here").click();
    await answers("job.plan", { ...withOwn(), shop: { ...withOwn().shop, dryer: rowOf("shop", "starter-shop").values.dryer } });
    await at("/shop/dryer").locator("select").first().selectOption("long-air-dryer-4m");
    await page.waitForFunction(() => JSON.parse(document.querySelector(".raw.request").textContent).shop.dryer === "long-air-dryer-4m");
    assert.equal((await json("answer")).error, undefined);
  });

  await check("the Shop tells each number beside the built-in one, with its source, its day and the way back to the measurement", async () => {
    await toShop();
    const text = await own("Plastisol white").textContent();
    assert.match(text, /Released share.*Yours44.*Built in40/s);
    assert.ok(text.includes(rowOf("ink", "plastisol-white").basis.find(({ field }) => field === "release_fraction").source));
    await own("Plastisol white").getByRole("link", { name: "Release from a weighing" }).click();
    await page.waitForSelector(".large");
    await answers("ink.weigh", WEIGHED);
  });
  await check("a number is typed into the row's own form, and checked before it is kept", async () => {
    await toShop();
    await page.getByRole("button", { name: "Rates", exact: true }).click();
    const labour = at("/rates/labour").locator("input").first();
    await labour.fill("34 EUR/kg");
    await page.getByRole("button", { name: "Keep this number" }).click();
    await page.getByText("Not kept:").waitFor();
    assert.equal((await stored()).rows.rates, undefined);
    await labour.fill("34 EUR/h");
    await page.getByRole("button", { name: "Keep this number" }).click();
    await own("Starter rates").waitFor();
    assert.match(await own("Starter rates").textContent(), /Labour.*34.*Typed/s);
    const request = exampleOf("job.quote");
    delete request.rates.labour;
    request.rates = "starter-rates";
    await go(linkTo("job.quote", request), ".answer .large");
    assert.deepEqual((await json("request")).rates, { from: "starter-rates", labour: "34 EUR/h" });
  });
  await check("what they change: the quick ones at once, heat on demand, what was asked before as it was asked", async () => {
    const request = { mesh: "55-64", ink: "plastisol-white", printed_area: "460 cm2", prints: 1000 };
    await go(linkTo("ink.usage", request), ".large");
    await toShop();
    const usage = page.locator(".changes section", { has: page.getByRole("heading", { name: "How much ink for the run?" }) });
    await usage.locator("table").waitFor();
    assert.match(await usage.textContent(), /as you asked it last/);
    const figure = (answer) => `${Number(answer.mass_per_print.value.toPrecision(3))}`;
    const cells = await usage.locator("tbody tr").nth(1).locator("td").allTextContents();
    assert.ok(cells[0].startsWith(figure(calculate("ink.usage", request))), cells.join());
    assert.ok(cells[1].startsWith(figure(calculate("ink.usage", { ...request, ink: { from: "plastisol-white", release_fraction: RELEASE } }))), cells.join());
    assert.match(cells[2], /^\+10 %$/);
    const window_ = page.locator(".changes section", { has: page.getByRole("heading", { name: "Between which belt speeds is it cured and not scorched?" }) });
    assert.equal(await window_.locator("table").count(), 0, "heat waits for the reader");
    await window_.getByRole("button").click();
    await window_.locator("table").waitFor();
    assert.equal(await page.locator(".changes section", { hasText: "What makes the model match" }).count(), 0, "measurements are not what changes");
    // Stopped at once: what is left to do stays to be done.
    await page.evaluate(async () => {
      [...document.querySelectorAll(".changes button")].find(({ textContent }) => textContent === "Work all of them out").click();
      for (let turn = 0; turn < 200 && document.querySelector(".changes .busy button") === null; turn += 1) await new Promise((done) => setTimeout(done, 1));
      document.querySelector(".changes .busy button").click();
    });
    await page.waitForSelector(".changes .busy", { state: "detached" });
    assert.ok(await page.locator(".changes section > .link").count() >= 2, "it was stopped");
    await page.getByText("Work all of them out").click();
    await page.waitForFunction(() => document.querySelectorAll(".changes section > .link").length === 0);
    assert.match(await page.textContent(".changes"), /\d+ of its numbers and words differ/);
  });

  const folder = mkdtempSync(path.join(tmpdir(), "floodbar-shop-"));
  const file = path.join(folder, "shop.json");
  const give = async (text) => {
    writeFileSync(path.join(folder, "given.json"), text);
    await page.setInputFiles("#shop-file", path.join(folder, "given.json"));
    await page.waitForFunction(() => !["", "Reading it"].includes(document.querySelector(".said").textContent));
    return page.textContent(".said");
  };
  await check("to a file, out of here, and back from the file: the same", async () => {
    await toShop();
    const [download] = await Promise.all([page.waitForEvent("download"), page.getByText("Export them to a file").click()]);
    await download.saveAs(file);
    const before = await stored();
    assert.deepEqual(JSON.parse(readFileSync(file, "utf8")), { floodbar_shop: 1, ...before });
    for (let turn = 0; turn < 20 && await page.getByRole("button", { name: /^Take (out|them out)/ }).count() > 0; turn += 1) await page.getByRole("button", { name: /^Take (out|them out)/ }).first().click();
    await page.getByText("All numbers are built in so far").waitFor();
    assert.deepEqual(await stored(), { rows: {}, readings: {} });
    await go(linkTo("ink.usage"));
    await answers("ink.usage", exampleOf("ink.usage"));
    await toShop();
    assert.match(await give(readFileSync(file, "utf8")), /Taken/);
    assert.deepEqual(await stored(), before);
  });
  await check("what is no such file is refused in a sentence, and what is there stays", async () => {
    const before = await stored();
    const good = JSON.parse(readFileSync(file, "utf8"));
    const row = (values) => JSON.stringify({ floodbar_shop: 1, rows: { ink: { plastisol: { values: { density: "1.2 g/cm3" } }, "plastisol-white": { values } } } });
    const bad = {
      "not JSON": "a,b\n1,2", "nothing": "", "a list": "[]", "an order": JSON.stringify(exampleOf("job.plan")), "another version": JSON.stringify({ ...good, floodbar_shop: 2 }),
      "an unknown row": JSON.stringify({ floodbar_shop: 1, rows: { ink: { "red-one": { values: { density: "1 g/cm3" } } } } }), "an unknown shelf": JSON.stringify({ floodbar_shop: 1, rows: { hats: { a: { values: {} } } } }),
      "an unknown member": row({ colour: "red" }), "a row in a row": row({ from: "plastisol" }), "out of range": row({ release_fraction: 4 }), "another dimension": row({ density: "3 s" }),
      "rows that are none": JSON.stringify({ floodbar_shop: 1, rows: 3 }), "a row that is none": JSON.stringify({ floodbar_shop: 1, rows: { ink: 3 } }), "values that are none": JSON.stringify({ floodbar_shop: 1, rows: { ink: { plastisol: { values: [1] } } } }),
      "other readings": JSON.stringify({ floodbar_shop: 1, readings: { "ink.usage": { request: {}, at: 1 } } }), "readings that are wrong": JSON.stringify({ floodbar_shop: 1, readings: { "tension.assess": { request: { screens: 3 }, at: 1 } } }),
      "a prototype": '{"floodbar_shop":1,"rows":{"__proto__":{"x":{"values":{"a":1}}}}}', "too long": `{"floodbar_shop":1,"x":"${"x".repeat(4_000_000)}"}`,
    };
    for (const [name, text] of Object.entries(bad)) {
      const said = await give(text);
      assert.match(said, /^[A-Z].*Nothing was taken from it\.$/, `${name}: ${said}`);
      assert.deepEqual(await stored(), before, name);
      if (name === "another dimension") assert.match(said, /^Plastisol white: Wet density: s is the unit of a time/);
    }
    assert.match(await give(row({ release_fraction: 0.5 })), /Taken/);
    assert.equal((await stored()).rows.ink["plastisol-white"].values.release_fraction, 0.5);
    assert.match(await give(JSON.stringify(good)), /Taken/);
  });
  await check("two tabs: what one keeps or takes out, the other has", async () => {
    const other = await context.newPage();
    await other.goto(`${server.address}#/ask/ink.usage`);
    await other.waitForSelector(".large");
    await answers("ink.usage", { ...exampleOf("ink.usage"), ink: { from: "plastisol-white", release_fraction: RELEASE } }, other);
    await other.getByText("See and change its values").click();
    await toShop();
    await own("Plastisol white").getByRole("button", { name: /^Take out ?: Released share/ }).click();
    await answers("ink.usage", exampleOf("ink.usage"), other);
    assert.equal(await other.locator('[data-at="/ink/release_fraction"] input').inputValue(), "40");
    await other.close();
    await give(readFileSync(file, "utf8"));
  });

  await check("where nothing can be kept it says so, and answers by what was kept until it is closed", async () => {
    const other = await context.newPage();
    await other.addInitScript(() => {
      IDBFactory.prototype.open = () => { throw new DOMException("full", "QuotaExceededError"); };
    });
    await other.goto(`${server.address}${linkTo("ink.weigh", WEIGHED)}`);
    await other.locator(".keep > .plain").click();
    await other.getByText("Nothing can be kept on this device").waitFor();
    await other.evaluate((hash) => { location.hash = hash; }, linkTo("ink.usage"));
    await other.getByText("How much ink for the run?").first().waitFor();
    await other.waitForSelector(".large");
    await answers("ink.usage", { ...exampleOf("ink.usage"), ink: { from: "plastisol-white", release_fraction: RELEASE } }, other);
    await other.close();
  });

  await check("what is kept may come late: it is one's own all the same", async () => {
    const ink = { from: "plastisol-white", release_fraction: RELEASE };
    const other = await context.newPage();
    await other.addInitScript(() => {
      const { get } = IDBObjectStore.prototype;
      IDBObjectStore.prototype.get = function (key) {
        const [late, real] = [{}, get.call(this, key)];
        real.onsuccess = () => setTimeout(() => {
          late.result = real.result;
          late.onsuccess();
        }, 3000);
        return late;
      };
    });
    await other.goto(`${server.address}${linkTo("ink.usage", { ...exampleOf("ink.usage"), ink })}`);
    await other.waitForSelector(".large");
    assert.doesNotMatch(await at("/ink", other).textContent(), /With your own/, "it is not there yet");
    await other.getByText("With your own released share").waitFor();
    await answers("ink.usage", { ...exampleOf("ink.usage"), ink }, other);
    assert.doesNotMatch(await at("/ink", other).textContent(), /1 changed/);
    await other.close();
  });

  await check("by keyboard alone: to the measurement, kept, taken out in the Shop", async () => {
    const focused = (test, argument) => page.evaluate(test, argument);
    const tabTo = async (words) => {
      for (let turn = 0; turn < 80; turn += 1) {
        await page.keyboard.press("Tab");
        if (await focused((text) => document.activeElement.textContent.startsWith(text), words)) return;
      }
      assert.fail(`no way to “${words}”`);
    };
    await go(linkTo("ink.weigh", { ...WEIGHED, mass_after: "1905 g" }), ".keep button");
    await page.focus("h1");
    await tabTo("Keep for Plastisol white");
    await page.keyboard.press("Enter");
    await kept();
    await page.waitForFunction(() => document.activeElement.textContent === "Take it out again");
    await tabTo("Your numbers, and what they change");
    await page.keyboard.press("Enter");
    await page.waitForSelector(".shop h1");
    assert.equal(await focused(() => document.activeElement.tagName), "H1");
    await tabTo("Take out");
    const first = await focused(() => document.activeElement.textContent);
    await page.keyboard.press("Enter");
    await page.waitForFunction((text) => ![...document.querySelectorAll(".own button")].some(({ textContent }) => textContent === text), first);
    assert.ok(await focused(() => document.activeElement !== document.body), "the focus is not lost");
  });

  await check("axe finds nothing, no sideways scroll, targets of 44 px: the Shop, its form, a measurement", async () => {
    const views = {
      shop: async () => {
        await toShop();
        await page.getByRole("button", { name: "Type another number of Air dryer 2m" }).click();
        await page.waitForSelector(".typed form");
        await page.waitForSelector(".changes table");
      },
      measurement: async () => {
        await measured("exposure.step", { time: "90 s", solid_step: 5 });
        await page.waitForSelector(".lacking input");
      },
      yours: async () => {
        await go(linkTo("dryer.window"));
        await at("/dryer").getByText("See and change its values").click();
      },
    };
    for (const [name, view] of Object.entries(views)) {
      await view();
      await looked(page, async (look, width) => {
        assert.deepEqual(await axed(page), [], `${name}, ${look}`);
        assert.ok(await over(page) <= 0, `${name}: wider than ${width} px`);
        assert.deepEqual(await small(page), [], `${name}, ${width} px`);
      });
    }
    await page.emulateMedia({ colorScheme: "light", reducedMotion: "no-preference" });
  });
  rmSync(folder, { recursive: true });
}
