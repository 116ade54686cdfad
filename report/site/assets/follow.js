// What is typed into a form that follows is worked out as it is typed: the page's own
// answer to the form is asked for, and its parts take the place of those that are here.
(function () {
  'use strict';
  var form = document.querySelector('form[data-follow]');
  if (!form || !window.fetch || !window.URLSearchParams) { return; }
  document.documentElement.classList.add('follows');
  var soon = 0, later = 0, asked = 0, running = false, again = false;

  function part(name) {
    return document.querySelector('[data-part="' + CSS.escape(name) + '"]');
  }
  function take(text) {
    var page = new DOMParser().parseFromString(text, 'text/html');
    page.querySelectorAll('[data-part]').forEach(function (fresh) {
      var here = part(fresh.dataset.part);
      if (!here) { return; }
      here.removeAttribute('aria-busy');
      here.className = fresh.className;
      if (here.innerHTML === fresh.innerHTML) { return; }
      here.replaceChildren.apply(here, Array.from(fresh.childNodes));
      var name = fresh.dataset.part.split(' ')[1], field = name && form.elements.namedItem(name);
      if (field && field.setAttribute) {
        if (here.querySelector('.wrong')) { field.setAttribute('aria-invalid', 'true'); } else { field.removeAttribute('aria-invalid'); }
      }
    });
  }
  // The key that makes a kept bid one is not for what keeps nothing.
  function fields() {
    var all = new URLSearchParams();
    new FormData(form).forEach(function (value, name) {
      if (typeof value === 'string' && name !== 'form_key' && (value !== '' || /\.(use|name)$/.test(name))) { all.append(name, value); }
    });
    return all;
  }
  function ask(what) {
    if (running) { again = true; return; }
    running = true;
    var mine = ++asked;
    var sent = fields(), how = { headers: { 'Pourback-Follow': what }, credentials: 'same-origin' }, at = form.action;
    if (form.method === 'post') { how.method = 'POST'; how.body = sent; } else { at += '?' + sent; }
    fetch(at, how).then(function (answer) {
      if (!answer.ok) { throw answer.status; }
      return answer.text();
    }).then(function (text) {
      if (mine === asked) { take(text); }
    }).catch(function () {
      var says = part('answer');
      if (says) { says.textContent = form.dataset.off; says.classList.add('bad'); }
    }).then(function () {
      running = false;
      if (again) { again = false; ask('now'); } else if (what === 'now') { rest(); }
    });
  }
  // What takes longer is asked for once nobody types.
  function rest() {
    clearTimeout(later);
    if (part('options')) { later = setTimeout(function () { ask('options'); }, 600); }
  }
  function changed() {
    clearTimeout(soon);
    clearTimeout(later);
    var options = part('options');
    if (options) { options.setAttribute('aria-busy', 'true'); }
    soon = setTimeout(function () { ask('now'); }, 200);
  }
  form.addEventListener('input', changed);
  form.addEventListener('change', changed);
})();
