// The catalogue, for browsers: an import of its own, so that a page that does not show it does not load it.
import document from "./catalogue.json" with { type: "json" };

export const catalogue = () => document;
