//! Prices told right behind what was weighed, by a speaker who tells them so: "the yolks, six of them. I carry that line at
//! £1.09". What words lead to the price is anybody's own. Must not know how it is shown.

use super::candidates::Candidate;
use super::claim::Maker;
use super::hear::Fate;
use super::hint::Hint;
use super::lexicon::{Cue, Sense};
use super::link::Linked;
use super::mention::Named;
use super::token::Gap;
use crate::sheet::{Fact, Kind, Topic};
use std::collections::BTreeSet;

/// So many lines' prices must have been told rightly by who is said to tell them.
const TELLS: usize = 3;
/// How many tokens stand at most between an amount and its price.
const BEHIND: usize = 12;
/// What speaks against it.
const COST: i32 = 60;
/// Why it is taken.
const WHY: &str = "it was weighed right before, and what is weighed is told with its price";

impl Maker<'_, '_> {
    /// Holds what no figure answers to against the price of what was weighed right before it.
    pub(super) fn prices_behind(&self, linked: &mut [Linked]) {
        let right = |link: &Linked| {
            let chosen = &link.tried[link.chosen];
            let fact = chosen.fact(self.truth)?;
            let told = fact.topic == Topic::CostLine && self.agrees(&self.hearing.heard[link.heard], fact);
            told.then(|| (chosen.other, fact.about.clone()))
        };
        let told: BTreeSet<(Option<usize>, String)> = linked.iter().filter_map(right).collect();
        for at in 1..linked.len() {
            let price =
                self.price_of_the_last(linked, at).filter(|_| told.len() >= TELLS || self.is_restated(linked, at));
            let new = |price: &Candidate| {
                price.fact(self.truth).is_some_and(|fact| !told.contains(&(price.other, fact.about.clone())))
            };
            if let Some(price) = price.filter(new) {
                linked[at].choose(price);
            }
        }
    }

    /// "750 grams, and that's $4.47": whether a price only says again what is weighed right before it.
    fn is_restated(&self, linked: &[Linked], at: usize) -> bool {
        let last = &self.hearing.heard[linked[at - 1].heard];
        let (from, to) = (last.quantity.end, self.hearing.heard[linked[at].heard].quantity.start);
        let weighed = matches!(last.kind, Some(Kind::Weight | Kind::Volume));
        let thats = to > from && to - from <= 2 && self.hearing.hints(to - 1, Hint::Thats);
        weighed && !last.carried && thats && (from..=to).all(|at| self.hearing.tokens[at].gap != Gap::Sentence)
    }

    /// The price of what was weighed right before a sum of money that no figure answers to.
    fn price_of_the_last(&self, linked: &[Linked], at: usize) -> Option<Candidate> {
        let (link, before) = (&linked[at], &linked[at - 1]);
        let (heard, last) = (&self.hearing.heard[link.heard], &self.hearing.heard[before.heard]);
        let chosen = &link.tried[link.chosen];
        let weighed = &before.tried[before.chosen];
        let line = weighed.fact(self.truth).filter(|fact| fact.topic == Topic::Line)?;
        let of_the_same = |fact: &Fact| fact.about.strip_prefix("cost.") == Some(&line.about);
        let sure = chosen.fact(self.truth).is_some_and(|fact| {
            self.agrees(heard, fact)
                || fact.topic == Topic::CostLine && !of_the_same(fact)
                || self.is_certain(heard, chosen)
        });
        let amounts = [Kind::Weight, Kind::Volume, Kind::Count, Kind::Percent].map(Some);
        if heard.kind != Some(Kind::Money) || heard.fate != Fate::Stands || sure || !amounts.contains(&last.kind) {
            return None;
        }
        let (from, to) = (last.quantity.end, heard.quantity.start);
        let tape = self.hearing.tape();
        // "it comes 500 grams at a time for £3.75", "the bill comes down by three cents"
        let led = to > from && (tape.is(to - 1, Sense::By) || to > from + 1 && tape.is(to - 1, Sense::For));
        let own = to >= from && to - from <= BEHIND && !led && self.leads_to_its_price(from, to, line);
        let rate =
            [Sense::Each, Sense::Per, Sense::Article].iter().any(|sense| tape.next_is(heard.quantity.end, *sense));
        if !own || rate || self.hearing.has_no_figure(&heard.quantity) {
            return None;
        }
        // Water costs nothing, and nobody tells that as a price.
        let price = |fact: &Fact| {
            let paid = fact.values.iter().any(|value| value.high().is_positive());
            paid && fact.topic == Topic::CostLine && of_the_same(fact)
        };
        let index = self.facts_of(weighed.other).iter().position(price);
        let (other, mention) = (weighed.other, weighed.mention);
        index.map(|_| Candidate { index, other, mention, again: false, cost: COST, why: WHY })
    }

    /// Whether nothing between an amount and a price speaks of anything else.
    fn leads_to_its_price(&self, from: usize, to: usize, line: &Fact) -> bool {
        let tokens = self.hearing.tokens;
        let ends = (from..=to).filter(|&at| tokens[at].gap == Gap::Sentence).count();
        let others = (from..to).any(|at| {
            let hints =
                [Hint::Lot, Hint::Whole, Hint::Batch, Hint::All, Hint::So, Hint::OneLot, Hint::Version, Hint::Accounts];
            let of_it = |named: &Named| line.thing.is_some_and(|thing| *named == Named::Thing(thing));
            let named = self.hearing.mention_at[at]
                .is_some_and(|mention| !self.hearing.mentions[mention].named.iter().any(|(named, _)| of_it(named)));
            named
                || self.hearing.quantity_at[at].is_some()
                || hints.iter().any(|hint| tokens[at].hints(*hint))
                || [Sense::Each, Sense::Package, Sense::Market].iter().any(|sense| tokens[at].is(*sense))
                || [Cue::Basket, Cue::Shop].iter().any(|cue| self.hearing.tells(at, *cue))
        });
        ends <= 1 && !others
    }
}
