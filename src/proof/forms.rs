//! What a percent and the weight behind it are both of: "three and a half percent of the cabbage, and on my scale that's 42
//! grams". The percent tells the line, and nothing of how much the weight should be. Must not know how it is shown.

use super::candidates::Candidate;
use super::claim::Maker;
use super::hear::Fate;
use super::link::Linked;
use super::mention::Named;
use super::token::Gap;
use crate::sheet::{Fact, Kind, Topic};

/// How many tokens stand at most between a percent and its weight.
const BEHIND: usize = 12;
/// What speaks against it.
const COST: i32 = 30;
/// Why it is taken.
const WHY: &str = "its percent was said rightly right before";

impl Maker<'_, '_> {
    /// Holds a weight that no figure answers to against that of the line whose percent was told rightly right before it.
    pub(super) fn forms(&self, linked: &mut [Linked]) {
        for at in 1..linked.len() {
            if let Some(weight) = self.weight_of_the_last(&linked[at - 1], &linked[at]) {
                linked[at].choose(weight);
            }
        }
    }

    /// The weight of the line that the percent before is of.
    fn weight_of_the_last(&self, before: &Linked, link: &Linked) -> Option<Candidate> {
        let (last, heard) = (&self.hearing.heard[before.heard], &self.hearing.heard[link.heard]);
        let stand = last.fate == Fate::Stands && heard.fate == Fate::Stands && !heard.carried;
        if !stand || last.kind != Some(Kind::Percent) || heard.kind != Some(Kind::Weight) || heard.quantity.more {
            return None;
        }
        let percent = &before.tried[before.chosen];
        let line = percent.fact(self.truth).filter(|fact| fact.topic == Topic::Line && self.agrees(last, fact))?;
        let chosen = &link.tried[link.chosen];
        let sure = chosen
            .fact(self.truth)
            .is_some_and(|fact| fact.about == line.about || self.agrees(heard, fact) || self.is_certain(heard, chosen));
        let (from, to) = (last.quantity.end, heard.quantity.start);
        let tokens = self.hearing.tokens;
        let ends = (from..=to).filter(|&at| tokens[at].gap == Gap::Sentence).count();
        // "of the cabbage" is what it is reckoned by.
        let of = self.hearing.after_of(from).and_then(|at| (at..at + 2).find_map(|at| self.hearing.name_at(at)));
        let basis = |named: &Named| matches!(named, Named::Thing(thing) if self.truth.things[*thing].basis);
        let another = |at: usize| {
            let mention = self.hearing.mention_at[at].filter(|mention| Some(*mention) != of);
            mention.is_some_and(|mention| !self.hearing.mentions[mention].named.iter().any(|(named, _)| basis(named)))
                || self.hearing.quantity_at[at].is_some()
        };
        let end = heard.quantity.end;
        let behind =
            self.hearing.name_at(end).filter(|name| self.hearing.tape().flows(end) && !self.hearing.is_numbered(*name));
        let own = self.hearing.after_of(end).is_some() || behind.is_some();
        if sure || own || to < from || to - from > BEHIND || ends > 1 || (from..to).any(another) {
            return None;
        }
        let weight = |fact: &Fact| fact.topic == Topic::Line && fact.kind == Kind::Weight && fact.about == line.about;
        let index = self.facts_of(percent.other).iter().position(weight);
        let (other, mention) = (percent.other, percent.mention);
        index.map(|_| Candidate { index, other, mention, again: true, cost: COST, why: WHY })
    }
}
