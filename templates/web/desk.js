// The desk without reloading: type to find, details that follow each choice, live preview, print by keyboard.
// What fits what is decided by the server alone; this file only asks, and puts the answer in place.
"use strict";

const form = document.getElementById("desk");
const picker = document.getElementById("picker");
const find = document.getElementById("find");
const found = document.getElementById("found");
const preview = document.getElementById("preview");
const silent = document.getElementById("silent");
const stale = document.getElementById("stale");
const blank = document.getElementById("blank");
const cards = [...document.querySelectorAll(".card")];
const groups = [...document.querySelectorAll(".group")];
// Long enough to tick two boxes in one go, short enough to feel at once (common practice, no source).
const PAUSE = 150;

// --- type to find -------------------------------------------------------------------------------------------------
let matches = [];
let next = 0;

function rank(card, typed) {
  const words = card.dataset.words;
  return words.startsWith(typed) ? 0 : words.includes(" " + typed) ? 1 : 2;
}

function search() {
  const typed = find.value.trim().toLowerCase();
  const parts = typed.split(/\s+/);
  const fits = (card) => parts.every((part) => card.dataset.words.includes(part));
  for (const card of cards) card.hidden = !fits(card);
  for (const group of groups) group.hidden = !group.querySelector(".card:not([hidden])");
  matches = typed ? cards.filter((card) => !card.hidden) : [];
  const best = matches.reduce((a, b) => (rank(b, typed) < rank(a, typed) ? b : a), matches[0]);
  point(Math.max(0, matches.indexOf(best)));
  if (typed && !matches.length) found.textContent = "Nothing has that name. Try another word, or part of one.";
}

function point(to, scroll = false) {
  for (const card of cards) card.classList.remove("next");
  if (!matches.length) return (found.textContent = "");
  next = (to + matches.length) % matches.length;
  matches[next].classList.add("next");
  if (scroll) matches[next].scrollIntoView({ block: "nearest" });
  const name = matches[next].querySelector("span").firstChild.data.trim();
  found.textContent = `Enter takes “${name}”, ${next + 1} of ${matches.length}. Arrows go to the others.`;
}

find.addEventListener("input", () => {
  search();
  scrollTo(0, Math.min(scrollY, picker.offsetTop));
});
find.addEventListener("keydown", (event) => {
  if (event.key === "ArrowDown" || event.key === "ArrowUp") point(next + (event.key === "ArrowDown" ? 1 : -1), true);
  else if (event.key === "Enter" && !event.ctrlKey && matches.length) take(matches[next]);
  else return;
  event.preventDefault();
});
picker.querySelector("summary").addEventListener("click", (event) => {
  // By hand and at once, so that the first letter typed after opening is not lost.
  event.preventDefault();
  picker.open = !picker.open || !details().dataset.device;
  if (picker.open) find.focus();
});
for (const card of cards) {
  // A pointer takes a card at once; arrow keys walk through the cards, and Enter takes one.
  card.addEventListener("click", (event) => event.detail && take(card));
  card.addEventListener("keydown", (event) => event.key === "Enter" && !event.ctrlKey && take(card));
}
for (const limb of document.querySelectorAll(".limb")) {
  limb.addEventListener("click", () => {
    find.value = limb.textContent;
    search();
    find.focus();
  });
}

async function take(card) {
  card.querySelector("input").checked = true;
  picker.open = false;
  find.value = "";
  search();
  if (!(await refresh())) return;
  const unanswered = [...details().querySelectorAll("fieldset:has([type=radio])")].find((set) => !set.querySelector(":checked"));
  (unanswered || details()).querySelector("input")?.focus();
}

// --- what follows from a choice -----------------------------------------------------------------------------------
let asking = new AbortController();
let waiting;
// Once the nurse wanted to print, what is missing is said until nothing is.
let asked = false;

// Turns `old` into `fresh` and leaves alone what is the same, so that focus and a half-typed date stay where they are.
function morph(old, fresh) {
  for (const { name } of [...old.attributes]) if (!fresh.hasAttribute(name) && name !== "open") old.removeAttribute(name);
  for (const { name, value } of fresh.attributes) if (old.getAttribute(name) !== value) old.setAttribute(name, value);
  if (old.type === "radio" || old.type === "checkbox") old.checked = fresh.checked;
  let at = old.firstChild;
  for (const child of [...fresh.childNodes]) {
    let twin = at;
    if (child.nodeType === Node.ELEMENT_NODE) while (twin && !alike(twin, child)) twin = twin.nextSibling;
    if (!twin || !alike(twin, child)) {
      old.insertBefore(child, at);
      continue;
    }
    while (at !== twin) at = drop(at);
    at = twin.nextSibling;
    if (child.nodeType === Node.ELEMENT_NODE) morph(twin, child);
    else if (twin.data !== child.data) twin.data = child.data;
  }
  while (at) at = drop(at);
}

