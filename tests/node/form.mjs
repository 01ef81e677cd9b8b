// A form from a schema: what a page needs to know to draw one, and nothing that the schema does not say.

/** The schema itself, or what it refers to, the keywords beside the reference kept. */
function resolve(schema, root) {
  if (schema.$ref === undefined) return schema;
  const { $ref, ...beside } = schema;
  return { ...resolve(root.$defs[$ref.split("/").at(-1)], root), ...beside };
}

/** All forms that a value may have: one, or those of an anyOf, itself nested. */
function forms(schema, root) {
  const whole = resolve(schema, root);
  return whole.anyOf === undefined ? [whole] : whole.anyOf.flatMap((form) => forms(form, root));
}

const kindOf = (value) => (Array.isArray(value) ? "array" : value === null ? "null" : typeof value);
const takes = (form, value) => {
  const types = [form.type].flat();
  if (form.enum !== undefined) return form.enum.includes(value);
  if (types.includes("integer")) return Number.isInteger(value);
  if (kindOf(value) !== "object" || form.properties === undefined) return types.includes(kindOf(value)) || form.type === undefined;
  return Object.keys(value).every((name) => name in form.properties) && (form.required ?? []).every((name) => name in value);
};

/** The controls of a form, filled with a value: each with its pointer, label, hint, choices and error. */
export function draw(schema, value, root = schema, pointer = "", label = root.title ?? "") {
  const whole = resolve(schema, root);
  const quantity = whole["x-quantity"];
  const hint = [quantity?.least !== undefined && `${quantity.least} to ${quantity.most} ${quantity.unit}`, whole.default ?? whole["x-default"]];
  const options = forms(schema, root).flatMap((form) => form.enum ?? []);
  const control = { pointer, label, meaning: whole.description, hint: hint.filter(Boolean).join("; "), rank: whole["x-rank"], options, value, error: null };
  const form = forms(schema, root).find((one) => takes(one, value));
  if (form === undefined || value === null) return [control];
  if (form.properties !== undefined && !(quantity && "value" in form.properties)) {
    return [control, ...Object.entries(form.properties).flatMap(([name, field]) =>
      draw(field, value[name] ?? null, root, `${pointer}/${name}`, field.title ?? name))];
  }
  const items = form.prefixItems ?? (form.items && value.map(() => form.items));
  return [control, ...(items ?? []).flatMap((item, index) => draw(item, value[index] ?? null, root, `${pointer}/${index}`, `${label} ${index + 1}`))];
}

/** Puts an error at its control, or at the nearest one around it. */
export function showError(controls, error) {
  let pointer = error.field;
  while (pointer !== "" && !controls.some((control) => control.pointer === pointer)) pointer = pointer.slice(0, pointer.lastIndexOf("/"));
  const control = controls.find((one) => one.pointer === pointer);
  control.error = error.message;
  return control;
}
