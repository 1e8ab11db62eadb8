//! Numbers as shops print them, made plain: decimal commas, grouping, currency. Must not know what they count.

use crate::diag::Diagnostic;
use crate::model::codes;
use crate::span::Span;
use iso_currency::Currency;

/// What stands before decimals.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Decimal {
    /// `1.234,50`.
    Comma,
    /// `1,234.50`.
    Point,
}

impl Decimal {
    fn mark(self) -> char {
        match self {
            Self::Comma => ',',
            Self::Point => '.',
        }
    }

    fn other(self) -> Self {
        match self {
            Self::Comma => Self::Point,
            Self::Point => Self::Comma,
        }
    }
}

/// Why a number is not taken.
enum Fault {
    /// It may mean two things.
    Ambiguous,
    /// It is none.
    Malformed,
}

/// A number with a point for its decimals and no grouping; `decimal` is what the file is said to write.
fn plain(text: &str, decimal: Option<Decimal>) -> Result<String, Fault> {
    let marks: Vec<char> = text.chars().filter(|c| matches!(c, ',' | '.')).collect();
    let decimal = match (decimal, marks.as_slice()) {
        (Some(decimal), _) => decimal,
        (None, []) => Decimal::Point,
        (None, [one]) => {
            let (whole, after) = text.split_once(*one).unwrap_or((text, ""));
            // `1,234` is one and a bit or more than a thousand; `0,234` and `12345,678` can only be one of them.
            if after.len() == 3 && (1..=3).contains(&whole.len()) && !whole.starts_with('0') {
                return Err(Fault::Ambiguous);
            }
            if *one == ',' { Decimal::Comma } else { Decimal::Point }
        }
        (None, [first, .., last]) if first == last => {
            // Several of one mark stand between thousands.
            (if *last == ',' { Decimal::Comma } else { Decimal::Point }).other()
        }
        (None, [.., last]) => {
            if *last == ',' {
                Decimal::Comma
            } else {
                Decimal::Point
            }
        }
    };
    let (whole, fraction) = text.split_once(decimal.mark()).unwrap_or((text, ""));
    let groups: Vec<&str> = whole.split(decimal.other().mark()).collect();
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
    let grouped =
        groups.len() == 1 || (1..=3).contains(&groups[0].len()) && groups[1..].iter().all(|group| group.len() == 3);
    let closed = !text.contains(decimal.mark()) || digits(fraction);
    if !grouped || !closed || !groups.iter().all(|group| digits(group)) {
        return Err(Fault::Malformed);
    }
    Ok(if fraction.is_empty() { groups.concat() } else { format!("{}.{fraction}", groups.concat()) })
}

fn told(fault: &Fault, text: &str, span: Span, decimal: Option<Decimal>, code: &'static str) -> Diagnostic {
    match fault {
        Fault::Ambiguous => Diagnostic::error(
            codes::AMBIGUOUS_NUMBER,
            span,
            format!("`{text}` may be a number below a thousand or one above it"),
        )
        .hint("say with `--decimal comma` or `--decimal point` what stands before decimals in this file"),
        Fault::Malformed => {
            let hint = match decimal {
                Some(Decimal::Point) => "write digits with a point before the decimals, such as `1.35`",
                Some(Decimal::Comma) => "write digits with a comma before the decimals, such as `1,35`",
                None => "write digits with a point or a comma before the decimals, such as `1,35`",
            };
            Diagnostic::error(code, span, format!("`{text}` is not a plain number")).hint(hint)
        }
    }
}

/// A quantity with plain numbers: `0,5 kg` as `0.5 kg`.
pub(super) fn quantity(text: &str, span: Span, decimal: Option<Decimal>) -> Result<String, Diagnostic> {
    let mut made = String::new();
    let mut rest = text;
    while let Some(start) = rest.find(|c: char| c.is_ascii_digit()) {
        let from = &rest[start..];
        let end = from.find(|c: char| !c.is_ascii_digit() && !matches!(c, ',' | '.')).unwrap_or(from.len());
        // A mark at the end closes a phrase, not a number.
        let number = from[..end].trim_end_matches([',', '.']);
        let plain = plain(number, decimal).map_err(|fault| told(&fault, text, span, decimal, codes::BAD_PACK))?;
        made.push_str(&rest[..start]);
        made.push_str(&plain);
        rest = &from[number.len()..];
    }
    Ok(made + rest)
}

