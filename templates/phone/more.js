// Larger text, printing, reading aloud, editions, and opening again without a network.
(function () {
  'use strict';
  const {html, data, by, all, printed, storage, order} = window.sheet;

  // ---- a page may lie open from noon to 3 a.m. ----
  setInterval(order, 60000);
  window.addEventListener('pageshow', order);
  document.addEventListener('visibilitychange', order);

  // ---- larger text, print, read aloud ----
  const SIZES = ['', 'large', 'largest'];
  function size(name) { SIZES.slice(1).forEach((other) => { html.classList.toggle(other, other === name); }); }
  by('larger').onclick = function () {
    const now = SIZES.findIndex((name) => name && html.classList.contains(name));
    const next = SIZES[(Math.max(now, 0) + 1) % 3];
    storage.set('size', next);
    size(next);
  };
  by('print').onclick = function () { window.print(); };

  // ---- read aloud, with the phone's own voice where it has one for the language ----
  const speech = window.speechSynthesis;
  const aloud = by('aloud'), label = aloud.textContent;
  let reading = null, saying = null;
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
    reading = saying = null;
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
    const said = new SpeechSynthesisUtterance(now.innerText.replace(/\s+/g, ' '));
    said.voice = voice();
    said.lang = said.voice.lang;
    // A cancelled one may still tell of its end when another is being said.
    said.onend = said.onerror = function () { if (saying === said) read(queue); };
    saying = said;
    speech.speak(said);
  }
  aloud.onclick = function () {
    if (reading) { stop(); return; }
    aloud.textContent = aloud.dataset.stop;
    const blocks = all('h1,h2,h3,.lead,.sign,.why,.if,.calls a > span,.dates li,.passage p,.passage li', by('page'))
      .filter((block) => !block.closest('[hidden],summary'));
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
  const before = printed() || storage.get(SEEN);
  by('changed').hidden = earlier || !before || before === data.edition;
  if (!earlier) storage.set(SEEN, data.edition);

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

  document.querySelector('.tools').hidden = false;
  size(storage.get('size') || '');
})();
