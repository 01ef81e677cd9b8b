// A separation's picture: dropped, measured by the decoder of the run sheet, and drawn with what was found in it.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import path from "node:path";
import { crc32, deflateSync } from "node:zlib";
import { check } from "../node/checks.mjs";
import { looked } from "./browser.mjs";

const { measureArtwork } = createRequire(import.meta.url)("../../wasm/pkg/node.cjs");
const orders = path.resolve(import.meta.dirname, "../../examples/orders");

/** A chunk of a PNG (ISO/IEC 15948). */
function chunk(name, data) {
  const body = Buffer.concat([Buffer.from(name, "latin1"), data]);
  const [length, check] = [Buffer.alloc(4), Buffer.alloc(4)];
  length.writeUInt32BE(data.length);
  check.writeUInt32BE(crc32(body));
  return Buffer.concat([length, body, check]);
}

/** A grey PNG; `bits` a pixel, so many pixels to the metre if at all. */
function png(wide, high, bits, rows, perMetre) {
  const header = Buffer.alloc(13);
  header.writeUInt32BE(wide, 0);
  header.writeUInt32BE(high, 4);
  header.set([bits, 0, 0, 0, 0], 8);
  const density = Buffer.alloc(9);
  density.writeUInt32BE(perMetre ?? 0, 0);
  density.writeUInt32BE(perMetre ?? 0, 4);
  density[8] = 1;
  return Buffer.concat([
    Buffer.from("\x89PNG\r\n\x1a\n", "latin1"), chunk("IHDR", header), ...(perMetre ? [chunk("pHYs", density)] : []), chunk("IDAT", rows), chunk("IEND", Buffer.alloc(0)),
  ]);
}

/** A grey TIFF of 8 bits and one strip, as large as its resolution says (TIFF 6.0). */
function tiff(wide, high, greys, perCentimetre) {
  const entries = [[256, 4, wide], [257, 4, high], [258, 3, 8], [259, 3, 1], [262, 3, 1], [273, 4, 0], [277, 3, 1], [278, 4, high], [279, 4, greys.length], [282, 5, 0], [283, 5, 0], [296, 3, 3]];
  const density = 8 + 2 + 12 * entries.length + 4;
  const body = Buffer.alloc(density + 8);
  body.write("II*\0", "latin1");
  body.writeUInt32LE(8, 4);
  body.writeUInt16LE(entries.length, 8);
  entries.forEach(([tag, type, value], index) => {
    const at = 10 + 12 * index;
    body.writeUInt16LE(tag, at);
    body.writeUInt16LE(type, at + 2);
    body.writeUInt32LE(1, at + 4);
    body.writeUInt32LE(tag === 273 ? body.length : type === 5 ? density : value, at + 8);
  });
  body.writeUInt32LE(perCentimetre, density);
  body.writeUInt32LE(1, density + 4);
  return Buffer.concat([body, greys]);
}

/** A black bar of so many pixels on white, row by row after the filter's byte. */
function bar(wide, high, from, to) {
  const row = Buffer.alloc(1 + wide, 255);
  row[0] = 0;
  const inked = Buffer.from(row).fill(0, 1 + from, 1 + to);
  const part = (y) => (y >= high / 4 && y < (3 * high) / 4 ? inked : row);
  return Buffer.concat(Array.from({ length: high }, (_, y) => part(y)));
}

