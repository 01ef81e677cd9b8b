import type { Calculations } from "./node.cjs";

/** Every calculation with its question, formula, sources, example and schemas. One shared document: leave it as it is. */
export function catalogue(): Catalogue;

/** The JSON Schema of a calculation's request or answer, whole in itself. */
export function schema(id: keyof Calculations, which: "request" | "answer"): Schema;

/** What the catalogue tells of a calculation. */
export interface CatalogueEntry {
  readonly id: keyof Calculations;
  readonly title: string;
  /** The question it answers, as a printer would ask it. */
  readonly question: string;
  /** Other ways in which people ask it. */
  readonly asked: readonly string[];
  /** The members of the answer that answer it, the first of them first; none where the whole answer does. */
  readonly headline: readonly string[];
  readonly formula: string;
  readonly sources: readonly { readonly kind: string; readonly source: string }[];
  /** A worked request. */
  readonly example: Calculations[keyof Calculations]["request"];
  readonly request: Schema;
  readonly answer: Schema;
}

/** What the catalogue tells of an operator. */
export interface CatalogueOperator {
  readonly description: string;
  /** What is given to it beside the request. */
  readonly spec: Schema;
  /** What it answers; none where that is something to call. */
  readonly answer?: Schema;
}

/** The catalogue as a document. */
export interface Catalogue {
  readonly name: string;
  readonly version: string;
  readonly calculations: readonly CatalogueEntry[];
  /** What can be asked of any calculation, by the names of the functions. */
  readonly operators: { readonly [Name in "sweep" | "solve" | "prepare"]: CatalogueOperator };
  /** The keywords of our own in the schemas, and what each says. */
  readonly keywords: { readonly [keyword: string]: string };
  /** What a request can be refused for though its schema takes it, by the code of the error. */
  readonly beyond_schemas: { readonly [code: string]: string };
  /** All that is built in, as `stock.list` answers it in metric units. */
  readonly stock: Calculations["stock.list"]["answer"]["kinds"];
  readonly $defs: { readonly [name: string]: Schema };
}

/** A JSON Schema (draft 2020-12). */
export interface Schema {
  readonly [keyword: string]: unknown;
}
