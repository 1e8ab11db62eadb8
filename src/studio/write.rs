//! What the page writes: a source's text, a purchase. Only files that were found in the channel, by their names; only as
//! they were last seen. Must not know what a text means.

use super::reply::{Reply, finding};
use super::state::Studio;
use crate::desk::{Decor, Fault, Ledger, of_sources, rewrite, seen, today};
use crate::source::{Sources, csv_line, most_bytes};
use serde::Deserialize;
use serde_json::{Value, json};

/// A text as somebody is typing it.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Draft {
    path: String,
    text: String,
    /// What the file held when it was read here.
    #[serde(default)]
    seen: String,
}

/// A purchase as it is typed.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Price {
    item: String,
    pack: String,
    price: String,
    #[serde(default)]
    on: String,
    #[serde(default)]
    place: String,
    #[serde(default)]
    note: String,
    #[serde(default)]
    offer: bool,
    /// What the book held when it was read here.
    seen: String,
}

/// The path of a source that was found in the channel.
fn known(sources: &Sources, path: &str) -> Result<String, Fault> {
    // What is empty or holds what must not be in it is to be mended; what is no text can't be.
    let found = sources.held().find(|(found, _)| *found == path);
    found
        .map(|(found, _)| found.to_owned())
        .ok_or_else(|| Fault::Request(format!("`{path}` is no source of the channel")))
}

/// A source's text, and what it was seen to hold.
pub(super) fn text(studio: &Studio, path: &str) -> Result<Reply, Fault> {
    let sources = Sources::read(&studio.home.content);
    let path = known(&sources, path)?;
    let text = sources.held().find(|(found, _)| *found == path).map_or("", |(_, text)| text);
    Ok(Reply::json(&json!({ "path": path, "text": text, "seen": seen(Some(text.as_bytes())) })))
}

/// What is wrong with the channel if a source were as somebody is typing it.
pub(super) fn check(studio: &Studio, draft: &Draft) -> Result<Reply, Fault> {
    let bench = studio.bench();
    let path = known(&bench.sources, &draft.path)?;
    let own = |(found, text): (&str, &str)| {
        let text = if found == path { draft.text.as_str() } else { text };
        (found.to_owned(), text.as_bytes().to_vec())
    };
    let files: Vec<(String, Vec<u8>)> = bench.sources.held().map(own).collect();
    let sources = Sources::from_memory(&studio.home.content.display().to_string(), files);
    let found: Vec<Value> = match of_sources(sources, studio.home.language.as_deref()) {
        Ok(channel) => {
            let decor = || match bench.good() {
                Ok(good) => good.decor.again(&studio.home, &channel),
                Err(_) => Decor::load(&studio.home, &channel),
            };
            let made = channel.sheets().and_then(|_| decor());
            let list = |findings: &crate::diag::Findings, texts: &crate::span::Texts| {
                findings.sorted().iter().map(|found| finding(found, texts)).collect::<Vec<_>>()
            };
            match &made {
                Ok(_) => list(&channel.warnings, &channel.texts),
                Err(Fault::Findings(findings, texts)) => list(findings, texts),
                Err(_) => Vec::new(),
            }
        }
        Err(Fault::Findings(findings, texts)) => findings.sorted().iter().map(|found| finding(found, &texts)).collect(),
        Err(fault) => return Err(fault),
    };
    Ok(Reply::json(&json!({ "findings": found })))
}

/// Writes a source's text.
pub(super) fn save(studio: &Studio, draft: &Draft) -> Result<Reply, Fault> {
    let _alone = studio.write();
    let path = known(&Sources::read(&studio.home.content), &draft.path)?;
    if draft.text.len() as u64 > most_bytes(&path) {
        return Err(Fault::Request("the text is too long for a source".into()));
    }
    if draft.text.trim().is_empty() {
        return Err(Fault::Request(format!("`{path}` would be empty: write something in it")));
    }
    let seen = rewrite(&studio.home, &path, &draft.seen, draft.text.as_bytes())?;
    Ok(Reply::json(&json!({ "path": path, "seen": seen })))
}

/// Adds a purchase to the book, as `prices add` does.
pub(super) fn price(studio: &Studio, price: &Price) -> Result<Reply, Fault> {
    let _alone = studio.write();
    let ledger = Ledger::open(&studio.home)?;
    let note = Ledger::note(price.offer, &price.note);
    let day = if price.on.trim().is_empty() { today().to_string() } else { price.on.clone() };
    let fields = [&day, &price.item, &price.pack, &price.price, &price.place, &note].map(|text| text.trim().to_owned());
    let lines = ledger.typed(&fields)?;
    let after = ledger.with(&lines)?;
    let path = Ledger::path(&studio.home);
    let name = path.file_name().map_or(String::new(), |name| name.to_string_lossy().into_owned());
    let seen = rewrite(&studio.home, &name, &price.seen, after.as_bytes())?;
    let added: Vec<String> = lines.iter().map(|line| csv_line(line.iter().map(String::as_str), ',')).collect();
    Ok(Reply::json(&json!({ "seen": seen, "added": added })))
}
