// A drawing of lines over one axis: our own SVG, its numbers in a table beside it.
import type { ComponentChildren } from "preact";
import { figures } from "../../model/numbers";

export interface Line { label: string; values: Float64Array | number[]; main?: boolean }
export interface Axes { x: (value: number) => number; y: (value: number) => number; left: number; right: number; top: number; bottom: number }

const WIDE = 560;
const HIGH = 240;
const [LEFT, RIGHT, TOP, BOTTOM] = [56, WIDE - 16, 24, HIGH - 44];

/** Round numbers to write at an axis. */
export function ticks(low: number, high: number, about: number): number[] {
  const rough = (high - low) / about;
  if (!(rough > 0)) return [low];
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((factor) => factor * power).find((size) => size >= rough) ?? rough;
  const marks: number[] = [];
  for (let mark = Math.ceil(low / step) * step; mark <= high + step * 1e-9; mark += step) marks.push(Math.abs(mark) < step * 1e-9 ? 0 : mark);
  return marks;
}

/** The path of a line, broken where there is no number. */
function pathOf(xs: ArrayLike<number>, ys: ArrayLike<number>, { x, y }: Axes): string {
  let path = "";
  let pen = "M";
  for (let index = 0; index < xs.length; index += 1) {
    const [at, value] = [xs[index]!, ys[index]!];
    if (Number.isFinite(value)) path += `${pen}${x(at).toFixed(1)} ${y(value).toFixed(1)}`;
    pen = Number.isFinite(value) ? "L" : "M";
  }
  return path;
}

/** Which line is which. */
export function Key({ labels }: { labels: string[] }) {
  return (
    <ul class="key">
      {labels.map((label, index) => <li key={label}><svg width="32" height="8" aria-hidden="true"><path class={`line ${index === 0 ? "main" : `l${index}`}`} d="M0 4H32" /></svg> {label}</li>)}
    </ul>
  );
}

export function Chart({ label, xs, lines, shade, xLabel, yLabel, children }: {
  label: string; xs: ArrayLike<number>; lines: Line[]; xLabel: string; yLabel: string;
  shade?: (axes: Axes) => ComponentChildren; children?: (axes: Axes) => ComponentChildren;
}) {
  const all = lines.flatMap(({ values }) => [...values].filter(Number.isFinite));
  let [low, high] = [Math.min(...all), Math.max(...all)];
  if (all.length === 0) [low, high] = [0, 1];
  if (low >= 0 && low < high * 0.6) low = 0;
  if (low === high) [low, high] = [low - Math.abs(low || 1) / 2, high + Math.abs(high || 1) / 2];
  const [from, to] = [xs[0] ?? 0, xs[xs.length - 1] ?? 1];
  const axes: Axes = {
    x: (value) => LEFT + ((value - from) / (to - from || 1)) * (RIGHT - LEFT), y: (value) => BOTTOM - ((value - low) / (high - low)) * (BOTTOM - TOP),
    left: LEFT, right: RIGHT, top: TOP, bottom: BOTTOM,
  };
  return (
    <svg class="chart" viewBox={`0 0 ${WIDE} ${HIGH}`} role="img" aria-label={label}>
      {shade?.(axes)}
      {ticks(low, high, 4).map((mark) => (
        <g key={mark}>
          <path class="grid" d={`M${LEFT} ${axes.y(mark).toFixed(1)}H${RIGHT}`} />
          <text x={LEFT - 6} y={axes.y(mark) + 4} text-anchor="end">{figures(mark)}</text>
        </g>
      ))}
      {ticks(Math.min(from, to), Math.max(from, to), 5).map((mark) => (
        <text key={mark} x={axes.x(mark)} y={BOTTOM + 16} text-anchor="middle">{figures(mark)}</text>
      ))}
      <path class="axis" d={`M${LEFT} ${BOTTOM}H${RIGHT}`} />
      {lines.map(({ label: name, values, main }, index) => <path key={name} class={`line ${main ? "main" : `l${index}`}`} d={pathOf(xs, values, axes)} />).reverse()}
      {children?.(axes)}
      <text class="unit-name" x={RIGHT} y={HIGH - 2} text-anchor="end">{xLabel}</text>
      <text class="unit-name" x={LEFT} y={TOP - 10}>{yLabel}</text>
    </svg>
  );
}
