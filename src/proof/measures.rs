//! Measures of the method that a number may be: heat, time, size and what is filled, by the words around. Never looks at a
//! value.

use super::candidates::List;
use super::context::Likeness;
use super::hear::Noun;
use super::hint::Hint;
use super::judge::Said;
use super::lexicon::{Cue, SaidUnit, Sense};
use super::token::Gap;
use crate::exact::{Exact, Unit};
use crate::sheet::{Fact, Kind, Topic};

impl List<'_, '_> {
    /// "I got my dutch oven, five quarts", "a pan of at least four litres": how much a pot holds.
    pub(super) fn is_of_a_pot(&self) -> bool {
        let quantity = self.quantity();
        let litres = [Unit::Litre, Unit::Quart, Unit::Gallon, Unit::Pint].map(SaidUnit::Unit);
        let large = quantity.unit.is_some_and(|unit| litres.contains(&unit));
        let pot = |at: usize| self.hearing.hints(at, Hint::Oven) || self.hearing.tells(at, Cue::Pan);
        // "Right, pan of water. Four litres, and let it boil.": the sentence before that of a number that opens one
        let ends = |at: usize| at != quantity.start && self.hearing.tokens[at].gap == Gap::Sentence;
        let before = (quantity.start.saturating_sub(6)..quantity.start)
            .rev()
            .take_while(|&at| !ends(at + 1) && !self.hearing.stops(at));
        let behind = (quantity.end..(quantity.end + 2).min(self.hearing.tokens.len()))
            .take_while(|&at| self.hearing.tape().flows(at));
        let tape = self.hearing.tape();
        let free = self.hearing.after_of(quantity.end).is_none();
        // "big pot, four litres of water, and when it rolls"
        let right_before = (quantity.start.saturating_sub(2)..quantity.start).any(pot);
        // "they hold 8 fluid ounces each", "each of mine takes 8 fluid ounces", "in a glass fit 200 millilitres"
        let clause = (quantity.start.saturating_sub(4)..quantity.start).rev().take_while(|&at| tape.flows(at + 1));
        let filled = clause.into_iter().any(|at| {
            tape.is(at, Sense::Each) || self.hearing.hints(at, Hint::Contains) || self.hearing.tells(at, Cue::Glass)
        });
        let filled = filled && free && self.kind == Kind::Volume;
        filled || large && (free || right_before) && before.chain(behind).any(pot)
    }

    /// Whether oil or a pan is spoken of before, past another size too: "now, the pot: it is nine inches across".
    fn is_near_oil(&self) -> bool {
        let start = self.quantity().start;
        (start.saturating_sub(14)..start)
            .any(|at| self.hearing.tells(at, Cue::Oil) || self.hearing.tells(at, Cue::Pan) && start - at <= 5)
    }

    fn said_in_base(&self) -> Exact {
        Said::of(self.quantity(), self.kind, self.truth).base(&self.quantity().low)
    }

    /// Who says days is not speaking of minutes, by the unit alone; nor who says what is well below the boil of an oven.
    fn of_another_scale(&self, fact: &Fact) -> i32 {
        if self.kind == Kind::Temperature {
            let said = self.said_in_base();
            let (boil, hot) = (Exact::from(100), Exact::from(120));
            let cool = said < boil && fact.values.iter().all(|value| *value.low() > hot);
            let much = said > hot && fact.values.iter().all(|value| *value.high() < boil);
            return if cool || much { 40 } else { 0 };
        }
        // "it simmers an hour and a quarter, and you stir every ten minutes"
        let hour = Exact::from(3600);
        if self.kind == Kind::Duration
            && self.said_in_base() >= hour
            && self.quantity().unit == Some(SaidUnit::Unit(Unit::Hour))
        {
            let short = fact.values.iter().all(|value| value.high() * Exact::from(4) < hour);
            return if short { 80 } else { 0 };
        }
        let Some(SaidUnit::Unit(Unit::Day | Unit::Minute | Unit::Second) | SaidUnit::Days(_)) = self.quantity().unit
        else {
            return 0;
        };
        let days = matches!(self.quantity().unit, Some(SaidUnit::Unit(Unit::Day) | SaidUnit::Days(_)));
        let day = Exact::from(86_400);
        let other = match days {
            true => fact.values.iter().all(|value| value.high() * Exact::from(2) < day),
            false => fact.values.iter().all(|value| *value.low() >= day),
        };
        if other { 80 } else { 0 }
    }

