"""How the clocks of some phones differ from those of others."""

from __future__ import annotations

# As phones older than ECMA-402 of 2024 say the first hour of a day without halves.
MIDNIGHT_IS_24 = """(() => {
  const now = Intl.DateTimeFormat.prototype.formatToParts;
  Intl.DateTimeFormat.prototype.formatToParts = function (instant) {
    return now.call(this, instant).map(one => one.type === 'hour' && one.value === '00' ? {type: 'hour', value: '24'} : one);
  };
})()"""
