/** Answers a request; throws a {@link FloodbarError} that names the field at fault. */
export function calculate<Id extends keyof Calculations>(
  id: Id,
  request: Calculations[Id]["request"],
): Calculations[Id]["answer"];

/** Answers a request that is JSON text, as text: for request files as they are. */
export function calculateText(id: string, text: string): string;

/**
 * Measures a separation whose pixels are bytes, row by row from the top. The answer goes into the `artwork` of `ink.usage`
 * and `job.plan` as it stands.
 */
export function measureArtwork(
  pixels: Uint8Array | Uint8ClampedArray,
  spec: Omit<Calculations["artwork.measure"]["request"], "pixels">,
): Calculations["artwork.measure"]["answer"];

/** Why there is no answer. */
export class FloodbarError extends Error {
  readonly name: "FloodbarError";
  /** What kind of fault it is. */
  readonly code: ErrorCode;
  /** JSON pointer to the field at fault; empty for the request as a whole. */
  readonly field: string;
  /** The value at fault, shortened where it is long. */
  readonly got: unknown;
  /** The ranges, units or words that are allowed. */
  readonly allowed: readonly string[];
  constructor(error: { code: ErrorCode; field: string; message: string; got: unknown; allowed: readonly string[] });
}
