// The built page in Chromium: node page.mjs DIST VECTORS_DIR
//
// CHROMIUM names the browser.
import assert from "node:assert/strict";
import { createHash } from "node:crypto";
import { readFileSync, readdirSync } from "node:fs";
import { createRequire } from "node:module";
import path from "node:path";
import { gzipSync } from "node:zlib";
import { check, close } from "../node/checks.mjs";
import { browser, looked, open, over, serve, small } from "./browser.mjs";
import { forms } from "./forms.mjs";
import { uses } from "./uses.mjs";
import { faults } from "./faults.mjs";
import { kept } from "./kept.mjs";
import { art } from "./art.mjs";
import { job } from "./job.mjs";
import { shop } from "./shop.mjs";

const [dist, vectorsDir] = process.argv.slice(2);
if (vectorsDir === undefined) {
  console.error("usage: node page.mjs DIST VECTORS_DIR");
  process.exit(2);
}
const packageDir = path.resolve(import.meta.dirname, "../../wasm/pkg");
const { catalogue } = createRequire(path.join(packageDir, "index.js"))(path.join(packageDir, "catalogue.cjs"));
const { calculations, $defs } = catalogue();

await check("sizes: 150 kB of script, style and catalogue, 60 kB of fonts", () => {
  const files = readdirSync(dist, { recursive: true }).map((name) => path.join(dist, name));
  const sum = (ending, size) => files.filter((name) => ending.test(name)).reduce((total, name) => total + size(readFileSync(name)), 0);
  const text = sum(/\.(js|css|html)$/, (data) => gzipSync(data, { level: 9 }).length);
  const fonts = sum(/\.woff2$/, (data) => data.length);
  console.log(`script, style and catalogue ${(text / 1000).toFixed(1)} kB gzipped; fonts ${(fonts / 1000).toFixed(1)} kB`);
  assert.ok(text <= 150_000, `${text} bytes`);
  assert.ok(fonts > 0 && fonts <= 60_000, `${fonts} bytes`);
});

await check("spacing keeps the pitch of 8 px: whole, half, or a quarter of it", () => {
  const folder = path.resolve(import.meta.dirname, "../../examples/page/src/style");
  const rules = readdirSync(folder).flatMap((name) => [...readFileSync(path.join(folder, name), "utf8").matchAll(/\b(?:padding|margin|gap)(?:-\w+)?:([^;}]*)/g)].map(([rule, sizes]) => ({ rule: `${name}: ${rule}`, sizes })));
  assert.ok(rules.length > 100);
  // What is reckoned from other sizes is not a step of its own.
  const steps = (sizes) => [...sizes.replace(/calc\([^;]*\)/g, "").matchAll(/([\d.]+)px/g)].map(([, size]) => Number(size));
  assert.deepEqual(rules.filter(({ sizes }) => steps(sizes).some((size) => size !== 2 && size % 4 !== 0)).map(({ rule }) => rule), []);
});

const server = await serve(dist);

/** A browser of its own for each part, of which two run side by side. */
async function visited(body) {
  const { context, close: closeBrowser } = await browser();
  const asked = new Set();
  context.on("request", (request) => asked.add(new URL(request.url()).origin));
  const { page, said } = await open(context, server.address);
  await body(page, context);
  await check("nothing is asked of anyone else, and the console is quiet", () => {
    assert.deepEqual([...asked], [new URL(server.address).origin]);
    assert.deepEqual(said, []);
  });
  await closeBrowser();
}

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const VIEWS = {
  "home": ["#/", async (page) => page.getByText(/^\d+ more/).first().click()],
  "home, searched": ["#/", async (page) => page.fill("#search", "flash")],
  "a window, varied": ["#/ask/dryer.window", async (page) => {
    await page.getByText("See and change its values").first().click();
    await page.locator(".what-if select").first().selectOption({ index: 1 });
    await page.waitForSelector(".what-if svg");
  }],
  "two answers": ["#/ask/ink.usage", async (page) => page.getByText("Keep this answer").click()],
  "an unknown question": ["#/ask/mesh.unknown", async () => {}],
  "an error in a list": [`#/ask/exposure.curve?${encodeURIComponent('{"points":[{"exposure":"40 mJ/cm2","depth":"72 kg"}],"stencil_thickness":"110 um"}')}`, async (page) => page.waitForSelector(".fault")],
};

async function home(page) {
  await check("the home page has eight stops of at most five questions each, and leads to every calculation", async () => {
    await page.goto(server.address);
    await page.waitForSelector("#search");
    const stops = page.locator(".stops > .stop");
    assert.equal(await stops.count(), 8);
    for (const stop of await stops.all()) {
      const shown = await stop.locator("a.question").count();
      assert.ok(shown >= 1 && shown <= 5, `${shown} at ${await stop.locator("h2").textContent()}`);
    }
    while (await page.locator(".stops .link").count() > 0) await page.locator(".stops .link").first().click();
    const links = await page.locator("main :is(.stops, .anywhere) a.question").evaluateAll((all) => all.map((link) => link.getAttribute("href")));
    assert.deepEqual(links.toSorted(), calculations.map(({ id }) => `#/ask/${id}`).toSorted());
  });
}

async function seen(page) {
  for (const [name, [hash, act]] of Object.entries(VIEWS)) {
    await check(`axe finds nothing: ${name}`, async () => {
      await page.goto(server.address);
      await page.evaluate((to) => { location.hash = to; }, hash);
      await page.waitForSelector(hash === "#/" ? "#search" : ".lost, .answer :is(.refused, .large)");
      await act(page);
      await looked(page, async (look) => {
        assert.deepEqual(await axed(page), [], look);
        assert.ok(await over(page) <= 0, `${look}: sideways scroll`);
        assert.deepEqual(await small(page), [], `${look}: targets of 44 px`);
      });
    });
  }
}

/** What axe finds, put in by the debugger so that the page's policy stays as it is. */
async function axed(target) {
  const session = await target.context().newCDPSession(target);
  await session.send("Runtime.evaluate", { expression: axe });
  await session.detach();
  return target.evaluate(async () => (await window.axe.run(document, { resultTypes: ["violations"] })).violations.map(({ id, nodes }) => `${id}: ${nodes[0].html.slice(0, 120)}`));
}

await Promise.all([
  visited((page) => forms(page, calculations, vectorsDir)),
  visited(async (page, context) => {
    await uses(context, page, server.address, calculations);
    await home(page);
    await seen(page);
  }),
]);
await Promise.all([
  visited((page, context) => job(context, page, server.address, { calculations, $defs, axed })),
  visited(async (page, context) => {
    await shop(context, page, server, axed);
    await art(page, server.address, axed);
  }),
]);
await kept(dist, server, createHash, calculations);
await faults(dist);
server.close();
close();
