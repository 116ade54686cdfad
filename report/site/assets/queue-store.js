// What is entered at the forms waits here, in the browser's own database, until the
// site has said that it is on record. An entry is light; its pictures stand apart.
window.pourback = window.pourback || {};
(function (q) {
  'use strict';
  let opened = null;

  // Opening may hang in some browsers: then there is no database.
  function open() {
    return new Promise(function (done, fail) {
      const asked = indexedDB.open('pourback-queue', 1);
      const patience = setTimeout(function () { fail(new Error('the browser does not open its database')); }, 15000);
      asked.onupgradeneeded = function () {
        asked.result.createObjectStore('entries', { keyPath: 'no', autoIncrement: true }).createIndex('id', 'id', { unique: true });
        asked.result.createObjectStore('pictures');
        asked.result.createObjectStore('notes', { keyPath: 'id' });
      };
      asked.onsuccess = function () {
        clearTimeout(patience);
        asked.result.onclose = function () { opened = null; };
        asked.result.onversionchange = function () { asked.result.close(); opened = null; };
        done(asked.result);
      };
      asked.onerror = function () { clearTimeout(patience); fail(asked.error); };
    });
  }
  function database() {
    if (!opened) {
      opened = open();
      opened.catch(function () { opened = null; });
    }
    return opened;
  }

  // The database is made by the first entry, not by a page that is only looked at: where
  // one goes away while it makes the database, Chromium opens it no more until it is
  // started anew.
  async function stands() {
    if (opened || !indexedDB.databases) { return true; }
    try {
      return (await indexedDB.databases()).some(function (d) { return d.name === 'pourback-queue'; });
    } catch (error) {
      return true;
    }
  }

  // work does something within one transaction, which is done when it is on the disk.
  // What it gives to its second argument is the result; there is none where there is no
  // database yet.
  async function work(stores, mode, what, makes) {
    if (!makes && !await stands()) { return undefined; }
    const db = await database();
    return new Promise(function (done, fail) {
      const tx = db.transaction(stores, mode, { durability: 'strict' });
      let result;
      tx.oncomplete = function () { done(result); };
      tx.onabort = function () { fail(tx.error || new Error('the browser kept nothing')); };
      try {
        what(tx, function (value) { result = value; });
      } catch (error) {
        fail(error);
        tx.abort();
      }
    });
  }
  const both = ['entries', 'pictures'];
  function removed(tx, no) {
    tx.objectStore('entries').delete(no);
    tx.objectStore('pictures').delete(no);
  }

  q.store = {
    // add keeps an entry, in the place of another that it mends, or not.
    add: function (entry, pictures, mends) {
      return work(both, 'readwrite', function (tx) {
        tx.objectStore('entries').add(entry).onsuccess = function (e) {
          if (pictures.length) { tx.objectStore('pictures').add(pictures, e.target.result); }
          if (mends) { removed(tx, mends); }
        };
      }, true);
    },
    all: async function () {
      return await work(['entries'], 'readonly', function (tx, is) {
        tx.objectStore('entries').getAll().onsuccess = function (e) { is(e.target.result); };
      }) || [];
    },
    get: function (no) {
      return work(['entries'], 'readonly', function (tx, is) {
        tx.objectStore('entries').get(no).onsuccess = function (e) { is(e.target.result); };
      });
    },
    pictures: function (no) {
      return work(['pictures'], 'readonly', function (tx, is) {
        tx.objectStore('pictures').get(no).onsuccess = function (e) { is(e.target.result || []); };
      });
    },
    // change changes an entry that is still there; another tab may have removed it.
    change: function (no, how) {
      return work(['entries'], 'readwrite', function (tx) {
        tx.objectStore('entries').get(no).onsuccess = function (e) {
          const entry = e.target.result;
          if (entry) { how(entry); tx.objectStore('entries').put(entry); }
        };
      });
    },
    // remove removes an entry, and keeps a note of what came of it, if there is one.
    remove: function (no, note) {
      return work(both.concat('notes'), 'readwrite', function (tx) {
        removed(tx, no);
        if (note) { tx.objectStore('notes').put(note); }
        tx.objectStore('notes').put({ id: 'gone', at: Date.now() });
      });
    },
    // gone is when an entry left last, undefined before any has.
    gone: function () {
      return work(['notes'], 'readonly', function (tx, is) {
        tx.objectStore('notes').get('gone').onsuccess = function (e) { is(e.target.result && e.target.result.at); };
      });
    },
    notes: async function () {
      return await work(['notes'], 'readonly', function (tx, is) {
        tx.objectStore('notes').getAll().onsuccess = function (e) {
          is(e.target.result.filter(function (note) { return note.says !== undefined; })); // those for people
        };
      }) || [];
    },
    dismiss: function (id) {
      return work(['notes'], 'readwrite', function (tx) { tx.objectStore('notes').delete(id); });
    },
    // lease says whether a tab may send: one at a time, for so long. A clock that was
    // set back must not leave the others waiting.
    lease: function (who, ms) {
      return work(['notes'], 'readwrite', function (tx, is) {
        const notes = tx.objectStore('notes');
        notes.get('sender').onsuccess = function (e) {
          const held = e.target.result, now = Date.now();
          const free = !held || held.who === who || held.until <= now || held.until > now + 60000;
          if (free) { notes.put({ id: 'sender', who: who, until: now + ms }); }
          is(free);
        };
      });
    },
  };

  // A key that nobody can guess: on plain http there is no randomUUID.
  q.newKey = function () {
    const letters = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ234567';
    return Array.from(crypto.getRandomValues(new Uint8Array(26)), function (b) { return letters[b & 31]; }).join('');
  };
})(window.pourback);
