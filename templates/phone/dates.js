// "My dates": computed on the phone from the waits on the page, and stored only there; and the visit as a calendar file.
(function () {
  'use strict';
  const {data, byId, queryAll, readPatient, holds, clinicTime, storage} = window.sheet;

  const MINUTE = 60000, DAY = 1440 * MINUTE;
  // A phone that does not know the clinic's time zone cannot compute dates, so the form stays hidden.
  try { clinicTime(0); } catch (error) { return; }
  // Parses a day and time by the clinic's clock, such as 2026-11-25T14:30, to a timestamp. NaN for any other text, and for a
  // time that does not exist (the 99th month, an hour that the clocks skip in spring): nothing rolls over to a later date.
  function parseTime(text) {
    const match = /^(\d{4})-(\d\d)-(\d\d)[T ](\d\d):(\d\d)(:00)?$/.exec(text.trim());
    if (!match) return NaN;
    const iso = match.slice(1, 4).join('-') + 'T' + match[4] + ':' + match[5];
    const clock = Date.parse(iso + 'Z');
    if (!(clock >= 0) || new Date(clock).toISOString().slice(0, 16) !== iso) return NaN;
    // Tries the clinic's offset from UTC a day before and a day after. Of an hour that comes twice in autumn this takes the
    // first, as the paper does.
    const instants = [clock - DAY, clock + DAY].map((near) => clock - (clinicTime(near) - near));
    const matches = instants.filter((instant) => clinicTime(instant) === clock);
    return matches.length ? matches[0] : NaN;
  }
  // Names and patterns of the page's language as on the paper (aftercare/language/calendar.py): many phones lack some of these
  // languages.
  const calendarWords = byId('times').dataset;
  function formatTime(instant, pattern) {
    const clock = new Date(clinicTime(instant)), hour = clock.getUTCHours();
    const halves = calendarWords.halves.split('|');
    const twoDigits = (number) => ('0' + number).slice(-2);
    const part = {
      weekday: calendarWords.weekdays.split('|')[clock.getUTCDay()],
      month: calendarWords.months.split('|')[clock.getUTCMonth()],
      day: clock.getUTCDate(), hour, '0hour': twoDigits(hour), hour12: hour % 12 || 12, '0hour12': twoDigits(hour % 12 || 12),
      minute: twoDigits(clock.getUTCMinutes()), half: halves[Math.floor(hour * halves.length / 24)],
    };
    return pattern.replace(/\{(\w+)\}/g, (braces, name) => part[name]);
  }
  // Stores 'applied|visit' as they were typed. Phones have stored dates under this key: do not change it.
  const KEY = 'times ' + data.code;
  let visit = NaN;
  function showDates() {
    const [appliedText, visitText] = (storage.get(KEY) || '|').split('|');
    const applied = parseTime(appliedText);
    visit = parseTime(visitText || '');
    const patient = readPatient(), codes = patient ? patient.codes : [];
    queryAll('.dates li').forEach((item) => {
      const name = item.dataset.time;
      const date = name === 'visit' ? visit : applied + item.dataset.wait * MINUTE;
      let shown = !isNaN(date) && holds(item, codes);
      // An early check is not shown once a visit in time for it is known.
      if (name === 'early_until') shown = shown && !(visit <= date);
      item.hidden = !shown;
      const pattern = 'day' in item.dataset ? calendarWords.day : calendarWords.both;
      if (shown) item.querySelector('b').textContent = formatTime(date, pattern);
    });
    byId('applied').value = appliedText;
    byId('visit').value = visitText || '';
    byId('calendar').hidden = isNaN(visit);
    byId('forget').hidden = !appliedText && !visitText;
    if (appliedText || visitText) byId('times').open = true;
  }
  byId('times').querySelector('form').onsubmit = function (event) {
    event.preventDefault();
    const appliedText = byId('applied').value, visitText = byId('visit').value;
    const applied = appliedText && parseTime(appliedText), next = visitText && parseTime(visitText);
    const error = byId('bad-times');
    // The value of a half-filled field is empty; only its validity differs from that of an empty one.
    error.hidden = !(Number.isNaN(applied) || Number.isNaN(next) || (applied && next && next <= applied)
      || byId('applied').validity.badInput || byId('visit').validity.badInput);
    if (error.hidden) {
      storage.set(KEY, appliedText + '|' + visitText);
      showDates();
    }
    const result = error.hidden ? document.querySelector('.dates') : error;
    result.scrollIntoView({block: 'center'});
    result.focus({preventScroll: true});
  };
  byId('forget').onclick = function () {
    storage.remove(KEY);
    byId('bad-times').hidden = true;
    showDates();
    byId('times').querySelector('summary').focus();
  };

  // ---- the visit as a calendar file (RFC 5545) ----
  const escapeText = (text) => text.replace(/[\\;,]/g, '\\$&').replace(/\n/g, '\\n');
  // Folds a line at 75 octets (3.1), between characters.
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
  function calendarFile() {
    const formatUtc = (instant) => new Date(instant).toISOString().replace(/[-:]|\.\d+/g, '');
    // Calendars are shared and synced: the title names no injury, and nothing here names the device.
    const title = escapeText(byId('calendar').dataset.title);
    const phones = queryAll('#page .calls a:not(.sos) > span').map((call) => {
      return Array.from(call.childNodes).map((part) => part.textContent.trim()).filter(Boolean).join(' ');
    }).join('\n');
    const alarm = (before) => ['BEGIN:VALARM', 'ACTION:DISPLAY', 'DESCRIPTION:' + title, 'TRIGGER:-' + before, 'END:VALARM'];
    const random = Array.from(crypto.getRandomValues(new Uint32Array(4)), (part) => part.toString(36)).join('');
    return ['BEGIN:VCALENDAR', 'VERSION:2.0', 'PRODID:-//aftercare//phone page//EN', 'BEGIN:VEVENT', 'UID:' + random,
      'DTSTAMP:' + formatUtc(Date.now()), 'DTSTART:' + formatUtc(visit), 'SUMMARY:' + title,
      'DESCRIPTION:' + escapeText(phones), ...alarm('P1D'), ...alarm('PT2H'), 'END:VEVENT', 'END:VCALENDAR', '',
    ].map(fold).join('\r\n');
  }
  byId('calendar').onclick = function () {
    const link = document.createElement('a');
    link.href = URL.createObjectURL(new Blob([calendarFile()], {type: 'text/calendar;charset=utf-8'}));
    link.download = 'visit.ics';
    document.body.appendChild(link).click();
    link.remove();
  };

  byId('times').hidden = false;
  showDates();
  window.addEventListener('hashchange', showDates);
})();
