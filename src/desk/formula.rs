//! Jotted lines as the formula of a recipe: one basis, and percents of it that give the same grams back. Must not know who
//! jotted them, or what stands beside the recipe.

use super::Fault;
use super::channel::Channel;
use super::lines::{Known, Typed, number_text, percent_text};
use crate::exact::{Dimension, Exact};
use crate::measure::grams_of_volume;
use crate::model::{Pantry, Role};
use crate::slate::Asked;

/// A line with its key, and the grams that it must come to.
struct Entry<'l> {
    line: &'l Typed,
    key: String,
    item: String,
    /// Of a single weight; else the amount stays as it is written.
    grams: Option<Exact>,
}

/// The lines as a formula of one basis.
pub(super) struct Formula<'l> {
    entries: Vec<Entry<'l>>,
    /// The keys that are 100 %, and what they weigh together; `None` where nothing is weighed.
    basis: Option<(Vec<String>, Exact)>,
    /// Whether the basis must be named: flours are it by themselves.
    named: bool,
}

impl<'l> Formula<'l> {
    pub(super) fn new(lines: &'l [Typed], pantry: &Pantry, basis: Option<&str>) -> Result<Self, Fault> {
        let mut entries: Vec<Entry<'l>> = Vec::new();
        for line in lines {
            let item = match &line.what {
                Known::Item(key) => key.clone(),
                Known::New(name) => slug(name),
            };
            if item.is_empty() {
                let why = format!("line {}: the name has no letter that a key could be made of: add one", line.at);
                return Err(Fault::Request(why));
            }
            let same = entries.iter().filter(|entry| entry.item == item).count();
            let key = if same == 0 { item.clone() } else { format!("{item}-{}", same + 1) };
            let weight = line.amount.as_ref().filter(|range| range.is_single());
            let grams = weight.and_then(|range| match range.dimension() {
                Dimension::Weight => Some(range.low.value.clone()),
                Dimension::Volume
                | Dimension::Count
                | Dimension::Percent
                | Dimension::Duration
                | Dimension::Temperature
                | Dimension::Length => None,
            });
            entries.push(Entry { line, key, item, grams });
        }
        let mut formula = Self { entries, basis: None, named: false };
        formula.choose(pantry, basis)?;
        Ok(formula)
    }

