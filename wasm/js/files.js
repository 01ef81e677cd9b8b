// Where the binaries lie, beside this module. Bundlers look for these expressions, and put the files where they lead to.
export const leanFile = () => new URL("./floodbar_bg.wasm", import.meta.url);
export const wholeFile = () => new URL("./floodbar_whole_bg.wasm", import.meta.url);

/** Loads once, however often it is asked to; after a failure it may be asked again. */
export function once(load) {
  let loading;
  return (source) => loading ??= load(source).catch((error) => {
    loading = undefined;
    throw error;
  });
}
