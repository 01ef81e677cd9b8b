// One number varied: the answer drawn over it, a slider as the handle of the present point, the window shaded, the table beside.
import { useComputed, useSignal } from "@preact/signals";
import { useEffect, useMemo } from "preact/hooks";
import { isRecord } from "../../model/node";
import { Leaf, Rows, type Node } from "../../model/nodes";
import { figures, inField, isPlain, pointed, unitSign, type Json } from "../../model/numbers";
import { along, Newest, scaleOf, type Answer } from "../../work/engine";
import { useQuestion } from "../context";
import { nameOf } from "../names";
import type { Question } from "../question";
import { Chart, type Axes } from "./chart";
import { isQuantity, labelOf, schemaAt } from "./value";

const POINTS = 41;
/** Members that are the two ends of a window, by their names. */
const WINDOWS = [["slowest", "fastest"], ["least", "most"], ["low", "high"], ["target_low", "target_high"], ["ruling_low", "ruling_high"], ["exposure_low", "exposure_high"]] as const;

interface Rowed { xs: Float64Array; names: string[]; columns: Float64Array[]; limits: Uint32Array }

/** The number that stands in a field, typed or by default, in its unit. */
function numberIn(node: Leaf): number | undefined {
  const text = node.given.value ? pointed(node.text.value.trim()) : node.preset.value === undefined ? "" : node.split(node.preset.value).text;
  return isPlain(text) ? Number(text) : undefined;
}

function numbersOf(node: Node): Leaf[] {
  if (node instanceof Leaf) return node.field.vary && "range" in node.field && numberIn(node) !== undefined ? [node] : [];
  return node instanceof Rows && node.rows.value.length > 6 ? [] : node.parts().flatMap(numbersOf);
}

/** From where to where a field is varied: around what stands in it, within what is usual. */
function ends(node: Leaf, value: number): [number, number] {
  if (!("range" in node.field)) return [value / 2, value * 2];
  const { least, most, usual, unit } = node.field.range;
  const own = node.unit.peek();
  const scale = node.field.share ? { slope: own === "%" ? 100 : 1, start: 0 } : node.field.kind === "quantity" ? scaleOf(unit, own) : undefined;
  const inOwn = (end: number) => (scale === undefined ? end : end * scale.slope + scale.start);
  const wide = value === 0 ? [0, usual === undefined ? 1 : inOwn(usual[1])] : [value / 2.5, value * 2.5];
  let [low, high] = [Math.min(...wide), Math.max(...wide)];
  for (const range of [usual, [least ?? -Infinity, most ?? Infinity]]) {
    if (range === undefined) continue;
    const [from, to] = [inOwn(range[0]!), inOwn(range[1]!)];
    if (value >= from && value <= to) [low, high] = [Math.max(low, from), Math.min(high, to)];
  }
  if (node.field.kind === "count") return [Math.max(1, Math.floor(low)), Math.max(Math.ceil(high), Math.floor(low) + 4)];
  // Whole steps of the slider, so that it stops at round numbers.
  const step = stepOf(low, high);
  return [rounded(Math.ceil(low / step) * step), rounded(Math.floor(high / step) * step)];
}

const rounded = (value: number): number => Number(value.toPrecision(9));
/** A round hundredth, or so, of the way. */
function stepOf(from: number, to: number): number {
  const rough = (to - from) / 150;
  const power = 10 ** Math.floor(Math.log10(rough));
  return rounded([1, 2, 5, 10].map((factor) => factor * power).find((size) => size >= rough) ?? rough);
}

function spaced(node: Leaf, [from, to]: [number, number]): Float64Array {
  const points = node.field.kind === "count" ? Math.min(POINTS, to - from + 1) : POINTS;
  const at = (index: number) => from + ((to - from) * index) / Math.max(1, points - 1);
  return Float64Array.from({ length: points }, (_, index) => (node.field.kind === "count" ? Math.round(at(index)) : at(index)));
}

/** A number of the answer by its way: `wet_film`, or `press/cycle` within a record. */
const numberAt = (answer: Answer, way: string): Json | undefined =>
  way.split("/").reduce<Json | undefined>((part, name) => (isRecord(part) ? part[name] : undefined), answer);

/** The numbers of the answer that can be drawn, headline first, then those within its records; not what the request says already. */
function drawable({ latest, entry }: Question): string[] {
  const answer = latest.value ?? {};
  const asked = entry.request.properties ?? {};
  const isNumber = (value: Json | undefined) => typeof value === "number" || (isQuantity(value) && typeof value.value === "number");
  const within = (value: Json | undefined) => (isRecord(value) && !isQuantity(value) ? Object.keys(value) : []);
  const own = [...new Set([...entry.headline, ...Object.keys(answer).filter((name) => !(name in asked))])];
  const ways = [...own, ...own.flatMap((name) => within(answer[name]).map((part) => `${name}/${part}`))];
  return ways.filter((way) => isNumber(numberAt(answer, way)));
}
/** What a number of the answer is called, its record first. */
function titleOf(question: Question, way: string): string {
  const [name, part] = way.split("/") as [string, string?];
  const { answer } = question.entry;
  return part === undefined ? labelOf(answer, name) : `${labelOf(answer, name)}, ${labelOf(schemaAt(answer, name), part)}`;
}
const unitOf = (value: Json | undefined): string | undefined => (isQuantity(value) ? value.unit : undefined);

