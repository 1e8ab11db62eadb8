//! How sure a link must be before what differs is said to differ: a wrong alarm costs more trust than a number that is
//! left unplaced. Must not know how it is shown.

use super::candidates::Candidate;
use super::claim::Maker;
use super::hear::{Heard, Noun};
use super::judge::Said;
use super::lexicon::{Cue, SaidUnit, Sense};
use super::near;
use super::token::Gap;
use crate::exact::{Exact, Unit};
use crate::sheet::{Fact, Kind, Topic, Value};

/// A name this near to its number is of it and of no other.
pub(super) const TOLD: i32 = 45;
/// What a part of a name may cost more where it is all that was spoken of: "seeds" for sunflower seeds.
const LOOSE: i32 = 30;
/// What a left-out unit takes off what may speak against a link, and what words of waiting add to it.
const UNSURE: i32 = 80;

/// What may speak against a link before it is too far-fetched to raise an alarm.
pub(super) fn far_fetched(kind: Kind) -> i32 {
    match kind {
        Kind::Weight | Kind::Volume => 125,
        Kind::Money => 170,
        Kind::Percent | Kind::Duration => 240,
        Kind::Length => 280,
        Kind::Temperature => 340,
        Kind::Count => i32::MAX,
    }
}

impl Maker<'_, '_> {
    /// Whether a link is sure enough to say that something differs.
    pub(super) fn is_certain(&self, heard: &Heard, chosen: &Candidate) -> bool {
        let kind = heard.kind.unwrap_or(Kind::Count);
        // Without its unit a number of heat or size is less certain to be one.
        let unsure =
            matches!(kind, Kind::Length | Kind::Temperature) && heard.carried && !self.hearing.near_heat(heard);
        let lasting = kind == Kind::Duration && self.hearing.is_said_to_last(heard);
        let spoken_of = chosen.why == near::SPOKEN_OF;
        let most = far_fetched(kind)
            .saturating_sub(if unsure { UNSURE } else { 0 })
            .saturating_add(if lasting { UNSURE } else { 0 })
            .saturating_add(if spoken_of { LOOSE } else { 0 });
        chosen.cost <= most && !self.is_weak(heard, chosen)
    }

    /// Whether a link is too weak to say that something differs, however little speaks against it.
    fn is_weak(&self, heard: &Heard, chosen: &Candidate) -> bool {
        let quantity = &heard.quantity;
        let tokens = self.hearing.tokens;
        // "A tablespoon." of what another sentence spoke of
        let apart = chosen.mention.is_some_and(|mention| {
            let end = self.hearing.mentions[mention].end;
            (end..=quantity.start).any(|at| tokens[at].gap == Gap::Sentence)
        });
        // "the flours are three", "room four"
        let few = quantity.high < Exact::from(10) && quantity.high.is_whole();
        let Some(fact) = chosen.fact(self.truth) else { return false };
        let idle = heard.carried && few && matches!(heard.kind, Some(Kind::Weight | Kind::Volume | Kind::Percent));
        // "there's twenty-two in the class": what is made is called by its name, or a verb of making tells it.
        let made = || {
            let piece = |at: usize| self.hearing.is_piece_at(at);
            let behind = (quantity.end..quantity.end + 3).take_while(|&at| self.hearing.tape().flows(at)).any(piece);
            let verb = |at: usize| tokens[at].is(Sense::Makes) || tokens[at].is(Sense::Divides);
            let led = (quantity.start.saturating_sub(3)..quantity.start).any(verb);
            let generic = tokens.get(quantity.end).is_some_and(|token| token.is(Sense::Pieces));
            behind || led || generic
        };
        // "three euros in the shop" may be of anything there.
        let shop = fact.topic == Topic::Basket && !self.hearing.cue(quantity, Cue::Basket, 12, 8);
        let at_once = heard.noun == Noun::AtATime;
        let counted = fact.topic == Topic::Pieces && (at_once || heard.noun == Noun::Pieces && !made());
        // "three hundred and sixty-five days" are of no step of minutes, thirty kilos of no pinch.
        let said = heard.kind.map(|kind| Said::of(quantity, kind, self.truth).base(&quantity.low));
        let loose =
            (chosen.cost > TOLD || chosen.mention.is_none()) && !matches!(heard.kind, Some(Kind::Money | Kind::Count));
        let misheard = heard.kind.is_some_and(|kind| {
            let said = Said::of(quantity, kind, self.truth);
            fact.values.iter().any(|value| said.misheard(value))
        });
        let vast = said.filter(|_| loose && !misheard).is_some_and(|said| {
            let times = Exact::from(match heard.kind {
                Some(Kind::Duration) => 24,
                Some(Kind::Temperature) => 6,
                _ => 15,
            });
            fact.values.iter().all(|value| said > value.high() * &times || &said * &times < *value.low())
        });
        // "thirty euros for a fancy one": what no word says is the dish's is near its own, or was misheard.
        let odd = chosen.cost >= 100 && self.is_odd_sum(heard, fact);
        shop || odd
            || vast
            || self.is_chatter(heard)
            || chosen.why == near::TOLD_ALREADY
            || heard.is_one() && (apart || chosen.why == near::SPOKEN_OF)
            || idle
            || counted
    }

