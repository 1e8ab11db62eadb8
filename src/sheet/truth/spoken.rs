//! A value the way a person says it in English: "a hundred and twenty grams", "an hour and a half". Must not know
//! what was said before it.

use super::{Kind, Value};
use crate::exact::{Exact, Measures, Unit};
use crate::sheet::Figure;
use iso_currency::Currency;

const ONES: [&str; 20] = [
    "nought",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
];
const TENS: [&str; 10] = ["", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"];

/// A whole number in words; digits from a million on.
fn whole(value: i64) -> String {
    let rest = |n: i64, word: &str| match n {
        0 => String::new(),
        _ => format!("{word}{}", whole(n)),
    };
    match value {
        0..=19 => ONES[usize::try_from(value).unwrap_or(0)].to_owned(),
        20..=99 => {
            let tens = TENS[usize::try_from(value / 10).unwrap_or(0)];
            format!("{tens}{}", rest(value % 10, "-"))
        }
        100..=199 => format!("a hundred{}", rest(value % 100, " and ")),
        200..=999 => format!("{} hundred{}", whole(value / 100), rest(value % 100, " and ")),
        1000..=999_999 => {
            let head = if value / 1000 == 1 { "a".to_owned() } else { whole(value / 1000) };
            match value % 1000 {
                below @ 0..100 => format!("{head} thousand{}", rest(below, " and ")),
                // "a thousand one hundred", and not "a thousand a hundred".
                below @ 100..200 => format!("{head} thousand one hundred{}", rest(below - 100, " and ")),
                below => format!("{head} thousand {}", whole(below)),
            }
        }
        _ => value.to_string(),
    }
}

/// A number in words: whole, with a kitchen fraction, or with decimals one by one.
fn number(value: &Exact) -> String {
    if *value < Exact::zero() {
        return format!("minus {}", number(&-value));
    }
    if let Some(whole_number) = value.to_i64() {
        return whole(whole_number);
    }
    let floor = value.floor();
    let part = (value - &floor).to_fraction().and_then(|(top, bottom)| fraction(top, bottom));
    if let (Some(part), Some(before)) = (part, floor.to_i64()) {
        return if before == 0 { part.to_owned() } else { format!("{} and {}", whole(before), part) };
    }
    let text = value.round_places(2).decimal();
    let (before, decimals) = text.split_once('.').unwrap_or((&text, ""));
    let digits: Vec<&str> =
        decimals.bytes().map(|b| if b == b'0' { "oh" } else { ONES[usize::from(b - b'0') % 10] }).collect();
    let before = before.parse().map_or_else(|_| before.to_owned(), whole);
    if digits.is_empty() { before } else { format!("{before} point {}", digits.join(" ")) }
}

fn fraction(top: i64, bottom: i64) -> Option<&'static str> {
    Some(match (top, bottom) {
        (1, 2) => "a half",
        (1, 4) => "a quarter",
        (3, 4) => "three quarters",
        (1, 3) => "a third",
        (2, 3) => "two thirds",
        (1, 8) => "an eighth",
        (3, 8) => "three eighths",
        (5, 8) => "five eighths",
        (7, 8) => "seven eighths",
        _ => return None,
    })
}

