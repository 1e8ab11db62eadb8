//! Reads `[formula]` and `[parts]`: parts and their lines, each amount with what it needs.
//! Must not know how much of a part there is (`sizing` does).

use super::Kitchen;
use super::field::{self, as_table, as_written, check_id, check_keys, unknown_choice, unknown_item};
use super::quantity;
use crate::diag::{Diagnostic, Findings, did_you_mean, nearest};
use crate::exact::{Dimension, Exact, Measures, Range, Unit};
use crate::model::{Amount, Basis, Item, Line, Part, Role, Subject, codes};
use crate::source::{Entry, Table, Value};
use crate::span::{Span, Spanned};

/// The id of the one part of a formula without parts.
const LONE_PART: &str = "main";
const LINE_KEYS: &[&str] = &["amount", "item", "name", "note", "fixed"];
const PART_KEYS: &[&str] = &["title", "basis", "each"];
/// Words that braces keep for results and shares.
const RESERVED: [&str; 8] = ["pieces", "each", "cost", "hydration", "batch", "half", "quarter", "remaining"];

/// What `[parts.NAME]` and the top level say of a part.
#[derive(Default)]
struct Details {
    title: Option<String>,
    basis: Option<Vec<Spanned<String>>>,
    each: Option<Spanned<Exact>>,
}

/// What could not be read, so that nothing that hangs on it is blamed too.
#[derive(Clone, Debug, Default)]
pub(super) struct Broken {
    /// Keys of lines.
    pub(super) lines: Vec<String>,
    /// Ids of variants.
    pub(super) variants: Vec<String>,
    /// `makes`.
    pub(super) makes: bool,
    /// What is 100 %.
    pub(super) basis: bool,
    /// A brace of the method.
    pub(super) method: bool,
}

impl Broken {
    /// Whether a line named so, with its part or without, is among what could not be read, or one whose key misspells it.
    pub(super) fn has_line(&self, name: &str) -> bool {
        let key = name.rsplit('.').next().unwrap_or(name);
        self.lines.iter().any(|line| line == key || nearest(line, [key]).is_some())
    }
}

/// The parts of a recipe and whether all of their lines could be read.
pub(super) struct Formula {
    /// Parts in the order written; may be empty.
    pub(super) parts: Vec<Part>,
    /// What could not be read.
    pub(super) broken: Broken,
    wanted: Vec<Option<Vec<Spanned<String>>>>,
}

/// Reads every part and line; the basis is settled by [`Formula::settle_basis`].
pub(super) fn read(front: &Table, place: Span, kitchen: &Kitchen<'_>, findings: &mut Findings) -> Formula {
    let Some(value) = front.get("formula") else {
        let finding = Diagnostic::error(codes::MISSING_KEY, place, "`[formula]` is missing");
        findings.push(finding.hint("write the lines below a heading `[formula]`, such as `water = \"200 g\"`"));
        return Formula { parts: Vec::new(), broken: Broken::default(), wanted: Vec::new() };
    };
    let formula = as_table(value, findings);
    let entries = formula.map_or(&[][..], |table| &table.entries);
    let (lines, tables): (Vec<&Entry>, Vec<&Entry>) = entries.iter().partition(|entry| is_line(&entry.value));
    if let (Some(line), Some(part)) = (lines.first(), tables.first()) {
        let message = format!("`{}` is a line, but `{}` is a part", line.key.value, part.key.value);
        let finding = Diagnostic::error(codes::MIXED_FORMULA, line.key.span, message);
        findings.push(finding.hint("put every line into a part, such as `[formula.dough]`, or none"));
    }
    let has_parts = !tables.is_empty();
    let loose = lines.iter().filter(|_| has_parts).map(|entry| entry.key.value.clone()).collect();
    let heads: Vec<(Spanned<String>, Vec<&Entry>)> = if has_parts {
        tables.iter().filter_map(|entry| part_head(entry, findings)).collect()
    } else {
        vec![(Spanned::new(LONE_PART.to_owned(), value.span), lines)]
    };
    let ids: Vec<&str> = heads.iter().map(|(id, _)| id.value.as_str()).collect();
    let mut details = details(front, &ids, kitchen.measures, findings);
    let broken = Broken { lines: loose, ..Broken::default() };
    let mut formula = Formula { parts: Vec::new(), broken, wanted: Vec::new() };
    for (id, entries) in &heads {
        if entries.is_empty() {
            let finding = Diagnostic::error(codes::NO_LINES, id.span, format!("the part `{}` has no lines", id.value));
            findings.push(finding.hint("add a line, such as `water = \"60 %\"`"));
        }
        let mut lines = Vec::new();
        for entry in entries {
            match line(entry, &ids, id, kitchen, findings) {
                Some(line) => lines.push(line),
                None => formula.broken.lines.push(entry.key.value.clone()),
            }
        }
        let own = details.iter_mut().find(|(of, _)| *of == id.value).map(|(_, details)| std::mem::take(details));
        let Details { title, basis, each } = own.unwrap_or_default();
        formula.wanted.push(basis);
        formula.parts.push(Part { id: id.value.clone(), title, basis: Basis::None, each, lines, span: id.span });
    }
    formula
}

