// Values of the wire, taken apart and put together.
import { isRecord } from "./node";
import type { Json } from "./numbers";

/** The same with another value at a pointer; undefined where the pointer leads nowhere. */
export function withValueAt(whole: Json | undefined, pointer: string, value: Json | undefined): Json | undefined {
  const [, name, ...rest] = pointer.split("/");
  if (name === undefined) return value;
  const further = rest.map((step) => `/${step}`).join("");
  if (Array.isArray(whole)) {
    const part = withValueAt(whole[Number(name)], further, value);
    return part === undefined ? undefined : whole.map((other, index) => (String(index) === name ? part : other));
  }
  if (!isRecord(whole)) return undefined;
  const { [name]: before, ...others } = whole;
  const part = rest.length === 0 ? value : withValueAt(before, further, value);
  return part === undefined && rest.length > 0 ? undefined : { ...others, ...(part !== undefined && { [name]: part }) };
}

/** The same without records and lists that hold nothing. */
export function filledIn(value: Json | undefined): Json | undefined {
  if (Array.isArray(value)) {
    const entries = value.map(filledIn).filter((entry) => entry !== undefined);
    return entries.length > 0 ? entries : undefined;
  }
  if (!isRecord(value)) return value;
  const members = Object.entries(value).flatMap(([name, part]) => {
    const filled = filledIn(part);
    return filled === undefined ? [] : [[name, filled] as const];
  });
  return members.length > 0 ? Object.fromEntries(members) : undefined;
}

/** A value within nothing but what leads to it by these names. */
export const alongTo = (names: string[], value: Json | undefined): Json | undefined =>
  names.reduceRight<Json | undefined>((inner, name) => (/^\d+$/.test(name) ? [inner ?? null] : { [name]: inner ?? null }), value);