export async function art(page, address, axed) {
  const decoder = [];
  page.on("request", (request) => /decode/.test(request.url()) && decoder.push(request.url()));
  await page.goto(`${address}#/job`);
  await page.waitForSelector(".art");
  await page.waitForLoadState("networkidle");
  const first = page.locator(".art").first();
  const give = (name, buffer) => first.locator("input[type=file]").setInputFiles({ name, mimeType: "image/png", buffer });
  /** What was measured for the first screen, as the order has it. */
  const stands = async () => {
    const [download] = await Promise.all([page.waitForEvent("download"), page.getByText("Save to a file").click()]);
    return JSON.parse(readFileSync(await download.path(), "utf8")).placements?.[0].screens[0].artwork;
  };
  const measured = () => first.locator(".measured").waitFor({ timeout: 60_000 });
  const refused = async (pattern) => {
    await page.waitForFunction(([source]) => new RegExp(source).test(document.querySelector(".art .fault")?.textContent ?? ""), [pattern.source], { timeout: 60_000 });
  };
  // 10 mm a side at 100 pixels to the millimetre, and in it a bar of 2 mm by 5 mm.
  const [side, from, to] = [1000, 400, 600];
  const rows = bar(side, side, from, to);

  const pixels = Uint8Array.from({ length: side * side }, (_, index) => rows[Math.floor(index / side) * (side + 1) + 1 + (index % side)]);
  await check("a separation is measured as the core measures its pixels, and drawn with its finest places", async () => {
    assert.deepEqual(decoder, [], "what reads pictures is not loaded before there is one");
    await give("bar.png", png(side, side, 8, deflateSync(rows), 100_000));
    await measured();
    assert.ok(decoder.some((url) => url.endsWith(".wasm")), `only ${decoder.join()} was loaded`);
    const { notes, basis, ...answer } = measureArtwork(pixels, { pixels_wide: side, pixels_high: side, resolution: "100000 /m", ink: "dark" });
    assert.ok(Math.abs(answer.finest_line.value - 2) < 0.01 && Math.abs(answer.printed_area.value - 0.1) < 0.001, "2 mm, and 10 mm2, by construction");
    const kept = await stands();
    for (const name of ["printed_area", "edge_length", "finest_line"]) {
      const [own, theirs] = [kept[name], answer[name]].map((value) => (typeof value === "string" ? value : `${value.value} ${value.unit}`));
      assert.equal(own, theirs);
    }
    await first.locator("svg circle").first().waitFor();
    const [x, y] = await first.locator("svg circle").last().evaluate((node) => [Number(node.getAttribute("cx")), Number(node.getAttribute("cy"))]);
    assert.ok(x >= from && x <= to && y > side / 4 && y < (3 * side) / 4, `drawn at ${x}, ${y}`);
    // What is drawn is dark where the bar is.
    const grey = await first.locator("canvas").evaluate((canvas) => [0.5, 0.1].map((part) => canvas.getContext("2d").getImageData(canvas.width * part, canvas.height / 2, 1, 1).data[0]));
    assert.deepEqual(grey, [0, 255]);
  });
  await check("a picture that cleared the example stands where the example has a covered share, when its other values are kept", async () => {
    const { width } = (await stands());
    await page.getByText("Keep its other values").click();
    await page.waitForSelector('[data-stop="Art"][data-given]');
    assert.deepEqual((await stands()).width, width);
    const [download] = await Promise.all([page.waitForEvent("download"), page.getByText("Save to a file").click()]);
    const [screen, next] = JSON.parse(readFileSync(await download.path(), "utf8")).placements[0].screens;
    assert.deepEqual([screen.name, screen.coverage_fraction, next.coverage_fraction], ["base white", undefined, 0.12]);
  });
  await check("axe finds nothing beside a picture", async () => {
    await looked(page, async (look, width) => {
      assert.deepEqual(await axed(page), [], look);
      assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth), `${width} px`);
    });
  });
  await check("a file that does not say how fine it is is asked about", async () => {
    await give("bare.png", png(side, side, 8, deflateSync(rows)));
    const field = first.getByLabel(/resolution/i);
    await field.fill("250");
    await first.getByText("Measure", { exact: true }).click();
    await refused(/unit/);
    assert.equal(await field.inputValue(), "250");
    await field.fill("50 /mm");
    await first.getByText("Measure", { exact: true }).click();
    await page.waitForFunction(() => /4\smm/.test(document.querySelector(".art .found-key")?.textContent ?? ""), undefined, { timeout: 60_000 });
  });
  await check("a damaged file, one of another kind, and one of 200 megapixels are refused in a sentence", async () => {
    const before = await stands();
    const whole = png(side, side, 8, deflateSync(rows), 100_000);
    await give("cut.png", whole.subarray(0, whole.length / 2));
    await refused(/cut\.png: This is not a sound PNG/);
    await give("note.png", Buffer.from("no picture"));
    await refused(/neither a PNG nor a TIFF/);
    await give("huge.png", png(20_000, 10_000, 8, deflateSync(Buffer.alloc(1)), 100_000));
    await refused(/120 million/);
    assert.deepEqual(await stands(), before, "what was measured stays");
  });
  await check("a picture stands only with the order that it was measured for: not after undo, nor with an order from a file", async () => {
    const kept = await stands();
    const said = await first.locator(".measured").textContent();
    const drawn = () => first.locator("canvas, .measured").count();
    assert.equal(await drawn(), 2);
    const step = (name) => page.getByRole("button", { name }).click();
    let steps = 0;
    while (JSON.stringify(await stands()) === JSON.stringify(kept)) {
      await step("Undo");
      steps += 1;
      assert.ok(steps < 5, "undo changes nothing");
    }
    assert.equal(await drawn(), 0, "after undo");
    while (steps-- > 0) await step("Redo");
    assert.deepEqual(await stands(), kept);
    await measured();
    assert.equal(await first.locator(".measured").textContent(), said);
    await page.setInputFiles(".tools input[type=file]", path.join(orders, "bakery.json"));
    await page.waitForFunction(() => /Read from/.test(document.querySelector(".told").textContent));
    assert.equal(await drawn(), 0, "with another order");
    assert.equal(await first.getByLabel(/resolution/i).count() + await first.locator(".fault").count(), 0, "nor what was asked or refused of its file");
    await step("Undo");
    await measured();
    // A number of it that is changed by hand is not the picture's any more, and keeps the focus.
    await page.getByText("Without the picture").first().click();
    const area = page.locator('[data-at="/placements/0/screens/0/artwork/printed_area"] input');
    await area.press("End");
    await page.keyboard.type("1");
    assert.equal(await drawn(), 0, "with another number");
    assert.ok(await area.evaluate((one) => one === document.activeElement));
    await area.blur();
    await step("Undo");
    await measured();
  });
  await check("a TIFF that is dropped on the art is read there, and not as an order", async () => {
    await page.evaluate((text) => {
      const data = new DataTransfer();
      data.items.add(new File([Uint8Array.from(atob(text), (one) => one.charCodeAt(0))], "bar.tif", { type: "image/tiff" }));
      document.querySelector(".art").dispatchEvent(new DragEvent("drop", { dataTransfer: data, bubbles: true, cancelable: true }));
    }, tiff(side, side, Buffer.from(pixels), 500).toString("base64"));
    await page.waitForFunction(() => /4\smm/.test(document.querySelector(".art .found-key")?.textContent ?? ""), undefined, { timeout: 60_000 });
    const { finest_line } = measureArtwork(pixels, { pixels_wide: side, pixels_high: side, resolution: "500 /cm", ink: "dark" });
    assert.equal((await stands()).finest_line, `${finest_line.value} ${finest_line.unit}`);
    assert.doesNotMatch(await page.textContent(".told"), /bar/);
  });
  await check("20 megapixels are measured, and drawn small", async () => {
    await give("large.png", png(5000, 4000, 8, deflateSync(bar(5000, 4000, 1000, 1400), { level: 1 }), 20_000));
    await page.waitForFunction(() => /20\smm/.test(document.querySelector(".art .found-key")?.textContent ?? ""), undefined, { timeout: 120_000 });
    assert.ok((await first.locator("canvas").evaluate(({ width }) => width)) <= 1200);
  });
  await check("the pictures of the demo order show what was drawn: lines of 0.4 mm, a halftone of 1.4 dots to the millimetre that rises by 22.5 degrees", async () => {
    const before = await first.locator(".found-key").textContent();
    await first.locator("input[type=file]").setInputFiles(path.join(orders, "regatta-hull-lines.png"));
    await page.waitForFunction((old) => document.querySelector(".art .found-key").textContent !== old, before, { timeout: 60_000 });
    const [, line] = /(\d+\.\d+)\smm/.exec(await first.locator(".found-key li").first().textContent());
    // Within a pixel, of which there are 300 to the inch.
    assert.ok(Math.abs(Number(line) - 0.4) < 25.4 / 300, `${line} mm`);
    await first.locator("input[type=file]").setInputFiles(path.join(orders, "regatta-pennant-red.png"));
    await first.locator(".rows-of-dots").waitFor({ timeout: 60_000 });
    const { turn, rows } = await first.locator(".rows-of-dots").evaluate((group) => ({
      turn: Number(/rotate\(([-\d.]+)/.exec(group.getAttribute("transform"))[1]),
      rows: [...group.children].map((row) => Number(/^M\S+ (\S+)h/.exec(row.getAttribute("d"))[1])),
    }));
    assert.ok(Math.abs(turn + 22.5) < 0.5, `turned by ${turn}`);
    // Ten rows of 1.4 dots to the millimetre.
    const ten = (10 / 1.4) * (300 / 25.4);
    for (const index of [1, 2]) assert.ok(Math.abs(rows[index] - rows[index - 1] - ten) < 1, `rows at ${rows}`);
  });
}
