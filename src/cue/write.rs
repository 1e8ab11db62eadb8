//! Writes `cues.toml`: new, or over what is there so that comments, order of keys and pinned cues stay as a person wrote
//! them. Must not know where cues come from.

use super::cues::{Cue, CueSheet};
use super::lane::Lane;
use super::rate::Rate;
use std::collections::BTreeMap;
use toml_edit::{DocumentMut, InlineTable, Item, Table, TableLike, Value};

/// What a new file says on top.
const HEAD: &str = "\
# Cues: when each card comes, and how long it stays. Times count from the start of the video: hours, minutes, seconds
# and frames. `tallyspoon cues` writes them from captions, and again from new ones.
#
# To keep a cue where you want it, change its times and add `pin = true`:
#     step-2 = { at = \"00:00:41:00\", for = \"00:00:05:00\", pin = true }
# A pinned cue never moves; all others follow the captions. Any card of the recipe may be added by hand, pinned, such as
# `ratio` under `[cost]`. Comments stay where they are.
#
# `off` names lanes that are kept but not shown; `length` is the video's, where it goes on after its captions and the
# recipe's `[video]` does not say so:
#     length = \"00:02:30:00\"

";

/// The file with these cues. `before` is what stands there, which must be TOML; it is changed no more than it has to.
///
/// The same cues over the same text give the same bytes.
///
/// # Panics
/// Where `before` is no TOML: read it first.
pub fn write(sheet: &CueSheet, before: Option<&str>) -> String {
    let new = || format!("{HEAD}rate = \"{}\"\n", sheet.rate.name());
    let text = before.map_or_else(new, str::to_owned);
    // A byte-order mark is the file's own, and no TOML.
    let (mark, text) = text.split_at(text.len() - text.trim_start_matches('\u{feff}').len());
    let mut document: DocumentMut = text.parse().expect("the caller has read it");
    let rate_changed = set_rate(&mut document, sheet.rate);
    if let Some(length) = sheet.length {
        set_text(document.as_table_mut(), "length", &sheet.rate.label(length));
    }
    if before.is_none() && !sheet.off.is_empty() {
        document["off"] = toml_edit::value(sheet.off.iter().map(|lane| lane.id()).collect::<toml_edit::Array>());
    }
    for lane in Lane::ALL {
        put_lane(&mut document, lane, sheet, rate_changed);
    }
    format!("{mark}{document}")
}

/// Sets the rate where it is another; a rate that is written otherwise but means the same stays.
fn set_rate(document: &mut DocumentMut, rate: Rate) -> bool {
    let old = document.get("rate").and_then(Item::as_value).and_then(|value| match value {
        Value::String(text) => Some(text.value().clone()),
        Value::Integer(number) => Some(number.value().to_string()),
        Value::Float(number) => Some(number.display_repr().into_owned()),
        Value::Boolean(_) | Value::Datetime(_) | Value::Array(_) | Value::InlineTable(_) => None,
    });
    let same = old.as_deref().and_then(Rate::parse) == Some(rate);
    if !same {
        set_text(document.as_table_mut(), "rate", rate.name());
    }
    !same && old.is_some()
}

/// Sets a text, with the comments around the old one.
fn set_text(table: &mut dyn TableLike, key: &str, text: &str) {
    match table.get_mut(key).and_then(Item::as_value_mut) {
        Some(value) if value.as_str() == Some(text) => {}
        Some(value) => {
            let decor = value.decor().clone();
            *value = Value::from(text);
            *value.decor_mut() = decor;
        }
        None => drop(table.insert(key, toml_edit::value(text))),
    }
}

fn put_lane(document: &mut DocumentMut, lane: Lane, sheet: &CueSheet, rate_changed: bool) {
    let cues: BTreeMap<&str, &Cue> = sheet.lane(lane).map(|cue| (cue.card.name.as_str(), cue)).collect();
    if !document.contains_key(lane.id()) {
        if cues.is_empty() {
            return;
        }
        let mut table = Table::new();
        table.decor_mut().set_prefix("\n");
        document.insert(lane.id(), Item::Table(table));
    }
    let Some(table) = document.get_mut(lane.id()).and_then(Item::as_table_like_mut) else { return };
    let gone: Vec<String> =
        table.iter().map(|(key, _)| key.to_owned()).filter(|key| !cues.contains_key(key.as_str())).collect();
    for key in &gone {
        table.remove(key);
    }
    let mut ordered: Vec<&&Cue> = cues.values().collect();
    ordered.sort_by_key(|cue| cue.start);
    for cue in &ordered {
        put_cue(table, cue, sheet.rate, rate_changed);
    }
    let place = |key: &toml_edit::Key| cues.get(key.get()).map(|cue| cue.start);
    match document.get_mut(lane.id()) {
        Some(Item::Table(table)) => table.sort_values_by(|a, _, b, _| place(a).cmp(&place(b))),
        Some(Item::Value(Value::InlineTable(table))) => table.sort_values_by(|a, _, b, _| place(a).cmp(&place(b))),
        Some(Item::None | Item::Value(_) | Item::ArrayOfTables(_)) | None => {}
    }
}

fn put_cue(table: &mut dyn TableLike, cue: &Cue, rate: Rate, rate_changed: bool) {
    let (at, length) = (rate.label(cue.start), rate.label(cue.length));
    match table.get_mut(&cue.card.name).and_then(Item::as_table_like_mut) {
        // What a person pinned is theirs to the last space.
        Some(_) if cue.pinned && !rate_changed => {}
        Some(there) => {
            set_text(there, "at", &at);
            set_text(there, "for", &length);
        }
        None => {
            let mut inline = InlineTable::new();
            inline.insert("at", at.into());
            inline.insert("for", length.into());
            if cue.pinned {
                inline.insert("pin", true.into());
            }
            table.insert(&cue.card.name, toml_edit::value(inline));
        }
    }
}
