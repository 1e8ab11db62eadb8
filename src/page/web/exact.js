// Exact numbers: a numerator over a denominator, both whole and of any length, in lowest terms. The same rounding as
// the program's: half away from zero, once, where a text is made.

function divisor(a, b) {
  if (a < 0n) a = -a;
  while (b) {
    const rest = a % b;
    a = b;
    b = rest;
  }
  return a;
}

/** The greatest whole number not above `a / b`. */
function floorDivide(a, b) {
  const quotient = a / b;
  return a < 0n && quotient * b !== a ? quotient - 1n : quotient;
}

class Exact {
  constructor(n, d) {
    this.n = n;
    this.d = d;
  }

  static of(n, d = 1n) {
    if (d === 1n) return new Exact(n, d);
    if (d < 0n) {
      n = -n;
      d = -d;
    }
    const common = divisor(n, d);
    return common === 1n ? new Exact(n, d) : new Exact(n / common, d / common);
  }

  /** Reads `7` or `-1/3`; nothing for `null`. */
  static read(text) {
    if (text === null || text === undefined) return null;
    const [n, d] = text.split("/");
    return Exact.of(BigInt(n), d === undefined ? 1n : BigInt(d));
  }

  static sum(values) {
    return values.reduce((sum, value) => sum.plus(value), ZERO);
  }

  plus(other) {
    if (this.d === other.d) return Exact.of(this.n + other.n, this.d);
    return Exact.of(this.n * other.d + other.n * this.d, this.d * other.d);
  }

  minus(other) {
    return this.plus(new Exact(-other.n, other.d));
  }

  times(other) {
    return Exact.of(this.n * other.n, this.d * other.d);
  }

  over(other) {
    return other.n === 0n ? null : Exact.of(this.n * other.d, this.d * other.n);
  }

  /** Below zero, zero or above zero, as this is less than, equal to or more than `other`. */
  against(other) {
    const difference = this.n * other.d - other.n * this.d;
    return difference < 0n ? -1 : difference > 0n ? 1 : 0;
  }

  is(other) {
    return this.n === other.n && this.d === other.d;
  }

  get whole() {
    return this.d === 1n;
  }

  get sign() {
    return this.n < 0n ? -1 : this.n > 0n ? 1 : 0;
  }

  abs() {
    return this.n < 0n ? new Exact(-this.n, this.d) : this;
  }

  floor() {
    return new Exact(floorDivide(this.n, this.d), 1n);
  }

  ceil() {
    return new Exact(-floorDivide(-this.n, this.d), 1n);
  }

  round() {
    const away = floorDivide(2n * (this.n < 0n ? -this.n : this.n) + this.d, 2n * this.d);
    return new Exact(this.n < 0n ? -away : away, 1n);
  }

  roundTo(step) {
    return this.over(step).round().times(step);
  }

  roundPlaces(places) {
    const scale = 10n ** BigInt(places);
    return Exact.of(this.times(new Exact(scale, 1n)).round().n, scale);
  }

  /** How many decimals its exact text needs; nothing if it does not end within twelve. */
  places() {
    for (let places = 0; places <= 12; places += 1) {
      if ((10n ** BigInt(places)) % this.d === 0n) return places;
    }
    return null;
  }
}

const whole = (number) => new Exact(BigInt(number), 1n);
const ratio = (n, d) => Exact.of(BigInt(n), BigInt(d));
const ZERO = whole(0);
const ONE = whole(1);
const HUNDRED = whole(100);
const least = (values) => values.reduce((a, b) => (b.against(a) < 0 ? b : a));
const most = (values) => values.reduce((a, b) => (b.against(a) > 0 ? b : a));

/** A pair `[start, slope]` at a factor; nothing where there is no such line. */
function along(line, factor) {
  return line && line[0].plus(line[1].times(factor));
}

/** Splits `total` units over `shares` by largest remainder; earlier shares first on a tie. */
function apportion(total, shares) {
  const sum = Exact.sum(shares);
  if (sum.sign === 0) return shares.map(() => 0n);
  const quotas = shares.map((share) => share.times(new Exact(total, 1n)).over(sum));
  const parts = quotas.map((quota) => quota.floor().n);
  const left = Number(total - parts.reduce((a, b) => a + b, 0n));
  const rest = quotas.map((quota, at) => quota.minus(new Exact(parts[at], 1n)));
  const order = shares.map((_, at) => at).sort((a, b) => rest[b].against(rest[a]) || a - b);
  for (const at of order.slice(0, Math.max(left, 0))) parts[at] += 1n;
  return parts;
}