/// A line is an amount, a table in braces, or a table that has an amount; any other table is a part.
fn is_line(value: &Spanned<Value>) -> bool {
    match &value.value {
        Value::Table(table) => table.inline || table.get("amount").is_some() || table.get("item").is_some(),
        Value::Text(_) | Value::Number(_) | Value::Flag(_) | Value::Date(_) | Value::List(_) => true,
    }
}

fn part_head<'t>(entry: &'t Entry, findings: &mut Findings) -> Option<(Spanned<String>, Vec<&'t Entry>)> {
    let table = as_table(&entry.value, findings)?;
    check_id(&entry.key, "a part", findings).then(|| (entry.key.clone(), table.entries.iter().collect()))
}

fn details(front: &Table, ids: &[&str], measures: Measures, findings: &mut Findings) -> Vec<(String, Details)> {
    let Some(parts) = field::table(front, "parts", findings) else { return Vec::new() };
    let mut all = Vec::new();
    for entry in &parts.entries {
        let Some(table) = as_table(&entry.value, findings) else { continue };
        check_keys(table, PART_KEYS, &format!("`[parts.{}]`", entry.key.value), findings);
        if !ids.contains(&entry.key.value.as_str()) {
            unknown_choice(codes::UNKNOWN_PART, "part", &entry.key, ids.iter().copied(), findings);
        }
        let title = field::text(table, "title", findings).map(|title| title.value);
        let basis = basis(table, findings);
        let each = weight(table, "each", measures, findings);
        all.push((entry.key.value.clone(), Details { title, basis, each }));
    }
    all
}

/// The names of what is 100 %, if the table gives any.
pub(super) fn basis(table: &Table, findings: &mut Findings) -> Option<Vec<Spanned<String>>> {
    let value = table.get("basis")?;
    if matches!(&value.value, Value::List(items) if items.is_empty()) {
        let finding = Diagnostic::error(codes::BLANK, value.span, "this list names nothing");
        findings.push(finding.hint("name the line that is 100 %, or take the key out"));
        return None;
    }
    field::texts(table, "basis", findings)
}

/// The weight of a key in grams.
pub(super) fn weight(table: &Table, key: &str, measures: Measures, findings: &mut Findings) -> Option<Spanned<Exact>> {
    let text = field::text(table, key, findings)?;
    let grams = quantity::single(&text, Dimension::Weight, measures, findings)?.value;
    Some(Spanned::new(grams, text.span))
}

