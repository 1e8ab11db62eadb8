//! Numbers that count: pieces that are made or divided, strokes, so many at a time, and what has just been named. Must not know
//! what is true.

use super::{Bare, Meaning};
use crate::exact::Exact;
use crate::proof::hear::{Fate, Noun};
use crate::proof::hint::Hint;
use crate::proof::lexicon::{Cue, Role, Sense};
use crate::proof::near;
use crate::proof::token::Gap;
use crate::sheet::{Kind, Topic};

impl Bare<'_, '_> {
    /// Whether the number stands where ingredients are told: behind a verb of adding, or in a list of amounts.
    pub(super) fn is_needed(&self) -> bool {
        let start = self.quantity.start;
        if self.before().is_some_and(|at| self.is(at, Sense::Determiner)) {
            return false;
        }
        let verb = (start.saturating_sub(6)..start).any(|at| self.is(at, Sense::Needs));
        let before = self.index.checked_sub(1).map(|index| &self.hearing.heard[index]);
        let after = self.hearing.heard.get(self.index + 1).map(|heard| heard.quantity.start);
        let listed = after.is_some_and(|after| after - self.quantity.end <= 4)
            && self.hearing.tape().is(self.quantity.end + 1, Sense::And);
        verb || listed
            || before.is_some_and(|before| {
                before.kind.is_some() && before.fate == Fate::Stands && start - before.quantity.end <= 5
            })
    }

    /// "ten times"; none where it compares or exaggerates.
    pub(super) fn strokes(&self) -> Option<Meaning> {
        let end = self.quantity.end;
        if !(self.flows(end) && self.is(end, Sense::Times)) {
            return None;
        }
        let next = end + 1;
        let compares = self.flows(next)
            && (self.is(next, Sense::Determiner)
                || self.is(next, Sense::Article)
                || self.is(next, Sense::Filling)
                || self.hints(next, Hint::As));
        let many = self.quantity.high >= Exact::from(100);
        Some(if compares || many { Meaning::Not(Fate::Idle) } else { Meaning::Counts(Noun::Strokes) })
    }

    /// "four at a time", "batches of four".
    pub(super) fn at_a_time(&self) -> bool {
        let end = self.quantity.end;
        // "you want it at one sixty before they go in the oil"
        if self.quantity.high >= Exact::from(100) {
            return false;
        }
        // "Sixteen buns a batch." opens the talk and tells what is made.
        let opens = self.hearing.tokens[self.quantity.start].gap == Gap::Sentence;
        if opens && self.quantity.high >= Exact::from(12) && self.hearing.is_piece_at(end) {
            return false;
        }
        let behind = (end..=end + 3).any(|at| {
            let clear = (end..at).all(|between| {
                self.flows(between)
                    && !self.is(between, Sense::And)
                    && self.hearing.quantity_at[between].is_none()
                    && self.hearing.mention_at[between].is_none_or(|mention| self.is_piece(mention))
            });
            clear && self.flows(at) && self.reader.phrase(at, |role| role == Role::AtATime).is_some()
        });
        // "the pan only takes four"
        let takes = self.before().is_some_and(|at| {
            let verb = self.hints(at, Hint::HasRoom);
            let pan = |at: usize| self.hearing.tells(at, Cue::Pan);
            let fit = self.hints(at, Hint::Fits) && self.is(end, Sense::Inside);
            (fit || verb && (at.saturating_sub(2)..at).any(pan)) && self.ends_clause(end) && self.noun().is_none()
        });
        if takes && self.quantity.high <= Exact::from(24) {
            return true;
        }
        let of = self.before().filter(|&at| self.is(at, Sense::Of)).and_then(|at| at.checked_sub(1));
        let batches = of.is_some_and(|at| self.hints(at, Hint::Batch));
        behind || batches
    }

    /// "Eggs: we have two.": of what is counted, a word or two before, where the number ends its clause.
    pub(super) fn counted_before(&self) -> Option<usize> {
        let (start, end) = (self.quantity.start, self.quantity.end);
        let few = self.quantity.high <= Exact::from(40) && self.quantity.low.is_whole();
        let ends = self.hearing.tokens.get(end).is_none_or(|token| token.gap != Gap::None);
        let at = (start.saturating_sub(3)..start).rev().find(|&at| self.hearing.mention_at[at].is_some())?;
        let light = |at: usize| {
            self.hearing.tokens[at].gap != Gap::Sentence
                && (at == start || self.is(at, Sense::Common) || self.is(at, Sense::Is))
        };
        let mention =
            self.hearing.mention_at[at].filter(|&mention| self.is_counted(mention) && !self.is_piece(mention))?;
        (few && ends && at + 1 < start && !self.quantity.lone_one && (at + 1..=start).all(light)).then_some(mention)
    }

