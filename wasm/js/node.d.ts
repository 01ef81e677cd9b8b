/** Answers a request; throws a {@link FloodbarError} that names the field at fault. */
export function calculate<Id extends keyof Calculations>(
  id: Id,
  request: Calculations[Id]["request"],
): Calculations[Id]["answer"];

/** Answers a request that is JSON text, as text: for request files as they are. */
export function calculateText(id: string, text: string): string;

/**
 * Measures a separation whose pixels are bytes, row by row from the top. The answer goes into the `artwork` of `ink.usage`
 * and `job.plan` as it stands.
 */
export function measureArtwork(
  pixels: Uint8Array | Uint8ClampedArray,
  spec: Omit<Calculations["artwork.measure"]["request"], "pixels">,
): Calculations["artwork.measure"]["answer"];

/** Every calculation with its question, formula, sources, example and schemas. One shared document: leave it as it is. */
export function catalogue(): Catalogue;

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

/** What the catalogue tells of a calculation. */
export interface CatalogueEntry {
  readonly id: keyof Calculations;
  readonly title: string;
  /** The question it answers, as a printer would ask it. */
  readonly question: string;
  readonly formula: string;
  readonly sources: readonly { readonly kind: string; readonly source: string }[];
  /** A worked request. */
  readonly example: Calculations[keyof Calculations]["request"];
  readonly request: Schema;
  readonly answer: Schema;
}

/** The catalogue as a document. */
export interface Catalogue {
  readonly name: string;
  readonly version: string;
  readonly calculations: readonly CatalogueEntry[];
  readonly $defs: { readonly [name: string]: Schema };
}

/** A JSON Schema (draft 2020-12). */
export interface Schema {
  readonly [keyword: string]: unknown;
}
