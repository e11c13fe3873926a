// Long work: asks for it, shows how far it is, ends it, shows what came of it. It asks by itself,
// outside what an edit redraws; a reload of the page finds it where it is.

const LOOK = 400; // [ms] between two looks while it runs

class LongWork extends HTMLElement {
  static observedAttributes = ["content"];

  connectedCallback() {
    if (this.box) return;
    this.box = Object.assign(document.createElement("div"), { className: "long" });
    this.append(this.box);
    // The page of a table does not know its content: the key is kept over a reload.
    this.memory = this.hasAttribute("table") ? `noonwater long ${this.getAttribute("source")}` : "";
    if (this.memory) this.key = localStorage.getItem(this.memory);
    if (!this.memory || this.key) this.#look();
  }

  disconnectedCallback() { clearTimeout(this.timer); }

  attributeChangedCallback(name, before, now) {
    if (this.box && before !== now && !this.hasAttribute("table")) this.#look();
  }

  // A table of options to run: asked for by the form around it.
  async send(form) { await this.#ask("POST", new FormData(form)); }

  async #look() { await this.#ask("GET"); }

  async #ask(method, body) {
    clearTimeout(this.timer);
    const turn = this.turn = (this.turn || 0) + 1;
    const own = this.hasAttribute("table") || method === "DELETE" ? this.key : this.getAttribute("content");
    const query = method !== "POST" && own ? `?key=${own}` : "";
    try {
      const reply = await fetch(this.getAttribute("source") + query, { method, body });
      const answer = await reply.json();
      if (turn !== this.turn) return;
      if (!reply.ok) { this.#draw({ stage: "failed", words: answer.detail }); return; }
      this.key = answer.key;
      if (this.memory && answer.stage === "none") localStorage.removeItem(this.memory);
      else if (this.memory) localStorage.setItem(this.memory, this.key);
      this.#draw(answer);
      if (answer.stage === "runs" || answer.stage === "waits")
        this.timer = setTimeout(() => this.#look(), LOOK);
    } catch {
      if (turn !== this.turn) return;
      this.#draw({ stage: "lost", words: "The desk does not answer; the work goes on when it does." });
      this.timer = setTimeout(() => this.#look(), 4 * LOOK);
    }
  }

  #button(text, act) {
    const button = Object.assign(document.createElement("button"), { type: "button", textContent: text });
    button.onclick = act;
    return button;
  }

  #draw({ stage, done, of, words, html }) {
    if (stage === "runs" || stage === "waits") {
      if (!this.progress?.isConnected) {
        this.progress = document.createElement("progress");
        this.progress.setAttribute("aria-label", this.getAttribute("ask"));
        this.said = Object.assign(document.createElement("p"), { className: "note" });
        this.said.setAttribute("role", "status");
        const cancel = this.#button("Cancel", () => this.#ask("DELETE"));
        const had = this.contains(document.activeElement);
        this.box.replaceChildren(this.progress, this.said, cancel);
        if (had) cancel.focus();
      }
      if (of) { this.progress.max = of; this.progress.value = done; }
      else this.progress.removeAttribute("value");
      if (this.said.textContent !== words) this.said.textContent = words;
      return;
    }
    const had = this.contains(document.activeElement);
    const parts = [];
    if (words) {
      const said = Object.assign(document.createElement("p"), { className: "wrong", textContent: words });
      said.setAttribute("role", "status");
      parts.push(said);
    }
    if (stage === "done") {
      const shown = document.createElement("div");
      shown.tabIndex = -1;
      shown.innerHTML = html; // The desk's own, its texts escaped there.
      parts.push(shown);
    } else if (stage !== "lost" && !this.hasAttribute("table")) {
      parts.push(this.#button(this.getAttribute("ask"), () => this.#ask("POST")));
    }
    this.box.replaceChildren(...parts);
    if (had) (this.box.querySelector("button") || this.box.lastElementChild)?.focus();
    this.dispatchEvent(new CustomEvent("noon:long", { bubbles: true, detail: { stage } }));
  }
}

customElements.define("long-work", LongWork);

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!form.matches("form[data-long]")) return;
  event.preventDefault();
  document.getElementById(form.dataset.long).send(form);
});
