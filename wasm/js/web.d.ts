export * from "./node.js";

/** The address, response, bytes or module of a binary. */
export type Source = string | URL | Request | Response | BufferSource | WebAssembly.Module | Promise<Response>;

/**
 * Loads the WebAssembly without what only whole orders need (`job.plan`, `job.quote`, `artwork.measure` and `measureArtwork`): the file
 * `floodbar_bg.wasm` beside this module, or the source given. Await it, or {@link initWhole}, first.
 */
export function init(source?: Source): Promise<void>;
export default init;

/**
 * Loads the WebAssembly with all calculations: the file `floodbar_whole_bg.wasm` beside this module, or the source given. Instead of
 * {@link init}, or after it, once an order is to be planned: it takes the place of what is loaded.
 */
export function initWhole(source?: Source): Promise<void>;