/// A price with a plain number: `1,35 €` as `1.35`. It may name the channel's currency and no other.
pub(super) fn price(
    text: &str,
    span: Span,
    currency: Currency,
    decimal: Option<Decimal>,
) -> Result<String, Diagnostic> {
    let fault = |message: String, hint: &str| Err(Diagnostic::error(codes::BAD_PRICE, span, message).hint(hint));
    let is_digit = |c: char| c.is_ascii_digit();
    let (Some(first), Some(last)) = (text.find(is_digit), text.rfind(is_digit)) else {
        return fault(format!("`{text}` is no price"), "write the price of the pack; what is free has the price `0`");
    };
    let (before, number, after) = (text[..first].trim(), &text[first..=last], text[last + 1..].trim());
    if before.contains(['-', '−', '(']) || after.starts_with(['-', '−', ')']) {
        let hint = "leave refunds and deposits out of the file, or map their names to nothing in the file of `--items`";
        return fault(format!("`{text}` is below zero or only a part of a price"), hint);
    }
    let mark = match (before, after) {
        ("", mark) | (mark, "") => mark,
        _ => return fault(format!("`{text}` is no price"), "write one amount with its currency before or after it"),
    };
    let symbol = currency.symbol().symbol;
    if !mark.is_empty() && !mark.eq_ignore_ascii_case(currency.code()) && mark != symbol {
        let message = format!("`{mark}` is not the channel's currency, {}", currency.code());
        return fault(message, "convert the price, or leave the line out");
    }
    let spaceless: String = number.chars().filter(|c| !matches!(c, '\u{a0}' | '\u{202f}' | '\'' | '’')).collect();
    plain(&spaceless, decimal).map_err(|fault| told(&fault, text, span, decimal, codes::BAD_PRICE))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::span::SourceId;

    const SPAN: Span = Span { source: SourceId(0), start: 0, end: 0 };

    fn euros(text: &str, decimal: Option<Decimal>) -> Result<String, &'static str> {
        price(text, SPAN, Currency::EUR, decimal).map_err(|finding| finding.code)
    }

    #[test]
    fn prices_as_shops_print_them() {
        for (text, plain) in [
            ("1,35", "1.35"),
            ("1.35 €", "1.35"),
            ("€1,35", "1.35"),
            ("EUR 12", "12"),
            ("1.234,50 eur", "1234.50"),
            ("1,234.50", "1234.50"),
            ("1.234.567", "1234567"),
            ("1 234,50".replace(' ', "\u{a0}").as_str(), "1234.50"),
            ("0,999", "0.999"),
            ("0", "0"),
        ] {
            assert_eq!(euros(text, None), Ok(plain.to_owned()), "{text}");
        }
    }

    #[test]
    fn what_may_mean_two_things_is_asked_and_never_guessed() {
        assert_eq!(euros("1,234", None), Err("ambiguous-number"));
        assert_eq!(euros("12.345", None), Err("ambiguous-number"));
        assert_eq!(euros("1,234", Some(Decimal::Comma)), Ok("1.234".to_owned()));
        assert_eq!(euros("1,234", Some(Decimal::Point)), Ok("1234".to_owned()));
    }

    #[test]
    fn what_is_no_price_is_refused() {
        for text in ["", "free", "-1,35", "1,35-", "$1.35", "1.35 USD", "€1.35 EUR", "1,23,4", "1.35/kg", "1 35", "5,-"]
        {
            assert_eq!(euros(text, None), Err("bad-price"), "{text}");
        }
        assert_eq!(euros("1.35", Some(Decimal::Comma)), Err("bad-price"));
    }

    #[test]
    fn packs_with_decimal_commas() {
        let pack = |text: &str| quantity(text, SPAN, None).map_err(|finding| finding.code);
        assert_eq!(pack("0,5 kg"), Ok("0.5 kg".to_owned()));
        assert_eq!(pack("6x0,33 L"), Ok("6x0.33 L".to_owned()));
        assert_eq!(pack("500 g."), Ok("500 g.".to_owned()));
        assert_eq!(pack("1,500 g"), Err("ambiguous-number"));
    }
}
