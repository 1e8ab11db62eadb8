//! The exact number: a rational with decimal text and explicit rounding. Knows no units.

use num_bigint::BigInt;
use num_rational::{BigRational, Ratio};
use num_traits::{Signed, ToPrimitive, Zero};
use std::cmp::{Ordering, Reverse};
use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub};

/// A rational number; every quantity, percent and price is one until it is shown.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Exact(Repr);

/// Kitchen numbers fit machine words, which reckon many times faster than numbers of any length.
///
/// A value that fits is always `Small`, so that equal numbers are equal field by field. The least `i64` counts as too
/// long: it has no negative.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
enum Repr {
    Small(Ratio<i64>),
    Big(Box<BigRational>),
}

impl Exact {
    /// Zero.
    pub fn zero() -> Self {
        Self::from(0)
    }

    /// One.
    pub fn one() -> Self {
        Self::from(1)
    }

    /// `numerator / denominator`.
    ///
    /// # Panics
    /// If `denominator` is zero; callers pass literals.
    pub fn ratio(numerator: i64, denominator: i64) -> Self {
        match small(numerator.into(), denominator.into()) {
            Some(value) => Self(Repr::Small(value)),
            None => Self::new(BigRational::new(numerator.into(), denominator.into())),
        }
    }

    /// Reads plain decimal text (`12`, `0.4`, `.5`) of at most 60 characters; no sign, exponent or grouping, and no point
    /// at its end.
    pub fn from_decimal(text: &str) -> Option<Self> {
        let (whole, fraction) = text.split_once('.').unwrap_or((text, ""));
        let digits_only = |s: &str| s.bytes().all(|b| b.is_ascii_digit());
        if !digits_only(whole) || !digits_only(fraction) || whole.len() + fraction.len() == 0 {
            return None;
        }
        if text.ends_with('.') || text.len() > 60 {
            return None;
        }
        let digits = format!("0{whole}{fraction}");
        let places = u32::try_from(fraction.len()).ok()?;
        // Eighteen digits fit a machine word.
        if digits.len() <= 18 {
            return Some(Self(Repr::Small(Ratio::new(digits.parse().ok()?, 10_i64.pow(places)))));
        }
        Some(Self::new(BigRational::new(digits.parse().ok()?, BigInt::from(10).pow(places))))
    }

    fn new(value: BigRational) -> Self {
        match (value.numer().to_i64(), value.denom().to_i64()) {
            (Some(numer), Some(denom)) if numer != i64::MIN => Self(Repr::Small(Ratio::new_raw(numer, denom))),
            _ => Self(Repr::Big(Box::new(value))),
        }
    }

    fn big(&self) -> BigRational {
        match &self.0 {
            Repr::Small(value) => BigRational::new_raw((*value.numer()).into(), (*value.denom()).into()),
            Repr::Big(value) => (**value).clone(),
        }
    }

    /// The same reckoning in machine words where it fits them, else in numbers of any length. `words` answers numerator and
    /// denominator, in any terms, of the numerators and denominators that it is given.
    fn reckon(
        &self,
        other: &Self,
        words: impl Fn([i128; 2], [i128; 2]) -> [i128; 2],
        big: impl Fn(BigRational, BigRational) -> BigRational,
    ) -> Self {
        if let (Repr::Small(a), Repr::Small(b)) = (&self.0, &other.0) {
            let [numer, denom] = words(wide(a), wide(b));
            if let Some(value) = small(numer, denom) {
                return Self(Repr::Small(value));
            }
        }
        Self::new(big(self.big(), other.big()))
    }

    /// Whether it is zero.
    pub fn is_zero(&self) -> bool {
        match &self.0 {
            Repr::Small(value) => value.is_zero(),
            Repr::Big(value) => value.is_zero(),
        }
    }

    /// Whether it is above zero.
    pub fn is_positive(&self) -> bool {
        match &self.0 {
            Repr::Small(value) => value.is_positive(),
            Repr::Big(value) => value.is_positive(),
        }
    }

    /// Whether it is a whole number.
    pub fn is_whole(&self) -> bool {
        match &self.0 {
            Repr::Small(value) => value.is_integer(),
            Repr::Big(value) => value.is_integer(),
        }
    }

