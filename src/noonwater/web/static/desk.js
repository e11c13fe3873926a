// The desk: sends what is typed, redraws by morphing, and never takes a letter from who is typing.

import { showConflicts } from "/static/conflicts.js";
import { Keeper } from "/static/keeper.js";
import { listText, showList } from "/static/toggles.js";

const IDLE = 700; // [ms] without a key until a field is sent that is still being typed in
const LOOK = 4000; // [ms] between looks for what other tabs did
const RETRIES = [500, 1000, 2000, 4000, 8000]; // [ms]
const SAID = {
  401: "this browser is let in no more: scan a new code",
  404: "this job is not in the desk’s data folder",
};

const desk = document.getElementById("desk");
const saved = document.getElementById("saved");
const { job, sheet } = desk.dataset;
const keeper = new Keeper(job);
let sending = false;
let failures = 0;
let timer = 0;
let trouble = "";

const revision = () => Number(document.getElementById("title-block").dataset.revision);

function say(text, open) {
  if (saved.textContent !== text) saved.textContent = text;
  saved.classList.toggle("open", open);
}

function redraw(html) {
  const typed = keeper.typed();
  for (const each of desk.querySelectorAll("[data-field]"))
    each.toggleAttribute("hx-morph-skip", typed.has(each.dataset.field));
  htmx.swap({ text: html, target: desk, swap: "innerMorph" });
  // A field that was typed in no longer follows its attribute: it is told what stands there now.
  for (const each of desk.querySelectorAll("[data-field]")) {
    if (each.hasAttribute("hx-morph-skip")) continue;
    const now = each.tagName === "SELECT"
      ? each.querySelector("option[selected]")?.value : each.getAttribute("value");
    if (now !== undefined && each.value !== now) each.value = now ?? "";
  }
  for (const group of desk.querySelectorAll("[data-list]"))
    showList(group, typed.get(group.dataset.list));
  document.dispatchEvent(new CustomEvent("noon:redrawn"));
}

async function send() {
  clearTimeout(timer);
  if (sending) return;
  const batch = keeper.batch();
  if (!batch) { say("saved", false); return; }
  sending = true;
  say("saving", false);
  try {
    const reply = await fetch(`/jobs/${job}/${sheet}/edit${location.search}`, {
      method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(batch),
    });
    if (!reply.ok) {
      if (!(await refused(reply))) throw new Error(String(reply.status));
      setTimeout(send);
      return;
    }
    const answer = await reply.json();
    keeper.done(answer.revision, answer.alone);
    failures = 0;
    trouble = "";
    tellConflicts(answer, batch.changes);
    redraw(answer.html);
    say(keeper.open ? "saving" : "saved", false);
  } catch {
    say(trouble || "not saved yet: kept here, will be sent again", true);
    timer = setTimeout(send, RETRIES[Math.min(failures++, RETRIES.length - 1)]);
    return;
  } finally {
    sending = false;
  }
  if (keeper.open) send();
}

// What the desk will never take must not hold up the rest. True where sending goes on at once.
async function refused(reply) {
  trouble = "";
  if (reply.status === 401) trouble = `${SAID[401]}; what you type is kept here`;
  if (reply.status === 404) return moved();
  if (reply.status !== 422) {
    const { detail } = await reply.json().catch(() => ({}));
    if (detail && !trouble) trouble = `not saved yet: ${detail}. What you type is kept here`;
    return false;
  }
  const single = keeper.refused();
  if (single) {
    keeper.tell({ ...single, yours: single.text, given: "the desk can’t take this" });
    showConflicts(keeper, take);
  }
  return true;
}

// The desk may have gone back to an older copy of its data: then it lacks the page's revision.
async function moved() {
  const head = await fetch(`/jobs/${job}/head`);
  if (!head.ok) { trouble = `${SAID[404]}; what you type is kept here`; return false; }
  const { revision: newest } = await head.json();
  if (newest >= revision()) return false;
  keeper.rebase(newest);
  return true;
}

