// A file may be dropped onto its field, is read at once, and is not sent where it
// is too large. A form is sent once, and says that it is under way.
Array.prototype.forEach.call(document.querySelectorAll('form[data-drop]'), function (form) {
  var field = form.querySelector('input[type=file]'), told = form.querySelector('[role=status]');
  function send() {
    var large = field.files.length === 1 && field.files[0].size > Number(form.dataset.most);
    told.textContent = large ? form.dataset.large : '';
    if (!large && field.files.length) { form.requestSubmit(); }
  }
  ['dragenter', 'dragover'].forEach(function (name) {
    form.addEventListener(name, function (e) { e.preventDefault(); form.classList.add('over'); });
  });
  ['dragleave', 'drop'].forEach(function (name) {
    form.addEventListener(name, function () { form.classList.remove('over'); });
  });
  form.addEventListener('drop', function (e) {
    e.preventDefault();
    if (e.dataTransfer.files.length) { field.files = e.dataTransfer.files; send(); }
  });
  field.addEventListener('change', send);
  form.addEventListener('submit', function (e) {
    if (form.dataset.sent) { e.preventDefault(); return; }
    form.dataset.sent = '1';
    told.textContent = form.dataset.busy;
  });
});
window.addEventListener('pageshow', function () { // who goes back may send again
  Array.prototype.forEach.call(document.querySelectorAll('form[data-sent]'), function (form) { delete form.dataset.sent; });
});
