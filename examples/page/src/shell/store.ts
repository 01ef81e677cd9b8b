// What the device keeps between visits, and what the other tabs of the page are told of it.
import { signal } from "@preact/signals";
import { get, set } from "idb-keyval";

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
export async function store(key: string, value: unknown): Promise<void> {
  try {
    await set(key, value);
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
