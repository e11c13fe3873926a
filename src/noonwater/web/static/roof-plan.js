// The roof's drawing comes from the desk; here it is made to be touched. A step of a bank, by pointer,
// finger or key, is an edit like any other: the desk redraws. While a bank is drawn, a ghost shows how
// many panels it will have, or which plane it will lie on; the edit is sent when it is let go.

import { draws, Ghost } from "/static/ghost.js";

const FIELD = (bank) => `array.banks[${bank.dataset.bank}]`;

const within = (count) => Math.min(Math.max(count, 1), 60);

class RoofPlan extends HTMLElement {
  connectedCallback() {
    if (this.ready) return;
    this.ready = true;
    this.ghost = new Ghost();
    draws(this, ".bank");
    this.addEventListener("pointerdown", (event) => this.#take(event));
    this.addEventListener("pointermove", (event) => this.#draw(event));
    this.addEventListener("pointerup", (event) => this.#drop(event));
    this.addEventListener("pointercancel", () => this.#end());
    this.addEventListener("keydown", (event) => this.#key(event));
    // A bank that moved is another mark of the drawing: the focus follows it.
    document.addEventListener("noon:redrawn", () => {
      if (!this.focused || document.activeElement !== document.body) return;
      document.getElementById(this.focused)?.focus({ preventScroll: true });
    });
    this.addEventListener("focusin", ({ target }) => { this.focused = target.closest(".bank")?.id; });
    this.addEventListener("focusout", ({ relatedTarget }) => { if (relatedTarget) this.focused = null; });
  }

  #edit(bank, key, text) {
    const change = { field: `${FIELD(bank)}.${key}`, text: String(text), act: "set" };
    this.dispatchEvent(new CustomEvent("noon:edit", { bubbles: true, detail: { changes: [change] } }));
  }

  #panels(bank, count) {
    const wanted = within(count);
    if (wanted === Number(bank.getAttribute("aria-valuenow"))) return false;
    // Told at once: the next key counts from here even before the desk has answered.
    bank.setAttribute("aria-valuenow", wanted);
    this.#edit(bank, "panels", wanted);
    return true;
  }

  #planes(bank) {
    const names = [...bank.closest("svg").querySelectorAll(".plane")].map((p) => p.dataset.plane);
    return { names, at: names.indexOf(bank.closest(".plane").dataset.plane) };
  }

  #key(event) {
    const bank = event.target.closest(".bank");
    if (!bank) return;
    const steps = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1 };
    const turns = { PageDown: 1, PageUp: -1 };
    if (event.key in steps) {
      this.#panels(bank, Number(bank.getAttribute("aria-valuenow")) + steps[event.key]);
    } else if (event.key in turns) {
      const { names, at } = this.#planes(bank);
      const next = names[(at + turns[event.key] + names.length) % names.length];
      if (next !== names[at]) this.#edit(bank, "roof", next);
    } else return;
    event.preventDefault();
  }

  #take(event) {
    const bank = event.target.closest(".bank");
    if (!bank || event.button) return;
    this.setPointerCapture(event.pointerId);
    const count = Number(bank.getAttribute("aria-valuenow"));
    this.held = {
      id: bank.id, x: event.clientX, y: event.clientY, grip: Boolean(event.target.closest(".grip")),
      count, to: count, step: Number(bank.dataset.step) * this.#scale(bank),
    };
    bank.focus({ preventScroll: true });
    event.preventDefault();
  }

  #bank() { return this.held && document.getElementById(this.held.id); }

  #draw(event) {
    const bank = this.#bank();
    if (!bank) return;
    const [dx, dy] = [event.clientX - this.held.x, event.clientY - this.held.y];
    if (this.held.grip) this.#drawEnd(bank, dx);
    else this.#drawBank(bank, dx, dy, event);
  }

  #drawEnd(bank, dx) {
    this.held.to = within(this.held.count + Math.round(dx / this.held.step));
    const { left, top, height } = bank.querySelector(".panel").getBoundingClientRect();
    const words = this.held.to === 1 ? "1 panel" : `${this.held.to} panels`;
    this.ghost.show({ left, top, width: this.held.to * this.held.step, height }, words);
  }

  #drawBank(bank, dx, dy, event) {
    const scale = this.#scale(bank);
    bank.setAttribute("style", `translate: ${dx / scale}px ${dy / scale}px`);
    const plane = this.#planeAt(bank, event);
    if (!plane || plane === bank.closest(".plane")) this.ghost.hide();
    else this.ghost.show(plane.querySelector(".edge").getBoundingClientRect(),
      `onto ${plane.dataset.plane}`);
  }

  #scale(bank) { return bank.closest("svg").getScreenCTM().a; }

  #drop(event) {
    const bank = this.#bank();
    const plane = bank && !this.held.grip ? this.#planeAt(bank, event) : null;
    let sent = false;
    if (bank && this.held.grip) sent = this.#panels(bank, this.held.to);
    else if (plane && plane !== bank.closest(".plane")) {
      this.#edit(bank, "roof", plane.dataset.plane);
      sent = true;
    }
    this.#end(sent);
  }

  #planeAt(bank, { clientX: x, clientY: y }) {
    return [...bank.closest("svg").querySelectorAll(".plane")].find((plane) => {
      const box = plane.querySelector(".edge").getBoundingClientRect();
      return x >= box.left && x <= box.right && y >= box.top && y <= box.bottom;
    });
  }

  #end(sent) {
    this.#bank()?.removeAttribute("style");
    this.held = null;
    if (sent) this.ghost.leave();
    else this.ghost.hide();
  }
}

customElements.define("roof-plan", RoofPlan);
