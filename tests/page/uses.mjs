// What people do with a question: type, switch, change, paste, vary, compare, go back, use the keyboard alone.
import assert from "node:assert/strict";
import { check } from "../node/checks.mjs";

export async function uses(context, page, address) {
  const go = async (id, wait = ".large") => {
    await page.evaluate(() => { location.hash = "#/"; });
    await page.waitForSelector("#search");
    await page.evaluate((to) => { location.hash = to; }, `#/ask/${id}`);
    await page.waitForSelector(wait);
  };
  const at = (pointer) => page.locator(`[data-at="${pointer}"]`).first();
  const input = (pointer) => at(pointer).locator("input").first();
  const unit = (pointer) => at(pointer).locator("select").first();
  const raw = async () => {
    await page.evaluate(() => { [...document.querySelectorAll(".fold")].at(-1).open = true; });
    await page.waitForSelector(".raw.request");
    return JSON.parse(await page.textContent(".raw.request"));
  };
  const large = () => page.textContent(".large");
  /** Until the large number is another. */
  const another = (before) => page.waitForFunction((old) => document.querySelector(".large")?.textContent !== old && document.querySelector(".large") !== null, before);

  await check("the first edit clears the example, which can be kept", async () => {
    await go("ink.usage");
    await input("/prints").fill("500");
    await page.waitForSelector(".missing");
    assert.deepEqual(await raw(), { prints: 500 });
    await page.getByText("Keep its other values").click();
    await page.waitForSelector(".large");
    assert.deepEqual(await raw(), { mesh: "55-64", ink: "plastisol-white", width: "320 mm", height: "380 mm", coverage_fraction: 0.38, prints: 500 });
    assert.equal(await page.locator(".example b").count(), 0);
  });
  await check("a comma is a decimal point, but is not guessed where it may part thousands", async () => {
    await input("/width").fill("320,5");
    assert.equal((await raw()).width, "320.5 mm");
    await input("/width").fill("0,125");
    assert.equal((await raw()).width, "0.125 mm");
    await input("/width").fill("1,250");
    await page.waitForSelector(".fault");
    assert.equal(await input("/width").inputValue(), "1,250");
    assert.equal(await input("/width").getAttribute("aria-invalid"), "true");
  });
  await check("a typed unit is understood, and switching it converts", async () => {
    await input("/width").fill("12,5 inch");
    await input("/width").blur();
    await page.waitForFunction(() => document.querySelector('[data-at="/width"] select').value === "in");
    assert.equal((await raw()).width, "12.5 in");
    await unit("/width").selectOption("mm");
    await page.waitForFunction(() => document.querySelector('[data-at="/width"] input').value === "317.5");
    await unit("/width").selectOption("in");
    await page.waitForFunction(() => document.querySelector('[data-at="/width"] input').value === "12.5");
  });
  await check("shares are per cent to the last bit", async () => {
    await input("/coverage_fraction").fill("7,3");
    assert.equal((await raw()).coverage_fraction, 0.073);
    await input("/coverage_fraction").fill("38 +/- 2");
    assert.equal((await raw()).coverage_fraction, "38 +/- 2 %");
    await page.waitForSelector(".large .doubt");
  });
  await check("either or: what was typed in the other stays", async () => {
    await page.getByLabel("Printed area", { exact: true }).first().check();
    await input("/printed_area").fill("460");
    assert.equal((await raw()).width, undefined);
    assert.equal((await raw()).printed_area, "460 cm2");
    await page.getByLabel("Print width, Print height and Covered share").check();
    assert.equal((await raw()).width, "12.5 in");
    assert.equal((await raw()).printed_area, undefined);
  });
  await check("a stock row is changed, and set back", async () => {
    await at("/ink").getByText("See and change its values").click();
    const before = await large();
    await input("/ink/density").fill("2");
    await another(before);
    assert.deepEqual((await raw()).ink, { from: "plastisol-white", density: "2 g/cm3" });
    await at("/ink/density").getByText("Back to the usual value").click();
    assert.equal((await raw()).ink, "plastisol-white");
  });
  await check("a default is shown as one, and comes back", async () => {
    await page.locator(".form > .thread > .more > summary").click();
    const field = input("/waste_fraction");
    assert.equal(await field.inputValue(), "10");
    assert.match(await at("/waste_fraction").textContent(), /Usual value: .*memory/);
    await field.fill("20");
    assert.equal((await raw()).waste_fraction, 0.2);
    await at("/waste_fraction").getByText("Back to the usual value").click();
    assert.equal((await raw()).waste_fraction, undefined);
    assert.equal(await field.inputValue(), "10");
  });
  await check("a link with the inputs brings them back, in US units too", async () => {
    await page.getByLabel("US", { exact: true }).check();
    await page.waitForFunction(() => /oz|lb/.test(document.querySelector(".large").textContent));
    await page.waitForTimeout(300);
    const [request, link, answer] = [await raw(), page.url(), await large()];
    const other = await context.newPage();
    await other.goto(link);
    await other.waitForSelector(".large");
    assert.equal(await other.textContent(".large"), answer);
    await other.evaluate(() => { [...document.querySelectorAll(".fold")].at(-1).open = true; });
    await other.waitForSelector(".raw.request");
    assert.deepEqual(JSON.parse(await other.textContent(".raw.request")), request);
    await other.close();
    await page.getByLabel("Metric", { exact: true }).check();
  });
  await check("a number is varied: the line, the handle, the present point, the table", async () => {
    await go("dryer.window");
    await page.getByText("See and change its values").first().click();
    await page.locator(".what-if select").first().selectOption({ label: "Wet ink stack" });
    // A level line has no height that counts as visible.
    await page.waitForSelector(".what-if svg .line.main", { state: "attached" });
    assert.equal(await page.locator(".what-if svg .window").count(), 1);
    const before = await page.textContent(".headline");
    await page.locator(".handle").focus();
    for (let turn = 0; turn < 20; turn += 1) await page.keyboard.press("ArrowRight");
    await page.waitForFunction((old) => document.querySelector(".headline").textContent !== old, before);
    assert.equal(await page.locator(".example b").count(), 1, "the example stays while a value is tried");
    assert.ok(await page.locator("circle.now").count() === 1);
    await page.locator(".what-if details summary").click();
    assert.ok(await page.locator(".what-if tbody tr").count() >= 10);
  });
  await check("an order is drawn by the numbers within its answer, not by what it was asked", async () => {
    await page.goto(`${address}#/ask/job.plan`);
    await page.locator(".what-if select").first().selectOption({ label: "Pieces ordered" }, { timeout: 60_000 });
    const drawn = page.locator(".varied select").first();
    await drawn.waitFor();
    const options = await drawn.locator("option").allTextContents();
    assert.ok(options.includes("Hours, Whole order") && !options.includes("Pieces ordered"), options.join("; "));
    await drawn.selectOption({ label: "Hours, Whole order" });
    await page.waitForSelector(".what-if svg .line.main", { state: "attached", timeout: 60_000 });
    const path = await page.locator(".what-if svg .line.main").getAttribute("d");
    const heights = [...path.matchAll(/ ([\d.]+)(?=[ML]|$)/g)].map(([, y]) => Number(y));
    assert.ok(heights.length > 10 && heights.every((y, index) => index === 0 || y <= heights[index - 1] + 0.05), "more pieces never take less time");
  });
  await check("two answers stand side by side", async () => {
    await go("ink.usage");
    await page.getByText("Keep this answer").click();
    await page.locator(".what-if select").first().selectOption({ label: "Pieces to print" });
    await page.locator(".handle").focus();
    await page.keyboard.press("End");
    await page.waitForFunction(() => [...document.querySelectorAll(".compared td")].some(({ textContent }) => textContent.includes("+")));
    assert.match(await page.textContent(".compared"), /Pieces to print/);
  });
  await check("a very long list: pasted, shown in part, answered", async () => {
    await go("cure.assess");
    const lines = Array.from({ length: 3000 }, (_, index) => `${index / 10}\t${Math.min(165, 25 + index / 10)}`).join("\n");
    await page.evaluate((text) => {
      const data = new DataTransfer();
      data.setData("text/plain", text);
      document.querySelector('[data-at="/log/0/time"] input').dispatchEvent(new ClipboardEvent("paste", { clipboardData: data, bubbles: true, cancelable: true }));
    }, lines);
    await page.waitForFunction(() => document.querySelector(".rows + .link") !== null);
    assert.equal((await raw()).log.length, 3000);
    assert.equal((await raw()).log[2999].temperature, "165 degC");
    assert.ok(await page.locator(".rows > li").count() <= 40);
    await page.getByText("Keep its other values").click();
    await page.waitForSelector(".large");
  });
  await check("the newest question wins", async () => {
    await go("flash.run");
    await page.getByText("more at their usual values").last().click();
    const before = await page.textContent(".headline");
    await page.evaluate(() => { location.hash = '#/ask/ink.usage?{"mesh":"55-64","ink":"plastisol","printed_area":"460 cm2","prints":1}'; });
    await page.waitForFunction((old) => document.querySelector(".large") !== null && document.querySelector(".headline").textContent !== old, before);
    await input("/prints").press("End");
    await page.keyboard.type("00000");
    await page.waitForFunction(() => /kg/.test(document.querySelector(".large")?.textContent ?? ""));
    await page.waitForTimeout(100);
    const shown = await page.textContent(".raw.answer").catch(() => undefined);
    assert.equal((await raw()).prints, 100_000);
    assert.ok(shown === undefined || JSON.parse(shown).mass_to_mix.value > 50);
  });
  await check("what takes long shows it, and is stopped", async () => {
    await go("flash.fit");
    await page.locator(".what-if select").first().selectOption({ index: 1 });
    await page.locator(".varied .busy button").click();
    await page.waitForSelector(".varied .refused");
    assert.match(await page.textContent(".varied .refused"), /Stopped/);
    await page.waitForSelector(".varied .busy", { state: "detached" });
  });
  await check("by keyboard alone from the home page to an answer", async () => {
    await page.goto(address);
    await page.waitForSelector("#search");
    const focused = (test) => page.evaluate(test);
    for (let turn = 0; turn < 8 && !(await focused(() => document.activeElement.id === "search")); turn += 1) await page.keyboard.press("Tab");
    await page.keyboard.type("what does this cloth hold");
    await page.keyboard.press("ArrowDown");
    await page.keyboard.press("Enter");
    await page.waitForSelector(".large");
    assert.equal(await page.textContent("h1"), "What does this cloth hold?");
    for (let turn = 0; turn < 12 && !(await focused(() => document.activeElement.closest?.("[data-at]")?.dataset.at === "/mesh")); turn += 1) await page.keyboard.press("Tab");
    const before = await large();
    await page.keyboard.type("43-80");
    await another(before);
    assert.equal(await page.inputValue('[data-at="/mesh"] input'), "43-80");
    await page.waitForFunction(() => document.querySelector('.answer [role="status"]').textContent.length > 5);
  });
  await check("the search finds questions by how they are asked", async () => {
    await page.goto(`${address}#/`);
    for (const [words, wanted] of [["how long under the flash", "How long under the flash?"], ["why does my white not gel", "How long under the flash?"], ["bands in the greys", "Will the halftone beat against the mesh?"], ["scorching", "Between which belt speeds is it cured and not scorched?"]]) {
      await page.fill("#search", words);
      await page.waitForFunction((text) => document.querySelector(".found a")?.firstChild.textContent === text, wanted);
    }
  });
  await check("reduced motion moves nothing; paper is white", async () => {
    await go("ink.usage");
    await page.emulateMedia({ reducedMotion: "reduce" });
    assert.equal(await page.evaluate(() => getComputedStyle(document.querySelector(".large"), "::after").animationName), "none");
    await page.emulateMedia({ media: "print", colorScheme: "dark" });
    assert.equal(await page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor), "rgb(255, 255, 255)");
    await page.emulateMedia({ media: "screen", colorScheme: "light", reducedMotion: "no-preference" });
  });
}