/// What one and several of a unit are called.
fn name(unit: Unit) -> (&'static str, &'static str) {
    match unit {
        Unit::Milligram => ("milligram", "milligrams"),
        Unit::Gram => ("gram", "grams"),
        Unit::Kilogram => ("kilo", "kilos"),
        Unit::Ounce => ("ounce", "ounces"),
        Unit::Pound => ("pound", "pounds"),
        Unit::Millilitre => ("millilitre", "millilitres"),
        Unit::Centilitre => ("centilitre", "centilitres"),
        Unit::Litre => ("litre", "litres"),
        Unit::Teaspoon => ("teaspoon", "teaspoons"),
        Unit::Tablespoon => ("tablespoon", "tablespoons"),
        Unit::Cup => ("cup", "cups"),
        Unit::FluidOunce => ("fluid ounce", "fluid ounces"),
        Unit::Pint => ("pint", "pints"),
        Unit::Quart => ("quart", "quarts"),
        Unit::Gallon => ("gallon", "gallons"),
        Unit::Millimetre => ("millimetre", "millimetres"),
        Unit::Centimetre => ("centimetre", "centimetres"),
        Unit::Metre => ("metre", "metres"),
        Unit::Inch => ("inch", "inches"),
        Unit::Second => ("second", "seconds"),
        Unit::Minute => ("minute", "minutes"),
        Unit::Hour => ("hour", "hours"),
        Unit::Day => ("day", "days"),
        Unit::Celsius => ("degree", "degrees"),
        Unit::Fahrenheit => ("degree Fahrenheit", "degrees Fahrenheit"),
        Unit::Percent => ("percent", "percent"),
    }
}

/// The unit in which a value is said: the claim's own, or what suits its size.
fn fitting(kind: Kind, value: &Exact, said: Option<Unit>) -> Option<Unit> {
    let thousand = Exact::from(1000);
    // Nobody says fourteen hours in minutes.
    let suits = |unit: Unit| {
        let count = value / unit.size(Measures::Metric);
        count >= Exact::one() && count <= Exact::from(120)
    };
    match kind {
        Kind::Weight => said.or(Some(if *value >= &thousand + &thousand { Unit::Kilogram } else { Unit::Gram })),
        Kind::Volume => said.or(Some(if *value >= thousand { Unit::Litre } else { Unit::Millilitre })),
        Kind::Temperature => said.or(Some(Unit::Celsius)),
        Kind::Length => said.or(Some(if *value >= Exact::from(10) { Unit::Centimetre } else { Unit::Millimetre })),
        Kind::Percent => Some(Unit::Percent),
        Kind::Duration => Some(match said {
            Some(unit) if suits(unit) => unit,
            _ if *value >= Exact::from(2 * 86_400) => Unit::Day,
            _ if *value >= Exact::from(3600) => Unit::Hour,
            _ if *value >= Exact::from(60) => Unit::Minute,
            _ => Unit::Second,
        }),
        Kind::Count | Kind::Money => None,
    }
}

/// A figure's value as a person says it, in the unit `said` where that suits.
pub fn spoken(value: &Value, kind: Kind, said: Option<Unit>, measures: Measures, currency: Currency) -> Figure {
    let text = match kind {
        Kind::Money if value.low == value.high => money(&value.high, currency),
        Kind::Money => format!("{} to {}", money(&value.low, currency), money(&value.high, currency)),
        Kind::Count if value.low == value.high => number(&value.high),
        Kind::Count => format!("{} to {}", number(&value.low), number(&value.high)),
        Kind::Duration if value.low == value.high && said.is_none_or(|unit| unit == Unit::Hour) => {
            duration(&value.high, said)
        }
        Kind::Weight | Kind::Volume | Kind::Percent | Kind::Temperature | Kind::Duration | Kind::Length => {
            measured(value, kind, said, measures)
        }
    };
    Figure::mint(text)
}

/// How many of a spoon or a cup a volume is, in the steps that people measure with: spoons by halves, small ones by
/// quarters, cups by quarters and thirds.
fn spoonfuls(base: &Exact, unit: Unit, measures: Measures) -> Exact {
    let count = base / unit.size(measures);
    let quarter = count.round_to(&Exact::ratio(1, 4));
    let other = match unit {
        Unit::Cup => count.round_to(&Exact::ratio(1, 3)),
        _ if count >= Exact::ratio(1, 4) => count.round_to(&Exact::ratio(1, 2)),
        _ => count.round_to(&Exact::ratio(1, 8)),
    };
    if (&other - &count).abs() <= (&quarter - &count).abs() { other } else { quarter }
}

