// The types hold what the catalogue says: node catalogued.mjs PROJECT VECTORS_DIR
//
// PROJECT has the package installed. Names, fields and units are compared here; all examples, and all requests of the vectors that
// are answered, are written to PROJECT/asked.ts, to be compiled.
import assert from "node:assert/strict";
import { readFileSync, readdirSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import path from "node:path";
import { check, close } from "./checks.mjs";

const [project, vectorsDir] = process.argv.slice(2);
if (vectorsDir === undefined) {
  console.error("usage: node catalogued.mjs PROJECT VECTORS_DIR");
  process.exit(2);
}
const require = createRequire(path.resolve(project, "main.js"));
const { catalogue } = require("floodbar/catalogue");
const { calculations, operators, $defs } = catalogue();
const read = (name) => readFileSync(path.join(project, "node_modules/floodbar", name), "utf8");
const [types, catalogueTypes] = [read("node.d.cts"), read("catalogue.d.cts")];

/** What a declaration says after its name, up to its end. */
const declared = (kind, name, end, from = types) => from.split(`\nexport ${kind} ${name} `)[1]?.split(end)[0] ?? assert.fail(`${name} is not declared`);
/** The texts of a union. */
const texts = (union) => [...union.matchAll(/"(?:[^"\\]|\\.)*"/g)].map(([text]) => JSON.parse(text));
/** The members of an interface, by name, and whether each may be left out. */
const members = (body) => Object.fromEntries([...body.matchAll(/^ {2}(?:readonly )?("[^"]+"|[\w$]+)(\??): /gm)].map(([, name, mark]) => [name.replaceAll('"', ""), mark === "?"]));
const pascal = (id) => id.split(/[._]/).map((word) => word[0].toUpperCase() + word.slice(1)).join("");

await check("the calculations are those of the catalogue", () => {
  const ids = [...declared("interface", "Calculations", "\n}").matchAll(/^ {2}"([^"]+)": \{/gm)].map(([, id]) => id);
  assert.deepEqual(ids, calculations.map(({ id }) => id));
});

await check("the document has the members of its types, and no others", () => {
  const names = (type) => Object.keys(members(declared("interface", type, "\n}", catalogueTypes))).sort();
  assert.deepEqual(names("Catalogue"), Object.keys(catalogue()).sort());
  for (const entry of calculations) assert.deepEqual(Object.keys(entry).sort(), names("CatalogueEntry"), entry.id);
  assert.deepEqual(Object.keys(operators), texts(declared("interface", "Catalogue", "\n}", catalogueTypes).match(/operators: .*/)[0]));
  const optional = members(declared("interface", "CatalogueOperator", "\n}", catalogueTypes));
  for (const [name, operator] of Object.entries(operators)) {
    const must = Object.keys(optional).filter((member) => !optional[member] || member in operator);
    assert.deepEqual(Object.keys(operator).sort(), must.sort(), name);
  }
});

for (const { id, request, answer } of calculations) {
  await check(`the fields of ${id}`, () => {
    for (const [schema, name] of [[request, `${pascal(id)}Request`], [answer, `${pascal(id)}Answer`]]) {
      const want = Object.keys(schema.properties).map((field) => [field, !(schema.required ?? []).includes(field)]);
      assert.deepEqual(members(declared("interface", name, "\n}")), Object.fromEntries(want));
    }
  });
}

// Of each dimension, the units that its fields name.
const named = {};
(function walk(part) {
  if (part === null || typeof part !== "object") return;
  const quantity = part["x-quantity"];
  if (Array.isArray(quantity?.units)) named[quantity.dimension === "number" ? "Number" : quantity.dimension] = quantity.units;
  Object.values(part).forEach(walk);
})({ calculations, $defs });
/** What comes in as a text with an example: money has none. */
const dimensions = Object.keys($defs).filter((name) => $defs[name].anyOf?.[0].examples !== undefined);
const asked = ["import * as floodbar from \"floodbar\";"];

for (const dimension of dimensions) {
  await check(`the units of ${dimension}, each in all its spellings`, () => {
    const spellings = texts(declared("type", `${dimension}Unit`, ";\n"));
    for (const unit of named[dimension] ?? []) assert.ok(spellings.includes(unit), unit);
    const [text, parts] = $defs[dimension].anyOf;
    const unit = parts.properties.unit;
    const pattern = new RegExp(unit.pattern ?? unit.anyOf.find((form) => form.pattern).pattern, "u");
    for (const name of spellings) {
      assert.match(name, pattern);
      assert.match(`1.5 ${name}`, new RegExp(text.pattern, "u"));
    }
    for (const example of text.examples) asked.push(`((given: floodbar.${dimension}) => given)(${JSON.stringify(example)});`);
  });
}
await check("fields name the units of dimensions that are there", () => {
  const { count, ...units } = named;
  assert.ok(Object.keys(units).length > 20);
  for (const dimension of Object.keys(units)) assert.ok(dimensions.includes(dimension), dimension);
});

await check("what is answered may be asked", () => {
  for (const dimension of dimensions) {
    if ($defs[`${dimension}Shown`]) asked.push(`((given: floodbar.${dimension}Shown): floodbar.${dimension} => given);`);
  }
});

for (const { id, example } of calculations) asked.push(`floodbar.calculate(${JSON.stringify(id)}, ${JSON.stringify(example)});`);
let vectors = 0;
for (const name of readdirSync(vectorsDir).filter((name) => name.endsWith(".json")).sort()) {
  for (const { calculation, request, error } of JSON.parse(readFileSync(path.join(vectorsDir, name), "utf8"))) {
    if (error !== undefined || request === undefined) continue;
    asked.push(`floodbar.calculate(${JSON.stringify(calculation)}, ${JSON.stringify(request)});`);
    vectors += 1;
  }
}
await check("there are vectors", () => assert.ok(vectors > 300, `${vectors}`));
writeFileSync(path.join(project, "asked.ts"), `${asked.join("\n")}\n`);
close();