    /// Whether money is far from all that a dish or a piece of it costs, and was not misheard either.
    pub(super) fn is_odd_sum(&self, heard: &Heard, fact: &Fact) -> bool {
        let sum = matches!(fact.topic, Topic::CostTotal | Topic::CostEach | Topic::Basket);
        let paid = heard.kind.filter(|_| sum).map(|kind| Said::of(&heard.quantity, kind, self.truth));
        paid.is_some_and(|paid| {
            let said = paid.base(&heard.quantity.low);
            let far = |value: &Value| said > value.high() * Exact::from(2) || &said * Exact::from(2) < *value.low();
            fact.values.iter().all(|value| far(value) && !paid.misheard(value))
        })
    }

    /// Whether the words around are those of talk: "don't stand there for an hour", "two metres
    /// of bench", "one lemon squeezer", "the knife is twenty centimetres".
    fn is_chatter(&self, heard: &Heard) -> bool {
        let quantity = &heard.quantity;
        let (tokens, tape) = (self.hearing.tokens, self.hearing.tape());
        let plain = |at: usize| {
            let token = tokens.get(at).filter(|token| token.gap == Gap::None && token.senses.is_empty());
            token.is_some() && self.hearing.mention_at[at].is_none() && !self.hearing.is_of_the_method(at)
        };
        match heard.kind {
            Some(Kind::Duration | Kind::Temperature | Kind::Length) => {
                let clause =
                    (quantity.start.saturating_sub(6)..quantity.start).rev().take_while(|&at| tape.flows(at + 1));
                let denied = clause.into_iter().any(|at| tokens[at].is(Sense::Not));
                let of_else = self.hearing.after_of(quantity.end).is_some_and(|of| plain(of) || plain(of + 1));
                let of = self.hearing.after_of(quantity.end);
                let of_this = of.is_some_and(|of| tape.is(of - 1, Sense::This) && heard.kind == Some(Kind::Duration));
                let short = [Unit::Minute, Unit::Second].map(|unit| Some(SaidUnit::Unit(unit)));
                let moment = short.contains(&quantity.unit) && heard.is_one() && !self.hearing.is_said_to_last(heard);
                moment
                    || denied
                    || (of_else || of_this) && heard.kind != Some(Kind::Temperature)
                    || self.hearing.has_own_subject(quantity)
            }
            Some(Kind::Count) => {
                let Noun::Mention(mention) = heard.noun else { return false };
                heard.is_one() && plain(self.hearing.mentions[mention].end)
            }
            // "less than a bus ticket, which is two euros twenty"
            Some(Kind::Money) => {
                let clause = (quantity.start.saturating_sub(9)..quantity.start).rev();
                let mut sentence = clause.take_while(|&at| tokens[at + 1].gap != Gap::Sentence);
                sentence.any(|at| tokens[at].is(Sense::Than) && tape.next_is(at + 1, Sense::Article))
            }
            Some(Kind::Weight | Kind::Volume | Kind::Percent) | None => false,
        }
    }
}
