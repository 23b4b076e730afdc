// Keeps the page for visits without a network. Each build has a cache of its own, named by what it
// holds, so that a page never mixes two builds; a new build waits until the person changes to it.
declare const BUILD: string;
declare const FILES: string[];

interface Extended extends Event {
  waitUntil(work: Promise<unknown>): void;
}
interface Fetched extends Extended {
  request: Request;
  respondWith(answer: Promise<Response>): void;
}
const here = self as unknown as {
  addEventListener(name: "install" | "activate", tell: (event: Extended) => void): void;
  addEventListener(name: "fetch", tell: (event: Fetched) => void): void;
  addEventListener(name: "message", tell: (event: MessageEvent) => void): void;
  skipWaiting(): Promise<void>;
  clients: { claim(): Promise<void> };
  registration: { scope: string };
};

const kPrefix = "yubifu-";
const kCache = kPrefix + BUILD;

here.addEventListener("install", (event) => {
  event.waitUntil(
    caches.open(kCache).then((cache) =>
      cache.addAll(FILES.map((file) => new Request(file, { cache: "no-cache" }))),
    ),
  );
});

here.addEventListener("activate", (event) => {
  const old = async (): Promise<void> => {
    for (const name of await caches.keys()) {
      if (name.startsWith(kPrefix) && name !== kCache) await caches.delete(name);
    }
    await here.clients.claim();
  };
  event.waitUntil(old());
});

here.addEventListener("message", ({ data }) => {
  if (data === "change") void here.skipWaiting();
});

here.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET" || !request.url.startsWith(here.registration.scope)) return;
  const kept = async (): Promise<Response> => {
    const cache = await caches.open(kCache);
    const address = request.mode === "navigate" ? here.registration.scope : request.url;
    return (await cache.match(address, { ignoreSearch: true })) ?? fetch(request);
  };
  event.respondWith(kept());
});
