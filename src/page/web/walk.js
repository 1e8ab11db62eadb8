// The steps one at a time, large: what each takes, what is ticked off, what is timed, and the screen kept awake.

/** What is kept in the browser for one recipe; a browser that keeps nothing is no reason to stop. */
class Store {
  constructor(recipe) {
    this.prefix = `${recipe}:`;
  }

  read(name, otherwise) {
    try {
      const kept = JSON.parse(localStorage.getItem(this.prefix + name));
      return Array.isArray(kept) ? kept : otherwise;
    } catch {
      return otherwise;
    }
  }

  write(name, value) {
    try {
      if (value.length) localStorage.setItem(this.prefix + name, JSON.stringify(value));
      else localStorage.removeItem(this.prefix + name);
    } catch {
      // Kept for this visit alone.
    }
  }
}

/** A swipe is at least so many pixels, and more across than down. */
const SWIPE = 60;

class Walk {
  constructor(words, store, timers, dialog) {
    Object.assign(this, { words, store, timers, dialog });
    this.ticks = new Set(store.read("ticks", []));
    this.at = 0;
    if (!dialog) return;
    for (const opener of every("[data-walk]")) opener.addEventListener("click", () => this.open(Number(opener.dataset.walk)));
    this.part("[data-go=back]").addEventListener("click", () => this.go(this.at - 1));
    this.part("[data-go=on]").addEventListener("click", () => this.go(this.at + 1));
    this.part("[data-go=close]").addEventListener("click", () => dialog.close());
    this.part("[data-go=clear]").addEventListener("click", () => this.clear());
    this.part("#step-done").addEventListener("change", ({ target }) => this.tick(`step ${this.step.id}`, target.checked));
    dialog.addEventListener("close", () => this.closed());
    dialog.addEventListener("keydown", (event) => this.key(event));
    dialog.addEventListener("touchstart", ({ changedTouches: [touch] }) => { this.touch = touch; }, { passive: true });
    dialog.addEventListener("touchend", ({ changedTouches: [touch] }) => this.swiped(touch), { passive: true });
    document.addEventListener("visibilitychange", () => !document.hidden && dialog.open && this.stayAwake());
  }

  part(selector) {
    return find(selector, this.dialog);
  }

  get step() {
    return this.sheet.steps[this.at];
  }

  /** The page's sheet changed. */
  show(sheet) {
    this.sheet = sheet;
    this.marks();
    if (this.dialog?.open) this.draw();
  }

  open(at) {
    this.dialog.showModal();
    // What is timed stays in sight and in reach.
    if (this.timers.place) this.dialog.append(this.timers.place);
    this.timers.wake();
    this.go(at);
    this.stayAwake();
  }

  closed() {
    if (this.timers.place) document.body.append(this.timers.place);
    this.lock?.release?.().catch(() => {});
    this.lock = null;
  }

  async stayAwake() {
    const told = this.part("#awake");
    try {
      const lock = await navigator.wakeLock.request("screen");
      // Left before the browser had answered: nothing would ever let go of it.
      if (!this.dialog.open) return void lock.release();
      this.lock = lock;
      write(told, this.words["live-awake"]);
    } catch {
      write(told, this.words["live-asleep"]);
    }
  }

  go(at) {
    this.at = Math.min(Math.max(at, 0), this.sheet.steps.length - 1);
    this.draw();
    this.part("h2").focus();
    this.dialog.scrollTop = 0;
  }

