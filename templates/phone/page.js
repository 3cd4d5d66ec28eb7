// Inline script of every phone page. The page is complete without it. It hides what is not for this patient, by the code behind
// `#`, which browsers never send; and puts first the number that answers now. What can wait until the page is on the screen is
// loaded as one deferred file: storage.js, check.js, dates.js and more.js.
// ECMAScript 2017 without libraries; the same text on every page, so the policy of all pages has the same hash.
(function () {
  'use strict';
  const html = document.documentElement;
  const data = html.dataset;
  const byId = (id) => document.getElementById(id);
  const queryAll = (selector, root) => Array.from((root || document).querySelectorAll(selector));
  const split = (text) => (text || '').split(' ').filter(Boolean);

  // ---- the code behind `#`, as written by `fragment` in aftercare/sheet/address.py ----
  const BASE32 = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';
  // {side, codes} of a code; null where its form or check character is wrong, or it names what this page does not know. `codes`
  // are those of the page's conditions: the bit of an option, `w` and the digit of a weight order.
  function decode(code) {
    if (!/^[NHR][0-9][0-9A-HJKMNP-TV-Z]{2,9}$/.test(code)) return null;
    const digits = Array.from(code.slice(0, -1)).map((letter) => BASE32.indexOf(letter));
    // Times x in the field with 32 elements, as in `_times_x` of address.py.
    const timesX = (number) => (number << 1) ^ (number & 16 ? 37 : 0);
    if (BASE32[timesX(digits.reduce((sum, digit) => timesX(sum) ^ digit, 0))] !== code.slice(-1)) return null;
    const codes = [];
    let mask = digits.slice(2).reduce((total, digit) => total * 32 + digit, 0);
    for (let bit = 0; mask > 0; bit++, mask = Math.floor(mask / 2)) if (mask % 2) codes.push('' + bit);
    if (codes.some((bit) => !split(data.options).includes(bit))) return null;
    if (code[1] !== '0') {
      if (!split(data.weights).includes('w' + code[1])) return null;
      codes.push('w' + code[1]);
    }
    return {side: code[0], codes};
  }
  // [code, edition of the paper]; a code typed by hand has no edition.
  const fragment = () => location.hash.slice(1).toUpperCase().split('-');
  // {side, codes} of this patient; null without a code, false where the code is wrong.
  function readPatient() {
    const parts = fragment();
    if (!parts[0]) return null;
    return parts.length < 3 && /^[0-9A-Z]*$/.test(parts[1] || '') && decode(parts[0]) || false;
  }
  function paperEdition() { return readPatient() ? fragment()[1] : ''; }

  // ---- what is for this patient ----
  // Whether the condition of a sign, a passage or a date holds for a patient of whom these codes are true: any of the options
  // in data-o, any of the weight orders in data-w and none of the codes in data-n. Condition.holds (aftercare/sheet/sheet.py)
  // is the same rule.
  function holds(element, codes) {
    const any = (list) => split(list).some((code) => codes.includes(code));
    const {o, w, n} = element.dataset;
    return (!o || any(o)) && (!w || any(w)) && !any(n);
  }
  let everyone = false;
  function showParts() {
    const patient = readPatient(), filtered = !!patient && !everyone, toggle = byId('mine');
    byId('bad-code').hidden = patient !== false;
    // Not the dates, which dates.js shows and hides.
    queryAll('.signs>li,.passage').forEach((part) => { part.hidden = filtered && !holds(part, patient.codes); });
    queryAll('.if').forEach((line) => { line.hidden = filtered; });
    queryAll('.group,.topic').forEach((section) => {
      section.hidden = !section.querySelector('.signs>li:not([hidden]),.passage:not([hidden])');
    });
    html.classList.toggle('left', !!patient && patient.side === 'H');
    html.classList.toggle('mine', filtered);
    toggle.hidden = !patient;
    toggle.textContent = toggle.dataset[everyone ? 'mine' : 'all'];
    // Links to other languages carry the code, unless it is wrong, but not the edition: each language has its own.
    queryAll('a[hreflang]').forEach((link) => { link.hash = patient ? fragment()[0] : ''; });
  }
  byId('mine').onclick = function () {
    everyone = !everyone;
    showParts();
  };

  // ---- whom to call: the clinic while it is open, by its own clock ----
  // The clinic's wall clock at an instant: the timestamp in milliseconds at which a UTC clock shows the same day and minute.
  // Throws a RangeError on a phone that does not know the clinic's time zone.
  function clinicTime(instant) {
    const part = {};
    new Intl.DateTimeFormat('en-US', {timeZone: data.zone, year: 'numeric', month: '2-digit', day: '2-digit', hour: '2-digit',
      minute: '2-digit', hour12: false}).formatToParts(instant).forEach(({type, value}) => { part[type] = +value; });
    // Browsers before ECMA-402 of 2024 write midnight as hour 24.
    return Date.UTC(part.year, part.month - 1, part.day, part.hour % 24, part.minute);
  }
  function isOpen(instant) {
    const clock = new Date(clinicTime(instant));
    const day = (clock.getUTCDay() + 6) % 7, time = clock.toISOString().slice(11, 16);
    return split(data.hours).some((hours) => {
      const [first, last, opens, closes] = hours.split(',');
      return first <= day && day <= last && opens <= time && time < closes;
    });
  }
  // Moves the number that answers now to the top. The other stays visible: on a holiday this script takes the clinic for open.
  function sortCalls() {
    let first = '';
    try { first = isOpen(Date.now()) ? 'day' : 'night'; } catch (error) { /* unknown time zone: the paper's order stays */ }
    if (!first || html.classList.contains(first)) return;
    html.classList.toggle('day', first === 'day');
    html.classList.toggle('night', first === 'night');
    const link = document.querySelector('#page [data-call=' + first + ']');
    link.closest('ul').insertBefore(link.parentNode, link.closest('ul').firstChild);
  }

  window.addEventListener('hashchange', showParts);
  showParts();
  sortCalls();
  // What the deferred scripts use. `earlyTap` is the timer of a tap on the check's button before check.js was loaded.
  window.sheet = {html, data, byId, queryAll, readPatient, paperEdition, holds, clinicTime, showParts, sortCalls, earlyTap: 0};
  // The check's button is there before check.js, so that the page does not move when that is loaded; an earlier tap opens the
  // check once it is. Where check.js fails to load, or is not loaded 5 s after the tap, the button is removed: the signs are on
  // the page anyway, and a check that opened later would replace the page while it is read.
  const checkButton = byId('walk-start');
  function removeCheck() {
    window.sheet.earlyTap = 0;
    checkButton.hidden = true;
  }
  checkButton.hidden = false;
  checkButton.onclick = function () {
    checkButton.setAttribute('aria-busy', 'true');
    window.sheet.earlyTap = setTimeout(removeCheck, 5000);
  };
  document.addEventListener('error', (event) => { if (event.target.localName === 'script') removeCheck(); }, true);
})();
