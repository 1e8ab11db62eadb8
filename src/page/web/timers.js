// Timers that ring: several at once, each named after its step. They are kept in the browser, so that they go on over
// steps and reloads. A range rings twice: for a look at its lower end, and at its upper end.

/** Longer waits are for a calendar. */
const LONGEST = 24 * 3600;
/** A bell that nobody hears stops after so many rings. */
const RINGS = 40;

class Timers {
  constructor(words, store, place) {
    Object.assign(this, { words, store, place });
    this.running = store.read("timers", []).filter(({ low, high, name }) => Number.isFinite(low) && Number.isFinite(high) && typeof name === "string");
    this.title = document.title;
    this.rings = 0;
    if (this.running.length) this.tick();
  }

  static fits(seconds) {
    return seconds !== null && Number(seconds[1]) <= LONGEST && Number(seconds[0]) > 0;
  }

  /** Starts one; the tap that does it also lets the page sound. */
  start(name, shown, [low, high]) {
    this.wake();
    const now = Date.now();
    this.running.push({ name, shown, low: now + Number(low) * 1000, high: now + Number(high) * 1000, looked: low === high });
    this.keep();
    this.tick();
  }

  wake() {
    const Sound = globalThis.AudioContext ?? globalThis.webkitAudioContext;
    if (!Sound) return;
    this.sound ??= new Sound();
    this.sound.resume?.();
  }

  keep() {
    this.store.write("timers", this.running);
  }

  /** Once a second while there is anything to time. */
  tick() {
    clearTimeout(this.next);
    const now = Date.now();
    const due = this.running.filter((timer) => now >= (timer.looked ? timer.high : timer.low));
    this.draw(now);
    if (due.length && this.rings < RINGS) {
      this.ring();
      this.rings += 1;
    }
    if (!due.length) this.rings = 0;
    const [first] = due;
    document.title = first ? `${this.saying(first, now)}: ${first.name} · ${this.title}` : this.title;
    if (this.running.length) this.next = setTimeout(() => this.tick(), 1000 - (now % 1000) || 1000);
  }

  saying(timer, now) {
    if (now >= timer.high) return this.words["live-timer-up"];
    return this.words["live-timer-look"];
  }

  /** Three short tones, and a buzz where there is one. */
  ring() {
    navigator.vibrate?.([200, 100, 200]);
    if (!this.sound || this.sound.state !== "running") return;
    const start = this.sound.currentTime;
    for (const at of [0, 0.18, 0.36]) {
      const tone = this.sound.createOscillator();
      const level = this.sound.createGain();
      tone.type = "triangle";
      tone.frequency.value = 880;
      level.gain.setValueAtTime(0, start + at);
      level.gain.linearRampToValueAtTime(0.5, start + at + 0.02);
      level.gain.linearRampToValueAtTime(0, start + at + 0.14);
      tone.connect(level).connect(this.sound.destination);
      tone.start(start + at);
      tone.stop(start + at + 0.15);
    }
    this.rung = (this.rung ?? 0) + 1;
  }

  /** The strip of what is timed, a line each; lines that stay are kept, so that a finger finds its button. */
  draw(now) {
    const { place } = this;
    if (!place) return;
    const list = find("ul", place);
    while (list.children.length > this.running.length) list.lastElementChild.remove();
    this.running.forEach((timer, at) => {
      const line = list.children[at] ?? list.appendChild(this.line());
      const due = now >= (timer.looked ? timer.high : timer.low);
      line.classList.toggle("due", due);
      write(find(".name", line), `${timer.name} · ${timer.shown}`);
      write(find(".left", line), clock((now < timer.low ? timer.low : timer.high) - now));
      write(find(".call", line), due ? this.saying(timer, now) : "");
      const stop = find("button", line);
      const over = now >= timer.high;
      const label = due && !over ? this.words["live-timer-seen"] : filled(this.words["live-timer-stop"], { step: timer.name });
      if (stop.getAttribute("aria-label") !== label) {
        stop.setAttribute("aria-label", label);
        stop.replaceChildren(due && !over ? "✓" : "×");
      }
      stop.onclick = () => this.stop(timer, due && !over);
    });
    place.hidden = this.running.length === 0;
    document.documentElement.classList.toggle("timing", this.running.length > 0);
  }

  line() {
    return made("li", {}, made("span", { class: "name" }), made("span", { class: "left", role: "timer" }),
      made("span", { class: "call", role: "alert" }), made("button", { type: "button" }));
  }

  /** Ends a timer; one that asked for a look goes on to its upper end. */
  stop(timer, seen) {
    this.rings = 0;
    if (seen) timer.looked = true;
    else this.running = this.running.filter((other) => other !== timer);
    this.keep();
    this.tick();
  }
}

/** "4:05", "1:02:03"; over time counts up with a plus. */
function clock(milliseconds) {
  const over = milliseconds < 0;
  const seconds = over ? Math.floor(-milliseconds / 1000) : Math.ceil(milliseconds / 1000);
  const two = (number) => String(number).padStart(2, "0");
  const [hours, minutes] = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60];
  const text = hours ? `${hours}:${two(minutes)}:${two(seconds % 60)}` : `${minutes}:${two(seconds % 60)}`;
  return over ? `+${text}` : text;
}
