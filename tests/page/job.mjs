// A whole order in the page: from nothing to its printed sheets, taken back, saved, read, kept, in two tabs, by keyboard alone.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { check } from "../node/checks.mjs";
import { looked, over, small } from "./browser.mjs";

const STOPS = ["Art", "Shirt and sizes", "Screens", "Press", "Heat", "Register", "Wash", "Price"];
const ORDERS = path.resolve(import.meta.dirname, "../../examples/orders");
const read = (name) => JSON.parse(readFileSync(path.join(ORDERS, name), "utf8"));

/** What is printed at the press, and what the customer gets: the text of each page. */
function pagesOf(pdf, folder) {
  const file = path.join(folder, "printed.pdf");
  writeFileSync(file, pdf);
  // A page ends with a form feed.
  return execFileSync("pdftotext", ["-layout", file, "-"], { encoding: "utf8" }).split("\f").slice(0, -1);
}

export async function job(context, page, address, { calculations, $defs, axed }) {
  const folder = mkdtempSync(path.join(tmpdir(), "floodbar-job-"));
  const example = calculations.find(({ id }) => id === "job.quote").example;
  const go = async (to = "#/job", wait = ".stop-name") => {
    await page.evaluate(() => { location.hash = "#/"; });
    await page.waitForSelector("#search");
    await page.evaluate((hash) => { location.hash = hash; }, to);
    await page.waitForSelector(wait);
  };
  const head = (stop, on = page) => on.locator(`[data-stop="${stop}"] .stop-name`);
  const openStop = async (stop, on = page) => {
    if (await head(stop, on).getAttribute("aria-expanded") === "false") await head(stop, on).click();
  };
  const at = (pointer, on = page) => on.locator(`[data-at="${pointer}"]`).first();
  const input = (pointer, on = page) => at(pointer, on).locator("input, select").first();
  const put = (pointer, value) => input(pointer).fill(value);
  /** What the order is now, as it is saved. */
  const stands = async (on = page) => {
    const [download] = await Promise.all([on.waitForEvent("download"), on.getByText("Save to a file").click()]);
    return { order: JSON.parse(readFileSync(await download.path(), "utf8")), name: download.suggestedFilename() };
  };
  const give = (name, text) => page.setInputFiles("input[type=file]", { name, mimeType: "application/json", buffer: Buffer.from(text) });
  const told = (pattern) => page.waitForFunction(([source]) => new RegExp(source).test(document.querySelector(".told")?.textContent ?? ""), [pattern.source]);
  const fresh = async () => {
    await go();
    await page.getByText("New order").click();
  };
  const withExample = async () => {
    await fresh();
    await page.getByText("Show the example").click();
  };
  const filled = (stop, on = page) => on.waitForFunction((name) => document.querySelector(`[data-stop="${name}"]`).hasAttribute("data-given"), stop);
  const printed = async (format) => pagesOf(await page.pdf({ format }), folder);

  await check("a line on the home page leads into the Job, whose example is answered at each stop", async () => {
    await page.goto(`${address}#/`);
    await page.getByText("From the art to the box").click();
    await page.waitForSelector(".stop-name");
    assert.equal(await page.locator(".head [aria-current=page]").textContent(), "Job");
    assert.equal(await page.locator(".example b").count(), 1);
    assert.deepEqual(await page.locator(".stop-name > span:first-child").allTextContents(), STOPS);
    for (const stop of STOPS) {
      await openStop(stop);
      await page.waitForSelector(`[data-stop="${stop}"] .comes .members`);
      await filled(stop);
      assert.equal(await page.locator(".stop-name[aria-expanded=true]").count(), 1);
    }
    assert.deepEqual((await stands()).order, example);
  });

  await check("every member of the request is reached at some stop, and at one only", async () => {
    await go();
    const resolved = (schema) => (schema.$ref ? { ...$defs[schema.$ref.split("/").at(-1)], ...schema } : schema);
    const members = (schema) => Object.keys(resolved(schema).properties);
    const { request } = calculations.find(({ id }) => id === "job.quote");
    const record = (name) => members({ $ref: `#/$defs/${name}` }).filter((member) => member !== "from");
    const wanted = new Set([
      ...members(request).filter((name) => !["units", "explain", "doubt"].includes(name)),
      ...record("JobPlacement").map((name) => `placements/${name}`), ...record("JobScreenOrder").map((name) => `placements/screens/${name}`),
      ...record("JobShop").map((name) => `shop/${name}`), ...record("JobPrice").map((name) => `price/${name}`), ...record("JobRates").map((name) => `rates/${name}`),
    ]);
    const found = new Map();
    for (const stop of STOPS) {
      await openStop(stop);
      // Whatever is folded away, or is the other of two, or was not chosen yet.
      const there = await page.evaluate(async (name) => {
        const stopAt = document.querySelector(`[data-stop="${name}"]`);
        const pointers = new Set();
        const look = () => stopAt.querySelectorAll("[data-at]").forEach((one) => pointers.add(one.dataset.at));
        for (let turn = 0; turn < 3; turn += 1) {
          stopAt.querySelectorAll(".given details").forEach((one) => { one.open = true; });
          await new Promise((done) => setTimeout(done, 60));
          for (const button of stopAt.querySelectorAll(".given button[aria-expanded=false]")) button.click();
          look();
          for (const radio of stopAt.querySelectorAll(".given [type=radio]:not(:checked)")) {
            radio.click();
            await new Promise((done) => setTimeout(done, 10));
            look();
          }
        }
        return [...pointers];
      }, stop);
      for (const pointer of new Set(there.map((one) => one.slice(1).replace(/\/\d+/g, "")))) if (wanted.has(pointer)) found.set(pointer, [...(found.get(pointer) ?? []), stop]);
    }
    assert.deepEqual([...wanted].filter((name) => !found.has(name)), []);
    assert.deepEqual([...found].filter(([name, stops]) => stops.length > 1 && name !== "placements" && name !== "placements/screens" && name !== "shop"), []);
    await page.getByRole("button", { name: "Undo" }).click();
  });

  await check("from nothing to a planned and priced order, the plan before the price", async () => {
    await fresh();
    assert.equal(await page.locator(".example b").count(), 0);
    await page.getByText("Still wanted:").first().waitFor();
    assert.match(await head("Art").textContent(), /\d+ still wanted/);
    // A wanted field is led to.
    await page.locator("[data-stop=Art] .missing button").first().click();
    assert.equal(await page.evaluate(() => document.activeElement.closest("[data-at]").dataset.at), "/placements/0/name");
    await put("/placements/0/name", "back");
    await put("/placements/0/width", "280");
    await put("/placements/0/height", "12 in");
    await put("/placements/0/screens/0/name", "gull grey");
    await put("/placements/0/screens/0/coverage_fraction", "22");
    await filled("Art");
    await page.getByText("Next stop: Shirt and sizes").click();
    await page.waitForFunction(() => document.activeElement.textContent.startsWith("Shirt and sizes"));
    await put("/title", "Harbour/pilot: 3");
    await put("/pieces", "50");
    await input("/cloth").selectOption("cotton-jersey-180");
    await page.getByText("Next stop: Screens").click();
    await input("/placements/0/screens/0/ink").selectOption("plastisol");
    await put("/placements/0/screens/0/mesh", "77-55");
    await page.waitForSelector("[data-stop=Screens] .comes .members");
    for (const stop of STOPS.slice(0, -1)) await filled(stop);
    assert.match(await head("Price").textContent(), /3 still wanted/);
    await openStop("Price");
    await page.getByText("It comes when nothing is wanted any more").waitFor();
    await put("/currency", "EUR");
    await input("/rates").selectOption("starter-rates");
    await put("/price/margin_fraction", "30");
    await page.waitForSelector("[data-stop=Price] .comes .members");
    await filled("Price");
    const { order, name } = await stands();
    assert.equal(name, "harbour-pilot-3.json");
    assert.deepEqual(order, {
      title: "Harbour/pilot: 3", pieces: 50, cloth: "cotton-jersey-180", currency: "EUR", rates: "starter-rates", price: { margin_fraction: 0.3 },
      placements: [{ name: "back", width: "280 mm", height: "12 in", screens: [{ name: "gull grey", ink: "plastisol", mesh: "77-55", coverage_fraction: 0.22 }] }],
    });
    await page.getByText("Print the run sheet").click();
    await page.waitForSelector(".paper table");
    const pages = await printed("A4");
    assert.equal(pages.length, 1);
    for (const words of ["Harbour/pilot: 3", "back", "gull grey", "77-55", "280 mm"]) assert.ok(pages[0].includes(words), `${words} is not on the sheet: ${pages[0]}`);
    assert.doesNotMatch(pages[0], /worked example/);
    await page.getByText("Back to the order").click();
    await page.waitForSelector(".stop-name");
  });

  await check("a machine of the shop is changed at its own stop; a fault shows there, and at no other", async () => {
    await openStop("Press");
    await at("/shop").getByText("See and change its values").click();
    await input("/shop/off_contact").fill("3");
    await openStop("Heat");
    await input("/shop/dryer").selectOption("long-air-dryer-4m");
    assert.deepEqual((await stands()).order.shop, { from: "starter-shop", off_contact: "3 mm", dryer: "long-air-dryer-4m" });
    await openStop("Register");
    await put("/trap", "9 kg");
    await page.waitForSelector("[data-stop=Register] .fault");
    await page.waitForFunction(() => document.querySelector("[data-stop=Register] .marks").textContent === "1 to put right");
    // Heard as it is read.
    const fault = await page.locator("[data-stop=Register] .fault").textContent();
    const live = page.locator("main > [role=status]").last();
    await page.waitForFunction(() => /Trap/.test([...document.querySelectorAll("main > [role=status]")].at(-1).textContent));
    assert.ok((await live.textContent()).toLowerCase().includes(fault.toLowerCase()), `"${await live.textContent()}" is said of "${fault}"`);
    await looked(page, async (look) => assert.deepEqual(await axed(page), [], look));
    await page.setViewportSize({ width: 1280, height: 900 });
    await page.emulateMedia({ colorScheme: "light", reducedMotion: "no-preference" });
    await openStop("Screens");
    await page.locator("[data-stop=Screens] .comes .refused button").click();
    await page.waitForFunction(() => document.activeElement.closest("[data-at]")?.dataset.at === "/trap");
    await put("/trap", "");
    await filled("Register");
  });

  await check("the run sheet is one page at A4 and letter, in metric and US, for each order, of up to eight screens; STOP stands before all else", async () => {
    for (const name of readdirSync(ORDERS).filter((one) => one.endsWith(".json"))) {
      const order = read(name);
      const pictured = order.placements.flatMap(({ screens }) => screens.filter(({ art }) => art).map((screen) => screen.name));
      await go();
      await give(name, readFileSync(path.join(ORDERS, name)));
      await told(/Read from/);
      const said = await page.textContent(".told");
      for (const screen of pictured) assert.ok(said.includes(screen), `${screen} is not said to be left out`);
      for (const screen of order.placements.flatMap(({ screens }) => screens)) delete screen.art;
      assert.deepEqual((await stands()).order, order, name);
      if (pictured.length > 0) continue;
      const screens = order.placements.flatMap((placement) => placement.screens);
      await go("#/job/sheet", ".paper table");
      for (const units of ["Metric", "US"]) {
        await page.getByLabel(units, { exact: true }).check();
        await page.waitForFunction((us) => document.querySelector(".paper table") && /°F/.test(document.querySelector(".paper").textContent) === us, units === "US");
        for (const format of ["A4", "Letter"]) {
          const pages = await printed(format);
          assert.equal(pages.length, 1, `${name}: ${pages.length} pages of ${format}, ${units}`);
          const text = pages.join("\n");
          for (const screen of screens) assert.ok(text.includes(screen.name), `${screen.name} is not on the sheet of ${name}`);
          for (const word of ["initials", "Sign-off", "Caution", order.title]) assert.ok(text.includes(word), `${word} is not on the sheet of ${name}`);
          assert.ok(!/Back to the order|Print this page|Nothing is sent|Metric/.test(text), "nothing of the app is on paper");
        }
      }
      await page.getByLabel("Metric", { exact: true }).check();
    }
    // What is one page in no type that can be read is two pages in the largest.
    for (const [more, pages, type] of [[2, 1, "7.5pt"], [4, 2, "9pt"]]) {
      const order = read("nightjar.json");
      const [front] = order.placements;
      order.placements.push({ ...front, name: "back", screens: front.screens.slice(0, more).map((screen) => ({ ...screen, name: `back ${screen.name}` })) });
      await go();
      await give("more.json", JSON.stringify(order));
      await told(/Read from more/);
      await go("#/job/sheet", ".paper table");
      assert.equal((await printed("Letter")).length, pages, `${6 + more} screens`);
      assert.equal(await page.evaluate(() => document.querySelector(".paper").style.getPropertyValue("--type")), type);
    }
    const broken = read("orchard.json");
    broken.shop.stencil_resists = "solvent";
    await go();
    await give("broken.json", JSON.stringify(broken));
    await told(/Read from broken/);
    await page.waitForFunction(() => /\d STOP/.test(document.querySelector("[data-stop=Screens] .marks").textContent));
    await go("#/job/sheet", ".paper table");
    const [sheet] = await printed("A4");
    assert.ok(sheet.indexOf("STOP") >= 0 && sheet.indexOf("STOP") < sheet.indexOf("Caution") && sheet.indexOf("Caution") < sheet.indexOf("Screens"));
  });

  await check("the quote shows the costs; the offer only what is charged", async () => {
    await go();
    await give("quote.json", readFileSync(path.join(ORDERS, "regatta-quote.json")));
    await told(/Read from/);
    await go("#/job/quote", ".paper table");
    const quote = (await printed("A4")).join("\n");
    const costs = ["labour: printing", "overhead", "1768.72", "763.28", "30.1"];
    for (const words of [...costs, "3034.50 EUR", "printing", "rounding of the unit price"]) assert.ok(quote.includes(words), `${words} is not on the quote`);
    await go("#/job/offer", ".paper table");
    const pages = await printed("Letter");
    assert.equal(pages.length, 1);
    for (const words of ["3034.50 EUR", "1517.25 EUR", "10.25 EUR", "art fee", "2XL", "Spoiled shirts of up to 3 %", "667.23 EUR"]) assert.ok(pages[0].includes(words), `${words} is not on the offer`);
    for (const words of [...costs, "Profit", "profit", "Cost", "Margin", "dryer", "185.27", "357.43"]) assert.ok(!pages[0].includes(words), `${words} is on the offer`);
  });

  await check("what is not ready says so in the place of a sheet", async () => {
    await fresh();
    await go("#/job/sheet", ".paper h1");
    await page.getByText("Something is wanted still").waitFor();
    assert.equal(await page.textContent("h1"), "No run sheet yet");
    await looked(page, async (look) => {
      assert.deepEqual(await axed(page), [], look);
      assert.ok(await over(page) <= 0, look);
      assert.deepEqual(await small(page), [], look);
    });
    await page.setViewportSize({ width: 1280, height: 900 });
    await page.emulateMedia({ colorScheme: "light", reducedMotion: "no-preference" });
    assert.equal(await page.getByText("Print this page").count(), 0);
  });

  await check("undo and redo: a step for each settled edit, hundreds of them, the browser's own within a field", async () => {
    await withExample();
    await openStop("Shirt and sizes");
    const pieces = input("/pieces");
    await pieces.press("End");
    await pieces.pressSequentially("0");
    assert.equal(await page.locator(".example b").count(), 0);
    await pieces.blur();
    await page.getByRole("button", { name: "Undo" }).click();
    assert.equal(await page.locator(".example b").count(), 1, "the example is back");
    assert.deepEqual((await stands()).order, example);
    await page.getByRole("button", { name: "Redo" }).click();
    assert.equal((await stands()).order.pieces, 960);
    await page.getByText("Show the example").click();
    await page.evaluate(async () => {
      for (let turn = 0; turn < 120; turn += 1) {
        document.querySelector("[data-at='/sizes'] > .add").click();
        await new Promise((done) => setTimeout(done));
      }
    });
    assert.equal(await page.locator("[data-at='/sizes'] > .rows > li").count(), 40);
    await page.getByText("Show more of the 80 others").waitFor();
    for (let turn = 0; turn < 120; turn += 1) await page.keyboard.press("Control+z");
    assert.deepEqual((await stands()).order, example);
    await page.keyboard.press("Control+Shift+z");
    assert.equal(await page.locator("[data-at='/sizes'] > .rows > li").count(), 1);
    // A new edit leaves nothing to do again.
    await put("/title", "Other");
    assert.equal(await page.getByRole("button", { name: "Redo" }).getAttribute("aria-disabled"), "true");
    const title = input("/title");
    await title.press("End");
    await title.pressSequentially(" name");
    await title.press("Control+z");
    assert.equal(await page.evaluate(() => document.activeElement.closest("[data-at]")?.dataset.at), "/title", "the field keeps the focus");
    assert.ok(!(await title.inputValue()).endsWith("name"), "what was typed in the field is taken back by the browser");
    await input("/due").focus();
    const before = (await stands()).order;
    await input("/due").focus();
    await page.keyboard.press("Control+z");
    await page.waitForTimeout(50);
    assert.notDeepEqual((await stands()).order, before, "in a field in which nothing was typed the order's own step is taken back");
  });

  await check("the first entry clears the example, whose other values can be kept around it", async () => {
    await withExample();
    await openStop("Art");
    await put("/placements/0/screens/1/coverage_fraction", "17");
    const { order } = await stands();
    assert.deepEqual(order, { placements: [{ screens: [{ coverage_fraction: 0.17 }] }] });
    await openStop("Shirt and sizes");
    await put("/pieces", "97");
    await page.getByText("Keep its other values").click();
    const wanted = structuredClone(example);
    wanted.placements[0].screens[1].coverage_fraction = 0.17;
    wanted.pieces = 97;
    assert.deepEqual((await stands()).order, wanted);
  });

  await check("a number with its unit typed is one step", async () => {
    await fresh();
    await put("/placements/0/width", "12,5 inch");
    await input("/placements/0/width").blur();
    await page.waitForFunction(() => document.querySelector('[data-at="/placements/0/width"] select').value === "in");
    await page.getByRole("button", { name: "Undo" }).click();
    assert.equal(await input("/placements/0/width").inputValue(), "");
  });

  await check("files that hold no order say so, and what stood stays", async () => {
    await go();
    await give("regatta.json", JSON.stringify(read("regatta.json")));
    await told(/Read from regatta/);
    const before = (await stands()).order;
    const cases = [
      ["list.json", "[1, 2]", /an order is a JSON object/], ["text.json", "Regatta crew tees", /it is not JSON/],
      ["typing.json", '{"pices": 3}', /unknown field `pices`/], ["deep.json", '{"pieces": 3, "placements": [{"nmae": "front"}]}', /at \/placements\/0\/nmae/],
      ["type.json", '{"pieces": 3, "cloth": 12}', /cloth/], ["long.json", `{"title": "${"x".repeat(4_300_000)}"}`, /longer than any order/],
      ["many.json", JSON.stringify({ ...read("regatta.json"), placements: Array.from({ length: 30 }, () => read("regatta.json").placements[0]) }), /entries/],
    ];
    for (const [name, text, pattern] of cases) {
      await give(name, text);
      await told(pattern);
      assert.match(await page.textContent(".told"), /What stood here stays/);
      assert.deepEqual((await stands()).order, before, name);
      await give("regatta.json", JSON.stringify(read("regatta.json")));
      await told(/Read from regatta/);
    }
    // What is wrong in a value can be put right in the form.
    await give("value.json", JSON.stringify({ ...read("regatta.json"), trap: "5 kg" }));
    await told(/refused at \/trap/);
    await page.getByText("Read it all the same").click();
    await openStop("Register");
    await page.waitForSelector("[data-stop=Register] .fault");
    assert.equal((await stands()).order.trap, "5 kg");
  });

  await check("a file dropped on the page is read", async () => {
    await go();
    await page.evaluate((text) => {
      const data = new DataTransfer();
      data.items.add(new File([text], "dropped.json"));
      document.querySelector("main").dispatchEvent(new DragEvent("drop", { dataTransfer: data, bubbles: true, cancelable: true }));
    }, JSON.stringify(read("ferry.json")));
    await told(/Read from dropped/);
    assert.deepEqual((await stands()).order, read("ferry.json"));
  });

  await check("an order is kept over a reload", async () => {
    await openStop("Shirt and sizes");
    await put("/title", "Kept tees");
    await page.waitForTimeout(800);
    await page.reload();
    await page.waitForSelector(".stop-name");
    assert.deepEqual((await stands()).order, { ...read("ferry.json"), title: "Kept tees" });
  });

  await check("two tabs: the newer order is taken over, or asked about where one is being worked on", async () => {
    const other = await context.newPage();
    await other.goto(`${address}#/job`);
    await other.waitForSelector(".stop-name");
    await openStop("Shirt and sizes", other);
    await openStop("Shirt and sizes");
    await page.waitForTimeout(4200);
    await input("/pieces", other).fill("41");
    await page.waitForFunction(() => document.querySelector('[data-at="/pieces"] input').value === "41");
    assert.equal(await page.locator(".tools [role=alert]").count(), 0);
    // Worked on in both: this one asks.
    await put("/title", "Mine");
    await page.waitForTimeout(500);
    await other.locator("[role=alert]").waitFor();
    assert.equal(await input("/title", other).inputValue(), "Kept tees");
    await other.getByText("keep what stands here").click();
    await page.locator("[role=alert]").waitFor();
    await page.getByText("Take what the other has").click();
    assert.equal(await input("/title").inputValue(), "Kept tees");
    assert.equal(await page.locator(".tools [role=alert]").count(), 0);
    await page.getByRole("button", { name: "Undo" }).click();
    assert.equal(await input("/title").inputValue(), "Mine", "what another tab did is a step");
    await other.close();
  });

  await check("storage that fails is told in a sentence, and the order works without", async () => {
    const other = await context.newPage();
    await other.addInitScript(() => { indexedDB.open = () => { throw new DOMException("no", "SecurityError"); }; });
    await other.goto(`${address}#/job`);
    await other.getByText("keeps nothing of what is entered here").waitFor();
    await openStop("Shirt and sizes", other);
    await input("/pieces", other).fill("12");
    assert.equal((await stands(other)).order.pieces, 12);
    await other.close();
    // Full, and later not full any more.
    await page.evaluate(() => {
      window.put = IDBObjectStore.prototype.put;
      IDBObjectStore.prototype.put = () => { throw new DOMException("full", "QuotaExceededError"); };
    });
    await put("/title", "Too much");
    await page.getByText("keeps nothing of what is entered here").waitFor();
    await page.evaluate(() => { IDBObjectStore.prototype.put = window.put; });
    await put("/title", "Enough room");
    await page.locator(".unkept").waitFor({ state: "detached" });
  });

  await check("a long list of screens is shown in part, and is held to what can be planned", async () => {
    await go();
    const order = read("regatta.json");
    const [placement] = order.placements;
    const many = (count) => Array.from({ length: count }, (_, index) => ({ ...placement.screens[index % 3], name: `screen ${index + 1}`, flash: false }));
    order.placements = Array.from({ length: 4 }, (_, index) => ({ ...placement, name: `place ${index + 1}`, screens: many(24) }));
    await give("long.json", JSON.stringify(order));
    await told(/Read from long/);
    for (const stop of STOPS) {
      await openStop(stop);
      await head(stop).focus();
      // Of some forty fields of each of the 96 screens a stop draws those that matter there first.
      const drawn = await page.locator("main input:visible, main select:visible").count();
      assert.ok(drawn <= 12 * 96, `${stop} draws ${drawn} fields`);
    }
    assert.deepEqual((await stands()).order, order);
    order.placements = [{ ...placement, screens: many(60) }];
    await give("longer.json", JSON.stringify(order));
    await told(/60 entries/);
    await fresh();
    await page.evaluate((text) => {
      const data = new DataTransfer();
      data.setData("text/plain", text);
      document.querySelector('[data-at="/placements/0/screens/0/name"] input').dispatchEvent(new ClipboardEvent("paste", { clipboardData: data, bubbles: true, cancelable: true }));
    }, Array.from({ length: 100 }, (_, index) => `colour ${index}`).join("\n"));
    await page.getByText("Show more of the 60 others").waitFor();
    const { placements } = (await stands()).order;
    assert.deepEqual(placements.map(({ screens }) => screens.length), [100]);
  });

  await check("the whole order by keyboard alone, from the home page to the sheet", async () => {
    await page.evaluate(() => { window.print = () => { window.wasPrinted = true; }; });
    await page.evaluate(() => { location.hash = "#/"; });
    await page.waitForSelector("#search");
    const { keyboard } = page;
    const reach = async (selector, text) => {
      for (let turn = 0; turn < 120; turn += 1) {
        if (await page.evaluate(([wanted, words]) => document.activeElement.matches(wanted) && (!words || document.activeElement.textContent.startsWith(words)), [selector, text])) return;
        await keyboard.press("Tab");
      }
      throw new Error(`no Tab leads to ${selector} ${text ?? ""}`);
    };
    const type = async (pointer, text) => {
      await reach(`[data-at="${pointer}"] .control > input`);
      await keyboard.type(text);
    };
    const choose = async (pointer) => {
      await reach(`[data-at="${pointer}"] > select`);
      await keyboard.press("ArrowDown");
    };
    await reach(".head nav a", "Job");
    await keyboard.press("Enter");
    await page.waitForSelector(".stop-name");
    await reach("button", "New order");
    await keyboard.press("Space");
    await type("/placements/0/name", "front");
    await type("/placements/0/width", "200");
    await type("/placements/0/height", "100");
    await type("/placements/0/screens/0/name", "sky blue");
    await type("/placements/0/screens/0/coverage_fraction", "40");
    const next = async (stop) => {
      await reach("button", `Next stop: ${stop}`);
      await keyboard.press("Enter");
      await page.waitForFunction((name) => document.activeElement.matches(".stop-name") && document.activeElement.textContent.startsWith(name), stop);
    };
    await next("Shirt and sizes");
    await type("/pieces", "30");
    await choose("/cloth");
    await next("Screens");
    await choose("/placements/0/screens/0/ink");
    await type("/placements/0/screens/0/mesh", "62-64");
    for (const stop of ["Press", "Heat", "Register", "Wash", "Price"]) await next(stop);
    await type("/currency", "GBP");
    await choose("/rates");
    await type("/price/margin_fraction", "35");
    await page.waitForSelector("[data-stop=Price] .comes .members");
    await page.waitForFunction(() => /Planned, priced/.test([...document.querySelectorAll("main > [role=status]")].at(-1).textContent));
    await reach(".papers a", "Print the run sheet");
    await keyboard.press("Enter");
    await page.waitForSelector(".paper table");
    await reach("button", "Print this page");
    await keyboard.press("Enter");
    assert.ok(await page.evaluate(() => window.wasPrinted));
    await reach("a", "Back to the order");
    await keyboard.press("Enter");
    await page.waitForSelector(".stop-name");
    assert.equal((await stands()).order.placements[0].screens[0].name, "sky blue");
  });

  await check("axe finds nothing at any stop, nor on the sheets; no sideways scroll, targets of 44 px", async () => {
    await go();
    await give("bakery.json", readFileSync(path.join(ORDERS, "bakery.json")));
    await told(/Read from/);
    const places = [...STOPS.map((stop) => ["#/job", stop]), ["#/job/sheet"], ["#/job/quote"], ["#/job/offer"]];
    for (const [hash, stop] of places) {
      await page.setViewportSize({ width: 1280, height: 900 });
      if (stop === "Register") await give("quote.json", readFileSync(path.join(ORDERS, "regatta-quote.json")));
      if (stop === undefined || stop === STOPS[0]) await go(hash, stop ? ".stop-name" : ".paper table");
      if (stop) {
        await openStop(stop);
        await page.evaluate(() => document.querySelectorAll("main details").forEach((one) => { one.open = true; }));
        await page.waitForTimeout(100);
      }
      await looked(page, async (look) => {
        const where = `${hash} ${stop ?? ""}, ${look}`;
        assert.deepEqual(await axed(page), [], where);
        assert.ok(await over(page) <= 0, `${where}: sideways scroll`);
        assert.deepEqual(await small(page), [], where);
      });
    }
    await page.setViewportSize({ width: 1280, height: 900 });
    await page.emulateMedia({ colorScheme: "light", reducedMotion: "no-preference" });
  });
  rmSync(folder, { recursive: true });
}
