// What a drag will make of a drawing, shown at once: an outline and a few words over the page. It lies
// outside of what is redrawn, so an answer that comes meanwhile does not take it away.

const STAYS = 6000; // [ms] after the drag where no answer comes: the field then says what is set

// A finger on such a mark draws it and does not scroll the page. The rule touch-action says so too, but
// it is not heeded everywhere on parts of a drawing that have no paint.
export function draws(element, marks) {
  element.addEventListener("touchstart", (event) => {
    if (event.target.closest(marks)) event.preventDefault();
  }, { passive: false });
}

export class Ghost {
  constructor() {
    this.box = document.createElement("div");
    this.box.className = "ghost";
    this.box.setAttribute("aria-hidden", "true");
    this.box.hidden = true;
    this.words = document.createElement("span");
    this.box.append(this.words);
    document.body.append(this.box);
    document.addEventListener("noon:redrawn", () => { if (this.left) this.hide(); });
  }

  // Place of the outline on the screen, as getBoundingClientRect gives it; no wider than the page.
  show({ left, top, width, height }, words) {
    clearTimeout(this.timer);
    this.left = false;
    const room = document.documentElement.clientWidth - left - 2;
    Object.assign(this.box.style, {
      left: `${left + scrollX}px`, top: `${top + scrollY}px`,
      width: `${Math.max(Math.min(width, room), 1)}px`, height: `${height}px`,
    });
    this.box.classList.toggle("late", left > document.documentElement.clientWidth / 2);
    if (this.words.textContent !== words) this.words.textContent = words;
    this.box.hidden = false;
  }

  // The finger is off: the outline stays until the desk has redrawn.
  leave() {
    this.left = true;
    this.timer = setTimeout(() => this.hide(), STAYS);
  }

  hide() {
    clearTimeout(this.timer);
    this.left = false;
    this.box.hidden = true;
  }
}
