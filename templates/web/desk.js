// Updates the desk without reloading it: search for a device, fields that depend on a choice, live preview, printing by
// keyboard. The server alone decides what can be combined; this script sends it the form and replaces parts of the page.
"use strict";

const form = document.getElementById("desk");
const picker = document.getElementById("picker");
const find = document.getElementById("find");
const searchHint = document.getElementById("found");
const preview = document.getElementById("preview");
const noAnswer = document.getElementById("silent");
const stale = document.getElementById("stale");
const blank = document.getElementById("blank");
const cards = [...document.querySelectorAll(".card")];
const groups = [...document.querySelectorAll(".group")];
// Milliseconds from a change to the request. Two boxes ticked in a row make one request (common practice, no source).
const REFRESH_DELAY = 150;

// --- search for a device ------------------------------------------------------------------------------------------
let matches = [];
let highlighted = 0;

// 0 if the card's words begin with what was typed, 1 if another of its words does, else 2.
function rank(card, typed) {
  const words = card.dataset.words;
  return words.startsWith(typed) ? 0 : words.includes(" " + typed) ? 1 : 2;
}

function search() {
  const typed = find.value.trim().toLowerCase();
  const parts = typed.split(/\s+/);
  const isMatch = (card) => parts.every((part) => card.dataset.words.includes(part));
  for (const card of cards) card.hidden = !isMatch(card);
  for (const group of groups) group.hidden = !group.querySelector(".card:not([hidden])");
  matches = typed ? cards.filter((card) => !card.hidden) : [];
  const best = matches.reduce((a, b) => (rank(b, typed) < rank(a, typed) ? b : a), matches[0]);
  highlight(Math.max(0, matches.indexOf(best)));
  if (typed && !matches.length) searchHint.textContent = "Nothing has that name. Try another word, or part of one.";
}

function highlight(index, scroll = false) {
  for (const card of cards) card.classList.remove("next");
  if (!matches.length) return (searchHint.textContent = "");
  highlighted = (index + matches.length) % matches.length;
  const card = matches[highlighted];
  card.classList.add("next");
  if (scroll) card.scrollIntoView({ block: "nearest" });
  const name = card.querySelector("span").firstChild.data.trim();
  searchHint.textContent = `Enter takes “${name}”, ${highlighted + 1} of ${matches.length}. Arrows go to the others.`;
}

find.addEventListener("input", () => {
  search();
  scrollTo(0, Math.min(scrollY, picker.offsetTop));
});
find.addEventListener("keydown", (event) => {
  if (event.key === "ArrowDown" || event.key === "ArrowUp") highlight(highlighted + (event.key === "ArrowDown" ? 1 : -1), true);
  else if (event.key === "Enter" && !event.ctrlKey && matches.length) choose(matches[highlighted]);
  else return;
  event.preventDefault();
});
picker.querySelector("summary").addEventListener("click", (event) => {
  // Opened by the script, not by the browser afterwards, so that the first letter typed after opening is not lost.
  event.preventDefault();
  picker.open = !picker.open || !details().dataset.device;
  if (picker.open) find.focus();
});
for (const card of cards) {
  // A pointer chooses a card at once. Arrow keys only move between cards (their clicks have no detail); Enter chooses one.
  card.addEventListener("click", (event) => event.detail && choose(card));
  card.addEventListener("keydown", (event) => event.key === "Enter" && !event.ctrlKey && choose(card));
}
for (const limb of document.querySelectorAll(".limb")) {
  limb.addEventListener("click", () => {
    find.value = limb.textContent;
    search();
    find.focus();
  });
}

async function choose(card) {
  card.querySelector("input").checked = true;
  picker.open = false;
  find.value = "";
  search();
  if (!(await refresh())) return;
  const unanswered = [...details().querySelectorAll("fieldset:has([type=radio])")].find((set) => !set.querySelector(":checked"));
  (unanswered || details()).querySelector("input")?.focus();
}

// --- the parts of the page that depend on a choice ----------------------------------------------------------------
let pending = new AbortController();
let refreshTimer;
// True from an attempt to print until the form is complete; the server then also names what is missing.
let printRequested = false;

// Changes `old` to equal `fresh` but leaves equal nodes in place, so that focus and a half-typed date are not lost.
function morph(old, fresh) {
  for (const { name } of [...old.attributes]) if (!fresh.hasAttribute(name) && name !== "open") old.removeAttribute(name);
  for (const { name, value } of fresh.attributes) if (old.getAttribute(name) !== value) old.setAttribute(name, value);
  if (old.type === "radio" || old.type === "checkbox") old.checked = fresh.checked;
  let at = old.firstChild;
  for (const child of [...fresh.childNodes]) {
    let match = at;
    if (child.nodeType === Node.ELEMENT_NODE) while (match && !isSameKind(match, child)) match = match.nextSibling;
    if (!match || !isSameKind(match, child)) {
      old.insertBefore(child, at);
      continue;
    }
    while (at !== match) at = removeNode(at);
    at = match.nextSibling;
    if (child.nodeType === Node.ELEMENT_NODE) morph(match, child);
    else if (match.data !== child.data) match.data = child.data;
  }
  while (at) at = removeNode(at);
}

