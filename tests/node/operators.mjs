// Operators over the calculations, on both builds and both binaries: node operators.mjs PACKAGE_DIR
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import path from "node:path";
import vm from "node:vm";
import { catalogue } from "floodbar/catalogue";
import { LACKING, check, close, collected, openCounted, openPage } from "./checks.mjs";

const [packageDir] = process.argv.slice(2);
if (packageDir === undefined) {
  console.error("usage: node operators.mjs PACKAGE_DIR");
  process.exit(2);
}
const binary = (name) => readFileSync(path.resolve(packageDir, name));
const [lean, whole] = [await openPage(packageDir), await openPage(packageDir)];
await lean.init(binary("floodbar_bg.wasm"));
await whole.initWhole(binary("floodbar_whole_bg.wasm"));
const builds = { node: await import("floodbar"), lean, whole };

const bits = (numbers) => [...new BigUint64Array(Float64Array.from(numbers).buffer)];
const at = (document, pointer) => pointer.split("/").slice(1).reduce((value, step) => value?.[step], document);
/** A number of an answer as a column has it. */
const number = (answer, pointer) => {
  const found = at(answer, pointer);
  if (typeof found === "boolean") return found ? 1 : 0;
  return found === undefined || found === null ? NaN : found.value ?? found;
};
const count = (answer, level) => answer.notes.filter((note) => note.level === level).length;

// Rows of a few calculations: how a request has what the columns set, and numbers for them, some of which are refused.
const rows = [
  {
    id: "ink.usage",
    request: { mesh: "77-55", ink: "plastisol" },
    inputs: [{ at: "/printed_area", unit: "cm2" }, "/prints", "/waste_fraction"],
    outputs: ["/wet_film", { at: "/mass_per_print", unit: "g" }, { at: "/mass_to_mix", unit: "g" }],
    whole: ([area, prints, waste_fraction]) => ({ printed_area: { value: area, unit: "cm2" }, prints, waste_fraction }),
    columns: [[250, 120.5, -1, 0.001, NaN, 250, 300, 260, 1e9], [12, 1, 12, 24, 12, 1.5, 0, 2, 3], [0.1, 0, 0.1, 0.9, 0.1, 0.1, 0.1, 2, 0.1]],
  },
  {
    id: "stencil.thickness",
    request: { mesh: { count: "77 /cm", thread: "55 um" } },
    inputs: ["/coated_thickness"],
    outputs: ["/over_mesh", "/over_mesh_fraction", { at: "/verdict", equals: "good" }, { at: "/verdict", equals: "thin" }],
    whole: ([um]) => ({ coated_thickness: { value: um, unit: "um" } }),
    columns: [[90, 100, 102.5, 115, 140, 30, Infinity, -0, 200]],
  },
  {
    id: "mesh.geometry",
    request: {},
    inputs: [{ at: "/mesh/count", unit: "/in" }, "/mesh/thread"],
    outputs: ["/opening", "/open_area_fraction", "/thickness_estimated", { at: "/ink_volume", unit: "cm3/m2" }],
    whole: ([perInch, um]) => ({ mesh: { count: { value: perInch, unit: "/in" }, thread: { value: um, unit: "um" } } }),
    columns: [[195, 110, 230, 305, 195.5], [55, 80, 48, 120, 0]],
  },
  {
    // No beat is visible at some angles.
    id: "mesh.moire",
    request: { mesh: "77-55", ruling: "45 /in", angles: ["22.5 deg"], visible_period: "1 mm" },
    inputs: [{ at: "/angles/0", unit: "deg" }, "/ruling"],
    outputs: [{ at: "/beats/0/period", unit: "mm" }, "/beats/0/order/0", "/beats/40/strength", "/per_angle/0/angle"],
    whole: ([degrees, ruling]) => ({ angles: [{ value: degrees, unit: "deg" }], ruling: { value: ruling, unit: "/cm" } }),
    columns: [[0, 22.5, 7.5, 45, 61], [18, 18, 26, 20, 14]],
  },
];

