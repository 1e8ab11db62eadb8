//! Money as text: ISO 4217 minor units, CLDR's symbols and placement. Knows no prices.

use super::Locale;
use crate::exact::Exact;
use iso_currency::Currency;

/// How many decimals `currency` is written with; ISO 4217 holds over CLDR. Funds and metals without minor
/// units take none.
pub fn minor_places(currency: Currency) -> u32 {
    currency.exponent().map_or(0, u32::from)
}

impl Locale {
    /// How many decimals `currency` is written with (ISO 4217).
    pub fn minor_places(&self, currency: Currency) -> u32 {
        minor_places(currency)
    }

    /// `amount` in the currency's major unit, rounded half away from zero at its minor unit.
    pub fn money(&self, amount: &Exact, currency: Currency) -> String {
        let places = minor_places(currency);
        let rounded = amount.round_places(places);
        let pattern = if rounded < Exact::zero() { &self.layout.negative } else { &self.layout.money };
        self.place(pattern, &self.money_digits(&rounded.abs(), places), currency)
    }

    /// `amount`, not below zero, in the currency's major unit with all its decimals: a tariff is finer than a coin.
    pub fn money_exact(&self, amount: &Exact, currency: Currency) -> String {
        let places = amount.places().unwrap_or(12).max(minor_places(currency));
        self.place(&self.layout.money, &self.money_digits(amount, places), currency)
    }

    /// A difference of money, rounded to the minor unit, with its sign: "+€0.23", "-€0.10"; no sign where it is none.
    pub fn money_change(&self, amount: &Exact, currency: Currency) -> String {
        let text = self.money(amount, currency);
        if amount.round_places(minor_places(currency)).is_positive() { format!("+{text}") } else { text }
    }

    /// `units` of the currency's minor unit (cents).
    pub fn money_minor(&self, units: i64, currency: Currency) -> String {
        self.money(&(Exact::from(units) / Exact::power_of_ten(minor_places(currency))), currency)
    }

    /// A range of two amounts with the symbol once: "€0.06–0.07", "0,06–0,07 €"; one amount where both are
    /// shown alike. Neither may be below zero.
    pub fn money_range(&self, low: &Exact, high: &Exact, currency: Currency) -> String {
        let places = minor_places(currency);
        let digits = self.range(&self.money_digits(low, places), &self.money_digits(high, places));
        self.place(&self.layout.money, &digits, currency)
    }

    fn money_digits(&self, amount: &Exact, places: u32) -> String {
        let text = self.number_fixed(amount, places);
        let (whole, fraction) = text.rsplit_once(self.marks.point.as_str()).unwrap_or((&text, ""));
        let group = self.layout.money_group.as_ref().unwrap_or(&self.marks.group);
        let point = self.layout.money_point.as_ref().unwrap_or(&self.marks.point);
        let whole =
            if self.marks.group.is_empty() { whole.to_owned() } else { whole.replace(&self.marks.group, group) };
        if fraction.is_empty() { whole } else { format!("{whole}{point}{fraction}") }
    }

    pub(super) fn place(&self, pattern: &str, digits: &str, currency: Currency) -> String {
        let symbol = self.layout.symbol(currency.code());
        // CLDR's currency spacing: a no-break space between a letter of the symbol and a digit.
        let touching = symbol.ends_with(|end: char| end.is_alphanumeric() || end == '.');
        let spaced = if touching { pattern.replace("¤n", "¤\u{a0}n") } else { pattern.to_owned() };
        spaced.replace('-', &self.marks.minus).replacen('n', digits, 1).replacen('¤', symbol, 1)
    }
}
