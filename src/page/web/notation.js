// Numbers, percents, money and lists as the channel's language and region write them. Knows no recipe.

class Notation {
  constructor(data) {
    Object.assign(this, data);
  }

  /** Whole digits in groups. */
  grouped(digits, mark = this.group) {
    if (digits.length < this.grouped_from) return digits;
    const [last, before] = this.groups;
    const groups = [digits.slice(-last)];
    for (let end = digits.length - last; end > 0; end -= before) groups.unshift(digits.slice(Math.max(end - before, 0), end));
    return groups.join(mark);
  }

  /** Sign, whole digits and decimals of a value rounded to `places`. */
  digits(value, places) {
    const scaled = value.times(new Exact(10n ** BigInt(places), 1n)).round().n;
    const plain = (scaled < 0n ? -scaled : scaled).toString().padStart(places + 1, "0");
    const cut = plain.length - places;
    return { below: scaled < 0n, whole: plain.slice(0, cut), decimals: plain.slice(cut) };
  }

  /** With exactly `places` decimals. */
  fixed(value, places) {
    const { below, whole, decimals } = this.digits(value, places);
    return (below ? this.minus : "") + this.grouped(whole) + (decimals ? this.point + decimals : "");
  }

  /** With at most `max` decimals, without trailing zeros. */
  number(value, max) {
    const rounded = value.roundPlaces(max);
    return this.fixed(rounded, Math.min(rounded.places() ?? max, max));
  }

  percentOf(value, max) {
    return this.percent.before + this.number(value, max) + this.percent.behind;
  }

  /** "1 1/2", "3/4", "2"; nothing for what no cook writes so. */
  mixed(value) {
    const down = value.floor();
    const part = value.minus(down);
    if (value.sign < 0 || ![1n, 2n, 3n, 4n, 6n, 8n, 16n].includes(part.d)) return null;
    if (part.n === 0n) return this.number(down, 0);
    const fraction = `${part.n}/${part.d}`;
    return down.n === 0n ? fraction : `${this.number(down, 0)} ${fraction}`;
  }

  /** Two shown ends; the one value where they are alike. */
  range(low, high) {
    return low === high ? low : `${low}–${high}`;
  }

  unit(id, value) {
    const [one, many] = this.units[id];
    return one === many || this.isOne(value) ? one : many;
  }

  /** Whether so many are spoken of as of one. */
  isOne(value) {
    return value.sign > 0 && (value.against(ONE) <= 0 || value.against(Exact.read(this.singular_below)) < 0);
  }

  measure(value, id, max) {
    return this.measureRange(value, value, id, max);
  }

  /** The unit once. */
  measureRange(low, high, id, max) {
    const spoon = ["tsp", "tbsp", "cup"].includes(id);
    const number = (value) => (spoon && this.mixed(value)) || this.number(value, max);
    return `${this.range(number(low), number(high))} ${this.unit(id, high)}`;
  }

  moneyDigits(amount, places) {
    const { whole, decimals } = this.digits(amount, places);
    return this.grouped(whole, this.money_group) + (decimals ? this.money_point + decimals : "");
  }

  moneyAround(digits, { before, behind }) {
    return before + digits + behind;
  }

  moneyOf(amount) {
    const rounded = amount.roundPlaces(this.money_places);
    const digits = this.moneyDigits(rounded.abs(), this.money_places);
    return this.moneyAround(digits, rounded.sign < 0 ? this.money_below : this.money);
  }

  /** Minor units: cents. */
  minor(units) {
    return this.moneyOf(Exact.of(units, 10n ** BigInt(this.money_places)));
  }

  toMinor(amount) {
    return amount.times(new Exact(10n ** BigInt(this.money_places), 1n)).round().n;
  }

  moneyRange(low, high) {
    const digits = (amount) => this.moneyDigits(amount, this.money_places);
    return this.moneyAround(this.range(digits(low), digits(high)), this.money);
  }

  /** All its decimals: a tariff is finer than a coin. */
  moneyExact(amount) {
    const places = Math.max(amount.places() ?? 12, this.money_places);
    return this.moneyAround(this.moneyDigits(amount, places), this.money);
  }

  list(names) {
    if (names.length < 2) return names.join("");
    const before = names.slice(0, -1).join(", ") + (this.serial && names.length > 2 ? "," : "");
    return filled(this.list_last, { before, last: names[names.length - 1] });
  }
}

/** A text with its slots filled by name. */
function filled(text, slots) {
  return text.replace(/\{([a-z]+)\}/g, (whole, name) => (name in slots ? slots[name] : whole));
}

/** Two shown texts as a range, a common unit written once. */
function joined(low, high) {
  if (low === high) return high;
  const unitAt = (text) => {
    const at = text.search(/[^0-9.,/ \u00a0\u202f]/);
    return at < 0 ? text.length : at;
  };
  const unit = high.slice(unitAt(high));
  if (low.slice(unitAt(low)) === unit && !/[0-9]/.test(unit)) return `${low.slice(0, unitAt(low)).trimEnd()}–${high}`;
  return `${low}–${high}`;
}
