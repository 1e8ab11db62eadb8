//! Which variant a figure is of where the words leave it open: the one that has been spoken of and is right there, and
//! the one that the figure before was of. Must not know how it is shown.

use super::candidates::Candidate;
use super::claim::Maker;
use super::hear::{Fate, Heard};
use super::hint::Hint;
use super::lexicon::{Cue, Sense};
use super::link::Linked;
use super::mention::Named;
use super::reread::digits;
use super::token::Gap;
use crate::sheet::{Fact, Topic};

/// How far back a variant may have been spoken of that the cost is of, in tokens.
const SPOKEN: usize = 120;
/// How far back one way of making it may have been held beside another, in tokens.
const COMPARED: usize = 12;
/// How far back one has been spoken of that is long past.
const LONG_PAST: usize = 16;
/// How many figures before one may be of its variant too.
const BETWEEN: usize = 3;
/// How many tokens may stand between two figures that go together.
const TOGETHER: usize = 8;

/// Whether a fact is of the same figure as another, in another variant or in this one.
fn is_same(one: &Fact, other: &Fact) -> bool {
    one.about == other.about && one.topic == other.topic && one.kind == other.kind
}

impl Maker<'_, '_> {
    /// The facts of another variant, or of the one asked for.
    pub(super) fn facts_of(&self, other: Option<usize>) -> &[Fact] {
        other.map_or(&self.truth.facts, |other| &self.truth.others[other].facts)
    }

    /// "with hazelnuts it gets cheaper: seven seventy-one": the same figure of a variant that has been spoken of.
    pub(super) fn of_the_variant(&self, heard: &Heard, fact: &Fact) -> Option<(usize, usize)> {
        let sums = [Topic::CostTotal, Topic::CostEach, Topic::Basket, Topic::Unused];
        let whole = sums.contains(&fact.topic);
        let start = heard.quantity.start;
        // The recipe as written is spoken of by its name and not by a comparison.
        let truth_of = |other: usize| self.truth.others[other].variant.is_some();
        let spoken = |other: usize| {
            let before = self.hearing.mentions.partition_point(|mention| mention.start < start);
            let mut near = self.hearing.mentions[..before]
                .iter()
                .rev()
                .take_while(|mention| start.saturating_sub(mention.end) <= SPOKEN);
            near.any(|mention| {
                truth_of(other)
                    && !self.hearing.is_compared_at(mention.start)
                    && mention.named.iter().all(|(named, _)| matches!(named, Named::Other(of, _) if *of == other))
            })
        };
        // "and it's cheaper, it's fifteen forty-two the batch": whatever captions made of its name
        let cue = |at: usize| self.hearing.tells(at, Cue::Compares);
        let compared = whole && digits(&heard.quantity) >= 3 && (start.saturating_sub(COMPARED)..start).any(cue);
        // "the tinned lot comes to four twenty-eight"
        let line = fact.topic == Topic::Line;
        let named = |other: usize| (whole || line) && self.hearing.names_variant(start, other);
        // "nine grams if you use the pork"
        let case = self.hearing.tape().next_is(heard.quantity.end, Sense::If);
        let others = self.truth.others.iter().enumerate().filter(|_| heard.other.is_none());
        let same = |known: &Fact| is_same(known, fact) && self.agrees(heard, known);
        others
            .filter(|(other, _)| {
                whole && spoken(*other) || named(*other) || (compared || case && line) && truth_of(*other)
            })
            .find_map(|(other, truth)| truth.facts.iter().position(same).map(|index| (other, index)))
    }

    /// "that's 4 05, and the tinned is 4 28": what all of a variant costs, where the name of what it is made of stands before it.
    pub(super) fn whole_of_the_named(&self, heard: &Heard, chosen: &Candidate, fact: &Fact) -> Option<(usize, usize)> {
        let mention = chosen.mention.filter(|_| fact.topic == Topic::CostLine && digits(&heard.quantity) >= 3)?;
        let other = self.hearing.variant_of(mention)?;
        let whole = |known: &Fact| known.topic == Topic::CostTotal && self.agrees(heard, known);
        self.truth.others[other].facts.iter().position(whole).map(|index| (other, index))
    }

