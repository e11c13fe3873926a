// The telephone away from the desk: says of each reading whether it is as it should be.
"use strict";
(() => {
  const number = (text) => Number(text.trim().replace(/\s/g, "").replace(",", "."));

  function mark(field) {
    const said = document.getElementById(field.dataset.said);
    const text = field.value;
    let words = "";
    if (text && field.dataset.right !== undefined)
      words = JSON.parse(field.dataset.right).includes(text) ? "as it should be" : "not as it should be";
    else if (text && Number.isNaN(number(text)))
      words = `a number in ${field.dataset.unit} alone: other units are read at the desk`;
    else if (text)
      words = number(text) < Number(field.dataset.low) ? "too low"
        : number(text) > Number(field.dataset.high) ? "too high" : "as it should be";
    said.textContent = words;
    said.classList.toggle("off", words !== "as it should be");
  }

  const fields = document.querySelectorAll("[data-said]");
  for (const field of fields) if (field.value) mark(field);
  document.addEventListener("input", ({ target }) => { if (target.dataset.said) mark(target); });
})();
