//! Lists whose numbers come before their names, "1.78 the cucumbers, 68 cent vinegar, 61 for dill", told by what is exactly
//! right of three of them or more. Must not know how it is shown.

use super::claim::Maker;
use super::link::Linked;
use crate::sheet::{Kind, Topic};

/// So many must be right in one order before it counts against the other.
const ENOUGH: usize = 3;
/// At most so many tokens stand between numbers of one list.
const CLOSE: usize = 6;

impl Maker<'_, '_> {
    /// Where a list is right in the other order, and hardly in the one that was taken, it is read in the other.
    pub(super) fn in_the_other_order(&self, linked: &mut [Linked]) {
        let mut from = 0;
        while from < linked.len() {
            let to = self.run(linked, from);
            self.turn(&mut linked[from..to]);
            from = to;
        }
    }

    /// "yoga, 230 grams, water just warm 140", "smoked pepper car a teaspoon and a half, black pepper half a teaspoon": a name that
    /// has its own number right behind it has not the one before as well.
    pub(super) fn each_its_own(&self, linked: &mut [Linked]) {
        for at in 1..linked.len() {
            let (before, behind) = linked.split_at_mut(at);
            let (Some(one), Some(two)) = (before.last_mut(), behind.first()) else { continue };
            let (first, second) = (&self.hearing.heard[one.heard], &self.hearing.heard[two.heard]);
            let (wrong, right) = (&one.tried[one.chosen], &two.tried[two.chosen]);
            let Some(name) = right.mention.map(|name| &self.hearing.mentions[name]) else { continue };
            let same = wrong.index.is_some() && wrong.index == right.index && wrong.other == right.other;
            let between = name.start >= first.quantity.end && name.end <= second.quantity.start;
            let near = second.quantity.start.saturating_sub(first.quantity.end) <= CLOSE && first.kind == second.kind;
            let line = wrong.fact(self.truth).is_some_and(|fact| fact.topic == Topic::Line);
            // A slip is told again by its own name: "salt 80, salt 8".
            let loose = wrong.mention.is_some_and(|mention| {
                let before = &self.hearing.mentions[mention];
                mention == right.mention.unwrap_or(mention)
                    || before.named.iter().map(|(_, loose)| loose).min()
                        > name.named.iter().map(|(_, loose)| loose).min()
            });
            if same
                && between
                && near
                && line
                && loose
                && self.is_right(two, two.chosen)
                && !self.is_right(one, one.chosen)
                && let Some(none) = one.tried.iter().position(|tried| tried.index.is_none())
            {
                one.chosen = none;
            }
        }
    }

    /// One past the last of the numbers of a kind that follow each other from `from` on.
    fn run(&self, linked: &[Linked], from: usize) -> usize {
        let heard = |at: usize| &self.hearing.heard[linked[at].heard];
        let goes_on = |at: usize| {
            let (before, now) = (heard(at - 1), heard(at));
            let close = now.quantity.start.saturating_sub(before.quantity.end) <= CLOSE;
            close && before.kind == now.kind && matches!(now.kind, Some(Kind::Money | Kind::Weight))
        };
        (from + 1..linked.len()).find(|&at| !goes_on(at)).unwrap_or(linked.len())
    }

    fn turn(&self, list: &mut [Linked]) {
        let turned: Vec<Option<usize>> = list.iter().map(|link| self.behind(link)).collect();
        let right = turned.iter().flatten().count();
        let kept = list.iter().filter(|link| self.is_right(link, link.chosen)).count();
        if right < ENOUGH || right <= kept {
            return;
        }
        for (link, turned) in list.iter_mut().zip(turned) {
            if let Some(turned) = turned.filter(|_| !self.is_right(link, link.chosen)) {
                link.chosen = turned;
            }
        }
    }

    /// The line of the name behind a number, where it is exactly right.
    fn behind(&self, link: &Linked) -> Option<usize> {
        let end = self.hearing.heard[link.heard].quantity.end;
        (0..link.tried.len()).find(|&at| {
            let tried = &link.tried[at];
            let behind = tried.mention.is_some_and(|mention| self.hearing.mentions[mention].start >= end);
            let line = tried.fact(self.truth).is_some_and(|fact| matches!(fact.topic, Topic::Line | Topic::CostLine));
            behind && line && self.is_right(link, at)
        })
    }

    fn is_right(&self, link: &Linked, at: usize) -> bool {
        let fact = link.tried[at].fact(self.truth);
        fact.is_some_and(|fact| self.agrees(&self.hearing.heard[link.heard], fact))
    }
}
