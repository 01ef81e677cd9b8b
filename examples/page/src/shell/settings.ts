// What stays on the device between visits: the units, and what was asked last at each question.
import { signal } from "@preact/signals";
import type { System } from "../model/catalogue";
import type { Json } from "../model/numbers";
import { add, load, onChange, store } from "./store";

export const system = signal<System>("metric");
/** The last own inputs, by calculation: those questions count as answered. */
export const asked = signal<{ [id: string]: Json }>({});

export async function recall(): Promise<void> {
  const [units, requests] = await Promise.all([load<System>("units"), load<{ [id: string]: Json }>("asked")]);
  if (units === "us") system.value = units;
  // What was asked here before it was known what is kept is the newer.
  if (requests !== undefined) asked.value = { ...requests, ...asked.value };
}
onChange("asked", async () => {
  asked.value = { ...asked.value, ...await load<{ [id: string]: Json }>("asked") };
});

export function useSystem(next: System): void {
  system.value = next;
  void store("units", next);
}

export function remember(id: string, request: Json): void {
  asked.value = { ...asked.value, [id]: request };
  void add("asked", { [id]: request });
}
