// The form for a visit: a tap on the drawing of the slab sets a mark that can be moved,
// and the width of a crack is read off lines as wide as they say. What the form asks
// only of a crack is not sent of anything else. Who else fills a form in sends it the
// event input, or reset.
(function () {
  'use strict';
  function each(list, f) { Array.prototype.forEach.call(list, f); }

  function spot(plan) {
    var layer = plan.querySelector('.ninths'), marker = plan.querySelector('.marker'), at = plan.querySelector('[name=spot_at]');
    var says = document.getElementById(marker.getAttribute('aria-describedby'));
    var parts = layer.querySelectorAll('input'), all = plan.closest('form').querySelectorAll('[name=spot]'), here = null;
    function within(v) { return Math.max(0, Math.min(1, v)); }
    function placeOf(part) { var xy = part.value.split(' '); return { x: Number(xy[0]), y: Number(xy[1]) }; }
    function said(share, whole) { return String(Math.round(share * Number(whole))); }
    // show puts the mark at a place, or takes it away.
    function show(place) {
      here = place;
      marker.hidden = !place;
      says.textContent = '';
      if (!place) { return; }
      marker.style.left = 100 * place.x + '%';
      marker.style.top = 100 * place.y + '%';
      says.textContent = says.dataset.says.replace('{x}', said(place.x, plan.dataset.wide)).replace('{y}', said(place.y, plan.dataset.high));
    }
    // set is a place chosen at will: the part that is nearest to it is chosen with it.
    function set(x, y) {
      var nearest = null, least = Infinity;
      x = within(x); y = within(y);
      each(parts, function (part) {
        var p = placeOf(part), away = Math.pow(p.x - x, 2) + Math.pow(p.y - y, 2);
        if (away < least) { least = away; nearest = part; }
      });
      if (nearest) { nearest.checked = true; }
      at.value = x.toFixed(3) + ' ' + y.toFixed(3);
      show({ x: x, y: y });
    }
    function byEvent(e) {
      var r = layer.getBoundingClientRect();
      set((e.clientX - r.left) / r.width, (e.clientY - r.top) / r.height);
    }
    layer.addEventListener('click', function (e) {
      if (e.target.tagName !== 'INPUT') { byEvent(e); }
    });
    each(all, function (part) {
      part.addEventListener('change', function () {
        at.value = '';
        show(part.value ? placeOf(part) : null);
      });
    });
    var drag = null;
    marker.addEventListener('pointerdown', function (e) {
      var r = layer.getBoundingClientRect();
      drag = { x: e.clientX - r.left - here.x * r.width, y: e.clientY - r.top - here.y * r.height, fromX: e.clientX, fromY: e.clientY, moved: false };
      marker.setPointerCapture(e.pointerId);
    });
    marker.addEventListener('pointermove', function (e) {
      if (!drag) { return; }
      drag.moved = drag.moved || Math.abs(e.clientX - drag.fromX) + Math.abs(e.clientY - drag.fromY) > 4;
      if (drag.moved) { byEvent({ clientX: e.clientX - drag.x, clientY: e.clientY - drag.y }); }
    });
    marker.addEventListener('pointerup', function (e) {
      if (drag && !drag.moved) { byEvent(e); }
      drag = null;
    });
    marker.addEventListener('pointercancel', function () { drag = null; });
    marker.addEventListener('keydown', function (e) {
      var by = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[e.key], step = e.shiftKey ? 0.1 : 0.01;
      if (!by || !here) { return; }
      e.preventDefault();
      set(here.x + by[0] * step, here.y + by[1] * step);
    });
    // follow shows what the fields say: at first, and where somebody else has filled them in.
    function follow() {
      var xy = at.value.split(' '), chosen = null;
      each(all, function (part) { if (part.checked && part.value) { chosen = placeOf(part); } });
      if (xy.length === 2) { set(Number(xy[0]), Number(xy[1])); } else { show(chosen); }
    }
    plan.classList.add('at-will');
    follow();
    plan.closest('form').addEventListener('input', function (e) { if (e.target === e.currentTarget) { follow(); } });
    plan.closest('form').addEventListener('reset', function () {
      at.value = ''; // a hidden field does not go back by itself
      setTimeout(follow);
    });
  }

  // A bank card is ISO/IEC 7810's ID-1, 85.60 by 53.98 mm with corners of 3.18 mm; a US
  // quarter is 24.26 mm across (from memory).
  var things = { card: { wide: 53.98, high: 85.60, round: 3.18 }, coin: { wide: 24.26, high: 24.26, round: 12.13 } };

  // gauge knows how large this screen is: dots of it for a millimeter, which stay the
  // same however the page is enlarged.
  function gauge(box) {
    var fit = box.querySelector('[data-fit]'), lines = box.querySelector('[data-lines]'), range = box.querySelector('input');
    var outline = fit.querySelector('svg'), width = document.querySelector('[name=width]'), thing = things.card, key = 'pourback-dots-per-mm';
    function dots() { // of the screen in one of the page's pixels
      return (window.devicePixelRatio || 1) * (window.visualViewport ? window.visualViewport.scale : 1);
    }
    var perMm = 0;
    try { perMm = Number(localStorage.getItem(key)) || 0; } catch (e) { /* it is fitted anew each time */ }
    function draw() {
      var px = Number(range.value), shape = outline.querySelector('rect');
      outline.setAttribute('width', thing.wide * px);
      outline.setAttribute('height', thing.high * px);
      shape.setAttribute('width', thing.wide * px);
      shape.setAttribute('height', thing.high * px);
      shape.setAttribute('rx', thing.round * px);
    }
    function rule() {
      if (lines.hidden) { return; }
      each(lines.querySelectorAll('li button'), function (b) {
        var px = Number(b.dataset.mm) * perMm / dots(), svg = b.querySelector('svg'), line = svg.querySelector('rect');
        line.setAttribute('width', '100%');
        line.setAttribute('height', px);
        line.setAttribute('y', Math.max(0, (svg.getBoundingClientRect().height || 36) / 2 - px / 2));
        b.querySelector('small').hidden = px * dots() >= 1;
      });
    }
    // show shows the lines, or what is to be done before.
    function show(fitted) {
      fit.hidden = fitted;
      lines.hidden = !fitted;
      rule();
      draw();
    }
    function use(name) {
      thing = things[name];
      each(fit.querySelectorAll('[data-thing]'), function (b) { b.setAttribute('aria-pressed', String(b.dataset.thing === name)); });
      draw();
    }
    each(fit.querySelectorAll('[data-thing]'), function (b) {
      b.addEventListener('click', function () { use(b.dataset.thing); });
    });
    each(fit.querySelectorAll('[data-by]'), function (b) {
      b.addEventListener('click', function () { range.value = Number(range.value) + Number(b.dataset.by); draw(); });
    });
    range.addEventListener('input', draw);
    fit.querySelector('[data-fits]').addEventListener('click', function () {
      perMm = Number(range.value) * dots();
      try { localStorage.setItem(key, perMm); } catch (e) { /* as above */ }
      show(true);
      lines.querySelector('button').focus();
    });
    lines.querySelector('[data-again]').addEventListener('click', function () {
      range.value = perMm / dots();
      show(false);
      range.focus();
    });
    each(lines.querySelectorAll('li button'), function (b) {
      b.addEventListener('click', function () {
        width.value = b.value;
        width.dispatchEvent(new Event('input', { bubbles: true }));
        each(lines.querySelectorAll('li button'), function (o) { o.setAttribute('aria-pressed', String(o === b)); });
      });
    });
    box.addEventListener('toggle', rule); // what is folded up has no height
    window.addEventListener('resize', rule);
    if (window.visualViewport) { window.visualViewport.addEventListener('resize', rule); }
    range.value = matchMedia('(pointer: coarse)').matches ? 5.6 : 3.78;
    show(perMm > 0);
    box.hidden = false;
  }

  function ofCrack(form) {
    var part = form.querySelector('.of-crack');
    if (!part) { return; }
    function follow() {
      var crack = form.querySelector('[name=finding][value=crack]');
      part.disabled = !(crack && crack.checked);
      part.hidden = part.disabled;
    }
    ['change', 'input'].forEach(function (name) { form.addEventListener(name, follow); });
    form.addEventListener('reset', function () { setTimeout(follow); });
    follow();
  }

  each(document.querySelectorAll('[data-spot]'), spot);
  each(document.querySelectorAll('[data-gauge]'), gauge);
  each(document.querySelectorAll('form'), ofCrack);
})();