function tellConflicts({ conflicts: found, refused: odd, revision: newest }, changes) {
  for (const each of found) {
    const act = changes.find((change) => change.field === each.field)?.act || "set";
    keeper.tell({ ...each, act, newest });
  }
  for (const { field, given } of odd) {
    const text = changes.find((change) => change.field === field)?.text || "";
    keeper.tell({ field, given, yours: text, act: "set" });
  }
  showConflicts(keeper, take);
}

function take(change, base) {
  keeper.put(change, base);
  send();
}

async function look(event) {
  if (keeper.alive()) { showConflicts(keeper, take); send(); }
  if (sending || keeper.open || document.hidden) return;
  try {
    const head = await asked(`/jobs/${job}/head`);
    if ((head.revision === revision() && event?.type !== "noon:stale") || keeper.open) return;
    const { html } = await asked(`/jobs/${job}/${sheet}/desk${location.search}`);
    if (!keeper.open) redraw(html);
    say("saved", false);
  } catch (error) {
    say(`${SAID[error.message] || "the desk does not answer"}; what you type is kept here`, true);
  }
}

async function asked(address) {
  const reply = await fetch(address);
  if (!reply.ok) throw new Error(String(reply.status));
  return reply.json();
}

function put(changes) {
  for (const change of changes) keeper.put(change, revision());
  send();
}

desk.addEventListener("input", ({ target }) => {
  const list = target.closest("[data-list]");
  if (list) {
    const text = listText(list, target);
    showList(list, text);
    put([{ field: list.dataset.list, text, act: "set" }]);
  }
  if (!target.dataset.field) return;
  keeper.put({ field: target.dataset.field, text: target.value, act: "set" }, revision());
  say("typing", false);
  clearTimeout(timer);
  timer = setTimeout(send, target.tagName === "SELECT" ? 0 : IDLE);
});
desk.addEventListener("change", ({ target }) => { if (target.dataset.field) send(); });
desk.addEventListener("keydown", (event) => {
  if (event.key === "Enter" && event.target.dataset.field) send();
});
// A link that asks for another look at the sheet leaves the page, and what is typed, where it is.
desk.addEventListener("click", (event) => {
  const link = event.target.closest("a[data-ask]");
  if (!link || event.ctrlKey || event.metaKey || event.shiftKey) return;
  event.preventDefault();
  history.pushState(null, "", link.getAttribute("href"));
  document.dispatchEvent(new CustomEvent("noon:stale"));
});
window.addEventListener("popstate", () => document.dispatchEvent(new CustomEvent("noon:stale")));
desk.addEventListener("click", ({ target }) => {
  const { add, remove, set, text } = target.dataset;
  if (set) put([{ field: set, text, act: "set" }]);
  if (add) put([{ field: add, text: "", act: "add" }]);
  if (remove) put([{ field: remove, text: "", act: "remove" }]);
});
// Drawings that can be touched give their edits to the same queue.
desk.addEventListener("noon:edit", ({ detail }) => put(detail.changes));
window.addEventListener("online", send);

// The desk makes only the drawing that fits the screen; another width asks for the other one.
const narrow = matchMedia("(max-width: 1000px)");
const tellWidth = () => {
  document.cookie = `noonwater-width=${narrow.matches ? "narrow" : "wide"}; path=/; SameSite=Strict`;
};
tellWidth();
narrow.addEventListener("change", () => {
  if (matchMedia("print").matches) return; // paper takes the drawing that is there
  tellWidth(); look(new Event("noon:stale")); });
document.addEventListener("noon:stale", look);
setInterval(look, LOOK);

for (const [field, text] of keeper.typed()) {
  const shown = desk.querySelector(`[data-field="${CSS.escape(field)}"]`);
  if (shown) shown.value = text;
  const group = desk.querySelector(`[data-list="${CSS.escape(field)}"]`);
  if (group) showList(group, text);
}
if (keeper.unsettled.length) showConflicts(keeper, take);
// A page that comes back as it was left knows nothing of what followed it.
window.addEventListener("pageshow", ({ persisted }) => { if (persisted) location.reload(); });
document.documentElement.dataset.ready = "yes";
if (keeper.open) send();
