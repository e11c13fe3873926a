// The year as a carpet: a column a day, a row an hour. A finger, the pointer or the arrow keys choose
// a day; its hours, or those of a week or a month around it, are drawn below and can be zoomed.

const DAYS = 365;
const HOURS = 24;
const SERIES = ["pool", "without", "air", "heat", "pump"];
const MONTHS = "Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec".split(" ");
const BEFORE = [0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334, 365];
const STEPS = [1, 2, 3, 6, 12, 24, 48, 72, 168, 336, 744];
const SPANS = { day: 1, week: 7, month: 31, year: 365 };
const WATER = [10, 90, 136];
const HEAT = [165, 55, 10];

const mix = (ink, share) => ink.map((part) => Math.round(255 + (part - 255) * share));
const styles = () => getComputedStyle(document.documentElement);

class YearCarpet extends HTMLElement {
  static observedAttributes = ["source", "target"];

  connectedCallback() {
    if (this.canvas) return;
    this.day = 0;
    this.span = "week";
    this.canvas = document.createElement("canvas");
    this.canvas.tabIndex = 0;
    this.canvas.setAttribute("role", "slider");
    this.canvas.setAttribute("aria-label", "Day of the year");
    this.canvas.setAttribute("aria-valuemin", "1");
    this.canvas.setAttribute("aria-valuemax", String(DAYS));
    this.said = Object.assign(document.createElement("p"), { className: "said" });
    this.scale = Object.assign(document.createElement("div"), { className: "scale" });
    this.spans = Object.assign(document.createElement("div"), { className: "spans" });
    for (const name of Object.keys(SPANS)) {
      const button = Object.assign(document.createElement("button"), { type: "button", textContent: name });
      button.setAttribute("aria-pressed", String(name === this.span));
      button.onclick = () => this.#choose(this.day, name);
      this.spans.append(button);
    }
    this.plot = Object.assign(document.createElement("div"), { className: "hours" });
    this.append(this.canvas, this.scale, this.said, this.spans, this.plot);
    const follow = (event) => {
      const box = this.canvas.getBoundingClientRect();
      this.#choose(Math.floor(((event.clientX - box.left) / box.width) * DAYS), this.span);
    };
    this.canvas.addEventListener("pointerdown", (event) => {
      this.canvas.setPointerCapture(event.pointerId);
      follow(event);
    });
    this.canvas.addEventListener("pointermove", (event) => { if (event.buttons) follow(event); });
    this.canvas.addEventListener("keydown", (event) => {
      const steps = { ArrowLeft: -1, ArrowRight: 1, ArrowDown: -7, ArrowUp: 7, PageDown: -30,
        PageUp: 30, Home: -DAYS, End: DAYS };
      if (!(event.key in steps)) return;
      event.preventDefault();
      this.#choose(this.day + steps[event.key], this.span);
    });
    new ResizeObserver(() => {
      this.#draw();
      this.chart?.setSize({ width: this.clientWidth, height: 260 });
    }).observe(this);
    this.#load();
  }

  attributeChangedCallback() { if (this.canvas) this.#load(); }

  get target() { return Number(this.getAttribute("target")); }
  get unit() { return this.getAttribute("unit"); }
  get bare() { return this.getAttribute("bare"); }

  async #load() {
    const source = this.getAttribute("source");
    const reply = await fetch(source);
    if (!reply.ok || source !== this.getAttribute("source")) return;
    const all = new Float32Array(await reply.arrayBuffer());
    const length = all.length / SERIES.length;
    this.data = Object.fromEntries(
      SERIES.map((name, n) => [name, all.subarray(n * length, (n + 1) * length)]));
    this.#draw();
    this.#choose(this.day, this.span);
    this.dataset.drawn = source;
  }

