// Keeps the site on the device, so that it works without a network after the first
// visit. One build is one cache: its files always belong together. A new build
// waits until the page says that it may take over.

const BUILD = 'unpacked';
const FILES = [];

const PREFIX = `crankbay ${new URL(registration.scope).pathname} `;
const CACHE = PREFIX + BUILD;

addEventListener('install', (event) => event.waitUntil(fill()));

async function fill() {
  const cache = await caches.open(CACHE);
  await Promise.all(FILES.map(async (name) => {
    const got = await fetch(name === 'index.html' ? './' : name, { cache: 'no-cache' });
    if (!got.ok) throw new Error(`${name}: ${got.status}`);
    // Some hosts lead from one address of a page to another; a browser takes no
    // page that came by such a way out of a cache.
    await cache.put(name, got.redirected ? new Response(got.body, { headers: got.headers }) : got);
  }));
}

addEventListener('activate', (event) => event.waitUntil(takeOver()));

async function takeOver() {
  for (const name of await caches.keys()) if (name.startsWith(PREFIX) && name !== CACHE) await caches.delete(name);
  await clients.claim();
}

addEventListener('message', (event) => {
  if (event.data === 'take over') skipWaiting();
});

addEventListener('fetch', (event) => {
  const { request } = event;
  const here = new URL(registration.scope);
  const asked = new URL(request.url);
  if (request.method !== 'GET' || asked.origin !== here.origin || !asked.pathname.startsWith(here.pathname)) return;
  const name = asked.pathname.slice(here.pathname.length) || 'index.html';
  if (FILES.includes(name)) event.respondWith(answer(new URL(name, here).href, request));
});

async function answer(address, request) {
  const kept = await (await caches.open(CACHE)).match(address);
  return kept ?? fetch(request); // a browser may have thrown the cache away
}
