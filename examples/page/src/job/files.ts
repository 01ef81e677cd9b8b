// An order as a file: the request as it goes over the wire.
import { formOf, strangers, type Request } from "../ask/filling";
import { filledIn } from "../model/json";
import { isRecord } from "../model/node";
import type { Json } from "../model/numbers";
import { answerOf, FloodbarError } from "../work/engine";
import type { Job } from "./job";
import { PLAN, QUOTE } from "./stops";

/** What became of a file, in a sentence; `anyway` takes what was refused all the same. */
export interface Told { text: string; refused?: boolean; anyway?: () => void }

/** As long as a request may be. */
const LONGEST = 4 * 2 ** 20;
/** An order that is not finished is one all the same. */
const UNFINISHED = ["missing_field", "impossible", "no_solution"];
/** What is wrong with a single value can be shown at its field. */
const AT_A_FIELD = ["bad_quantity", "wrong_dimension", "out_of_range", "wrong_type"];
/** Members in which an order names the pictures of its screens. */
const PICTURE = /^art(_|$)/;

/** The name of the file: that of the order, as far as a file can have it. */
const nameOf = (request: Request): string =>
  `${typeof request.title === "string" && request.title.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-|-$/g, "") || "order"}.json`;

export function save(job: Job): Told {
  // An unfinished one without the records in which nothing stands yet.
  const request = (filledIn(job.sent.peek()) ?? {}) as Request;
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([`${JSON.stringify(request, null, 2)}\n`], { type: "application/json" }));
  link.download = nameOf(request);
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
  return { text: `Saved as ${link.download}.` };
}

/** The order without the names of pictures, and of which screens they were. */
function withoutPictures(order: Request): { order: Request; left: string[] } {
  const left: string[] = [];
  const each = (list: Json | undefined, change: (entry: Request) => Request): Json[] | undefined =>
    Array.isArray(list) ? list.map((entry) => (isRecord(entry) ? change(entry) : entry)) : undefined;
  const ofScreen = (screen: Request): Request => {
    const members = Object.entries(screen);
    const kept = members.filter(([name]) => !PICTURE.test(name) || name === "artwork");
    if (kept.length < members.length) left.push(String(screen.name ?? screen.art));
    return Object.fromEntries(kept);
  };
  const placements = each(order.placements, (placement) => {
    const screens = each(placement.screens, ofScreen);
    return screens === undefined ? placement : { ...placement, screens };
  });
  return { order: placements === undefined ? order : { ...order, placements }, left };
}

export async function read(job: Job, file: File): Promise<Told> {
  const refused = (text: string, anyway?: () => void): Told => ({ text: `${file.name} ${text} What stood here stays.`, refused: true, anyway });
  if (file.size > LONGEST) return refused(`is longer than any order: ${Math.ceil(file.size / 2 ** 20)} MB, where ${LONGEST / 2 ** 20} MB are the most.`);
  let given: Json;
  try {
    given = JSON.parse(await file.text()) as Json;
  } catch {
    return refused("is no file of an order: it is not JSON.");
  }
  if (!isRecord(given)) return refused("holds no order: an order is a JSON object.");
  const { order, left } = withoutPictures(given);
  const take = () => job.read(order);
  const isQuote = Object.keys(order).some((name) => name in QUOTE.request.properties! && !(name in PLAN.request.properties!));
  try {
    await answerOf((isQuote ? QUOTE : PLAN).id, order);
  } catch (error) {
    if (error instanceof FloodbarError && !UNFINISHED.includes(error.code)) {
      return refused(`is refused at ${error.field || "its beginning"}: ${error.message}.`, AT_A_FIELD.includes(error.code) ? take : undefined);
    }
  }
  // What is wanted still comes before what is strange further on.
  const form = formOf(QUOTE);
  form.put(order);
  const [strange] = strangers(form);
  if (strange !== undefined) return refused(`is refused at ${strange}: no field is called so.`);
  take();
  return { text: `Read from ${file.name}.${left.length > 0 ? ` Left out, since the file only names them: the pictures of ${left.join(", ")}.` : ""}` };
}
