// What waits is sent in the order in which it was made, one at a time. An entry leaves
// the browser on one answer alone: that of the site, which names its key and says where
// it is kept.
(function (q) {
  'use strict';
  const me = q.newKey();
  let running = false, again = false, timer = 0, wait = 0;

  function clock(now) {
    const two = function (n) { return String(Math.floor(Math.abs(n))).padStart(2, '0'); }, off = -now.getTimezoneOffset();
    return now.getFullYear() + '-' + two(now.getMonth() + 1) + '-' + two(now.getDate()) + 'T' + two(now.getHours()) + ':' + two(now.getMinutes()) + ':' + two(now.getSeconds()) +
      (off < 0 ? '-' : '+') + two(off / 60) + ':' + two(off % 60);
  }
  function bodyOf(entry, pictures) {
    const body = entry.multipart ? new FormData() : new URLSearchParams();
    body.append('form_key', entry.id); // before the pictures: the site reads it first
    entry.fields.forEach(function (f) { body.append(f[0], f[1]); });
    pictures.forEach(function (p) { body.append(p.field, new Blob([p.bytes], { type: p.type }), p.name); });
    return body;
  }
  // send comes to what is to be done about an entry after one try. A try has half a
  // minute, and more where there is much to send.
  async function send(entry) {
    const pictures = entry.bytes ? await q.store.pictures(entry.no) : [];
    const stop = new AbortController(), late = setTimeout(function () { stop.abort(); }, q.number('limit') + entry.bytes / 20);
    let answer, text;
    try {
      answer = await fetch(entry.action, { method: 'POST', body: bodyOf(entry, pictures), credentials: 'same-origin', redirect: 'manual', cache: 'no-store', signal: stop.signal,
        headers: { 'Pourback-Entry': '1', 'Pourback-Clock': clock(new Date()), 'Pourback-User': entry.user, 'Pourback-After': entry.after.join() } });
      text = await answer.text();
    } catch (error) {
      return { did: entry.bytes && stop.signal.aborted ? 'odd' : 'down' };
    } finally {
      clearTimeout(late);
    }
    return judge(entry, answer, text);
  }
  function judge(entry, answer, text) {
    let said = {};
    try { said = JSON.parse(text) || {}; } catch (error) { /* it is no answer of the site to an entry */ }
    const mine = said.key === entry.id;
    if (mine && answer.status === 200 && typeof said.kept === 'string') { return { did: 'kept', said: said }; }
    if (mine && [409, 422].includes(answer.status) && typeof said.refused === 'string') { return { did: 'refused', why: said.refused }; }
    const page = answer.status === 200 && /html/.test(answer.headers.get('Content-Type'));
    if (answer.type === 'opaqueredirect' || answer.status === 401 || page) { return { did: 'signIn' }; }
    if ([429, 502, 503, 504].includes(answer.status)) { return { did: 'busy', after: Number(answer.headers.get('Retry-After')) * 1000 || 0 }; }
    return { did: 'odd' };
  }

  // settle does what an answer asks for, and says whether to go on with others.
  async function settle(entry, got, held) {
    switch (got.did) {
    case 'kept':
      wait = 0;
      await q.store.remove(entry.no, got.said.became === 'clash' ? { id: entry.id, user: entry.user, says: got.said.says, at: Date.now() } : null);
      q.happened({ sent: got.said.says || '', user: entry.user });
      return true;
    case 'refused':
      wait = 0;
      await q.store.change(entry.no, function (e) { e.refused = got.why || q.word('refused'); });
      return true;
    case 'odd':
      // What the site cannot answer must not keep the others from it for long.
      await q.store.change(entry.no, function (e) { e.odd = (e.odd || 0) + 1; });
      if ((entry.odd || 0) < 2) { held.add(entry.pour); }
      return true;
    }
    return false;
  }
  // round tries each entry of who is signed in once; entries of one pour keep their order.
  async function round() {
    const held = new Set();
    let after = 0, state = '';
    for (const entry of (await q.store.all()).filter(function (e) { return e.user === q.user; })) {
      if (held.has(entry.pour)) { continue; }
      if (!await q.store.lease(me, 15000)) { return { state: q.state, after: 5000 }; }
      const is = await q.store.get(entry.no);
      if (!is || is.refused) { continue; }
      const beat = setInterval(function () { q.store.lease(me, 15000); }, 5000);
      try {
        q.sending = is.no;
        await q.show();
        const got = await send(is), on = await settle(is, got, held);
        if (got.did === 'odd') { state = 'odd'; }
        if (!on) { return { state: got.did, after: got.after || 0 }; }
      } finally {
        clearInterval(beat);
        q.sending = 0;
        q.changed();
      }
    }
    return { state: state, after: after };
  }
  // go sends what waits, now and as long as something does.
  q.go = async function () {
    if (!q.ready) { return; }
    clearTimeout(timer);
    if (running) { again = true; return; }
    running = true;
    let after = 0;
    try {
      do {
        again = false;
        const came = await round();
        q.state = came.state;
        after = came.after;
      } while (again);
      await q.store.lease(me, 0);
    } catch (error) {
      console.error(error);
      q.state = 'odd';
    }
    running = false;
    await q.show();
    if (q.waiting) {
      wait = Math.min(Math.max(wait * 2, 1000), 60000);
      timer = setTimeout(q.go, Math.max(wait, after));
    }
  };
  // goNow is for when something tells that it may work by now.
  q.goNow = function () { wait = 0; return q.go(); };

  window.addEventListener('online', q.goNow);
  window.addEventListener('pageshow', q.goNow);
  document.addEventListener('visibilitychange', function () { if (!document.hidden) { q.goNow(); } });
})(window.pourback);
