//! Takes typed fields out of TOML tables and says what is wrong with them.
//! Must not know which table it reads.

use crate::diag::{Diagnostic, Findings, Severity, did_you_mean, steers};
use crate::model::codes;
use crate::source::codes::CONTROL_CHARACTER;
use crate::source::{Table, Value};
use crate::span::{Span, Spanned};

/// Where to put findings on `table`: aside, where not all of it could be read, for they would only
/// repeat what is wrong with its text.
pub(super) fn unless_torn<T>(table: &Table, findings: &mut Findings, read: impl FnOnce(&mut Findings) -> T) -> T {
    if table.whole {
        return read(findings);
    }
    read(&mut Findings::new())
}

/// Finds keys that `table` does not have; `what` names it, such as "`[fry]`".
pub(super) fn check_keys(table: &Table, known: &[&str], what: &str, findings: &mut Findings) {
    for entry in &table.entries {
        let key = &entry.key;
        if known.contains(&key.value.as_str()) {
            continue;
        }
        let hint = did_you_mean(key, known.iter().copied())
            .unwrap_or_else(|| format!("{what} may have {}", list(known.iter().copied())));
        let message = format!("unknown key `{}` in {what}", key.value);
        findings.push(Diagnostic::error(codes::UNKNOWN_KEY, key.span, message).hint(hint));
    }
}

/// Names in backticks, separated by commas.
pub(super) fn list<'n>(names: impl IntoIterator<Item = &'n str>) -> String {
    names.into_iter().map(|name| format!("`{name}`")).collect::<Vec<_>>().join(", ")
}

/// Says that `value` is not `wanted`.
pub(super) fn wrong_kind(value: &Spanned<Value>, wanted: &str, findings: &mut Findings) {
    let message = format!("{} stands here instead of {wanted}", value.value.kind());
    findings.push(Diagnostic::error(codes::WRONG_KIND, value.span, message).hint(format!("write {wanted}")));
}

/// A text that is not blank, blanks around it taken off.
pub(super) fn as_text(value: &Spanned<Value>, findings: &mut Findings) -> Option<Spanned<String>> {
    match &value.value {
        Value::Text(text) => {
            let text = text.trim();
            if text.is_empty() {
                findings.push(
                    Diagnostic::error(codes::BLANK, value.span, "this text is blank")
                        .hint("fill it in or take the key out"),
                );
                return None;
            }
            if let Some(control) = text.chars().find(|c| c.is_control() || steers(*c)) {
                let message = format!("the text holds the control character U+{:04X}", control as u32);
                let finding = Diagnostic::error(CONTROL_CHARACTER, value.span, message);
                findings.push(finding.hint("write it on one line without it"));
                return None;
            }
            Some(Spanned::new(text.to_owned(), value.span))
        }
        Value::Number(_) | Value::Flag(_) | Value::Date(_) | Value::List(_) | Value::Table(_) => {
            wrong_kind(value, "a text in quotes", findings);
            None
        }
    }
}

/// The text of a key, if it is there.
pub(super) fn text(table: &Table, key: &str, findings: &mut Findings) -> Option<Spanned<String>> {
    table.get(key).and_then(|value| as_text(value, findings))
}

/// The text of a key that must be there.
pub(super) fn required(
    table: &Table,
    key: &str,
    example: &str,
    place: Span,
    findings: &mut Findings,
) -> Option<Spanned<String>> {
    if table.get(key).is_none() {
        missing(key, example, place, findings);
    }
    text(table, key, findings)
}

/// Says that a key is missing.
pub(super) fn missing(key: &str, example: &str, place: Span, findings: &mut Findings) {
    let finding = Diagnostic::error(codes::MISSING_KEY, place, format!("`{key}` is missing"));
    findings.push(finding.hint(format!("add `{key} = {example}`")));
}

/// The table of a key, if it is there.
pub(super) fn table<'t>(table: &'t Table, key: &str, findings: &mut Findings) -> Option<&'t Table> {
    table.get(key).and_then(|value| as_table(value, findings))
}

