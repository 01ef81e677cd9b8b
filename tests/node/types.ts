// Compiled, never run: the types let good calls through and stop slips of the hand.
import { calculate, calculateMany, calculateText, FloodbarError, measureArtwork, prepare, solve, sweep } from "floodbar";
import type { Calculations, ErrorCode, MeshGeometryAnswer, MeshGeometryRequest, Prepared } from "floodbar";
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

const many: (MeshGeometryAnswer | { error: { code: ErrorCode } })[] = calculateMany("mesh.geometry", [request, { mesh: "43-80" }]);
export const openings = many.map((answer) => ("error" in answer ? answer.error.code : answer.opening.value));

// What is set row by row, or varied, need not stand in the request.
const prepared: Prepared<MeshGeometryAnswer> = prepare("mesh.geometry", { mesh: { count: "77 /cm" } }, {
  inputs: ["/mesh/thread"], outputs: [{ at: "/opening", unit: "um" }, { at: "/mesh/weave", equals: "plain" }],
});
const rows = prepared.run([[50, 55]], [new Float64Array(2), new Float64Array(2)]);
prepared.run([new Float64Array(2)] as const);
export const status: "success" | ErrorCode | undefined = rows.status[0];
export const column: Float64Array | undefined = rows.columns[0];
export const cautions: Uint32Array = rows.cautions;
export const thread: number = prepared.explain([55]).thread.value;
export const unit: string | undefined = prepared.outputs[0]?.unit;
prepare("ink.usage", {}, { inputs: [], outputs: [] }).free();

const swept = sweep("mesh.geometry", {}, { vary: "/mesh", values: ["77-55", { count: "43 /cm" }] });
const point = swept.answers[0];
export const area: number = point === undefined || "error" in point ? NaN : point.open_area_fraction;
const told = sweep("ink.usage", { mesh: "77-55" }, {
  vary: "/printed_area", from: "1 cm2", to: { value: 9, unit: "cm2" }, points: 3, spacing: "geometric", want: ["/wet_film"],
});
export const films: (number | null)[] | undefined = told.columns[0]?.values;
export const failed: ErrorCode | undefined = told.errors[0]?.error.code;
const found = solve("press.overs", {}, { vary: "/pieces", from: 1, to: 1000, want: "/start_with", equals: 300 });
export const pieces: number = typeof found.value === "number" ? found.value : found.value.value;

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
// @ts-expect-error: no such field in a request of which some is left out
prepare("mesh.geometry", { mehs: {} }, { inputs: [], outputs: [] });
// @ts-expect-error: nor further down
prepare("mesh.geometry", { mesh: { cuont: "77 /cm" } }, { inputs: [], outputs: [] });
// @ts-expect-error: outputs are missing
prepare("mesh.geometry", { mesh: "77-55" }, { inputs: [] });
// @ts-expect-error: a column is in a unit, or equals a word
prepare("mesh.geometry", { mesh: "77-55" }, { inputs: [], outputs: [{ at: "/opening", equals: 1 }] });
// @ts-expect-error: columns are of double precision
prepared.run([new Float32Array(2)]);
// @ts-expect-error: and go into such columns
prepared.run([[50, 55]], [[0, 0]]);
// @ts-expect-error: another calculation's answer
export const wrongRow: number = prepared.explain([55]).wet_film;
// @ts-expect-error: from end to end, or as listed
sweep("mesh.geometry", {}, { vary: "/mesh/thread", from: "40 um", to: "60 um", points: 3, values: ["50 um"] });
// @ts-expect-error: points are missing
sweep("mesh.geometry", {}, { vary: "/mesh/thread", from: "40 um", to: "60 um" });
// @ts-expect-error: without `want` there are whole answers, no columns
export const noColumns = swept.columns;
// @ts-expect-error: with it there are no answers
export const noAnswers = told.answers;
// @ts-expect-error: one of many may be an error
export const unsure = many[0]?.opening;
// @ts-expect-error: what is wanted is missing
solve("press.overs", {}, { vary: "/pieces", from: 1, to: 1000, equals: 300 });
