export * from "./node.js";

/** Loads the WebAssembly: the file beside this module, or the address, response, bytes or module given. Await it first. */
export function init(
  source?: string | URL | Request | Response | BufferSource | WebAssembly.Module | Promise<Response>,
): Promise<void>;
export default init;
