//! What moved between two runs: shown figures, from and to.
//! Must not know how a figure came about.

use super::record::RecipeRecord;
use std::fmt;

/// How many moves a line tells before it counts the rest.
const TOLD: usize = 6;

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
/// gone as a whole has no moves.
pub(super) fn between(before: Option<&RecipeRecord>, after: Option<&RecipeRecord>) -> Vec<Move> {
    let (Some(before), Some(after)) = (before, after) else { return Vec::new() };
    let find = |list: &[(String, String)], name: &str| list.iter().find(|(n, _)| n == name).map(|(_, t)| t.clone());
    let told = after.figures.iter().map(|(name, to)| (name, find(&before.figures, name), Some(to.clone())));
    let gone = before.figures.iter().filter(|(name, _)| find(&after.figures, name).is_none());
    told.chain(gone.map(|(name, from)| (name, Some(from.clone()), None)))
        .filter(|(_, from, to)| from != to)
        .map(|(name, from, to)| Move { name: name.clone(), from, to })
        .collect()
}

impl super::Change {
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
        let files = match (self.written, self.removed) {
            (written, 0) => format!("{written} files written"),
            (0, removed) => format!("{removed} files removed"),
            (written, removed) => format!("{written} files written, {removed} removed"),
        };
        let told = if told.is_empty() { "no figure moved".to_owned() } else { told.join(", ") };
        format!("{}: {told} ({files})", self.recipe)
    }
}
