// Compiled, never run: the types let good calls through and stop slips of the hand.
import { Cache, calculate, calculateMany, calculateText, FloodbarError, init, initWhole, measureArtwork, prepare, solve, sweep } from "floodbar";
import type {
  Angle, Area, AreaUnit, Calculations, Count, Density, ErrorCode, Force, HeatTransfer, InkUsageRequest, Irradiance, Length, Mass, MassPerArea,
  MeshGeometryAnswer, MeshGeometryRequest, Money, MoneyPerTime, Number as Plain, Prepared, RadiantExposure, Temperature, TemperatureDifference,
  Tension, ThermalConductivity, Time, Velocity, Volume,
} from "floodbar";
import { catalogue, schema } from "floodbar/catalogue";
import * as worker from "floodbar/worker";

const request: MeshGeometryRequest = { mesh: "77-55", units: "us" };
const geometry: MeshGeometryAnswer = calculate("mesh.geometry", request);
export const opening: number = geometry.opening.value;
export const first: "info" | "caution" | "limit" | undefined = geometry.notes[0]?.level;

calculate("mesh.geometry", { mesh: { count: "77 /cm", thread: { value: 55, unit: "um", plus_minus: 1 }, weave: "twill" } });
calculate("press.squeegee", { image_width: "320 mm", image_length: { value: 38, unit: "cm" } });
export const text: string = calculateText("mesh.geometry", '{"mesh": "77-55"}');
const picture = { pixels_wide: 3, pixels_high: 3, resolution: "300 /in", ink: "dark" } as const;
const art = measureArtwork(new Uint8Array(9), picture);
calculate("ink.usage", { mesh: "77-55", ink: "plastisol", artwork: art, prints: 12 });
export const title: unknown = schema("ink.usage", "request").title;
export const stocked: string | undefined = catalogue().stock[0]?.rows[0]?.label;
export const operated: [string, unknown, unknown] = [catalogue().operators.sweep.description, catalogue().operators.solve.spec.type, catalogue().operators.prepare.answer];
// @ts-expect-error: what stands in the catalogue is named
catalogue().operator;
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
} catch (error) {
  if (error instanceof FloodbarError) {
    const told: [ErrorCode, string, string, unknown, readonly string[]] =
      [error.code, error.field, error.message, error.got, error.allowed];
    console.log(told);
  }
}

// Quantities as they are written: decimals, fractions, with and without a space, with doubt before and after the unit.
declare const x: number;
declare const typed: string;
export const lengths: Length[] = [
  "320 mm", "12.5in", "1e-3 m", ".5 in", "-1 mm", "1/16 in", "1/16in", "3 1/2 in", '3 1/2"', "55 µm", "55 μm", "4 mil", "27 cm3/m2", "27 cm³/m²",
  "5 mm +/- 0.1 mm", "5 mm ± 0.1 mm", "5mm+-0.1mm", "5 mm +/- 2 %", "27 um +/- 3 %", "27 +/- 3 um", "27±3um", `${x} mm`, `${x}mm`,
  `${x} +/- ${x} mm`, `${x} mm +/- ${x} mm`, `${x} mm +/- ${x} %`, { value: 5, unit: "mm" }, { value: 5, unit: "µm", plus_minus: 0.1 },
];
export const said: Length = typed as Length;
export const areas: Area[] = ["460 cm2", "460 cm²", "460 cm2 +/- 2 %", "71 in2", `${x} ${"cm2" as AreaUnit}`];
export const temperatures: Temperature[] = ["160 +/- 3 degC", "160 degC +/- 3 K", "160 ± 3 °C", "320 +/- 9 degF", "-10 C", "433 K"];
export const differences: TemperatureDifference[] = ["3 K", "9 delta_degF"];
export const numbers: Plain[] = ["0.40 +/- 0.08", "40 %", "40%", "40 +/- 8 %", "1/3", `${x} %`, { value: 0.4 }, { value: 40, unit: "%", plus_minus: 8 }];
export const counts: Count[] = ["77 /cm", "77/cm", "77 1/cm", "195 tpi", "77 /cm +/- 1 /cm"];
export const others: [Angle, Density, Force, HeatTransfer, Irradiance, Mass, MassPerArea, RadiantExposure, Tension, ThermalConductivity, Time, Velocity, Volume] = [
  "22.5 deg", "1.15 g/cm3", "12 N", "20 W/(m2.K)", "15 kW/m2", "4 oz", "180 gsm", "150 mJ/cm2", "25 N/cm", "0.055 W/(m.K)", "1 min", "12 ft/min", "8 fl oz",
];
export const amounts: [Money, Money, Money, MoneyPerTime] = ["12.50 EUR", { value: "12.50", unit: "EUR" }, "12.50 EUR +/- 2 %", "28 EUR/h"];
export const order = {
  mesh: "55-64", ink: "plastisol-white", printed_area: "460 cm2 +/- 2 %", prints: 240,
} satisfies InkUsageRequest;
// What was answered may be asked.
calculate("unit.convert", { quantity: geometry.opening, to: "in" });
export const film: Length = calculate("ink.usage", order).wet_film;

