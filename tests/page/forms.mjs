// Every calculation's form with its example, and every error of the vectors at its field.
import assert from "node:assert/strict";
import { readFileSync, readdirSync } from "node:fs";
import path from "node:path";
import { isDeepStrictEqual } from "node:util";
import { check } from "../node/checks.mjs";
import { over, small } from "./browser.mjs";

/** Fields of a form that stand before those at their usual values. */
const FIRST = 5;
/** Errors of the vectors that come about by what a form sends: fewer say that something was lost on its way through the form. */
const EXPRESSED = 394;

/** Opens a question in the page, and tells what became of it once it is settled. */
async function settled(page, hash) {
  return page.evaluate(async (to) => {
    const before = document.querySelector("main");
    const until = async (test) => {
      for (let turn = 0; turn < 2000; turn += 1) {
        const found = test();
        if (found) return found;
        await new Promise((done) => setTimeout(done, 4));
      }
      throw new Error(`nothing settles at ${to}, ${location.hash === to}: ${document.querySelector("main").innerText.slice(-300)}`);
    };
    location.hash = to;
    await until(() => document.querySelector("main") !== before);
    await until(() => document.querySelector(".answer :is(.refused, .headline, .members)"));
    const fold = [...document.querySelectorAll(".fold")].at(-1);
    fold.open = true;
    const raw = await until(() => document.querySelector(".raw.request"));
    const said = document.querySelector("form .faults :is(.fault, .wanted)");
    const held = said?.closest(".faults");
    const controls = [...document.querySelectorAll(`[aria-describedby~="${held?.id}"]`)];
    const at = said?.closest("[data-at]")?.getAttribute("data-at") ?? "";
    const answer = JSON.parse(document.querySelector(".raw.answer").textContent);
    // Of all that is on the screen, what is nearest around the field that is refused.
    const field = answer?.error?.field;
    const around = [...document.querySelectorAll("form [data-at]")].map((one) => one.dataset.at).filter((pointer) => `${field}/`.startsWith(`${pointer}/`));
    const nearest = around.reduce((longest, pointer) => (pointer.length > longest.length ? pointer : longest), "");
    const filled = controls.filter((one) => one.matches("input, select, textarea"));
    const live = field === undefined ? "" : await until(() => document.querySelector(".answer > [role=status]").textContent);
    return {
      request: JSON.parse(raw.textContent), answer, nearest, live,
      refused: document.querySelector(".answer > .refused")?.textContent, example: document.querySelector(".example b") !== null,
      fault: said?.textContent, controls: controls.length, at, invalid: filled.length === 0 || filled.some((one) => one.getAttribute("aria-invalid") === "true"),
      first: document.querySelectorAll(".form > .thread > :is(.field, .list, .choice, .part[data-at])").length, more: document.querySelector(".form > .thread > .more") !== null,
    };
  }, hash);
}

/** The words of a message, whatever stands for the names in it. */
const plain = (text) => text.toLowerCase().replace(/`[^`]*`/g, "").replace(/\bdeg([cf])\b/g, "°$1").replace(/[a-z]+\.[a-z_]+/g, "");

export async function forms(page, calculations, vectorsDir) {
  await page.setViewportSize({ width: 320, height: 800 });
  let most = 0;
  for (const { id, example, request } of calculations) {
    await check(`the form of ${id} answers its example, on the narrowest screen`, async () => {
      await page.evaluate(() => { location.hash = "#/"; });
      await page.waitForSelector("#search");
      const found = await settled(page, `#/ask/${id}`);
      assert.deepEqual(found.request, example);
      assert.equal(found.refused, undefined);
      assert.ok(found.answer.notes !== undefined && found.example, "an answer, marked as the example's");
      assert.ok(await over(page) <= 0, "wider than the screen");
      assert.deepEqual(await small(page), [], "targets of 44 px");
      assert.ok(found.first <= Math.max(FIRST, request.required?.length ?? 0), `${found.first} fields come first`);
      if (found.more) most = Math.max(most, found.first);
    });
  }
  await check("five fields come first where there are more", () => assert.ok(most >= FIRST, `${most} at most`));

  // Little of it drawn: what is looked at is not how it looks.
  await page.setViewportSize({ width: 920, height: 100 });
  const vectors = readdirSync(vectorsDir).filter((name) => name.endsWith(".json")).sort()
    .flatMap((name) => JSON.parse(readFileSync(path.join(vectorsDir, name), "utf8")));
  const known = new Set(calculations.map(({ id }) => id));
  // Members that there are not, and those beside the form, no form has a field for.
  const errors = vectors.filter(({ error, request, calculation }) => error !== undefined && request !== undefined && known.has(calculation) && typeof request === "object" && !Array.isArray(request)
    && error.code !== "unknown_field" && !/^\/(units|explain|doubt)/.test(error.field));
  let expressed = 0;
  // The pause before an error is said, once and not at each key, is left out.
  await page.evaluate(() => {
    const { setTimeout } = window;
    window.setTimeout = (act, delay, ...rest) => setTimeout(act, delay === 700 ? 0 : delay, ...rest);
  });
  await page.evaluate(() => { location.hash = "#/"; });
  await page.waitForSelector("#search");
  for (const { name, calculation, request, error } of errors) {
    const link = `#/ask/${calculation}?${encodeURIComponent(JSON.stringify(request))}`;
    if (link.length > 20_000) continue;
    let found;
    try {
      found = await settled(page, link);
    } catch (failed) {
      await check(`${calculation}: ${name}`, () => { throw failed; });
      continue;
    }
    // What no form can say is not asked of one, and not counted.
    const { units: _, ...wanted } = request;
    const { units: __, ...had } = found.request;
    if (!isDeepStrictEqual(had, wanted) || !found.answer.error?.field) continue;
    expressed += 1;
    await check(`${calculation}: ${name}`, () => {
      const { message, code } = found.answer.error;
      assert.equal(code, error.code);
      const [first] = plain(message).split(/: wanted is | {2,}/);
      assert.ok(found.fault !== undefined, "it is shown at no field");
      const begin = first.trim().slice(0, 12).trim();
      if (code !== "missing_field") assert.ok(plain(found.fault).includes(begin), `"${found.fault}" is not "${message}"`);
      assert.ok(plain(found.live).includes(begin), `"${found.live}" is said of "${message}"`);
      assert.equal(found.at, found.nearest, `it is shown at ${found.at}, not at ${found.nearest}, nearest to ${found.answer.error.field}`);
      assert.ok(found.controls > 0, "no control is described by it");
      if (code !== "missing_field") assert.ok(found.invalid, "no control is marked as invalid");
    });
  }
  await page.setViewportSize({ width: 1280, height: 900 });
  await check("errors that a form can express were shown", () => assert.ok(expressed >= EXPRESSED, `${expressed} of ${errors.length}`));
  console.log(`${expressed} of ${errors.length} errors of the vectors shown at their fields`);
}
