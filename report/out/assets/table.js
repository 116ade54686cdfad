
// finder is a box that leaves in sight those of some things that hold its words,
// and says how many they are.
function finder(words, things, then) {
  var find = document.createElement('div'), label = document.createElement('label');
  var box = document.createElement('input'), left = document.createElement('span');
  function narrow() {
    var asked = box.value.toLocaleLowerCase().split(/\s+/);
    var shown = things.filter(function (thing) {
      var text = thing.textContent.toLocaleLowerCase();
      thing.hidden = !asked.every(function (w) { return text.indexOf(w) >= 0; });
      return !thing.hidden;
    }).length;
    left.textContent = box.value ? words.left.replace('#', shown) : '';
    if (then && box.value) { then(); }
  }
  box.type = 'search';
  box.autocomplete = 'off';
  box.addEventListener('input', narrow);
  box.addEventListener('keydown', function (e) {
    if (e.key === 'Escape') { box.value = ''; narrow(); }
  });
  find.className = 'find';
  left.setAttribute('role', 'status');
  label.append(words.find, box);
  find.append(label, left);
  return find;
}

// Cards are searched with those that lie in the details.
Array.prototype.forEach.call(document.querySelectorAll('.first[data-find]'), function (first) {
  var page = first.parentElement, more = page.querySelector('.more');
  var cards = Array.prototype.slice.call(page.querySelectorAll('.card'));
  page.insertBefore(finder(first.dataset, cards, function () { more.open = true; }), first);
});

// A long table can be searched and put in another order. All words come with the
// table; without script it stands as it was written.
Array.prototype.forEach.call(document.querySelectorAll('table[data-find]'), function (table) {
  var body = table.tBodies[0], heads = Array.prototype.slice.call(table.tHead.rows[0].cells);
  var rows = Array.prototype.slice.call(body.rows); // as they were written
  var scroll = table.parentElement;

  // What a cell is ordered by: a number, a date as ISO 8601 has it, or its words;
  // null where nothing is known.
  function key(row, at) {
    var cell = row.cells[at], number = cell.querySelector('data'), date = cell.querySelector('time');
    if (number) { return isFinite(number.value) ? Number(number.value) : null; }
    return date ? date.dateTime : heads[at].classList.contains('n') ? null : cell.textContent;
  }

  function order(at, sign) {
    var keyed = rows.map(function (row, i) { return { row: row, key: key(row, at), was: i }; });
    if (sign) {
      keyed.sort(function (a, b) {
        if (a.key === null || b.key === null) { return (a.key === null) - (b.key === null) || a.was - b.was; }
        var apart = typeof a.key === 'number' && typeof b.key === 'number' ? a.key - b.key : String(a.key).localeCompare(String(b.key), undefined, { numeric: true });
        return sign * apart || a.was - b.was;
      });
    }
    keyed.forEach(function (k) { body.appendChild(k.row); });
  }

  heads.forEach(function (head, at) {
    if (!head.firstChild) { return; } // nothing to say what it would be ordered by
    var button = document.createElement('button');
    button.type = 'button';
    while (head.firstChild) { button.appendChild(head.firstChild); }
    head.appendChild(button);
    button.addEventListener('click', function () { // up, down, and as they were written
      var next = { ascending: 'descending', descending: '' }[head.getAttribute('aria-sort')];
      if (next === undefined) { next = 'ascending'; }
      heads.forEach(function (h) { h.removeAttribute('aria-sort'); });
      if (next) { head.setAttribute('aria-sort', next); }
      order(at, { ascending: 1, descending: -1 }[next] || 0);
    });
  });

  scroll.parentNode.insertBefore(finder(table.dataset, rows), scroll);
  table.classList.add('sorts');
});
