//! What is only supposed: a batch of another size, food that no variant has, "if it gets to". Must not know a value.

use super::claim::Maker;
use super::hear::{Heard, Noun};
use super::hint::Hint;
use super::lexicon::{Role, Sense};
use super::token::Gap;
use crate::sheet::Kind;

/// Why a value of a batch of another size is held against nothing.
pub(super) const ANOTHER_SIZE: &str = "it is of a batch of another size";
/// Why a value of other food is held against nothing.
pub(super) const OTHER_FOOD: &str = "it is of food that no variant has";
/// Why what one egg costs is held against nothing.
pub(super) const ONE_OF_AN_INGREDIENT: &str = "it is what one of an ingredient costs";
/// What is held against nothing and yet is of this dish.
pub(super) const OF_THE_DISH: &[&str] = &[ANOTHER_SIZE, OTHER_FOOD, ONE_OF_AN_INGREDIENT];

/// How many tokens behind "double it" a number may stand that is of it.
const SCALED: usize = 6;
/// How many tokens behind "for the club" a number may stand that is of it.
const OCCASION: usize = 14;
/// The most words for whom it is made.
const WHOM: usize = 4;
/// How many numbers of a list may be of it.
const LISTED: usize = 4;
/// How many tokens stand at most between two numbers of such a list.
const TOGETHER: usize = 8;
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
        let you = |at: usize| tokens[at].hints(Hint::YouWould) && heard.noun == Noun::Pieces;
        // "if it goes over 104 degrees you stop" tells a bound of the method.
        let bound = heard.kind == Some(Kind::Temperature)
            && start.checked_sub(1).is_some_and(|at| self.hearing.tape().is(at, Sense::Above));
        !bound
            && clause.any(|at| {
                let it = tokens[at + 1].is(Sense::Pronoun) || tokens[at + 1].hints(Hint::ItIs);
                // "it doesn't matter whether I make 28 or seven"
                let makes = heard.kind == Some(Kind::Count) && tokens[at + 1].is(Sense::Speaker);
                you(at) || tokens[at].is(Sense::If) && (it || makes)
            })
    }

    /// Whether it is what a batch of another size has: "double it, that's two point four kilos and six jars".
    pub(super) fn is_of_another_size(&self, heard: &Heard) -> bool {
        let list = &self.hearing.heard;
        let start = heard.quantity.start;
        let index = list.partition_point(|other| other.quantity.start < start);
        // "six jars and 1.8 kilos of cucumber": a few that go on with one another.
        let goes_on = |pair: &[Heard]| {
            let (from, to) = (&pair[0].quantity, pair[1].quantity.start);
            to.saturating_sub(from.end) <= TOGETHER && self.is_one_sentence(from.start, to)
        };
        let last = (index + 1).min(list.len());
        let run = &list[last.saturating_sub(LISTED)..last];
        let joined = run.windows(2).rev().take_while(|pair| goes_on(pair)).count();
        let grows = !matches!(heard.kind, Some(Kind::Length | Kind::Temperature | Kind::Percent));
        grows
            && run
                .iter()
                .rev()
                .take(joined + 1)
                .any(|one| one.other.is_none() && self.is_scaled(one) || self.is_for_others(one))
    }

    /// Whether "double it" stands before a number, or right behind one that is supposed.
    fn is_scaled(&self, heard: &Heard) -> bool {
        let tokens = self.hearing.tokens;
        let (start, end) = (heard.quantity.start, heard.quantity.end);
        let before = (start.saturating_sub(SCALED)..start).any(|at| {
            // "at home, halve: one kilo of flour", but "you don't halve the water"
            let denied = at > 0 && tokens[at - 1].is(Sense::Not);
            let behind = self.phrase_at(at, Role::Scaled).map(|length| at + length);
            !denied && self.is_one_sentence(at, start) && behind.is_some_and(|behind| self.leads_on(behind, start))
        });
        // "if you're only making ten, halve everything"
        let asked = || (start.saturating_sub(SCALED)..start).any(|at| tokens[at].is(Sense::If));
        let scaled = |at: usize| {
            at < tokens.len() && self.is_one_sentence(start, at) && self.phrase_at(at, Role::Scaled).is_some()
        };
        before || asked() && (end..end + 2).any(scaled)
    }

    /// Whether no other number stands between a token and a number behind it.
    fn leads_on(&self, from: usize, start: usize) -> bool {
        from <= start && (from..start).all(|at| self.hearing.quantity_at[at].is_none())
    }

    /// Whether "for the rugby club I do" stands before a number.
    fn is_for_others(&self, heard: &Heard) -> bool {
        let start = heard.quantity.start;
        (start.saturating_sub(OCCASION)..start).any(|at| {
            self.is_one_sentence(at, start) && self.occasion(at).is_some_and(|behind| self.leads_on(behind, start))
        })
    }

    /// "for the rugby club I do", "she makes it for her choir": where it ends that somebody tells for whom they make more
    /// of it, or whatever they make of it.
    fn occasion(&self, at: usize) -> Option<usize> {
        let (tape, hearing) = (self.hearing.tape(), self.hearing);
        let makes = |at: usize| hearing.hints(at, Hint::MakesMore);
        let it = |at: usize| tape.is(at, Sense::Pronoun) || tape.is(at, Sense::Them) || tape.is(at, Sense::This);
        let whose = |at: usize| tape.is(at, Sense::Determiner) || tape.is(at, Sense::Another);
        // "for the dough I use", "for this one I use", "for what we used" are of this dish.
        let whom = |at: usize| {
            tape.flows(at)
                && hearing.mention_at[at].is_none()
                && hearing.quantity_at[at].is_none()
                && !hearing.tells_topic(at)
                && !tape.is(at, Sense::And)
                // "use it for the plain" is of a flour.
                && !tape.is(at, Sense::Describes)
                && ![Sense::This, Sense::Them, Sense::What].iter().any(|sense| tape.is(at, *sense))
        };
        let from = if tape.is(at, Sense::For) { at + 1 } else { at + 3 };
        let made_for = makes(at) && it(at + 1) && tape.is(at + 2, Sense::For) && whose(from);
        if made_for && from + 1 < hearing.tokens.len() && whom(from + 1) {
            return Some(from + 2);
        }
        let from = from + usize::from(whose(from));
        let we = (from + 1..=from + WHOM).find(|&at| hearing.hints(at, Hint::We))?;
        // "it's 5 62 for the lot and I make that 37 p" is of all of this one.
        let all = self.phrase_at(at, Role::Whole).is_some();
        (tape.is(at, Sense::For) && !all && makes(we + 1) && (from..we).all(whom)).then_some(we + 2)
    }

    /// Whether no sentence ends between two tokens.
    pub(super) fn is_one_sentence(&self, from: usize, to: usize) -> bool {
        (from + 1..=to).all(|at| self.hearing.tokens[at].gap != Gap::Sentence)
    }

    /// Whether it is of food that no variant has: "if you only have ground then two teaspoons".
    pub(super) fn is_substitute(&self, heard: &Heard) -> bool {
        let tokens = self.hearing.tokens;
        let start = heard.quantity.start;
        let clause = (start.saturating_sub(SUBSTITUTED)..start)
            .rev()
            .take_while(|&at| tokens[at + 1].gap != Gap::Sentence && self.hearing.quantity_at[at].is_none());
        // "I use sesame and that's about 30p for the same weight"
        let tape = self.hearing.tape();
        let same =
            (heard.quantity.end..heard.quantity.end + 4).any(|at| tokens.get(at).is_some_and(|t| t.hints(Hint::Same)));
        if heard.kind == Some(Kind::Money)
            && heard.other.is_none()
            && tape.next_is(heard.quantity.end, Sense::For)
            && same
        {
            return true;
        }
        let opens = |at: usize| self.phrase_at(at, Role::Substitute).is_some();
        let Some(from) = clause.into_iter().find(|&at| opens(at)) else { return false };
        // "if you've no scale", "if you're using spoons", and what holds of the recipe again
        let own = |at: usize| {
            let token = &tokens[at];
            token.is(Sense::Shows)
                || token.unit().is_some()
                || token.is(Sense::But)
                || self.phrase_at(at, Role::Return).is_some()
                || token.hints(Hint::Weighs)
                || token.is(Sense::Weight)
        };
        heard.other.is_none() && !(from..start).any(own)
    }

    /// How many tokens a phrase of a role has that stands at one.
    fn phrase_at(&self, at: usize, wanted: Role) -> Option<usize> {
        self.hearing.reader().phrase(at, |role| role == wanted).map(|(_, length)| length)
    }
}