// The worker's functions are the same, as promises.
export const later: Promise<MeshGeometryAnswer> = worker.calculate("mesh.geometry", request, { signal: AbortSignal.timeout(10) });
export const handle: worker.Prepared<MeshGeometryAnswer> = await worker.prepare("mesh.geometry", {}, { inputs: ["/mesh"], outputs: ["/opening"] });
export const ran: Float64Array | undefined = (await handle.run([new Float64Array(2)], { transfer: true })).columns[0];
await worker.init(await WebAssembly.compileStreaming(fetch("floodbar_bg.wasm")));

// @ts-expect-error: a mass is no area
calculate("ink.usage", { mesh: "55-64", ink: "plastisol", printed_area: "460 kg", prints: 240 });
// @ts-expect-error: nor is a length
export const length: Area = "460 cm";
// @ts-expect-error: nor apart
export const apart: Area = { value: 460, unit: "kg" };
// @ts-expect-error: nor with doubt
export const doubted: Area = "460 +/- 2 kg";
// @ts-expect-error: nor put together
export const made: Area = `${x} kg`;
// @ts-expect-error: nor is a number without a unit
export const bare: Area = "460";
// @ts-expect-error: what was typed is to be checked first
export const unchecked: Area = typed;
// @ts-expect-error: a comma is never guessed
export const comma: Length = "12,5 mm";
// @ts-expect-error: words are no numbers
export const spelt: Length = "twelve mm";
// @ts-expect-error: a difference is no temperature
export const difference: Temperature = "9 delta_degF";
// @ts-expect-error: money has a currency
export const money: Money = "12.50";
// @ts-expect-error: a worker answers with promises
export const early: MeshGeometryAnswer = worker.calculate("mesh.geometry", request);
// @ts-expect-error: what was worked out as a length is no area
export const other: Area = geometry.opening;

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

const cache = new Cache(100);
export const hits: number = cache.counts().hits;
calculate("mesh.geometry", request, { cache });
export const misses: Promise<number> = new worker.Cache().counts().then((counts) => counts.misses);
// @ts-expect-error: a cache is given by its name
sweep("mesh.geometry", {}, { vary: "/mesh", values: [] }, cache);
worker.measureArtwork(new Uint8Array(9), picture, { transfer: true });
// @ts-expect-error: no heat is kept of a picture
worker.measureArtwork(new Uint8Array(9), picture, { cache: new worker.Cache() });
// @ts-expect-error: nor given where rows are run: they have that of their calculation
handle.run([[1]], { cache: new worker.Cache() });
// @ts-expect-error: the cache of a worker is in the worker
calculate("mesh.geometry", request, { cache: new worker.Cache() });
// @ts-expect-error: and one that is here is not
worker.calculate("mesh.geometry", request, { cache });
