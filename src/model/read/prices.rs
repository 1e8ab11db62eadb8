//! Reads `prices.csv`. Must not know recipes.

use super::field::unknown_item;
use super::quantity;
use crate::diag::{Diagnostic, Findings, did_you_mean};
use crate::exact::{Dimension, Exact, Measures, ceiling, parse_number};
use crate::model::{Item, Pack, Pantry, PriceBook, Purchase, codes};
use crate::source::{Row, Sources, codes as source_codes, read_csv};
use crate::span::{Span, Spanned};
use jiff::civil::Date;
use std::collections::BTreeMap;

const COLUMNS: [&str; 6] = ["date", "item", "pack", "price", "place", "note"];

/// The price book; empty where the channel has none.
pub(super) fn read(sources: &Sources, pantry: &Pantry, measures: Measures, findings: &mut Findings) -> PriceBook {
    let mut book = PriceBook::default();
    let Some((id, text)) = sources.file("prices.csv") else { return book };
    let rows = read_csv(id, text, findings);
    let Some((header, rows)) = rows.split_first() else { return book };
    let Some(columns) = columns(header, findings) else { return book };
    let mut seen: BTreeMap<(String, Date, String), Span> = BTreeMap::new();
    for row in rows.iter().filter(|row| row.fields.iter().any(|field| !field.is_empty())) {
        let Some(purchase) = purchase(row, &columns, header.fields.len(), pantry, measures, findings) else { continue };
        let key = (purchase.item.clone(), purchase.date, purchase.place.to_lowercase());
        if let Some(first) = seen.get(&key) {
            let line = sources.texts.place(*first).line;
            findings.push(duplicate(&purchase, line));
            continue;
        }
        seen.insert(key, purchase.span);
        book.by_item.entry(purchase.item.clone()).or_default().push(purchase);
    }
    for purchases in book.by_item.values_mut() {
        purchases.sort_by_key(|purchase| purchase.date);
    }
    book
}

fn duplicate(purchase: &Purchase, first_line: usize) -> Diagnostic {
    let place = if purchase.place.is_empty() { String::new() } else { format!(" at `{}`", purchase.place) };
    let message = format!("`{}` was bought on {}{place} in line {first_line} already", purchase.item, purchase.date);
    Diagnostic::error(codes::DUPLICATE_PRICE, purchase.span, message)
        .hint("keep one of the two lines, or say that they are of different places")
}

/// Which field each of the columns is; `place` and `note` may be left out.
struct Columns([Option<usize>; 6]);

fn columns(header: &Row, findings: &mut Findings) -> Option<Columns> {
    let mut found = Columns([None; 6]);
    let mut blame = |span: Span, message: String, hint: String| {
        findings.push(Diagnostic::error(codes::BAD_COLUMNS, span, message).hint(hint));
    };
    let expected = "the header is `date,item,pack,price,place,note`";
    if header.fields.len() == 1 && header.fields[0].contains([';', '\t']) {
        blame(header.span, "the columns are not split by commas".into(), "save the sheet as CSV with commas".into());
        return None;
    }
    for (index, field) in header.fields.iter().enumerate() {
        match COLUMNS.iter().position(|name| *name == field.to_lowercase()) {
            Some(at) if found.0[at].is_some() => {
                blame(field.span, format!("the column `{}` stands here a second time", field.value), expected.into());
                return None;
            }
            Some(at) => found.0[at] = Some(index),
            None => {
                let hint = did_you_mean(field, COLUMNS).unwrap_or_else(|| expected.into());
                blame(field.span, format!("unknown column `{}`", field.value), hint);
            }
        }
    }
    let missing: Vec<&str> = (0..4).filter(|at| found.0[*at].is_none()).map(|at| COLUMNS[at]).collect();
    for name in &missing {
        blame(header.span, format!("the column `{name}` is missing"), expected.into());
    }
    missing.is_empty().then_some(found)
}

fn purchase(
    row: &Row,
    columns: &Columns,
    width: usize,
    pantry: &Pantry,
    measures: Measures,
    findings: &mut Findings,
) -> Option<Purchase> {
    if row.fields.len() != width {
        findings.push(field_count(row, columns, width));
        return None;
    }
    let blank = Spanned::new(String::new(), row.span);
    let column = |at: usize| columns.0[at].and_then(|index| row.fields.get(index)).unwrap_or(&blank);
    let (item, pack_text) = (column(1), column(2));
    let date = date(column(0), findings);
    let known = pantry.get(item);
    if known.is_none() {
        unknown_item(item, pantry, findings);
    }
    let pack = pack(pack_text, known, measures, findings);
    let price = price(column(3), findings);
    Some(Purchase {
        date: date?,
        item: known?.key.clone(),
        pack: pack?,
        pack_text: pack_text.value.clone(),
        price: price?,
        place: column(4).value.clone(),
        note: column(5).value.clone(),
        span: row.span,
    })
}

