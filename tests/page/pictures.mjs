// Draws what is kept as pictures: the page's icons from icon.svg, and the README's picture of the page: node pictures.mjs DIST
//
// By hand, not part of tests/run: after the icon or the look of the page has changed. CHROMIUM names the browser.
import { readFileSync } from "node:fs";
import path from "node:path";
import { browser, open, serve } from "./browser.mjs";

const [dist] = process.argv.slice(2);
if (dist === undefined) {
  console.error("usage: node pictures.mjs DIST");
  process.exit(2);
}
const examples = path.resolve(import.meta.dirname, "../../examples");
const icon = readFileSync(path.join(examples, "page/public/icon.svg"), "utf8");
const server = await serve(dist);
const { context, close } = await browser({ viewport: { width: 1100, height: 1080 } });

const { page } = await open(context, `${server.address}#/ask/dryer.window`);
await page.emulateMedia({ reducedMotion: "reduce" });
await page.waitForSelector(".large");
await page.locator(".what-if select").first().selectOption({ label: "Wet ink stack" });
await page.waitForSelector(".what-if svg .line.main", { state: "attached" });
await page.evaluate(() => document.activeElement.blur());
await page.screenshot({ path: path.join(examples, "pictures/page.png") });

for (const size of [192, 512]) {
  const drawing = await context.newPage();
  await drawing.setViewportSize({ width: size, height: size });
  await drawing.setContent(`<style>body { margin: 0 } svg { display: block; width: ${size}px }</style>${icon}`);
  await drawing.screenshot({ path: path.join(examples, `page/public/icon-${size}.png`) });
}
await close();
server.close();
