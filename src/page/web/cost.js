// What a batch costs: lines, total, piece, whole packs, the frying oil, energy, the shop's own. Shows nothing.

/** The frying oil at a batch. */
function frying(batch) {
  const { fry } = batch.pattern;
  if (!fry) return null;
  const takenUp = batch.main.total.times(fry.takesUp);
  const rest = most([fry.fill.minus(takenUp), ZERO]);
  return { fill: fry.fill, takenUp, used: takenUp.plus(rest.over(fry.uses)), bought: most([fry.fill, takenUp]) };
}

class Cost {
  constructor(batch) {
    const { pattern } = batch;
    this.fry = frying(batch);
    const wanted = batch.lines.filter((line) => line.grams && line.item !== null)
      .map((line) => ({ line, item: pattern.items[line.item], used: line.grams, bought: line.grams }));
    if (this.fry) wanted.push({ line: null, item: pattern.items[pattern.fry.item], used: this.fry.used, bought: this.fry.bought });
    this.lines = wanted.filter(({ item }) => item.price)
      .map((entry) => ({ ...entry, amount: entry.item.price.price.over(entry.item.price.eaten).times(entry.used) }));
    this.missing = wanted.filter(({ item }) => !item.price);
    this.complete = this.missing.length === 0;
    // Where nothing has a price there is no sum, and nought is not one.
    this.known = this.lines.length > 0 || this.complete;
    this.total = Exact.sum(this.lines.map((line) => line.amount));
    this.each = this.known ? this.eachOf(this.total, batch) : null;
    this.packs = packs(wanted, pattern.fry ? pattern.fry.uses : ONE);
    this.basket = Exact.sum(this.packs.map((pack) => pack.amount));
    const paid = this.packs.filter((pack) => pack.item.price.price.sign !== 0);
    this.more = this.complete && paid.length ? least(paid.map((pack) => pack.more)) : null;
    this.kwh = pattern.energy && pattern.energy.kwh.times(batch.factor.ceil());
    const tariff = pattern.energy && pattern.energy.tariff;
    this.withEnergy = this.known && tariff ? this.total.plus(tariff.times(this.kwh)) : null;
    this.compare = comparison(batch);
  }

  /** One piece of an amount, at the upper and at the lower count. */
  eachOf(amount, batch) {
    return batch.pieces && amount ? batch.pieces.map((count) => amount.over(new Exact(count, 1n))).reverse() : null;
  }

  get full() {
    return this.withEnergy ?? this.total;
  }
}

function comparison({ pattern: { compare }, pieces: counted, finished }) {
  if (!compare || (compare.pieces && !counted)) return null;
  const shopPacks = compare.pieces ? new Exact(counted[1], 1n).over(compare.pieces) : finished.over(compare.grams);
  return shopPacks && compare.price.times(shopPacks);
}

/** Whole packs of each item that has a price, in the order of their first line. */
function packs(wanted, uses) {
  const needs = new Map();
  for (const { line, item, bought } of wanted) {
    const need = needs.get(item) ?? { lines: ZERO, fill: ZERO };
    const kind = line ? "lines" : "fill";
    needs.set(item, { ...need, [kind]: need[kind].plus(bought) });
  }
  return [...needs].filter(([item]) => item.price).map(([item, need]) => {
    const { price, eaten, pieces } = item.price;
    const all = need.lines.plus(need.fill);
    const count = all.over(eaten).ceil();
    const held = eaten.times(count);
    const more = most([batches(held, need, uses).minus(ONE), ZERO]);
    const left = held.minus(all);
    const leftPieces = pieces && left.times(pieces).over(eaten);
    return { item, count, amount: count.times(price), left, leftPieces, more };
  });
}

/** How many whole batches so many grams make, with as many fillings of the pan as they need. */
function batches(held, need, uses) {
  if (need.fill.sign <= 0) {
    const count = held.over(need.lines);
    return count ? count.floor() : ZERO;
  }
  const served = (fillings) => {
    const rest = held.minus(fillings.times(need.fill));
    if (rest.sign < 0) return ZERO;
    const byPan = fillings.times(uses).floor();
    const byLines = rest.over(need.lines);
    return byLines ? least([byLines.floor(), byPan]) : byPan;
  };
  const meeting = held.over(uses.times(need.lines).plus(need.fill)) ?? ZERO;
  return most([served(meeting.floor()), served(meeting.ceil())]);
}
