// For browsers: ready when init has been awaited.
import load from "./floodbar.js";
import document from "./catalogue.json" with { type: "json" };

export * from "./api.js";
export const catalogue = () => document;

export async function init(source) {
  await load({ module_or_path: source });
}
export default init;
