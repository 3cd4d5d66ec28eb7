// The page is whole without this script. What it adds: only this patient's parts, by the code behind `#`, which never leaves
// the phone; and the number that answers now. What can wait for the next answer of the network comes in a file beside the page,
// made of storage.js, check.js, dates.js and more.js.
// ES2017, no library; one text for all pages, so one hash in the policy.
(function () {
  'use strict';
  const html = document.documentElement;
  const data = html.dataset;
  const by = (id) => document.getElementById(id);
  const all = (selector, root) => Array.from((root || document).querySelectorAll(selector));
  const words = (text) => (text || '').split(' ').filter(Boolean);

  // ---- the code behind `#` ----
  // Alphabet and check character are those of the printed address: Crockford base 32, a sum in the field with 32 elements.
  const ALPHABET = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';
  function decode(code) {
    if (!/^[NHR][0-9][0-9A-HJKMNP-TV-Z]{2,9}$/.test(code)) return null;
    const body = Array.from(code.slice(0, -1)).map((letter) => ALPHABET.indexOf(letter));
    const times = (number) => (number << 1) ^ (number & 16 ? 37 : 0);
    if (ALPHABET[times(body.reduce((sum, value) => times(sum) ^ value, 0))] !== code.slice(-1)) return null;
    const found = [];
    let mask = body.slice(2).reduce((total, value) => total * 32 + value, 0);
    for (let bit = 0; mask > 0; bit++, mask = Math.floor(mask / 2)) if (mask % 2) found.push('' + bit);
    if (found.some((bit) => !words(data.options).includes(bit))) return null;
    if (code[1] !== '0') {
      if (!words(data.weights).includes('w' + code[1])) return null;
      found.push('w' + code[1]);
    }
    return {side: code[0], marks: found};
  }
  // The code and, after a hyphen, the edition of the paper it stands on.
  const written = () => location.hash.slice(1).toUpperCase().split('-');
  // null: no code; false: one that no sheet has.
  function choice() {
    const parts = written();
    if (!parts[0]) return null;
    return parts.length < 3 && /^[0-9A-Z]*$/.test(parts[1] || '') && decode(parts[0]) || false;
  }
  function printed() { return choice() ? written()[1] : ''; }

  // ---- this patient's parts ----
  // Whether the condition of a sign, a passage or a date holds for a patient of whom these codes are true: any of the options
  // in data-o, any of the weight orders in data-w and none of the codes in data-n. Condition.holds (aftercare/sheet/sheet.py)
  // is the same rule.
  function holds(element, marks) {
    const any = (list) => words(list).some((mark) => marks.includes(mark));
    const {o, w, n} = element.dataset;
    return (!o || any(o)) && (!w || any(w)) && !any(n);
  }
  let everything = false;
  function show() {
    const mine = choice(), chosen = !!mine && !everything;
    by('bad-code').hidden = mine !== false;
    // Not the dates, which dates.js shows and hides.
    all('.signs>li,.passage').forEach((part) => { part.hidden = chosen && !holds(part, mine.marks); });
    all('.if').forEach((line) => { line.hidden = chosen; });
    all('.group,.topic').forEach((whole) => {
      whole.hidden = !whole.querySelector('.signs>li:not([hidden]),.passage:not([hidden])');
    });
    html.classList.toggle('left', !!mine && mine.side === 'H');
    html.classList.toggle('mine', chosen);
    by('mine').hidden = !mine;
    by('mine').textContent = by('mine').dataset[everything ? 'mine' : 'all'];
    // The other languages get the code as well, but not the edition, which is this language's; nor what we could not read.
    all('a[hreflang]').forEach((link) => { link.hash = mine ? written()[0] : ''; });
  }
  by('mine').onclick = function () {
    everything = !everything;
    show();
  };

  // ---- whom to call: the clinic while it is open, by its own clock ----
  // The clinic's wall clock at an instant: the timestamp, in milliseconds, at which a clock in UTC shows the same day and minute.
  // Throws a RangeError on a phone that does not know the clinic's time zone.
  function clinicTime(instant) {
    const part = {};
    new Intl.DateTimeFormat('en-US', {timeZone: data.zone, year: 'numeric', month: '2-digit', day: '2-digit', hour: '2-digit',
      minute: '2-digit', hour12: false}).formatToParts(instant).forEach(({type, value}) => { part[type] = +value; });
    // Browsers before ECMA-402 of 2024 write midnight as hour 24.
    return Date.UTC(part.year, part.month - 1, part.day, part.hour % 24, part.minute);
  }
  function open(instant) {
    const clock = new Date(clinicTime(instant));
    const day = (clock.getUTCDay() + 6) % 7, time = clock.toISOString().slice(11, 16);
    return words(data.hours).some((hours) => {
      const [first, last, opens, closes] = hours.split(',');
      return first <= day && day <= last && opens <= time && time < closes;
    });
  }
  // A holiday looks like any weekday from here, so the other number stays in sight.
  function order() {
    let first = '';
    try { first = open(Date.now()) ? 'day' : 'night'; } catch (error) { /* then both numbers stand there, as on paper */ }
    if (!first || html.classList.contains(first)) return;
    html.classList.toggle('day', first === 'day');
    html.classList.toggle('night', first === 'night');
    const link = document.querySelector('#page [data-call=' + first + ']');
    link.closest('ul').insertBefore(link.parentNode, link.closest('ul').firstChild);
  }

  window.addEventListener('hashchange', show);
  show();
  order();
  window.sheet = {html, data, by, all, words, choice, clinicTime, holds, printed, show, order, asked: false};
  // The check comes with the file beside the page. Its button is there from the start, so that nothing jumps under a finger;
  // a tap before the check has come is kept for it. Where it cannot come, or is still not there some seconds after the tap, the
  // button goes: the signs stand below, and a check that opened later would take the page from under a reader.
  const start = by('walk-start');
  function none() {
    window.sheet.asked = false;
    start.hidden = true;
  }
  start.hidden = false;
  start.onclick = function () {
    start.setAttribute('aria-busy', 'true');
    window.sheet.asked = setTimeout(none, 5000);
  };
  document.addEventListener('error', (event) => { if (event.target.localName === 'script') none(); }, true);
})();
