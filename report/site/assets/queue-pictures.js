// Pictures are made small once they are chosen, one after the other, and take the
// place of the chosen ones in their field. What this browser cannot read and the site
// does not take is said at once, and left out.
(function (q) {
  'use strict';
  const longest = 2048, quality = 0.85;
  let last = Promise.resolve();
  const busy = new Set();

  async function bitmap(file) {
    try {
      return await createImageBitmap(file, { imageOrientation: 'from-image' });
    } catch (error) {
      if (error instanceof TypeError) { return createImageBitmap(file); } // a browser that takes no options
      throw error;
    }
  }
  async function small(file) {
    const whole = await bitmap(file);
    const by = Math.min(1, longest / Math.max(whole.width, whole.height));
    const canvas = document.createElement('canvas');
    canvas.width = Math.max(1, Math.round(whole.width * by));
    canvas.height = Math.max(1, Math.round(whole.height * by));
    const paper = canvas.getContext('2d');
    paper.fillStyle = '#fff';
    paper.fillRect(0, 0, canvas.width, canvas.height);
    paper.drawImage(whole, 0, 0, canvas.width, canvas.height);
    whole.close();
    const blob = await new Promise(function (done) { canvas.toBlob(done, 'image/jpeg', quality); });
    canvas.width = canvas.height = 0; // phones are slow to give a canvas back
    if (!blob) { throw new Error('no picture came of it'); }
    return new File([blob], file.name.replace(/\.[^.]*$/, '') + '.jpg', { type: 'image/jpeg', lastModified: file.lastModified });
  }
  function takes(field, file) {
    return field.accept.split(',').some(function (kind) { return kind.trim() === file.type; });
  }
  async function shrink(field) {
    const chosen = Array.from(field.files), kept = new DataTransfer(), wrong = [];
    for (const file of chosen) {
      let is = file;
      try {
        is = await small(file);
      } catch (error) {
        if (!takes(field, file)) { wrong.push(q.word('pictureKind', { name: file.name })); continue; }
      }
      if (is.size > q.number('mostPicture')) { wrong.push(q.word('pictureLarge', { name: file.name })); continue; }
      kept.items.add(is);
    }
    const now = Array.from(field.files);
    if (now.length !== chosen.length || now.some(function (file, i) { return file !== chosen[i]; })) { return; } // others were chosen meanwhile
    field.files = kept.files;
    q.pictureSays(field, wrong);
  }
  function start(field) {
    q.pictureSays(field, field.files.length ? [q.word('pictureBusy')] : []);
    busy.add(field);
    const mine = last = last.then(function () { return shrink(field); }).catch(function (error) { console.error(error); }).then(function () {
      if (mine === last) { busy.clear(); }
    });
  }

  // pictures waits until those of a form are ready.
  q.picturesReady = function (form) {
    return Array.from(busy).some(function (field) { return field.form === form; }) ? last : Promise.resolve();
  };
  // pictureSays says of a field's pictures what there is to say, below it.
  q.pictureSays = function (field, texts) {
    const beside = field.closest('label') || field;
    let says = beside.nextElementSibling;
    if (!says || !says.matches('[data-pictures-say]')) {
      says = document.createElement('p');
      says.setAttribute('role', 'status');
      says.dataset.picturesSay = '';
      beside.after(says);
    }
    says.classList.toggle('wrong', texts.length > 0 && texts[0] !== q.word('pictureBusy'));
    says.textContent = texts.join(' ');
  };
  document.addEventListener('change', function (e) {
    if (e.target.matches('form[data-entry] input[data-shrink]') && q.ready) { start(e.target); }
  });
  document.addEventListener('reset', function (e) {
    e.target.querySelectorAll('[data-pictures-say]').forEach(function (says) { says.classList.remove('wrong'); says.textContent = ''; });
  });
})(window.pourback);
