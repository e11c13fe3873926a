// The day's strip comes from the desk; here the ends of its bars are made to be touched. A move of an
// end, by pointer, finger or key, is an edit of the period's start or stop like any other. While an end
// is drawn, a ghost of the bar shows what will be; the edit is sent when it is let go.

import { draws, Ghost } from "/static/ghost.js";

const STEP = 15; // [min]

const clock = (minutes) =>
  `${String(Math.floor(minutes / 60)).padStart(2, "0")}:${String(minutes % 60).padStart(2, "0")}`;
const value = (end, name) => Number(end.getAttribute(`aria-value${name}`));
const within = (end, minutes) => Math.min(Math.max(minutes, value(end, "min")), value(end, "max"));

class DayStrip extends HTMLElement {
  connectedCallback() {
    if (this.ready) return;
    this.ready = true;
    this.ghost = new Ghost();
    draws(this, ".end");
    this.addEventListener("pointerdown", (event) => this.#take(event));
    this.addEventListener("pointermove", (event) => this.#draw(event));
    this.addEventListener("pointerup", () => this.#drop());
    this.addEventListener("pointercancel", () => { this.held = null; this.ghost.hide(); });
    this.addEventListener("keydown", (event) => this.#key(event));
  }

  #set(end, minutes) {
    const wanted = within(end, minutes);
    if (wanted === value(end, "now")) return false;
    // Told at once: the next key counts from here even before the desk has answered.
    end.setAttribute("aria-valuenow", wanted);
    const change = { field: `pump.program[${end.dataset.period}].${end.dataset.end}`,
      text: clock(wanted), act: "set" };
    this.dispatchEvent(new CustomEvent("noon:edit", { bubbles: true, detail: { changes: [change] } }));
    return true;
  }

  #key(event) {
    const end = event.target.closest(".end");
    const steps = { ArrowRight: STEP, ArrowUp: STEP, ArrowLeft: -STEP, ArrowDown: -STEP,
      PageUp: 60, PageDown: -60 };
    if (!end || !(event.key in steps)) return;
    event.preventDefault();
    this.#set(end, Math.round((value(end, "now") + steps[event.key]) / STEP) * STEP);
  }

  #take(event) {
    const end = event.target.closest(".end");
    if (!end || event.button) return;
    this.setPointerCapture(event.pointerId);
    this.held = { id: end.id, off: value(end, "now") - this.#minutes(end, event), to: value(end, "now") };
    end.focus({ preventScroll: true });
    event.preventDefault();
    this.#show(end);
  }

  #end() { return this.held && document.getElementById(this.held.id); }

  #draw(event) {
    const end = this.#end();
    if (!end) return;
    this.held.to = within(end, Math.round((this.#minutes(end, event) + this.held.off) / STEP) * STEP);
    this.#show(end);
  }

  // The bar as it will be; one over midnight is shown to the edge of the day.
  #show(end) {
    const day = end.closest(".day");
    const other = day.querySelector(
      `.end[data-period="${end.dataset.period}"]:not([data-end="${end.dataset.end}"])`);
    const [start, stop] = end.dataset.end === "start"
      ? [this.held.to, value(other, "now")] : [value(other, "now"), this.held.to];
    const { a, e } = end.closest("svg").getScreenCTM();
    const at = (minutes) => (Number(day.dataset.left) + minutes * Number(day.dataset.minute)) * a + e;
    const { top, height } = end.querySelector("line").getBoundingClientRect();
    const [first, last] = stop > start ? [start, stop]
      : end.dataset.end === "start" ? [start, 24 * 60] : [0, stop];
    this.ghost.show({ left: at(first), top, width: at(last) - at(first), height },
      `${clock(start)} to ${clock(stop)}`);
  }

  #drop() {
    const end = this.#end();
    if (end && this.#set(end, this.held.to)) this.ghost.leave();
    else this.ghost.hide();
    this.held = null;
  }

  #minutes(end, { clientX }) {
    const { left, minute } = end.closest(".day").dataset;
    const { a, e } = end.closest("svg").getScreenCTM();
    return ((clientX - e) / a - Number(left)) / Number(minute);
  }
}

customElements.define("day-strip", DayStrip);