/// The spoon or cup that a volume is measured with: the one that was said where the volume fills it, else the first
/// that it fills, or the one of its size. Nobody says "a third of a tablespoon" for a teaspoon.
fn household(base: &Exact, said: Unit, measures: Measures) -> Unit {
    let sizes = [Unit::Cup, Unit::Tablespoon, Unit::Teaspoon];
    if !sizes.contains(&said) {
        return said;
    }
    let least = |unit: Unit| match unit {
        Unit::Teaspoon => Exact::ratio(1, 8),
        Unit::Tablespoon => Exact::ratio(1, 2),
        _ => Exact::ratio(1, 4),
    };
    let large = |unit: Unit| base >= &(unit.size(measures) * least(unit));
    // Within 2 %, as household measures are shown.
    let fills = |unit: Unit| {
        let count = base / unit.size(measures);
        let whole_spoon = unit != Unit::Tablespoon || (&spoonfuls(base, unit, measures) * Exact::from(2)).is_whole();
        let near = (&spoonfuls(base, unit, measures) - &count).abs() * Exact::from(50) <= count;
        large(unit) && whole_spoon && near
    };
    let several = |unit: Unit| unit != Unit::Teaspoon || base < &(unit.size(measures) * Exact::from(6));
    let first = [said].into_iter().chain(sizes).find(|&unit| fills(unit) && (unit == said || several(unit)));
    let of_size =
        if large(said) { said } else { sizes.into_iter().find(|&unit| large(unit)).unwrap_or(Unit::Teaspoon) };
    first.unwrap_or(of_size)
}

fn measured(value: &Value, kind: Kind, said: Option<Unit>, measures: Measures) -> String {
    let Some(unit) = fitting(kind, &value.low, said) else { return number(&value.high) };
    let unit = if value.low == value.high { household(&value.low, unit, measures) } else { unit };
    let at = |base: &Exact| match unit {
        Unit::Fahrenheit => (base * Exact::ratio(9, 5) + Exact::from(32)).round(),
        Unit::Teaspoon | Unit::Tablespoon | Unit::Cup => spoonfuls(base, unit, measures),
        Unit::Inch => (base / unit.size(measures)).round_to(&Exact::ratio(1, 8)),
        _ => (base / unit.size(measures)).round_places(2),
    };
    let (low, high) = (at(&value.low), at(&value.high));
    let (one, many) = name(unit);
    if low != high {
        return format!("{} to {} {many}", number(&low), number(&high));
    }
    if high < Exact::one() && high.is_positive() && kind != Kind::Percent {
        let words = number(&high);
        let article = if one.starts_with("ou") || one.starts_with("in") || one == "hour" { "an" } else { "a" };
        return match words.as_str() {
            "a half" => format!("half {article} {one}"),
            decimal if decimal.starts_with("nought") => format!("{decimal} {many}"),
            part => format!("{part} of {article} {one}"),
        };
    }
    let one_of = high == Exact::one();
    format!("{} {}", number(&high), if one_of { one } else { many })
}

/// Hours and minutes as they are said.
fn duration(seconds: &Exact, said: Option<Unit>) -> String {
    let (hour, minute) = (Exact::from(3600), Exact::from(60));
    if *seconds < hour || *seconds >= Exact::from(2 * 86_400) {
        if *seconds == Exact::from(1800) && said == Some(Unit::Hour) {
            return "half an hour".to_owned();
        }
        let value = Value::range(seconds.clone(), seconds.clone(), Figure::mint(String::new()));
        return measured(&value, Kind::Duration, said.filter(|_| *seconds >= hour), Measures::Metric);
    }
    let hours = (seconds / &hour).floor();
    let minutes = (seconds - &hours * &hour) / &minute;
    let head = match hours.to_i64() {
        Some(1) => "an hour".to_owned(),
        _ => format!("{} hours", number(&hours)),
    };
    match minutes.to_i64() {
        Some(0) => head,
        Some(30) if hours == Exact::one() => "an hour and a half".to_owned(),
        Some(30) => format!("{} and a half hours", number(&hours)),
        Some(1) => format!("{head} and one minute"),
        _ => format!("{head} and {} minutes", number(&minutes)),
    }
}

