// Puts a sheet on the page. Elements say what they show: `data-f` a text of the sheet by its path, `data-line` and
// `data-part` whose texts the `data-f` below them are, `data-list` a list that is made anew. Must not know how a yield
// is asked for.

const find = (selector, root = document) => root.querySelector(selector);
const every = (selector, root = document) => [...root.querySelectorAll(selector)];

/** An element with attributes and children; what is nothing is left out. */
function made(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value !== null && value !== false) element.setAttribute(name, value === true ? "" : value);
  }
  element.append(...children.flat().filter((child) => child !== null && child !== undefined && child !== ""));
  return element;
}

/** The nodes of a phrase; figures never break over lines. */
function nodes(phrase) {
  return phrase.map((piece) => (typeof piece === "string" ? piece : made("b", { class: "figure" }, piece.figure)));
}

/** Writes a text only where it differs, and hides what has none. */
function write(element, text) {
  const shown = text ?? "";
  if (element.textContent !== shown) element.textContent = shown;
  if (element.dataset.f !== undefined && element.hasAttribute("data-may")) element.hidden = shown === "";
}

class View {
  constructor(pattern, words) {
    this.pattern = pattern;
    this.words = words;
  }

  say(key, slots = {}) {
    return filled(this.words[key], slots);
  }

  show(sheet) {
    const texts = { ...sheet, labels: this.labels(sheet) };
    for (const element of every("[data-f]")) {
      if (element.closest("[data-line], [data-part]")) continue;
      const value = element.dataset.f.split(".").reduce((at, name) => (at === null || at === undefined ? at : at[name]), texts);
      write(element, Array.isArray(value) ? plain(value) : value);
    }
    for (const part of sheet.formula) this.part(part, this.basisOf(sheet, part));
    const care = find(".care");
    if (care) care.hidden = sheet.cautions.length === 0;
    const lists = {
      overall: () => this.overall(sheet),
      ladder: () => this.ladder(sheet),
      cost: () => this.cost(sheet),
      totals: () => this.totals(sheet.cost),
      packs: () => this.packs(sheet.cost),
      cautions: () => sheet.cautions.map(({ title, text }) => made("div", {}, made("dt", {}, title), made("dd", {}, text))),
    };
    for (const element of every("[data-list]")) element.replaceChildren(...lists[element.dataset.list]());
    for (const change of sheet.changes) {
      const body = find(`[data-variant="${change.id}"]`);
      if (body) this.change(body, change);
    }
    sheet.intro.forEach((paragraph, at) => find(`[data-intro="${at}"]`)?.replaceChildren(...nodes(paragraph)));
    for (const step of sheet.steps) {
      const element = find(`[data-step="${step.id}"]`);
      if (!element) continue;
      find("[data-title]", element)?.replaceChildren(...nodes(step.title));
      every("[data-paragraph]", element).forEach((paragraph, at) => paragraph.replaceChildren(...nodes(step.text[at])));
    }
  }

  /** Texts that say in words what the figures are. */
  labels({ cost, notation, variant, pattern, worked: line, batch }) {
    const total = cost.complete ? "cost-total" : "cost-total-known";
    const names = (index) => notation.list(pattern.parts[index].basis.map((at) => lineName(notation, batch.parts[index].lines[at])));
    const { contains, unknown, diet } = variant.safety;
    return {
      total: this.words[total],
      knownOnly: cost.complete ? "" : ` · ${this.words["cost-total-known"]}`,
      basis: names(pattern.main),
      incomplete: cost.complete ? "" : this.say("cost-incomplete", { names: notation.list(cost.missing.map(({ name }) => name)) }),
      how: line ? this.say("notes-how", { basis: line.basisName }) : "",
      worked: line ? this.say("notes-worked", { basis: line.basis, percent: line.percent, amount: line.amount, name: line.name }) : "",
      variant: variant.title ?? "",
      contains: contains ?? "",
      unknown: unknown ?? "",
      diet: diet ? this.say("labelled", { label: this.words.diet, text: diet }) : "",
    };
  }

  /** What the shares of a part are reckoned on. */
  basisOf({ formula, pattern, batch, notation }, part) {
    const index = formula.indexOf(part);
    const names = pattern.parts[index].basis.map((at) => lineName(notation, batch.parts[index].lines[at]));
    return names.length ? this.say(part.title ? "shares-on" : "percents-on", { basis: notation.list(names) }) : "";
  }

  part(part, basis) {
    const element = find(`[data-part="${part.id}"]`);
    if (!element) return;
    for (const line of part.lines) {
      const row = find(`[data-line="${line.id}"]`, element);
      if (!row) continue;
      const spoons = line.household !== line.amount ? line.household : null;
      const texts = { name: line.name, amount: line.amount, weight: line.weight, household: spoons, percent: line.percent };
      for (const cell of every("[data-f]", row)) write(cell, texts[cell.dataset.f]);
    }
    const base = find("[data-base]", element);
    if (base) write(base, basis);
    const texts = { total: part.total.text, percent: part.percent };
    for (const cell of every("tfoot [data-f]", element)) write(cell, texts[cell.dataset.f]);
  }

