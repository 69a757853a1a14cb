// The shell from this phone's own store, whole and of one version; data never goes through here. The line before
// this one, written by the server, says self.SHELL: its version and its files.

const CACHE = `shell-${self.SHELL.version}`;

self.addEventListener("install", (event) => {
  event.waitUntil(
    (async () => {
      const cache = await caches.open(CACHE);
      await cache.addAll(self.SHELL.files.map((file) => new Request(file, { cache: "reload" })));
    })(),
  );
});

self.addEventListener("activate", (event) => {
  event.waitUntil(
    (async () => {
      for (const name of await caches.keys())
        if (name.startsWith("shell-") && name !== CACHE) await caches.delete(name);
      await self.clients.claim();
    })(),
  );
});

self.addEventListener("message", (event) => {
  if (event.data === "take over") self.skipWaiting();
});

self.addEventListener("fetch", (event) => {
  const { method, mode, url } = event.request;
  const { origin, pathname } = new URL(url);
  if (method !== "GET" || origin !== location.origin) return;
  const file = mode === "navigate" && pathname === "/" ? "/" : pathname;
  if (self.SHELL.files.includes(file)) event.respondWith(shell(file, event.request));
});

async function shell(file, request) {
  const cache = await caches.open(CACHE);
  return (await cache.match(file)) ?? fetch(request);
}
