//! What a price may be about: everything, a piece, a line, the shopping, what is left of it, and the whole of another
//! variant. Never looks at a value.

use super::candidates::{Candidate, List};
use super::hint::Hint;
use super::lexicon::{Cue, Role, Sense};
use super::near::{self, Near, near};
use super::token::Gap;
use crate::exact::Exact;
use crate::sheet::{Fact, Kind, Topic};

/// Why all of another variant is tried where its name may be of a line as well.
pub(super) const WHOLE_VARIANT: &str = "what another variant costs is told behind what this one does";
/// Why all that is made is tried where it is the subject.
pub(super) const OF_THE_LOT: &str = "the dish itself is spoken of";
/// At most so many prices of variants are told in a row, each so many tokens behind the one before.
const TOLD_IN_A_ROW: usize = 4;
const NEXT_PRICE: usize = 14;

impl List<'_, '_> {
    /// What it may be about: of everything, of a piece, of a line, of the shopping.
    pub(super) fn money(&mut self, index: usize) {
        let nearby = near(self.hearing, index);
        // "Lemons, three, juice only; a bit over a euro for those."
        let (tape, end) = (self.hearing.tape(), self.quantity().end);
        let for_those = tape.next_is(end, Sense::For) && tape.is(end + 1, Sense::Them);
        for near in &nearby {
            // "for tinned corn, €4.82": what tells the variant is not what is paid for.
            let variant = if self.heard.other.is_some() && self.hearing.tells_variant(near.mention) { 150 } else { 0 };
            // "salt 44 grams, so 5.5 percent of the fish, and that's 4p": as if its name stood beside it.
            let beside = near::is_price_of_its_amount(self.hearing, near.mention, self.quantity());
            let whole = self.whole_variant(index, near);
            if let Some(other) = whole {
                self.whole_of(other, near);
            }
            let against = 20 + variant - if beside { 40 } else { 0 };
            let cost = near.cost + against;
            let pronoun = near::is_price_of_pronoun(self.hearing, near.mention, self.quantity())
                || near::is_price_of_the_weighed(self.hearing, near.mention, self.quantity());
            let those = for_those && self.hearing.mentions[near.mention].end <= self.quantity().start && !near.again;
            let weighed = beside && near::has_its_amount(self.hearing, near.mention, self.quantity());
            let told = pronoun || those || weighed || self.comes_to_so_much(near);
            let near = Near { cost: if told { cost.min(60) } else { cost }, ..*near };
            self.of_mention(&near, &[Topic::CostLine]);
        }
        // What is "of it" is no total.
        let of_all = self.is_shared_out(index) || self.tells_of_the_lot();
        if !of_all && self.hearing.is_paid_for_else(self.quantity().end) {
            // "each ring comes out at 50 cents for the family"
            if let Some(cost) = self.heard_each().filter(|cost| *cost <= 30) {
                self.topic(Topic::CostEach, cost + 10, "one piece is spoken of");
            }
            return;
        }
        if self.hearing.after_of(self.quantity().end).is_none() {
            let start = self.quantity().start;
            let sentence = (start.saturating_sub(10)..start)
                .rev()
                .take_while(|&at| self.hearing.tokens[at + 1].gap != Gap::Sentence);
            let spoken = sentence.into_iter().any(|at| self.hearing.tokens[at].is(Sense::Cost));
            // "i got the tin for three euros" is of what was got.
            let led = start.checked_sub(1).is_some_and(|at| self.hearing.tokens[at].is(Sense::For));
            // "with the odds and ends you're at seven seventeen"
            let at = start.checked_sub(1).map(|at| &self.hearing.tokens[at]);
            let at = at.is_some_and(|at| at.is(Sense::Is) && at.is(Sense::Inside));
            let spoken = spoken || at && self.hearing.talk_of_money(index);
            // "less water, 1404 grams, and then you're at 10 42"
            let lands = start > 1
                && self.hearing.tokens[start - 1].is(Sense::At)
                && [Hint::Subject, Hint::ItIs].iter().any(|hint| self.hinted(2, *hint));
            // "…, salt a penny, so that's four forty-seven": a list of prices is summed up.
            let so = self.hinted(2, Hint::SumsUp);
            let is = start.checked_sub(1).is_some_and(|at| self.hearing.tokens[at].is(Sense::Is));
            let priced = self.follows_a_price(index, 8);
            let makes = self.hinted(1, Hint::AddsUp);
            // "and it's cheaper, it comes to seven seventy-one"
            let comes_to = self.hinted(2, Hint::Comes) && self.hearing.tape().is(start - 1, Sense::To);
            let comes_to = comes_to && !nearby.iter().any(|near| self.comes_to_so_much(near));
            let adds_up = self.hearing.is_summed_up_at(start);
            let spoken = spoken || (so && is || makes) && priced || adds_up;
            // "So, fourteen dollars and seventy cents.", "Together, eleven dollars and three cents."
            let cents = !self.heard.carried && self.quantity().step == Exact::ratio(1, 100);
            let summed_up = cents && (is || self.hinted(1, Hint::SumsUp)) && self.hearing.talk_of_money(index);
            // "three euro twenty-six, so that's one euro eighty-one a jar"
            let shared_out = self.is_shared_out(index);
            // "and the cream to 333 grams, but then it's 8 34"
            let then = self.hinted(2, Hint::Then) && self.hinted(1, Hint::ItIs);
            let cost = match (led, spoken) {
                _ if lands => 15,
                _ if then => 60,
                _ if shared_out => 90,
                _ if self.hearing.adds_up_to(self.quantity()) => 20,
                (true, _) => 230,
                // "the spelt ones are dearer, 2 euro 83"
                _ if self.heard.other.is_some_and(|other| self.hearing.names_variant_within(start, other, 12)) => 110,
                _ if self.hearing.follows_long_sum(self.quantity()) => 80,
                (false, false) if summed_up => 165,
                (false, true) if comes_to || adds_up => 80,
                (false, true) => 130,
                (false, false) => 190,
            };
            self.topic(Topic::CostTotal, cost, "nothing else is spoken of");
        }
        if self.phrase(Role::Whole, 0, 4) || self.phrase(Role::AllOfIt, 0, 4) {
            // "the cucumbers were a euro seventy-eight for the two": the subject has it.
            let start = self.quantity().start;
            let subject = nearby.iter().any(|near| {
                let before = self.hearing.mentions[near.mention].end <= start;
                before && near.cost < 60 && self.is_thing(near.mention)
            });
            // "the lemons are sixty cents apiece, so one twenty for the two"
            let multiplied = index
                .checked_sub(1)
                .map(|before| self.hearing.heard[before].quantity.end)
                .is_some_and(|end| self.hearing.tape().next_is(end, Sense::Each) && start - end <= 3);
            self.topic(Topic::CostTotal, if subject || multiplied { 100 } else { -30 }, "all of it is spoken of");
        } else if self.phrase(Role::Whole, 10, 4) || self.phrase(Role::AllOfIt, 6, 4) {
            let start = self.quantity().start;
            let led = start.checked_sub(1).is_some_and(|at| self.hearing.tokens[at].is(Sense::For));
            // "everything is fourteen euros": said of it in so many words.
            let is = start.checked_sub(1).is_some_and(|at| self.hearing.tokens[at].is(Sense::Is));
            // "i put chilli oil in everything, so the money: pork three pounds": right behind its name it is of that.
            let own = !is
                && nearby.iter().any(|near| {
                    let mention = &self.hearing.mentions[near.mention];
                    let joined = mention.start.checked_sub(1).map(|at| self.hearing.hints(at, Hint::Joins));
                    mention.end == start && joined == Some(false) && self.is_thing(near.mention)
                });
            let cost = match led {
                true => 230,
                // "6 28 for the batch that's 97 cents a bottle"
                _ if self.rate() => 120,
                // "16 euros 40 for the tin, so each of them is 82 cents"
                _ if self.heard_each().is_some() && self.follows_a_price(index, 10) => 120,
                false if own => 100,
                false if is && self.phrase(Role::Whole, 3, 0) && !self.cue(Cue::Basket, 12, 8) => -5,
                false => 10,
            };
            self.topic(Topic::CostTotal, cost, "all of it is spoken of");
        }
        // "half a percent, 3.1 grams, and the cost is 5 pounds 18"
        let start = self.quantity().start;
        let told =
            |back: usize, sense: Sense| start.checked_sub(back).is_some_and(|at| self.hearing.tokens[at].is(sense));
        if told(1, Sense::Is) && self.hinted(2, Hint::Price) && told(3, Sense::Determiner) {
            self.topic(Topic::CostTotal, -10, "all of it is spoken of");
        }
        // "the frying oil, our share of it 1 pound 67", "the oil's the big one, 9 89 for our share"
        let oil = (self.quantity().start.saturating_sub(20)..self.quantity().start)
            .any(|at| self.hearing.hints(at, Hint::Oil));
        if oil && self.cue(Cue::Share, 4, 4) {
            let of_oil = |fact: &Fact| fact.about == "cost.fry.oil";
            if let Some(index) = self.truth.facts.iter().position(of_oil) {
                self.push(index, 0, "a share of the oil is spoken of");
            }
        }
        // "Batch: £6.35."
        let heading = start.checked_sub(1).is_some_and(|at| self.hearing.tokens[at].gap == Gap::Sentence);
        if self.tells_of_the_dish() || self.tells_of_the_lot() || heading && self.hinted(1, Hint::Lot) {
            self.topic(Topic::CostTotal, -10, OF_THE_LOT);
        }
        // "and that's 65 cents, I buy the big carton" goes on with something else.
        let end = self.quantity().end;
        let own = (end..(end + 8).min(self.hearing.tokens.len())).find(|&at| self.hearing.hints(at, Hint::I));
        let reach = own.map_or(8, |at| at - end);
        if self.hearing.is_spent(self.quantity()) || self.cue(Cue::Basket, 12, reach) || self.cue(Cue::Shop, 12, reach)
        {
            // "the cucumbers would have been 1.87 if I'd bought them" is of the cucumbers.
            let start = self.quantity().start;
            let led = start.checked_sub(1).is_some_and(|at| self.hearing.tokens[at].is(Sense::For));
            let named = nearby.iter().any(|near| near.cost < 90 && !near.again);
            let cost = match (led, named) {
                // "we bought it for nine hundred" is of anything.
                (true, _) => 200,
                (false, true) => 130,
                (false, false) => 0,
            };
            // "next time we only buy 4 80 worth of lemons"
            let worth = self.hearing.hints(end, Hint::Worth) && self.hearing.tape().next_is(end + 1, Sense::Of);
            let worth = worth && self.hearing.names_behind(end + 2, 2);
            self.topic(Topic::Basket, if worth { cost + 130 } else { cost }, "the shopping is spoken of");
        }
        if self.hearing.is_told_of_what_is_left(index) && !self.tells_of_the_lot() && !self.tells_of_the_dish() {
            self.topic(Topic::Basket, -20, "what is left of it is told behind");
        }
        if self.hearing.is_left_of_the_packs(index) {
            self.topic(Topic::Unused, -40, "what is left of the shopping is spoken of");
        }
        // "with the energy it's 4.26"
        if self.hearing.counts_in_power(self.quantity(), 9) && self.heard_each().is_none() {
            self.topic(Topic::PoweredTotal, -40, "the energy is counted in");
        }
        // "It comes out at 2.69, so 34p."
        if self.is_shared_out_of(index) {
            self.topic(Topic::CostEach, 40, "it follows what all of them cost");
        }
        let divided = self.phrase(Role::Divide, 8, 0).then_some(20);
        if let Some(cost) = self.heard_each().or(divided) {
            self.topic(Topic::CostEach, cost - 10, "one piece is spoken of");
            // "with the energy it's 4.26, and 24 cents a puff"
            if self.hearing.counts_in_power(self.quantity(), 16) {
                self.topic(Topic::PoweredEach, cost - 50, "the energy is counted in");
            }
        }
    }

