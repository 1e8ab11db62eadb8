//! Promises that hold for any recipe, yield and currency, tried on random ones.

use crate::memory::{Kitchen, at};
use proptest::prelude::*;
use serde_json::Value;
use tallyspoon::batch::Wanted;
use tallyspoon::exact::Exact;

const ITEMS: [&str; 8] = ["water", "salt", "sugar", "butter", "milk", "honey", "walnuts", "olive-oil"];
const CURRENCIES: [(&str, u32); 6] = [("EUR", 2), ("JPY", 0), ("KWD", 3), ("USD", 2), ("ISK", 0), ("CLF", 4)];

/// A formula on flour with random percents in hundredths.
fn formula(percents: &[u32], batch: u32) -> String {
    let lines: String = percents
        .iter()
        .zip(ITEMS)
        .map(|(percent, item)| format!("{item} = \"{}.{:02} %\"\n", percent / 100, percent % 100))
        .collect();
    format!(
        "title = \"Any\"\nmakes = \"7-9 pieces\"\nbatch = \"{batch} g\"\n[formula]\nplain-flour = \"100 %\"\n{lines}"
    )
}

fn book(prices: &[u32], places: u32) -> String {
    let unit = 10_u32.pow(places);
    let priced = ["plain-flour"].into_iter().chain(ITEMS).zip(prices);
    let line = |(item, price): (&str, &u32)| match places {
        0 => format!("2026-01-05,{item},1 kg,{price},shop,\n"),
        _ => {
            format!("2026-01-05,{item},1 kg,{}.{:0width$},shop,\n", price / unit, price % unit, width = places as usize)
        }
    };
    priced.map(line).collect()
}

fn rows<'v>(document: &'v Value, pointer: &str) -> &'v [Value] {
    document.pointer(pointer).and_then(Value::as_array).map_or(&[], Vec::as_slice)
}

/// The digits of a shown price as one whole number of minor units.
fn minor(shown: &str) -> i64 {
    let digits: String = shown.chars().filter(char::is_ascii_digit).collect();
    digits.parse().expect("digits in a price")
}

/// Grams that a shown weight states.
fn grams(shown: &str) -> Exact {
    let (number, unit) = shown.split_once(' ').expect("a number and a unit");
    let value = Exact::from_decimal(&number.replace(',', "")).expect("a decimal");
    if unit == "kg" { value * Exact::from(1000) } else { value }
}

fn exact(text: &str) -> Exact {
    Exact::from_decimal(text).expect("a decimal string")
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn shown_costs_add_up_to_the_shown_total(
        percents in prop::collection::vec(1_u32..9_000, 3..8),
        prices in prop::collection::vec(0_u32..20_000, 9),
        batch in 50_u32..3_000,
        currency in 0_usize..CURRENCIES.len(),
        times in 1_i64..40,
    ) {
        let (code, places) = CURRENCIES[currency];
        let kitchen = Kitchen::new()
            .currency(code)
            .prices(&book(&prices, places))
            .recipe(&formula(&percents, batch));
        let figures = kitchen.at(Wanted::Times(Exact::ratio(times, 7)));
        let lines: i64 = rows(&figures, "/cost/lines").iter().map(|line| minor(&at(line, "/shown"))).sum();
        prop_assert_eq!(lines, minor(&at(&figures, "/cost/total_shown")));
        let shares: i64 = rows(&figures, "/cost/lines").iter().map(|line| minor(&at(line, "/share_shown"))).sum();
        prop_assert!(shares == 100 || at(&figures, "/cost/total") == "0");
    }

    #[test]
    fn shown_weights_keep_within_two_percent_and_add_up(
        percents in prop::collection::vec(1_u32..9_000, 3..8),
        batch in 20_u32..9_000,
        times in 1_i64..60,
    ) {
        let figures = Kitchen::new().recipe(&formula(&percents, batch)).at(Wanted::Times(Exact::ratio(times, 11)));
        let mut sum = Exact::zero();
        for line in rows(&figures, "/lines") {
            let (shown, whole) = (grams(&at(line, "/shown")), exact(&at(line, "/grams")));
            prop_assert!((&shown - &whole).abs() <= whole * Exact::ratio(2, 100), "{line}");
            sum += &shown;
        }
        // To the gram that the scale can weigh, or closer.
        let off = (sum - grams(&at(&figures, "/yield/total_shown"))).abs();
        prop_assert!(off <= Exact::ratio(1, 2));
    }

    #[test]
    fn scaling_there_and_back_changes_nothing(
        percents in prop::collection::vec(1_u32..9_000, 3..8),
        batch in 20_u32..9_000,
        times in 2_i64..90,
    ) {
        let kitchen = Kitchen::new().recipe(&formula(&percents, batch));
        let scaled = kitchen.at(Wanted::Times(Exact::from(times)));
        let basis = exact(&at(&scaled, "/yield/basis_g")) / Exact::from(times);
        prop_assert_eq!(kitchen.at(Wanted::Batch(basis)), kitchen.figures());
    }
}