for (const [build, floodbar] of Object.entries(builds)) {
  const test = (name, body) => check(`${build}: ${name}`, body);
  const { calculate, calculateMany, FloodbarError, prepare, solve, sweep } = floodbar;

  const refusal = (call) => {
    try {
      call();
    } catch (error) {
      assert.ok(error instanceof FloodbarError, `threw ${error.stack}`);
      return error;
    }
    assert.fail(`nothing was thrown by ${call}`);
  };
  const refused = (code, field, call) => {
    const error = refusal(call);
    assert.deepEqual([error.code, error.field], [code, field], `${error.message} by ${call}`);
    return error;
  };
  /** The answer of a request, or the code of its error. */
  const asked = (id, request) => {
    try {
      return { answer: calculate(id, request), status: "success" };
    } catch (error) {
      return { status: error.code };
    }
  };

  for (const { id, request, inputs, outputs, whole: rest, columns } of rows) {
    const prepared = prepare(id, request, { inputs, outputs });
    const ran = prepared.run(columns.map((column) => Float64Array.from(column)));
    const row = (index) => columns.map((column) => column[index]);
    let [answered, failed, absent] = [0, 0, 0];

    await test(`rows of ${id} are what calculate answers, bit for bit`, () => {
      for (let index = 0; index < columns[0].length; index += 1) {
        const values = row(index);
        // What JSON does not have is refused as what cannot be.
        const single = values.every(Number.isFinite) ? asked(id, { ...request, ...rest(values) }) : { status: "out_of_range" };
        assert.equal(ran.status[index], single.status, `row ${index}`);
        const got = ran.columns.map((column) => column[index]);
        const want = outputs.map((output, place) => {
          if (single.answer === undefined) return NaN;
          if (output.equals !== undefined) return Number(at(single.answer, output.at) === output.equals);
          const { at: pointer, unit } = prepared.outputs[place];
          const told = at(single.answer, pointer);
          if (told?.unit !== undefined) assert.equal(told.unit, unit);
          return number(single.answer, pointer);
        });
        assert.deepEqual(bits(got), bits(want), `row ${index}: ${got}, ${want}`);
        absent += want.filter((value) => single.answer && Number.isNaN(value)).length;
        if (single.answer === undefined) {
          failed += 1;
          assert.equal(refusal(() => prepared.explain(values)).code, single.status);
        } else {
          answered += 1;
          assert.equal(JSON.stringify(prepared.explain(values)), JSON.stringify(single.answer));
          assert.deepEqual([ran.cautions[index], ran.limits[index]], [count(single.answer, "caution"), count(single.answer, "limit")]);
        }
      }
      assert.ok(answered > 1 && (failed > 0 || absent > 0), `${answered} answered, ${failed} failed, ${absent} absent`);
    });
  }

  const usage = { mesh: "77-55", ink: "plastisol", prints: 100 };
  const columns = { inputs: [{ at: "/printed_area", unit: "cm2" }, "/prints"], outputs: [{ at: "/mass_to_mix", unit: "g" }, "/wet_film"] };
  const prepared = prepare("ink.usage", usage, columns);
  const [areas, prints] = [[250, 300, 350], [100, 110, 120]];

  await test("a prepared calculation says what it sets and gives, and is frozen", () => {
    assert.deepEqual(prepared.inputs, [{ at: "/printed_area", unit: "cm2" }, { at: "/prints", unit: "1" }]);
    assert.deepEqual(prepared.outputs, [{ at: "/mass_to_mix", unit: "g" }, { at: "/wet_film", unit: "um" }]);
    for (const part of [prepared, prepared.inputs, prepared.outputs[0]]) assert.ok(Object.isFrozen(part));
  });

  await test("columns are plain lists or Float64Arrays, read and never written", () => {
    const want = prepared.run([areas, prints]);
    for (const list of want.columns) assert.ok(list instanceof Float64Array);
    for (const list of [want.cautions, want.limits]) assert.ok(list instanceof Uint32Array);
    const mixed = [Float64Array.from(areas), Object.freeze([...prints])];
    assert.deepEqual(prepared.run(mixed), want);
    assert.deepEqual(mixed, [Float64Array.from(areas), prints]);
    const others = vm.runInNewContext("[[Float64Array.of(250, 300, 350), [100, 110, 120]]][0]");
    assert.deepEqual(prepared.run(others), want);
    assert.deepEqual(prepared.run([new Float64Array(new SharedArrayBuffer(24)).fill(250), prints]).status, Array(3).fill("success"));
    assert.deepEqual(prepared.explain(Float64Array.of(250, 100)), prepared.explain([250, 100]));
  });

  await test("outputs go into the arrays that are given, those of inputs too", () => {
    const want = prepared.run([areas, prints]).columns;
    const into = [new Float64Array(3), new Float64Array(5).subarray(1, 4)];
    const ran = prepared.run([areas, prints], into);
    assert.ok(ran.columns.every((column, index) => column === into[index]));
    assert.deepEqual(into.map(bits), want.map(bits));
    const [mass, film] = [Float64Array.from(areas), Float64Array.from(prints)];
    prepared.run([mass, film], [mass, film]);
    assert.deepEqual([mass, film].map(bits), want.map(bits));
  });

  await test("zero rows, and no columns at all", () => {
    const none = { columns: [new Float64Array(), new Float64Array()], status: [], cautions: new Uint32Array(), limits: new Uint32Array() };
    assert.deepEqual(prepared.run([[], []]), none);
    assert.deepEqual(prepared.run([new Float64Array(), []], [new Float64Array(), new Float64Array()]), none);
    const bare = prepare("ink.usage", { ...usage, printed_area: "250 cm2" }, { inputs: [], outputs: ["/wet_film"] });
    assert.deepEqual(bare.run([]).columns, [new Float64Array()]);
    assert.deepEqual(bits(bare.run([], [new Float64Array(2)]).columns[0]), bits([250, 250].map(() => bare.explain([]).wet_film.value)));
    assert.deepEqual(prepare("ink.usage", usage, { ...columns, outputs: [] }).run([areas, prints]).status, Array(3).fill("success"));
  });

  await test("a column of NaN spoils its rows alone, and they are told apart", () => {
    const ran = prepared.run([areas, [NaN, NaN, NaN]]);
    assert.deepEqual(ran.status, Array(3).fill("out_of_range"));
    assert.ok(ran.columns.every((column) => column.every(Number.isNaN)));
    assert.equal(refusal(() => prepared.explain([250, NaN])).field, "/prints");
    assert.deepEqual(prepared.run([areas, prints]).status, Array(3).fill("success"));
  });

  await test("a hundred thousand rows are each what they are alone", () => {
    const many = 100_000;
    const area = Float64Array.from({ length: many }, (_, index) => (index % 1013 === 7 ? -1 : 200 + (index % 997) / 8));
    const runs = Float64Array.from({ length: many }, (_, index) => 1 + (index % 41));
    const ran = prepared.run([area, runs]);
    assert.deepEqual([ran.status, ran.cautions, ran.limits, ...ran.columns].map(({ length }) => length), Array(5).fill(many));
    for (const index of [0, 7, 1022, 1023, 1024, 1025, 2047, 2048, 50_000, 98_303, 98_304, many - 1]) {
      const { answer, status } = asked("ink.usage", { ...usage, printed_area: { value: area[index], unit: "cm2" }, prints: runs[index] });
      assert.equal(ran.status[index], status, `row ${index}`);
      const want = ["/mass_to_mix", "/wet_film"].map((pointer) => (answer ? number(answer, pointer) : NaN));
      assert.deepEqual(bits(ran.columns.map((column) => column[index])), bits(want), `row ${index}`);
      if (answer) assert.equal(ran.cautions[index], count(answer, "caution"));
    }
    const part = prepared.run([area.subarray(777, 3001), runs.subarray(777, 3001)]);
    assert.deepEqual(part.columns.map(bits), ran.columns.map((column) => bits(column.subarray(777, 3001))));
    assert.equal(ran.status.filter((status) => status !== "success").length, area.filter((value) => value < 0).length);
  });

  await test("columns that do not fit are refused, and nothing is written", () => {
    const into = () => [new Float64Array(3), new Float64Array(3)];
    const run = (inputs, outputs) => () => prepared.run(inputs, outputs);
    assert.equal(refused("impossible", "/inputs", run([areas])).got, 1);
    refused("impossible", "/inputs", run([areas, prints, prints]));
    refused("impossible", "/inputs/1", run([areas, [100]]));
    assert.deepEqual(refused("impossible", "/inputs/1", run([areas, new Float64Array(4)])).allowed, ["3 rows"]);
    refused("impossible", "/outputs", run([areas, prints], [new Float64Array(3)]));
    const kept = [new Float64Array(3), new Float64Array(2)];
    refused("impossible", "/outputs/1", run([areas, prints], kept));
    assert.deepEqual(kept, [new Float64Array(3), new Float64Array(2)]);
    for (const wrong of [undefined, null, 7, "250", {}, new Map(), new Float64Array(2), new Set([areas])]) refused("wrong_type", "/inputs", run(wrong));
    for (const wrong of [undefined, null, 7, "250", {}, new Float32Array(3), new BigInt64Array(3), new Float64Array(3).buffer]) {
      refused("wrong_type", "/inputs/1", run([areas, wrong]));
      refused("wrong_type", "/outputs/1", run([areas, prints], [new Float64Array(3), wrong]));
    }
    refused("wrong_type", "/outputs/0", run([areas, prints], [[0, 0, 0], new Float64Array(3)]));
    for (const wrong of [undefined, null, "100", true, 100n, {}, [100], new Number(100)]) refused("wrong_type", "/inputs/1/2", run([areas, [100, 110, wrong]]));
    refused("wrong_type", "/inputs/0/0", run([Array(1e9), prints]));
    refused("wrong_type", "/outputs", run([areas, prints], null));
    const throws = Object.defineProperty([100, 110, 120], 1, { get() { throw new Error("no"); } });
    refused("bad_json", "/inputs/1/1", run([areas, throws], into()));
    const { proxy, revoke } = Proxy.revocable([], {});
    revoke();
    refused("bad_json", "/inputs", run(proxy));
    refused("bad_json", "/inputs/0", run([proxy, prints]));
    refused("impossible", "/inputs", () => prepared.explain([250]));
    refused("wrong_type", "/inputs/1", () => prepared.explain([250, "100"]));
    refused("wrong_type", "/inputs", () => prepared.explain(250));
  });

  await test("what cannot be prepared is refused at its place", () => {
    const make = (more, request = usage, id = "ink.usage") => () => prepare(id, request, { ...columns, ...more });
    refused("unknown_field", "/inputs/0", make({ inputs: ["/nothing"] }));
    refused("unknown_field", "/inputs/1/at", make({ inputs: ["/prints", { at: "prints" }] }));
    refused("wrong_type", "/inputs/0", make({ inputs: ["/mesh"] }));
    refused("wrong_type", "/inputs/0/at", make({ inputs: [{ at: "/ink" }] }));
    refused("bad_quantity", "/inputs/0/unit", make({ inputs: [{ at: "/printed_area", unit: "acre" }] }));
    refused("bad_quantity", "/inputs/0/unit", make({ inputs: [{ at: "/printed_area", unit: "mm" }] }));
    refused("impossible", "/inputs/1", make({ inputs: ["/prints", "/prints"] }));
    refused("unknown_field", "/outputs/1", make({ outputs: ["/wet_film", "/nothing"] }));
    refused("unknown_field", "/outputs/0", make({ outputs: ["/notes"] }));
    refused("wrong_type", "/outputs/0", make({ inputs: [], outputs: ["/beats"] }, { mesh: "77-55", ruling: "45 /in", angles: ["0 deg"] }, "mesh.moire"));
    refused("bad_quantity", "/outputs/0/unit", make({ outputs: [{ at: "/wet_film", unit: "g" }] }));
    refused("wrong_type", "/outputs/0", make({ inputs: [], outputs: ["/verdict"] }, { mesh: "77-55", coated_thickness: "100 um" }, "stencil.thickness"));
    refused("wrong_type", "/inputs", make({ inputs: "/prints" }));
    refused("missing_field", "/outputs", make({ outputs: undefined }));
    refused("unknown_field", "/input", make({ input: [] }));
    refused("wrong_type", "", () => prepare("ink.usage", usage, undefined));
    refused("bad_json", "/inputs/0", make({ inputs: [new Map()] }));
    refused("bad_json", "/prints", make({}, { ...usage, prints: NaN }));
    refused("unknown_field", "/mehs", make({}, { mehs: "77-55" }));
    refused("missing_field", "/mesh", make({}, { ink: "plastisol" }));
    refused("impossible", "/waste_fraction", make({}, { ...usage, waste_fraction: "0.1 +/- 0.02" }));
    refused("unknown_calculation", "", make({}, usage, "ink.usge"));
    refused("wrong_type", "", () => prepare(undefined, usage, columns));
    refused("too_long", "/inputs", make({ inputs: Array(1001).fill("/prints") }));
  });

  await test("what is freed is gone, and says so", () => {
    const one = prepare("ink.usage", usage, columns);
    one.free();
    one.free();
    refused("null_pointer", "", () => one.run([areas, prints]));
    refused("null_pointer", "", () => one.explain([250, 100]));
    assert.equal(one.outputs[0].unit, "g");
    // Freed while its columns are being read.
    for (const call of [(other, list) => other.run([areas, list]), (other, list) => other.explain(list)]) {
      const other = prepare("ink.usage", usage, columns);
      const frees = Object.defineProperty([...prints], 0, { get() { other.free(); return 100; } });
      refused("null_pointer", "", () => call(other, frees));
    }
  });

  await test("many requests are answered in their order, and a bad one spoils no other", () => {
    const requests = [{ mesh: "77-55" }, {}, { mesh: "43-80" }, { mesh: NaN }, undefined, new Date(0), { mesh: "195 tpi", explain: false }];
    const answers = calculateMany("mesh.geometry", requests);
    assert.equal(answers.length, requests.length);
    for (const index of [0, 2, 6]) assert.deepEqual(answers[index], calculate("mesh.geometry", requests[index]));
    for (const index of [1, 3, 4, 5]) {
      const { code, field, message, got, allowed } = refusal(() => calculate("mesh.geometry", requests[index]));
      assert.deepEqual(answers[index], { error: { code, field, message, got, allowed } });
    }
    assert.deepEqual(calculateMany("mesh.geometry", []), []);
    for (const list of [[], requests]) refused("unknown_calculation", "", () => calculateMany("mesh.geometri", list));
    for (const list of [undefined, null, {}, "[]", new Set()]) refused("wrong_type", "", () => calculateMany("mesh.geometry", list));
    refused("wrong_type", "", () => calculateMany(undefined, []));
    refused("too_long", "", () => calculateMany("mesh.geometry", Array(1e9)));
  });

  await test("points of a sweep are what calculate answers, bit for bit", () => {
    const spec = { vary: "/printed_area", from: "100 cm2", to: "900 cm2", points: 9, spacing: "geometric" };
    const swept = sweep("ink.usage", usage, spec);
    assert.equal(swept.x.unit, "cm2");
    assert.deepEqual([swept.x.values[0], swept.x.values[8], swept.answers.length], [100, 900, 9]);
    const single = swept.x.values.map((value) => calculate("ink.usage", { ...usage, printed_area: { value, unit: "cm2" } }));
    assert.equal(JSON.stringify(swept.answers), JSON.stringify(single));
    const want = ["/wet_film", { at: "/mass_per_print", unit: "g" }];
    const told = sweep("ink.usage", usage, { ...spec, want });
    assert.deepEqual(told.x, swept.x);
    assert.deepEqual(told.columns.map(({ at: pointer, unit }) => [pointer, unit]), [["/wet_film", "um"], ["/mass_per_print", "g"]]);
    for (const column of told.columns) assert.deepEqual(bits(column.values), bits(single.map((answer) => number(answer, column.at))));
    assert.deepEqual(told.errors, []);
    const rows = prepare("ink.usage", usage, { inputs: [{ at: "/printed_area", unit: "cm2" }], outputs: want }).run([told.x.values]);
    assert.deepEqual(rows.columns.map(bits), told.columns.map(({ values }) => bits(values)));
  });

  await test("a sweep through values, where points fail and members are absent", () => {
    const values = ["77-55", "no mesh", { count: "43 /cm", thread: "80 um" }, 7];
    const { answers, x } = sweep("mesh.geometry", {}, { vary: "/mesh", values });
    assert.deepEqual(x, { values });
    for (const index of [0, 2]) assert.deepEqual(answers[index], calculate("mesh.geometry", { mesh: values[index] }));
    for (const index of [1, 3]) {
      const { code, field } = refusal(() => calculate("mesh.geometry", { mesh: values[index] }));
      assert.deepEqual([answers[index].error.code, answers[index].error.field], [code, field]);
    }
    const told = sweep("mesh.geometry", {}, { vary: "/mesh", values, want: ["/opening"] });
    assert.deepEqual(told.columns[0].values, answers.map((answer) => answer.opening?.value ?? null));
    assert.deepEqual(told.errors.map(({ index, error }) => [index, error.code]), [1, 3].map((index) => [index, answers[index].error.code]));
    const beats = { vary: "/angles/0", from: "0 deg", to: "45 deg", points: 4, want: ["/beats/0/period", "/beats/40/strength"] };
    const moire = { mesh: "77-55", ruling: "18 /cm", angles: ["0 deg"] };
    const absent = sweep("mesh.moire", moire, beats);
    assert.deepEqual(absent.columns[1].values, Array(4).fill(null));
    assert.deepEqual(absent.errors, []);
  });

  await test("a sweep that cannot be is refused at its place", () => {
    const spec = { vary: "/printed_area", from: "100 cm2", to: "900 cm2", points: 3 };
    const go = (more, request = usage) => () => sweep("ink.usage", request, { ...spec, ...more });
    refused("impossible", "/from", go({ from: "901 cm2" }));
    refused("impossible", "/from", go({ from: "0 cm2", spacing: "geometric" }));
    refused("impossible", "/from", go({ from: "-1 cm2", spacing: "geometric" }));
    refused("too_long", "/points", go({ points: 10_001 }));
    refused("too_long", "/values", go({ from: undefined, to: undefined, points: undefined, values: Array(10_001).fill("1 cm2") }));
    refused("out_of_range", "/points", go({ points: 0 }));
    refused("out_of_range", "/spacing", go({ spacing: "even" }));
    refused("wrong_dimension", "/to", go({ to: "900 cm" }));
    refused("bad_quantity", "/to", go({ to: 900 }));
    refused("missing_field", "/to", go({ to: undefined }));
    refused("unknown_field", "/vary", go({ vary: "/nothing" }));
    refused("wrong_type", "/vary", go({ vary: "/mesh" }));
    refused("unknown_field", "/want/0", go({ want: ["/nothing"] }));
    refused("unknown_field", "/pionts", go({ pionts: 3 }));
    refused("bad_json", "/points", go({ points: NaN }));
    refused("missing_field", "/ink", go({}, { mesh: "77-55", prints: 100 }));
    refused("wrong_type", "", () => sweep("ink.usage", usage, undefined));
    assert.equal(sweep("ink.usage", usage, { ...spec, points: 10_000, want: ["/wet_film"] }).x.values.length, 10_000);
  });

  await test("what solve finds gives the wanted answer", () => {
    const found = solve("ink.usage", usage, { vary: "/printed_area", from: "1 cm2", to: "1 m2", want: "/mass_to_mix", equals: "1 kg" });
    const answer = calculate("ink.usage", { ...usage, printed_area: found.value });
    const kilograms = ({ value, unit }) => value / { g: 1000, kg: 1 }[unit];
    assert.deepEqual([found.vary, found.jump, found.others], ["/printed_area", false, []]);
    assert.equal(found.reached.unit, "g");
    assert.ok(Math.abs(kilograms(found.reached) - 1) < 1e-9, JSON.stringify(found));
    assert.ok(Math.abs(kilograms(answer.mass_to_mix) - kilograms(found.reached)) < 1e-12);
    assert.ok(found.evaluations > 17 && found.evaluations <= 78);
    // Whole numbers: the nearer of two neighbours.
    const spec = { vary: "/prints", from: 1, to: 5000, want: { at: "/mass_to_mix", unit: "g" }, equals: "1.5 kg" };
    const run = solve("ink.usage", { ...usage, printed_area: "250 cm2" }, spec);
    const mass = (more) => kilograms(calculate("ink.usage", { ...usage, printed_area: "250 cm2", prints: run.value + more }).mass_to_mix);
    assert.ok(Number.isInteger(run.value) && mass(-1) < 1.5 && mass(1) > 1.5, JSON.stringify(run));
    assert.ok(Math.abs(mass(0) - kilograms(run.reached)) < 1e-12);
    // A step scale: one step more is half again as long and back, so both ways are known.
    const step = { time: "100 s", solid_step: 7 };
    const time = solve("exposure.step", step, { vary: "/time", from: "1 s", to: "500 s", want: "/time", equals: "123 s" });
    assert.ok(Math.abs(time.value.value - 123) < 1e-9 && time.value.unit === "s", JSON.stringify(time));
  });

  await test("what solve cannot find or read is refused at its place", () => {
    const spec = { vary: "/printed_area", from: "1 cm2", to: "900 cm2", want: "/mass_to_mix", equals: "100 kg" };
    const go = (more) => () => solve("ink.usage", usage, { ...spec, ...more });
    assert.match(refused("no_solution", "/equals", go({})).message, /from [\d.]+ g to [\d.]+ g/);
    refused("impossible", "/from", go({ from: "900 cm2" }));
    refused("wrong_dimension", "/equals", go({ equals: "1 m" }));
    refused("missing_field", "/want", go({ want: undefined }));
    refused("unknown_field", "/want", go({ want: "/nothing" }));
    refused("wrong_type", "/vary", go({ vary: "/ink" }));
    refused("unknown_field", "/points", go({ points: 3 }));
    refused("bad_json", "/equals", go({ equals: Infinity }));
    refused("wrong_type", "", () => solve("ink.usage", usage, []));
  });
}

