// The telephone away from the desk: says of each reading whether it is as it should be, and what
// can be wrong.
"use strict";
(() => {
  const { tables, causes, rules } = JSON.parse(document.getElementById("base").textContent);
  const sky = document.getElementById("sky");
  const number = (text) => Number(text.trim().replace(/\s/g, "").replace(",", "."));

  function placeOf(field) {
    const table = tables[field.dataset.state];
    return [table, table.readings.findIndex((each) => each.key === field.dataset.key)];
  }

  function verdict(field) {
    const [table, place] = placeOf(field);
    const reading = table.readings[place];
    const right = showsOf(table, sky.value, 0)[place];
    if (!field.value || !right) return "";
    if (reading.choices)
      return right[reading.choices.indexOf(field.value)] >= rules.seldom ? "as it should be" : "not as it should be";
    const told = number(field.value);
    if (Number.isNaN(told)) return `a number in ${field.dataset.unit} alone: other units are read at the desk`;
    if (told < reading.low || told > reading.high) return "hardly what was read: it does not count";
    const [low, high] = [-1, 1].map((side) => right[0] + side * rules.ends * right[1]);
    return told < low ? "too low" : told > high ? "too high" : "as it should be";
  }

  function mark(field) {
    const said = document.getElementById(field.dataset.said);
    const words = verdict(field);
    said.textContent = words;
    said.classList.toggle("off", words !== "as it should be");
  }

  function toldIn(state) {
    const told = {};
    for (const field of document.querySelectorAll(`[data-state="${state}"]`)) {
      const [table, place] = placeOf(field);
      const reading = table.readings[place];
      if (!field.value) continue;
      const value = reading.choices ? field.value : number(field.value);
      if (reading.choices || (value >= reading.low && value <= reading.high)) told[reading.key] = value;
    }
    return told;
  }

  function line(tag, text, kind = "") {
    const element = document.createElement(tag);
    element.textContent = text;
    element.className = kind;
    return element;
  }

  function causeLine([key, chance]) {
    const words = causes[key];
    const [word, about] = inWords(chance, rules);
    const item = line("li", "", word);
    const first = line("p", `: ${word}, ${about}`);
    first.prepend(line("b", words.name));
    item.append(first, line("p", words.changes, "note"));
    if (word !== "unlikely") {
      item.append(line("p", words.do));
      if (words.caution) item.append(line("p", words.caution, "caution"));
    }
    return item;
  }

  function tell(state) {
    const told = toldIn(state);
    const found = Object.keys(told).length ? weighed(tables[state], rules, sky.value, told) : [];
    const shown = found.filter(([, chance], n) => n < rules.fewest || (n < rules.most && chance >= rules.least));
    document.getElementById(`wrong-${state}`).hidden = !shown.length;
    document.getElementById(`causes-${state}`).replaceChildren(...shown.map(causeLine));
  }

  function tellAll() {
    for (const field of document.querySelectorAll("[data-said]")) {
      const words = tables[field.dataset.state].skies[sky.value].words[field.dataset.key];
      if (words !== undefined) document.getElementById(field.dataset.expected).textContent = words;
      mark(field);
    }
    tables.forEach((_, state) => tell(state));
  }

  document.addEventListener("input", ({ target }) => {
    if (target === sky) tellAll();
    else if (target.dataset.said) { mark(target); tell(Number(target.dataset.state)); }
  });
  tellAll();
})();
