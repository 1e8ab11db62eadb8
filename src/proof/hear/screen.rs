//! What has a unit and is no claim all the same: packages and what they cost, rates, the talk of a video, words that look
//! like a number. Must not know what is true.

use super::{Fate, Heard, Hearing};
use crate::exact::{Exact, Unit};
use crate::proof::hint::Hint;
use crate::proof::lexicon::{Cue, Role, SaidUnit, Sense};
use crate::proof::mention::Named;
use crate::proof::quantity::{Quantity, Reader};
use crate::proof::token::{Gap, Token};
use crate::sheet::Kind;

/// Nothing is sold by these.
const SPOONS: [SaidUnit; 2] = [SaidUnit::Unit(Unit::Teaspoon), SaidUnit::Unit(Unit::Tablespoon)];

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
            None if before.is_some_and(|b| self.hints(b, Hint::Had)) => Fate::Idle,
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
            Some(Kind::Duration) if self.talk_of_the_video(start, end) => Fate::Idle,
            // "knock it down by ten degrees", but "leave it by 18 to 20"
            Some(Kind::Temperature)
                if before.is_some_and(|b| tape.is(b, Sense::By)) && quantity.low == quantity.high =>
            {
                Fate::Share
            }
            Some(Kind::Weight | Kind::Volume) if self.is_package(start, end) => Fate::Package,
            // "a two litre pan"
            Some(Kind::Volume) if tape.flows(end) && self.cue(quantity, Cue::Pan, 0, 1) => Fate::Package,
            Some(Kind::Money) if self.is_pack_price(index) || self.is_money_of_package(index) => Fate::Package,
            Some(_) if self.is_priced_pack(index) => Fate::Package,
            Some(Kind::Money) if self.is_price_of_one(index) => Fate::Package,
            Some(Kind::Weight | Kind::Volume) if article && !spooned && self.costs_so_much(index) => Fate::Package,
            Some(_) if before.is_some_and(|b| tape.is(b, Sense::Per)) => Fate::Package,
            Some(Kind::Money) if self.is_several_for(index) => Fate::Package,
            Some(Kind::Weight | Kind::Volume)
                if self.is_conversion(index) || index > 0 && self.is_conversion(index - 1) =>
            {
                Fate::Package
            }
            Some(kind) if article && *kind != Kind::Money && !spooned && self.follows_money(index) => Fate::Package,
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

    /// "two for five euros"
    fn is_several_for(&self, index: usize) -> bool {
        let start = self.heard[index].quantity.start;
        let before = index.checked_sub(1).map(|before| &self.heard[before].quantity);
        before.is_some_and(|before| {
            let led = before.end + 1 == start && self.tape().is(before.end, Sense::For);
            led && before.unit.is_none() && before.low.is_whole()
        })
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

    /// "a 400 gram tin", "a tin of 400 grams", unless the method itself measures such a container.
    fn is_package(&self, start: usize, end: usize) -> bool {
        let tape = self.tape();
        let container = if tape.next_is(end, Sense::Package) {
            Some(end)
        } else if start >= 2 && tape.is(start - 1, Sense::Of) && tape.is(start - 2, Sense::Package) {
            Some(start - 2)
        } else {
            // "the tins I get are 340 grams"
            let sentence = (start.saturating_sub(6)..start).rev().take_while(|&at| tape.flows(at + 1));
            let subject = sentence.into_iter().find(|&at| tape.is(at, Sense::Package));
            let is = |at: usize| tape.is(at, Sense::Is) || tape.is(at, Sense::Holds);
            subject.filter(|&at| (at..start).any(is) && !self.names_behind(at, start - at))
        };
        // "136 grams, can you read that"
        let verb = |at: usize| {
            let next = self.tokens.get(at + 1);
            let asks = next.is_some_and(|next| next.is(Sense::Speaker) || next.is(Sense::Pronoun));
            // "where you can see it, so that's 385 grams"
            let may = at > 0 && (self.tokens[at - 1].is(Sense::Speaker) || self.tokens[at - 1].is(Sense::Pronoun));
            self.hints(at, Hint::MayI) && (asks || may)
        };
        container.is_some_and(|container| !verb(container) && self.is_foreign_container(container))
    }

    /// Whether a container is none that the method itself speaks of.
    fn is_foreign_container(&self, at: usize) -> bool {
        !self.method.contains(&self.stems[at])
    }

    /// Money of a package: "a 750 gram bag was 2.25", "1.35 a bag".
    fn is_money_of_package(&self, index: usize) -> bool {
        let (start, end) = (self.heard[index].quantity.start, self.heard[index].quantity.end);
        let package = |at: usize| {
            self.tokens.get(at).is_some_and(|token| token.is(Sense::Package)) && self.is_foreign_container(at)
        };
        let rate = self.leads_to_a_rate(end) && package(end + 1);
        let rate = rate || self.is_for_a_pack(end);
        let sentence =
            (start.saturating_sub(7)..start).rev().take_while(|&at| self.tokens[at + 1].gap != Gap::Sentence);
        // "corn, 300 grams out of a 750 gram bag: 90 cents": the bag is only where it comes from.
        let source = |at: usize| {
            let from = |at: usize| self.tokens[at].is(Sense::From) || self.tokens[at].is(Sense::Of);
            // "for a handful of leaves, and the bunch is 1.99" begins anew.
            let led = (at.saturating_sub(5)..at).rev();
            led.take_while(|&at| self.tokens[at + 1].gap == Gap::None && !self.tokens[at].is(Sense::And)).any(from)
        };
        // "… out of a bag of 750, which was two euro twenty-five": that tells of the bag.
        let which = start >= 2 && self.tape().is(start - 2, Sense::This) && self.tape().is(start - 1, Sense::Is);
        // "had to buy every packet whole" is of all of them.
        let all = |at: usize| {
            (at.saturating_sub(4)..=at + 1).any(|at| self.hints(at, Hint::All) || self.hints(at, Hint::Every))
        };
        let amount = |of: usize| matches!(self.heard[of].kind, Some(Kind::Weight | Kind::Volume));
        let package = |at: usize| package(at) && (which || !source(at)) && !all(at) && !self.price_is_told(at);
        // "the tub's 1 50, vanilla 38 p": past another price it is of something else.
        let sized = |of: usize| self.heard[of].fate == Fate::Package && self.heard[of].kind != Some(Kind::Money);
        let between = |at: usize| self.quantity_at[at].is_none_or(|of| amount(of) || sized(of));
        let before = sentence.into_iter().take_while(|&at| between(at)).any(package);
        rate || before
    }

    /// "leeks were 1 40 for a bag"
    pub fn is_for_a_pack(&self, end: usize) -> bool {
        let tape = self.tape();
        let pack = tape.is(end + 2, Sense::Package) && self.is_foreign_container(end + 2);
        tape.next_is(end, Sense::For) && tape.is(end + 1, Sense::Article) && pack
    }

    /// "3.50 a bag of 200 grams, so 1.75": whether what a package costs was told right before it.
    pub fn price_is_told(&self, at: usize) -> bool {
        let price = at.checked_sub(2).filter(|_| self.leads_to_a_rate(at - 1)).and_then(|at| self.quantity_at[at]);
        price.is_some_and(|of| !matches!(self.heard[of].kind, Some(Kind::Weight | Kind::Volume)))
    }

    /// "2.49 for a litre", "three euros a kilo": what a pack costs is no cost of the dish.
    fn is_pack_price(&self, index: usize) -> bool {
        let end = self.heard[index].quantity.end;
        let rate = self.tape().flows(end)
            && self.leads_to_a_rate(end)
            && self
                .tokens
                .get(end + 1)
                .and_then(Token::unit)
                .filter(|unit| !SPOONS.contains(unit) || !self.names_behind(end + 2, 2))
                .is_some_and(|unit| matches!(unit.kind(Kind::Weight), Kind::Weight | Kind::Volume));
        // "the oats one pound four, a kilo bag is 1.30"
        let bag = self.tape().is(end + 2, Sense::Package) && self.tape().is(end + 3, Sense::Is);
        rate && !bag || self.pack_behind(index).is_some()
    }

    /// Whether a price is told of what comes behind a token: "a bag", "per kilo", "3.49 the bag".
    pub fn leads_to_a_rate(&self, at: usize) -> bool {
        let tape = self.tape();
        // "52p the box with the parrot on it is 4.20", "the line 38 cents, the bag 1.19": there it is of what follows.
        let next = at + 2;
        let told = |at: &usize| tape.is(*at, Sense::Is) || self.quantity_at.get(*at).is_some_and(Option::is_some);
        let until = (next..next + 6).take_while(|&at| tape.flows(at)).find(told);
        let follows = until.is_some_and(|at| at == next || tape.is(at, Sense::Is));
        // "2.75, a tub is 250 grams" as well.
        let is = tape.next_is(next, Sense::Is);
        tape.is(at, Sense::Article) && !is || tape.is(at, Sense::Per) || self.hints(at, Hint::The) && !follows
    }

    /// The amount that money is "for".
    fn pack_behind(&self, index: usize) -> Option<usize> {
        let end = self.heard[index].quantity.end;
        let next = self.heard.get(index + 1)?;
        let for_it = self.tokens.get(end).is_some_and(|token| token.is(Sense::For) && token.gap == Gap::None);
        let amount = matches!(next.kind, Some(Kind::Weight | Kind::Volume));
        // "8 25 for the 3 pound bag"
        let behind = end + 1 + usize::from(self.tape().is(end + 1, Sense::Determiner));
        (for_it && amount && next.quantity.start == behind).then_some(index + 1)
    }

    /// Whether it is how much so much money buys, and no amount of the dish.
    fn is_priced_pack(&self, index: usize) -> bool {
        let tape = self.tape();
        let Heard { quantity, kind, .. } = &self.heard[index];
        let (start, end) = (quantity.start, quantity.end);
        let price = |quantity: &Quantity| quantity.step == Exact::ratio(1, 100) || quantity.short.is_some();
        let (before, next) = (index.checked_sub(1), self.heard.get(index + 1));
        let before = before.map(|before| &self.heard[before]);
        let one = tape.is(start, Sense::Article) && end == start + 2;
        // "a litre is 2.49"
        let one_is = one
            && tape.next_is(end, Sense::Is)
            && tape.flows(end + 1)
            && next.is_some_and(|next| price(&next.quantity) && next.quantity.start == end + 1);
        // "2 heads at 1 70 a kilo"
        let of_one = one
            && tape.flows(start)
            && before.is_some_and(|before| price(&before.quantity) && before.quantity.end == start);
        // "the pot is 500 grams and costs 1.20"
        let costs = tape.next_is(end, Sense::And)
            && tape.next_is(end + 1, Sense::Charges)
            && next.is_some_and(|next| next.quantity.start == end + 2);
        // "the bag is 2.25, and it's 750 grams"
        let size = start > 1
            && self.hints(start - 1, Hint::ItIs)
            && tape.is(start - 2, Sense::And)
            && self.after_of(end).is_none()
            && before.is_some_and(|before| before.fate == Fate::Package && start - before.quantity.end <= 2);
        // "2.49 for a litre"
        let money = index.checked_sub(1).filter(|&before| self.heard[before].kind == Some(Kind::Money));
        let bought = || money.and_then(|before| self.pack_behind(before)) == Some(index);
        matches!(kind, Some(Kind::Weight | Kind::Volume)) && (one_is || of_one || costs || size || bought())
    }

    /// "eight lemons at fifty cents each": what one of an ingredient costs.
    fn is_price_of_one(&self, index: usize) -> bool {
        let (start, end) = (self.heard[index].quantity.start, self.heard[index].quantity.end);
        let at = start.checked_sub(1).filter(|&at| self.tape().flows(start) && self.tape().is(at, Sense::Is));
        let named = at.and_then(|at| at.checked_sub(1)).and_then(|at| self.mention_at[at]);
        let thing =
            named.is_some_and(|mention| !self.mentions[mention].named.iter().any(|(named, _)| *named == Named::Piece));
        let counted = named.is_some_and(|mention| {
            let before = self.mentions[mention].start;
            before > 0 && self.quantity_at[before - 1].is_some()
        });
        thing && counted && self.tape().next_is(end, Sense::Each)
    }

    /// "a gallon of oil runs me nine eighty-nine": what is bought.
    fn costs_so_much(&self, index: usize) -> bool {
        let end = self.heard[index].quantity.end;
        let until = (end + 10).min(self.tokens.len());
        // "a tablespoon, so the costs: eggs 52p" begins anew.
        let clause = (end..until).take_while(|&at| self.tokens[at].gap == Gap::None && !self.hints(at, Hint::So));
        let next = self.heard.get(index + 1).filter(|next| {
            let money = next.kind == Some(Kind::Money) || next.kind.is_none() && next.quantity.short.is_some();
            money && next.quantity.start <= end + 9
        });
        let sure = next.is_some_and(|next| next.kind == Some(Kind::Money));
        next.is_some()
            && clause.into_iter().any(|at| self.tokens[at].is(Sense::Cost) || sure && self.hints(at, Hint::Is))
    }

    /// "three euros a kilo": a rate.
    fn follows_money(&self, index: usize) -> bool {
        index.checked_sub(1).and_then(|before| self.heard.get(before)).is_some_and(|before| {
            let bare = before.kind.is_none() && !before.quantity.low.is_whole();
            let price = before.kind == Some(Kind::Money) || bare && self.talk_of_money(index - 1);
            price && before.quantity.end == self.heard[index].quantity.start
        })
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
