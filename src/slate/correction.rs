//! The correction of a published video, ready to paste: a block for its description and a line for a pinned comment.
//! Composes figures and wording; must not know what else a description says.

use super::drift::Change;
use super::statement::{Rank, Topic};
use crate::locale::{Key, Locale};
use crate::sheet::{Label, Phrase, Piece, Sheet};
use serde::Serialize;

/// How many changes a pinned comment tells before it points to the description.
const PINNED: usize = 4;

/// Texts to paste.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Correction {
    /// For the description: several lines, each ended.
    pub description: String,
    /// For a pinned comment: one line, ended.
    pub pinned: String,
}

/// What changed of one topic.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Section {
    /// What it is about.
    pub heading: Phrase,
    /// Which days the prices are of, where they differ.
    pub days: Option<Phrase>,
    /// A line a change.
    pub lines: Vec<Phrase>,
}

/// What viewers must hear of, topic by topic.
pub fn sections(take: &Sheet, now: &Sheet, changes: &[Change], locale: &Locale) -> Vec<Section> {
    let say = |key: Key, slots: &[(&str, Phrase)]| Phrase::worded(locale, key, slots);
    let mut all = Vec::new();
    for topic in Topic::ALL {
        let of_topic = changes.iter().filter(|change| change.topic == topic && change.rank() < Rank::Follows);
        let lines: Vec<Phrase> = of_topic.map(|change| line(change, locale)).collect();
        if lines.is_empty() {
            continue;
        }
        let days = match (&take.day, &now.day) {
            (Some(from), Some(to)) if topic == Topic::Price && from != to => {
                let (from, to) = (Phrase::new().figure(from), Phrase::new().figure(to));
                Some(say(Key::CorrectionDays, &[("from", from), ("to", to)]))
            }
            _ => None,
        };
        all.push(Section { heading: say(heading(topic), &[]), days, lines });
    }
    all
}

/// The correction of a take; `None` where nothing that viewers must hear of has changed.
pub fn correction(take: &Sheet, now: &Sheet, changes: &[Change], locale: &Locale) -> Option<Correction> {
    let all: Vec<&Change> = changes.iter().filter(|change| change.rank() < Rank::Follows).collect();
    if all.is_empty() {
        return None;
    }
    let say = |key: Key, slots: &[(&str, Phrase)]| Phrase::worded(locale, key, slots);
    let mut block = vec![say(Key::Correction, &[]), say(Key::CorrectionSince, &[])];
    for section in sections(take, now, changes, locale) {
        block.push(Phrase::new());
        block.push(section.heading);
        block.extend(section.days);
        block.extend(section.lines.into_iter().map(bullet));
    }
    // Whom it may harm before what goes in, what is done and what it costs; the sum before its parts.
    let mut first = all.clone();
    first.sort_by_key(|change| (change.rank(), !change.id.starts_with("allergens"), change.topic, !is_sum(&change.id)));
    let told: Vec<Phrase> = first.iter().take(PINNED).map(|change| line(change, locale)).collect();
    let more = if all.len() > PINNED { say(Key::CorrectionMore, &[]) } else { Phrase::new() };
    let text = Phrase::joined(&[Phrase::joined(&told, "; "), more], ". ");
    let pinned = Phrase::joined(&[say(Key::Correction, &[]), text], " – ");
    let description = block.iter().map(|line| plain(line) + "\n").collect();
    Some(Correction { description, pinned: plain(&pinned) + "\n" })
}

/// The sums of the cost, which say the most in the fewest words.
fn is_sum(id: &str) -> bool {
    matches!(id, "cost.total" | "cost.each")
}

fn heading(topic: Topic) -> Key {
    match topic {
        Topic::Formula => Key::NotesRatio,
        Topic::Method => Key::NotesMethod,
        Topic::Price => Key::Cost,
    }
}

/// "onion: 130 g (in the video: 120 g)".
fn line(change: &Change, locale: &Locale) -> Phrase {
    let say = |key: Key, slots: &[(&str, Phrase)]| Phrase::worded(locale, key, slots);
    match (&change.from, &change.to) {
        (Some(from), Some(to)) => {
            // What stands in another's place is told by both names.
            let renamed = from.name.text() != to.name.text();
            let before =
                if renamed { Phrase::joined(&[from.name.clone(), from.said.clone()], " ") } else { from.said.clone() };
            say(Key::CorrectionChanged, &[("name", to.name.clone()), ("to", to.said.clone()), ("from", before)])
        }
        (None, Some(to)) => say(Key::CorrectionNew, &[("name", to.name.clone()), ("to", to.said.clone())]),
        (Some(from), None) => say(Key::CorrectionGone, &[("name", from.name.clone()), ("from", from.said.clone())]),
        (None, None) => Phrase::new(),
    }
}

fn bullet(line: Phrase) -> Phrase {
    let mut all = Phrase::new();
    if let Some(mark) = Label::new("• ") {
        all.push(Piece::Label(mark));
    }
    line.pieces().iter().cloned().for_each(|piece| all.push(piece));
    all
}

/// A description takes no angle brackets and has lines of its own.
fn plain(phrase: &Phrase) -> String {
    phrase.text().replace('<', "‹").replace('>', "›").replace(['\n', '\r'], " ")
}