const alike = (a, b) => a.nodeName === b.nodeName && a.id === b.id && a.className === b.className;

function drop(node) {
  const next = node.nextSibling;
  node.remove();
  return next;
}

const details = () => document.getElementById("details");
const ready = () => details().dataset.ready === "yes";

// False where a later change overtook it.
async function refresh() {
  clearTimeout(waiting);
  if (details().dataset.device !== (form.elements.device.value || "")) {
    // Another device: what was said of the first one must be said anew, and its sheet must not stay in sight.
    for (const input of details().querySelectorAll("[name=material], [name=weight], [name=options]")) input.checked = false;
    for (const frame of preview.querySelectorAll("iframe")) frame.remove();
    blank.hidden = false;
    asked = false;
  }
  asking.abort();
  const mine = (asking = new AbortController()).signal;
  const body = new URLSearchParams(new FormData(form));
  if (asked) body.set("asked", "yes");
  try {
    const answer = await fetch("/parts", { method: "POST", body, signal: mine });
    if (![200, 400, 500].includes(answer.status)) throw new Error(answer.status);
    const parts = new DOMParser().parseFromString(await answer.text(), "text/html");
    mine.throwIfAborted();
    for (const id of ["problems", "details", "output"]) morph(document.getElementById(id), parts.getElementById(id));
  } catch (error) {
    silent.hidden = error.name === "AbortError";
    return false;
  }
  silent.hidden = true;
  stale.hidden = ready() || !blank.hidden;
  if (ready()) {
    asked = false;
    show();
  }
  return true;
}

form.addEventListener("input", (event) => {
  // A card taken by pointer has asked already, and closed the picker.
  if (event.target === find || (event.target.name === "device" && !picker.open)) return;
  // An answer still on its way knows nothing of this change and would undo it.
  asking.abort();
  clearTimeout(waiting);
  waiting = setTimeout(refresh, PAUSE);
});

// --- the preview: a new frame loads behind the old one, so the last good sheet stays until the next is there -----------
let frames = 0;

function send(action, target) {
  const { action: home } = form;
  Object.assign(form, { action, target });
  form.submit();
  Object.assign(form, { action: home, target: "" });
}

function show() {
  const frame = document.createElement("iframe");
  frame.name = `sheet-${++frames}`;
  frame.title = "The sheet, as it will be printed";
  frame.className = "coming";
  preview.append(frame);
  frame.addEventListener("load", () => {
    if (frame.contentDocument.URL === "about:blank") return;
    const last = preview.querySelector("iframe:not(.coming)");
    const top = last?.contentWindow.scrollY || 0;
    frame.classList.remove("coming");
    // Frames older than this one are past; a younger one is still on its way.
    while (frame.previousElementSibling?.matches("iframe")) frame.previousElementSibling.remove();
    fit();
    frame.contentWindow.scrollTo(0, top);
    blank.hidden = true;
  });
  send("/preview", frame.name);
}

function fit() {
  const frame = preview.querySelector("iframe:not(.coming)");
  if (!frame) return;
  const width = frame.contentDocument.body.offsetWidth;
  const scale = preview.clientWidth / width;
  // Beside the form the sheet scrolls in its own column; below the form it stands there whole.
  preview.style.height = beside.matches ? "" : `${frame.contentDocument.documentElement.offsetHeight * scale}px`;
  frame.style.width = `${width}px`;
  frame.style.height = `${preview.clientHeight / scale}px`;
  frame.style.transform = `scale(${scale})`;
}
const beside = matchMedia("(min-width: 68.75rem)");
new ResizeObserver(fit).observe(preview);

// --- print --------------------------------------------------------------------------------------------------------
async function print() {
  asked = true;
  if (!(await refresh())) return;
  if (ready()) send("/sheet.pdf", "_blank");
  else document.getElementById("summary")?.focus();
}

form.addEventListener("submit", (event) => {
  event.preventDefault();
  if (event.submitter?.id === "print") print();
});
document.addEventListener("keydown", (event) => {
  if (event.key === "Enter" && (event.ctrlKey || event.metaKey)) {
    event.preventDefault();
    print();
  } else if (event.key === "Enter" && event.target.matches("#details input")) event.preventDefault();
});
document.addEventListener("click", (event) => {
  const link = event.target.closest(".summary a");
  const field = link && document.querySelector(link.getAttribute("href"));
  if (!field) return;
  event.preventDefault();
  if (field.id === "field-device") picker.open = true;
  (field.querySelector("input:checked, input") || field).focus();
});

document.getElementById("finder").hidden = false;
blank.hidden = false;
if (picker.open) find.focus();
if (ready()) show();
