// Opens the page again without a network: the files of the screens, as last seen. Answers and entries are not kept here;
// those stand in IndexedDB (src/keep).
const shelf = "barm-pages";

self.addEventListener("install", (event) => {
  event.waitUntil(
    (async () => {
      const pages = await caches.open(shelf);
      const reply = await fetch("./", { cache: "no-store" });
      const text = await reply.clone().text();
      await pages.put("./", reply);
      // What the page names, and what those name in turn: parts that are loaded later.
      const named = [...text.matchAll(/(?:src|href)="(\.\/[^"]+)"/g)].map((each) => each[1]);
      await pages.addAll([...new Set(named)]);
      for (const script of named.filter((each) => each.endsWith(".js"))) {
        const code = await (await pages.match(script)).text();
        const parts = [...code.matchAll(/"\.?\/?(?:assets\/)?([\w-]+\.js)"/g)].map((each) => `./assets/${each[1]}`);
        await Promise.all([...new Set(parts)].filter((part) => !part.endsWith("/worker.js")).map((part) => pages.add(part).catch(() => undefined)));
      }
      await self.skipWaiting();
    })(),
  );
});

self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));

self.addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  const own = url.origin === self.location.origin && event.request.method === "GET" && !url.pathname.includes("/api/");
  if (!own) return;
  const isPage = event.request.mode === "navigate";
  event.respondWith(
    (async () => {
      const pages = await caches.open(shelf);
      const key = isPage ? "./" : event.request;
      try {
        const stop = AbortSignal.timeout(isPage ? 4000 : 15000);  // a dead network must not hold the page up
        const reply = await fetch(event.request, { signal: stop });
        if (reply.ok) await pages.put(key, reply.clone());
        return reply;
      } catch (why) {
        const kept = await pages.match(key);
        if (kept) return kept;
        throw why;
      }
    })(),
  );
});