await check("every calculation is swept and prepared as node does it, on either binary that has it", () => {
  const { calculations } = catalogue();
  let seen = 0;
  for (const { id, example, answer } of calculations) {
    // The first number of the answer.
    const first = (floodbar, pointer) => floodbar.prepare(id, example, { inputs: [], outputs: [pointer] });
    const pointer = Object.keys(answer.properties).map((name) => `/${name}`).find((name) => {
      try {
        return first(builds.node, name) !== undefined;
      } catch {
        return false;
      }
    });
    if (pointer === undefined) continue;
    const told = Object.values(builds).map((floodbar) => {
      try {
        const prepared = first(floodbar, pointer);
        return [bits(prepared.run([], [new Float64Array(2)]).columns[0]), JSON.stringify(prepared.explain([]))];
      } catch (error) {
        assert.equal(error.code, "unknown_calculation");
        return error.code;
      }
    });
    assert.deepEqual(told[2], told[0], id);
    if (!LACKING.includes(id)) assert.deepEqual(told[1], told[0], id);
    seen += 1;
  }
  assert.ok(seen > 25, `${seen} calculations`);
});

await check("what the lean binary prepared goes on when the whole one has come", async () => {
  const page = await openPage(packageDir);
  await page.init(binary("floodbar_bg.wasm"));
  const columns = { inputs: ["/mesh/thread"], outputs: ["/opening"] };
  const before = page.prepare("mesh.geometry", { mesh: "77-55" }, columns);
  const want = before.run([[40, 50]]);
  await page.initWhole(binary("floodbar_whole_bg.wasm"));
  const after = page.prepare("mesh.geometry", { mesh: "77-55" }, columns);
  assert.deepEqual([before.run([[40, 50]]), after.run([[40, 50]])], [want, want]);
  before.free();
  after.free();
});

await check("what nothing refers to is freed", async () => {
  const { page, freed } = await openCounted(packageDir);
  const make = () => page.prepare("mesh.geometry", { mesh: "77-55" }, { inputs: ["/mesh/thread"], outputs: ["/opening"] });
  const kept = make();
  for (let turn = 0; turn < 100; turn += 1) make();
  for (let turn = 0; turn < 10; turn += 1) make().free();
  await collected(() => freed() >= 90);
  assert.ok(freed() >= 90 && freed() <= 100, `${freed()} of 100`);
  assert.equal(kept.run([[50]]).status[0], "success");
});

close();
