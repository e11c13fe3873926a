// Forms of a sheet that act at once: sent without leaving the page, and what hinders is told beside.

document.addEventListener("submit", async (event) => {
  const form = event.target;
  if (!form.matches("form[data-now]")) return;
  event.preventDefault();
  let said = form.querySelector("[data-said]");
  if (!said) {
    said = Object.assign(document.createElement("p"), { className: "wrong" });
    said.setAttribute("role", "status");
    said.dataset.said = "";
    form.append(said);
  }
  said.textContent = "";
  const sender = event.submitter;
  const body = new FormData(form, sender);
  const plain = form.enctype !== "multipart/form-data";
  try {
    const reply = await fetch(sender?.getAttribute("formaction") || form.action, {
      method: "POST", body: plain ? new URLSearchParams(body) : body,
    });
    if (!reply.ok) {
      const answer = await reply.json();
      said.textContent = typeof answer.detail === "string" ? answer.detail : "This can’t be used.";
      return;
    }
    form.reset();
    document.dispatchEvent(new CustomEvent("noon:stale"));
  } catch {
    said.textContent = "The desk does not answer; what you typed is still here. Send it again.";
  }
});
