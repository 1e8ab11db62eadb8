//! How sure a link must be before what differs is said to differ: a wrong alarm costs more trust than a number that is
//! left unplaced. Must not know how it is shown.

use super::candidates::Candidate;
use super::claim::Maker;
use super::hear::{Heard, Noun};
use super::hint::Hint;
use super::judge::Said;
use super::lexicon::{Cue, SaidUnit, Sense};
use super::mention::Named;
use super::money;
use super::near;
use super::quantity::Quantity;
use super::supposed;
use super::token::{Gap, Token};
use crate::exact::{Exact, Unit};
use crate::sheet::{Fact, Kind, Topic};

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
        self.uncertain(heard, chosen).is_none()
    }

    /// Why a link is not sure enough to say that something differs.
    pub(super) fn uncertain(&self, heard: &Heard, chosen: &Candidate) -> Option<&'static str> {
        let kind = heard.kind.unwrap_or(Kind::Count);
        // Without its unit a number of heat or size is less certain to be one.
        let unsure =
            matches!(kind, Kind::Length | Kind::Temperature) && heard.carried && !self.hearing.near_heat(heard);
        let lasting = kind == Kind::Duration && self.hearing.is_said_to_last(heard);
        let spoken_of = chosen.why == near::SPOKEN_OF;
        // "Nineteen seconds, then flip.": a number that sounds like the right one, or is it in another unit, is hardly of
        // anything else.
        let slip = |fact| self.is_misheard(heard, fact) || self.is_of_another_unit(heard, fact);
        let misheard = !heard.carried && chosen.fact(self.truth).is_some_and(slip);
        let most = far_fetched(kind)
            .saturating_sub(if unsure { UNSURE } else { 0 })
            .saturating_add(if lasting { UNSURE } else { 0 })
            .saturating_add(if spoken_of { LOOSE } else { 0 })
            .saturating_add(if misheard { UNSURE } else { 0 });
        if chosen.cost > most { Some("too much speaks against it") } else { self.doubt(heard, chosen) }
    }

    /// What makes a link too weak to say that something differs, however little speaks against it.
    fn doubt(&self, heard: &Heard, chosen: &Candidate) -> Option<&'static str> {
        let quantity = &heard.quantity;
        let tokens = self.hearing.tokens;
        // "A tablespoon." of what another sentence spoke of
        let apart = chosen.why != near::HEADING
            && chosen.mention.is_some_and(|mention| {
                let end = self.hearing.mentions[mention].end;
                (end..=quantity.start).any(|at| tokens[at].gap == Gap::Sentence)
            });
        // "the flours are three", "room four"
        let few = quantity.high < Exact::from(10) && quantity.high.is_whole();
        let fact = chosen.fact(self.truth)?;
        // "onion's nine": of the name that it stands right behind it is something.
        let beside = chosen.mention.is_some_and(|mention| {
            self.hearing.mentions[mention].end == quantity.start && self.hearing.tape().flows(quantity.start)
        });
        let small = matches!(heard.kind, Some(Kind::Weight | Kind::Volume | Kind::Percent));
        let idle = heard.carried && few && small && !beside;
        // "three euros in the shop" may be of anything there.
        let spent = self.hearing.is_spent(quantity);
        let shop = fact.topic == Topic::Basket
            && !spent
            && !self.hearing.cue(quantity, Cue::Basket, 12, 8)
            && !self.is_misheard(heard, fact);
        // "the mash scoop's eighty, oil on"
        let of_else = heard.carried
            && quantity.start.checked_sub(1).is_some_and(|at| {
                let plain =
                    tokens[at].contracted && tokens[at].senses.is_empty() && self.hearing.mention_at[at].is_none();
                plain && !self.hearing.has_topic(at)
            });
        let at_once = heard.noun == Noun::AtATime;
        let counted = fact.topic == Topic::Pieces && (at_once || heard.noun == Noun::Pieces && !self.is_made(quantity));
        // "thirty euros for a fancy one": what no word says is the dish's is near its own, or was misheard.
        let odd = chosen.cost >= 0 && self.is_odd_sum(heard, fact);
        let sum = matches!(fact.topic, Topic::CostTotal | Topic::CostEach | Topic::Basket);
        // "from an empty kitchen it's seventeen seventy at the register"
        let till = fact.topic == Topic::Basket && self.hearing.cue(quantity, Cue::Basket, 0, 4);
        // "so total on the invoice, 4 pounds 74"
        let total = (quantity.start.saturating_sub(5)..quantity.start).any(|at| tokens[at].hints(Hint::Lot));
        let of_the_lot = chosen.why == money::OF_THE_LOT || total;
        let heat = matches!(heard.kind, Some(Kind::Temperature | Kind::Duration));
        let doubts: [(&'static str, &dyn Fn() -> bool); 20] = [
            ("it is what the rest costs", &|| sum && self.is_of_the_rest(heard)),
            (supposed::ONE_OF_AN_INGREDIENT, &|| self.is_price_of_one(heard)),
            ("anything in a shop may cost so much", &|| shop),
            ("it is far from all that the dish costs", &|| odd),
            ("it is exactly right of something else", &|| self.is_right_of_another(heard, chosen, fact)),
            ("the clause is of another place", &|| sum && !till && !of_the_lot && self.is_of_a_place(heard)),
            ("it is only supposed", &|| (heat || fact.topic == Topic::Pieces) && self.is_supposed(heard)),
            (supposed::ANOTHER_SIZE, &|| self.is_of_another_size(heard)),
            (supposed::OTHER_FOOD, &|| self.is_substitute(heard)),
            ("it is far too many", &|| self.is_too_many(heard, fact)),
            ("it is of another size altogether", &|| {
                let unit = fact.topic == Topic::Line && self.is_of_another_unit(heard, fact);
                !unit && self.is_vast(heard, chosen, fact)
            }),
            ("all that it is reckoned by is a hundred percent", &|| self.is_all_of_the_basis(heard, fact)),
            ("it is chatter", &|| fact.topic != Topic::Pan && self.is_chatter(heard)),
            ("how many there are has been said", &|| {
                heard.kind == Some(Kind::Count) && heard.is_one() && self.is_told(fact)
            }),
            ("its name has its number", &|| chosen.why == near::TOLD_ALREADY && !self.is_misheard(heard, fact)),
            ("one is said of anything", &|| quantity.lone_one && heard.carried && heard.noun == Noun::None && !beside),
            ("one is said of anything", &|| heard.is_one() && (apart || chosen.why == near::SPOKEN_OF)),
            ("it is too little to be of anything", &|| idle),
            ("it has a subject of its own", &|| of_else),
            ("pieces are counted for another reason", &|| counted),
        ];
        doubts.iter().find(|(_, holds)| holds()).map(|(why, _)| *why)
    }

    /// "all the flour together is always a hundred percent", where a line is only some of it.
    fn is_all_of_the_basis(&self, heard: &Heard, fact: &Fact) -> bool {
        let all = heard.kind == Some(Kind::Percent) && heard.quantity.low == Exact::from(100);
        all && fact.topic == Topic::Line && fact.thing.is_some_and(|thing| self.truth.things[thing].basis)
    }

    /// "and the rest is a dollar fifty-three": what some of the lines cost together.
    fn is_of_the_rest(&self, heard: &Heard) -> bool {
        let start = heard.quantity.start;
        let rest = |at: usize| self.hearing.tokens[at].is(Sense::Left) || self.hearing.hints(at, Hint::Other);
        let each = self.hearing.tape().next_is(heard.quantity.end, Sense::Each);
        !each && (start.saturating_sub(3)..start).any(|at| rest(at) && self.hearing.tokens[at + 1].is(Sense::Is))
    }

    /// "the lemons are one euro five, so that's 35 cents each": whether it is what one of an ingredient costs that has just
    /// been named. What that comes to tells, as the dish's own pieces have a price too.
    fn is_price_of_one(&self, heard: &Heard) -> bool {
        let (start, end) = (heard.quantity.start, heard.quantity.end);
        let price = |thing: usize| {
            let of = |topic, kind| {
                let mut facts = self.truth.facts.iter();
                let fact = facts.find(|fact| fact.thing == Some(thing) && fact.topic == topic && fact.kind == kind);
                fact.and_then(|fact| fact.values.first())
            };
            of(Topic::CostLine, Kind::Money)?.low().over(of(Topic::Line, Kind::Count)?.low())
        };
        let said = Said::of(&heard.quantity, Kind::Money, self.truth);
        let comes_to = |named: &Named| match named {
            Named::Thing(thing) => {
                price(*thing).is_some_and(|price| (price - said.base(&heard.quantity.low)).abs() < Exact::ratio(1, 100))
            }
            Named::Other(..) | Named::Part(_) | Named::Piece => false,
        };
        let rate = [Sense::Each, Sense::Article, Sense::Per];
        let rate = rate.iter().any(|sense| self.hearing.tape().next_is(end, *sense))
            || start.checked_sub(1).is_some_and(|at| self.hearing.tokens[at].is(Sense::At));
        heard.kind == Some(Kind::Money)
            && rate
            && (start.saturating_sub(14)..(end + 4).min(self.hearing.mention_at.len())).any(|at| {
                let mention = self.hearing.mention_at[at].map(|mention| &self.hearing.mentions[mention]);
                mention.is_some_and(|mention| mention.named.iter().any(|(named, _)| comes_to(named)))
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
                // "tacky, not sticky: chill it fifteen minutes" denies something else.
                let work =
                    |at: usize| [Sense::Lasts, Sense::Heat, Sense::Divides].iter().any(|sense| tokens[at].is(*sense));
                // "now, not later, it's nineteen seconds" begins anew.
                let anew = |at: usize| self.hearing.hints(at, Hint::ItIs) && tokens[at].contracted;
                let own = |at: usize| work(at) || self.hearing.mention_at[at].is_some() || anew(at);
                // "on the side, not in the fridge, sixteen degrees" denies the place.
                let place = |at: usize| tokens[at + 1].is(Sense::Inside) && at + 3 < quantity.start;
                // "stir it till you can't see it any more, about forty minutes"
                let till = |at: usize| (at.saturating_sub(3)..at).any(|at| tokens[at].is(Sense::Until));
                // "we all know whose jar that was, don't we, coins five centimetres thick"
                let asks = |at: usize| tokens[at + 1].hints(Hint::We) || tokens[at + 1].is(Sense::Pronoun);
                let denies = |at: usize| tokens[at].is(Sense::Not) && !place(at) && !till(at) && !asks(at);
                let denied = clause.into_iter().take_while(|&at| !own(at)).any(denies);
                // "don't let anybody at them for ten minutes" is a wait.
                let left = |at: usize| tokens[at].hints(Hint::LeftAlone);
                let left = tape.is(quantity.start.saturating_sub(1), Sense::For)
                    && (quantity.start.saturating_sub(6)..quantity.start).any(left);
                let denied = denied && !left;
                let of_else = self.hearing.after_of(quantity.end).is_some_and(|of| plain(of) || plain(of + 1));
                let of = self.hearing.after_of(quantity.end);
                let of_this = of.is_some_and(|of| tape.is(of - 1, Sense::This) && heard.kind == Some(Kind::Duration));
                let short = [Unit::Minute, Unit::Second].map(|unit| Some(SaidUnit::Unit(unit)));
                let moment = short.contains(&quantity.unit) && heard.is_one() && !self.hearing.is_said_to_last(heard);
                // "i'm going to shut my eyes for five"
                let body = heard.carried
                    && heard.kind == Some(Kind::Duration)
                    && (quantity.start.saturating_sub(3)..quantity.start).any(|at| tokens[at].is(Sense::Alien));
                moment
                    || denied
                    || body
                    || (of_else || of_this) && heard.kind != Some(Kind::Temperature)
                    || self.hearing.has_own_subject(quantity)
            }
            Some(Kind::Count) => {
                let Noun::Mention(mention) = heard.noun else { return false };
                // "the boy was looking at me, one lemon": one is said of anything.
                let named = |at: usize| self.hearing.mention_at[at].is_some() || tokens[at].is(Sense::Needs);
                let told = (quantity.start.saturating_sub(4)..quantity.start).any(named);
                heard.is_one() && (!told || plain(self.hearing.mentions[mention].end))
            }
            // "less than a bus ticket, which is two euros twenty"
            Some(Kind::Money) => {
                let clause = (quantity.start.saturating_sub(9)..quantity.start).rev();
                let mut sentence = clause.take_while(|&at| tokens[at + 1].gap != Gap::Sentence);
                sentence.any(|at| tokens[at].is(Sense::Than) && tape.next_is(at + 1, Sense::Article))
            }
            // "they're 60 % wrapper"
            Some(Kind::Percent) => {
                let ends = tokens.get(quantity.end + 1).is_none_or(|token| token.gap != Gap::None);
                let topic = |token: &Token| !self.hearing.lexicon.cues(&token.text).is_empty();
                plain(quantity.end) && ends && !tokens.get(quantity.end).is_some_and(topic)
            }
            Some(Kind::Weight | Kind::Volume) | None => false,
        }
    }

    /// Whether a count is of what is made: a verb of making tells it. "That's for two jars" and "I've eaten two squares"
    /// name the pieces and tell nothing of how many there are.
    fn is_made(&self, quantity: &Quantity) -> bool {
        let (tokens, tape) = (self.hearing.tokens, self.hearing.tape());
        let piece = |at: usize| self.hearing.is_piece_at(at);
        let behind = (quantity.end..quantity.end + 3).take_while(|&at| tape.flows(at)).any(piece);
        let bakes =
            |at: usize| tokens[at].hints(Hint::Bakes) || tokens[at].hints(Hint::Recipe) && tape.is(at + 1, Sense::For);
        let verb = |at: usize| tokens[at].is(Sense::Makes) || tokens[at].is(Sense::Divides) || bakes(at);
        // "somebody's gran made sixty" tells of somebody.
        let stranger = |at: usize| {
            let subject = at.checked_sub(1).map(|before| &tokens[before]).filter(|_| tape.flows(at));
            let will = self.hearing.lexicon.language.will;
            let plain = subject.is_some_and(|token| token.senses.is_empty() && !will(&token.text));
            let known = || self.hearing.mention_at[at - 1].is_some() || self.hearing.is_of_the_method(at - 1);
            plain && tokens[at].hints(Hint::Made) && !known()
        };
        // "Twelve rolls.": a sentence of its own.
        let alone = tokens[quantity.start].gap == Gap::Sentence
            && (quantity.end + 1..quantity.end + 4)
                .find(|&at| tokens.get(at).is_none_or(|t| t.gap == Gap::Sentence))
                .is_some_and(|ends| piece(ends - 1));
        // "you'll want two jars"
        let wanted = behind
            && (quantity.start.saturating_sub(2)..quantity.start).any(|at| tokens[at].is(Sense::Wants))
            && (quantity.start.saturating_sub(4)..quantity.start).any(|at| tokens[at].is(Sense::Speaker));
        let named = behind || tokens.get(quantity.end).is_some_and(|token| token.is(Sense::Pieces));
        let clause = (quantity.start.saturating_sub(if named { 6 } else { 3 })..quantity.start)
            .rev()
            .take_while(|&at| tokens[at + 1].gap != Gap::Sentence && !self.hearing.stops(at));
        // "so all told that's eighteen farls", "you'll have six bottles"
        let told = |back: usize, holds: &dyn Fn(&Token) -> bool| {
            quantity.start.checked_sub(back).is_some_and(|at| holds(&tokens[at]) && tape.flows(at + 1))
        };
        let so = (2..=4).any(|back| told(back, &|token| token.hints(Hint::So) || token.hints(Hint::All)));
        let summed = told(1, &|token| token.hints(Hint::ItIs)) && so;
        let will = self.hearing.lexicon.language.will;
        let coming = told(1, &|token| token.hints(Hint::LeadsAVerb)) && told(2, &|token| will(&token.text));
        let counted = behind && (summed || coming);
        alone || wanted || counted || clause.into_iter().any(|at| verb(at) && !stranger(at))
    }

    /// Whether a clause goes by a place of its own: "at the gas station they're a dollar ninety-nine".
    fn is_of_a_place(&self, heard: &Heard) -> bool {
        let quantity = &heard.quantity;
        let tokens = self.hearing.tokens;
        let place = |at: usize| {
            let led = tokens[at].is(Sense::Inside) || tokens[at].is(Sense::From) || tokens[at].hints(Hint::Outdoors);
            let the = tokens
                .get(at + 1)
                .filter(|t| t.gap == Gap::None)
                .is_some_and(|t| t.is(Sense::Article) || t.hints(Hint::The));
            let noun = tokens.get(at + 2).filter(|t| t.gap == Gap::None && t.text.len() > 3);
            let plain =
                noun.is_some_and(|token| (token.senses.is_empty() || token.is(Sense::Alien)) && token.digits.is_none());
            let known = || {
                self.hearing.mention_at[at + 2].is_some()
                    || self.hearing.is_of_the_method(at + 2)
                    || !self.hearing.lexicon.cues(&tokens[at + 2].text).is_empty()
                    // "11 77 on the nose" is exact and no place.
                    || tokens[at + 2].hints(Hint::Exactly)
            };
            led && the && plain && !known()
        };
        let before = (quantity.start.saturating_sub(12)..quantity.start)
            .rev()
            .take_while(|&at| tokens[at + 1].gap != Gap::Sentence && !self.hearing.stops(at));
        // Where sentences have their marks, all of one is of its place.
        let marked = (quantity.end..(quantity.end + 8).min(tokens.len())).any(|at| tokens[at].gap == Gap::Sentence);
        let reach = if marked { 6 } else { 3 };
        let behind =
            (quantity.end..(quantity.end + reach).min(tokens.len())).take_while(|&at| tokens[at].gap == Gap::None);
        // "a dollar fifty-eight a loaf, in the city I paid nine dollars": a place with a price of its own is of that.
        let next = self.hearing.heard.partition_point(|next| next.quantity.start < quantity.end);
        let own = self.hearing.heard.get(next).is_some_and(|next| {
            let price = next.kind == Some(Kind::Money) || next.kind.is_none() && next.quantity.short.is_some();
            price && next.quantity.start - quantity.end <= 12
        });
        before.chain(behind.filter(|_| !own)).any(place)
    }
}
