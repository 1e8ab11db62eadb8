//! Reads numbers, quantities and ranges as a source writes them. Knows no ingredient.

use super::{Dimension, Exact, Measures, Quantity, Range, Unit, ceiling};

/// Why a text is not a quantity.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Malformed {
    /// There is no number where one must stand.
    NoNumber,
    /// A number with a sign, an exponent, grouping or a decimal comma.
    BadNumber(String),
    /// A unit the source format does not know.
    UnknownUnit(String),
    /// Terms or ends of different dimensions.
    MixedUnits,
    /// A range whose lower end is above its upper end.
    Backwards,
    /// Above 10^9 in the base unit.
    TooLarge,
    /// A fraction over zero.
    ZeroDenominator,
}

const VULGAR: &[(char, i64, i64)] = &[
    ('½', 1, 2),
    ('⅓', 1, 3),
    ('⅔', 2, 3),
    ('¼', 1, 4),
    ('¾', 3, 4),
    ('⅕', 1, 5),
    ('⅖', 2, 5),
    ('⅗', 3, 5),
    ('⅘', 4, 5),
    ('⅙', 1, 6),
    ('⅚', 5, 6),
    ('⅐', 1, 7),
    ('⅛', 1, 8),
    ('⅜', 3, 8),
    ('⅝', 5, 8),
    ('⅞', 7, 8),
    ('⅑', 1, 9),
    ('⅒', 1, 10),
];

/// Reads a number alone: `12`, `0.4`, `1/2`, `1 1/2`, `½`, `1½`.
///
/// # Errors
/// [`Malformed`] says what is wrong.
pub fn parse_number(text: &str) -> Result<Exact, Malformed> {
    let text = text.trim();
    let (number, rest) = take_number(text)?;
    if rest.trim().is_empty() { Ok(number) } else { Err(Malformed::BadNumber(text.to_owned())) }
}

/// Reads a quantity: a number, or terms of one dimension (`1 lb 14 oz`, `1 h 30 min`).
///
/// # Errors
/// [`Malformed`] says what is wrong.
pub fn parse_quantity(text: &str, measures: Measures) -> Result<Quantity, Malformed> {
    let mut rest = text.trim();
    if rest.is_empty() {
        return Err(Malformed::NoNumber);
    }
    let mut sum: Option<Quantity> = None;
    while !rest.is_empty() {
        if rest.starts_with(BELOW_ZERO) {
            return below_zero(rest, measures).ok_or_else(|| Malformed::BadNumber(rest.to_owned()));
        }
        let (number, after) = take_number(rest)?;
        let (unit, after) = take_unit(after)?;
        rest = after.trim_start();
        let dimension = unit.map_or(Dimension::Count, Unit::dimension);
        let value = unit.map_or_else(|| number.clone(), |u| u.to_base(&number, measures));
        sum = Some(match sum {
            None => Quantity { dimension, value, unit },
            Some(first) if first.dimension == dimension && dimension != Dimension::Temperature => {
                Quantity { dimension, value: first.value + value, unit: first.unit }
            }
            Some(_) => return Err(Malformed::MixedUnits),
        });
    }
    let quantity = sum.ok_or(Malformed::NoNumber)?;
    if quantity.value.abs() > ceiling() { Err(Malformed::TooLarge) } else { Ok(quantity) }
}

/// A hyphen or a minus.
const BELOW_ZERO: [char; 2] = ['-', '−'];

/// A temperature below zero; nothing else can be.
fn below_zero(text: &str, measures: Measures) -> Option<Quantity> {
    let (number, after) = take_number(text.strip_prefix(BELOW_ZERO)?).ok()?;
    let (unit, rest) = take_unit(after).ok()?;
    let unit = unit.filter(|unit| unit.dimension() == Dimension::Temperature && rest.trim().is_empty())?;
    let value = unit.to_base(&-number, measures);
    Some(Quantity { dimension: Dimension::Temperature, value, unit: Some(unit) })
}