  draw() {
    const { step, at, sheet, words } = this;
    const count = sheet.steps.length;
    write(this.part("#walk-at"), filled(words["live-walk-at"], { step: String(at + 1), steps: String(count) }));
    this.part("h2").replaceChildren(...nodes(step.title));
    this.part("#walk-text").replaceChildren(...step.text.map((paragraph) => made("p", {}, nodes(paragraph))));
    this.fillList("#walk-uses", step.uses.map((use, index) => this.use(use, index)));
    this.fillList("#walk-times", step.measures.filter(({ seconds }) => Timers.fits(seconds)).map((measure) => this.timed(measure)));
    this.part("#walk-chips").replaceChildren(...step.measures.filter(({ seconds }) => !Timers.fits(seconds)).map(({ shown }) => made("li", {}, shown)));
    this.part("#walk-chips").hidden = !this.part("#walk-chips").children.length;
    this.part("#step-done").checked = this.ticks.has(`step ${step.id}`);
    this.part("[data-go=back]").disabled = at === 0;
    this.part("[data-go=on]").disabled = at === count - 1;
    this.part("#staff").replaceChildren(...sheet.steps.map((other, index) => {
      const done = this.ticks.has(`step ${other.id}`);
      const mark = made("button", { type: "button", "aria-current": index === at && "step", class: done && "done" }, String(index + 1));
      mark.setAttribute("aria-label", `${filled(words["live-walk-at"], { step: String(index + 1), steps: String(count) })}: ${plain(other.title)}`);
      mark.addEventListener("click", () => this.go(index));
      return made("li", {}, mark);
    }));
    const moment = find(`[data-step="${step.id}"] [data-moment]`);
    const link = this.part("#walk-moment");
    if (link) {
      link.hidden = !moment;
      if (moment) {
        link.href = moment.href;
        write(link, moment.textContent);
      }
    }
  }

  fillList(selector, lines) {
    const block = this.part(selector);
    block.hidden = !lines.length;
    find("ul", block).replaceChildren(...lines);
  }

  /** An amount to tick off. */
  use({ id, amount, name }, index) {
    const key = `use ${this.step.id} ${id} ${index}`;
    const box = made("input", { type: "checkbox", checked: this.ticks.has(key) });
    box.addEventListener("change", () => this.tick(key, box.checked));
    const toTaste = amount === this.sheet.kitchen.taste;
    return made("li", {}, made("label", {}, box, made("span", { class: "name" }, name), " ", made("b", { class: toTaste ? "quiet" : "" }, amount)));
  }

  timed({ shown, seconds }) {
    const button = made("button", { type: "button" }, shown);
    button.setAttribute("aria-label", filled(this.words["live-timer-start"], { time: shown }));
    button.addEventListener("click", () => this.timers.start(plain(this.step.title), shown, seconds));
    return made("li", {}, button);
  }

  tick(key, on) {
    if (on) this.ticks.add(key);
    else this.ticks.delete(key);
    this.store.write("ticks", [...this.ticks]);
    this.marks();
    const index = this.sheet.steps.findIndex(({ id }) => key === `step ${id}`);
    this.part("#staff")?.children[index]?.firstChild.classList.toggle("done", on);
  }

  clear() {
    this.ticks.clear();
    this.store.write("ticks", []);
    this.marks();
    this.draw();
  }

  /** Steps that are done, on the page behind. */
  marks() {
    for (const { id } of this.sheet.steps) find(`[data-step="${id}"]`)?.classList.toggle("done", this.ticks.has(`step ${id}`));
  }

  key(event) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const onControl = event.target.closest("button, input, a");
    const moves = { ArrowRight: 1, PageDown: 1, ArrowLeft: -1, PageUp: -1 };
    if (event.key in moves) this.go(this.at + moves[event.key]);
    else if (event.key === "Home") this.go(0);
    else if (event.key === "End") this.go(this.sheet.steps.length - 1);
    else if (event.key === " " && !onControl) {
      this.tick(`step ${this.step.id}`, true);
      this.go(this.at + 1);
    } else return;
    event.preventDefault();
  }

  swiped(touch) {
    const [across, down] = [touch.clientX - this.touch.clientX, touch.clientY - this.touch.clientY];
    if (Math.abs(across) >= SWIPE && Math.abs(across) > 2 * Math.abs(down)) this.go(this.at + (across < 0 ? 1 : -1));
  }
}
