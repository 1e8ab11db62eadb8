//! How a locale writes, as data: for readers of numbers who can't ask [`Locale`] itself, such as a page in a browser.
//! Knows no figures.

use super::{Key, Locale, PluralCategory};
use crate::exact::{Exact, Unit};
use iso_currency::Currency;
use serde::Serialize;
use std::collections::BTreeMap;

/// What stands around digits.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Around {
    /// Before them.
    pub before: String,
    /// Behind them.
    pub behind: String,
}

/// The marks, the layout and the few words that numbers, money, measures and lists are written with.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Notation {
    /// Before the decimals.
    pub point: String,
    /// Between groups of digits; empty where there are none.
    pub group: String,
    /// Before a number below zero.
    pub minus: String,
    /// How many digits the last group has, and how many those before it.
    pub groups: (usize, usize),
    /// The least number of whole digits that are grouped.
    pub grouped_from: usize,
    /// Around a percent.
    pub percent: Around,
    /// Around money.
    pub money: Around,
    /// Around money below zero.
    pub money_below: Around,
    /// The decimal mark of money.
    pub money_point: String,
    /// The grouping mark of money.
    pub money_group: String,
    /// How many decimals money has.
    pub money_places: u32,
    /// Below this, a measure's unit is singular.
    pub singular_below: String,
    /// Names of units by their spelling in sources: singular, then plural.
    pub units: BTreeMap<&'static str, (&'static str, &'static str)>,
    /// Whether a comma stands before the last of three.
    pub serial: bool,
    /// The end of a list: `{before} and {last}`.
    pub list_last: &'static str,
}

/// Units that a yield can change the number of.
const UNITS: [(&str, Unit); 9] = [
    ("g", Unit::Gram),
    ("kg", Unit::Kilogram),
    ("oz", Unit::Ounce),
    ("lb", Unit::Pound),
    ("mL", Unit::Millilitre),
    ("L", Unit::Litre),
    ("tsp", Unit::Teaspoon),
    ("tbsp", Unit::Tablespoon),
    ("cup", Unit::Cup),
];

impl Locale {
    /// The notation of this locale for money of `currency`.
    pub fn notation(&self, currency: Currency) -> Notation {
        const DIGITS: &str = "\u{1}";
        let around = |text: String| {
            let (before, behind) = text.split_once(DIGITS).unwrap_or((&text, ""));
            Around { before: before.to_owned(), behind: behind.to_owned() }
        };
        let money_group = self.layout.money_group.as_ref().unwrap_or(&self.marks.group);
        let money_point = self.layout.money_point.as_ref().unwrap_or(&self.marks.point);
        let (groups, grouped_from) = self.groups();
        let singular = |value: &Exact| self.measured(value) == PluralCategory::One;
        Notation {
            point: self.marks.point.clone(),
            group: self.marks.group.clone(),
            minus: self.marks.minus.clone(),
            groups,
            grouped_from,
            percent: around(self.layout.percent.replacen('n', DIGITS, 1)),
            money: around(self.place(&self.layout.money, DIGITS, currency)),
            money_below: around(self.place(&self.layout.negative, DIGITS, currency)),
            money_point: money_point.clone(),
            money_group: if self.marks.group.is_empty() { String::new() } else { money_group.clone() },
            money_places: self.minor_places(currency),
            singular_below: if singular(&Exact::ratio(3, 2)) { "2" } else { "1" }.to_owned(),
            units: UNITS
                .into_iter()
                .map(|(id, unit)| (id, (self.unit_name(unit, &Exact::one()), self.unit_name(unit, &Exact::from(5)))))
                .collect(),
            serial: self.dates.serial,
            list_last: self.text(Key::ListLast),
        }
    }

    /// Read off numbers of ones: lengths of the last group and of those before it, and from how many digits there are any.
    fn groups(&self) -> ((usize, usize), usize) {
        let ones = |count: u32| self.number(&(Exact::power_of_ten(count) / Exact::from(9)).floor(), 0);
        let (long, mark) = (ones(12), self.marks.group.as_str());
        if mark.is_empty() || !long.contains(mark) {
            return ((0, 0), 99);
        }
        let lengths: Vec<usize> = long.rsplit(mark).map(|group| group.chars().count()).collect();
        let last = lengths.first().copied().unwrap_or(3);
        let from = (1..12).find(|&count| ones(count).contains(mark)).unwrap_or(12);
        ((last, lengths.get(1).copied().unwrap_or(last)), from as usize)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn groups_are_those_that_cldr_says() {
        // CLDR 47, `numbers`: decimalFormats of en, de, en-IN and es (minimum grouping digits 2), from memory.
        let of = |tag: &str| Locale::new(tag, "en").expect(tag).groups();
        assert_eq!(of("en-IE"), ((3, 3), 4));
        assert_eq!(of("en-IN"), ((3, 2), 4));
        assert_eq!(of("es-ES"), ((3, 3), 5));
    }

    #[test]
    fn money_has_its_sign_where_the_locale_puts_it() {
        let of = |tag: &str, language: &str, code: &str| {
            let notation = Locale::new(tag, language).expect(tag).notation(Currency::from_code(code).expect(code));
            (notation.money.before, notation.money.behind, notation.money_places, notation.singular_below)
        };
        assert_eq!(of("en-IE", "en", "EUR"), ("€".into(), String::new(), 2, "1".into()));
        assert_eq!(of("fr-FR", "fr", "EUR"), (String::new(), "\u{a0}€".into(), 2, "2".into()));
        assert_eq!(of("de-DE", "de", "BHD"), (String::new(), "\u{a0}BHD".into(), 3, "1".into()));
        assert_eq!(of("en-IE", "en", "JPY").2, 0);
    }
}
