// The formula at a yield: what was asked for as a factor on the written batch, every line's weight, the overall formula,
// hydration. Mirrors the program's rules; shows nothing.

/** Why a yield can't be had: a word for the page to explain. */
class Refused extends Error {
  constructor(why, about = "") {
    super(why);
    this.why = why;
    this.about = about;
  }
}

const MOST_BATCHES = whole(1000000);
const MOST_PIECES = 4294967295n;

/** The pattern's texts as exact numbers, once. */
function opened(pattern) {
  const line = (pair) => pair && pair.map(Exact.read);
  const variants = pattern.variants.map((variant) => ({
    ...variant,
    parts: variant.parts.map((part) => ({
      basis: line(part.basis),
      lines: part.lines.map((entry) => ({
        ...entry,
        quota: { ...entry.quota, value: line(entry.quota.value) },
        grams: line(entry.grams),
        percent: Exact.read(entry.percent),
        low: Exact.read(entry.low),
      })),
    })),
  }));
  const items = Object.fromEntries(Object.entries(pattern.items).map(([key, item]) => [key, {
    ...item,
    key,
    density: Exact.read(item.density),
    each: Exact.read(item.each),
    moisture: item.water === "all" ? null : Exact.read(item.water),
    price: item.price && {
      ...item.price,
      price: Exact.read(item.price.price),
      eaten: Exact.read(item.price.eaten),
      pieces: Exact.read(item.price.pieces),
    },
  }]));
  return {
    ...pattern, variants, items,
    loss: Exact.read(pattern.loss),
    ratio: pattern.ratio.map(Exact.read),
    fry: pattern.fry && {
      ...pattern.fry, fill: Exact.read(pattern.fry.fill), takesUp: Exact.read(pattern.fry.takesUp), uses: Exact.read(pattern.fry.uses),
    },
    energy: pattern.energy && { kwh: Exact.read(pattern.energy.kwh), tariff: Exact.read(pattern.energy.tariff) },
    compare: pattern.compare && {
      ...pattern.compare, price: Exact.read(pattern.compare.price),
      pieces: Exact.read(pattern.compare.pieces), grams: Exact.read(pattern.compare.grams),
    },
  };
}

/** Whether every part of a variant can hold its weights at a factor, and is as much as what is taken of it. */
function holds(variant, factor) {
  const weight = (lines) => Exact.sum(lines.filter((line) => line.grams).map((line) => along(line.grams, factor)));
  const lines = variant.parts.flatMap((part) => part.lines);
  return variant.parts.every((part, index) => {
    if (part.basis !== null && along(part.basis, factor).sign <= 0) return false;
    const takers = lines.filter((line) => line.takes === index);
    const [wanted, own] = [weight(takers), weight(part.lines)];
    return takers.length === 0 || wanted.minus(own).abs().times(whole(1000)).against(wanted) <= 0;
  });
}

class Batch {
  constructor(pattern, variant, factor) {
    if (!holds(variant, factor) || !holds(pattern.variants[0], factor)) throw new Refused("small");
    Object.assign(this, { pattern, variant, factor });
    this.parts = variant.parts.map((part, index) => {
      const basis = along(part.basis, factor);
      const lines = part.lines.map((line, at) => ({ ...line, at: [index, at], ...weighed(line, basis, factor) }));
      return { basis, lines, total: Exact.sum(lines.filter((line) => line.grams).map((line) => line.grams)) };
    });
    this.lines = this.parts.flatMap((part) => part.lines);
    this.main = this.parts[pattern.main];
    const alone = this.parts.filter((_, index) => index === pattern.main || pattern.parts[index].alone);
    this.total = Exact.sum(alone.map((part) => part.total));
    this.finished = pattern.loss ? this.total.times(ONE.minus(pattern.loss)) : this.total;
    this.pieces = pattern.makes && [pieces(pattern.makes.low, factor), pieces(pattern.makes.high, factor)];
    this.open();
  }

  item(line) {
    return line.item === null ? null : this.pattern.items[line.item];
  }

  id([part, line]) {
    return `${this.pattern.parts[part].id}.${this.pattern.parts[part].keys[line]}`;
  }

  /** Item lines of the main part and what it takes. */
  itemLines(batch = this) {
    return this.pattern.opened.flatMap((part) => batch.parts[part].lines).filter((line) => line.item !== null && line.grams);
  }