    /// "the butter comes to 1.47": whether a name is the subject of what something comes to.
    fn comes_to_so_much(&self, near: &Near) -> bool {
        let (start, end) = (self.quantity().start, self.hearing.mentions[near.mention].end);
        let subject = end + 2 == start && (end..=start).all(|at| self.hearing.tape().flows(at));
        let comes = subject && self.hearing.hints(end, Hint::Comes) && self.hearing.tape().is(end + 1, Sense::To);
        comes && self.is_thing(near.mention) && !self.hearing.tells_variant(near.mention)
    }

    /// "it comes out at 2.69, so 34p", "eleven seventy-seven which makes it a dollar eighteen": whether it is only led by "so" behind
    /// a price that is told of all.
    fn is_shared_out_of(&self, index: usize) -> bool {
        let tokens = self.hearing.tokens;
        let Some(before) = index.checked_sub(1).map(|before| &self.hearing.heard[before]) else { return false };
        let (from, to) = (before.quantity.end, self.quantity().start);
        let light = |at: usize| {
            let hints = [Hint::So, Hint::Thats, Hint::About, Hint::Which, Hint::Reckons, Hint::ItIs];
            tokens[at].gap != Gap::Sentence && hints.iter().any(|hint| tokens[at].hints(*hint))
        };
        let so = (from..to).any(|at| tokens[at].hints(Hint::So) || tokens[at].hints(Hint::Which));
        let whole = || {
            let list = List::new(self.hearing, self.truth, before, Kind::Money);
            list.tells_of_the_lot()
                || list.tells_of_the_dish()
                || list.phrase(Role::Whole, 6, 4)
                || list.hinted(2, Hint::Comes)
                || list.hinted(3, Hint::Comes)
        };
        before.kind == Some(Kind::Money)
            && so
            && to - from <= 4
            && (from..to).all(light)
            && tokens[to].gap != Gap::Sentence
            && whole()
    }

