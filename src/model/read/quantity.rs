//! Reads quantities out of texts and says what is wrong with them, with the corrected text where it is plain.
//! Must not know what the quantity is of.

use crate::diag::{Diagnostic, Findings, did_you_mean};
use crate::exact::{Dimension, Exact, Malformed, Measures, Quantity, Range, Unit, parse_range};
use crate::model::codes;
use crate::span::{Span, Spanned};

/// What a dimension is called in a message, with an example.
pub(super) fn wanted(dimension: Dimension) -> (&'static str, &'static str) {
    match dimension {
        Dimension::Weight => ("a weight", "300 g"),
        Dimension::Volume => ("a volume", "250 mL"),
        Dimension::Length => ("a length", "4 cm"),
        Dimension::Duration => ("a duration", "20 min"),
        Dimension::Temperature => ("a temperature", "180 °C"),
        Dimension::Percent => ("a percent", "12 %"),
        Dimension::Count => ("a bare count", "2"),
    }
}

/// A quantity or range as written, or a finding.
pub(super) fn range(text: &Spanned<String>, measures: Measures, findings: &mut Findings) -> Option<Range> {
    match checked_range(text, measures) {
        Ok(range) => Some(range),
        Err(malformed) => {
            findings.push(explain(&malformed, text, text.span));
            None
        }
    }
}

/// As [`parse_range`], but an exponent is told from a unit.
pub(super) fn checked_range(text: &str, measures: Measures) -> Result<Range, Malformed> {
    // Longer than any quantity: it is refused before anyone reckons with it.
    if text.len() > 200 || has_exponent(text) {
        return Err(Malformed::BadNumber(text.chars().take(60).collect()));
    }
    parse_range(text, measures)
}

/// A single quantity above zero of one dimension, in its base unit.
pub(super) fn single(
    text: &Spanned<String>,
    dimension: Dimension,
    measures: Measures,
    findings: &mut Findings,
) -> Option<Quantity> {
    let quantity = at_least_zero(text, dimension, measures, findings)?;
    if quantity.value.is_positive() {
        return Some(quantity);
    }
    findings.push(zero(text.span));
    None
}

/// A single quantity, zero or above, of one dimension, in its base unit.
pub(super) fn at_least_zero(
    text: &Spanned<String>,
    dimension: Dimension,
    measures: Measures,
    findings: &mut Findings,
) -> Option<Quantity> {
    let range = range(text, measures, findings)?;
    if range.dimension() != dimension {
        findings.push(wrong_dimension(text, &[dimension]));
        return None;
    }
    if !range.is_single() {
        let (what, example) = wanted(dimension);
        let finding = Diagnostic::error(codes::OUT_OF_RANGE, text.span, format!("a range stands where {what} must"));
        findings.push(finding.hint(format!("write one value, such as `{example}`")));
        return None;
    }
    Some(range.high)
}

/// Says that a quantity is zero.
pub(super) fn zero(span: Span) -> Diagnostic {
    Diagnostic::error(codes::ZERO, span, "this is zero").hint("write an amount above zero, or take the line out")
}

/// Says that a quantity measures something else than it must.
pub(super) fn wrong_dimension(text: &Spanned<String>, allowed: &[Dimension]) -> Diagnostic {
    let names: Vec<&str> = allowed.iter().map(|dimension| wanted(*dimension).0).collect();
    let example = allowed.first().map_or("300 g", |dimension| wanted(*dimension).1);
    let names = match names.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} or {last}", rest.join(", ")),
        Some(_) | None => names.join(""),
    };
    let message = format!("`{}` is not {names}", text.value);
    Diagnostic::error(codes::WRONG_UNIT, text.span, message).hint(format!("write it like `{example}`"))
}

/// A share written as a percent, from 0 to 1.
pub(super) fn share(text: &Spanned<String>, measures: Measures, findings: &mut Findings) -> Option<Exact> {
    let percent = at_least_zero(text, Dimension::Percent, measures, findings)?.value;
    if percent > Exact::from(100) {
        let finding =
            Diagnostic::error(codes::OUT_OF_RANGE, text.span, format!("`{}` is more than the whole", text.value));
        findings.push(finding.hint("write a percent from 0 to 100"));
        return None;
    }
    Some(percent / Exact::from(100))
}

