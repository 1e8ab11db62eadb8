//! What is only supposed: a batch of another size, food that no variant has, "if it gets to". Must not know a value.

use super::claim::Maker;
use super::hear::{Heard, Noun};
use super::lexicon::{Role, Sense};
use super::quantity::Reader;
use super::token::Gap;

/// Why a value of a batch of another size is held against nothing.
pub(super) const ANOTHER_SIZE: &str = "it is of a batch of another size";
/// Why a value of other food is held against nothing.
pub(super) const OTHER_FOOD: &str = "it is of food that no variant has";
/// What is held against nothing and yet is of this dish.
pub(super) const OF_THE_DISH: &[&str] = &[ANOTHER_SIZE, OTHER_FOOD];

/// How many tokens behind "double it" a number may stand that is of it.
const SCALED: usize = 6;
/// How many tokens behind "if you use" a number may stand that is of it.
const SUBSTITUTED: usize = 14;

impl Maker<'_, '_> {
    /// Whether it is only supposed: "if it gets to two fifty".
    pub(super) fn is_supposed(&self, heard: &Heard) -> bool {
        let tokens = self.hearing.tokens;
        let start = heard.quantity.start;
        let mut clause = (start.saturating_sub(6)..start)
            .rev()
            .take_while(|&at| self.hearing.tape().flows(at + 1) && !self.hearing.stops(at));
        // "in a muffin tin i think you'd get twelve"
        let you = |at: usize| tokens[at].text == "youd" && heard.noun == Noun::Pieces;
        clause.any(|at| {
            you(at) || tokens[at].text == "if" && (tokens[at + 1].is(Sense::Pronoun) || tokens[at + 1].text == "its")
        })
    }

    /// Whether it is what a batch of another size has: "double it, that's two point four kilos and six jars".
    pub(super) fn is_of_another_size(&self, heard: &Heard) -> bool {
        let tokens = self.hearing.tokens;
        let goes_on = |from: usize, to: usize| (from + 1..=to).all(|at| tokens[at].gap != Gap::Sentence);
        let (start, end) = (heard.quantity.start, heard.quantity.end);
        if heard.other.is_some() {
            return false;
        }
        let scaled = (start.saturating_sub(SCALED)..start).any(|at| {
            let length = self.phrase_at(at, Role::Scaled);
            // "at home, halve: one kilo of flour", but "you don't halve the water"
            let denied = at > 0 && tokens[at - 1].is(Sense::Not);
            length.is_some_and(|length| {
                !denied
                    && at + length <= start
                    && goes_on(at, start)
                    && (at + length..start).all(|at| self.hearing.quantity_at[at].is_none())
            })
        });
        // "if you're only making ten, halve everything"
        let asked = (start.saturating_sub(6)..start).any(|at| tokens[at].text == "if");
        let next = asked
            && (end..end + 2)
                .any(|at| at < tokens.len() && goes_on(start, at) && self.phrase_at(at, Role::Scaled).is_some());
        // "six jars and 1.8 kilos of cucumber" goes on.
        let goes_with = || {
            let index = self.hearing.heard.partition_point(|other| other.quantity.start < start).checked_sub(1);
            index.map(|index| &self.hearing.heard[index]).is_some_and(|before| {
                start - before.quantity.end <= 4
                    && goes_on(before.quantity.start, start)
                    && self.is_of_another_size(before)
            })
        };
        scaled || next || goes_with()
    }

    /// Whether it is of food that no variant has: "if you only have ground then two teaspoons".
    pub(super) fn is_substitute(&self, heard: &Heard) -> bool {
        let tokens = self.hearing.tokens;
        let start = heard.quantity.start;
        let clause = (start.saturating_sub(SUBSTITUTED)..start)
            .rev()
            .take_while(|&at| tokens[at + 1].gap != Gap::Sentence && self.hearing.quantity_at[at].is_none());
        let opens = |at: usize| self.phrase_at(at, Role::Substitute).is_some();
        let Some(from) = clause.into_iter().find(|&at| opens(at)) else { return false };
        // "if you've no scale", "if you're using spoons", and what holds of the recipe again
        let own = |at: usize| {
            let token = &tokens[at];
            token.is(Sense::Shows)
                || token.unit().is_some()
                || token.is(Sense::But)
                || self.phrase_at(at, Role::Return).is_some()
                || token.text.starts_with("weigh")
        };
        heard.other.is_none() && !(from..start).any(own)
    }

    /// How many tokens a phrase of a role has that stands at one.
    fn phrase_at(&self, at: usize, wanted: Role) -> Option<usize> {
        let hearing = self.hearing;
        let reader = Reader { tape: hearing.tape(), lexicon: hearing.lexicon, measures: self.truth.measures };
        reader.phrase(at, |role| role == wanted).map(|(_, length)| length)
    }
}
