// The binary in use, with a glue of its own: none until one is loaded. It keeps nothing from call to
// call, so another can take its place; what was prepared stays with the one that prepared it.
export let wasm;

export function use(loaded) {
  wasm = loaded;
}
