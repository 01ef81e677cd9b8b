// The binary in use, with a glue of its own: none until one is loaded. It keeps nothing from call to
// call, so another can take its place; what was prepared stays with the one that prepared it.
const none = new Proxy({}, {
  get() {
    throw new Error("floodbar is not loaded yet: `await init()`, or `await initWhole()`, comes before the first call");
  },
});

export let wasm = none;
/** What answers without a cache. */
export let plain = none;

export const isLoaded = () => wasm !== none;

export function use(loaded) {
  wasm = loaded;
  plain = new loaded.Calculations();
}