  #draw() {
    if (!this.data?.pool.length) return;
    const { pool } = this.data;
    let [cold, warm] = [1, 1];
    for (const value of pool) {
      cold = Math.max(cold, this.target - value);
      warm = Math.max(warm, value - this.target);
    }
    this.reach = [cold, warm];
    const picture = new ImageData(DAYS, HOURS);
    for (let day = 0; day < DAYS; day++) {
      for (let hour = 0; hour < HOURS; hour++) {
        const off = pool[day * HOURS + hour] - this.target;
        const colour = off < 0 ? mix(WATER, -off / cold) : mix(HEAT, off / warm);
        picture.data.set([...colour, 255], ((HOURS - 1 - hour) * DAYS + day) * 4);
      }
    }
    this.picture = picture;
    this.#paint();
    this.#drawScale();
  }

  #paint() {
    if (!this.picture) return;
    const ratio = window.devicePixelRatio || 1;
    const width = Math.max(this.clientWidth, 200);
    const [left, foot, height] = [34, 18, width < 500 ? 150 : 190];
    this.canvas.width = width * ratio;
    this.canvas.height = height * ratio;
    this.canvas.style.height = `${height}px`;
    const pen = this.canvas.getContext("2d");
    pen.scale(ratio, ratio);
    const small = new OffscreenCanvas(DAYS, HOURS);
    small.getContext("2d").putImageData(this.picture, 0, 0);
    pen.imageSmoothingEnabled = false;
    const [wide, high] = [width - left, height - foot];
    pen.drawImage(small, left, 0, wide, high);
    const ink = styles().getPropertyValue("--ink");
    pen.strokeStyle = ink;
    pen.strokeRect(left + 0.5, 0.5, wide - 1, high - 1);
    pen.fillStyle = ink;
    pen.font = '12px "Source Sans 3", sans-serif';
    pen.textAlign = "right";
    for (const hour of [0, 6, 12, 18]) pen.fillText(`${hour} h`, left - 4, high - (hour / 24) * high - 2);
    pen.textAlign = "left";
    MONTHS.forEach((name, n) => {
      const at = left + (BEFORE[n] / DAYS) * wide;
      pen.fillRect(at, high, 1, 5);
      pen.fillText(width < 500 ? name[0] : name, at + 3, height - 5);
    });
    const [from, days] = this.#shown();
    pen.lineWidth = 2;
    pen.strokeRect(left + (from / DAYS) * wide, 1, Math.max((days / DAYS) * wide, 3), high - 2);
    this.left = left;
  }

  #drawScale() {
    const [cold, warm] = this.reach;
    this.scale.replaceChildren(
      `${(this.target - cold).toFixed(0)} ${this.unit}`,
      Object.assign(document.createElement("i"), { className: "ramp" }),
      `${(this.target + warm).toFixed(0)} ${this.unit}; white: the wanted ${this.target.toFixed(0)}`);
  }

  #shown() {
    const days = Math.min(SPANS[this.span], DAYS);
    const from = Math.min(Math.max(this.day - Math.floor(days / 2), 0), DAYS - days);
    return [from, days];
  }

  #choose(day, span) {
    this.day = Math.min(Math.max(day, 0), DAYS - 1);
    this.span = span;
    for (const button of this.spans.children)
      button.setAttribute("aria-pressed", String(button.textContent === span));
    this.canvas.setAttribute("aria-valuenow", String(this.day + 1));
    if (!this.data?.pool.length) return;
    const hours = this.data.pool.subarray(this.day * HOURS, (this.day + 1) * HOURS);
    const bare = this.data.without.subarray(this.day * HOURS, (this.day + 1) * HOURS);
    const mean = (values) => values.reduce((sum, value) => sum + value, 0) / HOURS;
    const heat = this.data.heat.subarray(this.day * HOURS, (this.day + 1) * HOURS);
    const text = `${this.#name(this.day)}: water ${Math.min(...hours).toFixed(1)} to ` +
      `${Math.max(...hours).toFixed(1)} ${this.unit}, ${this.bare} ${mean(bare).toFixed(1)} ${this.unit}; ` +
      `${heat.reduce((sum, value) => sum + value, 0).toFixed(0)} kWh from the roof`;
    this.said.textContent = text;
    this.canvas.setAttribute("aria-valuetext", text);
    this.#paint();
    clearTimeout(this.later);
    this.later = setTimeout(() => this.#zoom(), 60);
  }

  #name(day) {
    const month = BEFORE.findLastIndex((before) => before <= day);
    return `${MONTHS[month]} ${day - BEFORE[month] + 1}`;
  }

  async #zoom() {
    const { default: Plot } = await import("/fetched/uplot.js");
    const [from, days] = this.#shown();
    const [start, end] = [from * HOURS, (from + days) * HOURS];
    const cut = (name) => Array.from(this.data[name].subarray(start, end));
    const x = Array.from({ length: end - start }, (_, n) => start + n);
    const data = [x, cut("pool"), cut("without"), cut("air"), cut("heat")];
    const words = `${this.unit} ${this.bare} ${this.target}`;
    if (this.chart && this.drawnWords === words) { this.chart.setData(data); return; }
    this.chart?.destroy();
    this.drawnWords = words;
    const style = styles();
    const [ink, water, heat, rule] =
      ["--ink", "--water", "--heat", "--rule"].map((name) => style.getPropertyValue(name).trim());
    const axis = { font: '12px "Source Sans 3", sans-serif', stroke: ink, grid: { stroke: "#d4d9dc" } };
    const wanted = (u) => {
      const at = Math.round(u.valToPos(this.target, "y", true));
      u.ctx.save();
      u.ctx.strokeStyle = ink;
      u.ctx.setLineDash([10, 4, 2, 4]);
      u.ctx.beginPath();
      u.ctx.moveTo(u.bbox.left, at);
      u.ctx.lineTo(u.bbox.left + u.bbox.width, at);
      u.ctx.stroke();
      u.ctx.restore();
    };
    // Ticks at whole days, at the beginnings of months where there are many.
    const splits = (u, axis, low, high, step) => {
      const every = Math.ceil((12 * 60) / u.width);
      const found = high - low > 60 * HOURS
        ? BEFORE.slice(0, 12).filter((_, n) => n % every === 0).map((day) => day * HOURS)
        : Array.from({ length: Math.ceil((DAYS * HOURS) / step) }, (_, n) => n * step);
      return found.filter((hour) => hour >= low && hour <= high);
    };
    const dash = (u, n) => (u.series[n].dash ? "dashed" : "solid");
    const label = (hour) => `${this.#name(Math.floor(hour / HOURS))} ${Math.floor(hour % HOURS)} h`;
    this.chart = new Plot({
      width: this.clientWidth, height: 260, legend: { markers: { dash } }, hooks: { draw: [wanted] },
      scales: { x: { time: false }, kW: { range: (u, low, high) => [Math.min(low, 0), Math.max(high * 3, 1)] } },
      axes: [
        { ...axis, values: (u, ticks) => ticks.map((hour) => this.#name(Math.floor(hour / HOURS)) +
          (hour % HOURS ? ` ${hour % HOURS} h` : "")), space: 90, incrs: STEPS, splits },
        { ...axis, label: this.unit, size: 46, labelSize: 18 },
        { ...axis, scale: "kW", side: 1, label: "kW", grid: { show: false }, size: 40, labelSize: 18 },
      ],
      series: [
        { label: "hour", value: (u, hour) => hour == null ? "–" : label(hour) },
        { label: "with solar", stroke: water, width: 2 },
        { label: this.bare, stroke: water, width: 1.5, dash: [6, 4] },
        { label: "air", stroke: rule, width: 1 },
        { label: "solar heat", scale: "kW", stroke: heat, fill: "#9c330822", width: 1 },
      ],
    }, data, this.plot);
  }
}

customElements.define("year-carpet", YearCarpet);
