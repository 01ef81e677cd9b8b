// Builds the decoder into `decoder/pkg`: by the packer that FLOODBAR_PACKER names, or by cargo.
import { spawnSync } from "node:child_process";
import path from "node:path";

const [packer, ...first] = process.env.FLOODBAR_PACKER ? [process.env.FLOODBAR_PACKER] : ["cargo", "run", "--locked", "-p", "floodbar-pack", "--"];
const ran = spawnSync(packer, [...first, "decoder", path.join(import.meta.dirname, "pkg")], { stdio: "inherit" });
if (ran.error) console.error(`the decoder of pictures cannot be built: ${ran.error.message}`);
process.exitCode = ran.status ?? 1;
