// A day of the year in the steps in which it was computed: temperatures of panels, sensor and pool, the
// mark at which solar starts, and what the water does on the roof.

const SERIES = ["pool", "start", "sensor", "panels", "air", "heat", "power", "mode"];
const MONTHS = "Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec".split(" ");
const BEFORE = [0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334, 365];
const MODES = ["rests", "heats", "cools", "circulates against frost"];
const DAYS = 365;
const HEIGHT = 300;

const made = (tag, held, ...inside) => {
  const element = Object.assign(document.createElement(tag), held);
  element.append(...inside);
  return element;
};
const dayName = (day) => {
  const month = BEFORE.findLastIndex((before) => before <= day);
  return `${MONTHS[month]} ${day - BEFORE[month] + 1}`;
};
const clock = (minutes) =>
  `${String(Math.floor(minutes / 60)).padStart(2, "0")}:${String(Math.round(minutes % 60)).padStart(2, "0")}`;

class DayReplay extends HTMLElement {
  static observedAttributes = ["source", "days", "unit"];

  connectedCallback() {
    if (this.slider) return;
    this.picks = made("select", { ariaLabel: "Days worth a look" });
    this.slider = made("input", { type: "range", min: 0, max: DAYS - 1, ariaLabel: "Day that is replayed" });
    this.before = made("button", { type: "button", textContent: "Day before" });
    this.after = made("button", { type: "button", textContent: "Day after" });
    this.said = made("p", { className: "said" });
    this.said.setAttribute("aria-live", "polite");
    this.plot = made("div", { className: "hours" });
    this.append(
      made("div", { className: "chooser" }, this.picks, this.before, this.slider, this.after),
      this.said, this.plot);
    this.#fill();
    this.picks.onchange = () => { if (this.picks.value) this.#choose(Number(this.picks.value)); };
    this.slider.oninput = () => this.#choose(Number(this.slider.value));
    this.before.onclick = () => this.#choose(this.day - 1);
    this.after.onclick = () => this.#choose(this.day + 1);
    const first = JSON.parse(this.getAttribute("days")).find(([, why]) => why.includes("Apr"));
    this.#choose(first ? first[0] : 100);
    new ResizeObserver(() => this.chart?.setSize({ width: this.clientWidth, height: HEIGHT })).observe(this);
  }

  attributeChangedCallback(name) {
    if (!this.slider) return;
    if (name === "days") this.#fill();
    else this.#load();
  }

  get unit() { return this.getAttribute("unit"); }

  #fill() {
    const days = JSON.parse(this.getAttribute("days"));
    this.picks.replaceChildren(made("option", { value: "", textContent: "days worth a look" }),
      ...days.map(([day, why]) => made("option", { value: day, textContent: `${dayName(day)}: ${why}` })));
    if (this.day !== undefined) this.#mark();
  }