fn line(
    entry: &Entry,
    parts: &[&str],
    own_part: &Spanned<String>,
    kitchen: &Kitchen<'_>,
    findings: &mut Findings,
) -> Option<Line> {
    let key = &entry.key;
    if RESERVED.contains(&key.value.as_str()) {
        let message = format!("`{}` can't name a line: braces keep it for a result or a share", key.value);
        let finding = Diagnostic::error(codes::BAD_NAME, key.span, message);
        findings.push(finding.hint("give the line another key and say `item = \"…\"`"));
        return None;
    }
    if !check_id(key, "a line", findings) {
        return None;
    }
    let lone = Table { entries: Vec::new(), span: entry.value.span, inline: true, whole: true };
    let table = match &entry.value.value {
        Value::Table(table) => table,
        Value::Text(_) | Value::Number(_) | Value::Flag(_) | Value::Date(_) | Value::List(_) => &lone,
    };
    check_keys(table, LINE_KEYS, &format!("the line `{}`", key.value), findings);
    let written = match (&entry.value.value, table.get("amount")) {
        (Value::Table(_), Some(written)) => written,
        (Value::Table(_), None) => {
            field::missing("amount", "\"40 %\"", entry.value.span, findings);
            return None;
        }
        (Value::Text(_) | Value::Number(_) | Value::Flag(_) | Value::Date(_) | Value::List(_), _) => &entry.value,
    };
    let item = field::text(table, "item", findings);
    let subject = subject(key, item, parts, own_part, kitchen, findings);
    let amount = amount(written, kitchen.measures, findings);
    let line = Line {
        key: key.value.clone(),
        subject: subject?,
        amount: amount?,
        name: field::text(table, "name", findings).map(|name| name.value),
        note: field::text(table, "note", findings).map(|note| note.value),
        fixed: field::flag(table, "fixed", findings),
        span: key.span,
    };
    let sound =
        check_fixed(&line, &line.amount, findings) && check_amount(&line.subject, &line.amount, kitchen, findings);
    sound.then_some(line)
}

fn subject(
    key: &Spanned<String>,
    item: Option<Spanned<String>>,
    parts: &[&str],
    own_part: &Spanned<String>,
    kitchen: &Kitchen<'_>,
    findings: &mut Findings,
) -> Option<Subject> {
    if let Some(item) = item {
        if kitchen.pantry.get(&item).is_none() {
            unknown_item(&item, kitchen.pantry, findings);
            return None;
        }
        return Some(Subject::Item(item.value));
    }
    if let Some(part) = parts.iter().position(|part| *part == key.value) {
        // The lone part has no name of its own that a line could take.
        if !(parts.len() == 1 && own_part.value == LONE_PART) {
            return Some(Subject::Part(part));
        }
    }
    if kitchen.pantry.get(key).is_none() {
        unknown_item(key, kitchen.pantry, findings);
        return None;
    }
    Some(Subject::Item(key.value.clone()))
}

/// An amount as written.
pub(super) fn amount(value: &Spanned<Value>, measures: Measures, findings: &mut Findings) -> Option<Spanned<Amount>> {
    let text = as_written(value, "an amount, such as `60 %` or `200 g`", findings)?;
    match text.to_lowercase().as_str() {
        "all" => return Some(Spanned::new(Amount::All, text.span)),
        "to taste" => return Some(Spanned::new(Amount::ToTaste, text.span)),
        _ => {}
    }
    let range = quantity::range(&text, measures, findings)?;
    if !range.low.value.is_positive() {
        findings.push(quantity::zero(text.span));
        return None;
    }
    match of_range(range) {
        Some(amount) => Some(Spanned::new(amount, text.span)),
        None => {
            use Dimension::{Count, Percent, Volume, Weight};
            findings.push(quantity::wrong_dimension(&text, &[Percent, Weight, Volume, Count]));
            None
        }
    }
}

fn of_range(range: Range) -> Option<Amount> {
    let low = (!range.is_single()).then_some(range.low.value);
    let (value, unit) = (range.high.value, range.high.unit);
    match range.high.dimension {
        Dimension::Percent => Some(Amount::Percent { value, low }),
        Dimension::Weight => Some(Amount::Weight { value, low }),
        Dimension::Volume => Some(Amount::Volume { value, low, unit: unit.unwrap_or(Unit::Millilitre) }),
        Dimension::Count => Some(Amount::Count { value, low }),
        Dimension::Length | Dimension::Duration | Dimension::Temperature => None,
    }
}

/// Whether a line stays as it is in this amount, where it is fixed.
pub(super) fn check_fixed(line: &Line, amount: &Spanned<Amount>, findings: &mut Findings) -> bool {
    let what = match &amount.value {
        Amount::Percent { .. } if line.fixed => "a percent",
        Amount::All if line.fixed => "all of a part",
        Amount::Percent { .. }
        | Amount::All
        | Amount::Weight { .. }
        | Amount::Volume { .. }
        | Amount::Count { .. }
        | Amount::ToTaste => return true,
    };
    let message = format!("`{}` is {what}, so it can't stay as it is at any yield", line.key);
    let finding = Diagnostic::error(codes::FIXED_PERCENT, amount.span, message);
    findings.push(finding.hint("write a weight, or take `fixed` out"));
    false
}