/// Reads a quantity or a range of two: `6-8`, `6 to 8`, `6–8`, `8 h to 12 h`, `3-4 mm`.
/// A lower end without a unit takes the upper end's.
///
/// # Errors
/// [`Malformed`] says what is wrong.
pub fn parse_range(text: &str, measures: Measures) -> Result<Range, Malformed> {
    let Some((low_text, high_text)) = split_range(text) else {
        let one = parse_quantity(text, measures)?;
        return Ok(Range { low: one.clone(), high: one });
    };
    let high = parse_quantity(high_text, measures)?;
    let cold = low_text.strip_prefix(BELOW_ZERO).filter(|_| high.dimension == Dimension::Temperature);
    let low = match cold.map_or_else(|| parse_number(low_text), |number| parse_number(number).map(|number| -number)) {
        Ok(number) => {
            let value = high.unit.map_or_else(|| number.clone(), |u| u.to_base(&number, measures));
            Quantity { dimension: high.dimension, value, unit: high.unit }
        }
        Err(_) => parse_quantity(low_text, measures)?,
    };
    if low.dimension != high.dimension {
        return Err(Malformed::MixedUnits);
    }
    if low.value > high.value { Err(Malformed::Backwards) } else { Ok(Range { low, high }) }
}

/// The two ends around a dash or `to`, where the text before it holds a number.
fn split_range(text: &str) -> Option<(&str, &str)> {
    let text = text.trim();
    // A leading minus is a sign, not a range.
    let unsigned = text.strip_prefix(BELOW_ZERO).unwrap_or(text);
    for mark in [" to ", "–", "—", "-", "‑"] {
        if let Some((low, high)) = unsigned.split_once(mark) {
            let low_end = text.len() - unsigned.len() + low.len();
            return (!low.trim().is_empty()).then_some((text[..low_end].trim(), high.trim()));
        }
    }
    None
}

/// A number at the start of `text` and what follows it.
fn take_number(text: &str) -> Result<(Exact, &str), Malformed> {
    let text = text.trim_start();
    if let Some((value, rest)) = take_vulgar(text) {
        return Ok((value, rest));
    }
    let (first, rest) = take_plain(text)?;
    if let Some(after) = rest.strip_prefix('/') {
        return fraction(&first, after, text);
    }
    if let Some((part, after)) = take_vulgar(rest.trim_start()) {
        return if first.is_whole() { Ok((first + part, after)) } else { Err(Malformed::BadNumber(text.to_owned())) };
    }
    // `1 1/2`: a whole number, a space, a fraction.
    let after_space = rest.trim_start();
    if after_space.len() < rest.len()
        && first.is_whole()
        && let Ok((numerator, after)) = take_plain(after_space)
        && let Some(denominator) = after.strip_prefix('/')
    {
        let (part, rest) = fraction(&numerator, denominator, text)?;
        return Ok((first + part, rest));
    }
    Ok((first, rest))
}

fn fraction<'t>(numerator: &Exact, after: &'t str, whole_text: &str) -> Result<(Exact, &'t str), Malformed> {
    let (denominator, rest) = take_plain(after)?;
    if !numerator.is_whole() || !denominator.is_whole() {
        return Err(Malformed::BadNumber(whole_text.to_owned()));
    }
    numerator.over(&denominator).map(|value| (value, rest)).ok_or(Malformed::ZeroDenominator)
}

fn take_vulgar(text: &str) -> Option<(Exact, &str)> {
    let first = text.chars().next()?;
    let (_, numerator, denominator) = VULGAR.iter().find(|(c, _, _)| *c == first)?;
    Some((Exact::ratio(*numerator, *denominator), &text[first.len_utf8()..]))
}

fn take_plain(text: &str) -> Result<(Exact, &str), Malformed> {
    let end = text.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(text.len());
    if end == 0 {
        let starts_signed = text.starts_with(['-', '+', '−']);
        return Err(if starts_signed { Malformed::BadNumber(text.to_owned()) } else { Malformed::NoNumber });
    }
    let rest = &text[end..];
    // `1,5`, `1,200`, `1e3`: refused rather than guessed at.
    let mut ahead = rest.chars();
    let (one, two) = (ahead.next(), ahead.next());
    let digit_or_sign = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit() || c == '+' || c == '-');
    if matches!(one, Some(',' | 'e' | 'E' | '\'')) && digit_or_sign(two) {
        return Err(Malformed::BadNumber(text.to_owned()));
    }
    Exact::from_decimal(&text[..end]).map(|n| (n, rest)).ok_or_else(|| Malformed::BadNumber(text.to_owned()))
}