fn field_count(row: &Row, columns: &Columns, width: usize) -> Diagnostic {
    let message = format!("this line has {} fields, the header has {width}", row.fields.len());
    let price = columns.0[3].and_then(|at| Some((row.fields.get(at)?, row.fields.get(at + 1)?)));
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
    let hint = match price {
        Some((whole, cents)) if row.fields.len() == width + 1 && digits(whole) && digits(cents) => {
            format!("write the price with a point: `{}.{}`", whole.value, cents.value)
        }
        Some(_) | None => "put a field that holds a comma in double quotes; empty fields keep their commas".into(),
    };
    Diagnostic::error(source_codes::FIELD_COUNT, row.span, message).hint(hint)
}

fn date(text: &Spanned<String>, findings: &mut Findings) -> Option<Date> {
    let shape = |c: char| if c.is_ascii_digit() { '0' } else { c };
    let plain = text.value.chars().map(shape).collect::<String>() == "0000-00-00";
    let date = text.value.parse::<Date>().ok().filter(|_| plain);
    if date.is_none() {
        let message = format!("`{}` is no date", text.value);
        let finding = Diagnostic::error(codes::BAD_DATE, text.span, message);
        findings.push(finding.hint("write year, month and day as `2026-03-02`"));
    }
    date
}

/// A pack: a quantity, or several of one (`6 x 330 mL`), that the item's facts can convert.
fn pack(text: &Spanned<String>, item: Option<&Item>, measures: Measures, findings: &mut Findings) -> Option<Pack> {
    let (times, one) = match text.value.split_once(['x', '×']) {
        Some((times, one)) if parse_number(times).is_ok() => {
            (parse_number(times).unwrap_or_else(|_| Exact::one()), one.trim().to_owned())
        }
        Some(_) | None => (Exact::one(), text.value.clone()),
    };
    let range = quantity::range(&Spanned::new(one, text.span), measures, findings)?;
    let value = &range.high.value * &times;
    if !range.is_single() || !value.is_positive() {
        let finding = Diagnostic::error(codes::BAD_PACK, text.span, format!("`{}` is no pack", text.value));
        findings.push(finding.hint("write what one pack holds, such as `500 g`, `6` or `6 x 330 mL`"));
        return None;
    }
    if value > ceiling() {
        findings.push(quantity::explain(&crate::exact::Malformed::TooLarge, text, text.span));
        return None;
    }
    match range.dimension() {
        Dimension::Weight => Some(Pack::Weight(value)),
        Dimension::Volume => {
            check_fact(item, |item| item.density.is_some(), codes::NO_DENSITY, text, findings);
            Some(Pack::Volume(value))
        }
        Dimension::Count => {
            check_fact(item, |item| item.each.is_some(), codes::NO_EACH, text, findings);
            Some(Pack::Count(value))
        }
        Dimension::Length | Dimension::Duration | Dimension::Temperature | Dimension::Percent => {
            let finding = Diagnostic::error(codes::BAD_PACK, text.span, format!("`{}` is no pack", text.value));
            findings.push(finding.hint("a pack is a weight, a volume or a count"));
            None
        }
    }
}

fn check_fact(
    item: Option<&Item>,
    has: fn(&Item) -> bool,
    code: &'static str,
    pack: &Spanned<String>,
    findings: &mut Findings,
) {
    let Some(item) = item.filter(|item| !has(item)) else { return };
    let (fact, example) = if code == codes::NO_DENSITY { ("density", "0.72 g/mL") } else { ("each", "120 g") };
    let message = format!("`{}` has no `{fact}`, so a pack of `{}` can't be weighed", item.key, pack.value);
    let hint =
        format!("add `{fact} = \"{example}\"` to `[{}]` in `pantry.toml`, or write the pack as a weight", item.key);
    findings.push(Diagnostic::error(code, pack.span, message).hint(hint));
}

fn price(text: &Spanned<String>, findings: &mut Findings) -> Option<Exact> {
    match Exact::from_decimal(&text.value) {
        Some(price) if price <= ceiling() => Some(price),
        Some(_) => {
            findings.push(quantity::explain(&crate::exact::Malformed::TooLarge, text, text.span));
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
