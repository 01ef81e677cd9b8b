// Calls that a worker answers: the same functions, as promises. One call at a time is with the worker, so that ending it for one
// call takes no other's answer away.
import { MOST_REQUESTS } from "./limits.js";
import { bytes, cacheOf, entries, entriesOf, FloodbarError, membersOf, numbers, refuse, text } from "./values.js";

/**
 * The functions. `open(onReply, onFault)` starts a worker: `post(message, transfer)` sends to it, `end()` ends it, `busy(whether)`
 * says whether it is waited for. `ready(worker)` sends what it needs before a call, and throws where that is not there yet.
 */
export function client(open, ready) {
  let worker;
  /** One that takes the place of the other; only once it has been asked for. */
  let spare;
  let keepsSpare = false;
  let current;
  let count = 0;
  const waiting = [];

  function start() {
    const started = open(
      (reply) => started === worker && onReply(reply),
      (error) => {
        if (started === worker) onFault(error);
        else if (started === spare) spare = undefined;
      },
    );
    return started;
  }

  /** The worker, started at the latest now. */
  function atWork() {
    worker ??= spare ?? start();
    if (worker === spare) spare = undefined;
    return worker;
  }

  function warm() {
    keepsSpare = true;
    atWork();
  }

  /** Once the worker has answered, so that its own start is not held up. */
  function keepSpare() {
    if (!keepsSpare || worker === undefined || spare !== undefined) return;
    spare = start();
    ready?.(spare);
  }

  function next() {
    if (current !== undefined) return;
    // In their turn, since calls that wait may need it. There is no reply.
    while (waiting[0]?.freed !== undefined) {
      const { freed } = waiting.shift();
      worker?.post({ call: "free", values: [freed] }, []);
    }
    if (waiting.length === 0) return;
    current = waiting.shift();
    try {
      atWork();
      ready?.(worker);
      worker.busy(true);
      worker.post({ call: current.call, values: current.values }, current.transfer);
    } catch (error) {
      settle((job) => job.reject(error));
    }
  }

  function settle(how) {
    const job = current;
    current = undefined;
    worker?.busy(false);
    if (job !== undefined) {
      job.done();
      how(job);
    }
    next();
  }

  function onReply({ answer, refused, thrown }) {
    // A call broke off in it. A new one makes anew what was prepared.
    if (thrown !== undefined) end();
    settle((job) => {
      if (refused !== undefined) job.reject(new FloodbarError(refused));
      else if (thrown !== undefined) job.reject(thrown);
      else job.resolve(answer);
    });
    keepSpare();
  }

  function onFault(error) {
    end();
    settle((job) => job.reject(error));
  }

  function end() {
    worker?.end();
    worker = undefined;
  }

  function ask(options, call, values, transfer = [], keep = undefined) {
    const signal = options?.signal;
    return new Promise((resolve, reject) => {
      if (signal?.aborted) throw signal.reason;
      // What is freed once nothing refers to it any more is needed as long as its call: `keep`, and the cache of the options.
      const job = { call, values, transfer, keep, options, resolve, reject, done: () => signal?.removeEventListener("abort", stop) };
      const stop = () => {
        if (job === current) {
          end();
          settle(() => reject(signal.reason));
        } else {
          waiting.splice(waiting.indexOf(job), 1);
          reject(signal.reason);
        }
      };
      signal?.addEventListener("abort", stop, { once: true });
      waiting.push(job);
      next();
    });
  }

  /** Arrays to be sent: given away where the caller says so, else copied, so that his stay with him as they are. */
  const sent = (arrays, options) => (options?.transfer ? arrays : arrays.map((array) => array.slice()));
  const buffers = (arrays) => [...new Set(arrays.map(({ buffer }) => buffer))];
  const name = (id) => (typeof id === "string" ? id : refuse("wrong_type", "", "the name of the calculation must be a text"));

  /** How each cache, and each prepared calculation, is made in a worker; first its key there. Nothing of what is freed. */
  const recipes = new WeakMap();
  const finalizer = new FinalizationRegistry(forget);

  function keep(object, recipe) {
    recipes.set(object, recipe);
    finalizer.register(object, recipe[0], object);
    Object.freeze(object);
  }

  const held = (object, what) => recipes.get(object) ?? refuse("null_pointer", "", `${what} was freed`);

  function free(object) {
    if (!recipes.has(object)) return;
    finalizer.unregister(object);
    forget(recipes.get(object)[0]);
    recipes.delete(object);
  }

  /** In its turn, since calls that wait may need it. */
  function forget(key) {
    waiting.push({ freed: key });
    next();
  }

  class Cache {
    constructor(entries) {
      const most = entriesOf(entries);
      count += 1;
      keep(this, [count, most]);
    }

    async counts(options) {
      return ask(options, "counts", [held(this, "the cache")], [], this);
    }

    free() {
      free(this);
    }
  }

  const cacheIn = (options) => cacheOf(options, (given) => given instanceof Cache);

  /** How the cache of a call is made, if it has one. */
  function cached(options) {
    const cache = cacheIn(options);
    return cache && held(cache, "the cache");
  }

  class Prepared {
    #cache;

    constructor(recipe, columns, cache) {
      for (const [kind, list] of Object.entries(columns)) this[kind] = Object.freeze(list.map(Object.freeze));
      this.#cache = cache;
      keep(this, recipe);
    }

    /** How it is made: without its cache, once that is freed. */
    #recipe() {
      const recipe = held(this, "what was prepared here");
      return [...recipe, recipes.get(this.#cache)];
    }

    async run(columns, options) {
      const recipe = this.#recipe();
      const inputs = entries(columns, "/inputs", "a list of columns", numbers).map((column) => (Array.isArray(column) ? Float64Array.from(column) : column));
      const values = sent(inputs, options);
      return ask(options, "run", [recipe, values], buffers(values), this);
    }

    async explain(row, options) {
      return ask(options, "explain", [this.#recipe(), Float64Array.from(numbers(row, "/inputs"))], [], this);
    }

    free() {
      free(this);
    }
  }

  return {
    Cache,
    warm,
    async calculate(id, request, options) {
      return JSON.parse(await ask(options, "calculateText", [name(id), text(request), cached(options)]));
    },
    async calculateText(id, text, options) {
      const asked = typeof text === "string" ? text : refuse("wrong_type", "", "the request must be a text");
      return ask(options, "calculateText", [name(id), asked, cached(options)]);
    },
    async calculateMany(id, requests, options) {
      const texts = () => entries(requests, "", "a list of requests", (request) => {
        try {
          return text(request);
        } catch (error) {
          return { error: membersOf(error) };
        }
      }, MOST_REQUESTS);
      cached(options);
      // Whether there is such a calculation comes first, as without a worker.
      await ask(options, "find", [name(id)]);
      return ask(options, "calculateMany", [id, texts(), cached(options)]);
    },
    async sweep(id, request, spec, options) {
      return ask(options, "sweep", [name(id), text(request), text(spec), cached(options)]);
    },
    async solve(id, request, spec, options) {
      return ask(options, "solve", [name(id), text(request), text(spec), cached(options)]);
    },
    async prepare(id, request, columns, options) {
      count += 1;
      const recipe = [count, name(id), text(request), text(columns)];
      const made = await ask(options, "prepare", [[...recipe, cached(options)]]);
      return new Prepared(recipe, made, cacheIn(options));
    },
    async measureArtwork(pixels, spec, options) {
      const values = sent([bytes(pixels)], options);
      return ask(options, "measureArtwork", [...values, text(spec)], buffers(values));
    },
  };
}
