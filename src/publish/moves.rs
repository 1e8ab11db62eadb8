//! What moved between two runs: shown figures, from and to.
//! Must not know how a figure came about.

use super::record::RecipeRecord;
use crate::diag::counted;
use std::fmt;

/// How many moves a line tells before it counts the rest.
const TOLD: usize = 16;

/// A figure that moved; one side is `None` where it is shown for the first time or no more.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Move {
    /// The figure's name, such as `cost.total`.
    pub name: String,
    /// What was shown.
    pub from: Option<String>,
    /// What is shown now.
    pub to: Option<String>,
}

impl fmt::Display for Move {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        match (&self.from, &self.to) {
            (Some(from), Some(to)) => write!(f, "{} {from} → {to}", self.name),
            (None, Some(to)) => write!(f, "{} {to} is new", self.name),
            (Some(from), None) => write!(f, "{} {from} is gone", self.name),
            (None, None) => Ok(()),
        }
    }
}

/// Figures that differ, in the order of the new ones, those that are gone last. A recipe that is new or
/// gone as a whole has no moves; nor has one of which no figure was published yet.
pub(super) fn between(before: Option<&RecipeRecord>, after: Option<&RecipeRecord>) -> Vec<Move> {
    let (Some(before), Some(after)) = (before, after) else { return Vec::new() };
    if before.figures == after.figures || before.figures.is_empty() {
        return Vec::new();
    }
    let find = |list: &[(String, String)], name: &str| list.iter().find(|(n, _)| n == name).map(|(_, t)| t.clone());
    let told = after.figures.iter().map(|(name, to)| (name, find(&before.figures, name), Some(to.clone())));
    let gone = before.figures.iter().filter(|(name, _)| find(&after.figures, name).is_none());
    told.chain(gone.map(|(name, from)| (name, Some(from.clone()), None)))
        .filter(|(_, from, to)| from != to)
        .map(|(name, from, to)| Move { name: name.clone(), from, to })
        .collect()
}

/// What written files show: cards by their names without frame and number, then `notes` and `page`.
pub(super) fn outputs(paths: &[String]) -> Vec<String> {
    let (mut cards, mut words) = (Vec::new(), Vec::new());
    for path in paths {
        let parts: Vec<&str> = path.split('/').collect();
        let (list, name) = match parts.as_slice() {
            [_, _, file] => {
                let name = file.rsplit_once('.').map_or(*file, |(name, _)| name);
                match name.split_once('-') {
                    Some((number, name)) if number.bytes().all(|b| b.is_ascii_digit()) => (&mut cards, name),
                    // A contact sheet shows what its cards do.
                    Some(_) | None => continue,
                }
            }
            [_, file] if file.starts_with("notes.") => (&mut words, "notes"),
            [_, _] => (&mut words, "page"),
            _ => continue,
        };
        if !list.iter().any(|known| known == name) {
            list.push(name.to_owned());
        }
    }
    words.sort();
    cards.into_iter().chain(words).collect()
}

impl super::Change {
    /// Whether nothing became of the recipe.
    pub fn is_none(&self) -> bool {
        !self.new && !self.gone && self.written + self.removed == 0 && self.moves.is_empty()
    }

    /// The change in one line.
    pub fn line(&self) -> String {
        let mut told: Vec<String> = self.moves.iter().take(TOLD).map(Move::to_string).collect();
        if self.moves.len() > TOLD {
            told.push(format!("and {} more", self.moves.len() - TOLD));
        }
        if self.new {
            told.push("published for the first time".into());
        }
        if self.gone {
            told.push("no longer in the channel".into());
        }
        match (told.is_empty(), self.figures) {
            (true, true) => format!("{}: no figure moved ({})", self.recipe, self.files()),
            (true, false) => format!("{}: {}", self.recipe, self.files()),
            (false, _) => format!("{}: {} ({})", self.recipe, told.join(", "), self.files()),
        }
    }

    /// How many files, and what of the recipe they show unless all of it is new.
    fn files(&self) -> String {
        let files = match (self.written, self.removed) {
            (written, 0) => format!("{} written", counted(written, "file")),
            (0, removed) => format!("{} removed", counted(removed, "file")),
            (written, removed) => format!("{} written, {removed} removed", counted(written, "file")),
        };
        if self.new || self.shown.is_empty() { files } else { format!("{files}: {}", self.shown.join(", ")) }
    }
}
