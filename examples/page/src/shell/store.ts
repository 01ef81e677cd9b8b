// What the device keeps between visits, and what the other tabs of the page are told of it.
import { signal } from "@preact/signals";
import { get, set, update } from "idb-keyval";

/** Nothing is kept: storage is full or forbidden, and the page works without a memory. */
export const unkept = signal(false);

const tabs = new BroadcastChannel("floodbar");

/** What was kept under a key; undefined on the first visit, and where nothing is kept. */
export async function load<T>(key: string): Promise<T | undefined> {
  try {
    return await get<T>(key);
  } catch {
    unkept.value = true;
    return undefined;
  }
}

/** Keeps a value under a key, and tells the other tabs that it did. */
export const store = (key: string, value: unknown): Promise<void> => written(key, () => set(key, value));
/** Keeps members beside those that are kept under a key, by other tabs too. */
export const add = (key: string, members: object): Promise<void> => written(key, () => update(key, (kept?: object) => ({ ...kept, ...members })));

async function written(key: string, write: () => Promise<void>): Promise<void> {
  try {
    await write();
    unkept.value = false;
    tabs.postMessage({ key });
  } catch {
    unkept.value = true;
  }
}

/** Calls back when another tab kept something under this key; the answer ends that. */
export function onChange(key: string, callback: () => void): () => void {
  const heard = ({ data }: MessageEvent<{ key: string }>) => {
    if (data.key === key) callback();
  };
  tabs.addEventListener("message", heard);
  return () => tabs.removeEventListener("message", heard);
}
