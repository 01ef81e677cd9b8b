// What the page keeps, and what stands in its way: offline, versions that never mix, plain http, no WebAssembly, no storage.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import path from "node:path";
import { check } from "../node/checks.mjs";
import { browser, open, serve } from "./browser.mjs";

/** What the page may load, and run, and send to: from where it came, and nothing else. */
const POLICY = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; font-src 'self'; img-src 'self'; connect-src 'self'; worker-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'";

export async function kept(dist, server, createHash, calculations) {
  const index = readFileSync(path.join(dist, "index.html"), "utf8");
  const script = readFileSync(path.join(dist, "sw.js"), "utf8");

  await check("its policy lets nothing out and nothing in: what is fetched or shown from elsewhere is refused", async () => {
    const asked = [];
    const elsewhere = await serve(dist, { change: (name) => void asked.push(name) });
    const { context, close } = await browser();
    try {
      const { page } = await open(context, server.address);
      assert.equal(await page.getAttribute('meta[http-equiv="Content-Security-Policy"]', "content"), POLICY);
      const refused = await page.evaluate(async (address) => {
        const directives = [];
        document.addEventListener("securitypolicyviolation", ({ effectiveDirective }) => directives.push(effectiveDirective));
        const shown = (name, src) => new Promise((done) => {
          const one = document.createElement(name);
          one.onload = () => done(`${name} was loaded`);
          one.onerror = () => done(undefined);
          one.src = src;
          document.body.append(one);
        });
        const loaded = [
          await fetch(`${address}index.html`, { mode: "no-cors" }).then(() => "it was fetched", () => undefined),
          await shown("img", `${address}icon.svg`), await shown("script", `${address}sw.js`),
        ];
        return { directives, loaded: loaded.filter(Boolean) };
      }, elsewhere.address);
      assert.deepEqual(refused.loaded, []);
      assert.deepEqual(refused.directives.toSorted(), ["connect-src", "img-src", "script-src-elem"]);
      assert.deepEqual(asked, []);
    } finally {
      await close();
      elsewhere.close();
    }
  });

  await check("it can be installed, with icons of the sizes that are asked for", async () => {
    const { context, close } = await browser();
    try {
      const { page } = await open(context, server.address);
      await page.getByText("Works without a network").waitFor();
      const session = await context.newCDPSession(page);
      const { errors, data } = await session.send("Page.getAppManifest");
      assert.deepEqual(errors, []);
      const { icons } = JSON.parse(data);
      const touch = await page.getAttribute('link[rel="apple-touch-icon"]', "href");
      const drawn = await page.evaluate((all) => Promise.all(all.map(async (src) => {
        const image = new Image();
        image.src = src;
        await image.decode();
        return `${image.naturalWidth}x${image.naturalHeight}`;
      })), [...icons.filter(({ type }) => type === "image/png").map(({ src }) => src), touch]);
      assert.deepEqual(drawn, ["192x192", "512x512", "192x192"]);
      assert.deepEqual(icons.filter(({ type }) => type === "image/png").map(({ sizes }) => sizes), ["192x192", "512x512"]);
      const { installabilityErrors } = await session.send("Page.getInstallabilityErrors");
      assert.deepEqual(installabilityErrors, []);
    } finally {
      await close();
    }
  });

  await check("a calculation that the catalogue has more is asked like the others: at its stop, found, with its form", async () => {
    const { question, ...copied } = calculations.find(({ id }) => id === "ink.usage");
    const more = { ...copied, id: "ink.copied", question: "Is a copy of it asked as well?" };
    let put = 0;
    const own = await serve(dist, { change: (name) => {
      if (!name.endsWith(".js")) return undefined;
      const text = readFileSync(path.join(dist, name), "utf8");
      if (!text.includes(question)) return undefined;
      put += 1;
      return text.replace("calculations:[", () => `calculations:[${JSON.stringify(more)},`);
    } });
    // The worker that keeps the page would not take a script that is not of its version.
    const { context, close } = await browser({ serviceWorkers: "block" });
    try {
      const { page } = await open(context, own.address);
      assert.equal(put, 1);
      await page.fill("#search", "copy of it asked");
      await page.locator(".found a").first().click();
      await page.waitForFunction((text) => document.querySelector("h1").textContent === text, more.question);
      assert.match(await page.textContent(".where"), /Ink/);
      for (const [name, value] of Object.entries({ width: "320", height: "380", coverage_fraction: "38", prints: "240" })) assert.equal(await page.inputValue(`[data-at="/${name}"] input`), value);
      await page.locator(".fold").last().locator("summary").click();
      assert.deepEqual(JSON.parse(await page.textContent(".raw.request")), more.example);
    } finally {
      await close();
      own.close();
    }
  });

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
