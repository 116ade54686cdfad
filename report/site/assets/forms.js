// Forms of a pour: a tap fills in the phone's time, and a form notes when it was made.
(function () {
  'use strict';
  document.documentElement.classList.add('taps');
  function two(n) { return String(n).padStart(2, '0'); }
  function clock(at) { return two(at.getHours()) + ':' + two(at.getMinutes()); }
  function tapped(form) {
    var field = form.elements.namedItem('tapped');
    return { names: field && field.value ? field.value.split(',') : [], keep: function (names) { if (field) { field.value = names.join(','); } } };
  }
  document.addEventListener('click', function (e) {
    var button = e.target.closest && e.target.closest('button[data-now]');
    if (!button || !button.form) { return; }
    var name = button.dataset.now, field = button.form.elements.namedItem(name), list = tapped(button.form);
    field.value = clock(new Date());
    list.keep(list.names.filter(function (n) { return n !== name; }).concat(name));
    field.dispatchEvent(new CustomEvent('input', { bubbles: true, detail: 'tap' }));
  });
  // Who writes a time over has not tapped it.
  document.addEventListener('input', function (e) {
    var form = e.target.form;
    if (!form || e.detail === 'tap' || e.target.type !== 'time') { return; }
    var list = tapped(form);
    list.keep(list.names.filter(function (n) { return n !== e.target.name; }));
  });
  document.addEventListener('reset', function (e) { tapped(e.target).keep([]); });
  // Before anybody else takes the form: a second tap on the button says the same.
  window.addEventListener('submit', function (e) {
    var field = e.target.elements.namedItem('at'), now = new Date();
    if (!field || e.target.dataset.mends || now - Number(field.dataset.made || 0) < 10000) { return; }
    field.dataset.made = Number(now);
    field.value = now.getFullYear() + '-' + two(now.getMonth() + 1) + '-' + two(now.getDate()) + 'T' + clock(now) + ':' + two(now.getSeconds());
  }, true);
})();