    /// Whether a value is that of this variant's own figure though another's was spoken of a while ago: "hot water 240
    /// percent", when the mushrooms are long past.
    pub(super) fn is_own_again(&self, heard: &Heard, chosen: &Candidate, fact: &Fact) -> Option<usize> {
        let other = chosen.other.filter(|&other| heard.other == Some(other))?;
        // "with spelt it's 1 pound 13, my receipt said 11 25": what all packs cost is seldom told of another variant.
        let packs = matches!(fact.topic, Topic::Basket | Topic::Unused) && digits(&heard.quantity) >= 3;
        // "with the tinned it's 4 28, the batch today is 4 05": the variant has had its own.
        let index = self.hearing.heard.partition_point(|before| before.quantity.start < heard.quantity.start);
        let theirs = |known: &Fact, before: &Heard| is_same(known, fact) && self.agrees(before, known);
        let had = fact.topic == Topic::CostTotal
            && self.hearing.heard[index.saturating_sub(2)..index].iter().any(|before| {
                before.kind == heard.kind && self.facts_of(Some(other)).iter().any(|known| theirs(known, before))
            });
        let near = !packs && !had && self.hearing.names_variant_within(heard.quantity.start, other, LONG_PAST);
        if near || digits(&heard.quantity) < 2 {
            return None;
        }
        // "and the baking powder goes to 1.2 percent": what goes somewhere is not as it was.
        let start = heard.quantity.start;
        let goes = |at: usize| self.hearing.hints(at, Hint::Goes) || self.hearing.tells(at, Cue::Moves);
        if (start.saturating_sub(2)..start).any(goes) {
            return None;
        }
        let same = |known: &Fact| is_same(known, fact) && self.agrees(heard, known);
        self.truth.facts.iter().position(same)
    }

    /// "tow foo, you need 345 grams, and the salt goes up to 4.2": two figures beside each other that are both another
    /// variant's and not this one's are of it, whatever captions made of its name.
    pub(super) fn two_of_another(&self, linked: &mut [Linked]) {
        let theirs: Vec<Vec<(usize, usize)>> = linked.iter().map(|link| self.right_elsewhere(link)).collect();
        let of = |linked: &[Linked], at: usize| {
            linked[at].tried[linked[at].chosen].fact(self.truth).map(|fact| (fact.about.clone(), fact.kind))
        };
        for (first, second) in (1..linked.len()).flat_map(|at| (at.saturating_sub(BETWEEN)..at).map(move |of| (of, at)))
        {
            let quantity = |at: usize| &self.hearing.heard[linked[at].heard].quantity;
            let both = |(other, _): &&(usize, usize)| theirs[second].iter().any(|(of, _)| of == other);
            let other = theirs[first].iter().find(both).map(|(other, _)| *other);
            let apart = || of(linked, first) != of(linked, second) && self.lie_near(quantity(first), quantity(second));
            let Some(other) = other.filter(|_| apart()) else { continue };
            for at in [first, second] {
                let held = linked[at].tried[linked[at].chosen].other == Some(other);
                let Some((_, index)) = theirs[at].iter().find(|(of, _)| *of == other).filter(|_| !held) else {
                    continue;
                };
                linked[at].hold_to(*index, Some(other), "the figure beside it is of this variant too");
            }
        }
    }

    /// The variants whose figure a value is that is not right of this one's, and the figures' places.
    fn right_elsewhere(&self, link: &Linked) -> Vec<(usize, usize)> {
        let (heard, chosen) = (&self.hearing.heard[link.heard], &link.tried[link.chosen]);
        let grows = |topic| matches!(topic, Topic::Line | Topic::CostLine | Topic::CostTotal | Topic::CostEach);
        // What has been linked to a variant by its words, and is right there alone.
        if let (Some(other), Some(index)) = (chosen.other, chosen.index) {
            let own = |known: &Fact| self.truth.facts.iter().any(|of| is_same(of, known) && self.agrees(heard, of));
            let right = chosen.fact(self.truth).is_some_and(|fact| {
                grows(fact.topic) && self.agrees(heard, fact) && !own(fact) && digits(&heard.quantity) > 1
            });
            return if right && self.truth.others[other].variant.is_some() { vec![(other, index)] } else { Vec::new() };
        }
        let fact = chosen.fact(self.truth).filter(|fact| grows(fact.topic) && !self.agrees(heard, fact));
        let free = heard.fate == Fate::Stands && heard.other.is_none() && chosen.other.is_none();
        if fact.is_none() || !free || digits(&heard.quantity) < 2 {
            return Vec::new();
        }
        // "the water rises to 67 percent": of whichever water that is in the variant.
        let alike =
            |tried: &&Candidate| tried.other.is_none() && tried.mention == chosen.mention && tried.index.is_some();
        let facts: Vec<&Fact> = link.tried.iter().filter(alike).filter_map(|tried| tried.fact(self.truth)).collect();
        let same = |of: &Fact| grows(of.topic) && facts.iter().any(|fact| is_same(of, fact));
        let found = self.truth.others.iter().enumerate().filter(|(_, truth)| truth.variant.is_some());
        let found =
            found.map(|(other, truth)| (other, truth.facts.iter().position(|of| same(of) && self.agrees(heard, of))));
        found.filter_map(|(other, index)| Some((other, index?))).collect()
    }

