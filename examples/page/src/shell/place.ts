// Where the reader is: the home page, a question with its inputs, or the order and what is printed of it. All of it stands in the fragment, which is sent nowhere.
import { signal } from "@preact/signals";
import type { Json } from "../model/numbers";

/** What is printed of an order. */
export const PAPERS = ["sheet", "quote", "offer"] as const;
export type Paper = (typeof PAPERS)[number];
export interface Place { door: "ask" | "job" | "shop"; paper?: Paper; id?: string; request?: { [name: string]: Json }; broken?: boolean }

export const linkToJob = (paper?: Paper): string => (paper === undefined ? "#/job" : `#/job/${paper}`);
export const linkTo = (id: string): string => `#/ask/${id}`;

export const linkToShop = "#/shop";

/** A link with inputs: JSON, with only what an address cannot hold escaped. */
export const linkWith = (id: string, request: Json): string =>
  `${linkTo(id)}?${encodeURIComponent(JSON.stringify(request)).replace(/%(7B|7D|22|3A|2C|5B|5D|2F)/g, (code) => decodeURIComponent(code))}`;

function read(): Place {
  if (location.hash === linkToShop) return { door: "shop" };
  const [job, , printed] = /^#\/job(\/([a-z]+))?$/.exec(location.hash) ?? [];
  if (job !== undefined) return { door: "job", paper: PAPERS.find((paper) => paper === printed) };
  const [, id, , inputs] = /^#\/ask\/([a-z_.]+)(\?(.*))?$/s.exec(location.hash) ?? [];
  if (id === undefined || inputs === undefined) return { door: "ask", id };
  // As it is, too: a link that was shortened or written by hand may have lost its escapes.
  for (const text of [() => decodeURIComponent(inputs), () => inputs]) {
    try {
      const request = JSON.parse(text()) as Json;
      if (typeof request === "object" && request !== null && !Array.isArray(request)) return { door: "ask", id, request };
    } catch {
      // The other way, then.
    }
  }
  return { door: "ask", id, broken: true };
}

export const place = signal<Place>(read());
/** The address that was read or written last. */
let current = location.hash;

addEventListener("hashchange", () => {
  current = location.hash;
  place.value = read();
  scrollTo(0, 0);
});

/** An address must not grow without end: what is longer is not put into it. */
const LONGEST = 20_000;
/** The question whose inputs are too long for an address. */
export const tooLong = signal<string | undefined>(undefined);

/** Puts the inputs into the address, so that a reload and a link have them. */
export function note(id: string, request: Json | undefined): void {
  // Another address is one that the reader is on the way to.
  if (location.hash !== current) return;
  const whole = request === undefined ? linkTo(id) : linkWith(id, request);
  const fits = whole.length <= LONGEST;
  tooLong.value = fits ? undefined : id;
  // That of the question alone, rather than one with inputs that stood there before.
  const link = fits ? whole : linkTo(id);
  if (link !== current) history.replaceState(history.state, "", link);
  current = location.hash;
}