export function WhatIf() {
  const question = useQuestion();
  const picked = question.varied;
  const fields = numbersOf(question.root);
  const node = picked.value !== undefined && fields.includes(picked.value) ? picked.value : undefined;
  if (fields.length === 0 || drawable(question).length === 0 || (question.answer.value === undefined && node === undefined)) return null;
  return (
    <div class="what-if">
      <label class="ask-if">
        <span>What if another</span>{" "}
        <select value={node?.uid ?? ""} onChange={({ currentTarget: { value } }) => (picked.value = fields.find(({ uid }) => uid === value))}>
          <option value="">choose a number</option>
          {fields.map((field) => <option key={field.uid} value={field.uid}>{nameOf(field)}</option>)}
        </select>
      </label>
      {node !== undefined && <Varied key={node.uid} node={node} />}
    </div>
  );
}

function Varied({ node }: { node: Leaf }) {
  const question = useQuestion();
  const rows = useSignal<Rowed | undefined>(undefined);
  const failed = useSignal("");
  const shown = useSignal("");
  const work = useMemo(() => new Newest<Rowed>(), []);
  const span = useSignal<[number, number]>(useMemo(() => ends(node, numberIn(node) ?? 1), [node]));
  const unit = node.unit.value;
  // The unit of the field changed: another axis.
  useEffect(() => {
    span.value = ends(node, numberIn(node) ?? 1);
  }, [unit]);
  const names = drawable(question);
  // All that the drawing depends on, the place of its handle aside.
  const key = useComputed(() => {
    const text = node.text.value;
    return JSON.stringify(question.sent.value, (_, value: Json) => (value === node.read() && text !== "" ? "varied" : value)) + span.value.join() + node.unit.value;
  }).value;
  useEffect(() => {
    const answer = question.latest.peek() ?? {};
    const xs = spaced(node, span.value);
    const at = node.field.kind === "quantity" || ("share" in node.field && node.field.share) ? { at: node.pointer(), unit } : { at: node.pointer() };
    const columns = { inputs: [at], outputs: names.map((name) => ({ at: `/${name}`, unit: unitOf(numberAt(answer, name)) })) };
    work.ask(
      async (signal) => ({ xs, names, ...(await along(question.entry.id, question.sent.peek(), columns, xs, signal)) }),
      (result) => {
        rows.value = result;
        failed.value = "";
      },
      (error) => (failed.value = error === "stopped" ? "Stopped." : (error as Error).message),
    );
  }, [key, names.join()]);
  useEffect(() => () => work.stop(), []);

  const value = numberIn(node) ?? span.value[0];
  const [from, to] = span.value;
  const slide = (event: Event) => question.vary(() => {
    node.origin = undefined;
    node.text.value = node.field.kind === "count" ? (event.currentTarget as HTMLInputElement).value : inField(Number((event.currentTarget as HTMLInputElement).value));
  });
  const name = names.includes(shown.value) ? shown.value : names[0]!;
  const sign = node.field.kind === "quantity" || ("share" in node.field && node.field.share) ? unitSign(unit) : "";
  return (
    <div class="varied">
      {names.length > 1 && (
        <label class="ask-if"><span>Drawn:</span>{" "}
          <select value={name} onChange={({ currentTarget }) => (shown.value = currentTarget.value)}>
            {names.map((one) => <option key={one} value={one}>{titleOf(question, one)}</option>)}
          </select>
        </label>
      )}
      {work.slow.value && <p class="busy">Working it out at {POINTS} places <button type="button" class="plain" onClick={() => work.stop()}>Stop</button></p>}
      {failed.value !== "" && <p class="refused">{failed.value}</p>}
      {rows.value && <Drawn rows={rows.value} name={name} node={node} value={value} sign={sign} />}
      <input
        type="range" class="handle" min={from} max={to} step={node.field.kind === "count" ? 1 : stepOf(from, to)} value={value}
        aria-label={nameOf(node)} aria-valuetext={`${figures(value)} ${sign}`} onInput={slide}
      />
      {rows.value && <Numbers rows={rows.value} node={node} sign={sign} />}
    </div>
  );
}

