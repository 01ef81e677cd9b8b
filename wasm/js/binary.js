// The binary in use, with a glue of its own: none until one is loaded. It keeps nothing from call to call, so another can take its place.
export let wasm;

export function use(loaded) {
  wasm = loaded;
}
