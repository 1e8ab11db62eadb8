//! Reads `[variant.ID]`: lines that carry another item or amount. Must not know what it costs.

use super::Kitchen;
use super::field::{self, as_table, as_text, check_id, check_keys, list, required, unknown_item};
use super::lines::{Broken, amount, check_amount, check_fixed};
use super::sizing::{sole_taker, taken_twice};
use crate::diag::{Diagnostic, Findings, did_you_mean};
use crate::model::{Amount, Basis, LineRef, Part, Subject, Variant, codes};
use crate::source::{Table, Value};
use crate::span::{Span, Spanned};

/// Every variant, in the order written.
pub(super) fn read(
    front: &Table,
    parts: &[Part],
    broken: &Broken,
    kitchen: &Kitchen<'_>,
    findings: &mut Findings,
) -> Vec<Variant> {
    let lines = Lines { parts, broken };
    let Some(variants) = field::table(front, "variant", findings) else { return Vec::new() };
    let read = variants.entries.iter().filter_map(|entry| {
        let named = check_id(&entry.key, "a variant", findings);
        let table = as_table(&entry.value, findings)?;
        let variant = one(&entry.key, table, lines, kitchen, findings);
        variant.filter(|_| named)
    });
    read.collect()
}

/// Ids of every variant as written, also of those that can't be read.
pub(super) fn ids(front: &Table) -> impl Iterator<Item = &str> {
    let table = front.get("variant").and_then(|value| match &value.value {
        Value::Table(table) => Some(table),
        Value::Text(_) | Value::Number(_) | Value::Flag(_) | Value::Date(_) | Value::List(_) => None,
    });
    table.into_iter().flat_map(|table| &table.entries).map(|entry| entry.key.value.as_str())
}

/// The lines that a variant may change, and those that could not be read: naming one of them is no further fault.
#[derive(Clone, Copy)]
struct Lines<'a> {
    parts: &'a [Part],
    broken: &'a Broken,
}

fn one(
    id: &Spanned<String>,
    table: &Table,
    lines: Lines<'_>,
    kitchen: &Kitchen<'_>,
    findings: &mut Findings,
) -> Option<Variant> {
    check_keys(table, &["title", "swap", "set"], &format!("`[variant.{}]`", id.value), findings);
    let title = required(table, "title", "\"…\"", id.span, findings);
    let swap = swaps(table, lines, kitchen, findings);
    let set = sets(table, lines, &swap, kitchen, findings);
    if table.get("swap").is_none() && table.get("set").is_none() {
        let finding =
            Diagnostic::error(codes::MISSING_KEY, id.span, format!("the variant `{}` changes nothing", id.value));
        findings.push(finding.hint("add `swap = { butter = \"margarine\" }` or `set = { water = \"65 %\" }`"));
    }
    for (at, item) in &swap {
        let line = &lines.parts[at.part].lines[at.line];
        if set.iter().all(|(other, _)| other != at) {
            // The written amount now is one of the other item.
            check_amount(&Subject::Item(item.clone()), &line.amount, kitchen, findings);
        }
    }
    Some(Variant { id: id.value.clone(), title: title?.value, swap, set, span: id.span })
}

/// Names and values of a table whose keys may be `line`, `"part.line"` or `part.line`.
pub(super) fn named_values(table: &Table) -> Vec<(Spanned<String>, &Spanned<Value>)> {
    let mut all = Vec::new();
    for entry in &table.entries {
        match &entry.value.value {
            Value::Table(inner) if !inner.inline => all.extend(inner.entries.iter().map(|line| {
                let span = Span { end: line.key.span.end, ..entry.key.span };
                let span = if span.end < span.start { line.key.span } else { span };
                (Spanned::new(format!("{}.{}", entry.key.value, line.key.value), span), &line.value)
            })),
            Value::Text(_) | Value::Number(_) | Value::Flag(_) | Value::Date(_) | Value::List(_) | Value::Table(_) => {
                all.push((entry.key.clone(), &entry.value));
            }
        }
    }
    all
}

fn swaps(table: &Table, among: Lines<'_>, kitchen: &Kitchen<'_>, findings: &mut Findings) -> Vec<(LineRef, String)> {
    let mut swaps: Vec<(LineRef, String)> = Vec::new();
    let Some(table) = field::table(table, "swap", findings) else { return swaps };
    for (name, value) in named_values(table) {
        let lines = items_named(&name, among.parts);
        if lines.is_empty() {
            unknown_line(&name, among, findings);
        }
        let Some(item) = as_text(value, findings) else { continue };
        if kitchen.pantry.get(&item).is_none() {
            unknown_item(&item, kitchen.pantry, findings);
            continue;
        }
        for line in lines {
            if swaps.iter().any(|(other, _)| *other == line) {
                let finding =
                    Diagnostic::error(codes::GIVEN_TWICE, name.span, format!("`{}` is swapped twice", name.value));
                findings.push(finding.hint("keep one of the two"));
            }
            swaps.push((line, item.value.clone()));
        }
    }
    swaps
}

