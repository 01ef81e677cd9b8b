// What breaks under the page: a binary that is missing, cut or another's, a worker that dies, a decoder that does not load.
import assert from "node:assert/strict";
import { readFileSync, readdirSync } from "node:fs";
import path from "node:path";
import { check } from "../node/checks.mjs";
import { browser, open, serve } from "./browser.mjs";

export async function faults(dist) {
  const wasm = (name) => readdirSync(dist, { recursive: true }).map((file) => file.split(path.sep).join("/")).find((file) => new RegExp(`${name}-[^/]*\\.wasm$`).test(file));
  const [lean, whole, decoder] = ["floodbar_bg", "floodbar_whole_bg", "decoder_bg"].map(wasm);
  assert.ok(lean && whole && decoder);
  const bytes = (name) => readFileSync(path.join(dist, name));
  const cut = (name) => bytes(name).subarray(0, bytes(name).length / 2);
  // Its code is another's: it is not valid, though its beginning is.
  const damaged = (name) => Buffer.concat([bytes(name).subarray(0, 8), Buffer.alloc(2000, 0xff)]);
  const missing = () => { throw new Error("no such file"); };
  const html = () => Buffer.from("<!doctype html><title>not found</title>");

  /** A server some of whose files are other ones, and a page of it; without its service worker, which would keep what was there before. */
  async function visited(changed, body) {
    const own = await serve(dist, { change: (name) => changed.get(name)?.(name) });
    const { context, close } = await browser({ serviceWorkers: "block" });
    try {
      await body(context, own.address);
    } finally {
      await close();
      own.close();
    }
  }
  /** The example's other values are kept, so that each number of prints has an answer. */
  const begun = async (context, address) => {
    const { page } = await open(context, `${address}#/ask/ink.usage`);
    await page.waitForSelector(".large");
    await page.locator('[data-at="/prints"] input').first().fill("50");
    await page.getByText("Keep its other values").click();
    await page.waitForSelector(".large");
    return page;
  };
  const asked = async (page, prints) => {
    await page.locator('[data-at="/prints"] input').first().fill(prints);
    await page.waitForFunction((wanted) => document.querySelector('[data-at="/prints"] input').value === wanted && document.querySelector(".large") !== null, prints);
  };

  await check("a binary that does not load is told with what to do, and loading the page again mends it", async () => {
    const changed = new Map();
    await visited(changed, async (context, address) => {
      for (const [what, words] of [[cut, "is no whole WebAssembly file"], [damaged, "is no whole WebAssembly file"], [missing, "is answered 404"], [html, "put the wasm file there"]]) {
        changed.set(lean, what);
        const { page } = await open(context, `${address}#/ask/ink.usage`);
        const told = page.getByRole("alert");
        await told.waitFor();
        assert.match(await told.textContent(), new RegExp(`Nothing can be worked out here: .*${words}`), what.name);
        changed.clear();
        await page.getByText("Load the page again").click();
        await page.waitForSelector(".large");
        await page.close();
      }
    });
  });

  await check("where the larger binary does not load the smaller one answers, and it can be asked for again", async () => {
    const changed = new Map([[whole, cut]]);
    await visited(changed, async (context, address) => {
      const { page } = await open(context, `${address}#/ask/job.quote`);
      await page.getByText("is no whole WebAssembly file").first().waitFor();
      await page.evaluate(() => { location.hash = "#/ask/ink.usage"; });
      await page.waitForSelector(".large");
      await page.evaluate(() => { location.hash = "#/ask/job.quote"; });
      await page.getByText("is no whole WebAssembly file").first().waitFor();
      changed.clear();
      await page.getByText("Work it out again").click();
      await page.waitForSelector(".large");
    });
  });

  await check("after a worker that died the next question is answered", async () => {
    await visited(new Map(), async (context, address) => {
      const page = await begun(context, address);
      for (const [turn, dies] of [() => setTimeout(() => { throw new Error("died"); }), () => setTimeout(() => Promise.reject(new Error("died"))), () => self.close()].entries()) {
        await asked(page, String(100 + turn));
        await Promise.all(page.workers().map((worker) => worker.evaluate(dies).catch(() => {})));
        // One that is gone without a word is found out by the question after it, and its spare by the next.
        for (const more of [200, 300, 400]) {
          await page.locator('[data-at="/prints"] input').first().fill(String(more + turn));
          await page.waitForTimeout(300);
        }
        await asked(page, String(500 + turn));
        await page.waitForFunction(() => document.querySelector(".answer .refused, .answer .busy") === null);
      }
    });
  });

  await check("a decoder that does not load is told as such, not as too large a picture", async () => {
    const changed = new Map([[decoder, cut]]);
    await visited(changed, async (context, address) => {
      const { page } = await open(context, `${address}#/job`);
      await page.waitForSelector(".art");
      // As a person does, who chooses the same file again.
      const give = async () => {
        const [chooser] = await Promise.all([page.waitForEvent("filechooser"), page.locator(".art input[type=file]").first().click()]);
        await chooser.setFiles(path.resolve(import.meta.dirname, "../../examples/orders/regatta-hull-lines.png"));
      };
      await give();
      await page.getByText("what reads pictures did not load").first().waitFor();
      changed.clear();
      await give();
      await page.getByText("what reads pictures did not load").first().waitFor({ state: "detached" });
    });
  });
}
