// What can wait until the page is on the screen: the check of the signs, the patient's own dates, the calendar file, larger
// text, printing, reading aloud, and opening again without a network. Fetched right after the page, which is whole without it.
// ES2017, no library.
(function () {
  'use strict';
  const html = document.documentElement;
  const data = html.dataset;
  const by = (id) => document.getElementById(id);
  const all = (selector, root) => Array.from((root || document).querySelectorAll(selector));
  const words = (text) => (text || '').split(' ').filter(Boolean);
  const seen = (element) => !element.closest('#page [hidden]');

  // ---- check it now: the signs in sight, the worst first, one a screen ----
  const walk = by('walk');
  let signs = [], at = 0;
  function fill(target, nodes) {
    target.textContent = '';
    nodes.forEach((node) => {
      const copy = node.cloneNode(true);
      copy.removeAttribute('id');
      all('[id]', copy).forEach((inner) => inner.removeAttribute('id'));
      target.appendChild(copy);
    });
  }
  function screen(shown) {
    all('#walk-ask,.end').forEach((part) => { part.hidden = part !== shown; });
    html.classList.toggle('ended', shown !== by('walk-ask'));
    shown.querySelector('h1').focus();
    window.scrollTo(0, 0);
  }
  function ask() {
    const question = by('walk-sign'), sign = signs[at];
    while (question.children.length > 1) question.removeChild(question.lastChild);
    fill(question.appendChild(document.createElement('div')), all('svg,.if:not([hidden]),.sign,.why', sign));
    by('walk-count').textContent = (at + 1) + ' / ' + signs.length;
    screen(by('walk-ask'));
  }
  const CALLS = {'call-emergency': ['sos'], 'go-now': ['sos', 'day', 'night'], 'same-day': ['day', 'night'], none: ['day', 'night']};
  function end(tier) {
    const shown = walk.querySelector('.end[data-tier=' + tier + ']');
    fill(shown.querySelector('.calls'), all('#page .calls li').filter((item) => {
      return CALLS[tier].includes(item.firstElementChild.dataset.call);
    }));
    // What not to do meanwhile is what this device's own sheet says of taking it off.
    const dont = shown.querySelector('.dont');
    if (dont) fill(dont, all('#page .t-removal .passage').filter(seen));
    by('walk-count').textContent = '';
    window.sheet.order();
    screen(shown);
  }
  function leave() {
    walk.hidden = true;
    by('page').hidden = false;
    html.classList.remove('walking', 'ended');
    window.sheet.show();
    by('walk-start').focus();
  }
  function begin() {
    signs = all('#page .signs[data-tier]:not([data-tier=office-hours])>li').filter(seen);
    at = 0;
    by('page').hidden = true;
    walk.hidden = false;
    html.classList.add('walking');
    // So that the phone's own way back leads out of the check, not off the page.
    history.pushState({walk: true}, '');
    ask();
  }
  by('walk-start').onclick = begin;
  by('walk-no').onclick = function () {
    at++;
    if (at < signs.length) ask(); else end('none');
  };
  by('walk-yes').onclick = function () { end(signs[at].parentNode.dataset.tier); };
  by('walk-again').onclick = function () { at = 0; ask(); };
  by('walk-back').onclick = function () {
    if (!by('walk-ask').hidden && at > 0) { at--; ask(); }
    else if (by('walk-ask').hidden) { at = Math.min(at, signs.length - 1); ask(); }
    else history.back();
  };
  window.addEventListener('popstate', function () { if (!walk.hidden) leave(); });

  // ---- what stays on this phone, and only here ----
  const kept = {
    get(key) { try { return localStorage.getItem('aftercare ' + key); } catch (error) { return null; } },
    set(key, value) { try { localStorage.setItem('aftercare ' + key, value); } catch (error) { /* a private window keeps nothing */ } },
    drop(key) { try { localStorage.removeItem('aftercare ' + key); } catch (error) { /* nor has it anything to drop */ } },
  };

  // ---- my times ----
  const MINUTE = 60000;
  // The clinic's wall clock at an instant, as if it were UTC.
  function wall(instant) {
    const part = {};
    new Intl.DateTimeFormat('en-US', {timeZone: data.zone, year: 'numeric', month: '2-digit', day: '2-digit', hour: '2-digit',
      minute: '2-digit', hour12: false}).formatToParts(instant).forEach((found) => { part[found.type] = +found.value; });
    return Date.UTC(part.year, part.month - 1, part.day, part.hour % 24, part.minute);
  }
  // The instant of a day and time typed as the clinic's clock shows it. Never rolled over: what does not come back as it was
  // typed (the 99th month, an hour the clocks skip in spring) is refused with NaN.
  function instant(typed) {
    const match = /^(\d{4})-(\d\d)-(\d\d)[T ](\d\d):(\d\d)(:00)?$/.exec(typed.trim());
    if (!match) return NaN;
    const text = match.slice(1, 4).join('-') + 'T' + match[4] + ':' + match[5];
    const asked = Date.parse(text + 'Z');
    if (!(asked >= 0) || new Date(asked).toISOString().slice(0, 16) !== text) return NaN;
    let guess = asked - (wall(asked) - asked);
    guess = asked - (wall(guess) - guess);
    return wall(guess) === asked ? guess : NaN;
  }
  // In the words and the order of the paper, which come with the page: phones do not know every language of ours.
  const names = by('times').dataset;
  function say(moment, pattern) {
    const at = new Date(wall(moment)), hour = at.getUTCHours();
    const halves = names.halves.split('|');
    const two = (number) => ('0' + number).slice(-2);
    const part = {
      weekday: names.weekdays.split('|')[at.getUTCDay()], month: names.months.split('|')[at.getUTCMonth()], day: at.getUTCDate(),
      hour, '0hour': two(hour), hour12: hour % 12 || 12, '0hour12': two(hour % 12 || 12), minute: two(at.getUTCMinutes()),
      half: halves[Math.floor(hour * halves.length / 24)],
    };
    return pattern.replace(/\{(\w+)\}/g, (braces, name) => part[name]);
  }
  const TIMES = 'times ' + data.code;
  let visit = NaN;
  function times() {
    const [first, second] = (kept.get(TIMES) || '|').split('|');
    const applied = instant(first);
    visit = instant(second || '');
    const mine = window.sheet.choice();
    all('.dates li').forEach((item) => {
      const name = item.dataset.time;
      const when = name === 'visit' ? visit : applied + item.dataset.wait * MINUTE;
      let wanted = !isNaN(when);
      if (item.dataset.not) wanted = wanted && !(mine && words(item.dataset.not).some((mark) => mine.marks.includes(mark)));
      const any = (list) => !!mine && words(list).some((mark) => mine.marks.includes(mark));
      if (item.dataset.only && !any(item.dataset.only) || any(item.dataset.not)) wanted = false;
      // An early check is asked for until a visit within it is known.
      if (name === 'early_until') wanted = wanted && !(visit <= when);
      item.hidden = !wanted;
      if (wanted) item.querySelector('b').textContent = say(when, 'day' in item.dataset ? names.day : names.both);
    });
    by('applied').value = first;
    by('visit').value = second || '';
    by('calendar').hidden = isNaN(visit);
    by('forget').hidden = !first && !second;
    if (first || second) by('times').open = true;
  }
  by('times').querySelector('form').onsubmit = function (event) {
    event.preventDefault();
    const first = by('applied').value, second = by('visit').value;
    const applied = first && instant(first), next = second && instant(second);
    const bad = by('bad-times');
    // A half-filled field reads as empty, and only its validity tells.
    bad.hidden = !(Number.isNaN(applied) || Number.isNaN(next) || (applied && next && next <= applied)
      || by('applied').validity.badInput || by('visit').validity.badInput);
    if (!bad.hidden) return;
    kept.set(TIMES, first + '|' + second);
    times();
  };
  by('forget').onclick = function () {
    kept.drop(TIMES);
    by('bad-times').hidden = true;
    times();
  };

  // ---- the visit as a calendar file (RFC 5545), made here ----
  const escape = (text) => text.replace(/[\\;,]/g, '\\$&').replace(/\n/g, '\\n');
  // At most 75 octets a line, and no character cut in two.
  function fold(line) {
    let folded = '', length = 0;
    Array.from(line).forEach((letter) => {
      const octets = unescape(encodeURIComponent(letter)).length;
      if (length + octets > 75) { folded += '\r\n '; length = 1; }
      folded += letter;
      length += octets;
    });
    return folded;
  }
  function calendar() {
    const stamp = (moment) => new Date(moment).toISOString().replace(/[-:]|\.\d+/g, '');
    // Calendars are shared and synced: the title names no injury, and nothing here names the device.
    const title = escape(by('calendar').dataset.title);
    const phones = all('#page .calls a:not(.sos)').map((link) => link.textContent.trim().replace(/\s+/g, ' ')).join('\n');
    const alarm = (before) => ['BEGIN:VALARM', 'ACTION:DISPLAY', 'DESCRIPTION:' + title, 'TRIGGER:-' + before, 'END:VALARM'];
    const random = Array.from(crypto.getRandomValues(new Uint32Array(4)), (part) => part.toString(36)).join('');
    return ['BEGIN:VCALENDAR', 'VERSION:2.0', 'PRODID:-//aftercare//phone page//EN', 'BEGIN:VEVENT', 'UID:' + random,
      'DTSTAMP:' + stamp(Date.now()), 'DTSTART:' + stamp(visit), 'SUMMARY:' + title, 'DESCRIPTION:' + escape(phones),
      ...alarm('P1D'), ...alarm('PT2H'), 'END:VEVENT', 'END:VCALENDAR', ''].map(fold).join('\r\n');
  }
  by('calendar').onclick = function () {
    const link = document.createElement('a');
    link.href = URL.createObjectURL(new Blob([calendar()], {type: 'text/calendar;charset=utf-8'}));
    link.download = 'visit.ics';
    document.body.appendChild(link).click();
    link.remove();
  };

  // ---- larger text, print, read aloud ----
  const SIZES = ['', 'large', 'largest'];
  function size(name) { SIZES.slice(1).forEach((other) => { html.classList.toggle(other, other === name); }); }
  by('larger').onclick = function () {
    const now = SIZES.findIndex((name) => name && html.classList.contains(name));
    const next = SIZES[(Math.max(now, 0) + 1) % 3];
    kept.set('size', next);
    size(next);
  };
  by('print').onclick = function () { window.print(); };

  // ---- read aloud, with the phone's own voice where it has one for the language ----
  const speech = window.speechSynthesis;
  const aloud = by('aloud'), label = aloud.textContent;
  let reading = null;
  const voice = () => speech && speech.getVoices().find((one) => one.lang.toLowerCase().split(/[-_]/)[0] === html.lang.split('-')[0]);
  // Wraps each sentence of a block in a span of its own, once, whatever stands inside it.
  function sentences(block) {
    if (!block.dataset.cut) {
      let open = null;
      Array.from(block.childNodes).forEach((node) => {
        const parts = node.nodeType === 3 ? node.data.match(/[^.!?؟।。]*[.!?؟।。]+\s*|[^.!?؟।。]+/g) || [] : [node];
        parts.forEach((part) => {
          if (!open) open = block.insertBefore(document.createElement('span'), node);
          open.appendChild(part === node ? node : document.createTextNode(part));
          if (part !== node && /[.!?؟।。]\s*$/.test(part)) open = null;
        });
        if (node.nodeType === 3) node.remove();
      });
      block.dataset.cut = 'yes';
    }
    return Array.from(block.children).filter((span) => span.textContent.trim());
  }
  function stop() {
    if (!reading) return;
    reading.classList.remove('said');
    reading = null;
    speech.cancel();
    aloud.textContent = label;
  }
  function read(queue) {
    if (reading) reading.classList.remove('said');
    reading = queue.shift();
    if (!reading) { aloud.textContent = label; return; }
    const now = reading;
    now.classList.add('said');
    now.scrollIntoView({block: 'nearest'});
    const said = new SpeechSynthesisUtterance(now.textContent);
    said.voice = voice();
    said.lang = said.voice.lang;
    said.onend = said.onerror = function () { if (reading === now) read(queue); };
    speech.speak(said);
  }
  aloud.onclick = function () {
    if (reading) { stop(); return; }
    aloud.textContent = aloud.dataset.stop;
    const blocks = all('#page h1,#page h2,#page h3,#page .lead,#page .sign,#page .why,#page .if,#page .passage p,#page .passage li')
      .filter((block) => !block.closest('[hidden]'));
    read([].concat.apply([], blocks.map(sentences)));
  };
  function offer() { aloud.hidden = !voice(); }
  if (speech) {
    offer();
    if (speech.addEventListener) speech.addEventListener('voiceschanged', offer);
    window.addEventListener('pagehide', stop);
    by('walk-start').addEventListener('click', stop);
  }

  // ---- this edition and others ----
  const earlier = !by('earlier').hidden;
  // The paper's edition stands behind the code; without it, the one this phone saw last.
  const SEEN = 'seen ' + html.lang + ' ' + data.code;
  const printed = window.sheet.printed() || kept.get(SEEN);
  by('changed').hidden = earlier || !printed || printed === data.edition;
  if (!earlier) kept.set(SEEN, data.edition);

  // ---- again without a network ----
  by('reload').onclick = function () { location.reload(); };
  const line = () => { by('offline').hidden = navigator.onLine !== false; };
  window.addEventListener('online', line);
  window.addEventListener('offline', line);
  line();
  if (!earlier && 'serviceWorker' in navigator) {
    navigator.serviceWorker.addEventListener('message', (event) => { if (event.data === 'newer') by('newer').hidden = false; });
    // Asked for at once, so that all kept pages are renewed soon after the clinic publishes. Refused where the address is not
    // a secure one; the page then only lacks this.
    navigator.serviceWorker.register('../worker.js').then((found) => found.update()).catch(() => null);
  }

  by('times').hidden = document.querySelector('.tools').hidden = false;
  size(kept.get('size') || '');
  times();
  window.addEventListener('hashchange', times);
  if (window.sheet.asked) begin();
})();
