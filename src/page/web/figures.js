// The sheet of a batch: every text that the page shows of a yield. The texts are those of `tallyspoon figures` at the
// same yield, variant and day; a check holds the two together over thousands of yields.

class Sheet {
  /** `factor` of a variant, by its place; 0 is the recipe as written. */
  constructor(pattern, at, factor) {
    this.pattern = pattern;
    this.kitchen = new Kitchen(pattern);
    this.notation = this.kitchen.notation;
    this.variant = pattern.variants[at];
    this.batch = new Batch(pattern, this.variant, factor);
    this.costing = new Cost(this.batch);
    this.formula = formula(this.batch, this.kitchen);
    this.yields = yields(this.batch, this.kitchen, this.formula);
    this.cost = costs(this);
    this.fry = fryFigures(this);
    this.hydration = {
      nominal: this.batch.isDough ? this.percentText(this.batch.nominal) : null,
      effective: this.batch.isDough ? this.percentText(this.batch.effective) : null,
    };
    this.prefermented = this.percentText(this.batch.prefermented);
    this.overall = this.batch.overall.map((line) => ({
      item: line.item,
      name: pattern.items[line.item].name,
      amount: this.kitchen.weight(line.grams).text,
      percent: this.percentText(line.percent),
    }));
    this.cautions = this.variant.safety.cautions.filter((caution) => !caution.byAcid || keepsByAcid(this.batch));
    this.ladder = ladder(this);
    this.worked = worked(this);
    this.changes = changes(this);
    Object.assign(this, told(this));
  }

  percentText(value) {
    return value && this.kitchen.percent(value).text;
  }

  line(at) {
    return this.formula[at[0]].lines[at[1]];
  }
}

/** All parts; those that others take come first into being. */
function formula(batch, kitchen) {
  const done = [];
  const build = (index) => {
    if (done[index]) return;
    const { lines, basis } = batch.parts[index];
    lines.filter((line) => line.takes !== null).forEach((line) => build(line.takes));
    const built = lines.map((line) => lineFigures(batch, kitchen, line, wholePart(batch, line, done)));
    const weights = built.filter((line) => line.weighed).map((line) => line.weighed.value);
    const total = kitchen.weight(Exact.sum(weights));
    const unknown = built.some((line, at) => !line.percentValue && lines[at].grams);
    const percents = Exact.sum(built.filter((line) => line.percentValue).map((line) => line.percentValue));
    done[index] = {
      id: batch.pattern.parts[index].id,
      title: batch.pattern.parts[index].title,
      basis: basis && kitchen.weight(basis).text,
      lines: built,
      total,
      percent: basis && !unknown ? kitchen.percentShown(percents.roundPlaces(1)).text : null,
    };
  };
  batch.parts.forEach((_, index) => build(index));
  return done;
}

/** The shown total of a part that this line alone takes. */
function wholePart(batch, line, done) {
  const sole = line.takes !== null && batch.lines.filter((other) => other.takes === line.takes).length === 1;
  return sole ? done[line.takes].total.value : null;
}

function lineFigures(batch, kitchen, line, partTotal) {
  const item = batch.item(line);
  const [amount, weighed] = partTotal ? [kitchen.weighed(partTotal).text, kitchen.weighed(partTotal)] : lineAmount(kitchen, line);
  const percent = linePercent(kitchen, line, ONE);
  const [, at] = line.at;
  return {
    id: batch.id(line.at),
    name: lineName(kitchen.notation, line),
    note: batch.pattern.parts[line.at[0]].notes[at],
    percent: percent && percent.text,
    percentValue: percent && percent.value,
    amount,
    weighed,
    weight: weighed && weighed.text !== amount && !line.low ? weighed.text : null,
    household: spoons(kitchen, line, item, ONE),
  };
}

/** In the number that fits its amount, or as much of it as this share. */
function lineName(notation, line, share = ONE) {
  const several = line.quota.kind === "count" && !notation.isOne(line.quota.value.times(share));
  return several && line.many ? line.many : line.name;
}

