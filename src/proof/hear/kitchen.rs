//! Whether a number is spoken of in the kitchen: what has no figure is a claim only where cooking is talked of, and chatter
//! elsewhere. Must not know what is true.

use super::{Heard, Hearing};
use crate::proof::lexicon::Sense;
use crate::proof::quantity::Quantity;
use crate::proof::token::Gap;
use crate::sheet::Kind;

impl Hearing<'_> {
    /// Whether what surrounds a value makes it one of a dish, though no figure of this one answers to it.
    pub fn is_of_a_dish(&self, heard: &Heard, kind: Kind) -> bool {
        let quantity = &heard.quantity;
        match kind {
            Kind::Weight | Kind::Volume => true,
            Kind::Percent => self.after_of(quantity.end).is_some(),
            Kind::Money => heard.foreign || self.near(quantity, |at| self.tokens[at].is(Sense::Cost)),
            Kind::Temperature | Kind::Duration | Kind::Length => self.near(quantity, |at| self.is_cooking(at)),
            Kind::Count => self.counts_food(quantity),
        }
    }

    /// Whether a token is of cooking: a word of what lasts or heats, or of the method.
    fn is_cooking(&self, at: usize) -> bool {
        let token = &self.tokens[at];
        [Sense::Lasts, Sense::Divides, Sense::Heat, Sense::Wants].iter().any(|sense| token.is(*sense))
            || !token.is(Sense::Common) && !token.is(Sense::Alien) && self.method.contains(&self.stems[at])
    }

    /// Whether cooking is spoken of anywhere near, in the sentence before too.
    pub fn in_the_kitchen(&self, quantity: &Quantity) -> bool {
        let from = quantity.start.saturating_sub(14);
        let to = (quantity.end + 7).min(self.tokens.len());
        // "The ferry takes forty minutes, by the way." has a subject of its own.
        let opens = (from + 1..=quantity.start).rev().find(|&at| self.tokens[at].gap == Gap::Sentence);
        let ends = (quantity.end..to).find(|&at| self.tokens[at].gap == Gap::Sentence).unwrap_or(to);
        if let Some(opens) = opens {
            let own = |at: usize| self.is_cooking(at) || self.mention_at[at].is_some();
            let subject = (opens..quantity.start).any(|at| {
                let token = &self.tokens[at];
                token.senses.is_empty() && token.text.len() > 3
            });
            if subject && !(opens..quantity.start).chain(quantity.end..ends).any(own) {
                return false;
            }
        }
        (from..quantity.start).chain(quantity.end..to).any(|at| self.is_cooking(at) || self.mention_at[at].is_some())
    }

    /// Whether a token is a word of the method.
    pub fn is_of_the_method(&self, at: usize) -> bool {
        self.method.contains(&self.stems[at])
    }

    /// "two carrots", "six cloves", "four large sticks".
    fn counts_food(&self, quantity: &Quantity) -> bool {
        (quantity.end..quantity.end + 3).take_while(|&at| self.tape().flows(at)).any(|at| {
            let token = &self.tokens[at];
            token.is(Sense::Portion) || self.foods.contains(&(self.lexicon.language.singular)(&token.text))
        })
    }

    /// Whether a token of the clause is as wanted; other numbers end it.
    fn near(&self, quantity: &Quantity, wanted: impl Fn(usize) -> bool) -> bool {
        let from = quantity.start.saturating_sub(7);
        let back =
            (from..quantity.start).rev().take_while(|&at| self.tokens[at + 1].gap != Gap::Sentence && !self.stops(at));
        let ahead = (quantity.end..(quantity.end + 4).min(self.tokens.len()))
            .take_while(|&at| self.tokens[at].gap != Gap::Sentence && !self.stops(at));
        back.chain(ahead).any(wanted)
    }
}
