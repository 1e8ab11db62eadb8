// Rounding to what a kitchen can weigh, pour, spoon and count, and how that is shown. Knows no recipe.

const TOLERANCE = ratio(2, 100);

function within(shown, exact, share) {
  return shown.minus(exact).abs().against(exact.abs().times(share)) <= 0;
}

/** Rounded to the step of a scale, or to finer ones where that would be off by more than 2 %. */
function weigh(value, step) {
  for (let at = step; ; at = at.over(whole(10))) {
    const rounded = value.roundTo(at);
    if (within(rounded, value, TOLERANCE)) return rounded;
  }
}

/** A count as whole ones with halves, thirds or quarters, where that is within 2 %. */
function countable(count) {
  for (const parts of [1, 2, 3, 4]) {
    const rounded = count.roundTo(ratio(1, parts));
    if (rounded.sign > 0 && within(rounded, count, TOLERANCE)) return rounded;
  }
  return null;
}

const parts = (...pairs) => pairs.map(([n, d]) => ratio(n, d));
const CUP = { unit: "cup", parts: parts([0, 1], [1, 4], [1, 3], [1, 2], [2, 3], [3, 4]), least: ratio(1, 4), most: whole(1000000000) };
const TABLESPOON = { unit: "tbsp", parts: parts([0, 1], [1, 2]), least: ONE, most: whole(4) };
const WHOLE_TABLESPOON = { ...TABLESPOON, parts: parts([0, 1]) };
const TEASPOON = { unit: "tsp", parts: parts([0, 1], [1, 4], [1, 2], [3, 4]), least: ratio(1, 4), most: whole(3) };
const EIGHTHS = { ...TEASPOON, parts: parts([0, 1], [1, 8], [1, 4], [3, 8], [1, 2], [5, 8], [3, 4], [7, 8]), least: ratio(1, 8) };

class Kitchen {
  constructor(pattern) {
    this.notation = new Notation(pattern.notation);
    this.step = Exact.read(pattern.scale.step);
    this.pounds = pattern.scale.pounds;
    this.ounce = Exact.read(pattern.units.oz[1]);
    this.sizes = Object.fromEntries(Object.entries(pattern.spoons).map(([id, size]) => [id, Exact.read(size)]));
    this.taste = pattern.words.taste;
  }

  /** A weight as the scale can weigh it, with the value that its text states. */
  weight(grams) {
    return this.weighed(weigh(grams, this.step));
  }

  weighed(value) {
    return { text: this.pounds ? this.inPounds(value) : this.inGrams(value), value };
  }

  inGrams(grams) {
    const heavy = grams.against(whole(10000)) >= 0;
    const value = heavy ? grams.over(whole(1000)) : grams;
    return this.notation.measure(value, heavy ? "kg" : "g", value.places() ?? 12);
  }

  inPounds(grams) {
    const ounces = grams.over(this.ounce);
    const pounds = ounces.over(whole(16)).floor();
    const rest = ounces.minus(pounds.times(whole(16)));
    const inOunces = (value) => this.notation.measure(value, "oz", value.places() ?? 3);
    if (pounds.sign <= 0) return inOunces(ounces);
    const text = this.notation.measure(pounds, "lb", 0);
    return rest.sign === 0 ? text : `${text} ${inOunces(rest)}`;
  }

  weightRange(low, high) {
    return joined(this.weight(low).text, this.weight(high).text);
  }

  /** As few digits as keep it within 2 %; up to two places are shown as they are. */
  percent(value) {
    const places = value.places();
    return this.percentShown(places !== null && places <= 2 ? value : weigh(value, ratio(1, 10)));
  }

  percentShown(value) {
    return { text: this.notation.percentOf(value, value.places() ?? 12), value };
  }

  millilitres(value) {
    const poured = weigh(value, ONE);
    const large = poured.against(whole(1000)) >= 0;
    const shown = large ? poured.over(whole(1000)) : poured;
    return this.notation.measure(shown, large ? "L" : "mL", shown.places() ?? 12);
  }

  count(value) {
    return this.notation.number(value, 3);
  }

  kilowattHours(kwh, unit) {
    const value = weigh(kwh, ratio(1, 100));
    return `${this.notation.number(value, value.places() ?? 12)} ${unit}`;
  }

  /** Two amounts in spoons and cups as a range, where they differ; a common unit once. */
  terms(low, high) {
    if (low.length === 1 && high.length === 1 && low[0].unit === high[0].unit) {
      return this.notation.measureRange(low[0].count, high[0].count, high[0].unit, 3);
    }
    const text = (terms) => terms.map(({ count, unit }) => this.notation.measure(count, unit, 3)).join(" + ");
    return joined(text(low), text(high));
  }

  /** A volume in cups and spoons within 5 %: the simplest within 2 %, else the closest. */
  household(millilitres) {
    const all = this.candidates(millilitres);
    const close = all.find((terms) => within(this.volume(terms), millilitres, TOLERANCE));
    if (close) return close;
    let found = null;
    let least = null;
    for (const terms of all) {
      const volume = this.volume(terms);
      const off = volume.minus(millilitres).abs();
      if (within(volume, millilitres, ratio(5, 100)) && (least === null || off.against(least) < 0)) {
        found = terms;
        least = off;
      }
    }
    return found;
  }

  /** A volume in cups and spoons within 2 %, one count of the `written` unit first. */
  spooned(millilitres, written) {
    const rank = (terms) => (terms.length > 1 || terms[0].unit !== written ? 1 : 0);
    const all = this.candidates(millilitres).sort((a, b) => rank(a) - rank(b));
    return all.find((terms) => within(this.volume(terms), millilitres, TOLERANCE)) ?? null;
  }

  volume(terms) {
    return Exact.sum(terms.map(({ count, unit }) => count.times(this.sizes[unit])));
  }

  /** Every sensible measure near a volume, simplest first. */
  candidates(millilitres) {
    const found = [];
    for (const measure of [CUP, TABLESPOON, TEASPOON, EIGHTHS]) {
      const term = this.nearest(millilitres, measure);
      if (term) found.push([term]);
    }
    for (const [first, second] of [[CUP, TABLESPOON], [WHOLE_TABLESPOON, TEASPOON], [CUP, TEASPOON]]) {
      const head = this.below(millilitres, first);
      if (!head) continue;
      const tail = this.nearest(millilitres.minus(head.count.times(this.sizes[first.unit])), second);
      if (tail) found.push([head, tail]);
    }
    return found;
  }

  nearest(millilitres, measure) {
    const wanted = millilitres.over(this.sizes[measure.unit]);
    const down = wanted.floor();
    let count = null;
    let off = null;
    for (const part of [...measure.parts, ONE]) {
      const next = down.plus(part);
      const distance = next.minus(wanted).abs();
      if (off === null || distance.against(off) < 0) {
        count = next;
        off = distance;
      }
    }
    return sensible(count, measure);
  }

  below(millilitres, measure) {
    const wanted = millilitres.over(this.sizes[measure.unit]);
    const down = wanted.floor();
    const counts = measure.parts.map((part) => down.plus(part)).filter((count) => count.against(wanted) <= 0);
    return counts.length ? sensible(most(counts), measure) : null;
  }
}

function sensible(count, measure) {
  return count.against(measure.least) >= 0 && count.against(measure.most) <= 0 ? { count, unit: measure.unit } : null;
}
