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

/// The corrected text, where it is plain what was meant.
fn price_hint(text: &str) -> String {
    if text.is_empty() {
        return "write the price of the pack; what is free has the price `0`".into();
    }
    let bare: String = text.chars().filter(|c| c.is_ascii_digit() || matches!(c, '.' | ',' | '-')).collect();
    let pointed = quantity::decimal_point(&bare).unwrap_or(bare);
    match Exact::from_decimal(&pointed) {
        Some(_) => format!("write `{pointed}`: digits with a point, in the channel's currency"),
        None => "write digits with a point, such as `1.35`, without a sign, a currency or grouping".into(),
    }
}
