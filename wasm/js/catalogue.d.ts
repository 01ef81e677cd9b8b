import type { Calculations } from "./node.js";

/** Every calculation with its question, formula, sources, example and schemas. One shared document: leave it as it is. */
export function catalogue(): Catalogue;

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
