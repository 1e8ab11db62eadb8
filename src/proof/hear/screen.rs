//! What has a unit and is no claim all the same: packages and what they cost, rates, the talk of a video, words that look
//! like a number. Must not know what is true.

use super::{Fate, Heard, Hearing};
use crate::exact::{Exact, Unit};
use crate::proof::hint::Hint;
use crate::proof::lexicon::{Cue, Role, SaidUnit, Sense};
use crate::proof::quantity::{Quantity, Reader};
use crate::proof::token::Gap;
use crate::sheet::Kind;

/// Nothing is sold by these.
pub(super) const SPOONS: [SaidUnit; 2] = [SaidUnit::Unit(Unit::Teaspoon), SaidUnit::Unit(Unit::Tablespoon)];

impl Hearing<'_> {
    /// Tokens of phrases that say no number.
    pub(super) fn idle(&self, reader: Reader<'_>) -> Vec<bool> {
        let mut idle = vec![false; self.tokens.len()];
        for at in 0..self.tokens.len() {
            if let Some((_, length)) = reader.phrase(at, |role| role == Role::Nothing) {
                idle[at..(at + length).min(self.tokens.len())].fill(true);
            }
        }
        self.counted_aloud(&mut idle);
        idle
    }

    /// "nine ten eleven", "two four six eight": three small numbers or more that rise, with nothing between.
    fn counted_aloud(&self, idle: &mut [bool]) {
        let small = |at: usize| {
            let token = self.tokens.get(at)?;
            let value = |sense: &Sense| if let Sense::Ones(n) | Sense::Teens(n) = sense { Some(*n) } else { None };
            token.senses.iter().find_map(value)
        };
        let mut from = 0;
        while from < self.tokens.len() {
            let mut to = from + 1;
            let step = |at: usize| small(at).zip(small(at - 1)).map(|(one, before)| one - before);
            let even = |to: usize| to == from + 1 || step(to) == step(to - 1);
            while small(from).is_some()
                && even(to)
                && self.tokens.get(to).is_some_and(|token| token.gap != Gap::Sentence)
                && small(to) > small(to - 1)
            {
                to += 1;
            }
            let goes_on = self.tokens.get(to).is_some_and(|token| {
                token.gap == Gap::None
                    && (token.unit().is_some()
                        || token.digits.is_some()
                        || matches!(token.senses.first(), Some(Sense::Power(_) | Sense::Tens(_) | Sense::Point)))
            });
            if to - from >= 3 && !goes_on {
                idle[from..to].fill(true);
            }
            from = to;
        }
    }

    /// "eight out of ten": a mark, or odds.
    pub(super) fn marks(&mut self, reader: Reader<'_>) {
        for index in 1..self.heard.len() {
            let (first, second) = (&self.heard[index - 1].quantity, &self.heard[index].quantity);
            let between = reader.phrase(first.end, |role| role == Role::OutOf);
            let joined = between.is_some_and(|(_, length)| first.end + length == second.start);
            if joined && first.unit.is_none() && second.unit.is_none() && !second.lone_one {
                self.heard[index - 1].fate = Fate::Idle;
                self.heard[index].fate = Fate::Idle;
            }
        }
    }

    /// "watch it climb, 280, 294, there we are, 300 grams": what a scale shows on the way.
    pub(super) fn counts_up(&mut self) {
        let mut climbs = vec![false; self.heard.len()];
        for index in (1..self.heard.len()).rev() {
            let (first, second) = (&self.heard[index - 1], &self.heard[index]);
            let (from, to) = (&first.quantity, &second.quantity);
            let weighed = second.kind == Some(Kind::Weight) && to.unit.is_some() || climbs[index];
            // "240 260" may be one number of two.
            let (low, high) = from
                .pair
                .map_or((from.low.clone(), from.high.clone()), |(head, tail)| (Exact::from(head), Exact::from(tail)));
            let next = to.pair.map_or(to.low.clone(), |(head, _)| Exact::from(head));
            let rises = low <= high && high < next && low * Exact::from(10) >= &next * Exact::from(7);
            let apart = climbs[index] || to.start > from.end || self.tokens[to.start].gap != Gap::None;
            let named = |at: usize| self.mention_at[at].is_some();
            let free = from.start.checked_sub(1).is_none_or(|at| !named(at)) && !(from.end..to.start).any(named);
            climbs[index - 1] = weighed
                && first.fate == Fate::Stands
                && from.unit.is_none()
                && rises
                && apart
                && free
                && to.start.saturating_sub(from.end) <= 4;
        }
        for (heard, _) in self.heard.iter_mut().zip(&climbs).filter(|(_, climbs)| **climbs) {
            heard.fate = Fate::Idle;
        }
    }

    /// Tells apart what has a unit and is no claim all the same.
    pub(super) fn screen(&mut self, index: usize, idle: &[bool]) {
        let tape = self.tape();
        let Heard { quantity, kind, fate, .. } = &self.heard[index];
        if *fate != Fate::Stands {
            return;
        }
        let (start, end) = (quantity.start, quantity.end);
        let before = start.checked_sub(1).filter(|_| tape.flows(start));
        let article = tape.is(start, Sense::Article);
        // "a gallon", but "a hundred and sixty grams"
        let one = article && self.heard[index].is_one();
        let next_alien =
            |reach: usize| (end..end + reach).take_while(|&at| tape.flows(at)).any(|at| tape.is(at, Sense::Alien));
        let amount = matches!(kind, Some(Kind::Weight | Kind::Volume));
        // "five point five percent, people ask me why": nobody tells of people to a tenth.
        let short = [Unit::Second, Unit::Minute, Unit::Hour].map(|unit| Some(SaidUnit::Unit(unit)));
        let hours = short.contains(&quantity.unit);
        // "126 grams, which is 28 percent, people say that's low"
        let is = *kind == Some(Kind::Percent) && before.is_some_and(|b| self.tokens[b].is(Sense::Is));
        let exact = *kind == Some(Kind::Percent) && !quantity.low.is_whole();
        // "ginger for 10p, a tablespoon of mustard seeds": nothing is sold by the spoon.
        let spooned = quantity.unit.is_some_and(|unit| SPOONS.contains(&unit));
        let spooned = spooned && (self.names_behind(end, 3) || !tape.flows(start));
        let fate = match kind {
            _ if idle[start..end].iter().all(|idle| *idle) && !self.lasts(index) && !self.one_of_spoons(index) => {
                Fate::Idle
            }
            // "I had eleven jars" is a story.
            // but "the shop had 13 03 off me"
            None if before.is_some_and(|b| self.hints(b, Hint::Had)) && !self.is_written_pair(quantity) => Fate::Idle,
            // "when i was twenty", "i'm twenty-three"
            _ if self.heard[index].carried
                && quantity.short.is_none()
                && before.is_some_and(|b| {
                    self.hints(b, Hint::IAm) || b > 0 && self.hints(b, Hint::Was) && tape.is(b - 1, Sense::Speaker)
                }) =>
            {
                Fate::Idle
            }
            // "i'm making it times two": how often, and not how many.
            None if quantity.short.is_none()
                && before.is_some_and(|b| tape.is(b, Sense::Times) && b > 0 && self.quantity_at[b - 1].is_none()) =>
            {
                Fate::Share
            }
            // "a bag of seven fifty"
            None if start >= 2
                && before.is_some_and(|b| tape.is(b, Sense::Of) && tape.is(b - 1, Sense::Package))
                && self.is_foreign_container(start - 2) =>
            {
                Fate::Package
            }
            // "the whole thing was 8 90, comment below", "a hundred grams goes in"
            // but "in the tray for one hour, hands off"
            // and "lid on low, 25 minutes, people rush the onions"
            _ if next_alien(1)
                && quantity.short.is_none()
                && !(amount || exact || self.lasts(index) || (hours || is) && self.hints(end, Hint::People)) =>
            {
                Fate::Idle
            }
            // but "540 grams for the whole thing, 60 percent"
            Some(Kind::Percent)
                if before.is_some_and(|b| tape.is(b, Sense::Alien) && (b == 0 || !self.hints(b - 1, Hint::All))) =>
            {
                Fate::Idle
            }
            // "that's your hundred percent everything else …"
            Some(Kind::Percent)
                if self.is_of_a_product(end) && !before.is_some_and(|b| tape.is(b, Sense::Determiner)) =>
            {
                Fate::Idle
            }
            // "it's a seventy percent one"
            Some(Kind::Percent)
                if tape.next_is(end, Sense::Ones(1)) && before.is_some_and(|b| tape.is(b, Sense::Article)) =>
            {
                Fate::Idle
            }
            // "I take the dark one, of seventy percent cocoa"
            Some(Kind::Percent)
                if before.is_some_and(|b| tape.is(b, Sense::Of) && b > 0 && !self.tells_topic(b - 1))
                    && tape.flows(end)
                    && self.names_behind(end, 1) =>
            {
                Fate::Idle
            }
            // "seeds are twelve percent, the good thing is …"
            Some(Kind::Percent)
                if next_alien(3)
                    && !exact
                    && !before.is_some_and(|b| tape.is(b, Sense::Determiner))
                    && !tape.next_is(end, Sense::Determiner)
                    && !tape.is(end, Sense::Is)
                    && !self.names_behind(end, 3) =>
            {
                Fate::Idle
            }
            // "I did that for six months" tells of no food.
            Some(Kind::Duration)
                if quantity.unit == Some(SaidUnit::Days(30)) && !self.cue(quantity, Cue::Stores, 8, 4) =>
            {
                Fate::Idle
            }
            // "still in the pantry for another day"
            Some(Kind::Duration) if quantity.more && self.heard[index].is_one() && self.tells_of_a_day(quantity) => {
                Fate::Idle
            }
            Some(Kind::Duration) if self.talk_of_the_video(start, end) => Fate::Idle,
            // "knock it down by ten degrees", but "leave it by 18 to 20"
            Some(Kind::Temperature)
                if before.is_some_and(|b| tape.is(b, Sense::By)) && quantity.low == quantity.high =>
            {
                Fate::Share
            }
            // "there are 600 grams left in the bag"
            Some(Kind::Weight | Kind::Volume) if self.is_left_in_the_pack(end) => Fate::Package,
            Some(Kind::Weight | Kind::Volume) if self.is_package(start, end) => Fate::Package,
            // "a two litre pan"
            Some(Kind::Volume) if tape.flows(end) && self.cue(quantity, Cue::Pan, 0, 1) => Fate::Package,
            Some(Kind::Money)
                if (self.is_pack_price(index) || self.is_money_of_package(index))
                    && !self.is_left_of_the_packs(index) =>
            {
                Fate::Package
            }
            Some(_) if self.is_priced_pack(index) => Fate::Package,
            Some(Kind::Money) if self.is_price_of_one(index) => Fate::Package,
            Some(Kind::Weight | Kind::Volume) if one && !spooned && self.costs_so_much(index) => Fate::Package,
            Some(_) if before.is_some_and(|b| tape.is(b, Sense::Per)) => Fate::Package,
            Some(Kind::Money) if self.is_several_for(index) => Fate::Package,
            Some(Kind::Weight | Kind::Volume)
                if self.is_conversion(index) || index > 0 && self.is_conversion(index - 1) =>
            {
                Fate::Package
            }
            Some(kind) if one && *kind != Kind::Money && !spooned && self.follows_money(index) => Fate::Package,
            Some(_) if self.is_so_much_a_time(end) => Fate::Idle,
            Some(Kind::Duration) if article && end == start + 2 && self.is_rate_of_time(start) => Fate::Idle,
            Some(Kind::Duration) if self.is_length_of_something(quantity) => Fate::Idle,
            Some(_) if article && self.is_bare_singular(quantity) => Fate::Idle,
            Some(_) | None => Fate::Stands,
        };
        self.heard[index].fate = fate;
    }

    /// "ten kilos of flour a month": how much there is of it in a time.
    fn is_so_much_a_time(&self, end: usize) -> bool {
        let name = self.after_of(end).and_then(|of| self.mention_at.get(of).copied().flatten());
        let end = name.map_or(end, |mention| self.mentions[mention].end);
        let each = self.tape().next_is(end, Sense::Article) || self.tape().next_is(end, Sense::Per);
        let time = self.tokens.get(end + 1).filter(|token| token.gap == Gap::None).is_some_and(|token| {
            let long = [SaidUnit::Unit(Unit::Day), SaidUnit::Days(7)].map(Some).contains(&token.unit());
            long || token.hints(Hint::Period)
        });
        each && time
    }

    /// "a tablespoon is fifteen mils", "a litre of oil is nine hundred and twenty grams", "sixteen cups are a gallon": how
    /// measures go together, and no amount of anything here. Asked of the first of both.
    fn is_conversion(&self, index: usize) -> bool {
        let (Some(first), Some(second)) = (self.heard.get(index), self.heard.get(index + 1)) else { return false };
        let amount = |heard: &Heard| matches!(heard.kind, Some(Kind::Weight | Kind::Volume));
        let (from, to) = (first.quantity.end, second.quantity.start);
        if !amount(first) || !amount(second) || to - from > 6 || !(from..=to).all(|at| self.tape().flows(at)) {
            return false;
        }
        let is = (from..to).any(|at| self.hints(at, Hint::Is) || self.hints(at, Hint::Weighs));
        let named = (from..to).any(|at| self.mention_at[at].is_some());
        let opens = first.quantity.start.checked_sub(1).is_none_or(|before| {
            !self.tape().flows(before + 1)
                || self.tokens[before].is(Sense::Common) && !self.tokens[before].is(Sense::Is)
        });
        let large = [Unit::Litre, Unit::Kilogram, Unit::Pint, Unit::Quart, Unit::Gallon].map(SaidUnit::Unit);
        let large = first.quantity.unit.is_some_and(|unit| large.contains(&unit) || unit == SaidUnit::PoundOrMoney);
        let one = first.is_one() && opens && (!named || large);
        is && (one || second.is_one() && !named && first.quantity.unit != second.quantity.unit)
    }

    /// "two teaspoons of mustard seeds, one of coriander"
    fn one_of_spoons(&self, index: usize) -> bool {
        let quantity = &self.heard[index].quantity;
        let spoon = |before: &Heard| {
            let unit = before.quantity.unit;
            let spoon = matches!(unit, Some(SaidUnit::Unit(Unit::Teaspoon | Unit::Tablespoon)));
            spoon && quantity.start - before.quantity.end <= 20
        };
        // In a list the spoons are said once.
        let mut back = self.heard[..index].iter().rev().take(3);
        let before = back.find(|before| before.quantity.unit.is_some()).is_some_and(spoon);
        let named = self.tape().next_is(quantity.end, Sense::Of) && self.names_behind(quantity.end + 1, 1);
        before && named && quantity.lone_one
    }

    /// "wait one day", "after one day": what lasts is no idle word.
    fn lasts(&self, index: usize) -> bool {
        let Heard { quantity, kind, .. } = &self.heard[index];
        let before = quantity.start.checked_sub(1).filter(|_| self.tape().flows(quantity.start));
        let article = self.tape().is(quantity.start, Sense::Article);
        let led = |at: usize| self.tape().is(at, Sense::Lasts) || self.tape().is(at, Sense::During);
        *kind == Some(Kind::Duration) && !article && before.is_some_and(led)
    }

    /// "two hundred dinners a day", "on a day like today".
    fn is_rate_of_time(&self, start: usize) -> bool {
        let Some(before) = start.checked_sub(1).filter(|_| self.tape().flows(start)) else { return false };
        let token = &self.tokens[before];
        let noun = token.senses.is_empty() || token.is(Sense::Alien);
        let plural = noun && (self.lexicon.language.plural)(&token.text);
        plural || token.is(Sense::Times) || token.is(Sense::Inside)
    }

    /// "after a 10 hour shift": how long something takes that is none of the method's.
    fn is_length_of_something(&self, quantity: &Quantity) -> bool {
        let (start, end) = (quantity.start, quantity.end);
        let led = start.checked_sub(1).is_some_and(|at| self.tape().is(at, Sense::Article)) && self.tape().flows(start);
        let singular = end > start + 1 && !(self.lexicon.language.plural)(&self.tokens[end - 1].text);
        let thing = self.tokens.get(end).is_some_and(|token| {
            let plain = token.senses.is_empty() && token.digits.is_none() && self.lexicon.cues(&token.text).is_empty();
            plain && self.mention_at[end].is_none() && !self.method.contains(&self.stems[end])
        });
        led && singular && thing && self.tape().flows(end) && quantity.high > Exact::from(1)
    }

    /// "twelve percent protein": what a product is made of.
    fn is_of_a_product(&self, end: usize) -> bool {
        let Some(token) = self.tokens.get(end).filter(|_| self.tape().flows(end)) else { return false };
        // "eighty-five percent only" is of what was named: a product's is led by an article.
        let led = |back: usize| self.tokens[..end].iter().rev().nth(back).is_some_and(|token| token.is(Sense::Article));
        if !(2..=4).any(led) {
            return false;
        }
        let cue = |at: usize| self.tokens.get(at).is_some_and(|token| !self.lexicon.cues(&token.text).is_empty());
        let plain = token.senses.is_empty() && token.digits.is_none() && !self.names_behind(end, 2);
        plain && !cue(end) && !cue(end + 1) && !self.method.contains(&self.stems[end])
    }

    /// Whether a name starts within so many tokens.
    pub fn names_behind(&self, at: usize, reach: usize) -> bool {
        (at..at + reach).any(|at| self.mention_at.get(at).copied().flatten().is_some())
    }

    /// "13 03", in digits: nothing but a price is written so.
    fn is_written_pair(&self, quantity: &Quantity) -> bool {
        quantity.short.is_some() && self.is_in_digits(quantity)
    }

    /// "4 26": whether it is two numbers in digits.
    pub fn is_two_numbers(&self, quantity: &Quantity) -> bool {
        quantity.end == quantity.start + 2 && self.is_in_digits(quantity)
    }

    /// Whether all words of a number are digits.
    pub fn is_in_digits(&self, quantity: &Quantity) -> bool {
        (quantity.start..quantity.end).all(|at| self.tokens[at].digits.is_some())
    }

    /// "for another day": for later, however long that is.
    fn tells_of_a_day(&self, quantity: &Quantity) -> bool {
        let led = quantity.start.checked_sub(1).is_some_and(|at| self.tokens[at].is(Sense::For));
        led && quantity.unit == Some(SaidUnit::Unit(Unit::Day))
    }

    /// "in two minutes I'll show you".
    fn talk_of_the_video(&self, start: usize, end: usize) -> bool {
        // "work it in for two minutes" is done to the dough; "I work for two hours" is not.
        let chat = |at: usize| {
            let job = at > 0 && (self.tokens[at - 1].is(Sense::Speaker) || self.hints(at - 1, Hint::ToAJob));
            // "you work it in for four minutes"
            let worked = self.tokens[at + 1].is(Sense::Pronoun) || self.tokens[at + 1].is(Sense::Them);
            self.tokens[at].is(Sense::Chat) && (!self.hints(at, Hint::Works) || job && !worked)
        };
        let clause = (start.saturating_sub(4)..start).rev().take_while(|&at| self.tokens[at + 1].gap != Gap::Sentence);
        let own = clause.into_iter().any(chat);
        // "tell the story, and keep it under two minutes"
        // "I put a song on, it's four minutes long"
        let long = start > 0 && self.tape().is(start - 1, Sense::Is) && self.tape().next_is(end, Sense::Long);
        let cut = start >= 3
            && self.hints(start - 1, Hint::Below)
            && self.hints(start - 2, Hint::It)
            && self.hints(start - 3, Hint::Keeps);
        // "i have four minutes", "i've got about an hour"
        let mine = (start.saturating_sub(4)..start).rev().take_while(|&at| self.tape().flows(at + 1));
        let have = mine.into_iter().any(|at| {
            let own = self.hints(at, Hint::WeHave) || self.hints(at, Hint::We) && self.hints(at + 1, Hint::Have);
            own && (at + 1..start).all(|at| {
                self.tokens[at].senses.is_empty()
                    || self.tokens[at].is(Sense::Common)
                    || self.tokens[at].is(Sense::Owns)
                    || self.hints(at, Hint::About)
            })
        });
        // "i was under a sink on tuesday for six hours"
        let was = (start.saturating_sub(9)..start.saturating_sub(1)).rev().take_while(|&at| {
            self.tape().flows(at + 1) && self.quantity_at[at].is_none() && self.mention_at[at].is_none()
        });
        let was = was.into_iter().any(|at| self.hints(at, Hint::We) && self.hints(at + 1, Hint::Was))
            && self.tape().is(start.saturating_sub(1), Sense::For);
        if own || have || cut || was || long {
            return true;
        }
        // "the mushrooms go in, seven minutes, you hear that"
        let go = |at: usize| self.tells(at, Cue::Moves) || self.tokens[at].is(Sense::Needs);
        let inside = start.checked_sub(1).is_some_and(|b| self.tokens[b].is(Sense::Into) && (b == 0 || !go(b - 1)));
        inside && self.tokens.get(end).is_some_and(|token| token.is(Sense::Speaker))
    }

    /// Whether money is spoken of before a quantity.
    pub fn talk_of_money(&self, index: usize) -> bool {
        let start = self.heard[index].quantity.start;
        let spoken = (start.saturating_sub(8)..start).any(|at| self.tokens[at].is(Sense::Cost));
        let before = self.heard[..index].iter().rev().take_while(|heard| start - heard.quantity.end <= 20);
        spoken || before.into_iter().any(|heard| heard.kind == Some(Kind::Money))
    }

    /// "a cup" to drink from, "a second", "a day" of no length.
    fn is_bare_singular(&self, quantity: &Quantity) -> bool {
        let tape = self.tape();
        let lone = quantity.low == Exact::one() && quantity.high == Exact::one();
        let day = Exact::from(86_400);
        let days = || self.truth.facts.iter().any(|f| f.kind == Kind::Duration && *f.values[0].high() >= day);
        match quantity.unit {
            Some(SaidUnit::Unit(Unit::Second | Unit::Percent)) => lone,
            Some(SaidUnit::Unit(Unit::Cup)) => {
                lone && !tape.is(quantity.end, Sense::Of) && !self.names_behind(quantity.end, 2)
            }
            Some(SaidUnit::Unit(Unit::Day) | SaidUnit::Days(_)) => lone && !days(),
            Some(_) | None => false,
        }
    }
}
