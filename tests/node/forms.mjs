// Forms drawn from the schemas by form.mjs answer every example, and show each error at its field: node forms.mjs
import assert from "node:assert/strict";
import { calculate, FloodbarError } from "floodbar";
import { catalogue, schema } from "floodbar/catalogue";
import { check, close } from "./checks.mjs";
import { draw, showError } from "./form.mjs";

/** The request that the controls hold. */
function collect(controls) {
  const request = {};
  for (const { pointer, value } of controls) {
    if (pointer === "" || value === null) continue;
    const steps = pointer.slice(1).split("/");
    const last = steps.pop();
    const place = steps.reduce((part, step) => part?.[step], request);
    if (place !== undefined && typeof place === "object") place[last] = structuredClone(value);
  }
  return request;
}

let seen = 0;
for (const { id, example } of catalogue().calculations) {
  await check(`a form of ${id}`, () => {
    const controls = draw(schema(id, "request"), example);
    const fields = controls.filter(({ pointer }) => pointer !== "");
    assert.ok(fields.every(({ label, pointer }) => label !== "" && pointer !== ""), "each control has a label");
    assert.deepEqual(calculate(id, collect(controls)), calculate(id, example));
    // Each field in turn gets what no field takes.
    for (const { pointer } of fields.filter(({ value }) => value !== null)) {
      const wrong = controls.map((control) => (control.pointer === pointer ? { ...control, value: { no: "such thing" } } : { ...control }));
      const sent = collect(wrong.filter((control) => !control.pointer.startsWith(`${pointer}/`)));
      let error;
      try {
        calculate(id, sent);
      } catch (thrown) {
        error = thrown;
      }
      // Two members of an artwork's answer are not looked at.
      if (error === undefined && /\/(notes|basis)(\/|$)/.test(pointer)) continue;
      assert.ok(error instanceof FloodbarError, `${pointer} takes anything`);
      const shown = showError(wrong, error);
      assert.ok(shown.pointer === pointer || pointer.startsWith(`${shown.pointer}/`), `the error of ${pointer} is shown at ${shown.pointer}`);
      seen += 1;
    }
  });
}
await check("errors were shown", () => assert.ok(seen > 250, `${seen} errors`));
close();