  #mark() {
    this.slider.value = this.day;
    this.slider.setAttribute("aria-valuetext", dayName(this.day));
    const found = [...this.picks.options].find((each) => each.value === String(this.day));
    this.picks.value = found ? found.value : "";
  }

  #choose(day) {
    this.day = (day + DAYS) % DAYS;
    this.#mark();
    clearTimeout(this.later);
    this.later = setTimeout(() => this.#load(), 40);
  }

  async #load() {
    const source = `${this.getAttribute("source")}&day=${this.day}`;
    this.wanted = source;
    const reply = await fetch(source);
    if (!reply.ok || this.wanted !== source) return;
    const all = new Float32Array(await reply.arrayBuffer());
    if (this.wanted !== source) return;
    const length = all.length / SERIES.length;
    this.data = Object.fromEntries(
      SERIES.map((name, n) => [name, all.subarray(n * length, (n + 1) * length)]));
    this.step = 1440 / length;
    this.#say();
    await this.#draw();
    this.dataset.drawn = source;
  }

  // Stretches of the day in which the water does one thing on the roof.
  #stretches() {
    const found = [];
    this.data.mode.forEach((mode, n) => {
      const last = found.at(-1);
      if (last?.mode === mode) last.end = n + 1;
      else found.push({ mode, start: n, end: n + 1 });
    });
    return found.filter(({ mode }) => mode > 0);
  }

  #say() {
    const runs = this.#stretches();
    const hours = this.step / 60;
    const sum = (values) => values.reduce((total, value) => total + value, 0) * hours;
    const times = runs.slice(0, 4).map(({ mode, start, end }) =>
      `${MODES[mode]} ${clock(start * this.step)} to ${clock(end * this.step)}`);
    if (runs.length > 4) times.push(`and ${runs.length - 4} more times`);
    const low = Math.min(...this.data.pool).toFixed(1);
    const high = Math.max(...this.data.pool).toFixed(1);
    this.said.textContent = `${dayName(this.day)}: solar ${times.join(", ") || "rests all day"}; ` +
      `${sum(this.data.heat).toFixed(0)} kWh to the pool, ${sum(this.data.power).toFixed(1)} kWh of the pump; ` +
      `pool ${low} to ${high} ${this.unit}.`;
  }

  async #draw() {
    const { default: Plot } = await import("/fetched/uplot.js");
    const x = Array.from(this.data.pool, (_, n) => (n + 1) * this.step);
    const data = [x, ...["panels", "sensor", "start", "pool", "air"].map((name) => Array.from(this.data[name]))];
    if (this.chart && this.drawnUnit === this.unit) { this.chart.setData(data); return; }
    this.chart?.destroy();
    this.drawnUnit = this.unit;
    const style = getComputedStyle(document.documentElement);
    const [ink, water, heat, rule, grid] = ["--ink", "--water", "--heat", "--rule", "--grid"]
      .map((name) => style.getPropertyValue(name).trim());
    const axis = { font: '12px "Source Sans 3", sans-serif', stroke: ink, grid: { stroke: grid } };
    const value = (u, number) => (number == null ? "–" : `${number.toFixed(1)} ${this.unit}`);
    const dash = (u, n) => (u.series[n].dash ? "dashed" : "solid");
    this.chart = new Plot({
      width: this.clientWidth, height: HEIGHT, legend: { markers: { dash } }, hooks: { drawAxes: [(u) => this.#bands(u, water, heat)] },
      scales: { x: { time: false, range: [0, 1440] } },
      axes: [
        { ...axis, incrs: [60, 120, 180, 240, 360], values: (u, ticks) => ticks.map(clock), space: 60 },
        { ...axis, label: this.unit, size: 46, labelSize: 18 },
      ],
      series: [
        { label: "until", value: (u, at) => (at == null ? "–" : clock(at)) },
        { label: "panels", stroke: heat, width: 2, value },
        { label: "sensor", stroke: heat, width: 1.5, dash: [6, 4], value },
        { label: "solar starts above", stroke: ink, width: 1, dash: [2, 3], value },
        { label: "pool", stroke: water, width: 2.5, value },
        { label: "air", stroke: rule, width: 1, value },
      ],
    }, data, this.plot);
  }

  // What the water does on the roof, as hatched bands behind the lines.
  #bands(u, water, heat) {
    const { ctx, bbox } = u;
    ctx.save();
    for (const { mode, start, end } of this.#stretches()) {
      const left = u.valToPos(start * this.step, "x", true);
      const right = u.valToPos(end * this.step, "x", true);
      ctx.fillStyle = mode === 1 ? "#fbeadf" : "#c9e0ec";
      ctx.fillRect(left, bbox.top, right - left, bbox.height);
      ctx.strokeStyle = mode === 1 ? heat : water;
      ctx.strokeRect(left, bbox.top, right - left, bbox.height);
      if (mode === 1) continue;
      ctx.beginPath();
      ctx.rect(left, bbox.top, right - left, bbox.height);
      ctx.clip();
      ctx.beginPath();
      for (let at = left - bbox.height; at < right; at += mode === 2 ? 24 : 10) {
        ctx.moveTo(at, bbox.top + bbox.height);
        ctx.lineTo(at + bbox.height, bbox.top);
      }
      ctx.stroke();
      ctx.restore();
      ctx.save();
    }
    ctx.restore();
  }
}

customElements.define("day-replay", DayReplay);