    /// The distance from zero.
    #[must_use]
    pub fn abs(&self) -> Self {
        match &self.0 {
            Repr::Small(value) => Self(Repr::Small(value.abs())),
            Repr::Big(value) => Self::new(value.abs()),
        }
    }

    /// Division that answers `None` for a zero divisor.
    pub fn over(&self, divisor: &Self) -> Option<Self> {
        (!divisor.is_zero()).then(|| self / divisor)
    }

    /// The greatest whole number not above it.
    #[must_use]
    pub fn floor(&self) -> Self {
        match &self.0 {
            Repr::Small(value) => Self::from(value.numer().div_euclid(*value.denom())),
            Repr::Big(value) => Self::new(value.floor()),
        }
    }

    /// The least whole number not below it.
    #[must_use]
    pub fn ceil(&self) -> Self {
        -(-self).floor()
    }

    /// Rounded half away from zero to a whole number.
    #[must_use]
    pub fn round(&self) -> Self {
        let away = (self.abs() + Self(Repr::Small(Ratio::new_raw(1, 2)))).floor();
        if self.is_positive() { away } else { -away }
    }

    /// Rounded half away from zero to the nearest multiple of `step` (`step` above zero).
    #[must_use]
    pub fn round_to(&self, step: &Self) -> Self {
        (self / step).round() * step
    }

    /// Rounded half away from zero at `places` decimal places.
    #[must_use]
    pub fn round_places(&self, places: u32) -> Self {
        let scale = Self::power_of_ten(places);
        (self * &scale).round() / scale
    }

    /// Ten to the power of `exponent`.
    pub fn power_of_ten(exponent: u32) -> Self {
        match 10_i64.checked_pow(exponent) {
            Some(power) => Self::from(power),
            None => Self::new(BigRational::from_integer(BigInt::from(10).pow(exponent))),
        }
    }

    /// The whole number it is, where it is one and fits.
    pub fn to_i64(&self) -> Option<i64> {
        match &self.0 {
            Repr::Small(value) => value.is_integer().then(|| *value.numer()),
            Repr::Big(value) => value.is_integer().then(|| value.numer().to_i64()).flatten(),
        }
    }

    /// Numerator and denominator in lowest terms, where they fit.
    pub fn to_fraction(&self) -> Option<(i64, i64)> {
        match &self.0 {
            Repr::Small(value) => Some((*value.numer(), *value.denom())),
            Repr::Big(value) => Some((value.numer().to_i64()?, value.denom().to_i64()?)),
        }
    }

    /// How many decimal places its exact text needs; `None` if it does not end within twelve.
    pub fn places(&self) -> Option<u32> {
        let Repr::Small(value) = &self.0 else {
            return (0..=12).find(|&places| (self * &Self::power_of_ten(places)).is_whole());
        };
        let (twos, rest) = without(*value.denom(), 2);
        let (fives, rest) = without(rest, 5);
        (rest == 1).then_some(twos.max(fives)).filter(|places| *places <= 12)
    }

    /// Decimal text for machines: exact, or rounded half away from zero at the 12th place;
    /// no exponent, no trailing zeros, `.` as the point.
    pub fn decimal(&self) -> String {
        let text = self.fixed(12);
        let trimmed = text.trim_end_matches('0').trim_end_matches('.');
        (if trimmed == "-0" { "0" } else { trimmed }).to_owned()
    }

    /// Exact text for machines, of any length: `7`, `-1/3`; numerator and denominator in lowest terms.
    pub fn ratio_text(&self) -> String {
        match &self.0 {
            Repr::Small(value) => value.to_string(),
            Repr::Big(value) => value.to_string(),
        }
    }

    /// Decimal text with exactly `places` places, rounded half away from zero.
    pub fn fixed(&self, places: u32) -> String {
        let scaled = (self * &Self::power_of_ten(places)).round();
        let (sign, digits) = match &scaled.0 {
            Repr::Small(value) => (value.is_negative(), value.numer().unsigned_abs().to_string()),
            Repr::Big(value) => (value.is_negative(), value.numer().abs().to_string()),
        };
        let sign = if sign { "-" } else { "" };
        let places = places as usize;
        if places == 0 {
            return format!("{sign}{digits}");
        }
        let padded = format!("{digits:0>width$}", width = places + 1);
        let (whole, fraction) = padded.split_at(padded.len() - places);
        format!("{sign}{whole}.{fraction}")
    }
}

