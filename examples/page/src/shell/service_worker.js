// Keeps one version of the page as a whole. VERSION and FILES (each file's SHA-256) are written above this by the build.
// What is fetched must be what was built together, or else nothing of it is kept: page, script and wasm never mix.
const NAME = `floodbar-${VERSION}`;
const scope = self.registration.scope;

async function fetched(name) {
  const response = await fetch(new URL(name, scope), { cache: "no-cache" });
  const digest = await crypto.subtle.digest("SHA-256", await response.clone().arrayBuffer());
  const told = btoa(String.fromCharCode(...new Uint8Array(digest)));
  if (!response.ok || told !== FILES[name]) throw new Error(`${name} is not of version ${VERSION}`);
  return [name, response];
}

async function install() {
  const all = await Promise.all(Object.keys(FILES).map(fetched));
  const cache = await caches.open(NAME);
  await Promise.all(all.map(([name, response]) => cache.put(new URL(name, scope), response)));
}

async function activate() {
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name.startsWith("floodbar-") && name !== NAME).map((name) => caches.delete(name)));
  await self.clients.claim();
}

async function answer(request) {
  const address = new URL(request.url);
  const name = address.pathname.slice(new URL(scope).pathname.length) || "index.html";
  const kept = await (await caches.open(NAME)).match(new URL(name, scope));
  return kept ?? fetch(request);
}

self.addEventListener("install", (event) => event.waitUntil(install()));
self.addEventListener("activate", (event) => event.waitUntil(activate()));
self.addEventListener("fetch", (event) => {
  if (event.request.method === "GET" && event.request.url.startsWith(scope)) event.respondWith(answer(event.request));
});
// A waiting version takes over when the page asks for it; every open page then loads itself anew.
self.addEventListener("message", (event) => {
  if (event.data === "take over") self.skipWaiting();
});
