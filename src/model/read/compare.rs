//! Reads `compare`: what the shop asks for the same thing ready-made. Must not know what the batch costs.

use super::field::{self, as_written, check_keys, required};
use super::{Kitchen, money, prices, quantity};
use crate::diag::{Diagnostic, Findings};
use crate::exact::{Dimension, parse_number};
use crate::model::{Compare, Makes, Portion, codes};
use crate::source::{Table, Value};
use crate::span::Spanned;

const KEYS: &[&str] = &["price", "size", "bought"];

/// The comparison, if the recipe has one.
pub(super) fn of(
    front: &Table,
    makes: Option<&Spanned<Makes>>,
    kitchen: &Kitchen<'_>,
    findings: &mut Findings,
) -> Option<Compare> {
    let table = field::table(front, "compare", findings)?;
    check_keys(table, KEYS, "`compare`", findings);
    let price = match table.get("price") {
        Some(value) => {
            as_written(value, "a price, such as `\"3.49\"`", findings).and_then(|text| money::price(&text, findings))
        }
        None => {
            field::missing("price", "\"3.49\"", table.span, findings);
            None
        }
    };
    let size = required(table, "size", "\"400 g\"", table.span, findings);
    // What can't be read of `makes` is told there: a size in its pieces is no further fault.
    let unread = makes.is_none() && front.get("makes").is_some();
    let mut aside = Findings::new();
    let told = if unread { &mut aside } else { &mut *findings };
    let size = size.and_then(|text| size_of(&text, makes.map(|makes| &makes.value), kitchen, told));
    let bought = match table.get("bought") {
        Some(Spanned { value: Value::Date(day), span }) => prices::date(&Spanned::new(day.clone(), *span), findings),
        Some(value) => field::as_text(value, findings).and_then(|text| prices::date(&text, findings)),
        None => {
            field::missing("bought", "\"2026-03-02\"", table.span, findings);
            None
        }
    };
    Some(Compare { price: price?, size: size?, bought: bought?, span: table.span })
}

/// A weight, or a count with or without what the recipe calls its pieces.
fn size_of(
    text: &Spanned<String>,
    makes: Option<&Makes>,
    kitchen: &Kitchen<'_>,
    findings: &mut Findings,
) -> Option<Portion> {
    let named = makes.and_then(|makes| {
        [&makes.many, &makes.one].into_iter().find_map(|name| text.value.strip_suffix(name.as_str()))
    });
    let bare = named.filter(|number| parse_number(number).is_ok());
    let size = bare.map_or_else(|| text.clone(), |number| Spanned::new(number.trim().to_owned(), text.span));
    let range = quantity::range(&size, kitchen.measures, findings)?;
    let value = range.high.value.clone();
    if !range.is_single() || !value.is_positive() {
        let finding = Diagnostic::error(codes::BAD_PACK, text.span, format!("`{}` is no size", text.value));
        findings.push(finding.hint("write what one pack holds, such as `400 g` or `8`"));
        return None;
    }
    match (range.dimension(), makes) {
        (Dimension::Weight, _) => Some(Portion::Weight(value)),
        (Dimension::Count, Some(_)) => Some(Portion::Pieces(value)),
        (Dimension::Count, None) => {
            let message = "pieces can't be compared with a batch that counts none";
            let finding = Diagnostic::error(codes::BAD_PACK, text.span, message);
            findings.push(finding.hint("say what the recipe makes with `makes`, or write the pack's weight"));
            None
        }
        (
            Dimension::Volume | Dimension::Length | Dimension::Duration | Dimension::Temperature | Dimension::Percent,
            _,
        ) => {
            findings.push(quantity::wrong_dimension(text, &[Dimension::Weight, Dimension::Count]));
            None
        }
    }
}
