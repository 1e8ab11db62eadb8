//! Amounts of a batch of another size, "for twenty-eight you'd want a kilo and a half", told by what they have in common: the
//! size is said, or two of them are as many times their figures. Must not know how it is shown.

use super::claim::Maker;
use super::hear::{Fate, Heard, Noun};
use super::judge::Said;
use super::lexicon::{Role, SaidUnit};
use super::link::Linked;
use super::quantity::Quantity;
use super::token::Gap;
use crate::exact::{Exact, Unit};
use crate::sheet::{Fact, Kind, Topic};
use std::collections::BTreeSet;

/// At most so many tokens lie between an amount and what tells its size.
const NEAR: usize = 16;
/// Fewer are counted of anything.
const FEW: i64 = 4;
/// Sizes that are made of a batch where no number says which, as fractions.
const SIZES: &[(i64, i64)] = &[(2, 1), (3, 1), (4, 1), (5, 1), (6, 1), (3, 2), (1, 2), (1, 3), (2, 3), (1, 4)];

/// A claim that its figure does not hold for.
struct Odd<'m> {
    /// Its place among what is heard.
    heard: usize,
    quantity: &'m Quantity,
    /// What it may be of, the figure that it is linked to first.
    facts: Vec<&'m Fact>,
}

impl Odd<'_> {
    /// Whether it counts what is bought in ones: two limes for one are a slip as often.
    fn is_few(&self) -> bool {
        self.facts[0].kind == Kind::Count && self.facts[0].topic == Topic::Line
    }
}

impl Maker<'_, '_> {
    /// What is of another size, by its place among what is heard.
    pub(super) fn find_resized(&self, linked: &[Linked]) -> BTreeSet<usize> {
        let odd: Vec<Odd<'_>> = linked.iter().filter_map(|link| self.odd(link)).collect();
        let mut found: BTreeSet<usize> = odd.iter().filter(|odd| self.size_is_told(odd)).map(|odd| odd.heard).collect();
        for (at, one) in odd.iter().enumerate() {
            for other in odd[at + 1..].iter().take_while(|other| self.lie_near(one.quantity, other.quantity)) {
                let of_two = one.facts[0].about != other.facts[0].about && !one.is_few() && !other.is_few();
                if of_two && sizes().any(|size| self.is_times(one, &size) && self.is_times(other, &size)) {
                    found.extend([one.heard, other.heard]);
                }
            }
        }
        let agrees = |link: &&Linked| {
            let fact = link.tried[link.chosen].fact(self.truth).filter(|fact| fact.topic == Topic::Line);
            fact.is_some_and(|fact| self.agrees(&self.hearing.heard[link.heard], fact))
        };
        // Told by the way they are fewer than what is right; else the script is for another size, and each is wrong of this one.
        let right = linked.iter().filter(agrees).count();
        if found.len() > right { BTreeSet::new() } else { found }
    }

    /// What is not right of its figure, where that grows with the batch.
    fn odd(&self, link: &Linked) -> Option<Odd<'_>> {
        let heard = &self.hearing.heard[link.heard];
        // A spoon more is a slip as often as a batch.
        let spoons = matches!(heard.quantity.unit, Some(SaidUnit::Unit(Unit::Teaspoon | Unit::Tablespoon)));
        let grows = |fact: &Fact| match fact.topic {
            Topic::Line | Topic::Part | Topic::Basis => fact.kind != Kind::Percent && !spoons,
            Topic::Total | Topic::Pieces | Topic::CostLine | Topic::CostTotal | Topic::Basket => true,
            _ => false,
        };
        let chosen = link.tried[link.chosen].fact(self.truth)?;
        // "15 grams" of 51 is a slip and no third of them.
        let slip = self.is_turned(heard, chosen);
        let odd = heard.fate == Fate::Stands && grows(chosen) && !slip && !self.agrees(heard, chosen);
        let tried = link.tried.iter().filter_map(|tried| tried.fact(self.truth));
        let facts = std::iter::once(chosen).chain(tried).filter(|fact| grows(fact)).collect();
        odd.then_some(Odd { heard: link.heard, quantity: &heard.quantity, facts })
    }

    /// Whether the size of the batch stands beside an amount: a count that is as many times the pieces, or "a double batch".
    fn size_is_told(&self, odd: &Odd<'_>) -> bool {
        let pieces = self.truth.facts.iter().find(|fact| fact.topic == Topic::Pieces);
        let start = odd.quantity.start;
        let from = self.hearing.heard.partition_point(|other| other.quantity.end + NEAR < start);
        let near = self.hearing.heard[from..].iter().take_while(|other| other.quantity.start < odd.quantity.end + NEAR);
        let counts = near.filter(|other| self.is_count_beside(other, odd.quantity));
        let nearest = counts.min_by_key(|other| other.quantity.end.abs_diff(odd.quantity.start));
        let counted = pieces.zip(nearest).is_some_and(|(pieces, other)| {
            let made = Said::of(&other.quantity, pieces.kind, self.truth);
            let whole = pieces.values.iter().filter_map(|value| other.quantity.low.over(value.low()));
            let so_many = |size: &Exact| made.agrees_times(pieces, size) && self.is_times(odd, size);
            odd.facts[0].topic != Topic::Pieces
                && !made.agrees_with(pieces)
                && sizes().chain(whole).any(|size| so_many(&size))
        });
        let said = (start.saturating_sub(NEAR)..start).any(|at| {
            let phrase = self.hearing.reader().phrase(at, |role| matches!(role, Role::Scaled | Role::Resized));
            phrase.is_some() && self.is_one_sentence(at, start)
        });
        counted || said && !odd.is_few() && sizes().any(|size| self.is_times(odd, &size))
    }

    /// Whether a number near an amount may count the pieces of a batch.
    fn is_count_beside(&self, other: &Heard, amount: &Quantity) -> bool {
        let count = &other.quantity;
        let plain = count.unit.is_none() && count.low == count.high && count.low.is_whole();
        // "the two loaves I always used, and for three it comes to"
        let between = count.end..amount.start.max(count.end);
        let nearest = between.into_iter().all(|at| self.hearing.tape().numeral(at).is_none());
        let plain = plain && nearest && other.fate != Fate::InSum;
        let pieces = matches!(other.noun, Noun::None | Noun::Pieces | Noun::Things);
        let some = count.low >= Exact::from(FEW) || other.noun == Noun::Pieces;
        plain && pieces && some && self.lie_near(count, amount)
    }

    /// Whether two quantities lie near each other, with the end of one sentence between them at most.
    pub(super) fn lie_near(&self, one: &Quantity, other: &Quantity) -> bool {
        let (before, behind) = if one.start < other.start { (one, other) } else { (other, one) };
        let ends = (before.end..=behind.start).filter(|&at| self.hearing.tokens[at].gap == Gap::Sentence).count();
        behind.start.saturating_sub(before.end) < NEAR && ends <= 1
    }

    /// Whether a claim is so many times a figure that it may be of.
    fn is_times(&self, odd: &Odd<'_>, size: &Exact) -> bool {
        let times = |fact: &&Fact| Said::of(odd.quantity, fact.kind, self.truth).agrees_times(fact, size);
        odd.facts.iter().any(times)
    }
}

fn sizes() -> impl Iterator<Item = Exact> {
    SIZES.iter().map(|&(times, of)| Exact::ratio(times, of))
}
