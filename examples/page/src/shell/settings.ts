// What stays on the device between visits: the units, and what was asked last at each question.
import { signal } from "@preact/signals";
import { get, set } from "idb-keyval";
import type { System } from "../model/catalogue";
import type { Json } from "../model/numbers";

export const system = signal<System>("metric");
/** The last own inputs, by calculation: those questions count as answered. */
export const asked = signal<{ [id: string]: Json }>({});

/** Storage may be full or forbidden: the page then works without a memory. */
const quietly = (promise: Promise<unknown>): void => void promise.catch(() => {});

export async function recall(): Promise<void> {
  try {
    const [units, requests] = await Promise.all([get<System>("units"), get<{ [id: string]: Json }>("asked")]);
    if (units === "us") system.value = units;
    if (requests !== undefined) asked.value = requests;
  } catch {
    // As on the first visit.
  }
}

export function useSystem(next: System): void {
  system.value = next;
  quietly(set("units", next));
}

export function remember(id: string, request: Json): void {
  asked.value = { ...asked.value, [id]: request };
  quietly(set("asked", asked.value));
}
