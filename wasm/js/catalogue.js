// The catalogue: an import of its own, so that a page that does not show it does not load it.
import document from "./document.js";
import { schemaOf } from "./schema.js";

export const catalogue = () => document;

export const schema = schemaOf(document);
