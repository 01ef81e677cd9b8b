// Numbers as people type and read them: decimal commas, shares in per cent, units with their signs.

export type Json = null | boolean | number | string | Json[] | { [name: string]: Json };
export type Quantity = { value: number | string; unit: string; plus_minus?: number | string };

const NUMBER = String.raw`(?:\d+(?:\s+\d+)?\/\d+|[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)`;
const DOUBT = String.raw`(?:\s*(?:\+\/-|±|\+-)\s*${NUMBER})?`;
const PLAIN = new RegExp(`^${NUMBER}$`);
const WHOLE = new RegExp(`^${NUMBER}${DOUBT}$`);
const WITH_UNIT = new RegExp(`^(${NUMBER}${DOUBT})\\s*([^\\s\\d.,+±-].*)$`);

/**
 * Decimal commas as points. Where a comma may as well part thousands ("1,250") it stays, and the answer says that it is not
 * guessed.
 */
export const pointed = (text: string): string =>
  /,.*,/.test(text) ? text : text.replace(/(\d*),(\d+)/, (all, before: string, after: string) =>
    after.length === 3 && /[1-9]/.test(before) ? all : `${before || "0"}.${after}`);

export const isPlain = (text: string): boolean => PLAIN.test(text) && !text.includes("/");
/** A number, with or without its doubt, and no unit. */
export const isNumber = (text: string): boolean => WHOLE.test(text);

/** A number and the unit typed behind it. */
export function withUnit(text: string): { number: string; unit: string } | undefined {
  const [, number, unit] = WITH_UNIT.exec(text) ?? [];
  return number === undefined || unit === undefined ? undefined : { number: number.trim(), unit: unit.trim() };
}

/** A decimal text times a power of ten, digit by digit, so that 7.3 % is 0.073 to the last bit. */
export function shifted(text: string, places: number): string {
  const [, sign = "", whole = "", part = ""] = /^([+-]?)(\d*)\.?(\d*)$/.exec(text) ?? [];
  if (whole === "" && part === "") return String(Number((Number(text) * 10 ** places).toPrecision(15)));
  const digits = whole + part;
  const at = whole.length + places;
  const padded = at <= 0 ? "0".repeat(1 - at) + digits : digits.padEnd(at, "0");
  const point = Math.max(at, 1);
  const moved = `${padded.slice(0, point).replace(/^0+(?=\d)/, "")}.${padded.slice(point)}`;
  return (sign === "-" ? "-" : "") + moved.replace(/\.?0*$/, "");
}

/** A unit as it is printed. */
export const unitSign = (unit: string): string =>
  unit.replace(/delta_deg([CF])/, "°$1").replace(/deg([CF])/, "°$1").replace(/^deg$/, "°").replace(/\bum\b/, "µm")
    .replace(/\b(cm|mm|m|in|ft|yd)([23])/g, (_, base: string, power: string) => base + (power === "2" ? "²" : "³"))
    .replaceAll(".", "·").replace(/^1$/, "").replace(/^us$/, "µs").replace(/^floz$/, "fl oz");

const minus = (text: string): string => text.replace(/^-/, "−");

/** About three figures, whole numbers whole; with a doubt, the figures that the doubt leaves. */
export function figures(value: number, doubt?: number): string {
  if (!Number.isFinite(value)) return "—";
  const size = Math.abs(value);
  let places = size >= 100 || value === 0 ? 0 : Math.max(0, 2 - Math.floor(Math.log10(size)));
  if (doubt !== undefined && doubt > 0) places = Math.max(0, 1 - Math.floor(Math.log10(doubt)));
  if (places > 9) return minus(value.toPrecision(3));
  const fixed = value.toFixed(places);
  const short = doubt === undefined && fixed.includes(".") ? fixed.replace(/\.?0+$/, "") : fixed;
  const [whole = "", part] = short.split(".");
  const grouped = whole.replace(/^-/, "").length > 4 ? whole.replace(/\B(?=(\d{3})+$)/g, "\u202f") : whole;
  return minus(part === undefined ? grouped : `${grouped}.${part}`);
}

/** A number as a field shows it: short, but to the digits that were meant. */
export const inField = (value: number): string => String(Number(value.toPrecision(6)));

export const words = (text: string): string => text.replaceAll("_", " ");
