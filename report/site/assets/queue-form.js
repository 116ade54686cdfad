// A form as an entry, and an entry in its form again; and the parts of the page that
// show what is on record, which are fetched anew once something was kept.
(function (q) {
  'use strict';
  const shown = 'input:not([type=hidden]):not([type=file]):not([type=submit]):not([type=button]), select, textarea';

  function named(of) {
    if (!of) { return ''; }
    const copy = of.cloneNode(true);
    copy.querySelectorAll('input, select, textarea, button, output').forEach(function (f) { f.remove(); });
    return copy.textContent.trim().replace(/\s+/g, ' ').replace(/:$/, '');
  }
  // said is what somebody has filled in, as the form's own words name it.
  function said(form) {
    const pairs = [];
    Array.from(form.elements).forEach(function (f) {
      if (!f.matches(shown) || !f.name || f.disabled || !f.value) { return; }
      const label = named(f.labels && f.labels[0]) || f.getAttribute('aria-label') || '', set = f.closest('fieldset');
      if (f.type === 'checkbox' || f.type === 'radio') {
        if (f.checked) { pairs.push([named(set && set.querySelector('legend')), label].filter(Boolean)); }
      } else {
        pairs.push([label, f.matches('select') ? f.selectedOptions[0].textContent.trim() : f.value].filter(Boolean));
      }
    });
    return pairs.filter(function (pair) { return pair.length; });
  }
  q.entryOf = function (form, button) {
    const fields = [], action = new URL(button && button.hasAttribute('formaction') ? button.formAction : form.action, location.href);
    new FormData(form).forEach(function (value, name) {
      if (typeof value === 'string' && name !== 'form_key') { fields.push([name, value]); }
    });
    if (button && button.name) { fields.push([button.name, button.value]); }
    const pairs = said(form), heading = document.querySelector('h1');
    return {
      id: q.newKey(), user: q.user, name: document.getElementById('queue-words').dataset.name, action: action.pathname + action.search, multipart: form.enctype === 'multipart/form-data',
      pour: action.pathname.replace(/\/[^/]*$/, ''), page: q.page(), where: heading ? heading.textContent.trim() : '',
      label: [form.dataset.entry].concat(pairs.map(function (pair) { return pair[pair.length - 1]; })).join(' · ').slice(0, 70), said: pairs,
      fields: fields, bytes: 0, madeAt: Date.now(),
    };
  };
  q.picturesOf = async function (form) {
    const all = [];
    for (const field of form.querySelectorAll('input[type=file]')) {
      for (const file of field.files) { all.push({ field: field.name, name: file.name, type: file.type, bytes: await file.arrayBuffer() }); }
    }
    return all;
  };
  q.hidden = function (name, value) {
    return Object.assign(document.createElement('input'), { type: 'hidden', name: name, value: value });
  };

  // hidden are the fields by which a form is known from others that go to its address: not
  // those that are another each time.
  function hidden(form) {
    return Array.from(form.querySelectorAll('input[type=hidden]')).filter(function (f) { return !['form_key', 'at', 'tapped'].includes(f.name); });
  }
  function has(entry, f) {
    return entry.fields.some(function (pair) { return pair[0] === f.name && pair[1] === f.value; });
  }
  // What is said by one tap is said once: such a form is away while what it says waits.
  q.hideSaid = function (entries) {
    document.querySelectorAll('form[data-entry]').forEach(function (form) {
      if (form.querySelector(shown)) { return; }
      form.hidden = entries.some(function (e) { return goesTo(form, e) && hidden(form).every(function (f) { return has(e, f); }); });
    });
  };
  function goesTo(form, entry) { return new URL(form.action, location.href).pathname === entry.action.split('?')[0]; }

  // What a truck does next is offered, too, where the truck itself still waits on the phone.
  q.offerNext = function (entries) {
    const next = document.getElementById('stamp-next'), place = document.querySelector('[data-next]');
    if (!next || !place) { return; }
    const models = Array.from(document.importNode(next.content, true).querySelectorAll('form')), model = models[0], done = new Map(), here = new Set();
    const steps = models.map(function (form) { return form.elements.stamp.value; }); // a time each, in their order
    entries.filter(function (e) { return goesTo(model, e) && has(e, model.elements.part); }).forEach(function (e) {
      const of = function (name) { return (e.fields.find(function (pair) { return pair[0] === name; }) || [])[1]; };
      const ticket = of('ticket_no'), step = Math.max(steps.indexOf(of('stamp')), steps.findLastIndex(of));
      if (ticket) { done.set(ticket, Math.max(step, done.has(ticket) ? done.get(ticket) : -1)); }
    });
    document.querySelectorAll('[data-part=stamps] form').forEach(function (form) { // as it is on record
      const ticket = form.elements.ticket_no.value, step = steps.indexOf(form.elements.stamp.value);
      if (!done.has(ticket) || done.get(ticket) < step) { here.add(ticket); }
    });
    const tickets = Array.from(done.keys()).filter(function (ticket) { return !here.has(ticket) && done.get(ticket) < steps.length - 1; });
    const is = JSON.stringify(tickets.map(function (ticket) { return [ticket, done.get(ticket)]; }));
    if (place.dataset.is === is) { return; } // a finger may be on one
    place.dataset.is = is;
    place.replaceChildren.apply(place, tickets.map(function (ticket) {
      const form = models[done.get(ticket) + 1].cloneNode(true);
      form.elements.ticket_no.value = ticket;
      form.elements.form_key.value = q.newKey();
      form.dataset.entry = form.querySelector('button').textContent = form.dataset.entry.replace('{}', ticket);
      return form;
    }));
  };

  // formOf is the form that an entry came from: of those that go to the same address the
  // one whose hidden fields fit best.
  q.formOf = function (entry) {
    let best = null, most = -1;
    document.querySelectorAll('form[data-entry]').forEach(function (form) {
      const fits = hidden(form).filter(function (f) { return has(entry, f); }).length;
      if (goesTo(form, entry) && fits > most) { best = form; most = fits; }
    });
    return best;
  };
  q.fill = function (form, entry, pictures) {
    const left = entry.fields.slice();
    const take = function (name, fits) {
      const at = left.findIndex(function (pair) { return pair[0] === name && fits(pair[1]); });
      return at < 0 ? null : left.splice(at, 1)[0][1];
    };
    Array.from(form.elements).forEach(function (f) {
      if (!f.name || f.name === 'form_key' || f.type === 'submit' || f.type === 'button') { return; }
      if (f.type === 'file') {
        const again = new DataTransfer();
        pictures.forEach(function (p) { if (p.field === f.name) { again.items.add(new File([p.bytes], p.name, { type: p.type })); } });
        f.files = again.files;
      } else if (f.type === 'checkbox' || f.type === 'radio') {
        f.checked = take(f.name, function (value) { return value === f.value; }) !== null;
      } else {
        const value = take(f.name, function () { return true; });
        if (value === null) { return; }
        if (f.type === 'hidden' && !('own' in f.dataset)) { f.dataset.own = f.value; } // no reset brings it back
        f.value = value;
        const fold = f.closest('.fold');
        if (fold && value) { fold.open = true; }
      }
    });
    left.forEach(function (pair) { // the row that it is about, where the form is for a new one
      const field = q.hidden(pair[0], pair[1]);
      field.dataset.added = '';
      form.append(field);
    });
    form.dispatchEvent(new Event('input', { bubbles: true }));
  };
  document.addEventListener('reset', function (e) {
    e.target.querySelectorAll('[data-added]').forEach(function (f) { f.remove(); });
    e.target.querySelectorAll('[data-own]').forEach(function (f) {
      f.value = f.dataset.own;
      delete f.dataset.own;
    });
  });

  // What is on record by now takes the place of what was, unless a form is being filled in.
  let old = false, asking = false;
  q.stale = function () { old = true; refresh(); };
  function filling() {
    const at = document.activeElement;
    return document.querySelector('form[data-touched]') || at && at.matches(shown) && at.closest('form[data-entry]');
  }
  // page is where the page is without what opens one of its forms: that was sent.
  q.page = function () {
    const all = new URLSearchParams(location.search), stays = ['part', 'lang', 'units'];
    Array.from(all.keys()).forEach(function (name) { if (!stays.includes(name)) { all.delete(name); } });
    return location.pathname + (String(all) ? '?' + all : '');
  };
  async function refresh() {
    if (!old || asking || document.hidden || filling()) { return; }
    asking = true;
    old = false;
    try {
      const answer = await fetch(q.page(), { credentials: 'same-origin', redirect: 'manual', cache: 'no-store' });
      if (!answer.ok) { throw new Error(String(answer.status)); }
      const page = new DOMParser().parseFromString(await answer.text(), 'text/html'), words = page.getElementById('queue-words');
      if (words && words.dataset.user === q.user) { swap(page); }
    } catch (error) {
      old = true;
      setTimeout(refresh, 10000);
    }
    asking = false;
  }
  function swap(page) {
    if (filling()) { old = true; return; }
    page.querySelectorAll('[data-part]').forEach(function (fresh) {
      const here = document.querySelector('[data-part="' + CSS.escape(fresh.dataset.part) + '"]');
      if (!here || here.innerHTML === fresh.innerHTML) { return; }
      if (here.querySelector('details[open] form[data-entry]')) { old = true; return; }
      fresh.querySelectorAll('details[id]').forEach(function (d) {
        const was = document.getElementById(d.id);
        if (was) { d.open = was.open; }
      });
      here.className = fresh.className;
      here.replaceChildren.apply(here, Array.from(fresh.childNodes));
    });
    q.show();
  }
  document.addEventListener('input', function (e) {
    const form = e.target.closest('form[data-entry]');
    if (form) { form.dataset.touched = '1'; }
  });
  document.addEventListener('reset', function (e) { delete e.target.dataset.touched; });
  ['focusout', 'toggle'].forEach(function (name) {
    document.addEventListener(name, function () { setTimeout(refresh, 300); }, true);
  });
  document.addEventListener('visibilitychange', refresh);
})(window.pourback);