/// Whether what a line adds can be had in this amount.
pub(super) fn check_amount(
    subject: &Subject,
    amount: &Spanned<Amount>,
    kitchen: &Kitchen<'_>,
    findings: &mut Findings,
) -> bool {
    let key = match subject {
        Subject::Item(key) => key,
        Subject::Part(_) => return check_part_amount(amount, findings),
    };
    let Some(item) = kitchen.pantry.get(key) else { return false };
    match &amount.value {
        Amount::Volume { .. } if item.density.is_none() => {
            findings.push(lacks(item, "density", "0.72 g/mL", codes::NO_DENSITY, "a volume", amount.span));
            false
        }
        Amount::Count { .. } if item.each.is_none() => {
            findings.push(lacks(item, "each", "120 g", codes::NO_EACH, "a count", amount.span));
            false
        }
        Amount::All => {
            let finding = Diagnostic::error(
                codes::ALL_OF_ITEM,
                amount.span,
                format!("`{key}` is no part, so there is no `all` of it"),
            );
            findings.push(finding.hint("write an amount, such as `60 %` or `200 g`"));
            false
        }
        Amount::Volume { .. }
        | Amount::Count { .. }
        | Amount::Percent { .. }
        | Amount::Weight { .. }
        | Amount::ToTaste => true,
    }
}

fn check_part_amount(amount: &Spanned<Amount>, findings: &mut Findings) -> bool {
    match amount.value {
        Amount::Percent { .. } | Amount::Weight { .. } | Amount::All => true,
        Amount::Volume { .. } | Amount::Count { .. } | Amount::ToTaste => {
            let finding = Diagnostic::error(codes::WRONG_UNIT, amount.span, "a part is taken by weight");
            findings.push(finding.hint("write a percent, a weight or `all`"));
            false
        }
    }
}

fn lacks(item: &Item, fact: &str, example: &str, code: &'static str, amount: &str, span: Span) -> Diagnostic {
    let message = format!("`{}` has no `{fact}`, so {amount} of it can't be weighed", item.key);
    let hint = format!("add `{fact} = \"{example}\"` to `[{}]` in `pantry.toml`, or write a weight", item.key);
    Diagnostic::error(code, span, message).hint(hint)
}

impl Formula {
    /// Settles what is 100 % in each part; `top` is the basis named at the top level, for the part `main`. What follows
    /// from lines that could not be read goes to `sums`.
    pub(super) fn settle_basis(
        &mut self,
        main: usize,
        top: Option<Vec<Spanned<String>>>,
        kitchen: &Kitchen<'_>,
        findings: &mut Findings,
        sums: &mut Findings,
    ) {
        if let Some(first) = top.as_ref().and_then(|names| names.first()) {
            if self.wanted[main].is_some() {
                let message = format!("`[parts.{}]` names a basis too", self.parts[main].id);
                let finding = Diagnostic::error(codes::GIVEN_TWICE, first.span, message);
                findings.push(finding.hint("keep one of the two"));
            }
            self.wanted[main] = top;
        }
        let mut unknown = Findings::new();
        for (part, wanted) in self.parts.iter_mut().zip(&self.wanted) {
            part.basis = match wanted {
                Some(names) => named_basis(part, names, &self.broken, &mut unknown, sums),
                None => default_basis(part, kitchen),
            };
            check_basis(part, sums);
        }
        self.broken.basis = unknown.has_errors() || sums.has_errors();
        findings.extend(unknown);
    }
}

