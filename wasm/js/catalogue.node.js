// The catalogue, for Node: an import of its own, so that who does not show it does not load it.
import { readFileSync } from "node:fs";
import { schemaOf } from "./schema.js";

const document = JSON.parse(readFileSync(new URL("./catalogue.json", import.meta.url)));

export const catalogue = () => document;

export const schema = schemaOf(document);
