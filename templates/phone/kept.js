// What stays on this phone, and only here. A private window may refuse even to be asked; then it stays while the page is open.
(function () {
  'use strict';
  const meanwhile = {};
  window.sheet.kept = {
    get(key) { try { return localStorage.getItem('aftercare ' + key); } catch (error) { return meanwhile[key] || null; } },
    set(key, value) { try { localStorage.setItem('aftercare ' + key, value); } catch (error) { meanwhile[key] = value; } },
    drop(key) { try { localStorage.removeItem('aftercare ' + key); } catch (error) { delete meanwhile[key]; } },
  };
})();
