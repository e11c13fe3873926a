// A page away from the desk: keeps what is typed and ticked, and writes it to a file.
"use strict";
(() => {
  const base = JSON.parse(document.getElementById("base").textContent);
  const survey = document.getElementById("survey");
  const kept = document.getElementById("kept");
  const place = `noonwater away ${base.page}`;
  const state = Object.assign({ id: "", typed: {}, adds: [], notes: {}, blanks: {}, turn: 0 }, read());
  if (!state.id) state.id = [...crypto.getRandomValues(new Uint8Array(8))]
    .map((byte) => byte.toString(16).padStart(2, "0")).join("");
  let exported = true;

  // Some browsers keep nothing for a file, or are late to write it down before a reload: then the
  // page's own entry in the history keeps it. The later of the two is taken.
  function read() {
    const entry = history.state && history.state[place] || {};
    try {
      const text = localStorage.getItem(place);
      const found = text ? JSON.parse(text) : {};
      return (found.turn || 0) >= (entry.turn || 0) ? found : entry;
    } catch { return entry; }
  }

  function write() {
    let where = "kept on this phone";
    state.turn += 1;
    try { localStorage.setItem(place, JSON.stringify(state)); } catch {
      try {
        history.replaceState({ ...history.state, [place]: state }, "");
        where = "kept while this page is open: export before you close it";
      } catch { where = "this browser keeps nothing: export before you close the page"; }
    }
    say(where);
  }

  function enter() {
    try { history.replaceState({ ...history.state, [place]: state }, ""); } catch { /* kept above */ }
  }

  function say(where) {
    const count = Object.keys(survey ? { ...state.typed, ...state.notes } : state.blanks).length
      + state.adds.length;
    kept.textContent = count ? `${count} ${survey ? "changes" : "ticked or written"}, ${where}` : kept.textContent;
    const text = document.getElementById("text");
    if (text) text.value = JSON.stringify(written(), null, 1);
  }

  function written() {
    const changes = state.adds.map((field) => ({ field, text: "", act: "add" }));
    for (const [field, text] of Object.entries(state.typed)) changes.push({ field, text, act: "set" });
    return { ...base, page: `${base.page}-${state.id}`, changes, notes: state.notes };
  }

  // A further item is a copy of the last one, as the desk adds it.
  function add(field) {
    const button = survey.querySelector(`[data-add="${CSS.escape(field)}"]`);
    const all = button.closest(".items").querySelectorAll(":scope > .item");
    const last = all[all.length - 1];
    if (!last) return;
    const [old, now] = [all.length - 1, all.length];
    const item = last.cloneNode(true);
    for (const each of [item, ...item.querySelectorAll("*")]) {
      for (const attribute of [...each.attributes])
        attribute.value = attribute.value
          .replaceAll(`${field}[${old}]`, `${field}[${now}]`)
          .replaceAll(`-${field}-${old}`, `-${field}-${now}`);
    }
    const legend = item.querySelector("legend");
    if (legend) legend.textContent = legend.textContent.replace(/\d+$/, String(now + 1));
    for (const each of item.querySelectorAll("[data-field]")) {
      const twin = last.querySelector(`[data-field="${CSS.escape(each.dataset.field.replace(`[${now}]`, `[${old}]`))}"]`);
      each.value = each.dataset.field.endsWith(".name") ? `${twin.value} ${now + 1}` : twin.value;
    }
    last.after(item);
    return item;
  }

  function note(target) {
    const group = target.closest("[data-list]");
    if (group) {
      const text = listText(group, target);
      state.typed[group.dataset.list] = text;
      showList(group, text);
    } else if (target.dataset.field) state.typed[target.dataset.field] = target.value;
    else if (target.dataset.note) state.notes[target.dataset.note] = target.value;
    else if (target.name) state.blanks[target.name] = target.type === "checkbox" ? target.checked : target.value;
    else return;
    exported = !survey;
    write();
  }

  document.addEventListener("input", ({ target }) => note(target));
  document.addEventListener("change", enter);
  document.addEventListener("click", ({ target }) => {
    const field = target.dataset && target.dataset.add;
    if (!field || !survey) return;
    const item = add(field);
    if (!item) return;
    state.adds.push(field);
    for (const each of item.querySelectorAll("[data-field]")) if (each.value) note(each);
    write();
    item.querySelector("input").focus();
  });

  const button = document.getElementById("export");
  if (button) button.addEventListener("click", () => {
    const link = document.createElement("a");
    const name = document.title.split(":")[0].toLowerCase().replace(/[^a-z0-9]+/g, "-").slice(0, 60);
    link.href = URL.createObjectURL(new Blob([JSON.stringify(written())], { type: "application/json" }));
    link.download = `${name || "job"}-typed.json`;
    document.body.append(link);
    link.click();
    link.remove();
    exported = true;
    kept.textContent = `exported as ${link.download}; what was typed stays here too`;
  });
  window.addEventListener("beforeunload", (event) => {
    enter();
    let safe = true;
    try { localStorage.getItem(place); } catch { safe = false; }
    if (!safe && !exported) event.preventDefault();
  });

  for (const field of state.adds) add(field);
  for (const [field, text] of Object.entries(state.typed)) {
    const group = document.querySelector(`[data-list="${CSS.escape(field)}"]`);
    if (group) showList(group, text);
    else put(`[data-field="${CSS.escape(field)}"]`, text);
  }
  for (const [key, text] of Object.entries(state.notes)) put(`[data-note="${CSS.escape(key)}"]`, text);
  for (const [name, text] of Object.entries(state.blanks)) put(`[name="${CSS.escape(name)}"]`, text);
  say("kept on this phone");

  function put(selector, value) {
    const found = document.querySelector(selector);
    if (!found) return;
    if (found.type === "checkbox") found.checked = value === true;
    else found.value = value;
  }
})();
