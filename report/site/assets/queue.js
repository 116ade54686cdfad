// A form of an entry is kept on the phone first and sent from there, so that it works
// without signal. This file takes the forms and shows what waits. All words are the
// page's own (templates/queue.html); without script, or where the browser has no
// database to use, the forms are sent as any others.
(function (q) {
  'use strict';
  const words = document.getElementById('queue-words'), place = document.querySelector('[data-waiting]');
  if (!words || !place || !window.indexedDB || !window.fetch || !window.AbortController) { return; }

  q.user = words.dataset.user;
  q.state = '';
  q.waiting = false; // whether something of who is signed in does
  q.sending = 0; // the number of the entry that is on its way
  q.number = function (name) { return Number(words.dataset[name]); };
  q.word = function (name, values) {
    return words.dataset['word' + name[0].toUpperCase() + name.slice(1)].replace(/\{(\w+)\}/g, function (all, key) { return values[key]; });
  };

  // What is shown: a line that says how it stands, what came of it lately, and what waits.
  const line = document.createElement('p'), list = document.createElement('ul');
  line.setAttribute('role', 'status');
  line.tabIndex = -1;
  list.className = 'queue';
  place.append(line, list);
  let lately = [], offers = null;

  // What is set again is read aloud again, so it is set where it changes.
  function say(text) {
    if (line.textContent !== text) { line.textContent = text; }
  }
  function ask(name, then) {
    const button = document.createElement('button');
    button.type = 'button';
    button.textContent = q.word(name);
    button.addEventListener('click', then);
    return button;
  }
  // offer says what went wrong with a form, and offers ways on.
  function offer(form, text, ways) {
    withdraw();
    offers = document.createElement('div');
    offers.className = 'wrong';
    const says = document.createElement('p');
    says.setAttribute('role', 'alert');
    offers.append(says);
    form.append(offers);
    says.textContent = text;
    const acts = document.createElement('p');
    acts.className = 'acts';
    acts.append.apply(acts, ways);
    offers.append(acts);
  }
  function withdraw() {
    if (offers) { offers.remove(); }
    offers = null;
  }
  function clockOf(ms) {
    const at = new Date(ms), how = { hour: 'numeric', minute: '2-digit' };
    if (at.toDateString() !== new Date().toDateString()) { how.month = 'short'; how.day = 'numeric'; }
    return at.toLocaleString(document.documentElement.lang, how);
  }
  function itemOf(entry, state) {
    const item = words.content.firstElementChild.cloneNode(true);
    const part = function (name) { return item.querySelector('[data-is="' + name + '"]'); };
    const fill = function (name, text) {
      if (text) { part(name).textContent = text; } else { part(name).remove(); }
    };
    item.dataset.state = state;
    item.dataset.id = entry.id;
    fill('what', entry.label);
    fill('when', clockOf(entry.madeAt));
    fill('state', q.word(state, { name: entry.name }));
    fill('where', entry.page.split('?')[0] === location.pathname ? '' : entry.where);
    if (part('where')) { part('where').href = entry.page; }
    fill('why', entry.refused || (state === 'stuck' ? q.word('odd') : ''));
    const values = part('values');
    if (entry.said && entry.said.length) {
      entry.said.forEach(function (pair) {
        const row = document.createElement('li');
        row.textContent = pair.join(': ');
        values.append(row);
      });
    } else {
      values.closest('details').remove();
    }
    item.querySelectorAll('button').forEach(function (button) {
      if (!button.dataset.for.split(' ').includes(state)) { button.remove(); }
      button.addEventListener('click', function () { acts[button.dataset.do](entry); });
    });
    return item;
  }
  function stateOf(entry) {
    if (entry.user !== q.user) { return 'others'; }
    if (entry.refused) { return 'refused'; }
    if (entry.odd > 2) { return 'stuck'; }
    return entry.no === q.sending ? 'sending' : 'waits';
  }
  function noteOf(text, kind, dismiss) {
    const item = document.createElement('li');
    item.dataset.state = kind;
    item.textContent = text;
    if (dismiss) { item.append(ask('dismiss', dismiss)); }
    return item;
  }
  // Who is not signed in any more is asked to by the site, which leads back here.
  function signIn() {
    const item = document.createElement('li'), link = document.createElement('a');
    link.href = location.pathname + location.search;
    link.textContent = q.word('signInLink');
    item.append(link);
    return item;
  }
  // put shows items, and leaves alone those that are shown already: a finger may be on one.
  function put(items) {
    const were = new Map(Array.from(list.children, function (item) { return [item.dataset.text, item]; }));
    const now = items.map(function (item) {
      const text = item.outerHTML, was = were.get(text);
      were.delete(text);
      item.dataset.text = text;
      return was || item;
    });
    were.forEach(function (item) { item.remove(); });
    now.forEach(function (item, i) {
      if (list.children[i] !== item) { list.insertBefore(item, list.children[i] || null); }
    });
    list.hidden = !now.length;
  }
  // show shows what the database holds.
  async function show() {
    const entries = await q.store.all(), notes = (await q.store.notes()).filter(function (n) { return n.user === q.user; });
    const mine = entries.filter(function (e) { return e.user === q.user && !e.refused; });
    const first = q.state === 'signIn' && mine.length ? [signIn()] : [];
    put(first.concat(notes.map(function (n) {
      return noteOf(n.says, 'clash', function () { q.store.dismiss(n.id).then(function () { q.changed(); return q.show(); }); });
    }), entries.map(function (entry) {
      return itemOf(entry, stateOf(entry));
    }), lately.map(function (text) { return noteOf(text, 'sent'); })));
    q.hideSaid(mine);
    q.offerNext(mine);
    q.waiting = mine.length > 0;
    if (!q.waiting) {
      const refused = entries.some(function (e) { return e.user === q.user && e.refused; });
      if (line.textContent) { say(refused ? q.word('notTaken') : lately.length ? q.word('allSent') : ''); }
    } else if (!q.sending) {
      say([q.word('count', { n: mine.length }), q.state ? q.word(q.state) : ''].join(' '));
    }
  }
  let drawn = Promise.resolve(); // one after the other: what was read last is shown last
  q.show = function () {
    drawn = drawn.then(show).catch(console.error);
    return drawn;
  };

  // Two tabs show the same.
  const tabs = window.BroadcastChannel ? new BroadcastChannel('pourback-queue') : null;
  if (tabs) { tabs.onmessage = function (e) { heard(e.data); }; }
  q.changed = function () { if (tabs) { tabs.postMessage({}); } };
  q.happened = function (what) {
    heard(what);
    if (tabs) { tabs.postMessage(what); }
  };
  function heard(what) {
    if (what.sent !== undefined && what.user === q.user) {
      lately = lately.concat(what.sent).slice(-3);
      q.stale();
    }
    q.show();
  }

  const acts = {
    drop: async function (entry) {
      if (!window.confirm(q.word('dropAsk', { what: entry.label }))) { return; }
      await q.store.remove(entry.no);
      q.changed();
      await q.show();
    },
    again: async function (entry) {
      await q.store.change(entry.no, function (e) { delete e.refused; e.odd = 0; });
      await q.goNow();
    },
    mend: function (entry) {
      if (entry.page === q.page()) { mend(entry); } else { location.assign(entry.page + '#mend-' + entry.no); }
    },
  };
  // mend puts an entry back into its form, as it was filled in.
  async function mend(entry) {
    const form = q.formOf(entry);
    if (!form) { say(q.word('noForm')); line.focus(); return; }
    form.reset();
    q.fill(form, entry, entry.bytes ? await q.store.pictures(entry.no) : []);
    form.dataset.mends = entry.no;
    if (entry.refused) { offer(form, entry.refused, []); form.prepend(offers); }
    for (let d = form.closest('details'); d; d = d.parentElement.closest('details')) { d.open = true; }
    form.scrollIntoView({ block: 'start' });
    const first = Array.from(form.elements).find(function (f) { return f.type !== 'hidden' && f.matches('input, select, textarea'); });
    (first || form).focus();
  }

  // keep keeps what a form says in the database, and only then empties the form.
  async function keep(form, button, bare) {
    if (form.dataset.keeping) { return; }
    form.dataset.keeping = '1';
    withdraw();
    try {
      await q.picturesReady(form);
      const entry = q.entryOf(form, button);
      let pictures = [];
      try {
        pictures = bare ? [] : await q.picturesOf(form);
      } catch (error) {
        offer(form, q.word('pictureGone'), [ask('leavePictures', function () { keep(form, button, true); })]);
        return;
      }
      entry.bytes = pictures.reduce(function (sum, p) { return sum + p.bytes.byteLength; }, 0);
      if (entry.bytes > q.number('mostPictures') || pictures.length > q.number('most')) {
        offer(form, q.word('picturesLarge'), [ask('leavePictures', function () { keep(form, button, true); })]);
        return;
      }
      entry.after = await made(entry);
      await store(form, button, entry, pictures);
    } finally {
      setTimeout(function () { delete form.dataset.keeping; }, offers ? 0 : 500); // who taps twice means it once
    }
  }
  // made are the entries of a pour that this page has made, or that wait: its forms may not
  // show yet what they say.
  let mine = [];
  async function made(entry) {
    const all = await q.store.all().catch(function () { return []; });
    const before = mine.concat(all).filter(function (e) { return e.pour === entry.pour && e.user === entry.user; });
    mine.push({ id: entry.id, pour: entry.pour, user: entry.user });
    return Array.from(new Set(before.map(function (e) { return e.id; }))).slice(-20);
  }
  async function store(form, button, entry, pictures) {
    try {
      await q.store.add(entry, pictures, Number(form.dataset.mends) || 0);
    } catch (error) {
      if (error.name !== 'QuotaExceededError' && !pictures.length) { ordinary(form, button); return; }
      const ways = pictures.length ? [ask('leavePictures', function () { keep(form, button, true); })] : [];
      offer(form, q.word('full'), ways.concat(ask('sendNow', function () { ordinary(form, button); })));
      return;
    }
    form.reset();
    for (let d = form.closest('details'); d; d = d.parentElement.closest('details')) { d.open = false; }
    q.state = '';
    history.replaceState(history.state, '', q.page());
    say(q.word('kept'));
    line.focus();
    q.changed();
    if (navigator.storage && navigator.storage.persist) { navigator.storage.persist().catch(function () {}); }
    q.goNow();
  }
  // ordinary sends a form as it would be without all this.
  function ordinary(form, button) {
    if (button && button.name) { form.append(q.hidden(button.name, button.value)); }
    if (button && button.hasAttribute('formaction')) { form.action = button.formAction; }
    HTMLFormElement.prototype.submit.call(form);
  }
  document.addEventListener('submit', function (e) {
    if (!q.ready || e.defaultPrevented || !e.target.matches('form[data-entry]')) { return; }
    e.preventDefault();
    keep(e.target, e.submitter);
  });
  document.addEventListener('reset', function (e) { delete e.target.dataset.mends; });

  // The page may be one that was kept for when there is no signal.
  const seen = document.documentElement.dataset.lastSeen;
  if (seen) { place.prepend(Object.assign(document.createElement('p'), { className: 'wrong', textContent: q.word('lastSeen', { time: clockOf(Date.parse(seen)) }) })); }
  if (window.isSecureContext && navigator.serviceWorker) { navigator.serviceWorker.register('/worker.js', { updateViaCache: 'none' }).catch(function (error) { console.warn(error); }); }

  q.ready = true; // until the database is found not to open
  q.store.gone().then(async function (at) {
    // The page before may have sent an entry after this one was asked for.
    if (at > performance.timeOrigin) { q.stale(); }
    await q.goNow();
    const asked = /^#mend-(\d+)$/.exec(location.hash), entry = asked && await q.store.get(Number(asked[1]));
    if (entry) { history.replaceState(null, '', location.pathname + location.search); mend(entry); }
  }).catch(function () { q.ready = false; });
})(window.pourback);
