// The catalogue, by require. The document lies there once, as a module: half a megabyte is not kept twice.
"use strict";

const { readFileSync } = require("node:fs");
const path = require("node:path");
const { schemaOf } = require("./core.cjs");

const module_text = readFileSync(path.join(__dirname, "document.js"), "utf8");
const document = JSON.parse(module_text.slice("export default ".length, module_text.lastIndexOf(";")));

module.exports = { catalogue: () => document, schema: schemaOf(document) };
