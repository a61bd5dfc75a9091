// Keeps the page itself, so that it opens without a connection; sends what waits when the browser says there is one. SHELL is filled in by
// the server: each file of the page with the hash of its contents, so that a new version is fetched as a whole.
import { sendAll, unsent } from "/report/outbox.js";

const shell = SHELL;
const store = "report " + VERSION;

self.addEventListener("install", event => event.waitUntil((async () => {
  const cache = await caches.open(store);
  await Promise.all(shell.map(async path => {
    const answer = await fetch(path, { cache: "no-cache", credentials: "same-origin" });
    // A cabin network's own page is not taken for ours.
    if (!answer.ok || answer.headers.get("X-Drainboard") !== "1") throw new Error(path);
    await cache.put(path, answer);
  }));
  await self.skipWaiting();
})()));

self.addEventListener("activate", event => event.waitUntil((async () => {
  for (const name of await caches.keys()) if (name.startsWith("report ") && name !== store) await caches.delete(name);
  await self.clients.claim();
})()));

self.addEventListener("fetch", event => {
  const url = new URL(event.request.url);
  if (event.request.method !== "GET" || url.origin !== self.location.origin) return;
  const path = event.request.mode === "navigate" && url.pathname === "/report" ? "/report" : url.pathname;
  if (!shell.includes(path)) return;
  event.respondWith((async () => await (await caches.open(store)).match(path) ?? fetch(event.request))());
});

self.addEventListener("sync", event => { if (event.tag === "reports") event.waitUntil(sendAll(true).then(async () => { if ((await unsent()).some(row => row.state === "kept")) throw new Error("not yet"); })); });
