// Larger text, printing, reading aloud, notices of other editions, and the page without a network.
(function () {
  'use strict';
  const {html, data, byId, queryAll, paperEdition, storage, sortCalls} = window.sheet;

  // ---- the number that answers now, on a page that stays open past closing time ----
  setInterval(sortCalls, 60000);
  window.addEventListener('pageshow', sortCalls);
  document.addEventListener('visibilitychange', sortCalls);

  // ---- larger text, print ----
  const SIZES = ['', 'large', 'largest'];
  function setSize(size) { SIZES.slice(1).forEach((name) => { html.classList.toggle(name, name === size); }); }
  byId('larger').onclick = function () {
    const current = SIZES.findIndex((name) => name && html.classList.contains(name));
    const next = SIZES[(Math.max(current, 0) + 1) % 3];
    storage.set('size', next);
    setSize(next);
  };
  byId('print').onclick = function () { window.print(); };

  // ---- read aloud, where the phone has a voice for the page's language ----
  const speech = window.speechSynthesis;
  const readButton = byId('aloud'), readLabel = readButton.textContent;
  // The sentence being read, as element and as utterance; null while nothing is read.
  let sentence = null, utterance = null;
  const language = (tag) => tag.toLowerCase().split(/[-_]/)[0];
  const findVoice = () => speech && speech.getVoices().find((voice) => language(voice.lang) === language(html.lang));
  // Wraps each sentence of a block, whatever elements it contains, in a span, once. Returns the spans that have text.
  function sentences(block) {
    if (!block.dataset.cut) {
      let span = null;
      Array.from(block.childNodes).forEach((node) => {
        const parts = node.nodeType === 3 ? node.data.match(/[^.!?؟।。]*[.!?؟।。]+\s*|[^.!?؟।。]+/g) || [] : [node];
        parts.forEach((part) => {
          if (!span) span = block.insertBefore(document.createElement('span'), node);
          span.appendChild(part === node ? node : document.createTextNode(part));
          if (part !== node && /[.!?؟।。]\s*$/.test(part)) span = null;
        });
        if (node.nodeType === 3) node.remove();
      });
      block.dataset.cut = 'yes';
    }
    return Array.from(block.children).filter((child) => child.textContent.trim());
  }
  function stopReading() {
    if (!sentence) return;
    sentence.classList.remove('said');
    sentence = utterance = null;
    speech.cancel();
    readButton.textContent = readLabel;
  }
  function readNext(queue) {
    if (sentence) sentence.classList.remove('said');
    sentence = queue.shift();
    if (!sentence) { readButton.textContent = readLabel; return; }
    sentence.classList.add('said');
    sentence.scrollIntoView({block: 'nearest'});
    const current = new SpeechSynthesisUtterance(sentence.innerText.replace(/\s+/g, ' '));
    current.voice = findVoice();
    current.lang = current.voice.lang;
    // A cancelled utterance may still end, or fail, while a later one is spoken; its event is ignored.
    current.onend = current.onerror = function () { if (utterance === current) readNext(queue); };
    utterance = current;
    speech.speak(current);
  }
  readButton.onclick = function () {
    if (sentence) { stopReading(); return; }
    readButton.textContent = readButton.dataset.stop;
    const selector = 'h1,h2,h3,.lead,.sign,.why,.if,.calls a > span,.dates li,.passage p,.passage li';
    const blocks = queryAll(selector, byId('page')).filter((block) => !block.closest('[hidden],summary'));
    readNext([].concat.apply([], blocks.map(sentences)));
  };
  function showReadButton() { readButton.hidden = !findVoice(); }
  if (speech) {
    showReadButton();
    if (speech.addEventListener) speech.addEventListener('voiceschanged', showReadButton);
    window.addEventListener('pagehide', stopReading);
    byId('walk-start').addEventListener('click', stopReading);
  }

  // ---- this edition and others ----
  // publish shows this notice in earlier editions (aftercare/site/archive.py).
  const isEarlier = !byId('earlier').hidden;
  // Phones have stored editions under this key: do not change it.
  const KEY = 'seen ' + html.lang + ' ' + data.code;
  // The edition of the paper, behind the code; without one, the edition this phone showed last.
  const previous = paperEdition() || storage.get(KEY);
  byId('changed').hidden = isEarlier || !previous || previous === data.edition;
  if (!isEarlier) storage.set(KEY, data.edition);

  // ---- the page without a network ----
  byId('reload').onclick = function () { location.reload(); };
  const showOffline = () => { byId('offline').hidden = navigator.onLine !== false; };
  window.addEventListener('online', showOffline);
  window.addEventListener('offline', showOffline);
  showOffline();
  if (!isEarlier && 'serviceWorker' in navigator) {
    navigator.serviceWorker.addEventListener('message', (event) => {
      if (event.data === 'newer') byId('newer').hidden = false;
    });
    // Updated at once, so that all cached pages are fetched again soon after the clinic publishes. Registration is refused
    // where the address is not secure (no https); the page then only lacks this.
    navigator.serviceWorker.register('../worker.js').then((registration) => registration.update()).catch(() => null);
  }

  document.querySelector('.tools').hidden = false;
  setSize(storage.get('size') || '');
})();
