// Opens pages again without a network. One worker a language; EDITION changes whenever any page of the language does, so that
// a browser fetches this file anew, and with it the pages it keeps.
'use strict';
const EDITION = '@edition@';
const KEPT = 'aftercare ' + self.registration.scope;
// The network has this long to bring the newest advice before the kept page is shown: about a page on slow 3G.
const PATIENCE = 2500;

const plain = (address) => { const url = new URL(address); url.hash = url.search = ''; return url.href; };

// Fetches a page, keeps it, and tells the windows that show an older one. Only a page of ours is kept: no error of the host,
// no other page that a hotel's network put in its place.
async function renew(address) {
  const store = await caches.open(KEPT);
  const answer = await fetch(address, {cache: 'no-cache', credentials: 'omit'});
  const [before, text] = await Promise.all([store.match(address).then((old) => old && old.text()), answer.clone().text()]);
  if (!answer.ok || answer.redirected || !/<html [^>]*data-edition=/.test(text)) throw new Error(String(answer.status));
  await store.put(address, answer.clone());
  const script = /src="([^"]+\.js)"/.exec(text);
  if (script) await keep(new Request(new URL(script[1], address)));
  if (before !== undefined && before !== text) {
    const windows = await self.clients.matchAll({type: 'window', includeUncontrolled: true});
    windows.filter((shown) => plain(shown.url) === address).forEach((shown) => shown.postMessage('newer'));
  }
  return answer;
}

async function open(event) {
  const address = plain(event.request.url);
  const store = await caches.open(KEPT);
  const kept = await store.match(address);
  if (!kept) return renew(address).catch(() => fetch(event.request));
  const fresh = renew(address).catch(() => kept.clone());
  event.waitUntil(fresh);
  return Promise.race([fresh, new Promise((shown) => setTimeout(() => shown(kept.clone()), PATIENCE))]);
}

// The script beside the pages carries its hash in its name: fetched once, then served from here.
async function keep(request) {
  const store = await caches.open(KEPT);
  const kept = await store.match(request);
  if (kept) return kept;
  const answer = await fetch(request);
  if (answer.ok) await store.put(request, answer.clone());
  return answer;
}

self.addEventListener('install', () => self.skipWaiting());
self.addEventListener('activate', (event) => event.waitUntil((async () => {
  await self.clients.claim();
  const store = await caches.open(KEPT);
  const windows = await self.clients.matchAll({type: 'window'});
  const pages = (await store.keys()).map((request) => request.url).filter((address) => address.endsWith('/'));
  const wanted = new Set(pages.concat(windows.map((shown) => plain(shown.url))));
  await Promise.all(Array.from(wanted, (address) => renew(address).catch(() => null)));
})()));
self.addEventListener('fetch', (event) => {
  if (event.request.method !== 'GET' || new URL(event.request.url).origin !== self.location.origin) return;
  if (event.request.mode === 'navigate') event.respondWith(open(event));
  else if (/\/more-[0-9a-f]+\.js$/.test(new URL(event.request.url).pathname)) event.respondWith(keep(event.request));
});
