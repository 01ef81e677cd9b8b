// What people do with a question: type, switch, change, paste, vary, compare, go back, use the keyboard alone.
import assert from "node:assert/strict";
import { check } from "../node/checks.mjs";

/** What is printed of this view in another colour than black and a near grey, or on another ground than white. */
async function coloured(page) {
  await page.emulateMedia({ media: "print", colorScheme: "dark" });
  const found = await page.evaluate(() => {
    const plain = ["rgb(0, 0, 0)", "rgb(51, 51, 51)"];
    const ground = ["rgba(0, 0, 0, 0)", "rgb(255, 255, 255)"];
    const seen = [...document.querySelectorAll("html, body, body *")].filter((one) => one.checkVisibility({ visibilityProperty: true }) && one.getBoundingClientRect().width > 1);
    const said = (one) => [...one.childNodes].some((node) => node.nodeType === Node.TEXT_NODE && node.textContent.trim() !== "") || one.matches("input, select, textarea");
    return { texts: seen.filter(said).length, odd: seen.map((one) => ({ one, style: getComputedStyle(one) })).filter(({ one, style }) => (said(one) && !plain.includes(style.color)) || !ground.includes(style.backgroundColor))
      .map(({ one, style }) => `${one.outerHTML.slice(0, 60)}: ${style.color} on ${style.backgroundColor}`) };
  });
  await page.emulateMedia({ media: "screen", colorScheme: "light" });
  return found;
}

