// A schema of the catalogue, whole in itself: with the definitions of the document that it refers to.
export const schemaOf = (document) => (id, which) => {
  const entry = document.calculations.find((calculation) => calculation.id === id);
  if (entry === undefined) throw new RangeError(`no calculation is called ${id}`);
  return { $schema: "https://json-schema.org/draft/2020-12/schema", ...entry[which], $defs: document.$defs };
};
