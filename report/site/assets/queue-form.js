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
      const label = named(f.labels && f.labels[0]), set = f.closest('fieldset');
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
      pour: action.pathname.replace(/\/[^/]*$/, ''), page: location.pathname, where: heading ? heading.textContent.trim() : '',
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

  // formOf is the form that an entry came from: of those that go to the same address the
  // one whose hidden fields fit best.
  q.formOf = function (entry) {
    let best = null, most = -1;
    document.querySelectorAll('form[data-entry]').forEach(function (form) {
      const action = new URL(form.action);
      if (action.pathname !== entry.action.split('?')[0]) { return; }
      const fits = Array.from(form.querySelectorAll('input[type=hidden]')).filter(function (f) {
        return entry.fields.some(function (pair) { return pair[0] === f.name && pair[1] === f.value; });
      }).length;
      if (fits > most) { best = form; most = fits; }
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
        if (value !== null) { f.value = value; }
      }
      f.dispatchEvent(new Event('input', { bubbles: true }));
    });
  };

  // What is on record by now takes the place of what was, unless a form is being filled in.
  let old = false, asking = false;
  q.stale = function () { old = true; refresh(); };
  function filling() {
    const at = document.activeElement;
    return document.querySelector('form[data-touched]') || at && at.matches(shown) && at.closest('form[data-entry]');
  }
  async function refresh() {
    if (!old || asking || document.hidden || filling()) { return; }
    asking = true;
    old = false;
    try {
      const answer = await fetch(location.pathname + location.search, { credentials: 'same-origin', redirect: 'manual', cache: 'no-store' });
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
      here.className = fresh.className;
      here.replaceChildren.apply(here, Array.from(fresh.childNodes));
    });
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