    /// "five cloves of garlic": garlic.
    pub(super) fn portioned(&self) -> Option<usize> {
        let end = self.quantity.end;
        let portion = self.flows(end) && self.is(end, Sense::Portion);
        let of = self.hearing.after_of(end + 1).filter(|_| portion)?;
        self.mention_within(of, 1).filter(|&mention| self.can_count(mention))
    }

    /// "twenty pieces", "twelve balls".
    pub(super) fn generic_piece(&self, at: usize) -> bool {
        let from = if self.flows(at) && self.is(at, Sense::Filling) { at + 1 } else { at };
        let several = self.quantity.high > Exact::one();
        several && self.flows(from) && (self.is(from, Sense::Pieces) || self.hints(from, Hint::Piece))
    }

    /// "divide it into twelve", "cut up in sixteen".
    pub(super) fn divides(&self) -> bool {
        let start = self.quantity.start;
        let into = start.checked_sub(1).is_some_and(|at| self.hearing.tokens[at].is(Sense::Into));
        let verb = (start.saturating_sub(6)..start).any(|at| self.is(at, Sense::Divides));
        let food = (start.saturating_sub(4)..start)
            .any(|at| self.hearing.mention_at[at].is_some_and(|m| !self.is_whole_thing(m)));
        let few = self
            .hearing
            .truth
            .facts
            .iter()
            .any(|fact| fact.topic == Topic::Pieces && *fact.values[0].high() < Exact::from(5));
        let least = Exact::from(if few && !food { 2 } else { 5 });
        let several = self.quantity.low >= least && self.quantity.low.is_whole();
        // "cut twelve."
        let alone = self.before().is_some_and(|at| self.is(at, Sense::Divides))
            && self.hearing.tokens.get(self.quantity.end).is_none_or(|token| token.gap == Gap::Sentence);
        // "cut 16 about 59 grams apiece"
        let weighed = self.hearing.heard.get(self.index + 1).is_some_and(|next| {
            let near = next.quantity.start <= self.quantity.end + 2 && self.is(next.quantity.end, Sense::Each);
            near && next.kind == Some(Kind::Weight)
        });
        let alone = alone || weighed && self.before().is_some_and(|at| self.is(at, Sense::Divides));
        // "divide it by six and that's 58 cents a glass", "split six ways", "over twenty-four it's 48 cents each"
        let shared = (start.saturating_sub(4)..start).any(|at| self.hints(at, Hint::SharesOut));
        let priced = self
            .index
            .checked_sub(1)
            .map(|index| &self.hearing.heard[index])
            .is_some_and(|before| before.kind == Some(Kind::Money) && start - before.quantity.end <= 4);
        let by = shared && (self.hinted(1, Hint::Among) || self.hints(self.quantity.end, Hint::Ways))
            || priced && self.hinted(1, Hint::SpreadOver);
        let whole = self.quantity.low >= Exact::from(2) && self.quantity.low.is_whole() && !self.quantity.lone_one;
        // "64 divided by four is sixteen" is arithmetic alone.
        let next = self.hearing.heard.get(self.index + 1).map(|next| &next.quantity);
        let plain = next.is_some_and(|next| {
            next.unit.is_none() && next.start == self.quantity.end + 1 && self.hints(self.quantity.end, Hint::Are)
        });
        if by && whole && !plain && self.quantity.low == self.quantity.high {
            return true;
        }
        // "a tray of sixteen"
        let of = start > 1
            && self.is(start - 1, Sense::Of)
            && self.hearing.tells(start - 2, Cue::Tray)
            && self.ends_clause(self.quantity.end)
            && self.quantity.low >= Exact::from(5);
        if of && self.quantity.low.is_whole() && self.noun().is_none() {
            return true;
        }
        (into || alone) && verb && several && self.noun().is_none()
    }

