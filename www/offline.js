// Beside the home page where it is served: keeps the page, so that it opens without a connection. It answers
// for that one address, and asks for nothing but the page itself, to keep a newer one for next time. What a link
// carries stands behind the # and is never sent.
//
// Only a page that is whole and ours is kept: its last line names it and has the hash of all that stands before. So
// whatever a server, a hotel's network or a broken line answers instead takes the place of nothing, and any later
// version of ours does. Where nothing good is kept, the browser asks the server, as if this script were not there.
const PAGE = self.registration.scope;
const KEPT = "layfigure kept " + PAGE;
// What has just come and was not looked at yet: each time by itself, since two versions of this script may ask at once.
const FRESH = "layfigure fresh " + PAGE + " ";
// Where the first versions of this script kept whatever came.
const EARLIER = "layfigure " + PAGE;
const END = /\n<!-- layfigure home sha256 ([0-9a-f]{64}) -->\n$/;
// Milliseconds after which asking anew is given up; nobody waits for it. Common practice, no source.
const LIMIT = 60000;
let asking;
let forgotten = false;

// The bytes of an answer that is our page, whole.
const ours = async (answer) => {
  if (answer?.status !== 200 || answer.redirected || answer.type !== "basic") return;
  if (!/^text\/html *(;|$)/i.test(answer.headers.get("content-type"))) return;
  const bytes = new Uint8Array(await answer.arrayBuffer());
  const [end, told] = END.exec(new TextDecoder().decode(bytes.subarray(-200))) ?? [""];
  const hash = await crypto.subtle.digest("SHA-256", bytes.subarray(0, bytes.length - end.length));
  const found = Array.from(new Uint8Array(hash), (byte) => byte.toString(16).padStart(2, "0")).join("");
  if (found === told) return bytes;
};
// Keeps a page by its bytes alone: what else was said of it may be another's. True where it is kept.
const keep = async (bytes) => {
  if (!bytes || forgotten) return false;
  const page = new Response(bytes, { headers: { "content-type": "text/html; charset=utf-8" } });
  await (await caches.open(KEPT)).put(PAGE, page);
  return true;
};
const kept = () => caches.match(PAGE, { cacheName: KEPT });

// A store on the way may hold a foreign page, and be told that its own is still good: then past it.
const ask = async (signal) => {
  for (const cache of ["no-cache", "reload"]) {
    const name = FRESH + Math.random();
    const fresh = await caches.open(name);
    try {
      await fresh.add(new Request(PAGE, { cache, signal, redirect: "error" }));
      if (await keep(await ours(await fresh.match(PAGE)))) return true;
    } finally {
      await caches.delete(name);
    }
  }
  return false;
};
// What an earlier script kept, and what was left where this one was stopped while it asked.
const tidy = async () => {
  const all = await caches.keys();
  return Promise.all(all.filter((name) => name === EARLIER || name.startsWith(FRESH)).map((name) => caches.delete(name)));
};
// Whether a good page came. A visit asks anew, whatever an earlier one still waits for.
const renew = () => {
  asking?.abort();
  const mine = new AbortController();
  asking = mine;
  const late = setTimeout(() => mine.abort(), LIMIT);
  const given_up = new Promise((end) => { mine.signal.onabort = () => end(false); });
  return Promise.race([ask(mine.signal), given_up]).catch(() => false).finally(() => clearTimeout(late));
};
// Where no good page comes, what was kept before may be one. If not, this script stands in nobody's way.
const begin = async () => (await renew()) || keep(await ours(await caches.match(PAGE, { cacheName: EARLIER })));

self.addEventListener("install", (event) =>
  event.waitUntil(begin().catch(() => {}).then(() => self.skipWaiting())));
self.addEventListener("activate", (event) =>
  event.waitUntil(tidy().then(() => self.clients.claim())));
self.addEventListener("fetch", (event) => {
  const place = (address) => new URL(address).pathname;
  const asked = event.request.mode !== "navigate" || event.request.method !== "GET" ? "" : event.request.url;
  if (!asked || place(asked) !== place(PAGE)) return;
  event.respondWith(kept().catch(() => {}).then((page) => page ?? fetch(event.request)));
  event.waitUntil(renew());
});
// The page asks for a newer one itself when it meets a link that it is too old for, and for nothing to be kept
// when everything is to be forgotten.
const says = {
  renew: (event) => renew().then(() => event.source.postMessage("renewed")),
  forget: () => {
    forgotten = true;
    asking?.abort();
    return Promise.allSettled([caches.delete(KEPT), tidy()]).then(() => self.registration.unregister());
  },
};
self.addEventListener("message", (event) => event.waitUntil(says[event.data]?.(event)));