/** The amount in the form it was written, and the weight it is shown as or stands for. */
function lineAmount(kitchen, line) {
  if (!line.grams) return [kitchen.taste, null];
  const weight = kitchen.weight(line.grams);
  const text = quotaText(kitchen, line, ONE);
  if (text !== null) return [text, weight];
  return [line.low ? kitchen.weightRange(line.grams.times(line.low), line.grams) : weight.text, weight];
}

/** The text of some of a counted or poured line, a range for a range; nothing where only its weight will do. */
function quotaText(kitchen, { quota, low }, share) {
  const { notation } = kitchen;
  if (quota.kind !== "count" && quota.kind !== "volume") return null;
  const value = quota.value.times(share);
  if (quota.kind === "count") {
    const counted = (amount) => {
      const count = countable(amount);
      return count && notation.mixed(count);
    };
    return ranged(value, low, counted, (from, to) => notation.range(from, to));
  }
  if (!quota.unit) return ranged(value, low, (amount) => kitchen.millilitres(amount), joined);
  return ranged(value, low, (amount) => kitchen.spooned(amount, quota.unit), (from, to) => kitchen.terms(from, to));
}

/** What a value reads as, from so much of it on; nothing where either end can't be read so. */
function ranged(value, low, read, text) {
  const high = read(value);
  const from = low && high !== null ? read(value.times(low)) : high;
  return high === null || from === null ? null : text(from, high);
}

/** The percent of some of a line. */
function linePercent(kitchen, line, share) {
  if (!line.percent) return null;
  const percent = line.percent.times(share);
  const high = kitchen.percent(percent);
  if (!line.low || line.quota.kind !== "weight") return high;
  return { text: joined(kitchen.percent(percent.times(line.low)).text, high.text), value: high.value };
}

/** Some of a line in spoons and cups, where that is within 5 %; a range for a range. */
function spoons(kitchen, line, item, share) {
  if (!line.grams) return null;
  const all = line.quota.kind === "volume" ? line.quota.value
    : line.quota.kind === "weight" && item && item.density ? line.grams.over(item.density) : null;
  if (!all) return null;
  return ranged(all.times(share), line.low, (millilitres) => kitchen.household(millilitres), (from, to) => kitchen.terms(from, to));
}

function yields(batch, kitchen, formula) {
  const { pattern } = batch;
  const total = Exact.sum(formula.filter((_, index) => pattern.parts[index].alone).map((part) => part.total.value));
  const number = (count) => kitchen.notation.number(new Exact(count, 1n), 0);
  const count = batch.pieces && kitchen.notation.range(number(batch.pieces[0]), number(batch.pieces[1]));
  const called = batch.pieces && (batch.pieces[1] === 1n ? pattern.makes.one : pattern.makes.many);
  return {
    count,
    called,
    pieces: count && `${count} ${called}`,
    basis: formula[pattern.main].basis,
    total: kitchen.weight(total).text,
    finished: pattern.loss && kitchen.weight(batch.finished).text,
    each: eachWeight(batch, kitchen),
  };
}

/** Raw weight of one piece. */
function eachWeight({ pieces: counted, pattern, total }, kitchen) {
  if (!counted) return null;
  const light = total.over(new Exact(counted[1], 1n));
  const heavy = pattern.byEach ? light : total.over(new Exact(counted[0], 1n));
  return kitchen.weightRange(light, heavy);
}

/** Lengths of bars, in thousandths of all. */
function bar(amount, all) {
  const share = amount && all && amount.times(whole(1000)).over(all);
  return share ? Number(share.round().n) : 0;
}

/** A sum of prices, of minor units; a dash where nothing has a price. */
function sum({ known }, notation, minor) {
  return known ? notation.minor(minor) : "—";
}

