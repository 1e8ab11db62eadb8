//! Reads `prices.csv` and writes lines at its end. Must not know recipes.

use super::dates::amiss_in;
use super::field::unknown_item;
use super::{money, quantity};
use crate::diag::{Diagnostic, Findings, did_you_mean};
use crate::exact::{Dimension, Exact, Measures, Unit, ceiling, parse_number};
use crate::model::{Item, Pack, Pantry, PriceBook, Purchase, codes};
use crate::source::{Row, Sources, codes as source_codes, csv_line, read_csv};
use crate::span::{SourceId, Span, Spanned, Texts};
use jiff::civil::Date;
use std::collections::BTreeMap;

/// The price book's columns, in the order they are written.
pub(super) const COLUMNS: [&str; 6] = ["date", "item", "pack", "price", "place", "note"];
const HEADER: &str = "the header is `date,item,pack,price,place,note`";

/// The price book; empty where the channel has none.
pub(super) fn read(sources: &Sources, pantry: &Pantry, measures: Measures, findings: &mut Findings) -> PriceBook {
    match sources.file("prices.csv") {
        Some((id, text)) => purchases(id, text, &sources.texts, pantry, measures, findings),
        None => PriceBook::default(),
    }
}

fn purchases(
    id: SourceId,
    text: &str,
    texts: &Texts,
    pantry: &Pantry,
    measures: Measures,
    findings: &mut Findings,
) -> PriceBook {
    let mut book = PriceBook::default();
    let rows = read_csv(id, text, b',', findings);
    let Some((header, rows)) = rows.split_first() else { return book };
    let Some(columns) = columns(header, findings) else { return book };
    let mut seen: BTreeMap<(String, Date, String), Span> = BTreeMap::new();
    for row in rows.iter().filter(|row| row.fields.iter().any(|field| !field.is_empty())) {
        let Some(purchase) = purchase(row, &columns, header.fields.len(), pantry, measures, findings) else { continue };
        let key = (purchase.item.clone(), purchase.date, purchase.place.to_lowercase());
        if let Some(first) = seen.get(&key) {
            findings.push(duplicate(&purchase, purchase.span, texts.place(*first).line));
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

/// Says that a purchase stands in line `first_line` of the book already.
pub(super) fn duplicate(purchase: &Purchase, span: Span, first_line: usize) -> Diagnostic {
    let place = if purchase.place.is_empty() { String::new() } else { format!(" at `{}`", purchase.place) };
    let message = format!("`{}` was bought on {}{place} in line {first_line} already", purchase.item, purchase.date);
    Diagnostic::error(codes::DUPLICATE_PRICE, span, message)
        .hint("keep one of the two lines, or say that they are of different places")
}

/// A line of the book as it is written: date, item, pack, price, place and note.
pub type Written = [String; 6];

/// The book's text with `lines` at its end. All that is there stays byte for byte, its line ending and whether its
/// last line has one included.
///
/// # Errors
/// The name of a column that a line needs and the book lacks: `place` or `note`.
pub fn append(book: Option<&str>, lines: &[Written]) -> Result<String, &'static str> {
    let Some(text) = book else {
        let lines = lines.iter().map(|line| csv_line(line.iter().map(String::as_str), ','));
        let all: Vec<String> = std::iter::once(COLUMNS.join(",")).chain(lines).collect();
        return Ok(all.join("\n") + "\n");
    };
    let rows = read_csv(SourceId(0), text, b',', &mut Findings::new());
    let Some(header) = rows.first() else { return Err("date") };
    let at = |field: &Spanned<String>| COLUMNS.iter().position(|name| *name == field.to_lowercase());
    let order: Vec<Option<usize>> = header.fields.iter().map(at).collect();
    let lost = |index: usize| !order.contains(&Some(index)) && lines.iter().any(|line| !line[index].is_empty());
    if let Some(index) = (0..COLUMNS.len()).find(|index| lost(*index)) {
        return Err(COLUMNS[index]);
    }
    let ending = |text: &str| ["\r\n", "\n", "\r"].into_iter().find(|ending| text.ends_with(ending));
    let first = &text[header.span.end..];
    let of_header = ["\r\n", "\n", "\r"].into_iter().find(|ending| first.starts_with(ending));
    let closed = ending(text);
    let ending = closed.or(of_header).unwrap_or("\n");
    let mut added = text.to_owned();
    for line in lines {
        let fields = order.iter().map(|index| index.map_or("", |index| line[index].as_str()));
        let line = csv_line(fields, ',');
        added.push_str(&if closed.is_some() { line + ending } else { ending.to_owned() + &line });
    }
    Ok(added)
}

/// Which field each of the columns is; `place` and `note` may be left out.
struct Columns([Option<usize>; 6]);

fn columns(header: &Row, findings: &mut Findings) -> Option<Columns> {
    let mut found = Columns([None; 6]);
    let mut blame = |span: Span, message: String, hint: String| {
        findings.push(Diagnostic::error(codes::BAD_COLUMNS, span, message).hint(hint));
    };
    if header.fields.len() == 1 && header.fields[0].contains([';', '\t']) {
        blame(header.span, "the columns are not split by commas".into(), "save the sheet as CSV with commas".into());
        return None;
    }
    for (index, field) in header.fields.iter().enumerate() {
        match COLUMNS.iter().position(|name| *name == field.to_lowercase()) {
            Some(at) if found.0[at].is_some() => {
                blame(field.span, format!("the column `{}` stands here a second time", field.value), HEADER.into());
                return None;
            }
            Some(at) => found.0[at] = Some(index),
            None => {
                let hint = did_you_mean(field, COLUMNS).unwrap_or_else(|| HEADER.into());
                blame(field.span, format!("unknown column `{}`", field.value), hint);
            }
        }
    }
    let missing: Vec<&str> = (0..4).filter(|at| found.0[*at].is_none()).map(|at| COLUMNS[at]).collect();
    for name in &missing {
        blame(header.span, format!("the column `{name}` is missing"), HEADER.into());
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
    let price = money::price(column(3), findings);
    let (times, unit, pack) = pack?;
    Some(Purchase {
        date: date?,
        item: known?.key.clone(),
        pack,
        pack_text: pack_text.value.clone(),
        times,
        unit,
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

pub(super) fn date(text: &Spanned<String>, findings: &mut Findings) -> Option<Date> {
    let shape = |c: char| if c.is_ascii_digit() { '0' } else { c };
    let plain = text.value.chars().map(shape).collect::<String>() == "0000-00-00";
    let date = text.value.parse::<Date>().ok().filter(|_| plain);
    if date.is_none() {
        let message = format!("`{}` is no date", text.value);
        let finding = Diagnostic::error(codes::BAD_DATE, text.span, message);
        let hint = amiss_in(&text.value).map(|amiss| format!("{amiss}: write one that there is"));
        findings.push(finding.hint(hint.unwrap_or_else(|| "write year, month and day as `2026-03-02`".to_owned())));
    }
    date
}

/// A pack: a quantity, or several of one (`6 x 330 mL`), that the item's facts can convert; with how many of one
/// there are and the unit of one.
pub(super) fn pack(
    text: &Spanned<String>,
    item: Option<&Item>,
    measures: Measures,
    findings: &mut Findings,
) -> Option<(Exact, Option<Unit>, Pack)> {
    let (times, one) = match text.value.split_once(['x', 'X', '×']) {
        Some((times, one)) if parse_number(times).is_ok() => {
            (parse_number(times).unwrap_or_else(|_| Exact::one()), one.trim().to_owned())
        }
        Some(_) | None => (Exact::one(), text.value.clone()),
    };
    let range = quantity::range(&Spanned::new(one, text.span), measures, findings)?;
    let value = &range.high.value * &times;
    if !range.is_single() || !value.is_positive() || !times.is_whole() {
        let finding = Diagnostic::error(codes::BAD_PACK, text.span, format!("`{}` is no pack", text.value));
        findings.push(finding.hint("write what one pack holds, such as `500 g`, `6` or `6 x 330 mL`"));
        return None;
    }
    if value > ceiling() {
        findings.push(quantity::explain(&crate::exact::Malformed::TooLarge, text, text.span));
        return None;
    }
    let pack = match range.dimension() {
        Dimension::Weight => Pack::Weight(value),
        Dimension::Volume => {
            check_fact(item, |item| item.density.is_some(), codes::NO_DENSITY, text, findings);
            Pack::Volume(value)
        }
        Dimension::Count => {
            check_fact(item, |item| item.each.is_some(), codes::NO_EACH, text, findings);
            Pack::Count(value)
        }
        Dimension::Length | Dimension::Duration | Dimension::Temperature | Dimension::Percent => {
            let finding = Diagnostic::error(codes::BAD_PACK, text.span, format!("`{}` is no pack", text.value));
            findings.push(finding.hint("a pack is a weight, a volume or a count"));
            return None;
        }
    };
    Some((times, range.high.unit, pack))
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
