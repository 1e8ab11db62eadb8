//! Whether a number is spoken of in the kitchen: what has no figure is a claim only where cooking is talked of, and chatter
//! elsewhere. Must not know what is true.

use super::{Heard, Hearing};
use crate::exact::Exact;
use crate::proof::hint::Hint;
use crate::proof::lexicon::{Cue, Role, Sense};
use crate::proof::mention::Named;
use crate::proof::quantity::Quantity;
use crate::proof::token::Gap;
use crate::sheet::Kind;

impl Hearing<'_> {
    /// Whether what surrounds a value makes it one of a dish, though no figure of this one answers to it.
    pub fn is_of_a_dish(&self, heard: &Heard, kind: Kind) -> bool {
        let quantity = &heard.quantity;
        match kind {
            // "a bag's a pound", "room four": too little to be of anything.
            Kind::Weight | Kind::Volume => {
                let few = heard.carried && quantity.high < Exact::from(10) && quantity.high.is_whole();
                let of = self.after_of(quantity.end).is_some();
                let added = (quantity.start.saturating_sub(6)..quantity.start)
                    .any(|at| self.tokens[at].is(Sense::Needs) && !self.tokens[at].is(Sense::Inside));
                // "honey, ten grams"
                let named = self.is_of_other_food(quantity.start);
                !few && (of || named || !heard.is_one() && (added || self.counts_food(quantity)))
            }
            Kind::Percent => self.after_of(quantity.end).is_some(),
            // "20 cents of power" is none of a line's, and told of the dish.
            Kind::Money => heard.foreign && !heard.is_one() || self.has_no_figure(quantity),
            Kind::Temperature | Kind::Duration | Kind::Length => {
                let work = [Sense::Lasts, Sense::Divides, Sense::Heat];
                (quantity.start.saturating_sub(4)..quantity.start)
                    .filter(|&at| (at + 1..=quantity.start).all(|at| self.tape().flows(at)))
                    .any(|at| work.iter().any(|sense| self.tokens[at].is(*sense)))
            }
            Kind::Count => self.counts_food(quantity),
        }
    }

    /// Whether a price is of what has no figure: what one costs less than another, and power.
    pub fn has_no_figure(&self, price: &Quantity) -> bool {
        self.is_gap(price) || self.is_of_power(price)
    }

    /// "20 cents of power", "15 cents for the electric", "the gas for that I put at 12p", "the oven costs me 60 cents".
    fn is_of_power(&self, quantity: &Quantity) -> bool {
        let (start, end) = (quantity.start, quantity.end);
        // "the stuff at the gas station" is sold there.
        let power = |at: usize| {
            // "with the gas on low" is a flame.
            let low = self.hints(at + 2, Hint::OfAFlame) && !self.hints(at + 2, Hint::The);
            let flame = self.hints(at + 1, Hint::On) && low;
            self.hints(at, Hint::Power) && !self.hints(at + 1, Hint::Station) && !flame
        };
        if self.counts_in_power(quantity, 9) {
            return false;
        }
        let of = self.after_of(end).is_some_and(power);
        let led = self.tape().flows(end) && self.tape().is(end, Sense::For);
        let led = led && (end + 1..end + 3).any(|at| self.tape().flows(at) && power(at));
        let quiet = |at: usize| {
            self.tokens[at + 1].gap != Gap::Sentence && self.mention_at[at].is_none() && self.quantity_at[at].is_none()
        };
        // "… the power if you're strict, so what's it come to" goes on with all of it, and "11p of gas, the shop took 20 66" with
        // the shopping.
        let sums = |at: usize| self.hints(at, Hint::So) || self.tells(at, Cue::Basket) || self.tells(at, Cue::Shop);
        let clause = (start.saturating_sub(9)..start).rev().take_while(|&at| quiet(at) && !sums(at));
        let subject = clause.into_iter().any(|at| {
            let oven = self.hints(at, Hint::Oven) || self.hints(at, Hint::Stove);
            let verb = self.tokens[at + 1].is(Sense::Cost) || self.hints(at + 1, Hint::Adds);
            // "the hob I've put down as 12p"
            // also "the oven i'd say 20p", "the oven, what's that, thirty cents"
            let guess = self.hints(at + 1, Hint::IWould) || self.tokens[at + 1].is(Sense::What);
            let told = self.tokens[at + 1].is(Sense::Speaker) || self.hints(at + 1, Hint::WeHave) || guess;
            let costs = oven && (start - at <= 4 && verb || start - at <= 6 && told);
            power(at) || costs
        });
        of || led || subject
    }

    /// "with the energy it's 4.26", "4.26 including gas": whether power is counted in what a price is told of, so far behind.
    pub fn counts_in_power(&self, price: &Quantity, behind: usize) -> bool {
        let clause = (price.start.saturating_sub(behind)..price.start).rev();
        let before = clause.take_while(|&at| self.tokens[at + 1].gap != Gap::Sentence);
        let after = (price.end..price.end + 4).take_while(|&at| self.tape().flows(at));
        // "boot with gas i reckon is 20p on top" counts nothing in.
        let told = |at: usize| {
            let it = [Hint::It, Hint::ItIs].iter().any(|hint| self.hints(at + 1, *hint));
            at + 1 == price.start || it || self.tokens[at + 1].gap != Gap::None
        };
        before.into_iter().any(|at| self.counts_in_power_at(at) && told(at))
            || after.into_iter().any(|at| self.counts_in_power_at(at))
    }

    fn counts_in_power_at(&self, at: usize) -> bool {
        let the = at > 0 && (self.tokens[at - 1].is(Sense::Determiner) || self.hints(at - 1, Hint::The));
        let led = at.checked_sub(if the { 2 } else { 1 });
        self.hints(at, Hint::Power) && led.is_some_and(|led| self.hints(led, Hint::CountsIn))
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
        let told =
            |back: usize, sense: Sense| quantity.start.checked_sub(back).is_some_and(|at| self.tokens[at].is(sense));
        // "get it to 157 degrees", "walk away for 18 minutes"
        let brought = told(1, Sense::To) && (told(2, Sense::Pronoun) || told(2, Sense::Them)) && told(3, Sense::Raises);
        let away = quantity.start.checked_sub(2).is_some_and(|at| self.hints(at, Hint::Away));
        if brought || told(1, Sense::For) && away && self.hints(quantity.start.saturating_sub(3), Hint::Walks) {
            return true;
        }
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

    /// How far a word stands that tells what frying takes up: "the rings drink eighty grams", "fifty grams soak in".
    pub fn taken_up(&self, quantity: &Quantity) -> Option<usize> {
        let word = |at: usize| {
            // "it takes eighty grams" is of anything.
            self.tells(at, Cue::TakesUp) && (!self.hints(at, Hint::Takes) || self.hints(at + 1, Hint::Up))
        };
        let before = (quantity.start.saturating_sub(6)..quantity.start)
            .rev()
            .take_while(|&at| self.tokens[at + 1].gap != Gap::Sentence && !self.stops(at))
            .position(word);
        let behind = (quantity.end..(quantity.end + 4).min(self.tokens.len()))
            .take_while(|&at| self.tokens[at].gap != Gap::Sentence && !self.stops(at))
            .position(word);
        before.into_iter().chain(behind).min()
    }

    /// Whether a name is of something that is counted and not weighed.
    pub fn is_counted(&self, mention: usize) -> bool {
        self.mentions[mention].named.iter().any(|(named, _)| match named {
            Named::Thing(thing) => self.truth.things[*thing].counted,
            Named::Other(other, thing) => {
                self.truth.others.get(*other).is_some_and(|truth| truth.things[*thing].counted)
            }
            Named::Piece | Named::Part(_) => false,
        })
    }

    /// Whether a piece of what is made is named at a token.
    pub fn is_piece_at(&self, at: usize) -> bool {
        let mention = self.mention_at.get(at).copied().flatten();
        mention.is_some_and(|mention| self.mentions[mention].named.iter().any(|(named, _)| *named == Named::Piece))
    }

    /// Whether a noun behind a number is counted that is none of the recipe's: "two hundred calories".
    pub fn counts_else(&self, at: usize) -> bool {
        self.tokens.get(at).is_some_and(|token| {
            let noun = token.senses.is_empty() && (self.lexicon.language.plural)(&token.text) || token.is(Sense::Alien);
            token.gap == Gap::None && noun && self.mention_at[at].is_none() && !self.method.contains(&self.stems[at])
        })
    }

    /// "twelve euros for the thermometer": for a thing that the recipe does not know.
    pub fn is_paid_for_else(&self, at: usize) -> bool {
        let on = self.tape().flows(at) && self.hints(at, Hint::On);
        let led = self.tape().next_is(at, Sense::For) || on;
        let the = self.tape().next_is(at + 1, Sense::Determiner) || self.tape().next_is(at + 1, Sense::Article);
        let noun = self.tokens.get(at + 2).filter(|token| {
            let light = [Sense::Common, Sense::OneOf, Sense::Pieces, Sense::Portion, Sense::Left, Sense::Filling];
            let odd = token.digits.is_some() || token.unit().is_some() || light.iter().any(|sense| token.is(*sense));
            token.gap == Gap::None && !odd
        });
        let whole = |at: usize| {
            let word = |k: usize| self.tokens.get(at + k).map(|token| token.text.as_str());
            // "the lot" and "the double lot"
            self.hints(at, Hint::Lot)
                || self.lexicon.phrase(word, |role| matches!(role, Role::Whole | Role::AllOfIt)).is_some()
        };
        // "for the pan" is for all that is in it.
        let pan = self.stems.get(at + 2).is_some_and(|stem| self.method.contains(stem))
            || noun.is_some_and(|noun| self.lexicon.cues(&noun.text).contains(&Cue::Pan));
        // "1 euro 69 for the loaf"
        let title = super::super::token::folded(&self.truth.title);
        let dish = noun.is_some_and(|noun| title.split_whitespace().any(|word| word == noun.text));
        // "oil's 1.34 for the share that's used"
        let share = self.hints(at + 2, Hint::SomeOfIt);
        let known = pan
            || dish
            || share
            || self.mention_at.get(at + 2).copied().flatten().is_some()
            || (at + 1..at + 4).any(whole);
        led && the && noun.is_some() && !known
    }

    /// Whether a thermometer, an oven or the like stands right beside a number.
    pub fn near_heat(&self, heard: &Heard) -> bool {
        let quantity = &heard.quantity;
        (quantity.start.saturating_sub(4)..quantity.start)
            .chain(quantity.end..(quantity.end + 4).min(self.tokens.len()))
            .any(|at| self.tokens[at].is(Sense::Heat))
            || self.heats_for_a_time(quantity.end)
            || self.is_at_for_a_time(quantity.start)
            || self.is_raised_to(quantity.start)
            || self.is_wanted_at(quantity.start)
    }

    /// "you want it at three hundred and sixty", "you want it over 185"
    pub fn is_wanted_at(&self, start: usize) -> bool {
        let is = |at: usize, sense: Sense| self.tokens[at].is(sense);
        let led = start.checked_sub(1).filter(|&at| self.tape().flows(start) && at > 1);
        let led = led.filter(|&at| is(at, Sense::At) || is(at, Sense::Above) || self.hints(at, Hint::Below));
        let raises = |at: usize| is(at, Sense::Raises) || is(at, Sense::Be);
        let it = led.is_some_and(|at| {
            let to = is(at - 2, Sense::To) || at > 2 && raises(at - 2) && is(at - 3, Sense::To);
            self.hints(at - 1, Hint::It) || is(at - 1, Sense::Heat) || raises(at - 1) && to
        });
        let wants = |at: usize| is(at, Sense::Wants) || self.hints(at, Hint::Have) || self.hints(at, Hint::Should);
        // "wait until it's under 65"
        let until = led.is_some_and(|at| {
            let its = self.hints(at - 1, Hint::ItIs) || is(at - 1, Sense::Be);
            self.hints(at, Hint::Below) && its && (at.saturating_sub(4)..at).any(|at| is(at, Sense::Until))
        });
        until || it && (start.saturating_sub(6)..start).any(wants)
    }

    /// "cheaper by nineteen pence", "I'm saving a dollar 19", "29 cents saved": what something costs less or more than another.
    pub(super) fn is_gap(&self, quantity: &Quantity) -> bool {
        let (start, end) = (quantity.start, quantity.end);
        let goes_on = self.tokens[start].gap != Gap::Sentence;
        let by = start > 1 && goes_on && self.tokens[start - 1].is(Sense::By);
        let by = by && self.hints(start - 2, Hint::Gap);
        // "you're saving better than two dollars"
        let quiet = |at: usize| self.tokens[at + 1].gap != Gap::Sentence && self.quantity_at[at].is_none();
        let clause = (start.saturating_sub(3)..start).rev().take_while(|&at| goes_on && quiet(at));
        let saves = clause.into_iter().any(|at| self.hints(at, Hint::Saves));
        // "beans 2 39, more lasses 1 13" goes on with a list.
        let listed = (end + 1..end + 3).any(|at| self.quantity_at.get(at).copied().flatten().is_some());
        // "a dollar 60 on top"
        let on_top = self.tape().flows(end) && self.hints(end, Hint::On) && self.hints(end + 1, Hint::Top);
        by || saves || on_top || self.tape().flows(end) && self.hints(end, Hint::Gap) && !listed
    }

    /// "forty minutes at a hundred and sixty"
    pub fn is_at_for_a_time(&self, start: usize) -> bool {
        let at = start > 1
            && self.tape().flows(start)
            && self.tokens[start - 1].is(Sense::At)
            && self.tape().flows(start - 1);
        let before = self.quantity_at.get(start.saturating_sub(2)).copied().flatten();
        at && before.is_some_and(|before| self.heard[before].kind == Some(Kind::Duration))
    }

    /// "get it up to 375", "you look for two hundred and forty"
    fn is_raised_to(&self, start: usize) -> bool {
        let led = start > 1 && self.tape().flows(start) && self.tokens[start - 1].is(Sense::For);
        if led && self.hints(start - 2, Hint::Looks) {
            return true;
        }
        let to = start.checked_sub(1).is_some_and(|at| self.tape().flows(start) && self.tokens[at].is(Sense::To));
        to && (start.saturating_sub(5)..start)
            .any(|at| self.tokens[at].is(Sense::Raises) && !self.tokens[at].is(Sense::To))
    }

    /// "two hundred for eighteen to twenty minutes"
    pub fn heats_for_a_time(&self, end: usize) -> bool {
        let index = self.quantity_at.get(end + 1).copied().flatten();
        // "three ninety-five for twelve" may be of money.
        let sure = |heard: &Heard| !heard.carried || heard.quantity.low < heard.quantity.high;
        let lasts =
            index.map(|index| &self.heard[index]).filter(|heard| heard.kind == Some(Kind::Duration) && sure(heard));
        lasts.is_some() && self.tape().next_is(end, Sense::For)
    }

    /// Whether a duration is one by more than its unit: a range, what a verb of waiting is said of, what goes with a heat.
    pub fn is_said_to_last(&self, heard: &Heard) -> bool {
        let quantity = &heard.quantity;
        let verb = (quantity.start.saturating_sub(5)..quantity.start)
            .rev()
            .take_while(|&at| self.tape().flows(at + 1) && !self.stops(at))
            .any(|at| self.tokens[at].is(Sense::Lasts));
        let heat = |at: usize| {
            self.quantity_at
                .get(at)
                .copied()
                .flatten()
                .is_some_and(|index| self.heard[index].kind == Some(Kind::Temperature))
        };
        let beside =
            (quantity.start.saturating_sub(3)..quantity.start).any(heat) || (quantity.end..quantity.end + 3).any(heat);
        verb || beside || quantity.low < quantity.high
    }

    /// Whether a name of food that is none of the recipe's stands right before a number: "honey, ten grams".
    pub fn is_of_other_food(&self, start: usize) -> bool {
        let before = start.checked_sub(1).filter(|_| self.tokens[start].gap != Gap::Sentence);
        before.is_some_and(|at| {
            let food = self.foods.contains(&(self.lexicon.language.singular)(&self.tokens[at].text));
            // "and the cinema one and a half teaspoons": what captions made of a name
            let joined = at > 1 && self.hints(at - 1, Hint::The) && self.tokens[at - 2].is(Sense::And);
            let odd = |at: usize, least: usize| {
                self.tokens[at].senses.is_empty()
                    && self.tokens[at].text.len() > least
                    && self.mention_at[at].is_none()
                    && self.lexicon.cues(&self.tokens[at].text).is_empty()
                    && !self.is_of_the_method(at)
                    && self.tape().flows(at)
            };
            // "then tumor eek three quarters of a teaspoon"
            let then = at > 1 && self.hints(at - 2, Hint::Then) && odd(at - 1, 3) && odd(at, 2);
            let plain = odd(at, 3) && self.tape().flows(start);
            self.mention_at[at].is_none() && (food || joined && plain || then)
        })
    }

    /// Whether a number's sentence has a subject of its own that is none of the kitchen's: "the dog weighs thirty kilos".
    pub fn has_own_subject(&self, quantity: &Quantity) -> bool {
        let from = quantity.start.saturating_sub(9);
        let Some(opens) = (from..=quantity.start).rev().find(|&at| at == 0 || self.tokens[at].gap == Gap::Sentence)
        else {
            return false;
        };
        let ends = (quantity.end..quantity.end + 8)
            .find(|&at| self.tokens.get(at).is_none_or(|token| token.gap == Gap::Sentence))
            .unwrap_or(quantity.end + 8);
        let known = |at: usize| self.mention_at[at].is_some() || self.is_of_the_method(at);
        let led = [opens, opens + 1].into_iter().find(|&at| {
            at + 1 < quantity.start && (self.tokens[at].is(Sense::Determiner) || self.tokens[at].is(Sense::Article))
        });
        let noun = led.map(|at| at + 1).filter(|&at| {
            let token = &self.tokens[at];
            let plain = token.senses.is_empty() || token.is(Sense::Package) || token.is(Sense::Alien);
            let cue = self.lexicon.cues(&token.text).iter().any(|cue| *cue != Cue::Pan);
            plain && !cue && token.gap != Gap::Sentence && !known(at)
        });
        noun.is_some() && !(opens..quantity.start).chain(quantity.end..ends.min(self.tokens.len())).any(known)
    }

    /// The name at a token.
    pub fn name_at(&self, at: usize) -> Option<usize> {
        self.mention_at.get(at).copied().flatten()
    }

    /// Whether a number stands right behind a name: "salt four point three".
    pub fn is_numbered(&self, mention: usize) -> bool {
        self.quantity_at.get(self.mentions[mention].end).copied().flatten().is_some()
    }

    /// Whether "more" stands right behind.
    pub fn is_more(&self, heard: &Heard) -> bool {
        self.tape().next_is(heard.quantity.end, Sense::More)
    }

    /// Whether nothing behind a number can be what it counts.
    pub fn ends_there(&self, at: usize) -> bool {
        self.tokens.get(at).is_none_or(|token| {
            let noun = token.senses.is_empty() || token.is(Sense::Alien) || token.unit().is_some();
            token.gap != Gap::None || self.mention_at[at].is_none() && !noun
        })
    }

    /// "A carrot, in ribbons: twelve grams.": whether a sentence has one name and one number, in this order.
    pub fn are_alone(&self, mention: usize, quantity: &Quantity) -> bool {
        let name = &self.mentions[mention];
        let opens = (0..=name.start).rev().take(9).find(|&at| at == 0 || self.tokens[at].gap == Gap::Sentence);
        let ends = self.tokens.get(quantity.end).is_none_or(|token| token.gap == Gap::Sentence);
        let same = name.end <= quantity.start
            && quantity.start - name.end <= 8
            && (name.end..=quantity.start).all(|at| self.tokens[at].gap != Gap::Sentence);
        let others = |at: usize| self.quantity_at[at].is_some() || self.mention_at[at].is_some_and(|at| at != mention);
        ends && same && opens.is_some_and(|opens| !(opens..quantity.start).any(others))
    }

    /// Whether a token is a word of the method, or one that tells a topic: "the oven's", "the hydration's".
    pub fn has_topic(&self, at: usize) -> bool {
        let noun = (self.lexicon.language.singular)(&self.tokens[at].text);
        let heat = self.lexicon.senses(&noun).contains(&Sense::Heat);
        heat || self.tells_topic(at) || self.method.contains(&self.stems[at])
    }

    /// Whether a token is a word that tells a topic: "hydration".
    pub fn tells_topic(&self, at: usize) -> bool {
        !self.lexicon.cues(&(self.lexicon.language.singular)(&self.tokens[at].text)).is_empty()
    }

    /// Whether a token is a word of the method.
    pub fn is_of_the_method(&self, at: usize) -> bool {
        self.method.contains(&self.stems[at])
    }

    /// "two carrots", "six cloves", "four large sticks".
    fn counts_food(&self, quantity: &Quantity) -> bool {
        let heard_one = quantity.high <= Exact::one();
        (quantity.end..quantity.end + 3).take_while(|&at| self.tape().flows(at)).any(|at| {
            let token = &self.tokens[at];
            let plural = heard_one || (self.lexicon.language.plural)(&token.text);
            token.is(Sense::Portion) || plural && self.foods.contains(&(self.lexicon.language.singular)(&token.text))
        })
    }
}