  overall(sheet) {
    return sheet.overall.map((line) => made("tr", {}, made("th", { scope: "row" }, line.name),
      made("td", {}, line.amount), made("td", {}, line.percent)));
  }

  ladder({ ladder: rungs, formula }) {
    const heading = ({ basis, pieces: counted, own }) => made("th", { scope: "col", class: own && "own" },
      basis ?? counted, own ? ` (${this.words["ratio-own"]})` : null);
    const cell = (rung, part, at) => made("td", { class: rung.own && "own" }, rung.amounts[part][at]);
    const head = made("thead", {}, made("tr", {}, made("th", { scope: "col" }, this.words["head-item"]),
      made("th", { scope: "col" }, this.words["head-percent"]), rungs.map(heading)));
    const bodies = formula.map((part, index) => made("tbody", {},
      part.title ? made("tr", {}, made("th", { scope: "rowgroup", colspan: String(rungs.length + 2) }, part.title)) : null,
      part.lines.map((line, at) => made("tr", {}, made("th", { scope: "row" }, line.name), made("td", {}, line.percent),
        rungs.map((rung) => cell(rung, index, at))))));
    return [head, ...bodies];
  }

  cost({ cost }) {
    const mark = (key) => made("small", {}, this.words[key]);
    const rows = cost.lines.map((line) => made("tr", {},
      made("th", { scope: "row" }, line.name, line.of ? [" ", made("small", {}, `(${line.of})`)] : null, line.free ? [" ", mark("cost-free")] : null, line.offer ? [" ", mark("cost-offer")] : null, this.bar(line.bar)),
      made("td", {}, line.cost), made("td", {}, line.amount), made("td", {}, line.share)));
    const missing = cost.missing.map(({ name }) => made("tr", {}, made("th", { scope: "row" }, name),
      made("td", {}, this.words["cost-no-price"]), made("td"), made("td")));
    return [...rows, ...missing];
  }

  /** A bar of so many thousandths. */
  bar(length) {
    const picture = document.createElementNS("http://www.w3.org/2000/svg", "svg");
    picture.setAttribute("viewBox", "0 0 1000 8");
    picture.setAttribute("preserveAspectRatio", "none");
    const filled = document.createElementNS("http://www.w3.org/2000/svg", "rect");
    filled.setAttribute("width", String(length));
    filled.setAttribute("height", "8");
    picture.append(filled);
    return made("span", { class: "bar", "aria-hidden": "true" }, picture);
  }

  totals(cost) {
    const total = (label, amount, why, length) => made("div", {}, made("dt", {}, `${label} `, made("small", {}, why)),
      made("dd", {}, amount), made("dd", { class: "length", "aria-hidden": "true" }, this.bar(length)));
    const { energy, compare, bars } = cost;
    const rows = [total(this.words[cost.complete ? "cost-total" : "cost-total-known"], cost.total, this.words["totals-used-why"], bars.used)];
    if (cost.withEnergy) {
      const why = this.say("totals-energy-why", { kwh: energy.kwh, tariff: energy.tariff });
      rows.push(total(this.words["totals-energy"], cost.withEnergy, why, bars.energy));
    }
    const left = this.say(cost.more ? "totals-basket-more" : "totals-basket-left", { left: cost.left, more: cost.more });
    rows.push(total(this.words["cost-basket"], cost.basket, left, bars.basket));
    if (compare) {
      const seen = this.say("totals-compare-why", { size: compare.size, price: compare.price, day: compare.bought });
      const gap = () => this.say(compare.cheaper ? "totals-cheaper" : "totals-dearer", { gap: compare.gap });
      const why = compare.gap ? this.say("told-both", { first: seen, second: gap() }) : seen;
      rows.push(total(this.words["totals-compare"], compare.same, why, bars.compare));
    }
    return rows;
  }

  packs(cost) {
    return cost.packs.filter((pack) => !pack.free).map((pack) => made("tr", {}, made("th", { scope: "row" }, pack.name),
      made("td", {}, pack.packs), made("td", {}, pack.cost), made("td", {}, pack.left)));
  }

  /** What a variant changes. */
  change(body, { changes: lines, total, each, complete }) {
    const was = (amount) => [" ", made("span", { class: "spoon" }, this.say("variant-was", { amount }))];
    body.replaceChildren(...lines.map(({ from, to }) => {
      const replaced = to.name !== from.name ? [" ", made("small", {}, this.say("variant-replaces", { name: from.name }))] : null;
      const before = from.percent && from.percent !== to.percent ? was(from.percent) : null;
      return made("tr", {}, made("th", { scope: "row" }, to.name, replaced), made("td", {}, to.amount, was(from.amount)),
        made("td", {}, to.percent, before));
    }));
    const costs = find(`[data-variant-cost="${body.dataset.variant}"]`);
    const label = this.words[complete ? "cost-total" : "cost-total-known"];
    if (costs) write(costs, this.say("labelled", { label, text: total }) + (each ? ` · ${this.say("labelled", { label: costs.dataset.per, text: each })}` : ""));
  }
}
