// "Check it now" (ids `walk-...`): asks about each sign for this patient, the most urgent first. The first yes, or a no to all,
// ends in whom to call.
(function () {
  'use strict';
  const {html, byId, queryAll, showParts} = window.sheet;
  const isShown = (element) => !element.closest('#page [hidden]');

  const walk = byId('walk');
  let signs = [], index = 0;
  // Replaces the content of `target` with copies of the nodes, without their ids.
  function fill(target, nodes) {
    target.textContent = '';
    nodes.forEach((node) => {
      const copy = node.cloneNode(true);
      copy.removeAttribute('id');
      queryAll('[id]', copy).forEach((inner) => inner.removeAttribute('id'));
      target.appendChild(copy);
    });
  }
  function showScreen(screen) {
    queryAll('#walk-ask,.end').forEach((other) => { other.hidden = other !== screen; });
    html.classList.toggle('ended', screen !== byId('walk-ask'));
    screen.querySelector('[tabindex]').focus();
    window.scrollTo(0, 0);
  }
  function askSign() {
    fill(byId('walk-said'), queryAll('svg,.if:not([hidden]),.sign,.why', signs[index]));
    byId('walk-count').textContent = (index + 1) + ' / ' + signs.length;
    showScreen(byId('walk-ask'));
  }
  // The numbers (data-call) to show for each tier of signs, and after no to all of them.
  const CALLS = {
    'call-emergency': ['sos'], 'go-now': ['sos', 'day', 'night'], 'same-day': ['day', 'night'], none: ['day', 'night'],
  };
  function showEnd(tier) {
    const end = walk.querySelector('.end[data-tier=' + tier + ']');
    const isEmergency = (item) => item.firstElementChild.dataset.call === 'sos' ? 1 : 0;
    fill(end.querySelector('.calls'), queryAll('#page .calls li').filter((item) => {
      return CALLS[tier].includes(item.firstElementChild.dataset.call);
    }).sort((item, other) => isEmergency(other) - isEmergency(item)));
    // The advice on the page that still holds on the way to help.
    const meanwhile = end.querySelector('.dont');
    if (meanwhile) fill(meanwhile, queryAll('#page [data-meanwhile]').filter(isShown));
    byId('walk-count').textContent = '';
    showScreen(end);
  }
  function leave() {
    walk.hidden = true;
    byId('page').hidden = false;
    html.classList.remove('walking', 'ended');
    showParts();
    byId('walk-start').focus();
  }
  function begin() {
    signs = queryAll('#page .signs[data-tier]:not([data-tier=office-hours])>li').filter(isShown);
    index = 0;
    byId('page').hidden = true;
    walk.hidden = false;
    html.classList.add('walking');
    // A history entry, so that the phone's back button leaves the check and not the page.
    history.pushState({walk: true}, '');
    askSign();
  }
  byId('walk-start').onclick = begin;
  byId('walk-start').removeAttribute('aria-busy');
  byId('walk-no').onclick = function () {
    index++;
    if (index < signs.length) askSign(); else showEnd('none');
  };
  byId('walk-yes').onclick = function () { showEnd(signs[index].parentNode.dataset.tier); };
  byId('walk-again').onclick = function () { index = 0; askSign(); };
  byId('walk-back').onclick = function () {
    if (!byId('walk-ask').hidden && index > 0) { index--; askSign(); }
    else if (byId('walk-ask').hidden) { index = Math.min(index, signs.length - 1); askSign(); }
    else history.back();
  };
  window.addEventListener('popstate', function () { if (!walk.hidden) leave(); });

  if (window.sheet.earlyTap) {
    clearTimeout(window.sheet.earlyTap);
    begin();
  }
})();
