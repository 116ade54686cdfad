// A link that is to be sent on is chosen whole by one touch.
Array.prototype.forEach.call(document.querySelectorAll('input[data-select]'), function (box) {
  box.addEventListener('focus', function () { box.select(); });
});
