// The side of the worker: one message is one call, and gets one reply.
import { FloodbarError, membersOf } from "./values.js";

/** What `api` replies to a message, and what goes over with it; undefined where nothing is to be replied. */
export function server(api) {
  const prepared = new Map();

  /** What was prepared, in this worker or in one before it that was ended. */
  function held([key, id, request, columns]) {
    if (!prepared.has(key)) prepared.set(key, api.prepare(id, JSON.parse(request), JSON.parse(columns)));
    return prepared.get(key);
  }

  const calls = {
    calculateText: api.calculateText,
    find: (id) => void api.calculateMany(id, []),
    calculateMany: (id, requests) => requests.flatMap((request) => (typeof request === "string" ? api.calculateMany(id, [JSON.parse(request)]) : request)),
    sweep: (id, request, spec) => api.sweep(id, JSON.parse(request), JSON.parse(spec)),
    solve: (id, request, spec) => api.solve(id, JSON.parse(request), JSON.parse(spec)),
    prepare(recipe) {
      const { inputs, outputs } = held(recipe);
      return { inputs, outputs };
    },
    run: (recipe, columns) => held(recipe).run(columns),
    explain: (recipe, row) => held(recipe).explain(row),
    measureArtwork: (pixels, spec) => api.measureArtwork(pixels, JSON.parse(spec)),
  };

  return ({ call, values }) => {
    if (call === "free") {
      prepared.get(values[0])?.free();
      prepared.delete(values[0]);
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
