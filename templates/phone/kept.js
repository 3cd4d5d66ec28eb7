// What stays on this phone, and only here. A private window keeps nothing and may refuse even to be asked.
window.sheet.kept = {
  get(key) { try { return localStorage.getItem('aftercare ' + key); } catch (error) { return null; } },
  set(key, value) { try { localStorage.setItem('aftercare ' + key, value); } catch (error) { /* then it is not kept */ } },
  drop(key) { try { localStorage.removeItem('aftercare ' + key); } catch (error) { /* then nothing is there */ } },
};
