// The stops from the art to the box: which members of the order, and of its answers, stand at which. The one table of the Job.
import { ScreenArt } from "../art/screen_art";
import type { Here, Mount } from "../ask/form/here";
import { entryOf } from "../model/catalogue";
import { Leaf, Part, Stock, type Node } from "../model/nodes";
import { isRecord, type Members } from "../model/node";
import type { Json } from "../model/numbers";

export interface Stop { name: string; given: string[]; comes: string[]; mounts?: { [path: string]: Mount }; general?: true }

export const PLAN = entryOf("job.plan")!;
export const QUOTE = entryOf("job.quote")!;

const SCREEN = "placements.screens";

/** Members by their names from the outermost on. All within goes along, unless another stop names it; "" is the order itself. */
export const STOPS: Stop[] = [
  { name: "Art", given: ["placements", "placements.below_collar", `${SCREEN}.finest_line`], comes: ["placements", "screens.detail", "screens.halftone"],
    mounts: { [SCREEN]: { names: ["coverage_fraction", "artwork"], View: ScreenArt } } },
  { name: "Shirt and sizes", given: ["", "title", "due", "sizes", "blanks", "shop.spoilage_fraction", "shop.confidence"], comes: ["", "blanks"] },
  { name: "Screens", given: ["ink", "mesh", "coated_thickness", "mesh_factor", "stored"].map((name) => `${SCREEN}.${name}`)
    .concat(["over_mesh_fraction", "free_mesh", "frame_inside", "stencil_resists", "exposure", "frame"].map((name) => `shop.${name}`)),
    comes: ["screens"] },
  { name: "Press", given: ["shop", ...["hits", "flood_strokes", "print_strokes"].map((name) => `${SCREEN}.${name}`)],
    comes: ["heads", "press", "hours", "ink_totals", ...["station", "ink", "blade", "off_contact", "stroke_speed", "strokes", "hits", "wet_film", "dry_film",
      "mass_per_print", "mass_to_mix", "additives", "mix_again_after", "pots"].map((name) => `screens.${name}`)],
    general: true },
  { name: "Heat", given: [`${SCREEN}.flash`, "shop.flash", "shop.dryer"], comes: ["flash", "dryer"] },
  { name: "Register", given: ["trap", "shop.register"], comes: ["register", "screens.set"] },
  { name: "Wash", given: [], comes: ["wash_test", "sign_off"] },
  { name: "Price", given: [], comes: [] },
];
/** Where all stands that only the quote asks for and answers, unless another stop names it. */
const PRICED = STOPS.at(-1)!;

type Side = "given" | "comes";
const schemas = { given: PLAN.request, comes: PLAN.answer };

/** Where a member stands: where it is named, or else where that stands which it is within. */
function stopAt(path: string, side: Side): Stop {
  const named = STOPS.find((stop) => stop[side].includes(path));
  if (named !== undefined) return named;
  const dot = path.lastIndexOf(".");
  return dot < 0 && schemas[side].properties?.[path] === undefined ? PRICED : stopAt(path.slice(0, Math.max(0, dot)), side);
}
/** Whether a stop names something within this. */
const within = (path: string, stop: Stop, side: Side): boolean => stop[side].some((name) => name.startsWith(`${path}.`));

/** The names of the records that lead to a node: rows and forms of a value have none. */
function pathOf(node: Node): string {
  const names: string[] = [];
  for (let at: Node | undefined = node; at?.parent !== undefined; at = at.parent) if (at.parent instanceof Part) names.unshift(at.field.name);
  return names.join(".");
}

export const stopOf = (node: Node): Stop => stopAt(pathOf(node), "given");

const standsIn = (node: Node): boolean =>
  node.field.presetWords !== undefined || ((node instanceof Leaf || node instanceof Stock) && node.preset.value !== undefined) || (node instanceof Part && node.standsFor());

const hereOf = (stop: Stop): Here => ({
  shows: (node) => stopOf(node) === stop || within(pathOf(node), stop, "given"),
  owns: (node) => stopOf(node) === stop,
  first: (node) => stop.given.includes(pathOf(node)) && (!pathOf(node).includes(".") || !standsIn(node)),
  mount: (node) => stop.mounts?.[pathOf(node)],
});

const heres = new Map(STOPS.map((stop) => [stop, hereOf(stop)]));
/** Which fields of the order are shown at a stop. */
export const hereAt = (stop: Stop): Here => heres.get(stop)!;

/** Lays out the rows of the stock of which some stop shows only a part. */
export function layOut(part: Part): void {
  for (const node of part.parts()) if (node instanceof Stock && STOPS.some((stop) => within(pathOf(node), stop, "given"))) node.layOut();
}

/** What of an answer stands at a stop; of entries of a list also what they are called. */
function partAt(value: Json, path: string, stop: Stop): Json | undefined {
  if (!STOPS.some((other) => within(path, other, "comes"))) return stopAt(path, "comes") === stop ? value : undefined;
  if (Array.isArray(value)) {
    const entries = value.map((entry) => partAt(entry, path, stop)).filter((entry) => entry !== undefined);
    return entries.length > 0 ? entries : undefined;
  }
  if (!isRecord(value)) return undefined;
  const { name, ...members } = value;
  const found = Object.entries(members).flatMap(([member, part]) => {
    const shown = partAt(part, `${path}.${member}`, stop);
    return shown === undefined ? [] : [[member, shown] as const];
  });
  return found.length > 0 ? { ...(name !== undefined && { name }), ...Object.fromEntries(found) } : undefined;
}

/** Members of every answer that stand elsewhere. */
const BESIDE = ["notes", "basis", "doubt"];

/** What the plan answers at a stop, without what it only says again. */
export function planAt(stop: Stop, plan: Members, asked: Members): Members {
  return Object.fromEntries(Object.entries(plan).flatMap(([name, value]) => {
    if (BESIDE.includes(name) || JSON.stringify(value) === JSON.stringify(asked[name])) return [];
    const shown = partAt(value, name, stop);
    return shown === undefined ? [] : [[name, shown] as const];
  }));
}

/** What only the quote answers, that which answers its question first. */
export function quoteAt(stop: Stop, quote: Members, asked: Members): Members {
  const title = (entry: typeof PLAN, name: string) => entry.answer.properties?.[name]?.title;
  const own = Object.entries(quote).filter(([name, value]) => !BESIDE.includes(name) && title(QUOTE, name) !== title(PLAN, name) && JSON.stringify(value) !== JSON.stringify(asked[name]));
  const rank = ([name]: (typeof own)[number]) => (QUOTE.headline.includes(name) ? QUOTE.headline.indexOf(name) : QUOTE.headline.length);
  return stop === PRICED ? Object.fromEntries(own.sort((one, other) => rank(one) - rank(other))) : {};
}
