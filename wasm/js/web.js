// For browsers: ready when init has been awaited.
import load from "./floodbar.js";

export * from "./api.js";

export async function init(source) {
  await load({ module_or_path: source });
}
export default init;
