// The sentence that says how much to make, and the address that keeps it. Every blank of the sentence can be filled in;
// the others follow. Must not know how figures come about.

/** How long after the last key the outcome is read out, in milliseconds. */
const PAUSE = 500;

class Yield {
  constructor(pattern, words, view, shown) {
    Object.assign(this, { pattern, words, view, shown });
    this.form = find("#yield");
    this.status = find("#outcome");
    this.state = { at: 0, kind: null, texts: [], asked: {} };
    this.follow(true);
    addEventListener("hashchange", () => this.follow(false));
    if (this.form) this.listen();
  }

  /** What the address asks for; one that asks for nothing leaves all as it is. */
  follow(first) {
    const fragment = location.hash.includes("=") ? location.hash : first ? location.search.replace("?", "#") : "";
    try {
      const state = /[#&](makes|batch|have|times|variant)=/.test(fragment) ? askedIn(fragment, this.pattern) : this.state;
      if (first || fragment) this.show(state, null);
    } catch (fault) {
      if (!(fault instanceof Refused)) throw fault;
      if (first) this.show(this.state, null);
      this.refuse(fault);
    }
  }

  /** Shows a state, or throws why it can't be had and leaves all as it is. `typed` is the field that asked for it. */
  show(state, typed) {
    const { at, asked } = state;
    const sheet = new Sheet(this.pattern, at, factorOf(this.pattern, this.pattern.variants[at], asked));
    this.state = state;
    this.sheet = sheet;
    this.view.show(sheet);
    this.fill(typed);
    this.address();
    this.tell(this.summary());
    this.shown(sheet);
  }

  summary() {
    const { yields: made, cost } = this.sheet;
    const known = () => this.view.say("labelled", { label: this.view.labels(this.sheet).total, text: cost.total });
    return [made.pieces, made.total, this.sheet.variant.title, cost.complete ? cost.total : known(), cost.each && this.per(cost.each)]
      .filter((text) => text).join(" · ");
  }

  per(each) {
    return this.view.say("labelled", { label: this.form?.dataset.per ?? "", text: each });
  }

  /** Says how it stands, once a person pauses; what the figures below do not show stands on the page, too. */
  tell(text, seen = false) {
    if (!this.status) return;
    clearTimeout(this.pending);
    const now = () => {
      write(this.status, text);
      this.status.classList.toggle("told", seen);
    };
    if (this.told === undefined) now();
    else this.pending = setTimeout(now, PAUSE);
    this.told = text;
  }

  refuse({ why, about }) {
    const named = this.sheet ? this.named(about) : about;
    const still = this.words["live-still"].replace("{yield}", this.summary());
    this.tell(`${filled(this.words[`live-refused-${why}`], { about: named })} ${still}`, true);
  }

  /** What an item on hand is called. */
  named(item) {
    const { pattern } = this;
    const { parts } = pattern.variants[this.state.at];
    for (const [index, part] of parts.entries()) {
      const at = part.lines.findIndex((line, place) => line.item === item || pattern.parts[index].keys[place] === item);
      if (at >= 0) return part.lines[at].name;
    }
    return item;
  }

  /** The fields as they stand now; the one that is typed in is left alone. */
  fill(typed) {
    if (!this.form) return;
    const [makes, batch, times, variant] = ["makes", "batch", "times", "variant"].map((name) => find(`[name=${name}]`, this.form));
    const { state, sheet } = this;
    const put = (field, text) => {
      if (!field) return;
      if (field !== typed) field.value = text;
      field.removeAttribute("aria-invalid");
    };
    put(makes, state.kind === "makes" ? state.texts[0] : sheet.batch.pieces && sheet.batch.pieces[1].toString());
    put(batch, this.typed(state.kind === "batch" ? state.texts[0] : this.basis()));
    put(times, this.typed(state.kind === "times" ? state.texts[0] : this.factor()));
    if (variant) variant.value = this.pattern.variants[state.at].id ?? "";
    if (typed?.closest(".have")) this.another();
    else this.haves();
    for (const line of every("[data-kind]", this.form)) line.classList.toggle("leads", line.dataset.kind === (state.kind ?? ""));
    find("#as-written").disabled = state.kind === null && state.at === 0;
  }

  /** The weight of the basis, in digits that can be typed again. */
  basis() {
    const { basis } = this.sheet.batch.main;
    if (!basis) return "";
    const { kitchen } = this.sheet;
    const shown = kitchen.weight(basis).value;
    if (!kitchen.pounds) return `${decimalText(shown)} g`;
    return `${decimalText(shown.over(kitchen.ounce).roundPlaces(3))} oz`;
  }

  factor() {
    const { factor } = this.sheet.batch;
    return this.sheet.notation.mixed(factor) ? mixedText(factor) : decimalText(weigh(factor, ratio(1, 100)));
  }

  /** A text of ours as a person here would type it, and back. */
  typed(text) {
    return text.replaceAll(".", this.pattern.notation.point);
  }

  plainly(text) {
    const { point, group } = this.pattern.notation;
    // Where the point is a comma, a point may group: "1.200" is asked about rather than guessed at.
    if (point !== "." && group === "." && /\d\.\d{3}(?!\d)/.test(text)) throw new Refused("number", text);
    return point === "." ? text : text.replaceAll(point, ".");
  }

  /** A line for each thing on hand, the last one empty. */
  haves() {
    const list = find("#haves", this.form);
    if (!list) return;
    const entries = this.state.kind === "have" ? this.state.texts.map((text) => text.split(/=(.*)/s).slice(0, 2)) : [];
    const rows = every(".have", list);
    const first = rows[0];
    while (list.children.length > entries.length + 1) list.lastElementChild.remove();
    while (list.children.length < entries.length + 1) list.append(first.cloneNode(true));
    every(".have", list).forEach((row, index) => {
      const [item, amount] = entries[index] ?? ["", ""];
      this.options(find("select", row), item.trim());
      find("input", row).value = this.typed(amount.trim());
      find("input", row).removeAttribute("aria-invalid");
    });
  }

  /** One more line where the last is filled in; lines that a person is at stay as they are. */
  another() {
    const list = find("#haves", this.form);
    const last = list.lastElementChild;
    every("input", list).forEach((field) => field.removeAttribute("aria-invalid"));
    if (!find("select", last).value || !find("input", last).value.trim()) return;
    const row = last.cloneNode(true);
    this.options(find("select", row), "");
    find("input", row).value = "";
    list.append(row);
  }

  /** Items that are weighed, in the order of the formula; one that is meant by another name stays what it is. */
  options(select, chosen) {
    const seen = new Map();
    for (const part of this.sheet.batch.parts) {
      for (const line of part.lines) {
        if (line.item !== null && line.grams && !seen.has(line.item)) seen.set(line.item, lineName(this.sheet.notation, line));
      }
    }
    if (chosen && !seen.has(chosen)) seen.set(chosen, this.named(chosen));
    const blank = made("option", { value: "" }, this.words["live-have-choose"]);
    select.replaceChildren(blank, ...[...seen].map(([item, name]) => made("option", { value: item }, name)));
    select.value = chosen;
  }

  listen() {
    const { form } = this;
    form.addEventListener("input", (event) => this.changed(event.target, false));
    form.addEventListener("change", (event) => this.changed(event.target, true));
    form.addEventListener("focusin", ({ target }) => target.matches("input") && target.select());
    find("#as-written").addEventListener("click", () => {
      this.show({ at: 0, kind: null, texts: [], asked: {} }, null);
      find("input, select", form)?.focus();
    });
    find("#copy-address")?.addEventListener("click", async ({ currentTarget }) => {
      await navigator.clipboard?.writeText(location.href).catch(() => {});
      this.tell(this.words["live-copied"], true);
      currentTarget.focus();
    });
  }

  changed(field, settled) {
    const row = field.closest("[data-kind]");
    if (!row) return;
    try {
      const next = this.asking(row.dataset.kind, field);
      // A field that is left says again what it said when it was filled in.
      if (next && !(settled && this.same(next))) this.show(next, field);
    } catch (fault) {
      if (!(fault instanceof Refused)) throw fault;
      const input = field.closest(".have") ? find("input", field.closest(".have")) : field;
      input.setAttribute("aria-invalid", "true");
      this.refuse(fault);
    }
  }

  same({ at, kind, texts }) {
    const { state } = this;
    return at === state.at && kind === state.kind && texts.join("\n") === state.texts.join("\n");
  }

  /** The state that a filled blank asks for; nothing while there is nothing in it. */
  asking(kind, field) {
    const { at } = this.state;
    if (kind === "variant") {
      const chosen = Math.max(this.pattern.variants.findIndex((variant) => (variant.id ?? "") === field.value), 0);
      return { ...this.state, at: chosen };
    }
    if (kind !== "have") {
      const text = this.plainly(field.value.trim());
      return text ? { at, kind, texts: [text], asked: read(kind, [text], this.pattern) } : null;
    }
    const filledIn = every(".have", this.form)
      .map((row) => [find("select", row).value, find("input", row).value.trim()])
      .filter(([item, amount]) => item && amount);
    const texts = filledIn.map(([item, amount]) => `${item}=${this.plainly(amount)}`);
    if (texts.length) return { at, kind, texts, asked: read(kind, texts, this.pattern) };
    return this.state.kind === "have" ? { at, kind: null, texts: [], asked: {} } : null;
  }

  /** Keeps the state in the address, so that it can be shared and survives a reload. */
  address() {
    const fields = new URLSearchParams();
    for (const text of this.state.texts) fields.append(this.state.kind, text);
    const { id } = this.pattern.variants[this.state.at];
    if (id !== null) fields.set("variant", id);
    const fragment = fields.toString();
    const asks = location.hash.includes("=") || location.search;
    if (fragment || asks) history.replaceState(null, "", fragment ? `#${fragment}` : location.pathname);
  }
}

/** Plain digits of a value that ends within twelve decimals. */
function decimalText(value) {
  const places = value.places() ?? 12;
  const digits = value.times(new Exact(10n ** BigInt(places), 1n)).round().n.toString().padStart(places + 1, "0");
  return places ? `${digits.slice(0, -places)}.${digits.slice(-places)}` : digits;
}

/** "1 1/2". */
function mixedText(value) {
  const down = value.floor();
  const part = value.minus(down);
  if (part.n === 0n) return down.n.toString();
  return down.n === 0n ? `${part.n}/${part.d}` : `${down.n} ${part.n}/${part.d}`;
}
