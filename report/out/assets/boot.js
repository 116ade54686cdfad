// Details are closed on a screen and open on paper.
var closed = [];
window.addEventListener('beforeprint', function () {
  closed = Array.prototype.filter.call(document.querySelectorAll('details.more'), function (d) { return !d.open; });
  closed.forEach(function (d) { d.open = true; });
});
window.addEventListener('afterprint', function () {
  closed.forEach(function (d) { d.open = false; });
});

// A link to something that lies in closed details opens them.
function reveal() {
  var at = document.getElementById(decodeURIComponent(location.hash.slice(1)));
  for (; at; at = at.parentElement) {
    if (at.tagName === 'DETAILS') { at.open = true; }
  }
}
window.addEventListener('hashchange', reveal);
reveal();
