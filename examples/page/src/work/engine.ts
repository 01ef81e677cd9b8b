// The one worker that answers: started once, asked in turn, the newest question of a kind in the place of those before it.
import { signal } from "@preact/signals";
import { calculate, calculateMany, FloodbarError, init, initWhole, measureArtwork, prepare, warm } from "floodbar/worker";
import type { Json } from "../model/numbers";

export { FloodbarError };
export type Answer = { [name: string]: Json };

/** What went wrong, without the name of who says so: a sentence that has no end yet. */
export const fault = (error: Error): string => error.message.replace(/^floodbar: /, "");

/** Why nothing can be answered here, in a sentence; undefined while all is well. */
export const failure = signal<string | undefined>(undefined);

// The worker's script is under way while the WebAssembly is; and one that is stopped has its place taken at once.
warm();
const started = init().then(
  () => performance.mark("floodbar-ready"),
  (error: Error) => {
    failure.value = fault(error);
    throw error;
  },
);
started.catch(() => {});
/** The larger binary, for what the smaller one does not know. */
let whole: Promise<void> | undefined;

function all(): Promise<void> {
  whole ??= initWhole();
  whole.catch(() => (whole = undefined));
  return whole;
}

async function known<T>(call: () => Promise<T>): Promise<T> {
  await started;
  try {
    return await call();
  } catch (error) {
    if (!(error instanceof FloodbarError) || error.code !== "unknown_calculation") throw error;
    await all();
    return call();
  }
}

const ask = calculate as unknown as (id: string, request: Json, options?: { signal?: AbortSignal }) => Promise<Answer>;
const askMany = calculateMany as unknown as (id: string, requests: Json[]) => Promise<(Answer & { error?: Json })[]>;
const makeReady = prepare as unknown as (id: string, request: Json, columns: Columns, options?: { signal?: AbortSignal }) => Promise<Ready>;

interface Columns { inputs: { at: string; unit?: string }[]; outputs: { at: string; unit?: string }[] }
interface Ready {
  run(columns: Float64Array[], options?: { signal?: AbortSignal }): Promise<{ columns: Float64Array[]; status: string[]; cautions: Uint32Array; limits: Uint32Array }>;
  free(): void;
}

export const answerOf = (id: string, request: Json, signal?: AbortSignal): Promise<Answer> => known(() => ask(id, request, { signal }));

/** Many values of one field at once: what the answer's numbers are at each, and where it is refused or warned of. */
export async function along(id: string, request: Json, columns: Columns, values: Float64Array, signal: AbortSignal) {
  return known(async () => {
    const ready = await makeReady(id, request, columns, { signal });
    try {
      return await ready.run([values], { signal });
    } finally {
      ready.free();
    }
  });
}

const measure = measureArtwork as unknown as (pixels: Uint8Array, spec: Json, options: { signal: AbortSignal; transfer: boolean }) => Promise<Answer>;

/** What a separation covers. Its pixels are given away. */
export async function measured(pixels: Uint8Array, spec: Json, signal: AbortSignal): Promise<Answer> {
  // Before, not after a refusal: the pixels go only once.
  await all();
  return measure(pixels, spec, { signal, transfer: true });
}

/** How long one may work before the next ends it: to start another worker takes longer than most answers. */
const PATIENCE = 150;
/** After how long it is said that something is at work: a line that comes and goes with each answer would move what is below it. */
const SLOW = 250;

/** Settled once something was answered, or nothing can be: the worker is under way before the first question comes. */
export const warmed = answerOf("unit.convert", { quantity: "1 m", to: "m" }).then(() => {}, () => {});

/** One question at a time, the newest next; what is asked meanwhile falls away unanswered. */
export class Newest<T> {
  readonly busy = signal(false);
  /** It has been at work for so long that the reader is told. */
  readonly slow = signal(false);
  private telling?: ReturnType<typeof setTimeout>;
  private at?: { stop: AbortController; began: number };
  private next?: { run: (signal: AbortSignal) => Promise<T>; done: (result: T) => void; failed: (error: unknown) => void };
  private timer?: ReturnType<typeof setTimeout>;

  ask(run: (signal: AbortSignal) => Promise<T>, done: (result: T) => void, failed: (error: unknown) => void): void {
    this.next = { run, done, failed };
    if (this.at === undefined) void this.go();
    else if (this.timer === undefined) {
      const { stop, began } = this.at;
      this.timer = setTimeout(() => stop.abort("newer"), Math.max(0, PATIENCE - (performance.now() - began)));
    }
  }
  /** Ends what is at work, and what waits. */
  stop(): void {
    this.next = undefined;
    this.at?.stop.abort("stopped");
  }

  private async go(): Promise<void> {
    const job = this.next;
    if (job === undefined) return;
    this.next = undefined;
    const stop = new AbortController();
    this.at = { stop, began: performance.now() };
    this.busy.value = true;
    this.telling ??= setTimeout(() => (this.slow.value = true), SLOW);
    try {
      const result = await job.run(stop.signal);
      if (this.next === undefined && stop.signal.reason !== "stopped") job.done(result);
    } catch (error) {
      if (this.next === undefined && error !== "newer") job.failed(error);
    }
    clearTimeout(this.timer);
    this.timer = undefined;
    this.at = undefined;
    this.busy.value = this.next !== undefined;
    if (!this.busy.peek()) {
      clearTimeout(this.telling);
      this.telling = undefined;
      this.slow.value = false;
    }
    void this.go();
  }
}

/** From one unit to another: y = slope x + start. */
export interface Scale { slope: number; start: number }
const scales = new Map<string, ReturnType<typeof signal<Scale | undefined>>>();

/** How two units go over into each other; undefined until the worker has said so. */
export function scaleOf(from: string, to: string): Scale | undefined {
  if (from === to) return { slope: 1, start: 0 };
  const key = `${from}|${to}`;
  let scale = scales.get(key);
  if (scale === undefined) {
    scale = signal<Scale | undefined>(undefined);
    scales.set(key, scale);
    const found = scale;
    void known(() => askMany("unit.convert", [100, 200].map((value) => ({ quantity: `${value} ${from}`, to })))).then((answers) => {
      const [low, high] = answers.map((answer) => (answer.quantity as { value: number } | undefined)?.value);
      if (low === undefined || high === undefined) return;
      const start = 2 * low - high;
      found.value = { slope: (high - low) / 100, start: Math.abs(start) < 1e-9 * Math.abs(low) ? 0 : start };
    }, () => {});
  }
  return scale.value;
}

export async function converted(text: string, from: string, to: string): Promise<{ value: number; plus_minus?: number } | undefined> {
  try {
    const answer = await answerOf("unit.convert", { quantity: `${text} ${from}`, to });
    return answer.quantity as unknown as { value: number; plus_minus?: number };
  } catch {
    return undefined;
  }
}

/** Which of these units a spelling stands for. */
export async function unitMeant(spelling: string, units: string[]): Promise<string | undefined> {
  for (const unit of units) if ((await converted("7", spelling, unit))?.value === 7) return unit;
  return undefined;
}