    /// "with rice flour the tin is eight eighteen, so it's forty-nine cents a square": a figure that goes with the one
    /// before is of the same variant.
    pub(super) fn as_before(&self, linked: &mut [Linked]) {
        for at in 1..linked.len() {
            let (before, behind) = linked.split_at_mut(at);
            let (Some(one), Some(two)) = (before.last(), behind.first_mut()) else { continue };
            let (first, second) = (&self.hearing.heard[one.heard], &self.hearing.heard[two.heard]);
            let (a, b) = (&one.tried[one.chosen], &two.tried[two.chosen]);
            let (Some(known), Some(fact)) = (a.fact(self.truth), b.fact(self.truth)) else { continue };
            let (from, to) = (first.quantity.end, second.quantity.start);
            let line = known.topic == Topic::Line && fact.topic == Topic::Line && known.about == fact.about;
            let goes_on = from <= to && to - from <= TOGETHER;
            let close = goes_on && (from + 1..=to).all(|at| self.hearing.tokens[at].gap != Gap::Sentence);
            let together = match known.topic {
                Topic::CostTotal => fact.topic == Topic::CostEach && close,
                // "the shop is 23 85 with 17 44 left over"
                Topic::Basket => fact.topic == Topic::Unused,
                // "365 grams of buttermilk, 65 cents": what costs so much is of the variant too.
                Topic::Line if fact.topic == Topic::CostLine => {
                    close
                        && !self.agrees(second, fact)
                        && fact.about.strip_prefix("cost.") == Some(known.about.as_str())
                }
                Topic::Line => line && self.is_other_half(first, second),
                _ => false,
            };
            if !together || a.other == b.other || digits(&first.quantity) < 2 || !self.agrees(first, known) {
                continue;
            }
            // Where the variants do not differ the first tells nothing.
            if self.facts_of(b.other).iter().any(|of| is_same(of, known) && self.agrees(first, of)) {
                continue;
            }
            let same = |of: &Fact| is_same(of, fact);
            // "All in, five eleven, and a glass is eighty cents": where the second is this variant's own and not the other's,
            // the first was the other's by a slip.
            let theirs = self.facts_of(a.other).iter().any(|of| same(of) && self.agrees(second, of));
            // So it was where the other was only spoken of a while ago.
            let unnamed = |other: usize| {
                let named = self.hearing.names_variant_within(first.quantity.start, other, COMPARED);
                self.truth.others[other].variant.is_none() || !named
            };
            // "tamarind, 8 percent … the tamarind climbs to 11 percent, which is 17 grams": what is written was told before.
            let told = known.topic == Topic::Line
                && before[..at - 1].iter().any(|link| {
                    let chosen = &link.tried[link.chosen];
                    let own = |of: &&Fact| of.about == known.about && of.kind == known.kind && chosen.other.is_none();
                    chosen
                        .fact(self.truth)
                        .filter(own)
                        .is_some_and(|of| self.agrees(&self.hearing.heard[link.heard], of))
                });
            if a.other.is_some_and(|other| unnamed(other) && !told)
                && b.other.is_none()
                && !theirs
                && self.agrees(second, fact)
            {
                if let Some(index) = self.truth.facts.iter().position(|of| is_same(of, known)) {
                    let why = "the figure that goes with it is of this variant";
                    let Some(one) = before.last_mut() else { continue };
                    one.hold_to(index, None, why);
                }
                continue;
            }
            if let Some(index) = self.facts_of(a.other).iter().position(same) {
                let why = "it goes with the figure before, of its variant";
                two.hold_to(index, a.other, why);
            }
        }
    }
}