  /** The overall formula, the prefermented share and hydration. */
  open() {
    const { pattern } = this;
    const reference = this.variant === pattern.variants[0] ? this : new Batch(pattern, pattern.variants[0], this.factor);
    const own = pattern.parts[pattern.main];
    const main = own.basis.map((line) => own.items[line]).filter((item) => item !== null);
    const flour = (item) => pattern.items[item].flour;
    this.isDough = main.length > 0 && main.every(flour);
    const counts = (item) => (this.isDough ? flour(item) : main.includes(item));
    const basis = Exact.sum(this.itemLines(reference).filter((line) => counts(line.item)).map((line) => line.grams));
    const sums = new Map();
    let [all, nested, water, inside] = [ZERO, ZERO, ZERO, ZERO];
    for (const line of this.itemLines()) {
      const item = this.item(line);
      sums.set(line.item, (sums.get(line.item) ?? ZERO).plus(line.grams));
      if (item.flour) {
        all = all.plus(line.grams);
        if (line.at[0] !== pattern.main) nested = nested.plus(line.grams);
      } else if (item.water === "all") {
        water = water.plus(line.grams);
      } else {
        inside = inside && item.moisture && inside.plus(line.grams.times(item.moisture));
      }
    }
    const percent = (part, of) => part.times(HUNDRED).over(of);
    this.overall = [...sums].map(([item, grams]) => ({ item, grams, percent: percent(grams, basis.sign > 0 ? basis : ZERO) }));
    this.prefermented = nested.sign === 0 ? null : percent(nested, all);
    this.nominal = percent(water, all);
    this.effective = inside && percent(water.plus(inside), all);
  }
}

function weighed(line, basis, factor) {
  const grams = along(line.grams, factor);
  const percent = line.percent ?? (grams && basis && grams.times(HUNDRED).over(basis));
  return { grams, percent, quota: { ...line.quota, value: along(line.quota.value, factor) } };
}

function pieces(count, factor) {
  const rounded = whole(count).times(factor).round().n;
  return rounded < 1n ? 1n : rounded > MOST_PIECES ? MOST_PIECES : rounded;
}

/** The factor that a yield asks for: `{ makes }`, `{ batch }`, `{ have: [{ item, grams }] }`, `{ times }` or nothing. */
function factorOf(pattern, variant, asked) {
  let factor = ONE;
  if (asked.times) factor = asked.times;
  if (asked.makes) {
    if (!pattern.makes) throw new Refused("uncounted");
    factor = asked.makes.over(whole(pattern.makes.high));
  }
  if (asked.batch) {
    const basis = along(pattern.variants[0].parts[pattern.main].basis, ONE);
    factor = basis && asked.batch.over(basis);
    if (!factor) throw new Refused("baseless");
  }
  if (asked.have) {
    const told = asked.have.map((have) => reach(pattern, variant, have)).filter((reached) => reached);
    factor = told.length ? least(told) : ONE;
  }
  if (factor.against(MOST_BATCHES) > 0) throw new Refused("large");
  if (factor.times(MOST_BATCHES).against(ONE) < 0) throw new Refused("tiny");
  return factor;
}

/** The lines that a name on hand is about: an item's, else those of that key or id. */
function linesOf(pattern, variant, name) {
  const all = variant.parts.flatMap((part, index) => part.lines.map((line, at) => ({ line, at: [index, at] })));
  const byItem = all.filter(({ line }) => line.item === name);
  const key = ([part, at]) => pattern.parts[part].keys[at];
  const named = ({ at }) => key(at) === name || `${pattern.parts[at[0]].id}.${key(at)}` === name;
  return (byItem.length ? byItem : all.filter(named)).filter(({ line }) => line.grams).map(({ line }) => line);
}

/** How far one item on hand reaches; `null` where it is enough at any. */
function reach(pattern, variant, { item, grams }) {
  const lines = linesOf(pattern, variant, item);
  if (!lines.length) throw new Refused("unweighed", item);
  const start = Exact.sum(lines.map((line) => line.grams[0]));
  const slope = Exact.sum(lines.map((line) => line.grams[1]));
  const left = grams.minus(start);
  if (slope.sign <= 0 && left.sign >= 0) return null;
  const factor = left.over(slope);
  if (!factor || factor.sign <= 0) throw new Refused("little", item);
  return factor;
}
