// A picture file on its way to a measured separation: decoded in a worker of its own, then measured by the one that answers.
import { measured, type Answer } from "../work/engine";

export interface Small { wide: number; high: number; greys: Uint8Array }
export interface Picture { wide: number; high: number; resolution?: string; pixels: Uint8Array; small: Small }
export type Ink = "dark" | "light";

const UNLOADED = "what reads pictures did not load: reload the page when there is a network";

/** Reads a PNG or a TIFF; rejects with a sentence where it is none that can be measured. */
export async function decoded(file: Blob, ink: Ink, signal: AbortSignal): Promise<Picture> {
  const bytes = await file.arrayBuffer();
  signal.throwIfAborted();
  const worker = new Worker(new URL("./decode_worker.ts", import.meta.url), { type: "module", name: "picture" });
  try {
    return await new Promise<Picture>((resolve, reject) => {
      signal.addEventListener("abort", () => reject(signal.reason), { once: true });
      worker.onmessage = ({ data }: MessageEvent<{ picture?: Picture; refused?: string }>) =>
        data.picture === undefined ? reject(new Error(data.refused ?? UNLOADED)) : resolve(data.picture);
      worker.onerror = () => reject(new Error(UNLOADED));
      // What is transparent prints nothing.
      worker.postMessage({ file: bytes, bare: ink === "light" ? 0 : 255 }, [bytes]);
    });
  } finally {
    worker.terminate();
  }
}

/** What the separation covers. Its pixels are given away. */
export const measure = ({ wide, high, pixels }: Picture, resolution: string, ink: Ink, units: string, signal: AbortSignal): Promise<Answer> =>
  measured(pixels, { pixels_wide: wide, pixels_high: high, resolution, ink, units }, signal);
