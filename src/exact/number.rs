//! The exact number: a rational with decimal text and explicit rounding. Knows no units.

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::{Signed, ToPrimitive, Zero};
use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub};

/// A rational number; every quantity, percent and price is one until it is shown.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Exact(BigRational);

impl Exact {
    /// Zero.
    pub fn zero() -> Self {
        Self(BigRational::zero())
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
        Self(BigRational::new(numerator.into(), denominator.into()))
    }

    /// Reads plain decimal text (`12`, `0.4`, `.5`); no sign, exponent or grouping.
    pub fn from_decimal(text: &str) -> Option<Self> {
        let (whole, fraction) = text.split_once('.').unwrap_or((text, ""));
        let digits_only = |s: &str| s.bytes().all(|b| b.is_ascii_digit());
        if !digits_only(whole) || !digits_only(fraction) || whole.len() + fraction.len() == 0 {
            return None;
        }
        if text.ends_with('.') || text.len() > 60 {
            return None;
        }
        let digits: BigInt = format!("0{whole}{fraction}").parse().ok()?;
        let scale = BigInt::from(10).pow(u32::try_from(fraction.len()).ok()?);
        Some(Self(BigRational::new(digits, scale)))
    }

    /// Whether it is zero.
    pub fn is_zero(&self) -> bool {
        self.0.is_zero()
    }

    /// Whether it is above zero.
    pub fn is_positive(&self) -> bool {
        self.0.is_positive()
    }

    /// Whether it is a whole number.
    pub fn is_whole(&self) -> bool {
        self.0.is_integer()
    }

    /// The distance from zero.
    #[must_use]
    pub fn abs(&self) -> Self {
        Self(self.0.abs())
    }

    /// Division that answers `None` for a zero divisor.
    pub fn over(&self, divisor: &Self) -> Option<Self> {
        (!divisor.is_zero()).then(|| Self(&self.0 / &divisor.0))
    }

    /// The greatest whole number not above it.
    #[must_use]
    pub fn floor(&self) -> Self {
        Self(self.0.floor())
    }

    /// The least whole number not below it.
    #[must_use]
    pub fn ceil(&self) -> Self {
        Self(self.0.ceil())
    }

    /// Rounded half away from zero to a whole number.
    #[must_use]
    pub fn round(&self) -> Self {
        Self(self.0.round())
    }

    /// Rounded half away from zero to the nearest multiple of `step` (`step` above zero).
    #[must_use]
    pub fn round_to(&self, step: &Self) -> Self {
        Self((&self.0 / &step.0).round() * &step.0)
    }

    /// Rounded half away from zero at `places` decimal places.
    #[must_use]
    pub fn round_places(&self, places: u32) -> Self {
        self.round_to(&Self::power_of_ten(places).reciprocal())
    }

    /// Ten to the power of `exponent`.
    pub fn power_of_ten(exponent: u32) -> Self {
        Self(BigRational::from_integer(BigInt::from(10).pow(exponent)))
    }

    fn reciprocal(&self) -> Self {
        Self(self.0.recip())
    }

    /// The whole number it is, where it is one and fits.
    pub fn to_i64(&self) -> Option<i64> {
        self.is_whole().then(|| self.0.to_integer().to_i64()).flatten()
    }

    /// Numerator and denominator in lowest terms, where they fit.
    pub fn to_fraction(&self) -> Option<(i64, i64)> {
        Some((self.0.numer().to_i64()?, self.0.denom().to_i64()?))
    }

    /// How many decimal places its exact text needs; `None` if it does not end within twelve.
    pub fn places(&self) -> Option<u32> {
        (0..=12).find(|&places| (self * &Self::power_of_ten(places)).is_whole())
    }

    /// Decimal text for machines: exact, or rounded half away from zero at the 12th place;
    /// no exponent, no trailing zeros, `.` as the point.
    pub fn decimal(&self) -> String {
        let rounded = self.round_places(12);
        let text = rounded.fixed(12);
        let trimmed = text.trim_end_matches('0').trim_end_matches('.');
        trimmed.to_owned()
    }

    /// Decimal text with exactly `places` places, rounded half away from zero.
    pub fn fixed(&self, places: u32) -> String {
        let scaled = (self * &Self::power_of_ten(places)).round().0.to_integer();
        let sign = if scaled.is_negative() { "-" } else { "" };
        let digits = scaled.abs().to_string();
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
        Self(BigRational::from_integer(value.into()))
    }
}

macro_rules! arithmetic {
    ($($name:ident $method:ident $op:tt),*) => {$(
        impl $name<&Exact> for &Exact {
            type Output = Exact;
            fn $method(self, other: &Exact) -> Exact { Exact(&self.0 $op &other.0) }
        }
        impl $name<Exact> for Exact {
            type Output = Exact;
            fn $method(self, other: Exact) -> Exact { Exact(self.0 $op other.0) }
        }
        impl $name<&Exact> for Exact {
            type Output = Exact;
            fn $method(self, other: &Exact) -> Exact { Exact(self.0 $op &other.0) }
        }
        impl $name<Exact> for &Exact {
            type Output = Exact;
            fn $method(self, other: Exact) -> Exact { Exact(&self.0 $op other.0) }
        }
    )*};
}
arithmetic!(Add add +, Sub sub -, Mul mul *, Div div /);

impl Neg for Exact {
    type Output = Exact;
    fn neg(self) -> Exact {
        Exact(-self.0)
    }
}

impl AddAssign<&Exact> for Exact {
    fn add_assign(&mut self, other: &Exact) {
        self.0 += &other.0;
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
    order.sort_by(|&a, &b| {
        let remainder = |i: usize| &quotas[i] - &quotas[i].floor();
        remainder(b).cmp(&remainder(a)).then(a.cmp(&b))
    });
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
    }
}