fn take_unit(text: &str) -> Result<(Option<Unit>, &str), Malformed> {
    let text = text.trim_start();
    if text.is_empty() {
        return Ok((None, text));
    }
    let word_end = |from: usize| {
        text[from..].find(|c: char| c.is_whitespace() || c.is_ascii_digit()).map_or(text.len(), |i| from + i)
    };
    // `fl oz` is the one unit of two words.
    if let Some((_, second)) = text.split_once(char::is_whitespace) {
        let end = word_end(text.len() - second.len());
        match text[..end].to_lowercase().trim_end_matches('.') {
            "fl oz" | "fl. oz" => return Ok((Some(Unit::FluidOunce), &text[end..])),
            word if word.starts_with("fl ") => return Err(Malformed::UnknownUnit(text[..end].to_owned())),
            _ => {}
        }
    }
    if let Some(rest) = text.strip_prefix('%') {
        return Ok((Some(Unit::Percent), rest));
    }
    if let Some(after_sign) = text.strip_prefix('°') {
        let trimmed = after_sign.trim_start();
        let letter = trimmed.chars().next().unwrap_or(' ');
        let unit = Unit::parse(&format!("°{letter}")).ok_or_else(|| Malformed::UnknownUnit(text.to_owned()))?;
        return Ok((Some(unit), &trimmed[letter.len_utf8()..]));
    }
    let end = word_end(0);
    // `1 2 g`: which of the two is meant can't be told. `1-2kg` is a range where one value must stand.
    if end == 0 || text.starts_with(['-', '−', '–', '—', '‑']) {
        return Err(Malformed::BadNumber(text.to_owned()));
    }
    let word = text[..end].trim_end_matches('.');
    Unit::parse(word)
        .map(|unit| (Some(unit), &text[end..]))
        .ok_or_else(|| Malformed::UnknownUnit(text[..end].to_owned()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn grams(text: &str) -> String {
        parse_quantity(text, Measures::Metric).expect(text).value.decimal()
    }

    #[test]
    fn compounds_and_fractions_are_read() {
        assert_eq!(grams("1 lb 14 oz"), "850.48569375");
        assert_eq!(grams("1 1/2 cups"), "375");
        assert_eq!(grams("1½ tsp"), "7.5");
        assert_eq!(grams("½ cup"), "125");
        assert_eq!(grams("1 h 30 min"), "5400");
        assert_eq!(grams("2 fl oz"), "59.147059125");
        assert_eq!(grams("60 %"), "60");
        assert_eq!(grams("356 °F"), "180");
        assert_eq!(grams("15mL"), "15");
    }

    #[test]
    fn ranges_take_the_upper_unit() {
        let range = parse_range("3-4 mm", Measures::Metric).expect("range");
        assert_eq!((range.low.value.decimal(), range.high.value.decimal()), ("3".into(), "4".into()));
        let range = parse_range("8 h to 12 h", Measures::Metric).expect("range");
        assert_eq!(range.low.value.decimal(), "28800");
        assert_eq!(parse_range("8-6", Measures::Metric), Err(Malformed::Backwards));
    }

    #[test]
    fn slips_are_refused() {
        let fails = |text: &str| parse_quantity(text, Measures::Metric).expect_err(text);
        assert_eq!(fails("1e3 g"), Malformed::BadNumber("1e3 g".into()));
        assert_eq!(fails("1,5 g"), Malformed::BadNumber("1,5 g".into()));
        assert_eq!(fails("-3 g"), Malformed::BadNumber("-3 g".into()));
        assert_eq!(fails("1 2 g"), Malformed::BadNumber("2 g".into()));
        assert_eq!(fails("3 blobs"), Malformed::UnknownUnit("blobs".into()));
        assert_eq!(fails("NaN"), Malformed::NoNumber);
        assert_eq!(fails("1/0 cup"), Malformed::ZeroDenominator);
        assert_eq!(fails("5000000 kg"), Malformed::TooLarge);
        assert_eq!(fails("2 fl ozt"), Malformed::UnknownUnit("fl ozt".into()));
        assert_eq!(fails("1-2kg"), Malformed::BadNumber("-2kg".into()));
        assert_eq!(fails("1 g 2 mL"), Malformed::MixedUnits);
    }

    #[test]
    fn numbers_are_read_in_every_form_of_a_cook_book() {
        let read = |text: &str| parse_number(text).expect(text).ratio_text();
        for (text, value) in [
            ("12", "12"),
            (" 0.4 ", "2/5"),
            ("1/2", "1/2"),
            ("7/4", "7/4"),
            ("1 1/2", "3/2"),
            ("½", "1/2"),
            ("1½", "3/2"),
            ("2 ¾", "11/4"),
        ] {
            assert_eq!(read(text), value, "{text}");
        }
        for text in ["1.5/2", "1/2.5", "1.5½", "1.5 1/2", "1/2/3", "1 2", "2 g", "1.5.2", "−3", "+3", "1'200"] {
            assert!(matches!(parse_number(text), Err(Malformed::BadNumber(_))), "{text}");
        }
        assert_eq!(parse_number("g"), Err(Malformed::NoNumber));
        assert_eq!(parse_number(""), Err(Malformed::NoNumber));
    }

    #[test]
    fn units_are_read_beside_or_behind_their_number() {
        for (text, value) in [
            ("2 fl. oz", "59.147059125"),
            ("2 FL OZ", "59.147059125"),
            ("180 ° C", "180"),
            ("356°F", "180"),
            ("1 lb. 14 oz.", "850.48569375"),
            ("12%", "12"),
            ("1h30min", "5400"),
            ("3", "3"),
        ] {
            assert_eq!(grams(text), value, "{text}");
        }
        let fails = |text: &str| parse_quantity(text, Measures::Metric).expect_err(text);
        assert_eq!(fails("3eggs"), Malformed::UnknownUnit("eggs".into()));
        assert_eq!(fails("3 ° x"), Malformed::UnknownUnit("° x".into()));
        for text in ["1e+3 g", "1e-3 g", "1E3 g", "1'200 g"] {
            assert_eq!(fails(text), Malformed::BadNumber(text.into()));
        }
        assert_eq!(fails("100 °C 20 °C"), Malformed::MixedUnits, "temperatures do not add up");
        assert_eq!(fails("1 g 2"), Malformed::MixedUnits);
        assert_eq!(fails(" "), Malformed::NoNumber);
    }

    /// 0 °F are −17.78 °C, and −40 °F are −40 °C.
    #[test]
    fn only_a_temperature_may_be_below_zero() {
        for (text, value) in [("-18 °C", "-18"), ("−18 °C", "-18"), ("-40 °F", "-40"), ("-0.5°C", "-0.5")] {
            assert_eq!(grams(text), value, "{text}");
        }
        let ends = |text: &str| {
            parse_range(text, Measures::Metric).map(|range| (range.low.value.decimal(), range.high.value.decimal()))
        };
        for text in ["-20 to -18 °C", "-20 °C to -18 °C", "−20–−18 °C"] {
            assert_eq!(ends(text), Ok(("-20".into(), "-18".into())), "{text}");
        }
        assert_eq!(ends("-2 to 4 °C"), Ok(("-2".into(), "4".into())));
        assert_eq!(ends("-2-4 °C"), Ok(("-2".into(), "4".into())));
        assert_eq!(ends("-3-5 g"), Err(Malformed::BadNumber("-3".into())));
        assert_eq!(ends("-18 to -20 °C"), Err(Malformed::Backwards));
        for text in ["-3", "- 3 eggs", "-", "-18 °C 5", "−1/2 cup", "-18 ° x"] {
            assert_eq!(parse_quantity(text, Measures::Metric), Err(Malformed::BadNumber(text.into())), "{text}");
        }
    }

    #[test]
    fn a_limit_may_be_reached_and_a_range_may_have_one_value() {
        assert_eq!(grams("1000000 kg"), "1000000000");
        assert_eq!(parse_quantity("1000000.001 kg", Measures::Metric), Err(Malformed::TooLarge));
        let range = parse_range("6-6", Measures::Metric).expect("a range");
        assert!(range.is_single());
        assert!(!parse_range("6 to 8", Measures::Metric).expect("a range").is_single());
        assert!(parse_range("6", Measures::Metric).expect("a number").is_single());
        assert_eq!(parse_range("6 g - 8 mL", Measures::Metric), Err(Malformed::MixedUnits));
        assert_eq!(parse_range("-6", Measures::Metric), Err(Malformed::BadNumber("-6".into())));
    }
}