const isSameKind = (a, b) => a.nodeName === b.nodeName && a.id === b.id && a.className === b.className;

// Removes a node and returns the one after it.
function removeNode(node) {
  const next = node.nextSibling;
  node.remove();
  return next;
}

const details = () => document.getElementById("details");
const ready = () => details().dataset.ready === "yes";

// Sends the form and replaces the parts of the page. Returns false if there was no answer or a later change aborted it.
async function refresh() {
  clearTimeout(refreshTimer);
  if (details().dataset.device !== (form.elements.device.value || "")) {
    // Another device: its questions must be answered anew, and the sheet of the previous device must not stay in sight.
    for (const input of details().querySelectorAll("[name=material], [name=weight], [name=options]")) input.checked = false;
    for (const frame of preview.querySelectorAll("iframe")) frame.remove();
    blank.hidden = false;
    printRequested = false;
  }
  pending.abort();
  pending = new AbortController();
  const { signal } = pending;
  const body = new URLSearchParams(new FormData(form));
  if (printRequested) body.set("asked", "yes");
  try {
    const response = await fetch("/parts", { method: "POST", body, signal });
    if (![200, 400, 500].includes(response.status)) throw new Error(response.status);
    const parts = new DOMParser().parseFromString(await response.text(), "text/html");
    signal.throwIfAborted();
    for (const id of ["problems", "details", "output"]) morph(document.getElementById(id), parts.getElementById(id));
  } catch (error) {
    noAnswer.hidden = error.name === "AbortError";
    return false;
  }
  noAnswer.hidden = true;
  stale.hidden = ready() || !blank.hidden;
  if (ready()) {
    printRequested = false;
    updatePreview();
  }
  return true;
}

form.addEventListener("input", (event) => {
  // A card chosen by pointer has sent the form already, and closed the picker.
  if (event.target === find || (event.target.name === "device" && !picker.open)) return;
  // The response to an earlier request does not have this change and would undo it.
  pending.abort();
  clearTimeout(refreshTimer);
  refreshTimer = setTimeout(refresh, REFRESH_DELAY);
});

// --- the preview: a new frame loads behind the old one, so the last complete sheet stays until the next has loaded ------
let frameCount = 0;

// Posts the form to another address, into a frame or a window.
function submitTo(action, target) {
  const { action: originalAction } = form;
  Object.assign(form, { action, target });
  form.submit();
  Object.assign(form, { action: originalAction, target: "" });
}

function updatePreview() {
  const frame = document.createElement("iframe");
  frame.name = `sheet-${++frameCount}`;
  frame.title = "The sheet, as it will be printed";
  frame.className = "coming";
  preview.append(frame);
  frame.addEventListener("load", () => {
    if (frame.contentDocument.URL === "about:blank") return;
    const shown = preview.querySelector("iframe:not(.coming)");
    const top = shown?.contentWindow.scrollY || 0;
    frame.classList.remove("coming");
    // Only the frames before this one are older; one after it is newer and still loading.
    while (frame.previousElementSibling?.matches("iframe")) frame.previousElementSibling.remove();
    scalePreview();
    frame.contentWindow.scrollTo(0, top);
    blank.hidden = true;
  });
  submitTo("/preview", frame.name);
}

// Scales the sheet to the width of the preview.
function scalePreview() {
  const frame = preview.querySelector("iframe:not(.coming)");
  if (!frame) return;
  const width = frame.contentDocument.body.offsetWidth;
  const scale = preview.clientWidth / width;
  // Beside the form the sheet scrolls in its own column; below the form it has its full height.
  preview.style.height = sideBySide.matches ? "" : `${frame.contentDocument.documentElement.offsetHeight * scale}px`;
  frame.style.width = `${width}px`;
  frame.style.height = `${preview.clientHeight / scale}px`;
  frame.style.transform = `scale(${scale})`;
}
const sideBySide = matchMedia("(min-width: 68.75rem)"); // as in desk.css
new ResizeObserver(scalePreview).observe(preview);

// --- print --------------------------------------------------------------------------------------------------------
async function print() {
  printRequested = true;
  if (!(await refresh())) return;
  if (ready()) submitTo("/sheet.pdf", "_blank");
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
if (ready()) updatePreview();