    /// Whether another price ends so few tokens before this one.
    fn follows_a_price(&self, index: usize, within: usize) -> bool {
        let before = index.checked_sub(1).map(|before| &self.hearing.heard[before]);
        before.is_some_and(|before| {
            before.kind == Some(Kind::Money) && self.quantity().start - before.quantity.end <= within
        })
    }

    /// "it's 6.28 for the batch, 97 cents a bottle, and pineapple is 8 09", "with yogurt it's 5 18 and with spelt 5 43": the variant
    /// that is told by a name, where what all of it or one piece costs was told right before.
    fn whole_variant(&self, index: usize, near: &Near) -> Option<usize> {
        let mention = &self.hearing.mentions[near.mention];
        let (tokens, from, to) = (self.hearing.tokens, mention.end, self.quantity().start);
        let told = from <= to && to - from <= 6 && (from..=to).all(|at| tokens[at].gap != Gap::Sentence);
        let other = self.hearing.variant_of(near.mention).filter(|_| told)?;
        if (from..to).any(|at| self.hearing.quantity_at[at].is_some() && !tokens[at].is(Sense::Ones(1))) {
            return None;
        }
        let mut behind = index;
        for _ in 0..TOLD_IN_A_ROW {
            let before = (0..behind).rev().find(|&before| self.hearing.heard[before].kind == Some(Kind::Money))?;
            let heard = &self.hearing.heard[before];
            if self.hearing.heard[behind].quantity.start - heard.quantity.end > NEXT_PRICE {
                return None;
            }
            let list = List::new(self.hearing, self.truth, heard, Kind::Money);
            if list.heard_each().is_some() || list.phrase(Role::Whole, 8, 4) || list.tells_of_the_dish() {
                return Some(other);
            }
            let start = heard.quantity.start;
            let variant = (start.saturating_sub(6)..start).filter_map(|at| self.hearing.mention_at[at]);
            if !variant.into_iter().any(|mention| self.hearing.tells_variant(mention)) {
                return None;
            }
            behind = before;
        }
        None
    }

    /// What all of a variant costs, told by a name.
    fn whole_of(&mut self, other: usize, near: &Near) {
        let facts = self.truth.others.get(other).map_or(&[][..], |other| &other.facts);
        let Some(index) = facts.iter().position(|fact| fact.topic == Topic::CostTotal) else { return };
        let (index, other, cost) = (Some(index), Some(other), near.cost);
        self.try_also(Candidate { index, other, mention: Some(near.mention), again: false, cost, why: WHOLE_VARIANT });
    }
}
