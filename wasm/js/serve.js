// The side of the worker: one message is one call, and gets one reply.
import { FloodbarError, membersOf } from "./values.js";

/** What `api` replies to a message, and what goes over with it; undefined where nothing is to be replied. */
export function server(api) {
  /** What is kept here, by its key. */
  const kept = new Map();

  /** What was made in this worker, or in one before it that was ended. */
  function held(key, make) {
    if (!kept.has(key)) kept.set(key, make());
    return kept.get(key);
  }

  const cacheOf = ([key, entries]) => held(key, () => new api.Cache(entries));
  const cached = (recipe) => recipe && { cache: cacheOf(recipe) };
  const prepared = ([key, id, request, columns, cache]) =>
    held(key, () => api.prepare(id, JSON.parse(request), JSON.parse(columns), cached(cache)));

  const calls = {
    calculateText: (id, request, cache) => api.calculateText(id, request, cached(cache)),
    find: (id) => void api.calculateMany(id, []),
    calculateMany: (id, requests, cache) => requests.flatMap((request) =>
      (typeof request === "string" ? api.calculateMany(id, [JSON.parse(request)], cached(cache)) : request)),
    sweep: (id, request, spec, cache) => api.sweep(id, JSON.parse(request), JSON.parse(spec), cached(cache)),
    solve: (id, request, spec, cache) => api.solve(id, JSON.parse(request), JSON.parse(spec), cached(cache)),
    prepare(recipe) {
      const { inputs, outputs } = prepared(recipe);
      return { inputs, outputs };
    },
    run: (recipe, columns) => prepared(recipe).run(columns),
    explain: (recipe, row) => prepared(recipe).explain(row),
    counts: (recipe) => cacheOf(recipe).counts(),
    measureArtwork: (pixels, spec) => api.measureArtwork(pixels, JSON.parse(spec)),
  };

  return ({ call, values }) => {
    if (call === "free") {
      kept.get(values[0])?.free();
      kept.delete(values[0]);
      return undefined;
    }
    try {
      const answer = calls[call](...values);
      const arrays = call === "run" ? [...answer.columns, answer.cautions, answer.limits] : [];
      return [{ answer }, arrays.map(({ buffer }) => buffer)];
    } catch (error) {
      return [error instanceof FloodbarError ? { refused: membersOf(error) } : { thrown: error }, []];
    }
  };
}
