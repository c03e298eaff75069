// Beside the home page where it is served: keeps the page, so that it opens without a connection. It answers
// for that one address from its cache, and asks for nothing but the page itself, to keep a newer one for next
// time. What a link carries stands behind the # and is never sent.
const PAGE = self.registration.scope;
const keeping = () => caches.open("layfigure " + PAGE);
const renew = async () => (await keeping()).add(PAGE);
const kept = async () => {
  const found = await (await keeping()).match(PAGE);
  if (found) return found;
  await renew();
  return (await keeping()).match(PAGE);
};
self.addEventListener("install", (event) => event.waitUntil(renew().then(() => self.skipWaiting())));
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));
self.addEventListener("fetch", (event) => {
  const place = (address) => new URL(address).pathname;
  if (event.request.mode !== "navigate" || place(event.request.url) !== place(PAGE)) return;
  event.respondWith(kept());
  event.waitUntil(renew().catch(() => {}));
});
// The page asks for a newer one itself when it meets a link that it is too old for, and for nothing to be kept
// when everything is to be forgotten.
const says = {
  renew: (event) => renew().catch(() => {}).then(() => event.source.postMessage("renewed")),
  forget: () => caches.delete("layfigure " + PAGE).then(() => self.registration.unregister()),
};
self.addEventListener("message", (event) => event.waitUntil(says[event.data]?.(event)));
