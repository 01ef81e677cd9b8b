import type { Calculations, Draft, FloodbarError, Input, Numbers, Output, Refused, Rows, Solved, SolveSpec, Source, SweepSpec, SweptAnswers, SweptColumns } from "./node.cjs";
import type { Column } from "./node.cjs";

export { FloodbarError } from "./node.cjs";

/** How a call goes over to the worker. */
export interface Sending {
  /**
   * Ends the call: its promise is rejected with the signal's reason, and the worker is ended if it is at work on it. The calls
   * after it get a new one.
   */
  readonly signal?: AbortSignalLike | undefined;
  /** Gives the arrays away instead of copying them: they are empty afterwards, and so is all else on their buffers. */
  readonly transfer?: boolean;
}

/** The same for what may go through heat. */
export interface Options extends Sending {
  /** Where the numbers of heat are kept. */
  readonly cache?: Cache | undefined;
}

/** Keeps the numbers of runs through heat in the worker, as `Cache` of `floodbar`; a worker that takes the place of another begins with none. */
export class Cache {
  #private;
  constructor(entries?: number);
  /** How often a run was found in it, and how often it was not. */
  counts(options?: Sending): Promise<{ hits: number; misses: number }>;
  /** Gives its memory back at once; else that happens some time after nothing refers to this any more. What was prepared with it goes on. */
  free(): void;
}

/** An AbortSignal, of whichever library declares it. */
export interface AbortSignalLike {
  readonly aborted: boolean;
  readonly reason: any;
  addEventListener(type: "abort", listener: () => void, options?: { once?: boolean }): void;
  removeEventListener(type: "abort", listener: () => void): void;
}

/** Loads what workers answer with, as `init` of `floodbar` does; in Node there is nothing to do. Await it, or {@link initWhole}, first. */
export function init(source?: Source): Promise<void>;

/** The same, with all calculations. */
export function initWhole(source?: Source): Promise<void>;

/**
 * Starts a worker before the first call needs one, while what it answers with is still loaded; and keeps another ready from the
 * first answer on, to take the place of one that a signal ends.
 */
export function warm(): void;

/** Answers a request; rejects with a {@link FloodbarError} that names the field at fault. */
export function calculate<Id extends keyof Calculations>(
  id: Id,
  request: Calculations[Id]["request"],
  options?: Options,
): Promise<Calculations[Id]["answer"]>;

/** Answers a request that is JSON text, as text. */
export function calculateText(id: string, text: string, options?: Options): Promise<string>;

/** Answers many requests, in their order: a bad one is its error in the list and spoils no other. */
export function calculateMany<Id extends keyof Calculations>(
  id: Id,
  requests: readonly Calculations[Id]["request"][],
  options?: Options,
): Promise<(Calculations[Id]["answer"] | Refused)[]>;

/** Answers a calculation at many points, as `sweep` of `floodbar`. */
export function sweep<Id extends keyof Calculations>(
  id: Id,
  request: Draft<Calculations[Id]["request"]>,
  spec: SweepSpec & { want: readonly Output[] },
  options?: Options,
): Promise<SweptColumns>;
export function sweep<Id extends keyof Calculations>(
  id: Id,
  request: Draft<Calculations[Id]["request"]>,
  spec: SweepSpec & { want?: null },
  options?: Options,
): Promise<SweptAnswers<Calculations[Id]["answer"]>>;

/** Finds the value of an input at which a number of the answer is what is wanted, as `solve` of `floodbar`. */
export function solve<Id extends keyof Calculations>(
  id: Id,
  request: Draft<Calculations[Id]["request"]>,
  spec: SolveSpec,
  options?: Options,
): Promise<Solved>;

/** Makes a calculation ready for rows of plain numbers. A worker that takes the place of another makes it ready again by itself. */
export function prepare<Id extends keyof Calculations>(
  id: Id,
  request: Draft<Calculations[Id]["request"]>,
  columns: { readonly inputs: readonly Input[]; readonly outputs: readonly Output[] },
  options?: Options,
): Promise<Prepared<Calculations[Id]["answer"]>>;

/** A calculation that is ready for rows of plain numbers. It never changes. */
export interface Prepared<Answer = unknown> {
  readonly inputs: readonly Column[];
  readonly outputs: readonly Column[];
  /** Works out whole columns, one for each input, all as long as one another. */
  run(columns: readonly Numbers[], options?: Sending): Promise<Rows>;
  /** The full answer of one row: a number for each input. */
  explain(row: Numbers, options?: Sending): Promise<Answer>;
  /** Gives its memory back at once; else that happens some time after nothing refers to this any more. */
  free(): void;
}

/** Measures a separation whose pixels are bytes, as `measureArtwork` of `floodbar`. */
export function measureArtwork(
  pixels: Uint8Array | Uint8ClampedArray,
  spec: Omit<Calculations["artwork.measure"]["request"], "pixels">,
  options?: Sending,
): Promise<Calculations["artwork.measure"]["answer"]>;