impl From<i64> for Exact {
    fn from(value: i64) -> Self {
        if value == i64::MIN {
            return Self::new(BigRational::from_integer(value.into()));
        }
        Self(Repr::Small(Ratio::new_raw(value, 1)))
    }
}

impl Ord for Exact {
    fn cmp(&self, other: &Self) -> Ordering {
        match (&self.0, &other.0) {
            (Repr::Small(a), Repr::Small(b)) => {
                let ([a, b], [c, d]) = (wide(a), wide(b));
                (a * d).cmp(&(c * b))
            }
            _ => self.big().cmp(&other.big()),
        }
    }
}

impl PartialOrd for Exact {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

/// Numerator and denominator in words twice as long: products of two of them fit, and sums of two products.
fn wide(value: &Ratio<i64>) -> [i128; 2] {
    [i128::from(*value.numer()), i128::from(*value.denom())]
}

/// A fraction in lowest terms, where it fits machine words; `None` for a divisor of zero, too.
fn small(numer: i128, denom: i128) -> Option<Ratio<i64>> {
    let word = |value: i128| i64::try_from(value).ok().filter(|word| *word != i64::MIN);
    match (word(numer), word(denom)) {
        (_, Some(0)) => None,
        (Some(numer), Some(1)) => Some(Ratio::new_raw(numer, 1)),
        (Some(numer), Some(denom)) => Some(Ratio::new(numer, denom)),
        (None, _) | (_, None) => {
            let value = Ratio::new(numer, denom);
            Some(Ratio::new_raw(word(*value.numer())?, word(*value.denom())?))
        }
    }
}

/// How often a prime divides a number above zero, and what is left of it.
fn without(mut number: i64, prime: i64) -> (u32, i64) {
    let mut count = 0;
    while number % prime == 0 {
        number /= prime;
        count += 1;
    }
    (count, number)
}

macro_rules! arithmetic {
    ($($name:ident $method:ident $words:expr),*) => {$(
        impl $name<&Exact> for &Exact {
            type Output = Exact;
            fn $method(self, other: &Exact) -> Exact { self.reckon(other, $words, $name::$method) }
        }
        impl $name<Exact> for Exact {
            type Output = Exact;
            fn $method(self, other: Exact) -> Exact { $name::$method(&self, &other) }
        }
        impl $name<&Exact> for Exact {
            type Output = Exact;
            fn $method(self, other: &Exact) -> Exact { $name::$method(&self, other) }
        }
        impl $name<Exact> for &Exact {
            type Output = Exact;
            fn $method(self, other: Exact) -> Exact { $name::$method(self, &other) }
        }
    )*};
}
arithmetic!(
    Add add |[a, b], [c, d]| if b == d { [a + c, b] } else { [a * d + c * b, b * d] },
    Sub sub |[a, b], [c, d]| if b == d { [a - c, b] } else { [a * d - c * b, b * d] },
    Mul mul |[a, b], [c, d]| [a * c, b * d],
    Div div |[a, b], [c, d]| [a * d, b * c]
);

impl Neg for Exact {
    type Output = Exact;
    fn neg(self) -> Exact {
        -&self
    }
}

impl Neg for &Exact {
    type Output = Exact;
    fn neg(self) -> Exact {
        match &self.0 {
            Repr::Small(value) => Exact(Repr::Small(-value)),
            Repr::Big(value) => Exact::new(-(**value).clone()),
        }
    }
}

impl AddAssign<&Exact> for Exact {
    fn add_assign(&mut self, other: &Exact) {
        *self = &*self + other;
    }
}

impl Sum for Exact {
    fn sum<I: Iterator<Item = Exact>>(items: I) -> Exact {
        items.fold(Exact::zero(), |total, item| total + item)
    }
}

impl<'a> Sum<&'a Exact> for Exact {
    fn sum<I: Iterator<Item = &'a Exact>>(items: I) -> Exact {
        items.fold(Exact::zero(), |total, item| total + item)
    }
}