    /// "sixteen from a tin", "18 to 20 out of one bowl", "there's sixteen in a tin"
    pub(super) fn fill_a_tin(&self) -> bool {
        let end = self.quantity.end;
        let led = self.flows(end)
            && (self.is(end, Sense::Into) || self.is(end, Sense::From) || self.hints(end, Hint::Out))
            && !self.quantity.lone_one
            && self.quantity.low >= Exact::from(5)
            && self.quantity.low.is_whole()
            && self.quantity.high < Exact::from(200);
        let at = if led && self.is(end + 1, Sense::Of) { end + 2 } else { end + 1 };
        let one = [Sense::Article, Sense::Ones(1)].iter().any(|sense| self.is(at, *sense));
        let tin = self.hints(at + 1, Hint::OneLot);
        led && one && tin && self.flows(at) && self.flows(at + 1) && self.noun().is_none()
    }

    /// "all twelve of them", and "sixteen of them" where pieces have just been named.
    pub(super) fn of_them(&self) -> bool {
        let (start, end) = (self.quantity.start, self.quantity.end);
        let them = self.flows(end) && self.is(end, Sense::Of) && self.is(end + 1, Sense::Determiner);
        let all = self.hinted(1, Hint::All);
        let pieces =
            (start.saturating_sub(14)..start).any(|at| self.hearing.mention_at[at].is_some_and(|m| self.is_piece(m)));
        let several = self.quantity.high > Exact::one() && self.quantity.low.is_whole();
        let made = (start.saturating_sub(8)..start).any(|at| self.is(at, Sense::Makes) || self.is(at, Sense::Divides));
        // "eighteen of them, they're twenty-three cents each"
        let one = (end + 2..end + 10).any(|at| self.is(at, Sense::Each));
        let range = self.quantity.low < self.quantity.high;
        // "if I want eighty of them"
        let wanted = self.before().is_some_and(|at| self.is(at, Sense::Wants));
        let many =
            self.quantity.low >= Exact::from(6) && self.is(end + 1, Sense::Them) && (made || one || range || wanted);
        // "I'm baking six of the mill loaf"
        let dish = self.mention_within(end + 2, 2).is_some_and(|mention| self.is_piece(mention));
        them && several && self.noun().is_none() && (dish || all || many || pieces && !self.quantity.lone_one)
    }

    /// "Eggs. Four, at room temperature.": a name that was a sentence by itself, and how many there are of it.
    pub(super) fn of_heading(&self) -> Option<usize> {
        let (start, end) = (self.quantity.start, self.quantity.end);
        let opens = start > 0 && self.hearing.tokens[start].gap == Gap::Sentence && !self.flows(end);
        let few = self.quantity.low.is_whole() && self.quantity.high < Exact::from(40);
        let mention = near::heading(self.hearing, start).filter(|_| opens && few)?;
        self.is_counted(mention).then_some(mention)
    }

    /// "it makes twelve", "you'll get twenty of these".
    pub(super) fn makes(&self) -> bool {
        let (start, end) = (self.quantity.start, self.quantity.end);
        if (start.saturating_sub(5)..start).any(|at| self.is(at, Sense::Heat)) {
            return false;
        }
        // "till your arm gets tired it's three": what goes on with "it's" is of something else.
        let opens = |at: usize| self.hints(at, Hint::ItIs);
        let verb =
            (start.saturating_sub(5)..start).rev().take_while(|&at| !opens(at)).any(|at| self.is(at, Sense::Makes));
        // also "that gives you fourteen to sixteen"
        let you = start > 1 && self.hinted(1, Hint::Us);
        let right_before = start.checked_sub(if you { 2 } else { 1 }).is_some_and(|at| self.is(at, Sense::Makes));
        let token = self.hearing.tokens.get(end);
        let ends = token.is_none_or(|token| {
            let goes_on = [Sense::Of, Sense::Common, Sense::But].iter().any(|sense| token.is(*sense));
            token.gap != Gap::None || goes_on
        });
        // "makes 36 either way"
        let supposed = (start.saturating_sub(6)..start).any(|at| self.hearing.tokens[at].is(Sense::If));
        let several = right_before
            && !supposed
            && self.quantity.low >= Exact::from(12)
            && token.is_some_and(|token| token.senses.is_empty());
        let ends = ends || several && self.hearing.mention_at[end].is_none() && !self.hearing.counts_else(end);
        let article = token.is_some_and(|token| token.is(Sense::Article));
        let range = self.quantity.low < self.quantity.high;
        // "gets two or three pulses" makes none.
        // Nobody makes hundreds at home.
        if self.quantity.high >= Exact::from(200) {
            return false;
        }
        let made = verb && ends || right_before && range && self.quantity.low >= Exact::from(5);
        made && !article && !self.quantity.lone_one && self.quantity.low.is_whole() && self.quantity.low.is_positive()
    }
}
