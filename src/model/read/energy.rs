//! Reads `[energy]`: appliances by power, time and duty, or their kilowatt-hours. Must not know what energy costs.

use super::field::{self, as_table, as_written, check_id, check_keys};
use super::{Kitchen, quantity};
use crate::diag::{Diagnostic, Findings};
use crate::exact::{Dimension, Exact, Malformed, Measures, ceiling, parse_number};
use crate::model::{Appliance, codes};
use crate::source::{Table, Value};
use crate::span::{Span, Spanned};

const KEYS: &[&str] = &["power", "minutes", "duty", "kwh"];

/// What runs for the written batch; empty where the recipe says nothing of it.
pub(super) fn of(front: &Table, kitchen: &Kitchen<'_>, findings: &mut Findings) -> Vec<Appliance> {
    let Some(table) = field::table(front, "energy", findings) else { return Vec::new() };
    let named = table.entries.iter().any(|entry| matches!(entry.value.value, Value::Table(_)));
    if !named {
        let kwh = appliance(table, table.span, "`[energy]`", kitchen.measures, findings);
        return kwh.into_iter().map(|kwh| Appliance { name: None, kwh, span: table.span }).collect();
    }
    let read = table.entries.iter().filter_map(|entry| {
        check_id(&entry.key, "an appliance", findings);
        let table = as_table(&entry.value, findings)?;
        let what = format!("`{}`", entry.key.value);
        let kwh = appliance(table, entry.key.span, &what, kitchen.measures, findings)?;
        Some(Appliance { name: Some(entry.key.value.clone()), kwh, span: entry.key.span })
    });
    read.collect()
}

/// Kilowatt-hours: as stated, or W × h × duty / 1000.
fn appliance(table: &Table, place: Span, what: &str, measures: Measures, findings: &mut Findings) -> Option<Exact> {
    check_keys(table, KEYS, what, findings);
    if let Some(kwh) = table.entry("kwh") {
        let others = KEYS[..3].iter().filter_map(|key| table.entry(key));
        for other in others {
            let message = format!("`{}` and `kwh` say the same thing", other.key.value);
            let finding = Diagnostic::error(codes::GIVEN_TWICE, other.key.span, message);
            findings.push(finding.hint("keep the kilowatt-hours, or power, minutes and duty"));
        }
        let text = as_written(&kwh.value, "kilowatt-hours, such as `\"0.9\"`", findings)?;
        return electric(&text, &[("kwh", 1)], "0.9 kWh", findings);
    }
    let power = stated(table, "power", "\"2200 W\"", place, findings)
        .and_then(|text| electric(&text, &[("kw", 1000), ("w", 1)], "2200 W", findings));
    let minutes =
        stated(table, "minutes", "\"45 min\"", place, findings).and_then(|text| minutes(&text, measures, findings));
    let duty = match table.get("duty") {
        Some(value) => as_written(value, "a percent, such as `\"60 %\"`", findings)
            .and_then(|text| quantity::share(&text, measures, findings)),
        None => Some(Exact::one()),
    };
    if let (Some(entry), true) = (table.entry("duty"), duty.as_ref().is_some_and(Exact::is_zero)) {
        findings.push(quantity::zero(entry.value.span));
    }
    let hours = minutes? / Exact::from(60);
    Some(power? * hours * duty.filter(Exact::is_positive)? / Exact::from(1000))
}

fn stated(table: &Table, key: &str, example: &str, place: Span, findings: &mut Findings) -> Option<Spanned<String>> {
    match table.get(key) {
        Some(value) => as_written(value, &format!("a text such as `{example}`"), findings),
        None => {
            field::missing(key, example, place, findings);
            None
        }
    }
}

/// A number with one of these units, or in the last of them without one.
fn electric(text: &Spanned<String>, units: &[(&str, i64)], example: &str, findings: &mut Findings) -> Option<Exact> {
    let lower = text.to_lowercase();
    let (number, size) = units
        .iter()
        .find_map(|(unit, size)| Some((lower.strip_suffix(unit)?, *size)))
        .unwrap_or((&lower, units.last().map_or(1, |(_, size)| *size)));
    match parse_number(number) {
        Ok(value) if value.is_positive() && &value * &Exact::from(size) <= ceiling() => Some(value * Exact::from(size)),
        Ok(value) if value.is_zero() => {
            findings.push(quantity::zero(text.span));
            None
        }
        Ok(_) => {
            findings.push(quantity::explain(&Malformed::TooLarge, text, text.span));
            None
        }
        Err(_) => {
            let message = format!("`{}` is not written like `{example}`", text.value);
            let finding = Diagnostic::error(codes::BAD_NUMBER, text.span, message);
            findings.push(finding.hint(format!("write a number and its unit, such as `{example}`")));
            None
        }
    }
}

/// Minutes: a bare number of them, or a duration; the upper end of a range.
fn minutes(text: &Spanned<String>, measures: Measures, findings: &mut Findings) -> Option<Exact> {
    let range = quantity::range(text, measures, findings)?;
    let value = match range.dimension() {
        Dimension::Count => range.high.value.clone(),
        Dimension::Duration => &range.high.value / Exact::from(60),
        Dimension::Weight | Dimension::Volume | Dimension::Length | Dimension::Temperature | Dimension::Percent => {
            findings.push(quantity::wrong_dimension(text, &[Dimension::Duration]));
            return None;
        }
    };
    if value.is_positive() {
        return Some(value);
    }
    findings.push(quantity::zero(text.span));
    None
}
