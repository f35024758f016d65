/** The pages without a connection: everything they consist of is kept once; a new build replaces it as a whole. */
declare const __FILES__: string[];
declare const __BUILD__: string;
interface Installing extends Event {
  waitUntil(p: Promise<unknown>): void;
}
interface Fetching extends Event {
  request: Request;
  respondWith(p: Promise<Response>): void;
}

const CACHE = `fairpull-${__BUILD__}`;
const scope = globalThis as unknown as EventTarget & { skipWaiting(): Promise<void>; clients: { claim(): Promise<void> } };

scope.addEventListener("install", (e) => {
  (e as Installing).waitUntil(
    caches.open(CACHE).then((c) => c.addAll(__FILES__.map((f) => new Request(f, { cache: "reload" })))).then(() => scope.skipWaiting()),
  );
});

scope.addEventListener("activate", (e) => {
  const old = caches.keys().then((keys) => Promise.all(keys.filter((k) => k.startsWith("fairpull-") && k !== CACHE).map((k) => caches.delete(k))));
  (e as Installing).waitUntil(old.then(() => scope.clients.claim()));
});

scope.addEventListener("fetch", (e) => {
  const { request } = e as Fetching;
  if (request.method !== "GET" || new URL(request.url).origin !== location.origin) return;
  (e as Fetching).respondWith(
    caches.open(CACHE).then(async (c) => (await c.match(request, { ignoreSearch: true })) ?? fetch(request)),
  );
});
