// Keeps the feeding-day page at hand, so that it opens without a connection. The newest that the server has is taken while it can be
// reached. What the page asks the server is none of its business.

const name = "traygauge-1";
const parts = ["style.css", "icon.svg", "today.js", "common.js", "day.js", "keep.js", "sender.js", "sha256.js", "sheet.js", "feeding.js", "batch.js"].map((f) => `/static/${f}`);
const patience = 5000; // ms

self.addEventListener("install", (e) => {
  e.waitUntil(caches.open(name).then(async (cache) => {
    await cache.addAll(parts);
    const page = await fetch("/", { credentials: "same-origin", redirect: "manual" });
    if (page.ok) {
      await cache.put("/", page);
    }
    await self.skipWaiting();
  }));
});

self.addEventListener("activate", (e) => e.waitUntil(self.clients.claim()));

// newest returns what the server answers, and what was kept where it cannot be reached in time. A redirect, as to the page for codes, is
// passed on and not kept.
async function newest(key, headers) {
  const cache = await caches.open(name);
  const stop = new AbortController();
  const timer = setTimeout(() => stop.abort(), patience);
  try {
    const got = await fetch(key, { signal: stop.signal, credentials: "same-origin", redirect: "manual", headers });
    if (got.ok) {
      await cache.put(key, got.clone());
    }
    return got;
  } catch (e) {
    const kept = await cache.match(key);
    if (kept === undefined) {
      throw e;
    }
    return kept;
  } finally {
    clearTimeout(timer);
  }
}

self.addEventListener("fetch", (e) => {
  const { pathname, origin } = new URL(e.request.url);
  if (e.request.method !== "GET" || origin !== self.location.origin) {
    return;
  }
  if (pathname === "/" && e.request.mode === "navigate") {
    e.respondWith(newest("/", { Accept: "text/html" }));
  } else if (parts.includes(pathname)) {
    e.respondWith(newest(pathname, {}));
  }
});
