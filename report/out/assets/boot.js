// On a phone the list of pages is folded away, so that the answer comes first.
var pages = document.querySelector('nav details'), narrow = window.matchMedia('(max-width: 34rem)');
function fold() { pages.open = !narrow.matches; }
fold();
narrow.addEventListener('change', fold);