fn named_basis(
    part: &Part,
    names: &[Spanned<String>],
    broken: &Broken,
    findings: &mut Findings,
    sums: &mut Findings,
) -> Basis {
    let mut chosen = Vec::new();
    for name in names {
        let by_key = part.lines.iter().position(|line| line.key == name.value);
        let by_item = || {
            let of_item = |line: &Line| line.subject == Subject::Item(name.value.clone());
            (0..part.lines.len()).filter(|at| of_item(&part.lines[*at])).collect::<Vec<_>>()
        };
        let found = by_key.map_or_else(by_item, |at| vec![at]);
        if found.is_empty() {
            let keys = part.lines.iter().map(|line| line.key.as_str());
            let keys: Vec<&str> = keys.collect();
            let hint = did_you_mean(name, keys.iter().copied())
                .unwrap_or_else(|| format!("its lines are {}", field::list(keys.iter().copied())));
            let message = format!("no line `{}` in `{}`", name.value, part.id);
            // A line that could not be read has been told of.
            let told = if broken.has_line(&name.value) { &mut *sums } else { &mut *findings };
            told.push(Diagnostic::error(codes::UNKNOWN_BASIS, name.span, message).hint(hint));
        }
        chosen.extend(found);
    }
    chosen.sort_unstable();
    chosen.dedup();
    if chosen.is_empty() { Basis::None } else { Basis::Lines(chosen) }
}

/// Every line whose item is a flour. What is only dusted with, to taste or at a fixed weight, is no basis:
/// it is not weighed, or does not grow with the batch.
fn default_basis(part: &Part, kitchen: &Kitchen<'_>) -> Basis {
    let is_flour = |line: &Line| match &line.subject {
        Subject::Item(key) => kitchen.pantry.get(key).is_some_and(|item| item.role == Role::Flour),
        Subject::Part(_) => false,
    };
    let weighed = |line: &Line| !line.fixed && line.amount.value != Amount::ToTaste;
    let flours: Vec<usize> =
        (0..part.lines.len()).filter(|at| is_flour(&part.lines[*at]) && weighed(&part.lines[*at])).collect();
    if flours.is_empty() { Basis::None } else { Basis::Lines(flours) }
}

/// The lines of a basis are all percents that add up to 100, or all weighed.
fn check_basis(part: &Part, findings: &mut Findings) {
    let Basis::Lines(chosen) = &part.basis else { return };
    let lines: Vec<&Line> = chosen.iter().map(|at| &part.lines[*at]).collect();
    let mut sound = true;
    for line in &lines {
        let why = match (&line.subject, &line.amount.value) {
            (Subject::Part(_), _) => "is a part",
            (_, Amount::ToTaste) => "is to taste",
            (_, Amount::All) => "is no weight",
            (_, Amount::Percent { low: Some(_), .. }) => "is a range",
            (
                Subject::Item(_),
                Amount::Percent { .. } | Amount::Weight { .. } | Amount::Volume { .. } | Amount::Count { .. },
            ) => {
                if !line.fixed {
                    continue;
                }
                "is fixed"
            }
        };
        let message = format!("`{}` {why}, so it can't be what is 100 %", line.key);
        let finding = Diagnostic::error(codes::BAD_BASIS, line.amount.span, message);
        findings.push(finding.hint("name another line with `basis = \"…\"`"));
        sound = false;
    }
    let percents: Vec<&Exact> = lines.iter().filter_map(|line| percent(line)).collect();
    let Some(first) = lines.first() else { return };
    if percents.is_empty() || !sound {
        return;
    }
    if percents.len() < lines.len() {
        let message = format!("what is 100 % in `{}` is written in percents and in weights", part.id);
        let finding = Diagnostic::error(codes::BAD_BASIS, first.amount.span, message);
        findings.push(
            finding
                .hint("write all lines of the basis in percents, or all by weight, or name them with `basis = \"…\"`"),
        );
        return;
    }
    let sum: Exact = percents.into_iter().sum();
    if sum != Exact::from(100) {
        let keys = field::list(lines.iter().map(|line| line.key.as_str()));
        let message = format!("the basis of `{}` ({keys}) adds up to {} %, not 100 %", part.id, sum.decimal());
        let finding = Diagnostic::error(codes::BASIS_SUM, first.amount.span, message);
        findings.push(finding.hint("correct these percents, or name what is 100 % with `basis = \"…\"`"));
    }
}

/// The percent of a line that is one.
pub(super) fn percent(line: &Line) -> Option<&Exact> {
    match &line.amount.value {
        Amount::Percent { value, .. } => Some(value),
        Amount::Weight { .. } | Amount::Volume { .. } | Amount::Count { .. } | Amount::All | Amount::ToTaste => None,
    }
}