    fn choose(&mut self, pantry: &Pantry, basis: Option<&str>) -> Result<(), Fault> {
        let flour = |entry: &Entry<'_>| pantry.get(&entry.item).is_some_and(|item| item.role == Role::Flour);
        let basis = basis.map(str::trim).filter(|basis| !basis.is_empty());
        let chosen: Vec<usize> = match basis {
            Some(name) => {
                let wanted = slug(name);
                let named = |entry: &Entry<'_>| {
                    entry.key == wanted
                        || entry.line.said.eq_ignore_ascii_case(name)
                        || pantry.get(&entry.item).is_some_and(|item| item.name.eq_ignore_ascii_case(name))
                };
                self.named = true;
                self.entries.iter().position(named).into_iter().collect()
            }
            None => (0..self.entries.len()).filter(|at| flour(&self.entries[*at])).collect(),
        };
        let chosen = match (chosen.is_empty(), basis) {
            (true, Some(name)) => {
                let why = format!("`{name}` is none of the lines: name the one that is 100 %");
                return Err(Fault::Request(why));
            }
            (true, None) => {
                self.named = true;
                let heaviest = (0..self.entries.len()).max_by_key(|at| {
                    (self.entries[*at].grams.clone().unwrap_or_else(Exact::zero), std::cmp::Reverse(*at))
                });
                heaviest.filter(|at| self.entries[*at].grams.is_some()).into_iter().collect()
            }
            (false, _) => chosen,
        };
        for at in &chosen {
            let entry = &mut self.entries[*at];
            let by_volume = || {
                let amount = entry.line.amount.as_ref().filter(|amount| amount.is_single())?;
                let item = pantry.get(&entry.item)?;
                (amount.dimension() == Dimension::Volume).then(|| grams_of_volume(item, &amount.low.value)).flatten()
            };
            let grams = entry.grams.clone().or_else(by_volume).ok_or_else(|| {
                let why = "is what all others are a percent of, so it needs a weight, such as `500 g`";
                Fault::Request(format!("line {}: `{}` {why}", entry.line.at, entry.key))
            })?;
            entry.grams = Some(grams);
        }
        let percent = self.entries.iter().find(|entry| is_percent(entry.line));
        if let (true, Some(entry)) = (chosen.is_empty(), percent) {
            let why = "is a percent of nothing: give at least one line a weight";
            return Err(Fault::Request(format!("line {}: `{}` {why}", entry.line.at, entry.key)));
        }
        if !chosen.is_empty() {
            let keys = chosen.iter().map(|at| self.entries[*at].key.clone()).collect();
            let total: Exact = chosen.iter().filter_map(|at| self.entries[*at].grams.clone()).sum();
            self.basis = Some((keys, total));
        }
        Ok(())
    }

    /// Ingredients that the pantry does not have, each once: key and name.
    pub(super) fn fresh(&self) -> Vec<(String, String)> {
        let mut fresh: Vec<(String, String)> = Vec::new();
        for entry in &self.entries {
            if let Known::New(name) = &entry.line.what
                && fresh.iter().all(|(key, _)| *key != entry.item)
            {
                fresh.push((entry.item.clone(), name.clone()));
            }
        }
        fresh
    }

    fn amount(&self, entry: &Entry<'_>) -> String {
        let Some(_) = &entry.line.amount else { return "to taste".into() };
        let percent = entry.grams.as_ref().zip(self.basis.as_ref());
        percent.and_then(|(grams, (_, basis))| percent_text(grams, basis)).unwrap_or_else(|| entry.line.written.clone())
    }

    /// The whole `recipe.md`.
    pub(super) fn recipe(&self, title: &str, makes: &str, language: &str) -> String {
        let mut text = format!("+++\ntitle = {}\n", quoted(title));
        if !makes.is_empty() {
            text.push_str(&format!("makes = {}\n", quoted(makes)));
        }
        if let Some((keys, grams)) = &self.basis {
            if let (true, Some(key)) = (self.named, keys.first()) {
                text.push_str(&format!("basis = {}\n", quoted(key)));
            }
            text.push_str(&format!("batch = {}\n", quoted(&format!("{} g", number_text(grams).unwrap_or_default()))));
        }
        text.push_str("\n[formula]\n");
        let widest = self.entries.iter().map(|entry| entry.key.len()).max().unwrap_or(0);
        for entry in &self.entries {
            let amount = quoted(&self.amount(entry));
            let mut more = String::new();
            if entry.key != entry.item {
                more.push_str(&format!(", item = {}", quoted(&entry.item)));
            }
            if !entry.line.note.is_empty() {
                more.push_str(&format!(", note = {}", quoted(&entry.line.note)));
            }
            let value = if more.is_empty() { amount } else { format!("{{ amount = {amount}{more} }}") };
            text.push_str(&format!("{:widest$} = {value}\n", entry.key));
        }
        let (weigh, told, then) = words(language);
        let all: Vec<String> = self.entries.iter().map(|entry| format!("{{{}}}", entry.key)).collect();
        text.push_str(&format!("+++\n\n## {weigh}\n> {told}\n{weigh}: {}.\n\n## {then}\n", all.join(", ")));
        text
    }

    /// Whether the sheet has the very grams that were typed.
    pub(super) fn holds(&self, channel: &Channel, recipe: &str) -> Result<(), Fault> {
        let document = channel.document(recipe, &Asked::default()).map_err(plain)?;
        let lines = document["lines"].as_array().cloned().unwrap_or_default();
        for entry in &self.entries {
            let Some(grams) = &entry.grams else { continue };
            let id = format!("main.{}", entry.key);
            let found = lines.iter().find(|line| line["id"] == id.as_str()).and_then(|line| line["grams"].as_str());
            // What the document rounds at its twelfth place is alike to there.
            if found != Some(grams.decimal().as_str()) {
                let why = format!("`{}` can't be written as a percent that gives its weight back: round it", entry.key);
                return Err(Fault::Request(why));
            }
        }
        Ok(())
    }
}

fn is_percent(line: &Typed) -> bool {
    line.amount.as_ref().is_some_and(|range| range.dimension() == Dimension::Percent)
}

/// The first step's heading, what its card says, and the next step's heading.
fn words(language: &str) -> (&'static str, &'static str, &'static str) {
    match language {
        "fr" => ("Peser", "Tout sur la balance", "Préparer"),
        "de" => ("Abwiegen", "Alles auf die Waage", "Zubereiten"),
        _ => ("Weigh in", "Everything on the scale", "Make it"),
    }
}

/// A TOML string: what JSON escapes, TOML reads.
pub(super) fn quoted(text: &str) -> String {
    serde_json::Value::from(text).to_string().replace('\u{7f}', "\\u007f")
}

/// Words of a name as a folder's name or a key: `red-onion`.
pub(super) fn slug(text: &str) -> String {
    let plain = |c: char| match c {
        'à' | 'á' | 'â' | 'ã' | 'å' | 'ā' => "a",
        'ä' | 'æ' => "ae",
        'ç' | 'č' | 'ć' => "c",
        'è' | 'é' | 'ê' | 'ë' | 'ē' => "e",
        'ì' | 'í' | 'î' | 'ï' | 'ī' => "i",
        'ñ' | 'ń' => "n",
        'ò' | 'ó' | 'ô' | 'õ' | 'ø' | 'ō' => "o",
        'ö' | 'œ' => "oe",
        'ù' | 'ú' | 'û' | 'ū' => "u",
        'ü' => "ue",
        'ß' => "ss",
        'š' => "s",
        'ž' => "z",
        '’' | '\'' => "",
        _ => " ",
    };
    let mut ascii = String::new();
    for c in text.to_lowercase().chars() {
        if c.is_ascii_alphanumeric() { ascii.push(c) } else { ascii.push_str(plain(c)) }
    }
    ascii.split_whitespace().collect::<Vec<_>>().join("-")
}

/// Findings of files that nobody has yet are told without their places.
pub(super) fn plain(fault: Fault) -> Fault {
    match fault {
        Fault::Findings(findings, _) => Fault::Request(findings.errors_in_words().join("\n")),
        Fault::Request(_) | Fault::Meanwhile(_) | Fault::Io(_) => fault,
    }
}
