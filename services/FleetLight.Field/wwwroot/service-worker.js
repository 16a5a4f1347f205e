// Keeps the page itself, so that it opens with no signal, and sends what waits when the browser says that there is one again.
// A new version is fetched whole beside the old one, and takes its place when nobody has the page open, or when a person says so:
// a page never runs with parts of two versions.

self.importScripts('./service-worker-assets.js', './store.js', './sender.js');

const prefix = 'fleetlight-field-';
const cacheName = prefix + self.assetsManifest.version;
const base = new URL('./', self.location);
// A digest in its name: what the browser has of it from the page's start is it, and need not come over the link once more.
const named = /\.[a-z0-9]{10}\.[a-z]+$/;
const left = /^service-worker(-assets)?\.js$|\.(br|gz|map)$/;

self.addEventListener('install', event => event.waitUntil(keep()));
self.addEventListener('activate', event => event.waitUntil(dropOlder()));
self.addEventListener('message', event => { if (event.data?.kind === 'take-over') self.skipWaiting(); });
self.addEventListener('sync', event => { if (event.tag === 'send') event.waitUntil(send()); });
self.addEventListener('fetch', event => {
  if (event.request.method === 'GET' && event.request.url.startsWith(base.href)) event.respondWith(answer(event.request));
});

async function keep() {
  const requests = self.assetsManifest.assets
    .filter(asset => !left.test(asset.url))
    .map(asset => new Request(new URL(asset.url, base), { integrity: asset.hash, cache: named.test(asset.url) ? 'default' : 'no-cache' }));
  const cache = await caches.open(cacheName);
  await cache.addAll(requests);
}

async function dropOlder() {
  const names = await caches.keys();
  await Promise.all(names.filter(name => name.startsWith(prefix) && name !== cacheName).map(name => caches.delete(name)));
}

async function answer(request) {
  const cache = await caches.open(cacheName);
  const kept = await cache.match(request.mode === 'navigate' ? new URL('index.html', base).href : request);
  return kept ?? fetch(request);
}

// A failure tells the browser to try again later; where somebody else sends at the moment, there is nothing to do.
async function send() {
  const outcome = await self.fleetlightSender.send();
  if (outcome === 'failed') throw new Error('Not everything could be sent.');
}
