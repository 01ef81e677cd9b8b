// Reads one picture in a worker of its own, which is ended afterwards: its memory grows with the picture and is not given back.
import load, { decode } from "../../decoder/pkg/decoder";

/** The longest side of what is drawn, in pixels. */
const DRAWN = 1200;

onmessage = async ({ data: { file, bare } }: MessageEvent<{ file: ArrayBuffer; bare: number }>) => {
  try {
    await load();
  } catch {
    // Neither a picture nor a refusal: nothing was looked at.
    postMessage({});
    return;
  }
  try {
    const picture = decode(new Uint8Array(file), bare);
    const small = picture.small(DRAWN);
    const [pixels, greys] = [picture.take_pixels(), small.take_pixels()];
    const { wide, high, resolution } = picture;
    postMessage({ picture: { wide, high, resolution, pixels, small: { wide: small.wide, high: small.high, greys } } }, { transfer: [pixels.buffer, greys.buffer] });
  } catch (error) {
    // The decoder's own refusals are sentences; without memory the WebAssembly ends in a trap.
    postMessage({ refused: typeof error === "string" ? error : "this device has not the memory for it: save it at a lower resolution" });
  }
};
