// The wasm files are copied beside what is written; the worker's script is bundled there under its own name.
import { cp } from "node:fs/promises";
import { fileURLToPath } from "node:url";

export const options = {
  entryPoints: { main: "main.js", worker_script: "floodbar/worker_script.js" },
  bundle: true,
  format: "esm",
  outdir: "dist",
};

export async function copy(outdir) {
  for (const name of ["floodbar_bg.wasm", "floodbar_whole_bg.wasm"]) {
    await cp(fileURLToPath(import.meta.resolve(`floodbar/${name}`)), `${outdir}/${name}`);
  }
}
