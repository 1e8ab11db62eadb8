//! Reads `[fry]`. Must not know how much is fried.

use super::field::{self, as_written, check_keys, required, unknown_item};
use super::{Kitchen, quantity};
use crate::diag::{Diagnostic, Findings};
use crate::exact::{Dimension, Exact, Measures, parse_number};
use crate::model::{Fry, Pan, codes};
use crate::source::Table;
use crate::span::Spanned;

const KEYS: &[&str] = &["oil", "pan", "depth", "takes-up", "uses"];

/// How it is fried.
fn read(table: &Table, kitchen: &Kitchen<'_>, findings: &mut Findings) -> Option<Fry> {
    check_keys(table, KEYS, "`[fry]`", findings);
    let measures = kitchen.measures;
    let oil = required(table, "oil", "\"sunflower-oil\"", table.span, findings);
    let oil = oil.and_then(|oil| check_oil(oil, kitchen, findings));
    let pan = required(table, "pan", "\"round 20 cm\"", table.span, findings);
    let pan = pan.and_then(|text| pan_inside(&text, measures, findings));
    let depth = required(table, "depth", "\"4 cm\"", table.span, findings);
    let depth = depth.and_then(|text| quantity::single(&text, Dimension::Length, measures, findings));
    let takes_up = required(table, "takes-up", "\"8 %\"", table.span, findings);
    let takes_up = takes_up.and_then(|text| quantity::share(&text, measures, findings));
    let uses = uses(table, findings);
    Some(Fry { oil: oil?, pan: pan?, depth: depth?.value, takes_up: takes_up?, uses: uses?, span: table.span })
}

fn check_oil(oil: Spanned<String>, kitchen: &Kitchen<'_>, findings: &mut Findings) -> Option<String> {
    let Some(item) = kitchen.pantry.get(&oil) else {
        unknown_item(&oil, kitchen.pantry, findings);
        return None;
    };
    if item.density.is_none() {
        let message = format!("`{}` has no `density`, so the filling can't be weighed", oil.value);
        let finding = Diagnostic::error(codes::NO_DENSITY, oil.span, message);
        findings.push(finding.hint(format!("add `density = \"0.92 g/mL\"` to `[{}]` in `pantry.toml`", oil.value)));
        return None;
    }
    Some(oil.value)
}

/// `round 20 cm` or `rect 20 x 30 cm`, in millimetres.
fn pan_inside(text: &Spanned<String>, measures: Measures, findings: &mut Findings) -> Option<Pan> {
    let (shape, size) = text.value.split_once(char::is_whitespace).unwrap_or((&text.value, ""));
    let mut length = |size: &str| {
        let size = Spanned::new(size.trim().to_owned(), text.span);
        quantity::single(&size, Dimension::Length, measures, findings).map(|length| length.value)
    };
    match (shape, size.split_once(['x', '×'])) {
        ("round", None) => length(size).map(Pan::Round),
        ("rect", Some((one, other))) => {
            // `20 x 30 cm`: the first side takes the unit of the second.
            let unit = other.trim().rsplit(|c: char| c.is_numeric() || c.is_whitespace()).next().unwrap_or_default();
            let one = if parse_number(one).is_ok() { format!("{} {unit}", one.trim()) } else { one.to_owned() };
            let (one, other) = (length(&one), length(other));
            Some(Pan::Rect(one?, other?))
        }
        _ => {
            let finding = Diagnostic::error(codes::UNKNOWN_CHOICE, text.span, format!("`{}` is no pan", text.value));
            findings.push(finding.hint("write `round 20 cm` or `rect 20 x 30 cm`, measured inside"));
            None
        }
    }
}

fn uses(table: &Table, findings: &mut Findings) -> Option<Exact> {
    let Some(value) = table.get("uses") else { return Some(Exact::one()) };
    let text = as_written(value, "a count of batches", findings)?;
    match parse_number(&text) {
        Ok(uses) if uses >= Exact::one() && uses <= Exact::from(1000) => Some(uses),
        Ok(_) | Err(_) => {
            let message = format!("`{}` is no count of batches", text.value);
            let finding = Diagnostic::error(codes::OUT_OF_RANGE, text.span, message);
            findings.push(finding.hint("write how many batches one filling serves, from 1 to 1000"));
            None
        }
    }
}

/// The top level's `[fry]`, if there is one.
pub(super) fn of(front: &Table, kitchen: &Kitchen<'_>, findings: &mut Findings) -> Option<Fry> {
    field::table(front, "fry", findings).and_then(|table| read(table, kitchen, findings))
}