export async function uses(context, page, address, calculations) {
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
  const answered = async () => {
    await raw();
    return JSON.parse(await page.textContent(".raw.answer"));
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
  await check("numbers have a decimal keyboard and their usual range beside them", async () => {
    const { properties } = calculations.find(({ id }) => id === "ink.usage").request;
    for (const name of ["width", "height", "coverage_fraction", "prints"]) assert.equal(await input(`/${name}`).getAttribute("inputmode"), "decimal", name);
    const [low, high] = properties.width["x-quantity"].usual;
    const hint = at("/width").locator(".hint");
    assert.match(await hint.textContent(), new RegExp(`Usually ${low} to ${high}\\s${await unit("/width").inputValue()}`, "u"));
    assert.ok((await input("/width").getAttribute("aria-describedby")).split(" ").includes(await hint.getAttribute("id")), "the field is described by it");
    // It follows the unit that is chosen.
    await unit("/width").selectOption("cm");
    await page.waitForFunction((words) => document.querySelector('[data-at="/width"] .hint')?.textContent.includes(words), `${low / 10} to ${high / 10}`);
    await unit("/width").selectOption("mm");
    // A keyboard for decimals may have no minus.
    await go("mesh.moire");
    const mesh = input("/mesh_angle");
    await page.getByText("more at their usual values").last().click();
    assert.equal(await mesh.getAttribute("inputmode"), null);
  });
  await check("STOP and cautions stand above the figures, and at their fields", async () => {
    const log = [["0 s", "25 degC"], ["30 s", "165 degC"], ["50 s", "65 degC"]].map(([time, temperature]) => ({ time, temperature }));
    for (const [id, request, level] of [["cure.assess", { ink: "plastisol", cloth: "polyester-jersey-150", log, measured: "in_ink" }, "limit"], ["stencil.thickness", { mesh: "77-55", coated_thickness: "80 um" }, "caution"]]) {
      await go(`${id}?${encodeURIComponent(JSON.stringify(request))}`);
      const { notes } = await answered();
      const note = notes.find((one) => one.level === level && one.field !== "");
      const words = level === "limit" ? "STOP" : "Caution";
      const line = page.locator(`.warnings > .${level}`, { has: page.locator("button") }).first();
      assert.ok((await line.textContent()).startsWith(words));
      const [above, below] = [await page.locator(".warnings").boundingBox(), await page.locator("#figures").boundingBox()];
      assert.ok(above.y + above.height <= below.y, `${words} ends at ${above.y + above.height}, the figures begin at ${below.y}`);
      const levels = await page.locator(".warnings > li").evaluateAll((all) => all.map((one) => one.className));
      assert.ok(levels.lastIndexOf("limit") < levels.indexOf("caution") || !levels.includes("caution") || !levels.includes("limit"), levels.join());
      await line.locator("button").click();
      const field = page.locator(`[data-at="/${note.field.split("/")[1]}"]`).first();
      assert.ok(await field.evaluate((one) => one.contains(document.activeElement)), `it leads to ${note.field}`);
      const said = field.locator(`.noted.${level}`).first();
      assert.ok((await said.textContent()).startsWith(words));
      const [described, id_] = await Promise.all([page.evaluate(() => document.activeElement.getAttribute("aria-describedby")), said.evaluate((one) => one.closest(".faults").id)]);
      assert.ok(described.split(" ").includes(id_), "the field is described by it");
    }
  });
  await check("where the numbers come from is told when it is asked for", async () => {
    await go("ink.usage");
    const { basis } = await answered();
    assert.ok(basis.length > 0);
    assert.equal(await page.locator(".formula").count(), 0);
    await page.getByText("Where the numbers come from").click();
    const { formula, sources } = calculations.find(({ id }) => id === "ink.usage");
    assert.equal(await page.textContent(".formula"), formula);
    const text = (await page.locator(".fold .sources").allTextContents()).join(" ");
    for (const { source } of [...sources, ...basis]) assert.ok(text.includes(source), source);
    await go("ink.usage");
    await input("/prints").fill("500");
    await page.getByText("Keep its other values").click();
    await page.waitForSelector(".large");
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
  await check("a very long list: pasted, shown in part, answered; too long for the address, which has no older inputs then", async () => {
    await go("cure.assess");
    await input("/log/0/time").fill("7");
    await page.waitForFunction(() => location.hash.includes("?"));
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
    assert.equal((await raw()).log.length, 3000, "what was typed beside the first entry is kept");
    await page.waitForFunction(() => location.hash === "#/ask/cure.assess");
    await page.getByText("too long for the address").waitFor();
    await page.reload();
    await page.getByText("Take what you asked last").click();
    await page.waitForSelector(".rows + .link");
    assert.equal((await raw()).log.length, 3000);
    await page.getByText("Show the example").click();
    await page.getByText("too long for the address").waitFor({ state: "detached" });
  });
  await check("two tabs: what was asked in either is remembered, and shown in the other", async () => {
    const other = await context.newPage();
    await other.goto(`${address}#/ask/mesh.geometry`);
    await other.waitForSelector(".large");
    await page.goto(`${address}#/`);
    await page.waitForSelector("#search");
    const wash = page.locator(".stop", { has: page.getByRole("heading", { name: /^Wash/ }) });
    assert.equal(await wash.getAttribute("data-given"), null);
    await other.evaluate((hash) => { location.hash = hash; }, `#/ask/wash.samples?${encodeURIComponent('{"reliability_fraction":0.8,"confidence":0.9}')}`);
    await page.waitForFunction(() => [...document.querySelectorAll(".stop[data-given] h2")].some(({ textContent }) => textContent.startsWith("Wash")));
    await go(`mesh.geometry?${encodeURIComponent('{"mesh":"43-80"}')}`);
    await other.evaluate((hash) => { location.hash = hash; }, `#/ask/wash.samples?${encodeURIComponent('{"reliability_fraction":0.7,"confidence":0.9}')}`);
    await other.waitForFunction(() => document.querySelector("h1").textContent === "How many test prints?" && document.querySelector(".large") !== null);
    await page.waitForTimeout(200);
    await other.close();
    for (const [id, field, value] of [["mesh.geometry", "/mesh", "43-80"], ["wash.samples", "/reliability_fraction", "70"]]) {
      await page.goto(`${address}#/`);
      await page.reload();
      await go(id);
      await page.getByText("Take what you asked last").click();
      await page.waitForFunction(([pointer, text]) => document.querySelector(`[data-at="${pointer}"] input`).value === text, [field, value]);
    }
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
  await check("a changed number is underlined once, one that first comes is not; with reduced motion none", async () => {
    const strokes = () => page.evaluate(() => document.getAnimations().filter(({ animationName }) => animationName === "flood").length);
    await page.emulateMedia({ reducedMotion: "no-preference" });
    // From the home page, so that it comes for the first time.
    await go("mesh.geometry");
    assert.equal(await strokes(), 0);
    const change = async (mesh) => {
      const before = await large();
      await page.locator('[data-at="/mesh"] input').fill(mesh);
      await another(before);
    };
    await change("43-80");
    assert.ok(await strokes() > 0, "it is underlined");
    await page.waitForFunction(() => document.getAnimations().length === 0);
    await page.emulateMedia({ reducedMotion: "reduce" });
    await change("120-34");
    assert.equal(await strokes(), 0);
    assert.equal(await page.evaluate(() => getComputedStyle(document.querySelector(".large"), "::after").animationName), "none");
    await page.emulateMedia({ reducedMotion: "no-preference" });
  });
  await check("paper is black on white: a question, the order, its sheet", async () => {
    await go("dryer.window");
    const views = [["#/ask/dryer.window", ".warnings"], ["#/job", "[data-stop=Art] .comes .members"], ["#/job/sheet", ".paper table"]];
    for (const [hash, wait] of views) {
      await page.evaluate((to) => { location.hash = to; }, hash);
      await page.waitForSelector(wait);
      const { texts, odd } = await coloured(page);
      assert.ok(texts > 20, `${texts} texts of ${hash}`);
      assert.deepEqual(odd, [], hash);
    }
  });
}
