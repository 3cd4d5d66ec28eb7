// Service worker of one language: opens its cached pages without a network. EDITION changes with any page of the language, so
// that browsers fetch this file again and, when the new worker activates, all pages in the cache.
'use strict';
const EDITION = '@edition@';
// Phones have pages stored under this name: do not change it.
const CACHE = 'aftercare ' + self.registration.scope;
// How long a cached page waits for a newer one from the network, in milliseconds: about the time of a page on slow 3G.
const NETWORK_TIMEOUT = 2500;

const pageUrl = (address) => { const url = new URL(address); url.hash = url.search = ''; return url.href; };

// Fetches a page, stores it, and tells the windows that show an older one. Throws on anything but a page of this site: an error
// of the host, a redirect, the sign-in page of a network.
async function updatePage(url) {
  const cache = await caches.open(CACHE);
  const response = await fetch(url, {cache: 'no-cache', credentials: 'omit'});
  const cachedText = cache.match(url).then((cached) => cached && cached.text());
  const [before, text] = await Promise.all([cachedText, response.clone().text()]);
  if (!response.ok || response.redirected || !/<html [^>]*data-edition=/.test(text)) throw new Error(String(response.status));
  await cache.put(url, response.clone());
  const script = /src="([^"]+\.js)"/.exec(text);
  if (script) await serveScript(new Request(new URL(script[1], url)));
  if (before !== undefined && before !== text) {
    const windows = await self.clients.matchAll({type: 'window', includeUncontrolled: true});
    windows.filter((client) => pageUrl(client.url) === url).forEach((client) => client.postMessage('newer'));
  }
  return response;
}

async function servePage(event) {
  const url = pageUrl(event.request.url);
  const cache = await caches.open(CACHE);
  const cached = await cache.match(url);
  if (!cached) return updatePage(url).catch(() => fetch(event.request));
  const updated = updatePage(url).catch(() => cached.clone());
  event.waitUntil(updated);
  return Promise.race([updated, new Promise((resolve) => setTimeout(() => resolve(cached.clone()), NETWORK_TIMEOUT))]);
}

// The deferred script has its hash in its name, so a cached one is never out of date.
async function serveScript(request) {
  const cache = await caches.open(CACHE);
  const cached = await cache.match(request);
  if (cached) return cached;
  const response = await fetch(request);
  if (response.ok) await cache.put(request, response.clone());
  return response;
}

async function updateAllPages() {
  await self.clients.claim();
  const cache = await caches.open(CACHE);
  const windows = await self.clients.matchAll({type: 'window'});
  const pages = (await cache.keys()).map((request) => request.url).filter((url) => url.endsWith('/'));
  const urls = new Set(pages.concat(windows.map((client) => pageUrl(client.url))));
  await Promise.all(Array.from(urls, (url) => updatePage(url).catch(() => null)));
}

self.addEventListener('install', () => self.skipWaiting());
self.addEventListener('activate', (event) => event.waitUntil(updateAllPages()));
self.addEventListener('fetch', (event) => {
  if (event.request.method !== 'GET' || new URL(event.request.url).origin !== self.location.origin) return;
  if (event.request.mode === 'navigate') event.respondWith(servePage(event));
  else if (/\/more-[0-9a-f]+\.js$/.test(new URL(event.request.url).pathname)) event.respondWith(serveScript(event.request));
});
