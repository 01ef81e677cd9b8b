// A worker thread of Node, which loads all calculations by itself. It keeps no process alive but while it is waited for.
"use strict";

const path = require("node:path");
const { Worker } = require("node:worker_threads");
const { api, client } = require("./core.cjs");

function open(onReply, onFault) {
  const worker = new Worker(path.join(__dirname, "worker_script.cjs"), { name: "floodbar" });
  worker.on("message", onReply);
  worker.on("error", onFault);
  // After the listeners, of which the first refers to it again.
  worker.unref();
  return {
    post: (message, transfer) => worker.postMessage(message, transfer),
    end() {
      worker.removeAllListeners();
      worker.terminate();
    },
    busy: (whether) => (whether ? worker.ref() : worker.unref()),
  };
}

/** Nothing is left to load; there so that the same program runs in browsers. */
async function init() {}

module.exports = { FloodbarError: api.FloodbarError, init, initWhole: init, ...client(open) };
