// Folders of sheets have capital names, and whoever types an address types small letters: try the capitals, once.
(function () {
  'use strict';
  const root = document.documentElement.dataset.root;
  const typed = location.pathname.slice(root.length), meant = typed.toUpperCase();
  if (location.pathname.startsWith(root) && meant !== typed && /^[A-Z-]+\/[0-9A-Z]+\/?$/.test(meant)) {
    location.replace(root + meant + location.hash);
  }
})();
