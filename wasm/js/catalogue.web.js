// The catalogue, for browsers: an import of its own, so that a page that does not show it does not load it.
import document from "./catalogue.json" with { type: "json" };
import { schemaOf } from "./schema.js";

export const catalogue = () => document;

export const schema = schemaOf(document);