/// Says what is wrong with a quantity.
pub(super) fn explain(malformed: &Malformed, text: &str, span: Span) -> Diagnostic {
    let shown: String = text.chars().take(60).collect();
    match malformed {
        Malformed::NoNumber if text.trim_start().starts_with(|c: char| c.is_ascii_digit()) => {
            Diagnostic::error(codes::BAD_NUMBER, span, format!("`{shown}` goes on after its unit without a number"))
                .hint("write one number and unit, such as `200 g`, or a compound such as `1 lb 14 oz`")
        }
        Malformed::NoNumber => {
            Diagnostic::error(codes::BAD_NUMBER, span, format!("`{shown}` does not start with a number"))
                .hint("write a number and a unit, such as `200 g`")
        }
        Malformed::BadNumber(_) => {
            Diagnostic::error(codes::BAD_NUMBER, span, format!("`{shown}` is not a plain number"))
                .hint(number_hint(&shown))
        }
        Malformed::UnknownUnit(unit) => {
            Diagnostic::error(codes::UNKNOWN_UNIT, span, format!("unknown unit `{unit}`")).hint(meant_unit(unit))
        }
        Malformed::MixedUnits => {
            Diagnostic::error(codes::MIXED_UNITS, span, format!("`{shown}` mixes units of different kinds"))
                .hint("write one quantity, such as `1 lb 14 oz`")
        }
        Malformed::Backwards => {
            Diagnostic::error(codes::BACKWARDS_RANGE, span, format!("the range `{shown}` runs backwards"))
                .hint("write the lower end first")
        }
        Malformed::TooLarge => {
            Diagnostic::error(codes::TOO_LARGE, span, format!("`{shown}` is above 10^9 in its base unit"))
                .hint("check the number and its unit")
        }
        Malformed::ZeroDenominator => Diagnostic::error(codes::BAD_NUMBER, span, format!("`{shown}` divides by zero"))
            .hint("write a fraction such as `1/2`"),
    }
}

/// What people write for a unit that sources write otherwise, and how they do.
const OTHER_SPELLINGS: [(&str, &str); 8] = [
    ("percent percents per percentage pc pct prcent precent percnt pecent procent prozent pourcent", "%"),
    ("gr grs gm gms gramme grammes gramm", "g"),
    ("kilo kilos kilogram kilograms kgs", "kg"),
    ("mil mils millilitre millilitres milliliter milliliters", "mL"),
    ("centimetre centimetres centimeter centimeters cms", "cm"),
    ("mn mns mins minuten", "min"),
    ("c c° celsius centigrade", "°C"),
    ("f f° fahrenheit", "°F"),
];

/// What an unknown unit was most likely meant to be.
pub fn meant_unit(unit: &str) -> String {
    // "1 kilo of": what it is of is no part of it.
    let word = unit.split_whitespace().next().unwrap_or(unit).to_lowercase();
    let is = |(others, _): &&(&str, &str)| others.split(' ').any(|other| other == word);
    if let Some((_, short)) = OTHER_SPELLINGS.iter().find(is) {
        return format!("write `{short}`");
    }
    if word.starts_with("deg") {
        return "write `°C` or `°F`".into();
    }
    let meant = did_you_mean(unit, Unit::spellings().map(as_printed));
    meant.unwrap_or_else(|| "use a unit such as `g`, `kg`, `%`, `mL`, `tsp`, `cup`, `cm`, `min` or `°C`".into())
}

/// A unit's spelling with the capitals it is printed with.
fn as_printed(spelling: &'static str) -> &'static str {
    match spelling {
        "°c" => "°C",
        "°f" => "°F",
        "ml" => "mL",
        "cl" => "cL",
        "l" => "L",
        other => other,
    }
}

fn number_hint(text: &str) -> String {
    if text.trim_start().starts_with(['-', '−', '+']) {
        return "write it without a sign; only a temperature is ever below zero".into();
    }
    if has_exponent(text) {
        return "write all its digits, without an exponent".into();
    }
    // "12,5 pc" is not put right by its point alone: then only the number is shown.
    let whole = |corrected: &String| checked_range(corrected, Measures::Metric).is_ok();
    let number = |corrected: String| {
        let end = corrected.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(corrected.len());
        corrected[..end].to_owned()
    };
    match decimal_point(text).map(|corrected| if whole(&corrected) { corrected } else { number(corrected) }) {
        Some(corrected) => format!("write `{corrected}`, with a point and without grouping"),
        None => "write digits with a point, such as `1.5`, or a fraction, such as `1 1/2`".into(),
    }
}

/// The text with a point for its decimal comma, where it has one comma between digits.
pub(super) fn decimal_point(text: &str) -> Option<String> {
    let (before, after) = text.split_once(',')?;
    let fits = before.ends_with(|c: char| c.is_ascii_digit()) && after.starts_with(|c: char| c.is_ascii_digit());
    (fits && !after.contains(',') && !before.contains('.')).then(|| format!("{before}.{after}"))
}

/// A digit, an `e`, and a number after it.
fn has_exponent(text: &str) -> bool {
    let bytes = text.as_bytes();
    bytes.windows(3).any(|w| {
        (w[0].is_ascii_digit() || w[0] == b'.')
            && matches!(w[1], b'e' | b'E')
            && (w[2].is_ascii_digit() || matches!(w[2], b'+' | b'-'))
    })
}

#[cfg(test)]
mod tests {
    use super::meant_unit;

    #[test]
    fn an_unknown_unit_is_answered_with_what_was_meant() {
        let meant = [
            ("C°", "write `°C`"),
            ("f°", "write `°F`"),
            ("gr", "write `g`"),
            ("pct", "write `%`"),
            ("kilo of", "write `kg`"),
            ("Kilos", "write `kg`"),
            ("degres", "write `°C` or `°F`"),
            ("C", "write `°C`"),
            ("prcent", "write `%`"),
            ("kgg", "did you mean `kg`?"),
        ];
        for (written, answer) in meant {
            assert_eq!(meant_unit(written), answer, "{written}");
        }
    }
}
