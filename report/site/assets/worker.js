// The pages of a pour open without signal: the network is asked first, and where it does
// not answer within some seconds a page is shown as it was last seen. The site puts before
// this which styles and scripts there are (assets). It keeps pages of one user alone, those
// that the site marks as such, which are of the crew and have no money on them.
'use strict';
const patience = 4000, most = 60;
const ours = /^\/(crew|pour\/.+|slabs\/[^/]+\/[^/]+\/visit)$/;
let signedOut = 0; // how often: an answer that was asked for before is not kept after

self.addEventListener('install', function (e) {
  e.waitUntil(caches.open('assets').then(function (c) { return c.addAll(assets); }).then(function () { return self.skipWaiting(); }));
});
self.addEventListener('activate', function (e) {
  e.waitUntil(tidy().then(function () { return self.clients.claim(); }));
});
self.addEventListener('fetch', function (e) {
  const to = new URL(e.request.url);
  if (to.origin !== self.location.origin) { return; }
  if (to.pathname === '/logout' || to.pathname === '/login') { e.waitUntil(forget()); return; }
  if (e.request.method !== 'GET') { return; }
  if (to.pathname.startsWith('/assets/')) { e.respondWith(asset(e.request)); }
  if (ours.test(to.pathname)) { e.respondWith(page(e)); }
});

// An asset's name changes with what is in it.
async function asset(request) {
  const all = await caches.open('assets'), is = await all.match(request.url);
  if (is) { return is; }
  const answer = await fetch(request);
  if (answer.ok) { await all.put(request.url, answer.clone()); }
  return answer;
}

// page asks the network, and falls back only for who opens a page: what a page asks for
// itself is to be new.
async function page(e) {
  const asked = ask(e.request);
  e.waitUntil(asked.then(function (a) { return a.kept; }).catch(function () {}));
  const fresh = asked.then(function (a) { return a.answer; });
  if (e.request.mode !== 'navigate') { return fresh; }
  const late = new Promise(function (done) { setTimeout(done, patience); });
  const soon = await Promise.race([fresh, late]).catch(function () {});
  if (soon && ![502, 503, 504].includes(soon.status)) { return soon; }
  return await lastSeen(e.request.url) || fresh;
}
async function ask(request) {
  const before = signedOut, answer = await fetch(request);
  return { answer: answer, kept: keep(request.url, answer.clone(), before) };
}
async function keep(url, answer, before) {
  if (answer.type === 'opaqueredirect' || answer.redirected || answer.status === 401) { return forget(); }
  const user = answer.headers.get('Pourback-User'), mine = 'pages of ' + user;
  if (!answer.ok || !user) { // it is not there any more, or not for who asks
    if (answer.status < 500) { for (const pages of await kept()) { await pages.delete(url); } }
    return;
  }
  const text = await answer.text(), headers = new Headers(answer.headers);
  headers.delete('Content-Encoding');
  headers.delete('Content-Length');
  if (before !== signedOut) { return; }
  await forget(mine);
  const pages = await caches.open(mine);
  await pages.delete(url); // what was seen last stands last
  await pages.put(url, new Response(text.replace('<html', '<html data-last-seen="' + new Date().toISOString() + '"'), { headers: headers }));
  for (const old of (await pages.keys()).slice(0, -most)) { await pages.delete(old); }
}
async function lastSeen(url) {
  for (const pages of await kept()) {
    const is = await pages.match(url) || await pages.match(url, { ignoreSearch: true });
    if (is) { return is; }
  }
}

// kept are the pages that are kept, of the one user.
async function kept() {
  return Promise.all((await caches.keys()).filter(function (name) { return name.startsWith('pages of '); }).map(function (name) { return caches.open(name); }));
}
// forget drops all pages but those of one user.
async function forget(but) {
  if (!but) { signedOut++; }
  for (const name of await caches.keys()) {
    if (name.startsWith('pages of ') && name !== but) { await caches.delete(name); }
  }
}

// tidy drops the assets that neither this version nor a page that is kept has.
async function tidy() {
  const wanted = new Set(assets);
  for (const pages of await kept()) {
    for (const request of await pages.keys()) {
      const text = await (await pages.match(request)).text();
      (text.match(/\/assets\/[\w.-]+/g) || []).forEach(function (path) { wanted.add(path); });
    }
  }
  const all = await caches.open('assets');
  for (const request of await all.keys()) {
    if (!wanted.has(new URL(request.url).pathname)) { await all.delete(request); }
  }
}
