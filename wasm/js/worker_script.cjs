// What runs in a worker thread of Node.
"use strict";

const { parentPort } = require("node:worker_threads");
const { server } = require("./core.cjs");
const reply = server(require("./node.cjs"));

parentPort.on("message", (message) => {
  const replied = reply(message);
  if (replied !== undefined) parentPort.postMessage(...replied);
});
