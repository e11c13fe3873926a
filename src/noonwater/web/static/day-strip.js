// The day's strip comes from the desk; here the ends of its bars are made to be touched. A move of an
// end, by pointer, finger or key, is an edit of the period's start or stop like any other.

const STEP = 15; // [min]

const clock = (minutes) =>
  `${String(Math.floor(minutes / 60)).padStart(2, "0")}:${String(minutes % 60).padStart(2, "0")}`;

class DayStrip extends HTMLElement {
  connectedCallback() {
    if (this.ready) return;
    this.ready = true;
    this.addEventListener("pointerdown", (event) => this.#take(event));
    this.addEventListener("pointermove", (event) => this.#draw(event));
    this.addEventListener("pointerup", () => { this.held = null; });
    this.addEventListener("pointercancel", () => { this.held = null; });
    this.addEventListener("keydown", (event) => this.#key(event));
  }

  #set(end, minutes) {
    const value = (name) => Number(end.getAttribute(`aria-value${name}`));
    const wanted = Math.min(Math.max(minutes, value("min")), value("max"));
    if (wanted === value("now")) return;
    // Told at once: the next key counts from here even before the desk has answered.
    end.setAttribute("aria-valuenow", wanted);
    const change = { field: `pump.program[${end.dataset.period}].${end.dataset.end}`,
      text: clock(wanted), act: "set" };
    this.dispatchEvent(new CustomEvent("noon:edit", { bubbles: true, detail: { changes: [change] } }));
  }

  #key(event) {
    const end = event.target.closest(".end");
    const steps = { ArrowRight: STEP, ArrowUp: STEP, ArrowLeft: -STEP, ArrowDown: -STEP,
      PageUp: 60, PageDown: -60 };
    if (!end || !(event.key in steps)) return;
    event.preventDefault();
    const now = Number(end.getAttribute("aria-valuenow"));
    this.#set(end, Math.round((now + steps[event.key]) / STEP) * STEP);
  }

  #take(event) {
    const end = event.target.closest(".end");
    if (!end || event.button) return;
    this.setPointerCapture(event.pointerId);
    this.held = { id: end.id, off: Number(end.getAttribute("aria-valuenow")) - this.#minutes(end, event) };
    end.focus({ preventScroll: true });
    event.preventDefault();
  }

  #draw(event) {
    const end = this.held && document.getElementById(this.held.id);
    if (!end) return;
    this.#set(end, Math.round((this.#minutes(end, event) + this.held.off) / STEP) * STEP);
  }

  #minutes(end, { clientX }) {
    const { left, minute } = end.closest(".day").dataset;
    const { a, e } = end.closest("svg").getScreenCTM();
    return ((clientX - e) / a - Number(left)) / Number(minute);
  }
}

customElements.define("day-strip", DayStrip);