    /// What speaks for the one duration that is told in hours, or in days: "they keep six days" can be of no other.
    fn only_of_its_scale(&self, index: usize) -> i32 {
        let hour = Exact::from(3600);
        let day = Exact::from(86_400);
        let (least, most) = match self.quantity().unit {
            Some(SaidUnit::Unit(Unit::Hour)) => (&hour, &day),
            Some(SaidUnit::Unit(Unit::Day) | SaidUnit::Days(_)) => (&day, &(&day * Exact::from(400))),
            Some(_) | None => return 0,
        };
        let of_scale = |fact: &&Fact| {
            let duration = fact.topic == Topic::Measure && fact.kind == Kind::Duration;
            duration && fact.values.iter().any(|value| value.high() >= least && value.high() < most)
        };
        let fact = &self.truth.facts[index];
        let mut all = self.truth.facts.iter().filter(of_scale);
        if of_scale(&fact) && all.all(|other| other.about == fact.about) { 40 } else { 0 }
    }

    /// "60 mL of water", where the method says "60 mL of water" of what is poured then and is none of the formula's.
    fn is_of_what_the_method_names(&self, fact: &Fact) -> bool {
        let Some(around) = &fact.around else { return false };
        let after = super::token::folded(&around.after);
        let end = self.quantity().end;
        let at = self.hearing.after_of(end).unwrap_or(end);
        let mut words = after.split_whitespace();
        let of = words.next().is_some_and(|word| self.hearing.lexicon.senses(word).contains(&Sense::Of));
        let noun = words.next().filter(|_| of);
        let said = self.hearing.stems.get(at).filter(|_| self.hearing.tape().flows(at));
        noun.is_some_and(|noun| said.is_some_and(|said| *said == (self.hearing.lexicon.language.stem)(noun)))
    }

    /// "from a 40 millimetre nozzle", "nozzle is 40 millimetres", where the method says "14 mm nozzle": a size that stands
    /// beside the noun of that measure is of no other, and least of one that it is right of.
    fn is_of_its_noun(&self, fact: &Fact) -> bool {
        if self.kind != Kind::Length {
            return false;
        }
        let after = fact.around.as_ref().map(|around| super::token::folded(&around.after)).unwrap_or_default();
        let noun = after.split_whitespace().next().filter(|word| {
            word.chars().count() > 3
                && self.hearing.lexicon.senses(word).is_empty()
                && self.hearing.lexicon.cues(word).is_empty()
        });
        let Some(noun) = noun.map(|noun| (self.hearing.lexicon.language.stem)(noun)) else { return false };
        let (start, end) = (self.quantity().start, self.quantity().end);
        let said = |at: usize| self.hearing.stems.get(at).is_some_and(|said| *said == noun);
        let is = start > 1 && self.hearing.tape().next_is(start - 1, Sense::Is);
        self.hearing.tape().flows(end) && said(end) || is && said(start - 2)
    }

