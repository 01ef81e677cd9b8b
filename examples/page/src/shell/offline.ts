// Whether the page works without a network, and the newer version that waits.
import { signal } from "@preact/signals";

/** What there is to say of it; nothing while it is being made ready. */
export const offline = signal<"ready" | "insecure" | "failed" | undefined>(undefined);
const waiting = signal<ServiceWorker | undefined>(undefined);
export const newer = waiting;

export async function keepOffline(): Promise<void> {
  if (import.meta.env.DEV) return;
  if (!window.isSecureContext || !("serviceWorker" in navigator)) {
    offline.value = "insecure";
    return;
  }
  // The first worker takes the page as it is; a later one comes with its own page.
  const controlled = navigator.serviceWorker.controller !== null;
  navigator.serviceWorker.addEventListener("controllerchange", () => controlled && location.reload());
  try {
    const registration = await navigator.serviceWorker.register("./sw.js", { updateViaCache: "none" });
    const look = () => {
      if (registration.waiting && registration.active) waiting.value = registration.waiting;
    };
    look();
    registration.addEventListener("updatefound", () => registration.installing?.addEventListener("statechange", look));
    await navigator.serviceWorker.ready;
    offline.value = "ready";
  } catch {
    offline.value = "failed";
  }
}

export const takeOver = (): void => waiting.value?.postMessage("take over");
