// Calls that a worker answers: the same functions, as promises. One call at a time is with the worker, so that ending it for one
// call takes no other's answer away.
import { MOST_REQUESTS } from "./limits.js";
import { bytes, entries, FloodbarError, membersOf, numbers, refuse, text } from "./values.js";

/**
 * The functions. `open(onReply, onFault)` starts a worker: `post(message, transfer)` sends to it, `end()` ends it, `busy(whether)`
 * says whether it is waited for. `ready(worker)` sends what it needs before a call.
 */
export function client(open, ready) {
  let worker;
  let current;
  let count = 0;
  const waiting = [];

  function next() {
    if (current !== undefined || waiting.length === 0) return;
    current = waiting.shift();
    try {
      worker ??= open(onReply, onFault);
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

  const onReply = ({ answer, refused, thrown }) => settle((job) => {
    if (refused !== undefined) job.reject(new FloodbarError(refused));
    else if (thrown !== undefined) job.reject(thrown);
    else job.resolve(answer);
  });

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
      // `keep` stays as long as its call: what is freed with it is still needed.
      const job = { call, values, transfer, keep, resolve, reject, done: () => signal?.removeEventListener("abort", stop) };
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

  const freed = new FinalizationRegistry((key) => forget(key));
  const forget = (key) => worker?.post({ call: "free", values: [key] }, []);

  class Prepared {
    /** How it is made again in a new worker, and its name there. */
    #recipe;

    constructor(recipe, columns) {
      this.#recipe = recipe;
      for (const [kind, list] of Object.entries(columns)) this[kind] = Object.freeze(list.map(Object.freeze));
      Object.freeze(this);
      freed.register(this, recipe[0], this);
    }

    #held() {
      return this.#recipe ?? refuse("null_pointer", "", "what was prepared here was freed");
    }

    async run(columns, options) {
      const recipe = this.#held();
      const inputs = entries(columns, "/inputs", "a list of columns", numbers).map((column) => (Array.isArray(column) ? Float64Array.from(column) : column));
      const values = sent(inputs, options);
      return ask(options, "run", [recipe, values], buffers(values), this);
    }

    async explain(row, options) {
      return ask(options, "explain", [this.#held(), Float64Array.from(numbers(row, "/inputs"))], [], this);
    }

    free() {
      if (this.#recipe === undefined) return;
      freed.unregister(this);
      forget(this.#recipe[0]);
      this.#recipe = undefined;
    }
  }

  return {
    async calculate(id, request, options) {
      return JSON.parse(await ask(options, "calculateText", [name(id), text(request)]));
    },
    async calculateText(id, text, options) {
      return ask(options, "calculateText", [name(id), typeof text === "string" ? text : refuse("wrong_type", "", "the request must be a text")]);
    },
    async calculateMany(id, requests, options) {
      const texts = () => entries(requests, "", "a list of requests", (request) => {
        try {
          return text(request);
        } catch (error) {
          return { error: membersOf(error) };
        }
      }, MOST_REQUESTS);
      // Whether there is such a calculation comes first, as without a worker.
      await ask(options, "find", [name(id)]);
      return ask(options, "calculateMany", [id, texts()]);
    },
    async sweep(id, request, spec, options) {
      return ask(options, "sweep", [name(id), text(request), text(spec)]);
    },
    async solve(id, request, spec, options) {
      return ask(options, "solve", [name(id), text(request), text(spec)]);
    },
    async prepare(id, request, columns, options) {
      count += 1;
      const recipe = [count, name(id), text(request), text(columns)];
      return new Prepared(recipe, await ask(options, "prepare", [recipe]));
    },
    async measureArtwork(pixels, spec, options) {
      const values = sent([bytes(pixels)], options);
      return ask(options, "measureArtwork", [...values, text(spec)], buffers(values));
    },
  };
}