/** What stays in packs: whole pieces of what is sold by the piece, else its weight. */
function leftover({ left, leftPieces }, kitchen) {
  if (left.sign <= 0) return null;
  return leftPieces && leftPieces.whole ? kitchen.count(leftPieces) : kitchen.weight(left).text;
}

function costs(sheet) {
  const { costing: cost, notation, kitchen } = sheet;
  const amounts = cost.lines.map((line) => line.amount);
  const total = notation.toMinor(cost.total);
  const minor = apportion(total, amounts);
  const shares = cost.total.sign === 0 ? amounts.map(() => 0n) : apportion(100n, amounts);
  const basket = notation.toMinor(cost.basket);
  const totals = [cost.total, cost.withEnergy, cost.basket, cost.compare].filter((amount) => amount);
  const apart = ({ line }) => {
    if (!line) return null;
    const { name, note } = sheet.line(line.at);
    const alike = (samePart) => cost.lines.some(({ line: other }) =>
      other && other !== line && sheet.line(other.at).name === name && (other.at[0] === line.at[0]) === samePart);
    const told = [alike(false) && sheet.formula[line.at[0]].title, alike(true) && note].filter(Boolean);
    return told.length ? told.join(", ") : null;
  };
  const called = ({ line }) => line ? sheet.line(line.at) : { id: "fry.oil", name: sheet.pattern.fry.name, amount: kitchen.weight(cost.fry.used).text };
  const more = (count) => (count && count.sign > 0 ? kitchen.count(count) : null);
  return {
    complete: cost.complete,
    lines: cost.lines.map((line, at) => {
      const { id, name, amount } = called(line);
      const { price, offer } = line.item.price;
      return {
        id, name, amount, offer,
        of: apart(line),
        cost: notation.minor(minor[at]),
        share: kitchen.percentShown(new Exact(shares[at], 1n)).text,
        bar: bar(line.amount, cost.total),
        free: price.sign === 0,
      };
    }),
    missing: cost.missing.map((line) => called(line)).map(({ id, name }) => ({ id, name })),
    total: sum(cost, notation, total),
    each: cost.each && notation.moneyRange(...cost.each),
    basket: sum(cost, notation, basket),
    packs: cost.packs.map((pack) => ({
      item: pack.item.key,
      name: pack.item.name,
      packs: filled(pack.item.price.packs, { count: notation.number(pack.count, 0) }),
      cost: notation.minor(notation.toMinor(pack.amount)),
      left: leftover(pack, kitchen),
      free: pack.item.price.price.sign === 0,
      more: more(pack.more),
    })),
    left: sum(cost, notation, basket - total),
    more: more(cost.more),
    energy: energyFigures(sheet, total),
    withEnergy: cost.withEnergy && notation.moneyOf(cost.withEnergy),
    withEnergyEach: eachMoney(sheet, cost.withEnergy),
    compare: compareFigures(sheet),
    bars: Object.fromEntries(Object.entries({ used: cost.total, energy: cost.withEnergy, basket: cost.basket, compare: cost.compare })
      .map(([name, amount]) => [name, bar(amount, most(totals))])),
  };
}

function eachMoney({ costing, batch, notation }, amount) {
  const each = amount && costing.eachOf(amount, batch);
  return each && notation.moneyRange(...each);
}

function energyFigures({ costing: cost, pattern, notation, kitchen }, total) {
  if (!cost.kwh) return null;
  const { tariff } = pattern.energy;
  return {
    kwh: kitchen.kilowattHours(cost.kwh, pattern.words.kwh),
    tariff: tariff && notation.moneyExact(tariff),
    cost: cost.withEnergy && notation.minor(notation.toMinor(cost.withEnergy) - total),
  };
}

function compareFigures(sheet) {
  const { costing: cost, pattern: { compare }, notation } = sheet;
  if (!cost.compare) return null;
  const gap = notation.toMinor(cost.compare) - notation.toMinor(cost.full);
  return {
    size: compare.size, price: compare.cost, bought: compare.bought,
    same: notation.moneyOf(cost.compare),
    each: compare.each ?? eachMoney(sheet, cost.compare),
    gap: gap !== 0n && cost.complete ? notation.minor(gap < 0n ? -gap : gap) : null,
    cheaper: gap > 0n,
  };
}

