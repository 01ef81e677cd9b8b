// Compiled, never run: the types let good calls through and stop slips of the hand.
import { calculate, calculateText, FloodbarError, measureArtwork } from "floodbar";
import type { Calculations, ErrorCode, MeshGeometryAnswer, MeshGeometryRequest } from "floodbar";
import { catalogue, schema } from "floodbar/catalogue";
import init, { calculate as calculateInBrowser, initWhole } from "floodbar/web";

const request: MeshGeometryRequest = { mesh: "77-55", units: "us" };
const geometry: MeshGeometryAnswer = calculate("mesh.geometry", request);
export const opening: number = geometry.opening.value;
export const first: "info" | "caution" | "limit" | undefined = geometry.notes[0]?.level;

calculate("mesh.geometry", { mesh: { count: "77 /cm", thread: { value: 55, unit: "um", plus_minus: 1 }, weave: "twill" } });
calculate("press.squeegee", { image_width: "320 mm", image_length: { value: 38, unit: "cm" } });
export const text: string = calculateText("mesh.geometry", '{"mesh": "77-55"}');
const art = measureArtwork(new Uint8Array(9), { pixels_wide: 3, pixels_high: 3, resolution: "300 /in", ink: "dark" });
calculate("ink.usage", { mesh: "77-55", ink: "plastisol", artwork: art, prints: 12 });
export const title: unknown = schema("ink.usage", "request").title;
export const stocked: string | undefined = catalogue().stock[0]?.rows[0]?.label;
export const ids: (keyof Calculations)[] = catalogue().calculations.map((entry) => entry.id);

try {
  await init(new Uint8Array());
  await initWhole(fetch("floodbar_whole_bg.wasm"));
  calculateInBrowser("mesh.geometry", { mesh: "77-55" });
} catch (error) {
  if (error instanceof FloodbarError) {
    const told: [ErrorCode, string, string, unknown, readonly string[]] =
      [error.code, error.field, error.message, error.got, error.allowed];
    console.log(told);
  }
}

// @ts-expect-error: no such field
calculate("mesh.geometry", { mehs: "77-55" });
// @ts-expect-error: no such field beside the right one
calculate("mesh.geometry", { mesh: "77-55", opening: "75 um" });
// @ts-expect-error: no such calculation
calculate("mesh.geometri", { mesh: "77-55" });
// @ts-expect-error: the request of another calculation
calculate("press.squeegee", request);
// @ts-expect-error: a bare number is no quantity
calculate("press.squeegee", { image_width: 320, image_length: "380 mm" });
// @ts-expect-error: a quantity needs its unit
calculate("press.squeegee", { image_width: { value: 320 }, image_length: "380 mm" });
// @ts-expect-error: pixels are bytes
measureArtwork([0, 255], { pixels_wide: 2, pixels_high: 1, resolution: "300 /in", ink: "dark" });
// @ts-expect-error: and do not come twice
measureArtwork(new Uint8Array(2), { pixels_wide: 2, pixels_high: 1, resolution: "300 /in", ink: "dark", pixels: [0, 255] });
// @ts-expect-error: a needed field is missing
calculate("press.squeegee", { image_width: "320 mm" });
// @ts-expect-error: a word that is not on the list
calculate("mesh.geometry", { mesh: "77-55", units: "imperial" });
// @ts-expect-error: no such member of the answer
export const wrong = geometry.openning;
