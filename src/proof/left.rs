//! Whether a price is that of what is left of whole packs: "18 08 of that is still on your shelf". Never looks at a value.

use super::hear::Hearing;
use super::hint::Hint;
use super::lexicon::{Cue, Sense};
use super::quantity::Quantity;
use super::token::Gap;
use crate::sheet::Kind;

/// How far behind the price of all packs that of what is left may stand, in tokens.
const BEHIND_THE_SHOPPING: usize = 16;
/// How far from the price may be told that something is left.
const TOLD_BEFORE: usize = 9;
const TOLD_BEHIND: usize = 9;
/// The same where what is left is told of the price and of no other.
const RIGHT_BEHIND: usize = 4;

impl Hearing<'_> {
    /// "18 08 of that is still on your shelf", "of that, 25.27 stays yours": whether it is what is left of whole packs.
    pub fn is_left_of_the_packs(&self, index: usize) -> bool {
        self.is_of_it_and_left(index) || self.is_left_behind_the_shopping(index)
    }

    /// The same by its own words.
    fn is_of_it_and_left(&self, index: usize) -> bool {
        let Quantity { start, end, .. } = self.heard[index].quantity;
        let tape = self.tape();
        let these = [Sense::This, Sense::Pronoun, Sense::What, Sense::Them];
        let this = |at: usize| these.iter().any(|sense| tape.is(at, *sense));
        let flows = |at: usize| self.tokens.get(at).is_some_and(|token| token.gap != Gap::Sentence);
        let of_it = tape.flows(end) && tape.is(end, Sense::Of) && (this(end + 1) || self.hints(end + 1, Hint::ItIs));
        // "and have 18 29 left in the cupboard"
        let unused = |at: usize| flows(at) && self.tells(at, Cue::Unused);
        let over = self.hints(end, Hint::SpreadOver);
        if unused(end) && !over && (end + 1..end + 6).any(unused) {
            return true;
        }
        let worth = tape.flows(end) && self.hints(end, Hint::Worth);
        // "and you'd still own 14.63 worth of it"
        let still = (start.saturating_sub(3)..start).any(|at| flows(at + 1) && self.tells(at, Cue::Unused));
        if worth && still && tape.is(end + 1, Sense::Of) && this(end + 2) {
            return true;
        }
        let led = start > 1 && tape.is(start - 2, Sense::Of) && this(start - 1);
        let behind = (end..end + TOLD_BEHIND).take_while(|&at| flows(at));
        // "but 14 80 is still on the shelf"
        let is = tape.flows(end) && self.hints(end, Hint::Is);
        (of_it || worth || led || is) && behind.into_iter().any(|at| self.tells(at, Cue::Unused))
    }

    /// "the shopping is 31 98 and you'd carry home 23 34 of that", "what stays on the shelf is 28 66": whether it is told
    /// right behind what all packs cost that something is left.
    pub fn is_left_behind_the_shopping(&self, index: usize) -> bool {
        // "you'd still have 20 91 of shopping left, a bag of the chilled ones is four quid": it is told of the first.
        self.is_told_as_left(index, TOLD_BEHIND)
            && !index.checked_sub(1).is_some_and(|before| self.is_told_as_left(before, RIGHT_BEHIND))
    }

    /// "my receipt said 11 25 and 10 35 of that remains": whether the price of all packs is told, as what is left of it is.
    pub fn is_told_of_what_is_left(&self, index: usize) -> bool {
        let end = self.heard[index].quantity.end;
        let next =
            self.heard.get(index + 1).filter(|next| next.kind == Some(Kind::Money) || next.quantity.short.is_some());
        let near = next.is_some_and(|next| next.quantity.start.saturating_sub(end) <= BEHIND_THE_SHOPPING);
        near && self.is_of_it_and_left(index + 1)
    }

    /// "what I spent was 21.34": whether it is what was spent.
    pub fn is_spent(&self, paid: &Quantity) -> bool {
        (paid.start.saturating_sub(3)..paid.start).any(|at| self.hints(at, Hint::Spent))
    }

    fn is_told_as_left(&self, index: usize, reach: usize) -> bool {
        let Quantity { start, end, .. } = self.heard[index].quantity;
        let Some(before) = index.checked_sub(1).map(|before| &self.heard[before]) else { return false };
        let from = before.quantity.end;
        let all = [Cue::Basket, Cue::Shop].iter().any(|cue| self.cue(&before.quantity, *cue, 14, 6));
        let all = all || self.is_spent(&before.quantity);
        // "20 91 of shopping left"
        let all = all || self.cue(&self.heard[index].quantity, Cue::Basket, 0, 3);
        let shopping = all && before.kind == Some(Kind::Money) && start.saturating_sub(from) <= BEHIND_THE_SHOPPING;
        let tape = self.tape();
        if !shopping || [Sense::Each, Sense::Article, Sense::Per].iter().any(|sense| tape.next_is(end, *sense)) {
            return false;
        }
        let unused = |at: usize| self.tells(at, Cue::Unused);
        // "it's 29 04 at the checkout for all the packets, and the batch is 4 82": of the dish is what is made.
        let lot = |at: usize| self.hints(at, Hint::Lot) || self.hints(at, Hint::Batch) || self.hints(at, Hint::Whole);
        let first = from.max(start.saturating_sub(TOLD_BEFORE));
        let told = (first..start).rev().take_while(|&at| self.tokens[at + 1].gap != Gap::Sentence).any(unused);
        let goes_on = |at: usize| {
            self.tokens.get(at).is_some_and(|token| {
                token.gap != Gap::Sentence && !(reach == RIGHT_BEHIND && (token.is(Sense::And) || token.is(Sense::But)))
            })
        };
        let behind = (end..end + reach).take_while(|&at| goes_on(at)).take_while(|&at| self.quantity_at[at].is_none());
        told || !(from..start).any(lot) && behind.into_iter().any(unused)
    }
}
