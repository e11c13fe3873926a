// Keeps what was typed until the desk has it: in order, across a slow link, a restart, a reload.
//
// A change waits in `waiting`, goes out as one batch in `flying` and leaves when the answer is there.
// A batch without an answer goes out again as it was: the desk knows it by its key.

const STALE = 15000; // [ms] A tab that has not been heard of for so long is gone.

export class Keeper {
  constructor(job, storage = localStorage) {
    this.job = job;
    this.storage = storage;
    this.tab = sessionStorage.getItem("noonwater-tab") || crypto.randomUUID();
    sessionStorage.setItem("noonwater-tab", this.tab);
    this.key = `noonwater ${job} ${this.tab}`;
    this.state = this.#read(this.key) || { waiting: [], flying: null };
    this.#adopt();
    this.#write();
  }

  put(change, base) {
    const same = (each) => each.act === "set" && each.field === change.field;
    if (change.act === "set") {
      const old = this.state.waiting.find(same);
      if (old) { old.text = change.text; this.#write(); return; }
    }
    this.state.waiting.push({ ...change, base });
    this.#write();
  }

  // The batch to send, or null: one base at a time.
  batch() {
    if (this.state.flying) return this.state.flying;
    if (!this.state.waiting.length) return null;
    const base = this.state.waiting[0].base;
    const changes = this.state.waiting.filter((each) => each.base === base);
    this.state.waiting = this.state.waiting.filter((each) => each.base !== base);
    this.state.flying = { base, key: crypto.randomUUID(), tab: this.tab,
      changes: changes.map(({ field, text, act }) => ({ field, text, act })) };
    this.#write();
    return this.state.flying;
  }

  // The batch has its answer: what was typed meanwhile in its fields was typed on top of it.
  done(revision) {
    const sent = new Set(this.state.flying.changes.map((each) => each.field));
    for (const each of this.state.waiting) if (sent.has(each.field)) each.base = revision;
    this.state.flying = null;
    this.#write();
  }

  get open() { return this.state.waiting.length + (this.state.flying ? 1 : 0); }

  // What was typed last in each field that is not safe yet.
  typed() {
    const found = new Map();
    for (const each of [...(this.state.flying?.changes || []), ...this.state.waiting])
      if (each.act === "set") found.set(each.field, each.text);
    return found;
  }

  alive() { this.#write(); }

  #adopt() {
    // What a closed tab could not send is sent by the next one that opens the job.
    for (let n = this.storage.length - 1; n >= 0; n--) {
      const key = this.storage.key(n);
      if (!key.startsWith(`noonwater ${this.job} `) || key === this.key) continue;
      const other = this.#read(key);
      if (!other || Date.now() - other.seen < STALE) continue;
      const lost = other.flying
        ? other.flying.changes.map((each) => ({ ...each, base: other.flying.base })) : [];
      this.state.waiting.push(...lost.filter((each) => each.act === "set"), ...other.waiting);
      this.storage.removeItem(key);
    }
  }

  #read(key) {
    try { return JSON.parse(this.storage.getItem(key)); } catch { return null; }
  }

  #write() {
    this.storage.setItem(this.key, JSON.stringify({ ...this.state, seen: Date.now() }));
  }
}
