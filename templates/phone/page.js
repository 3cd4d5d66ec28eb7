// Behind `#` stands what is true of this patient; it never leaves the phone. With it, only this patient's parts are shown.
// ES2017, no library. The same text on every page, so that one hash in the policy fits all.
(function () {
  'use strict';
  var html = document.documentElement;
  function each(selector, act) { Array.prototype.forEach.call(document.querySelectorAll(selector), act); }
  function by(id) { return document.getElementById(id); }
  function words(text) { return (text || '').split(' ').filter(Boolean); }

  // The alphabet and the check character are those of the printed address: Crockford base 32, weighted sum modulo 31.
  var ALPHABET = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';
  function decode(written) {
    if (!/^[NHR][0-9][0-9A-HJKMNP-TV-Z]{1,8}$/.test(written)) return null;
    var sum = 0, last = written.length - 1, mask = 0, choice = {side: written[0], edition: '', bits: []};
    for (var place = 0; place < last; place++) sum += (place + 1) * ALPHABET.indexOf(written[place]);
    if (ALPHABET[sum % 31] !== written[last]) return null;
    for (place = 2; place < last; place++) mask = mask * 32 + ALPHABET.indexOf(written[place]);
    var known = words(html.dataset.options);
    for (var bit = 0; mask > 0; bit++, mask = Math.floor(mask / 2)) {
      if (mask % 2 === 0) continue;
      if (known.indexOf('' + bit) < 0) return null;
      choice.bits.push('' + bit);
    }
    if (written[1] !== '0') {
      if (words(html.dataset.weights).indexOf('w' + written[1]) < 0) return null;
      choice.bits.push('w' + written[1]);
    }
    return choice;
  }
  function read() {
    var parts = location.hash.slice(1).toUpperCase().split('-');
    if (!parts[0]) return null;
    var choice = parts.length < 3 && decode(parts[0]);
    if (choice && parts[1] !== undefined) {
      if (!/^[0-9A-Z]{4,12}$/.test(parts[1])) return false;
      choice.edition = parts[1];
    }
    return choice || false;
  }

  // The rule of sheet.Condition: any of the options, any of the weight orders, none of those it stands without.
  function holds(element, bits) {
    function any(list) { return words(list).some(function (bit) { return bits.indexOf(bit) >= 0; }); }
    var data = element.dataset;
    return (!data.o || any(data.o)) && (!data.w || any(data.w)) && !(data.n && any(data.n));
  }
  function show() {
    var choice = read();
    by('bad-code').hidden = choice !== false;
    each('[data-o],[data-w],[data-n]', function (element) { element.hidden = !!choice && !holds(element, choice.bits); });
    each('.if', function (line) { line.hidden = !!choice; });
    each('.group,.topic', function (whole) { whole.hidden = !whole.querySelector('.signs>li:not([hidden]),.passage:not([hidden])'); });
    each('[data-side]', function (line) { line.hidden = !choice || choice.side !== line.dataset.side; });
    html.classList.toggle('left', !!choice && choice.side === 'H');
    html.classList.toggle('mine', !!choice);
    // The address printed on paper goes on to the other languages; a code we could not read does not.
    each('a[hreflang]', function (link) { link.hash = choice ? location.hash : ''; });
  }
  window.addEventListener('hashchange', show);
  show();
})();