function Drawn({ rows, name, node, value, sign }: { rows: Rowed; name: string; node: Leaf; value: number; sign: string }) {
  const question = useQuestion();
  const answer = question.latest.value ?? {};
  const column = (one: string) => rows.columns[rows.names.indexOf(one)];
  const main = column(name);
  if (main === undefined) return null;
  if (!main.some(Number.isFinite)) return <p class="refused">{titleOf(question, name)} has no value at any place between {figures(rows.xs[0]!)} and {figures(rows.xs[rows.xs.length - 1]!)} {sign}: this number cannot be varied alone.</p>;
  const share = /_fraction$|_probability$/.test(name);
  const unit = share ? "%" : unitSign(unitOf(numberAt(answer, name)) ?? "");
  const scaled = (values: Float64Array) => (share ? values.map((one) => one * 100) : values);
  const bounds = WINDOWS.find(([low, high]) => column(low) !== undefined && column(high) !== undefined && unitOf(numberAt(answer, low)) === unitOf(numberAt(answer, name)));
  const [low, high] = bounds?.map((end) => column(end)!) ?? [];
  const title = titleOf(question, name);
  const now = numberAt(question.answer.value ?? {}, name);
  const present = typeof now === "number" ? now * (share ? 100 : 1) : isQuantity(now) ? Number(now.value) : NaN;
  const band = ({ x, y }: Axes) => {
    if (low === undefined || high === undefined) return null;
    const fit = [...rows.xs.keys()].filter((index) => Number.isFinite(low[index]!) && Number.isFinite(high[index]!));
    if (fit.length === 0) return null;
    const side = (values: Float64Array, order: number[]) => order.map((index) => `${x(rows.xs[index]!).toFixed(1)} ${y(values[index]!).toFixed(1)}`).join("L");
    return <path class="window" d={`M${side(low, fit)}L${side(high, [...fit].reverse())}Z`} />;
  };
  // Where the print cannot work as asked.
  const stops = ({ x, top, bottom }: Axes) => [...rows.xs.keys()].filter((index) => rows.limits[index]! > 0).map((index) => {
    const half = (rows.xs[1]! - rows.xs[0]!) / 2;
    const [left, right] = [Math.max(rows.xs[index]! - half, rows.xs[0]!), Math.min(rows.xs[index]! + half, rows.xs[rows.xs.length - 1]!)];
    return <path key={index} class="stopped" d={`M${x(left)} ${top}H${x(right)}V${bottom}H${x(left)}Z`} />;
  });
  const others = bounds?.filter((end) => end !== name).map((end) => ({ label: end, values: column(end)! })) ?? [];
  return (
    <>
      <Chart
        label={`${title} over ${nameOf(node)}, now ${figures(present)} ${unit} at ${figures(value)} ${sign}; the numbers are in the table below`}
        xs={rows.xs} xLabel={`${nameOf(node)}${sign && `, ${sign}`}`} yLabel={`${title}${unit && `, ${unit}`}`}
        lines={[...others, { label: title, values: scaled(main), main: true }]} shade={(axes) => <>{band(axes)}{stops(axes)}</>}
      >
        {({ x, y, top, bottom }) => Number.isFinite(present) && value >= rows.xs[0]! && value <= rows.xs[rows.xs.length - 1]! && (
          <><path class="now" d={`M${x(value)} ${top}V${bottom}`} /><circle class="now" cx={x(value)} cy={y(present)} r="6" /></>
        )}
      </Chart>
      {bounds !== undefined && <p class="key"><span class="swatch" /> {labelOf(question.entry.answer, bounds[0])} to {labelOf(question.entry.answer, bounds[1])}</p>}
      {rows.limits.some((count) => count > 0) && <p class="key"><span class="swatch stop" /> STOP: does not work there</p>}
    </>
  );
}

function Numbers({ rows, node, sign }: { rows: Rowed; node: Leaf; sign: string }) {
  const question = useQuestion();
  const answer = question.latest.value ?? {};
  const every = Math.max(1, Math.floor((rows.xs.length - 1) / 10));
  const places = [...rows.xs.keys()].filter((index) => index % every === 0);
  return (
    <details>
      <summary>The same in numbers</summary>
      <div class="scroll" tabIndex={0} role="region" aria-label={`Answers over ${nameOf(node)}`}>
        <table>
          <thead><tr><th scope="col">{nameOf(node)}{sign && `, ${sign}`}</th>{rows.names.map((name) => <th key={name} scope="col">{titleOf(question, name)}{unitOf(numberAt(answer, name)) && `, ${unitSign(unitOf(numberAt(answer, name))!)}`}</th>)}</tr></thead>
          <tbody>{places.map((index) => <tr key={index}><th scope="row" class="digits">{figures(rows.xs[index]!)}</th>{rows.columns.map((column, at) => <td key={at} class="digits">{figures(column[index]!)}</td>)}</tr>)}</tbody>
        </table>
      </div>
    </details>
  );
}
