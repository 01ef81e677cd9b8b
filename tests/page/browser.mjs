// The built page, served and opened in Chromium as a visitor has it.
import { readFileSync, mkdtempSync, rmSync } from "node:fs";
import http from "node:http";
import { tmpdir } from "node:os";
import path from "node:path";
import { chromium } from "playwright-core";

const TYPES = {
  ".html": "text/html; charset=utf-8", ".js": "text/javascript", ".css": "text/css", ".wasm": "application/wasm", ".svg": "image/svg+xml", ".png": "image/png",
  ".woff2": "font/woff2", ".webmanifest": "application/manifest+json",
};

/** Serves a folder. `change` may give another body for a name; `headers` are sent with each answer. */
export async function serve(root, { change = () => undefined, headers = {} } = {}) {
  const server = http.createServer((request, response) => {
    const name = new URL(request.url, "http://localhost").pathname.slice(1) || "index.html";
    try {
      const body = change(name) ?? readFileSync(path.join(root, path.normalize(`/${name}`)));
      response.writeHead(200, { "Content-Type": TYPES[path.extname(name)] ?? "text/plain", ...headers }).end(body);
    } catch {
      response.writeHead(404).end("no such file");
    }
  });
  await new Promise((done) => server.listen(0, "127.0.0.1", done));
  const { port } = server.address();
  return {
    port, address: `http://127.0.0.1:${port}/`,
    close() {
      server.close();
      server.closeAllConnections();
    },
  };
}

/** A browser with a profile of its own, gone when it is closed. */
export async function browser(options = {}) {
  const profile = mkdtempSync(path.join(tmpdir(), "floodbar-page-"));
  const context = await chromium.launchPersistentContext(profile, {
    executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", headless: true, chromiumSandbox: false, viewport: { width: 1280, height: 900 },
    args: ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
      "--disable-component-update", "--disable-sync"],
    ...options,
  });
  context.setDefaultTimeout(10_000);
  return { context, async close() {
    await context.close();
    rmSync(profile, { recursive: true, force: true });
  } };
}

/** Opens the page, and keeps what its console says of errors. */
export async function open(context, address) {
  const page = await context.newPage();
  const said = [];
  page.on("console", (message) => message.type() === "error" && said.push(message.text()));
  page.on("pageerror", (error) => said.push(String(error)));
  await page.goto(address);
  await page.waitForSelector("h1");
  return { page, said };
}

/** What can be hit and is under 44 px in its width or height, of the whole page; a link within a sentence is as large as its words. */
export const small = (page) => page.evaluate(() => [...document.querySelectorAll("button, select, input, textarea, summary, a")].filter((one) => {
  const whole = one.matches("[type=radio], [type=checkbox], [type=file]") ? one.closest("label") ?? one : one;
  const { width, height, bottom } = whole.getBoundingClientRect();
  return width > 1 && height > 1 && bottom > -scrollY && (width < 43.99 || height < 43.99) && getComputedStyle(whole).display !== "inline";
}).map((one) => one.outerHTML.slice(0, 80)));

/** How many pixels the page is wider than the screen. */
export const over = (page) => page.evaluate(() => document.documentElement.scrollWidth - innerWidth);

/** How a view is looked at: in both schemes and three widths; each scheme and each width once, or in tests/deep with all others. */
const LOOKS = process.env.FLOODBAR_DEEP === "1"
  ? ["light", "dark"].flatMap((colorScheme) => [320, 768, 1280].map((width) => ({ colorScheme, width })))
  : [{ colorScheme: "light", width: 320 }, { colorScheme: "light", width: 768 }, { colorScheme: "dark", width: 1280 }];

export async function looked(page, body) {
  for (const { colorScheme, width } of LOOKS) {
    await page.emulateMedia({ colorScheme, reducedMotion: "reduce" });
    await page.setViewportSize({ width, height: 900 });
    await body(`${colorScheme}, ${width} px`, width);
  }
}
