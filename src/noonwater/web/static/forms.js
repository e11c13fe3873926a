// Plain forms: keep what is typed until it is sent, send a choice when it is made.

for (const form of document.querySelectorAll("form[data-sends]")) {
  const button = form.querySelector("button");
  button.hidden = true;
  form.addEventListener("change", () => form.requestSubmit(button));
}

for (const form of document.querySelectorAll("form[data-keep]")) {
  const key = `noonwater form ${form.dataset.keep}`;
  const told = form.querySelector("[role=alert]");
  const fields = () => [...form.elements].filter((each) => each.name && each.type !== "hidden");
  if (!told) {
    const held = JSON.parse(sessionStorage.getItem(key) || "{}");
    for (const each of fields()) if (each.name in held) each.value = held[each.name];
  }
  form.addEventListener("input", () => {
    sessionStorage.setItem(key, JSON.stringify(Object.fromEntries(fields().map((each) => [each.name, each.value]))));
  });
  form.addEventListener("submit", () => sessionStorage.removeItem(key));
  const wrong = form.querySelector("[aria-invalid=true]");
  if (wrong) wrong.focus();
}
document.documentElement.dataset.ready = "yes";
