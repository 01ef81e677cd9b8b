// What the page keeps, and what stands in its way: offline, versions that never mix, plain http, no WebAssembly, no storage.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import path from "node:path";
import { check } from "../node/checks.mjs";
import { browser, open, serve } from "./browser.mjs";

export async function kept(dist, server, createHash) {
  const index = readFileSync(path.join(dist, "index.html"), "utf8");
  const script = readFileSync(path.join(dist, "sw.js"), "utf8");

  await check("after the first load it works without a network, the larger binary too", async () => {
    const own = await serve(dist);
    const { context, close } = await browser();
    try {
      const { page } = await open(context, own.address);
      await page.getByText("Works without a network").waitFor();
      own.close();
      await context.setOffline(true);
      await page.reload();
      await page.waitForSelector("#search");
      for (const id of ["ink.usage", "job.quote"]) {
        await page.goto(`${own.address}#/ask/${id}`);
        await page.waitForSelector(".large");
      }
    } finally {
      await close();
      own.close();
    }
  });

  await check("versions never mix: half of a new one is not taken, the whole of it when asked for", async () => {
    const changed = new Map();
    const own = await serve(dist, { change: (name) => changed.get(name) });
    const { context, close } = await browser();
    try {
      const { page } = await open(context, own.address);
      await page.getByText("Works without a network").waitFor();
      const update = () => page.evaluate(async () => (await navigator.serviceWorker.getRegistration()).update().catch(() => {}));
      const title = () => page.evaluate(() => document.documentElement.lang);
      const next = index.replace('lang="en"', 'lang="en-GB"');
      // Its page is there before its list says so.
      changed.set("index.html", next);
      changed.set("sw.js", script.replace(/VERSION = "[^"]*"/, 'VERSION = "half"'));
      await update();
      await page.waitForTimeout(500);
      await page.reload();
      await page.waitForSelector("#search");
      assert.equal(await title(), "en");
      assert.deepEqual(await page.evaluate(async () => (await caches.keys()).length), 1);
      const digest = createHash("sha256").update(next).digest("base64");
      changed.set("sw.js", script.replace(/VERSION = "[^"]*"/, 'VERSION = "next"').replace(/"index\.html":"[^"]*"/, `"index.html":"${digest}"`));
      await update();
      await page.getByText("Use it now").click();
      await page.waitForFunction(() => document.documentElement.lang === "en-GB");
      await page.waitForSelector("#search");
      assert.deepEqual(await page.evaluate(() => caches.keys()), ["floodbar-next"]);
    } finally {
      await close();
      own.close();
    }
  });

  await check("over plain http it says that offline is off, and answers", async () => {
    const { context, close } = await browser({ args: ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
      "--disable-background-networking", "--disable-component-update", "--disable-sync", "--host-resolver-rules=MAP shop.test 127.0.0.1"] });
    try {
      const { page } = await open(context, `http://shop.test:${server.port}/#/ask/ink.usage`);
      await page.waitForSelector(".large");
      assert.match(await page.textContent(".foot"), /Offline is off: this page came over plain http/);
    } finally {
      await close();
    }
  });

  await check("where WebAssembly is forbidden, a sentence says so; without storage it works", async () => {
    const own = await serve(dist, { change: (name) => (name === "index.html" ? index.replace(" 'wasm-unsafe-eval'", "") : undefined) });
    const { context, close } = await browser();
    try {
      const { page } = await open(context, `${own.address}#/ask/ink.usage`);
      await page.getByText("forbids WebAssembly").first().waitFor();
      const other = await context.newPage();
      await other.addInitScript(() => {
        Object.defineProperty(window, "indexedDB", { get() { throw new DOMException("no", "SecurityError"); } });
      });
      await other.goto(`${server.address}#/ask/mesh.geometry`);
      await other.waitForSelector(".large");
    } finally {
      await close();
      own.close();
    }
  });
}
