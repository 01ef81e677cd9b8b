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

/** Instances within which a call broke off, for want of memory or of stack: in the middle of something, and out of use for good. */
const broken = new WeakSet();
let again;

export const isLoaded = () => wasm !== none;
export const isBroken = (instance) => broken.has(instance);

/** An instance of a compiled binary, at once. */
export function made(glue, module) {
  const instance = glue();
  instance.initSync({ module });
  return instance;
}

/** Takes an instance into use; `make` makes another of the same binary. */
export function use(loaded, make) {
  const instance = isBroken(loaded) ? make() : loaded;
  plain = new instance.Calculations();
  wasm = instance;
  again = make;
}

/** Of an instance within which a call broke off: another one takes its place. */
export function leave(instance) {
  if (instance === none) return;
  broken.add(instance);
  if (instance !== wasm) return;
  wasm = none;
  plain = none;
  use(again(), again);
}
