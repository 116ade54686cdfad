// A page of figures moves on by itself when records have come in: at once where nobody
// is busy with it, by a link where somebody is. The page's own answer tells whether it
// is another by now, so that asking costs next to nothing.
(function () {
  'use strict';
  var says = document.querySelector('[data-fresh]');
  if (!says || !window.fetch) { return; }
  var every = 1000 * says.dataset.fresh, here = '', busy = 0;
  ['pointerdown', 'keydown', 'wheel', 'touchstart', 'input'].forEach(function (kind) {
    addEventListener(kind, function () { busy = Date.now(); }, { passive: true, capture: true });
  });
  function atRest() {
    return Date.now() - busy > 20000 && !document.querySelector('main details[open], main :focus') && !String(getSelection());
  }
  function look() {
    if (document.hidden) { return; }
    fetch(location.href, { cache: here ? 'no-cache' : 'force-cache', credentials: 'same-origin' }).then(function (answer) {
      var is = answer.ok && !answer.redirected && answer.headers.get('ETag');
      if (!is) { return; }
      if (!here) { here = is; }
      if (here === is) { return; }
      if (atRest()) { location.reload(); } else { says.hidden = false; }
    }).catch(function () {}); // the next time does as well
  }
  look();
  setInterval(look, every);
  document.addEventListener('visibilitychange', look);
})();
