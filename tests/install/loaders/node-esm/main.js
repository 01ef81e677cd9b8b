import { createRequire } from "node:module";
import { calculateText, FloodbarError } from "floodbar";
import { catalogue } from "floodbar/catalogue";
import * as worker from "floodbar/worker";

const require = createRequire(import.meta.url);
const refused = await worker.calculate("mesh.geometry", {}).catch((error) => error);
const plan = JSON.stringify(catalogue().calculations.find(({ id }) => id === "job.plan").example);
console.log(JSON.stringify({
  whole: calculateText("job.plan", plan),
  worker: await worker.calculateText("job.plan", plan),
  same: [refused instanceof FloodbarError, refused instanceof require("floodbar").FloodbarError, refused instanceof require("floodbar/worker").FloodbarError],
}));
