/** The value of a global class of the runtime; nothing where it, or its declaration, is not there. */
type Own<Name extends string> = typeof globalThis extends { [Key in Name]: { prototype: infer Made } } ? Made : never;
type OwnModule = typeof globalThis extends { WebAssembly: { Module: { prototype: infer Made } } } ? Made : never;

/** The address, response, bytes or module of a binary, or the promise of one. */
export type Source = SourceGiven | Promise<SourceGiven>;
type SourceGiven = string | Own<"URL"> | Own<"Request"> | Own<"Response"> | OwnModule | ArrayBufferLike | ArrayBufferView;

/**
 * Loads the WebAssembly without what is not asked every day (whole orders, pictures, tones, opacity, fits of probes; `floodbar/catalogue` has
 * all): the file `floodbar_bg.wasm` beside this module, or the source given. Await it, or {@link initWhole}, first. In Node all calculations are
 * there from the start, and this has nothing to do.
 */
export function init(source?: Source): Promise<void>;

/**
 * Loads the WebAssembly with all calculations: the file `floodbar_whole_bg.wasm` beside this module, or the source given. Instead of
 * {@link init}, or after it, once an order is to be planned: it takes the place of what is loaded.
 */
export function initWhole(source?: Source): Promise<void>;

/** Answers a request; throws a {@link FloodbarError} that names the field at fault. */
export function calculate<Id extends keyof Calculations>(
  id: Id,
  request: Calculations[Id]["request"],
  options?: Options,
): Calculations[Id]["answer"];

/** How a call is answered. */
export interface Options {
  /** Where the numbers of heat are kept. */
  readonly cache?: Cache | undefined;
}

/**
 * Keeps the numbers of so many runs through heat (flash, dryer), 1000 if not said, for the calls that it is given to; what was not
 * asked for the longest goes first. Answers are the same with it and without. It begins anew when {@link initWhole} takes the place
 * of what is loaded.
 */
export class Cache {
  #private;
  constructor(entries?: number);
  /** How often a run was found in it, and how often it was not. */
  counts(): { hits: number; misses: number };
  /** Gives its memory back at once; else that happens some time after nothing refers to this any more. What was prepared with it goes on. */
  free(): void;
}

/** Answers a request that is JSON text, as text: for request files as they are. */
export function calculateText(id: string, text: string, options?: Options): string;

/** Answers many requests, in their order: a bad one is its error in the list and spoils no other. */
export function calculateMany<Id extends keyof Calculations>(
  id: Id,
  requests: readonly Calculations[Id]["request"][],
  options?: Options,
): (Calculations[Id]["answer"] | Refused)[];

/**
 * Answers a calculation at many points, from end to end or as listed. With `want` the answer has a column for each, in one unit,
 * else whole answers. A point that fails is its error, and spoils no other.
 */
export function sweep<Id extends keyof Calculations>(
  id: Id,
  request: Draft<Calculations[Id]["request"]>,
  spec: SweepSpec & { want: readonly Output[] },
  options?: Options,
): SweptColumns;
export function sweep<Id extends keyof Calculations>(
  id: Id,
  request: Draft<Calculations[Id]["request"]>,
  spec: SweepSpec & { want?: null },
  options?: Options,
): SweptAnswers<Calculations[Id]["answer"]>;

/**
 * Finds the value of an input at which a number of the answer is what is wanted; throws `no_solution` where none is, saying what
 * the answer is at both ends.
 */
export function solve<Id extends keyof Calculations>(
  id: Id,
  request: Draft<Calculations[Id]["request"]>,
  spec: SolveSpec,
  options?: Options,
): Solved;

/**
 * Makes a calculation ready for rows of plain numbers: the request is read once, `inputs` are then set and `outputs` read. What an
 * input sets need not stand in the request.
 */
export function prepare<Id extends keyof Calculations>(
  id: Id,
  request: Draft<Calculations[Id]["request"]>,
  columns: { readonly inputs: readonly Input[]; readonly outputs: readonly Output[] },
  options?: Options,
): Prepared<Calculations[Id]["answer"]>;

/** A calculation that is ready for rows of plain numbers. It never changes. */
export interface Prepared<Answer = unknown> {
  /** What a row sets, each with its unit; `1` for a plain number. */
  readonly inputs: readonly Column[];
  /** What a row gives, each with its unit. */
  readonly outputs: readonly Column[];
  /**
   * Works out whole columns, one for each input, all as long as one another; into the given columns, one for each output, or into new
   * ones. A number that an answer does not have, and all of a row that fails, is NaN. A given column may be one of the inputs', but
   * not overlap it otherwise.
   */
  run(columns: readonly Numbers[], into?: readonly Float64Array[]): Rows;
  /** The full answer of one row: a number for each input. */
  explain(row: Numbers): Answer;
  /** Gives its memory back at once; else that happens some time after nothing refers to this any more. */
  free(): void;
}

/** A number of a request or an answer, and the unit in which it is set or read. */
export interface Column {
  readonly at: string;
  readonly unit: string;
}

