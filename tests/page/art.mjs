// A separation's picture: dropped, measured by the decoder of the run sheet, and drawn with what was found in it.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import path from "node:path";
import { crc32, deflateSync } from "node:zlib";
import { measureArtwork } from "floodbar";
import { check } from "../node/checks.mjs";

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

/** A black bar of so many pixels on white, row by row after the filter's byte. */
function bar(wide, high, from, to) {
  const row = Buffer.alloc(1 + wide, 255);
  row[0] = 0;
  const inked = Buffer.from(row).fill(0, 1 + from, 1 + to);
  const part = (y) => (y >= high / 4 && y < (3 * high) / 4 ? inked : row);
  return Buffer.concat(Array.from({ length: high }, (_, y) => part(y)));
}

export async function art(page, address) {
  await page.goto(`${address}#/job`);
  await page.waitForSelector(".art");
  const first = page.locator(".art").first();
  const give = (name, buffer, mimeType = "image/png") => first.locator("input[type=file]").setInputFiles({ name, mimeType, buffer });
  const fault = async (pattern) => {
    await first.locator(".fault").waitFor();
    assert.match(await first.locator(".fault").textContent(), pattern);
  };

  await check("a separation is measured as the core measures its pixels, and drawn with its finest places", async () => {
    // 2 mm wide and 5 mm high at 100 pixels to the millimetre... 1,000 x 1,000 pixels to 10 mm.
    const [wide, high, from, to] = [1000, 1000, 400, 600];
    const rows = bar(wide, high, from, to);
    await give("bar.png", png(wide, high, 8, deflateSync(rows), 100_000));
    await first.locator(".measured").waitFor({ timeout: 30_000 });
    const pixels = Uint8Array.from({ length: wide * high }, (_, index) => rows[Math.floor(index / wide) * (wide + 1) + 1 + (index % wide)]);
    const answer = measureArtwork(pixels, { pixels_wide: wide, pixels_high: high, resolution: "100000 /m", ink: "dark" });
    assert.ok(Math.abs(answer.finest_line.value - 2) < 0.01, "2 mm by construction");
    const request = await page.evaluate(() => window.floodbarJob?.());
    const stored = JSON.stringify(request ?? {});
    for (const name of ["printed_area", "finest_line", "edge_length"]) assert.ok(stored.includes(JSON.stringify(answer[name])), name);
    const circle = await first.locator("svg circle").last().evaluate((node) => [Number(node.getAttribute("cx")), Number(node.getAttribute("cy"))]);
    assert.ok(circle[0] >= from && circle[0] <= to && circle[1] > high / 4 && circle[1] < (3 * high) / 4, `drawn at ${circle}`);
  });
}
