// Page for addresses that do not exist: the folders of sheets have capital names, so an address typed in small letters is tried
// once in capitals.
(function () {
  'use strict';
  const root = document.documentElement.dataset.root;
  const path = location.pathname.slice(root.length), capitals = path.toUpperCase();
  if (location.pathname.startsWith(root) && capitals !== path && /^[A-Z-]+\/[0-9A-Z]+\/?$/.test(capitals)) {
    location.replace(root + capitals + location.hash);
  }
})();