/// A value as a table.
pub(super) fn as_table<'t>(value: &'t Spanned<Value>, findings: &mut Findings) -> Option<&'t Table> {
    match &value.value {
        Value::Table(table) => Some(table),
        Value::Text(_) | Value::Number(_) | Value::Flag(_) | Value::Date(_) | Value::List(_) => {
            wrong_kind(value, "a table", findings);
            None
        }
    }
}

/// `true` or `false`; `false` where the key is not there.
pub(super) fn flag(table: &Table, key: &str, findings: &mut Findings) -> bool {
    let Some(value) = table.get(key) else { return false };
    match &value.value {
        Value::Flag(flag) => *flag,
        Value::Text(_) | Value::Number(_) | Value::Date(_) | Value::List(_) | Value::Table(_) => {
            wrong_kind(value, "`true` or `false`", findings);
            false
        }
    }
}

/// The texts of a key: a list of them or a single one; `None` where the key is not there.
pub(super) fn texts(table: &Table, key: &str, findings: &mut Findings) -> Option<Vec<Spanned<String>>> {
    let value = table.get(key)?;
    Some(match &value.value {
        Value::List(items) => items.iter().filter_map(|item| as_text(item, findings)).collect(),
        Value::Text(_) => as_text(value, findings).into_iter().collect(),
        Value::Number(_) | Value::Flag(_) | Value::Date(_) | Value::Table(_) => {
            wrong_kind(value, "a list of texts", findings);
            Vec::new()
        }
    })
}

/// A text or a number as the text that was written.
pub(super) fn as_written(value: &Spanned<Value>, wanted: &str, findings: &mut Findings) -> Option<Spanned<String>> {
    match &value.value {
        Value::Number(number) => Some(Spanned::new(number.clone(), value.span)),
        Value::Text(_) => as_text(value, findings),
        Value::Flag(_) | Value::Date(_) | Value::List(_) | Value::Table(_) => {
            wrong_kind(value, wanted, findings);
            None
        }
    }
}

/// Says that a word is none of the choices.
pub(super) fn unknown_choice<'c>(
    code: &'static str,
    what: &str,
    word: &Spanned<String>,
    choices: impl IntoIterator<Item = &'c str>,
    findings: &mut Findings,
) {
    let finding = Diagnostic::error(code, word.span, format!("unknown {what} `{}`", word.value));
    if findings.is_full(Severity::Error) {
        findings.push(finding);
        return;
    }
    let choices: Vec<&str> = choices.into_iter().collect();
    let hint = did_you_mean(word, choices.iter().copied()).unwrap_or_else(|| match choices.as_slice() {
        [] => "there is none to name here: take it out".to_owned(),
        [..] => format!("choose one of {}", list(choices.iter().copied())),
    });
    findings.push(finding.hint(hint));
}

/// Whether a name can be an id: letters and digits in lower case, with single hyphens between them.
pub(super) fn is_id(name: &str) -> bool {
    name.len() <= 80
        && name
            .split('-')
            .all(|word| !word.is_empty() && word.chars().all(|c| c.is_alphanumeric() && !c.is_uppercase()))
}

/// Checks that a key can be an id.
pub(super) fn check_id(key: &Spanned<String>, what: &str, findings: &mut Findings) -> bool {
    let fine = is_id(key);
    if !fine {
        let message = format!("`{}` can't name {what}", key.value);
        let hint = "use lower-case letters and digits with hyphens between words, such as `red-onion`";
        findings.push(Diagnostic::error(codes::BAD_NAME, key.span, message).hint(hint));
    }
    fine
}

/// Says that a key is no pantry item, what may be meant, and how to add it.
pub(super) fn unknown_item(key: &Spanned<String>, pantry: &crate::model::Pantry, findings: &mut Findings) {
    let finding = Diagnostic::error(codes::UNKNOWN_ITEM, key.span, format!("unknown item `{}`", key.value));
    // The whole pantry would be searched for a name like it, to tell nobody.
    if findings.is_full(Severity::Error) {
        findings.push(finding);
        return;
    }
    let add = format!("add it to `pantry.toml`: a table `[{}]` with at least `name` and `water`", key.value);
    let hint = match did_you_mean(key, pantry.items.keys().map(String::as_str)) {
        Some(meant) => format!("{meant} otherwise {add}"),
        None => add,
    };
    findings.push(finding.hint(hint));
}
