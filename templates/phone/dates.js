// My dates: worked out on the phone by the waits of the sheet, kept there and nowhere else; and the visit as a calendar file.
(function () {
  'use strict';
  const {data, by, all, choice, clinicTime, holds, storage} = window.sheet;

  const MINUTE = 60000, DAY = 1440 * MINUTE;
  // A phone that does not know the clinic's time zone cannot compute dates, so the form stays hidden.
  try { clinicTime(0); } catch (error) { return; }
  // The instant of a day and time typed as the clinic's clock shows it. Never rolled over: what does not come back as it was
  // typed (the 99th month, an hour the clocks skip in spring) is refused with NaN.
  function instant(typed) {
    const match = /^(\d{4})-(\d\d)-(\d\d)[T ](\d\d):(\d\d)(:00)?$/.exec(typed.trim());
    if (!match) return NaN;
    const text = match.slice(1, 4).join('-') + 'T' + match[4] + ':' + match[5];
    const asked = Date.parse(text + 'Z');
    if (!(asked >= 0) || new Date(asked).toISOString().slice(0, 16) !== text) return NaN;
    // By how the clock stood the day before and stands the day after. An hour that comes twice is the first, as on paper.
    const found = [asked - DAY, asked + DAY].map((near) => asked - (clinicTime(near) - near)).filter((one) => clinicTime(one) === asked);
    return found.length ? found[0] : NaN;
  }
  // In the words and the order of the paper, which come with the page: phones do not know every language of ours.
  const names = by('times').dataset;
  function say(moment, pattern) {
    const at = new Date(clinicTime(moment)), hour = at.getUTCHours();
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
    const [first, second] = (storage.get(TIMES) || '|').split('|');
    const applied = instant(first);
    visit = instant(second || '');
    const patient = choice(), marks = patient ? patient.marks : [];
    all('.dates li').forEach((item) => {
      const name = item.dataset.time;
      const when = name === 'visit' ? visit : applied + item.dataset.wait * MINUTE;
      let wanted = !isNaN(when) && holds(item, marks);
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
    if (bad.hidden) {
      storage.set(TIMES, first + '|' + second);
      times();
    }
    const told = bad.hidden ? document.querySelector('.dates') : bad;
    told.scrollIntoView({block: 'center'});
    told.focus({preventScroll: true});
  };
  by('forget').onclick = function () {
    storage.remove(TIMES);
    by('bad-times').hidden = true;
    times();
    by('times').querySelector('summary').focus();
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
    const phones = all('#page .calls a:not(.sos) > span').map((words) => {
      return Array.from(words.childNodes).map((part) => part.textContent.trim()).filter(Boolean).join(' ');
    }).join('\n');
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

  by('times').hidden = false;
  times();
  window.addEventListener('hashchange', times);
})();
