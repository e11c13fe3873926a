// Keeps what was typed until the desk has it: in order, across a slow link, a restart, a reload.
//
// A change waits in `waiting`, goes out as one batch in `flying` and leaves when the answer is there.
// A batch without an answer goes out again as it was: the desk knows it by its key.
// Conflicts that nobody has settled yet are kept too: they hold the only copy of what was typed.

const STALE = 15000; // [ms] A tab that has not been heard of for so long is gone.
const NAME = "noonwater-tab";

// A phone reaches the desk without TLS: there the browser has no crypto.randomUUID.
function unique() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

// A change with the number that its item has after another was taken out; none of that very item.
function renumbered(change, gone) {
  const [, list, number] = gone.match(/^(.*)\[(\d+)\]$/) || [];
  if (list === undefined || !change.field.startsWith(`${list}[`)) return [change];
  const end = change.field.indexOf("]", list.length);
  const own = Number(change.field.slice(list.length + 1, end));
  if (own === Number(number)) return [];
  return [own < number ? change : { ...change, field: `${list}[${own - 1}${change.field.slice(end)}` }];
}

export class Keeper {
  constructor(job, storage = localStorage) {
    this.job = job;
    this.storage = storage;
    // A tab leaves its name only for the page that follows it: a duplicate of the tab gets its own.
    this.tab = sessionStorage.getItem(NAME) || unique();
    sessionStorage.removeItem(NAME);
    window.addEventListener("pagehide", () => sessionStorage.setItem(NAME, this.tab));
    this.key = `noonwater ${job} ${this.tab}`;
    this.state = { waiting: [], flying: null, unsettled: [], ...this.#read(this.key) };
    this.adopt();
    this.#write();
  }

  put(change, base) {
    if (change.act === "set") {
      // Not before an item that is added or taken out: it may have another number then.
      const from = this.state.waiting.findLastIndex((each) => each.act !== "set") + 1;
      const old = this.state.waiting.slice(from).find((each) => each.field === change.field);
      if (old) { old.text = change.text; this.#write(); return; }
    }
    this.state.waiting.push({ ...change, base });
    this.#write();
  }

  // The batch to send, or null: one base at a time, and nothing after an item that is taken out,
  // since what was typed next has the numbers of the page that still showed it.
  batch() {
    if (this.state.flying) return this.state.flying;
    if (!this.state.waiting.length) return null;
    const base = this.state.waiting[0].base;
    const most = this.alone ? 1 : this.state.waiting.length;
    if (this.alone) this.alone -= 1;
    let count = 0;
    while (count < most && this.state.waiting[count].base === base)
      if (this.state.waiting[count++].act === "remove") break;
    const changes = this.state.waiting.splice(0, count);
    this.state.flying = { base, key: unique(), tab: this.tab,
      changes: changes.map(({ field, text, act }) => ({ field, text, act })) };
    this.#write();
    return this.state.flying;
  }

  // The batch has its answer: what was typed meanwhile in its fields was typed on top of it; all of
  // it, where nobody else has written since.
  done(revision, alone) {
    const { changes } = this.state.flying;
    const sent = new Set(changes.map((each) => each.field));
    for (const each of this.state.waiting) if (alone || sent.has(each.field)) each.base = revision;
    for (const { field, act } of changes)
      if (act === "remove")
        this.state.waiting = this.state.waiting.flatMap((each) => renumbered(each, field));
    this.state.flying = null;
    this.#write();
  }

  // The desk refuses the batch: of several changes each goes alone, a single one is given back.
  refused() {
    const { base, changes } = this.state.flying;
    this.state.flying = null;
    if (changes.length > 1) this.state.waiting.unshift(...changes.map((each) => ({ ...each, base })));
    this.alone = changes.length > 1 ? changes.length : 0;
    this.#write();
    return changes.length > 1 ? null : changes[0];
  }

  // The desk has no such revision any more: what was typed goes onto the one that it has.
  rebase(revision) {
    const flying = this.state.flying ? this.state.flying.changes : [];
    this.state.waiting = [...flying, ...this.state.waiting].map((each) => ({ ...each, base: revision }));
    this.state.flying = null;
    this.#write();
  }

  // Conflicts stay until they are settled, over a reload too.
  tell(conflict) {
    if (this.state.unsettled.some((each) => each.field === conflict.field && each.yours === conflict.yours)) return;
    this.state.unsettled.push(conflict);
    this.#write();
  }

  settle(conflict) {
    this.state.unsettled = this.state.unsettled.filter(
      (each) => each.field !== conflict.field || each.yours !== conflict.yours);
    this.#write();
  }

  get unsettled() { return [...this.state.unsettled]; }

  get open() { return this.state.waiting.length + (this.state.flying ? 1 : 0); }

  // What was typed last in each field that is not safe yet.
  typed() {
    const found = new Map();
    for (const each of [...(this.state.flying?.changes || []), ...this.state.waiting])
      if (each.act === "set") found.set(each.field, each.text);
    return found;
  }

  // Still there; true where a closed tab left something.
  alive() {
    const found = this.adopt();
    this.#write();
    return found;
  }

  adopt() {
    let found = false;
    // What a closed tab could not send is sent by the next one that opens the job.
    for (let n = this.storage.length - 1; n >= 0; n--) {
      const key = this.storage.key(n);
      if (!key.startsWith(`noonwater ${this.job} `) || key === this.key) continue;
      const other = this.#read(key);
      // A clock that was set back must not keep a closed tab alive.
      if (!other || Math.abs(Date.now() - other.seen) < STALE) continue;
      const lost = other.flying
        ? other.flying.changes.map((each) => ({ ...each, base: other.flying.base })) : [];
      this.state.waiting.push(...lost.filter((each) => each.act === "set"), ...other.waiting);
      this.state.unsettled.push(...(other.unsettled || []));
      this.storage.removeItem(key);
      found = true;
    }
    return found;
  }

  #read(key) {
    try { return JSON.parse(this.storage.getItem(key)); } catch { return null; }
  }

  #write() {
    try {
      this.storage.setItem(this.key, JSON.stringify({ ...this.state, seen: Date.now() }));
    } catch { /* A full storage must not keep what is typed from being sent. */ }
  }
}
