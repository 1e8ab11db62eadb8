//! Numbers, percents, fractions, dates and plural categories as text. Knows no units and no currencies.

use super::{Key, Locale, PluralCategory};
use crate::exact::Exact;
use fixed_decimal::Decimal;
use icu_decimal::DecimalFormatter;
use jiff::civil::Date;

/// The marks that a formatter writes between digits.
#[derive(Clone, Debug)]
pub(super) struct Marks {
    /// Before the decimals.
    pub point: String,
    /// Between groups of digits.
    pub group: String,
    /// Before a number below zero.
    pub minus: String,
}

impl Marks {
    /// Read off three numbers of ones; grouping off one that is long enough to be grouped anywhere.
    pub(super) fn of(formatter: &DecimalFormatter) -> Self {
        let around = |plain: &str| {
            let text = formatter.format(&decimal(plain)).to_string();
            text.split('1').find(|between| !between.is_empty()).unwrap_or_default().to_owned()
        };
        Self { point: around("1.1"), group: around("111111"), minus: around("-1") }
    }
}

/// Plain decimal text of our own making as a decimal.
fn decimal(plain: &str) -> Decimal {
    plain.parse().expect("`Exact::fixed` writes plain decimal text")
}

impl Locale {
    /// `value` with at most `max_places` decimals, rounded half away from zero, without trailing zeros,
    /// grouped as CLDR says ("1,234.5", "1.234,5"; Spanish and Polish leave four digits ungrouped).
    pub fn number(&self, value: &Exact, max_places: u32) -> String {
        let rounded = value.round_places(max_places);
        self.number_fixed(&rounded, rounded.places().unwrap_or(max_places).min(max_places))
    }

    /// `value` with exactly `places` decimals, rounded half away from zero.
    pub fn number_fixed(&self, value: &Exact, places: u32) -> String {
        self.decimals.format(&decimal(&value.fixed(places))).to_string()
    }

    /// The value of a number as [`Self::number_fixed`] writes it, and how many decimals it has; `None` for anything else.
    pub fn read(&self, text: &str) -> Option<(Exact, u32)> {
        let (whole, decimals) = text.split_once(self.marks.point.as_str()).unwrap_or((text, ""));
        let whole = if self.marks.group.is_empty() { whole.to_owned() } else { whole.replace(&self.marks.group, "") };
        let plain = if decimals.is_empty() { whole } else { format!("{whole}.{decimals}") };
        let places = u32::try_from(decimals.len()).ok()?;
        let value = Exact::from_decimal(&plain)?;
        (self.number_fixed(&value, places) == text).then_some((value, places))
    }

    /// `value` percent (40 for 40 %) with at most `max_places` decimals: "40%", "40 %".
    pub fn percent(&self, value: &Exact, max_places: u32) -> String {
        self.layout.percent.replacen('n', &self.number(value, max_places), 1)
    }

    /// A change in percent with its sign: "+1.6 %", "−11 %"; no sign where it is none.
    pub fn change(&self, value: &Exact, max_places: u32) -> String {
        let rounded = value.round_places(max_places);
        let text = self.percent(&rounded.abs(), max_places);
        if rounded.is_positive() {
            format!("+{text}")
        } else if rounded.is_zero() {
            text
        } else {
            format!("{}{text}", self.marks.minus)
        }
    }

    /// A whole number, or one with halves, quarters, eighths, sixteenths, thirds or sixths, as a cook writes it in plain
    /// digits: "1 1/2", "3/4", "2". `None` for any other value.
    pub fn mixed(&self, value: &Exact) -> Option<String> {
        let whole = value.floor();
        let (top, bottom) = (value - &whole).to_fraction()?;
        let fraction = format!("{top}/{bottom}");
        if value < &Exact::zero() || ![1, 2, 3, 4, 6, 8, 16].contains(&bottom) {
            return None;
        }
        Some(match (whole.is_zero(), top == 0) {
            (_, true) => self.number(&whole, 0),
            (true, false) => fraction,
            (false, false) => format!("{} {fraction}", self.number(&whole, 0)),
        })
    }

    /// Two shown ends as one range: "8–12"; the one value where they are alike.
    pub fn range(&self, low: &str, high: &str) -> String {
        if low == high { low.to_owned() } else { format!("{low}–{high}") }
    }

    /// A day written out: "1 May 2026", "May 1, 2026", "1. Mai 2026".
    pub fn date(&self, day: Date) -> String {
        const MONTHS: [Key; 12] = [
            Key::MonthJanuary,
            Key::MonthFebruary,
            Key::MonthMarch,
            Key::MonthApril,
            Key::MonthMay,
            Key::MonthJune,
            Key::MonthJuly,
            Key::MonthAugust,
            Key::MonthSeptember,
            Key::MonthOctober,
            Key::MonthNovember,
            Key::MonthDecember,
        ];
        let month = self.text(MONTHS[usize::from(day.month().unsigned_abs() - 1)]);
        let number = day.day();
        // Field letters first, the month's name last: it holds letters of its own.
        self.dates
            .date
            .replace("dd", &format!("{number:0>2}"))
            .replace('d', &number.to_string())
            .replace('y', &day.year().to_string())
            .replace('M', month)
    }

    /// The CLDR plural category of `value` in the run's language.
    pub fn plural(&self, value: &Exact) -> PluralCategory {
        let places = value.places().unwrap_or(3).min(3);
        self.plurals.category_for(&decimal(&value.abs().fixed(places)))
    }

    /// The category that a measure of `value` takes its unit's name in: a part of one is singular in every
    /// language ("1/2 cup"), above one CLDR's rule holds ("1 1/2 cups", "1 1/2 tasse").
    pub(super) fn measured(&self, value: &Exact) -> PluralCategory {
        if value.is_positive() && value <= &Exact::one() { PluralCategory::One } else { self.plural(value) }
    }

    /// Whether so many are spoken of as of one: "1/2 egg", "1 1/2 eggs", "1 1/2 citron".
    pub fn is_one(&self, count: &Exact) -> bool {
        self.measured(count) == PluralCategory::One
    }
}