fn sets(
    table: &Table,
    lines: Lines<'_>,
    swap: &[(LineRef, String)],
    kitchen: &Kitchen<'_>,
    findings: &mut Findings,
) -> Vec<(LineRef, Spanned<Amount>)> {
    let mut sets: Vec<(LineRef, Spanned<Amount>)> = Vec::new();
    let Some(table) = field::table(table, "set", findings) else { return sets };
    for (name, value) in named_values(table) {
        let line = line_to_set(&name, lines, swap, findings);
        let amount = amount(value, kitchen.measures, findings);
        let (Some(at), Some(amount)) = (line, amount) else { continue };
        if sets.iter().any(|(other, _)| *other == at) {
            let finding = Diagnostic::error(codes::GIVEN_TWICE, name.span, format!("`{}` is set twice", name.value));
            findings.push(finding.hint("keep one of the two"));
        }
        if check_set(at, &amount, lines, swap, kitchen, findings) {
            sets.push((at, amount));
        }
    }
    sets
}

fn check_set(
    at: LineRef,
    amount: &Spanned<Amount>,
    Lines { parts, broken }: Lines<'_>,
    swap: &[(LineRef, String)],
    kitchen: &Kitchen<'_>,
    findings: &mut Findings,
) -> bool {
    let part = &parts[at.part];
    if matches!(amount.value, Amount::Percent { .. }) && part.basis == Basis::None && !broken.basis {
        let message = format!("nothing in `{}` is 100 %, so this is a percent of nothing", part.id);
        let finding = Diagnostic::error(codes::PERCENT_OF_NOTHING, amount.span, message);
        findings.push(finding.hint("write a weight"));
        return false;
    }
    let line = &part.lines[at.line];
    if let (Amount::All, Subject::Part(taken)) = (&amount.value, &line.subject)
        && sole_taker(parts, *taken).is_none()
    {
        findings.push(taken_twice(&parts[*taken], amount.span));
        return false;
    }
    let swapped = swap.iter().find(|(other, _)| *other == at).map(|(_, item)| Subject::Item(item.clone()));
    check_fixed(line, amount, findings)
        && check_amount(swapped.as_ref().unwrap_or(&line.subject), amount, kitchen, findings)
}

/// The lines of items that a name means: `part.key`, a key, or an item, in every part.
fn items_named(name: &str, parts: &[Part]) -> Vec<LineRef> {
    let by_key = lines_named(name, parts, |line, key| line.key == key);
    let lines = if by_key.is_empty() {
        lines_named(name, parts, |line, key| line.subject == Subject::Item(key.to_owned()))
    } else {
        by_key
    };
    let is_item = |at: &LineRef| matches!(parts[at.part].lines[at.line].subject, Subject::Item(_));
    lines.into_iter().filter(is_item).collect()
}

/// The lines that `fits` finds under a name, which may start with a part.
pub(super) fn lines_named(
    name: &str,
    parts: &[Part],
    fits: impl Fn(&crate::model::Line, &str) -> bool,
) -> Vec<LineRef> {
    let (of_part, key) = match name.split_once('.') {
        Some((part, key)) => (Some(part), key),
        None => (None, name),
    };
    let mut found = Vec::new();
    for (part, p) in parts.iter().enumerate().filter(|(_, p)| of_part.is_none_or(|id| id == p.id)) {
        found.extend((0..p.lines.len()).filter(|at| fits(&p.lines[*at], key)).map(|line| LineRef { part, line }));
    }
    found
}

/// The one line that a name in `set` means: a key, the item it has, or the item swapped in.
fn line_to_set(
    name: &Spanned<String>,
    among: Lines<'_>,
    swap: &[(LineRef, String)],
    findings: &mut Findings,
) -> Option<LineRef> {
    let parts = among.parts;
    let mut lines = lines_named(name, parts, |line, key| line.key == key);
    if lines.is_empty() {
        let key = name.value.rsplit('.').next().unwrap_or("");
        let of_part = |at: &LineRef| !name.contains('.') || name.starts_with(&format!("{}.", parts[at.part].id));
        lines = swap.iter().filter(|(at, item)| item == key && of_part(at)).map(|(at, _)| *at).collect();
    }
    if lines.is_empty() {
        lines = lines_named(name, parts, |line, key| line.subject == Subject::Item(key.to_owned()));
    }
    match lines.as_slice() {
        [] => {
            unknown_line(name, among, findings);
            None
        }
        [only] => Some(*only),
        several => {
            findings.push(ambiguous(name, several, parts));
            None
        }
    }
}

/// Says that several lines have a name.
pub(super) fn ambiguous(name: &Spanned<String>, lines: &[LineRef], parts: &[Part]) -> Diagnostic {
    let ids: Vec<String> =
        lines.iter().map(|at| format!("{}.{}", parts[at.part].id, parts[at.part].lines[at.line].key)).collect();
    Diagnostic::error(codes::AMBIGUOUS_LINE, name.span, format!("`{}` is more than one line", name.value))
        .hint(format!("say which one: {}", list(ids.iter().map(String::as_str))))
}

fn unknown_line(name: &Spanned<String>, among: Lines<'_>, findings: &mut Findings) {
    if among.broken.has_line(name) {
        return;
    }
    let keys: Vec<&str> = among.parts.iter().flat_map(|part| &part.lines).map(|line| line.key.as_str()).collect();
    let hint = did_you_mean(name, keys.iter().copied())
        .unwrap_or_else(|| format!("the lines are {}", list(keys.iter().copied())));
    findings.push(Diagnostic::error(codes::UNKNOWN_LINE, name.span, format!("no line `{}`", name.value)).hint(hint));
}
