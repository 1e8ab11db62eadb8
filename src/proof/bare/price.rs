//! Numbers that are money without saying so: "it costs two forty", "1.20 each".

use super::Bare;
use crate::exact::Exact;
use crate::proof::lexicon::{Role, SaidUnit, Sense};
use crate::proof::token::Gap;
use crate::sheet::Kind;

impl Bare<'_, '_> {
    /// "it costs two forty", "1.20 each": money by the talk around it.
    pub(super) fn price(&self) -> Option<Exact> {
        let (start, end) = (self.quantity.start, self.quantity.end);
        let from = start.saturating_sub(8);
        let sentence = (from..start).rev().take_while(|&at| self.hearing.tokens[at + 1].gap != Gap::Sentence);
        let cost = sentence.into_iter().any(|at| self.is(at, Sense::Cost));
        let money_before = self
            .index
            .checked_sub(1)
            .map(|index| &self.hearing.heard[index])
            .is_some_and(|before| before.kind == Some(Kind::Money) && start - before.quantity.end <= 15);
        let each =
            self.flows(end) && (self.is(end, Sense::Each) || self.is(end, Sense::Per) || self.is(end, Sense::Article));
        let short = self.quantity.short.is_some();
        let rate = self.flows(end)
            && self.is(end, Sense::Article)
            && self.hearing.mention_at.get(end + 1).copied().flatten().is_some_and(|mention| self.is_piece(mention));
        // "twenty a roll" behind other cents
        let before = self.index.checked_sub(1).map(|index| &self.hearing.heard[index]);
        let minor = before.and_then(|before| before.quantity.unit).is_some_and(|u| matches!(u, SaidUnit::Minor(_)));
        let plain = self.quantity.low == self.quantity.high && self.quantity.high.is_whole() && !short;
        let of_one = rate || each && !self.is(end, Sense::Article);
        if plain && minor && money_before && of_one && self.noun().is_none() {
            return Some(self.quantity.high.clone() * Exact::ratio(1, 100));
        }
        let whole = (end..end + 3)
            .take_while(|&at| self.flows(at))
            .any(|at| self.reader.phrase(at, |role| role == Role::Whole).is_some());
        let rate = rate || whole && short;
        if !(cost || rate || money_before && (each || short)) || self.noun().is_some() {
            return None;
        }
        let hundredth = Exact::ratio(1, 100);
        if let Some((head, tail)) = self.quantity.short {
            return Some(Exact::from(head) + Exact::from(tail) * hundredth);
        }
        let decimals = self.quantity.step == hundredth;
        decimals.then(|| self.quantity.high.clone())
    }

    /// "1.25 a kilo": a price that is of no dish.
    pub(super) fn is_rate(&self) -> bool {
        let end = self.quantity.end;
        let decimals = !self.quantity.low.is_whole() && !self.quantity.fraction || self.quantity.short.is_some();
        let leads = self.is(end, Sense::Article) || self.is(end, Sense::Per);
        let unit = self.hearing.tokens.get(end + 1).and_then(|token| token.unit());
        let measured = unit.is_some_and(|unit| matches!(unit.kind(Kind::Weight), Kind::Weight | Kind::Volume));
        decimals && leads && self.flows(end) && measured
    }
}