    /// Measures of the steps, by the words around them.
    pub(super) fn measures(&mut self, likeness: &Likeness) {
        let package =
            [Sense::Package, Sense::Sort].iter().any(|s| self.hearing.tape().next_is(self.quantity().end, *s));
        let package = package || self.is_of_a_pot();
        // "they hold eight fluid ounces apiece"
        let start = self.quantity().start;
        let held = (start.saturating_sub(3)..start).any(|at| self.hearing.tokens[at].is(Sense::Holds))
            || self.hearing.tape().next_is(self.quantity().end, Sense::Each);
        // Also "a hundred and forty, if you've got a fan".
        let end = self.quantity().end;
        let fan = (end..(end + 6).min(self.hearing.tokens.len()))
            .take_while(|&at| self.hearing.tokens[at].gap != Gap::Sentence && !self.hearing.stops(at))
            .any(|at| self.hearing.tells(at, Cue::OtherOven));
        let other_oven = self.kind == Kind::Temperature && (fan || self.cue(Cue::OtherOven, 2, 6));
        for index in 0..self.truth.facts.len() {
            let fact = &self.truth.facts[index];
            if fact.kind != self.kind || fact.topic != Topic::Measure {
                continue;
            }
            let words = likeness.facts.get(&index).copied().unwrap_or(0);
            let step = fact.steps.first().and_then(|step| likeness.steps.get(step)).copied().unwrap_or(0);
            let fan = fact.around.as_ref().is_some_and(|around| {
                let fan = |word: &str| self.hearing.lexicon.cues(word).contains(&Cue::OtherOven);
                super::token::folded(&around.sentence).split_whitespace().any(fan)
            });
            let cost = match (self.kind, self.heard.noun) {
                (Kind::Count, Noun::AtATime) => 20,
                (Kind::Count, Noun::Pieces) => 330,
                (Kind::Count, Noun::Mention(_)) => 390,
                (Kind::Count, _) => 280,
                (Kind::Volume, _) if package || held => 100,
                (Kind::Weight, _) if package => 150,
                (Kind::Weight | Kind::Volume, _) if self.is_of_what_the_method_names(fact) => 60,
                (Kind::Weight | Kind::Volume, _) => 330,
                _ if other_oven && !fan => 600,
                (Kind::Temperature, _) => 300,
                _ => 260,
            };
            // "30 by 40 centimetres": of two sides the second stands behind "by" in the method too.
            let by = |word: &str| self.hearing.lexicon.senses(word).contains(&Sense::By);
            let second = fact.around.as_ref().is_some_and(|around| {
                super::token::folded(&around.before).split_whitespace().next_back().is_some_and(by)
            });
            let side = self.kind == Kind::Length && start > 1 && self.hearing.tape().next_is(start - 1, Sense::By);
            let side = side && self.hearing.quantity_at[start - 2].is_some();
            let cost = cost - if side && second { 60 } else { 0 } - if self.is_of_its_noun(fact) { 400 } else { 0 };
            // Who says a range has a range in mind.
            let value = &fact.values[0];
            let form = if self.quantity().low < self.quantity().high && value.low() == value.high() { 40 } else { 0 };
            self.push(
                index,
                cost + form + self.of_another_scale(fact) - self.only_of_its_scale(index) - words - step,
                "the words around are those of the method",
            );
        }
        if self.kind == Kind::Length {
            let (pan, across) = (self.cue(Cue::Pan, 6, 4), self.cue(Cue::Across, 0, 3));
            let comma = self.hearing.tokens[self.quantity().start].gap != Gap::None;
            // "four centimetres, pan is twenty-two": the pan has a number of its own.
            let end = self.quantity().end;
            let own = !self.cue(Cue::Pan, 3, 0)
                && (end + 1..end + 5).any(|at| {
                    let next = self.hearing.quantity_at.get(at + 1).copied().flatten();
                    let length =
                        next.is_some_and(|next| matches!(self.hearing.heard[next].kind, Some(Kind::Length) | None));
                    self.hearing.tape().is(at, Sense::Is) && length
                });
            // "big heavy pan, it's the twenty centimetre one"
            let one = self.hearing.tape().next_is(end, Sense::Ones(1));
            // "a 10 inch pan and the oil is 2 inches", "heavy pan, 20 centimetres"; "oil in the pan four centimetres" is of its depth.
            let start = self.quantity().start;
            let filled = (start.saturating_sub(5)..start)
                .any(|at| self.hearing.tells(at, Cue::Oil) || self.hearing.tape().is(at, Sense::Into));
            let named = self.cue(Cue::Pan, 0, 1) && !self.hearing.tape().is(end + 1, Sense::Is);
            // "Now the pan. It's 22 centimetres."
            let opens = start > 1 && self.hearing.tape().is(start - 1, Sense::Is);
            let heading =
                opens && self.hearing.tokens[start - 1].gap == Gap::Sentence && self.hearing.tells(start - 2, Cue::Pan);
            // "a heavy pan of 20 cm", "the pan is 20 centimetres"
            let led = start > 1
                && [Sense::Is, Sense::Of].iter().any(|sense| self.hearing.tape().next_is(start - 1, *sense))
                && self.hearing.tells(start - 2, Cue::Pan)
                && !self.cue(Cue::Deep, 0, 2);
            let beside = heading || led || named || self.cue(Cue::Pan, 1, 0) && !filled && !self.cue(Cue::Deep, 0, 3);
            // "my skillet with the oil two inches"
            let oil = self.cue(Cue::Oil, 1, 0);
            if pan && (across || one)
                || beside
                || !own && self.cue(Cue::Pan, 0, 3) && !self.hearing.tape().is(end, Sense::Is)
            {
                self.topic(Topic::Pan, -80, "the pan is spoken of");
            } else if self.cue(Cue::Across, 0, 1) && !self.cue(Cue::Deep, 0, 2) && self.is_near_oil() {
                // "it's three inches deep and it's nine inches wide"
                self.topic(Topic::Pan, 60, "the pan is spoken of");
            } else if pan && !own && !comma && !oil && !self.cue(Cue::Deep, 3, 2) {
                self.topic(Topic::Pan, 60, "the pan is spoken of");
            }
            if self.cue(Cue::Deep, 8, 4) || self.cue(Cue::Oil, 8, 6) {
                self.topic(Topic::Depth, 250, "the depth of oil is spoken of");
            }
        }
    }
}