function fryFigures({ costing: { fry }, kitchen }) {
  return fry && { takenUp: kitchen.weight(fry.takenUp).text, used: kitchen.weight(fry.used).text };
}

/** Acid ingredients at a twentieth of the weight or more. */
function keepsByAcid(batch) {
  const sour = batch.lines.filter((line) => line.grams && line.item !== null && batch.item(line).acid);
  const grams = Exact.sum(sour.map((line) => line.grams));
  return grams.sign > 0 && grams.against(batch.total.times(ratio(1, 20))) >= 0;
}

/** The formula at several yields: those that the recipe lists, or half and twice, and this one. */
function ladder(sheet) {
  const { pattern, batch, variant } = sheet;
  const basis = batch.main.basis;
  const written = basis && basis.over(batch.factor);
  let factors = written ? pattern.ratio.map((grams) => grams.over(written)) : [];
  if (factors.length < 2) factors = [batch.factor.over(whole(2)), batch.factor.times(whole(2))];
  factors.push(batch.factor);
  factors.sort((a, b) => a.against(b));
  factors = factors.filter((factor, at) => at === 0 || !factor.is(factors[at - 1]));
  // A yield that the formula can't be had at is no column.
  factors = factors.filter((factor) => holds(variant, factor) && holds(pattern.variants[0], factor));
  return factors.map((factor) => {
    const own = factor.is(batch.factor);
    const there = own ? batch : new Batch(pattern, variant, factor);
    const shown = own ? sheet.formula : formula(there, sheet.kitchen);
    const { basis: heading, pieces: counted } = own ? sheet.yields : yields(there, sheet.kitchen, shown);
    return { basis: heading, pieces: counted, own, amounts: shown.map((part) => part.lines.map((line) => line.amount)) };
  });
}

/** The first weighed percent line that isn't of the basis, worked. */
function worked({ batch, kitchen, notation, pattern }) {
  const { basis, lines } = batch.main;
  const line = basis && lines.find(({ at, quota, takes, low, percent }) => (
    quota.kind === "weight" && takes === null && !low && percent && !pattern.parts[pattern.main].basis.includes(at[1])));
  if (!line) return null;
  const names = pattern.parts[pattern.main].basis.map((at) => lineName(notation, lines[at]));
  return {
    basis: kitchen.weight(basis).text,
    basisName: notation.list(names),
    percent: kitchen.percent(line.percent).text,
    name: lineName(notation, line),
    amount: kitchen.weight(line.grams).text,
  };
}

/** What each variant changes at this yield, against the recipe as written. */
function changes(sheet) {
  const { pattern, kitchen, notation } = sheet;
  const factor = sheet.batch.factor;
  const at = (variant) => (variant === sheet.variant ? sheet.batch : new Batch(pattern, variant, factor));
  const shown = (batch) => (batch === sheet.batch ? sheet.formula : formula(batch, kitchen));
  const from = shown(at(pattern.variants[0])).flatMap((part) => part.lines);
  return pattern.variants.slice(1).map((variant) => {
    const batch = at(variant);
    const cost = batch === sheet.batch ? sheet.costing : new Cost(batch);
    const differs = (one, other) => one.name !== other.name || one.amount !== other.amount || one.percent !== other.percent;
    const pairs = shown(batch).flatMap((part) => part.lines).map((to, index) => ({ from: from[index], to }));
    return {
      id: variant.id,
      title: variant.title,
      changes: pairs.filter((pair) => differs(pair.from, pair.to)),
      total: sum(cost, notation, notation.toMinor(cost.total)),
      each: cost.each && notation.moneyRange(...cost.each),
      complete: cost.complete,
    };
  });
}
