// Values stored on this phone only. Where the browser refuses localStorage, as some private windows do, they last while the
// page is open.
(function () {
  'use strict';
  // Published pages have stored values under these names: a changed prefix or key loses the dates that patients entered.
  const PREFIX = 'aftercare ';
  const memory = {};
  window.sheet.storage = {
    // null where nothing is stored.
    get(key) { try { return localStorage.getItem(PREFIX + key); } catch (error) { return memory[key] || null; } },
    set(key, value) { try { localStorage.setItem(PREFIX + key, value); } catch (error) { memory[key] = value; } },
    remove(key) { try { localStorage.removeItem(PREFIX + key); } catch (error) { delete memory[key]; } },
  };
})();
