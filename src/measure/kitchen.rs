//! Rounding to what a kitchen can weigh, pour and count, never by more than 2 %.

use super::{tolerance, within};
use crate::exact::{Exact, Quantity, Unit};

/// A weight as it is shown: rounded, in the unit of the kitchen scale.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Weighed {
    /// The shown weight in grams, exact for the digits shown.
    pub grams: Exact,
    /// The decimal step it was rounded to, in grams.
    pub step: Exact,
}

/// Rounds `grams` to the step of `scale`; a weight that this would change by more than 2 % is
/// rounded to a tenth of the step, or a hundredth, and so on.
pub fn weigh(grams: &Exact, scale: &Quantity) -> Weighed {
    let mut step = scale.value.clone();
    loop {
        let rounded = grams.round_to(&step);
        if within(&rounded, grams, &tolerance()) {
            return Weighed { grams: rounded, step };
        }
        step = step / Exact::from(10);
    }
}

/// Rounds millilitres to whole ones, or finer where that would change them by more than 2 %.
pub fn poured(millilitres: &Exact) -> Exact {
    let one =
        Quantity { dimension: crate::exact::Dimension::Volume, value: Exact::one(), unit: Some(Unit::Millilitre) };
    weigh(millilitres, &one).grams
}

/// A count as whole ones with halves, thirds or quarters, where that is within 2 %.
pub fn countable(count: &Exact) -> Option<Exact> {
    [1, 2, 3, 4]
        .iter()
        .map(|&parts| count.round_to(&Exact::ratio(1, parts)))
        .find(|rounded| rounded.is_positive() && within(rounded, count, &tolerance()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exact::{Measures, parse_quantity};

    fn scale(text: &str) -> Quantity {
        parse_quantity(text, Measures::Metric).expect("scale")
    }

    #[test]
    fn small_amounts_get_finer_digits() {
        let shown = |n, d, s: &str| weigh(&Exact::ratio(n, d), &scale(s)).grams.decimal();
        assert_eq!(shown(54, 10, "1 g"), "5.4");
        assert_eq!(shown(1804, 10, "1 g"), "180");
        assert_eq!(shown(12, 1, "5 g"), "12");
        assert_eq!(shown(1, 300, "1 g"), "0.0033");
    }

    #[test]
    fn counts_keep_to_kitchen_fractions() {
        let shown = |n, d| countable(&Exact::ratio(n, d)).map(|c| c.decimal());
        assert_eq!(shown(3, 2).as_deref(), Some("1.5"));
        assert_eq!(shown(37, 100), None);
        assert_eq!(shown(1, 20), None);
    }

    #[test]
    fn what_is_weighed_poured_and_counted_keeps_within_a_fiftieth() {
        let shown = |n, d, s: &str| weigh(&Exact::ratio(n, d), &scale(s)).grams.decimal();
        assert_eq!(shown(500, 10, "1 g"), "50");
        assert_eq!(shown(255, 10, "1 g"), "26", "0.5 g of 25.5 g is 1.96 %");
        assert_eq!(shown(245, 10, "1 g"), "24.5", "0.5 g of 24.5 g is 2.04 %");
        assert_eq!(poured(&Exact::ratio(1234, 10)).decimal(), "123");
        assert_eq!(poured(&Exact::ratio(12, 10)).decimal(), "1.2");
        let counted = |n, d| countable(&Exact::ratio(n, d)).map(|c| c.ratio_text());
        assert_eq!(counted(101, 100).as_deref(), Some("1"));
        assert_eq!(counted(1, 3).as_deref(), Some("1/3"));
        assert_eq!(counted(9, 4).as_deref(), Some("9/4"));
        assert_eq!(counted(0, 1), None, "no piece is no count");
    }
}
