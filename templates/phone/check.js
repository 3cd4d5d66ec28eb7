// Check it now: the signs in sight, the worst first, one a screen; the first yes ends in whom to call.
(function () {
  'use strict';
  const {html, by, all, show} = window.sheet;
  const seen = (element) => !element.closest('#page [hidden]');

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
    shown.querySelector('[tabindex]').focus();
    window.scrollTo(0, 0);
  }
  function ask() {
    fill(by('walk-said'), all('svg,.if:not([hidden]),.sign,.why', signs[at]));
    by('walk-count').textContent = (at + 1) + ' / ' + signs.length;
    screen(by('walk-ask'));
  }
  const CALLS = {'call-emergency': ['sos'], 'go-now': ['sos', 'day', 'night'], 'same-day': ['day', 'night'], none: ['day', 'night']};
  function end(tier) {
    const shown = walk.querySelector('.end[data-tier=' + tier + ']');
    const emergency = (item) => item.firstElementChild.dataset.call === 'sos' ? 1 : 0;
    fill(shown.querySelector('.calls'), all('#page .calls li').filter((item) => {
      return CALLS[tier].includes(item.firstElementChild.dataset.call);
    }).sort((one, other) => emergency(other) - emergency(one)));
    // What holds meanwhile is what this device's own sheet says so of.
    const dont = shown.querySelector('.dont');
    if (dont) fill(dont, all('#page [data-meanwhile]').filter(seen));
    by('walk-count').textContent = '';
    screen(shown);
  }
  function leave() {
    walk.hidden = true;
    by('page').hidden = false;
    html.classList.remove('walking', 'ended');
    show();
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
  by('walk-start').removeAttribute('aria-busy');
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

  if (window.sheet.asked) {
    clearTimeout(window.sheet.asked);
    begin();
  }
})();