/// Splits `total` units over `shares` by largest remainder (Hare quota): each part is its quota
/// rounded down, and the units left go to the largest remainders, earlier shares first on a tie.
///
/// Answers all zeros where the shares sum to zero.
pub fn apportion(total: i64, shares: &[Exact]) -> Vec<i64> {
    let sum: Exact = shares.iter().sum();
    let total_exact = Exact::from(total);
    let quotas: Vec<Exact> =
        shares.iter().map(|share| (share * &total_exact).over(&sum).unwrap_or_else(Exact::zero)).collect();
    let mut parts: Vec<i64> = quotas.iter().map(|q| q.floor().to_i64().unwrap_or(0)).collect();
    if sum.is_zero() {
        return parts;
    }
    let mut order: Vec<usize> = (0..shares.len()).collect();
    // Each remainder is reckoned once; a stable order keeps earlier shares first.
    order.sort_by_cached_key(|&index| Reverse(&quotas[index] - Exact::from(parts[index])));
    let left = total - parts.iter().sum::<i64>();
    for &index in order.iter().take(usize::try_from(left).unwrap_or(0)) {
        parts[index] += 1;
    }
    parts
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn largest_remainder_matches_the_published_seats() {
        // 247, 185, 459, 400, 413 over 42 seats; recomputed with PyPI `apportionment`.
        let votes = [247, 185, 459, 400, 413].map(Exact::from);
        assert_eq!(apportion(42, &votes), [6, 5, 11, 10, 10]);
    }

    #[test]
    fn decimal_text_is_exact_or_rounded_at_the_twelfth_place() {
        assert_eq!(Exact::ratio(1, 8).decimal(), "0.125");
        assert_eq!(Exact::ratio(2, 3).decimal(), "0.666666666667");
        assert_eq!(Exact::from(300).decimal(), "300");
        assert_eq!(Exact::ratio(-1, 2).fixed(0), "-1");
        assert_eq!((-Exact::from_decimal("0.0000000000001").unwrap()).decimal(), "0");
    }

    #[test]
    fn ratio_text_is_exact_at_any_length() {
        assert_eq!(Exact::from(7).ratio_text(), "7");
        assert_eq!(Exact::ratio(-2, 6).ratio_text(), "-1/3");
        let long = Exact::from(i64::MAX) * Exact::from(i64::MAX) / Exact::from(2);
        assert_eq!(long.ratio_text(), "85070591730234615847396907784232501249/2");
    }

    /// The same in `num-rational`'s numbers of any length, for values around what a machine word holds.
    #[test]
    fn machine_words_reckon_as_numbers_of_any_length_do() {
        let edges = [0, 1, 2, 3, 7, 10, 97, 1_000_000_007, 1 << 31, (1 << 62) - 1, 1 << 62, i64::MAX - 1, i64::MAX];
        let signed: Vec<i64> = edges.iter().flat_map(|&n| [n, -n]).chain([i64::MIN, i64::MIN + 1]).collect();
        let values: Vec<BigRational> = signed
            .iter()
            .flat_map(|&n| [1, 3, 10, 1 << 13, 5_i64.pow(12), i64::MAX].map(|d| BigRational::new(n.into(), d.into())))
            .collect();
        for a in &values {
            let x = Exact::new(a.clone());
            assert_eq!(x.floor(), Exact::new(a.floor()), "floor of {a}");
            assert_eq!(x.ceil(), Exact::new(a.ceil()), "ceiling of {a}");
            assert_eq!(x.round(), Exact::new(a.round()), "{a} rounded");
            assert_eq!((-&x).abs(), Exact::new(a.abs()), "distance of {a}");
            let ends = |places: &u32| (a * BigRational::from_integer(BigInt::from(10).pow(*places))).is_integer();
            assert_eq!(x.places(), (0..=12).find(ends), "places of {a}");
            for b in &values {
                let y = Exact::new(b.clone());
                assert_eq!(&x + &y, Exact::new(a + b), "{a} + {b}");
                assert_eq!(&x - &y, Exact::new(a - b), "{a} - {b}");
                assert_eq!(&x * &y, Exact::new(a * b), "{a} * {b}");
                assert_eq!(x.cmp(&y), a.cmp(b), "{a} against {b}");
                if !b.is_zero() {
                    assert_eq!(&x / &y, Exact::new(a / b), "{a} / {b}");
                }
            }
        }
    }

    #[test]
    fn plain_decimal_text_is_read_and_nothing_else() {
        let read = |text: &str| Exact::from_decimal(text).map(|value| value.ratio_text());
        for (text, value) in [("12", "12"), ("0.4", "2/5"), (".5", "1/2"), ("007", "7"), ("1.250", "5/4")] {
            assert_eq!(read(text).as_deref(), Some(value), "{text}");
        }
        for text in [
            "",
            ".",
            "5.",
            "1.2.3",
            "1,5",
            "-1",
            "+1",
            "1e3",
            "1x",
            "1.x",
            "x.1",
            "½",
            " 1",
            "1_000_000_000_000_000_000_000",
        ] {
            assert_eq!(read(text), None, "{text}");
        }
        // Longer than a machine word, up to sixty characters.
        assert_eq!(read("1234567890123456789").as_deref(), Some("1234567890123456789"));
        assert_eq!(read("12345678901234567890.5").as_deref(), Some("24691357802469135781/2"));
        let nines = |count| "9".repeat(count);
        assert_eq!(read(&nines(60)), Some(nines(60)));
        assert_eq!(read(&nines(61)), None);
    }

    #[test]
    fn what_does_not_fit_is_not_told_as_if_it_did() {
        let (half, most) = (Exact::ratio(1, 2), Exact::from(i64::MAX));
        let beyond = &most + Exact::one();
        assert_eq!((half.to_i64(), most.to_i64(), beyond.to_i64()), (None, Some(i64::MAX), None));
        assert_eq!((half.to_fraction(), beyond.to_fraction()), (Some((1, 2)), None));
        assert_eq!(-Exact::from(i64::MIN), beyond, "the least machine word has no negative among them");
        assert!(beyond.is_whole() && beyond.is_positive() && !beyond.is_zero());
        assert!(!(-&beyond).is_positive() && !(&beyond / Exact::from(7)).is_whole());
    }

    #[test]
    fn places_are_as_many_as_exact_text_needs() {
        let places = |numerator, denominator| Exact::ratio(numerator, denominator).places();
        assert_eq!([places(0, 1), places(5, 4), places(1, 8), places(300, 1)], [Some(0), Some(2), Some(3), Some(0)]);
        assert_eq!(places(1, 3), None);
        let tenth = |exponent| Exact::one() / Exact::power_of_ten(exponent);
        assert_eq!((tenth(12).places(), tenth(13).places()), (Some(12), None));
    }

    #[test]
    fn halves_are_rounded_away_from_zero() {
        let tenths = |n: i64| Exact::ratio(n, 10);
        assert_eq!([25, -25, 24, -24].map(|n| tenths(n).round().decimal()), ["3", "-3", "2", "-2"]);
        assert_eq!([25, -25].map(|n| tenths(n).ceil().decimal()), ["3", "-2"]);
        assert_eq!(Exact::from(12).round_to(&Exact::from(5)).decimal(), "10");
        assert_eq!(Exact::from(-13).round_to(&Exact::from(5)).decimal(), "-15");
        assert_eq!(Exact::ratio(12_345, 1000).round_places(2).decimal(), "12.35");
        assert_eq!(Exact::ratio(-5, 100).fixed(1), "-0.1");
        assert_eq!(Exact::from(7).over(&Exact::zero()), None);
    }

    #[test]
    fn sums_start_at_nothing() {
        let parts = [Exact::ratio(1, 2), Exact::from(2), Exact::from(3)];
        assert_eq!(parts.iter().sum::<Exact>(), Exact::ratio(11, 2));
        assert_eq!(parts.into_iter().sum::<Exact>(), Exact::ratio(11, 2));
        assert_eq!(apportion(7, &[Exact::zero(), Exact::zero()]), [0, 0]);
        // Quotas 3.5 and 3.5: the earlier share takes what is left.
        assert_eq!(apportion(7, &[Exact::one(), Exact::one()]), [4, 3]);
    }
}
