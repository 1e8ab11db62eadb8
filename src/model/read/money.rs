//! Reads prices. Must not know what is bought.

use super::quantity;
use crate::diag::{Diagnostic, Findings};
use crate::exact::{Exact, Malformed, ceiling};
use crate::model::codes;
use crate::span::Spanned;

/// A price in the channel's currency, zero for what is free: digits with a point.
pub(super) fn price(text: &Spanned<String>, findings: &mut Findings) -> Option<Exact> {
    match Exact::from_decimal(&text.value) {
        Some(price) if price <= ceiling() => Some(price),
        Some(_) => {
            findings.push(quantity::explain(&Malformed::TooLarge, text, text.span));
            None
        }
        None => {
            let message = format!("`{}` is no price", text.value);
            findings.push(Diagnostic::error(codes::BAD_PRICE, text.span, message).hint(price_hint(&text.value)));
            None
        }
    }
}

/// The corrected text, where it is plain what was meant: a number told off by a currency or a sign, or with a decimal comma.
/// Anything else between its digits could have stood for a point or for grouping, a hundredfold apart.
fn price_hint(text: &str) -> String {
    if text.is_empty() {
        return "write the price of the pack; what is free has the price `0`".into();
    }
    let number = text.trim_matches(|c: char| !c.is_ascii_digit());
    let signed = text.contains(['-', '\u{2212}', '+']);
    let pointed = quantity::decimal_point(number).unwrap_or_else(|| number.to_owned());
    match Exact::from_decimal(&pointed) {
        Some(_) if !signed => format!("write `{pointed}`: digits with a point, in the channel's currency"),
        Some(_) | None => "write digits with a point, such as `1.35`, without a sign, a currency or grouping".into(),
    }
}

#[cfg(test)]
mod tests {
    use super::price_hint;

    #[test]
    fn only_a_plain_slip_is_put_right() {
        for (written, meant) in [("1,35", "1.35"), ("€1.35", "1.35"), ("1,35 €", "1.35"), ("2 EUR", "2")] {
            assert!(price_hint(written).starts_with(&format!("write `{meant}`:")), "{written}");
        }
        for unclear in ["1;35", "1:35", "1'350", "1 35", "1.350,20", "-2", "\u{2212}2.10", "12.50.1", "free"] {
            assert!(price_hint(unclear).starts_with("write digits"), "{unclear}: {}", price_hint(unclear));
        }
    }
}
