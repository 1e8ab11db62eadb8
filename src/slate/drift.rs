//! What one sheet says and another no longer does. Must not know how either came about.

use super::statement::{Rank, Statement, Topic, statements};
use crate::locale::Locale;
use crate::model::Region;
use crate::sheet::Sheet;
use std::collections::BTreeMap;

/// A statement that changed: one side is `None` where it is said for the first time or no more.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// What it is about.
    pub topic: Topic,
    /// The statement's id.
    pub id: String,
    /// What the take says.
    pub from: Option<Statement>,
    /// What is so now.
    pub to: Option<Statement>,
}

impl Change {
    /// How much viewers need to hear of it.
    pub fn rank(&self) -> Rank {
        self.from.iter().chain(&self.to).map(|statement| statement.rank).min().unwrap_or(Rank::Follows)
    }
}

/// Every statement of `take` that `now` makes differently or not at all, and those that only `now` makes: in the order
/// of `now`, those that are gone last, topic by topic.
pub fn changes(take: &Sheet, now: &Sheet, locale: &Locale, region: Region) -> Vec<Change> {
    let said = |sheet| statements(sheet, locale, region);
    let (before, after) = (said(take), said(now));
    let find: BTreeMap<&str, &Statement> = before.iter().map(|s| (s.id.as_str(), s)).collect();
    let known: BTreeMap<&str, &Statement> = after.iter().map(|s| (s.id.as_str(), s)).collect();
    let mut all: Vec<Change> = Vec::new();
    for to in &after {
        let from = find.get(to.id.as_str()).copied();
        if from.is_none_or(|from| !same(from, to)) {
            all.push(Change { topic: to.topic, id: to.id.clone(), from: from.cloned(), to: Some(to.clone()) });
        }
    }
    for from in before.iter().filter(|from| !known.contains_key(from.id.as_str())) {
        all.push(Change { topic: from.topic, id: from.id.clone(), from: Some(from.clone()), to: None });
    }
    all.sort_by_key(|change| change.topic);
    all
}

/// Whether viewers read the same.
fn same(one: &Statement, other: &Statement) -> bool {
    one.name.text() == other.name.text() && one.said.text() == other.said.text()
}
