const { calculateText, FloodbarError } = require("floodbar");
const { catalogue } = require("floodbar/catalogue");
const worker = require("floodbar/worker");

async function main() {
  const refused = await worker.calculate("mesh.geometry", {}).catch((error) => error);
  const imported = [await import("floodbar"), await import("floodbar/worker")];
  const plan = JSON.stringify(catalogue().calculations.find(({ id }) => id === "job.plan").example);
  console.log(JSON.stringify({
    whole: calculateText("job.plan", plan),
    worker: await worker.calculateText("job.plan", plan),
    same: [FloodbarError, ...imported.map((module) => module.FloodbarError)].map((own) => refused instanceof own),
  }));
}

main();