/// Money with the names of its units where they are known, else with the code.
fn money(amount: &Exact, currency: Currency) -> String {
    let (one, many, minor) = match currency.code() {
        "EUR" => ("euro", "euros", "cent"),
        "USD" | "CAD" | "AUD" | "NZD" => ("dollar", "dollars", "cent"),
        "GBP" => ("pound", "pounds", "penny"),
        code => return format!("{} {code}", number(amount)),
    };
    let floor = amount.floor();
    let cents = ((amount - &floor) * Exact::from(100)).round();
    let minors = if minor == "penny" { "pence" } else { "cents" };
    let small = |count: &Exact| format!("{} {}", number(count), if *count == Exact::one() { minor } else { minors });
    let large = format!("{} {}", number(&floor), if floor == Exact::one() { one } else { many });
    match (floor.is_zero(), cents.is_zero()) {
        (true, _) => small(&cents),
        (false, true) => large,
        (false, false) => format!("{large} {}", number(&cents)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn say(low: Exact, high: Exact, kind: Kind, unit: Option<Unit>) -> String {
        let value = Value::range(low, high, Figure::mint(String::new()));
        spoken(&value, kind, unit, Measures::Metric, Currency::EUR).text().to_owned()
    }

    #[test]
    fn values_are_said_as_people_say_them() {
        let one = |n: i64, d: i64, kind, unit| say(Exact::ratio(n, d), Exact::ratio(n, d), kind, unit);
        assert_eq!(one(120, 1, Kind::Weight, None), "a hundred and twenty grams");
        assert_eq!(one(54, 10, Kind::Weight, Some(Unit::Gram)), "five point four grams");
        assert_eq!(one(12, 10, Kind::Weight, Some(Unit::Gram)), "one point two grams");
        assert_eq!(one(5, 2, Kind::Volume, Some(Unit::Teaspoon)), "half a teaspoon");
        assert_eq!(one(25, 2, Kind::Volume, Some(Unit::Teaspoon)), "two and a half teaspoons");
        // What was said in the wrong spoon is said in the one that it fills.
        assert_eq!(one(5, 1, Kind::Volume, Some(Unit::Tablespoon)), "one teaspoon");
        assert_eq!(one(30, 1, Kind::Volume, Some(Unit::Cup)), "two tablespoons");
        assert_eq!(one(15, 2, Kind::Volume, Some(Unit::Tablespoon)), "half a tablespoon");
        assert_eq!(one(45, 1, Kind::Volume, Some(Unit::Teaspoon)), "nine teaspoons");
        assert_eq!(one(250, 3, Kind::Volume, Some(Unit::Cup)), "a third of a cup");
        assert_eq!(one(625, 10, Kind::Volume, Some(Unit::Tablespoon)), "a quarter of a cup");
        assert_eq!(one(54, 10, Kind::Volume, Some(Unit::Tablespoon)), "one teaspoon");
        assert_eq!(one(5400, 1, Kind::Duration, None), "an hour and a half");
        assert_eq!(one(1800, 1, Kind::Duration, Some(Unit::Hour)), "half an hour");
        assert_eq!(one(1800, 1, Kind::Duration, Some(Unit::Minute)), "thirty minutes");
        assert_eq!(one(180, 1, Kind::Temperature, Some(Unit::Celsius)), "a hundred and eighty degrees");
        assert_eq!(
            one(180, 1, Kind::Temperature, Some(Unit::Fahrenheit)),
            "three hundred and fifty-six degrees Fahrenheit"
        );
        assert_eq!(one(68, 100, Kind::Money, None), "sixty-eight cents");
        assert_eq!(one(240, 100, Kind::Money, None), "two euros forty");
        assert_eq!(one(1050, 1, Kind::Weight, None), "a thousand and fifty grams");
        let hours = say(Exact::from(28_800), Exact::from(43_200), Kind::Duration, Some(Unit::Hour));
        assert_eq!(hours, "eight to twelve hours");
        // What was said in minutes and is hours is said in hours.
        let hours = say(Exact::from(43_200), Exact::from(50_400), Kind::Duration, Some(Unit::Minute));
        assert_eq!(hours, "twelve to fourteen hours");
        assert_eq!(one(7200, 1, Kind::Duration, Some(Unit::Minute)), "a hundred and twenty minutes");
        assert_eq!(one(9000, 1, Kind::Duration, Some(Unit::Minute)), "two and a half hours");
        assert_eq!(say(Exact::from(10), Exact::from(12), Kind::Count, None), "ten to twelve");
    }

    #[test]
    fn whole_numbers_are_words_up_to_a_million() {
        for (value, words) in [
            (0, "nought"),
            (7, "seven"),
            (13, "thirteen"),
            (19, "nineteen"),
            (20, "twenty"),
            (21, "twenty-one"),
            (99, "ninety-nine"),
            (100, "a hundred"),
            (101, "a hundred and one"),
            (199, "a hundred and ninety-nine"),
            (200, "two hundred"),
            (354, "three hundred and fifty-four"),
            (999, "nine hundred and ninety-nine"),
            (1000, "a thousand"),
            (1001, "a thousand and one"),
            (1099, "a thousand and ninety-nine"),
            (2000, "two thousand"),
            (2500, "two thousand five hundred"),
            (12_345, "twelve thousand three hundred and forty-five"),
            (1100, "a thousand one hundred"),
            (3150, "three thousand one hundred and fifty"),
            (999_999, "nine hundred and ninety-nine thousand nine hundred and ninety-nine"),
            (1_000_000, "1000000"),
        ] {
            assert_eq!(whole(value), words, "{value}");
        }
    }

    #[test]
    fn parts_of_one_are_kitchen_fractions_or_decimals() {
        let said = |n, d| number(&Exact::ratio(n, d));
        let kitchen = [(1, 2), (1, 4), (3, 4), (1, 3), (2, 3), (1, 8), (3, 8), (5, 8), (7, 8)];
        let words = "a half, a quarter, three quarters, a third, two thirds, an eighth, three eighths, five eighths, seven eighths";
        assert_eq!(kitchen.map(|(n, d)| said(n, d)).join(", "), words);
        assert_eq!(said(3, 2), "one and a half");
        assert_eq!(said(5, 100), "nought point oh five");
        assert_eq!(said(126, 10), "twelve point six");
        assert_eq!(said(1, 7), "nought point one four");
        assert_eq!(said(2999, 1000), "three", "rounded to the hundredth");
    }

    #[test]
    fn a_unit_suits_the_size_of_what_is_said() {
        let one = |n: i64, d: i64, kind, unit| say(Exact::ratio(n, d), Exact::ratio(n, d), kind, unit);
        assert_eq!(one(2000, 1, Kind::Weight, None), "two kilos");
        assert_eq!(one(1999, 1, Kind::Weight, None), "a thousand nine hundred and ninety-nine grams");
        assert_eq!(one(1000, 1, Kind::Volume, None), "one litre");
        assert_eq!(one(999, 1, Kind::Volume, None), "nine hundred and ninety-nine millilitres");
        assert_eq!(one(10, 1, Kind::Length, None), "one centimetre");
        assert_eq!(one(9, 1, Kind::Length, None), "nine millimetres");
        assert_eq!(one(180, 1, Kind::Temperature, None), "a hundred and eighty degrees");
        assert_eq!(one(67, 1, Kind::Percent, Some(Unit::Gram)), "sixty-seven percent");
        assert_eq!(one(1, 2, Kind::Percent, None), "a half percent");
        assert_eq!(one(1, 1, Kind::Weight, None), "one gram");
        assert_eq!(one(5, 100, Kind::Weight, None), "nought point oh five grams");
        assert_eq!(one(3, 1, Kind::Count, None), "three");
    }

    /// A US cup is 236.5882365 mL, an ounce 28.349523125 g, an inch 25.4 mm (NIST SP 811).
    #[test]
    fn spoons_cups_ounces_and_inches_are_said_in_parts_of_one() {
        let one = |value: Exact, kind, unit| say(value.clone(), value, kind, Some(unit));
        assert_eq!(one(Exact::ratio(375, 2), Kind::Volume, Unit::Cup), "three quarters of a cup");
        assert_eq!(one(Exact::ratio(5, 8), Kind::Volume, Unit::Teaspoon), "an eighth of a teaspoon");
        assert_eq!(one(Exact::ratio(45, 2), Kind::Volume, Unit::Tablespoon), "one and a half tablespoons");
        assert_eq!(one(Exact::from(15), Kind::Volume, Unit::Tablespoon), "one tablespoon");
        assert_eq!(one(Unit::Ounce.size(Measures::Us) / Exact::from(2), Kind::Weight, Unit::Ounce), "half an ounce");
        assert_eq!(one(Exact::ratio(127, 10), Kind::Length, Unit::Inch), "half an inch");
        assert_eq!(one(Exact::ratio(635, 100), Kind::Length, Unit::Inch), "a quarter of an inch");
        assert_eq!(one(Exact::from(250), Kind::Weight, Unit::Kilogram), "a quarter of a kilo");
    }

    #[test]
    fn times_are_said_in_hours_and_minutes() {
        let one = |seconds: i64, unit| say(Exact::from(seconds), Exact::from(seconds), Kind::Duration, unit);
        for (seconds, words) in [
            (59, "fifty-nine seconds"),
            (60, "one minute"),
            (90, "one and a half minutes"),
            (3540, "fifty-nine minutes"),
            (3600, "an hour"),
            (4500, "an hour and fifteen minutes"),
            (7200, "two hours"),
            (7500, "two hours and five minutes"),
            (9000, "two and a half hours"),
            (3660, "an hour and one minute"),
            (129_600, "thirty-six hours"),
            (130_500, "thirty-six hours and fifteen minutes"),
            (172_800, "two days"),
        ] {
            assert_eq!(one(seconds, None), words, "{seconds}");
        }
        assert_eq!(one(2700, Some(Unit::Hour)), "forty-five minutes");
        assert_eq!(one(172_800, Some(Unit::Hour)), "forty-eight hours");
        assert_eq!(one(5400, Some(Unit::Minute)), "ninety minutes");
        assert_eq!(one(30, Some(Unit::Minute)), "thirty seconds");
        assert_eq!(one(86_400, Some(Unit::Day)), "one day");
        let range = |low, high| say(Exact::from(low), Exact::from(high), Kind::Duration, None);
        assert_eq!(range(180, 240), "three to four minutes");
        assert_eq!(range(3600, 7200), "one to two hours");
        assert_eq!(range(129_600, 151_200), "thirty-six to forty-two hours");
        assert_eq!(range(172_800, 259_200), "two to three days");
        assert_eq!(range(20, 30), "twenty to thirty seconds");
    }

    #[test]
    fn money_is_said_in_its_own_coins() {
        let said = |cents: i64, currency| {
            let value = Value::range(Exact::ratio(cents, 100), Exact::ratio(cents, 100), Figure::mint(String::new()));
            spoken(&value, Kind::Money, None, Measures::Metric, currency).text().to_owned()
        };
        assert_eq!(said(1, Currency::EUR), "one cent");
        assert_eq!(said(100, Currency::EUR), "one euro");
        assert_eq!(said(101, Currency::EUR), "one euro one");
        assert_eq!(said(0, Currency::EUR), "nought cents");
        assert_eq!(said(1, Currency::GBP), "one penny");
        assert_eq!(said(250, Currency::GBP), "two pounds fifty");
        assert_eq!(said(99, Currency::GBP), "ninety-nine pence");
        assert_eq!(said(300, Currency::USD), "three dollars");
        assert_eq!(said(50_000, Currency::JPY), "five hundred JPY");
        assert_eq!(say(Exact::one(), Exact::from(2), Kind::Money, None), "one euro to two euros");
    }
}