/** A column of numbers. */
export type Numbers = Float64Array | readonly number[];

/** What became of rows. */
export interface Rows {
  /** A column for each output. */
  columns: Float64Array[];
  /** Of each row, whether it has an answer, else why not: `explain` tells more. */
  status: ("success" | ErrorCode)[];
  /** How many cautions each row met. */
  cautions: Uint32Array;
  /** How many limits each row met. */
  limits: Uint32Array;
}

/** A number to be set: its JSON pointer in the request, by itself or with a unit, without which the usual one is meant. */
export type Input = string | { readonly at: string; readonly unit?: string };

/** A number to be read: its JSON pointer in the answer, by itself or with a unit; or a word, which is 1 where it is this one, else 0. */
export type Output = Input | { readonly at: string; readonly equals: string };

/** What a sweep goes through: points from end to end, or values of any kind that belong there. */
export type SweepSpec = { readonly vary: string } & (
  | {
      readonly from: Measure;
      readonly to: Measure;
      readonly points: number;
      /** Linear where it is left out. */
      readonly spacing?: "linear" | "geometric";
      readonly values?: null;
    }
  | { readonly values: readonly unknown[] }
);

/** What is looked for: the value of `vary` at which `want` equals this. */
export interface SolveSpec {
  readonly vary: string;
  readonly from: Measure;
  readonly to: Measure;
  readonly want: Input;
  readonly equals: Measure;
}

/**
 * A number with its unit, in text: a decimal or a fraction, and with `+/-` its 95 % half-width. What is known as a text only, such as
 * what somebody typed, is said to be one by `as Length`: it is checked when it is asked.
 */
export type Quantity<Unit extends string> =
  | `${number} ${Unit}`
  | `${number}${Unit}`
  | `${number}/${number} ${Unit}`
  | `${number}/${number}${Unit}`
  | `${number} ${number}/${number} ${Unit}`
  | `${number} ${number}/${number}${Unit}`
  | `${number} ${PlusMinus} ${number} ${Unit}`
  | `${number}${PlusMinus}${number}${Unit}`
  | `${number} ${Unit} ${PlusMinus} ${number}${string}`
  | `${number}${Unit} ${PlusMinus}${number}${string}`
  | `${number}${Unit}${PlusMinus}${number}${string}`;

/** What stands before a half-width. */
export type PlusMinus = "+/-" | "\u00b1" | "+-";

/** A number and its unit, apart. */
export interface Parts<Unit> {
  readonly value: number;
  readonly unit: Unit;
  readonly plus_minus?: number | null;
}

/** A quantity, or a plain number where one belongs. */
export type Measure = number | string | Measured;

/** A quantity as it is answered; a plain number has no unit. */
export type Measured = number | { value: number; unit: string };

/** Whole answers at many points. */
export interface SweptAnswers<Answer> {
  x: SweptPoints;
  answers: (Answer | Refused)[];
}

/** What is wanted of the answers at many points. */
export interface SweptColumns {
  x: SweptPoints;
  /** With null where there is no such number; `plus_minus` where the request has doubts. */
  columns: { at: string; unit: string; values: (number | null)[]; plus_minus?: (number | null)[] }[];
  /** The points that fail. */
  errors: ({ index: number } & Refused)[];
}

/** Where the points lie: numbers in a unit, or the values that were listed. */
export interface SweptPoints {
  unit?: string;
  values: unknown[];
}

/** A value that gives the wanted answer. */
export interface Solved {
  vary: string;
  /** The least of the values found. */
  value: Measured;
  /** What the answer is there. */
  reached: Measured;
  /** Whether the answer passes over what is wanted there, without taking it. */
  jump: boolean;
  evaluations: number;
  /** Further values that give it. */
  others: Measured[];
}

/** A request that may lack what is set otherwise. */
export type Draft<Request> = Request extends readonly (infer Entry)[]
  ? readonly Draft<Entry>[]
  : Request extends object
    ? { [Member in keyof Request]?: Draft<Request[Member]> }
    : Request;

/** The error of one of many. */
export interface Refused {
  error: { code: ErrorCode; field: string; message: string; got: unknown; allowed: string[] };
}

/**
 * Measures a separation whose pixels are bytes, row by row from the top. The answer goes into the `artwork` of `ink.usage`
 * and `job.plan` as it stands.
 */
export function measureArtwork(
  pixels: Uint8Array | Uint8ClampedArray,
  spec: Omit<Calculations["artwork.measure"]["request"], "pixels">,
): Calculations["artwork.measure"]["answer"];

/** Why there is no answer. */
export class FloodbarError extends Error {
  readonly name: "FloodbarError";
  /** What kind of fault it is. */
  readonly code: ErrorCode;
  /** JSON pointer to the field at fault; empty for the request as a whole. */
  readonly field: string;
  /** The value at fault, shortened where it is long. */
  readonly got: unknown;
  /** The ranges, units or words that are allowed. */
  readonly allowed: readonly string[];
  constructor(error: { code: ErrorCode; field: string; message: string; got: unknown; allowed: readonly string[] });
}
