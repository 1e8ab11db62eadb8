//! What a claim may be about, each with what speaks against it. Lower costs are likelier; a hundredth is a point.
//! Never looks at a value.

use super::context::Likeness;
use super::hear::{Heard, Hearing, Noun};
use super::hint::Hint;
use super::lexicon::{Cue, Role, Sense};
use super::mention::Named;
use super::near::{Near, near};
use super::quantity::Quantity;
use super::token::{Gap, Token};
use crate::exact::Exact;
use crate::sheet::{Fact, Kind, Topic, Truth};

/// Why a figure is tried that no word speaks for: it counts where it is right to the last of several digits.
pub const ONLY_RIGHT: &str = "no word tells, and it is exactly right";

/// A figure that a claim may be about, or none.
#[derive(Clone, Debug)]
pub struct Candidate {
    /// The fact, an index; `None` for no figure.
    pub index: Option<usize>,
    /// Among the facts of another variant, an index into the others.
    pub other: Option<usize>,
    /// The name that links it.
    pub mention: Option<usize>,
    /// Whether the name is said of two numbers on purpose: "two percent, so ten grams".
    pub again: bool,
    /// What speaks against it.
    pub cost: i32,
    /// Why it is tried, in words.
    pub why: &'static str,
}

impl Candidate {
    /// The fact.
    pub fn fact<'f>(&self, truth: &'f Truth) -> Option<&'f Fact> {
        let truth = match self.other {
            Some(other) => truth.others.get(other)?,
            None => truth,
        };
        truth.facts.get(self.index?)
    }
}

/// What a claim may be about; no figure at all is always among it.
pub fn candidates(
    hearing: &Hearing<'_>,
    truth: &Truth,
    index: usize,
    kind: Kind,
    likeness: &Likeness,
) -> Vec<Candidate> {
    let heard = &hearing.heard[index];
    let mut list = List { hearing, truth, heard, kind, found: Vec::new() };
    if !heard.foreign {
        match kind {
            Kind::Weight | Kind::Volume | Kind::Percent => list.amounts(index),
            Kind::Count => list.counts(index),
            Kind::Money => list.money(index),
            Kind::Temperature | Kind::Duration | Kind::Length => {}
        }
        if !matches!(kind, Kind::Percent | Kind::Money) {
            list.measures(likeness);
        }
    }
    if !heard.foreign {
        list.only_right();
    }
    list.none();
    list.found
}

pub(super) struct List<'l, 't> {
    pub(super) hearing: &'l Hearing<'t>,
    pub(super) truth: &'l Truth,
    pub(super) heard: &'l Heard,
    pub(super) kind: Kind,
    found: Vec<Candidate>,
}

impl List<'_, '_> {
    pub(super) fn push(&mut self, index: usize, cost: i32, why: &'static str) {
        self.found.push(Candidate { index: Some(index), other: None, mention: None, again: false, cost, why });
    }

    /// Facts of a topic and this claim's kind.
    pub(super) fn topic(&mut self, topic: Topic, cost: i32, why: &'static str) {
        let other = self.heard.other.filter(|other| self.truth.others.get(*other).is_some());
        let facts = other.map_or(&self.truth.facts, |other| &self.truth.others[other].facts);
        for (index, fact) in facts.iter().enumerate() {
            if fact.topic == topic && fact.kind == self.kind {
                let index = Some(index);
                self.found.push(Candidate { index, other, mention: None, again: false, cost, why });
            }
        }
    }

    pub(super) fn quantity(&self) -> &Quantity {
        &self.heard.quantity
    }

    pub(super) fn cue(&self, cue: Cue, before: usize, behind: usize) -> bool {
        self.hearing.cue(self.quantity(), cue, before, behind)
    }

    /// Whether the token so many before the number hints at something.
    fn hinted(&self, back: usize, hint: Hint) -> bool {
        self.quantity().start.checked_sub(back).is_some_and(|at| self.hearing.hints(at, hint))
    }

    /// Whether a phrase of a role stands near.
    fn phrase(&self, wanted: Role, before: usize, behind: usize) -> bool {
        let quantity = self.quantity();
        let reader = self.hearing.reader();
        let from = quantity.start.saturating_sub(before);
        let stops = |at: usize| self.hearing.stops(at);
        let back = (from..quantity.start)
            .rev()
            .take_while(|&at| self.hearing.tokens[at + 1].gap != Gap::Sentence && !stops(at));
        let ahead = (quantity.end..quantity.end + behind).take_while(|&at| {
            let goes_on = |token: &Token| token.gap != Gap::Sentence && !token.is(Sense::And);
            self.hearing.tokens.get(at).is_some_and(goes_on) && !stops(at)
        });
        // "twenty-nine all of it is three seventeen", "the brown fifty all in six 53": it belongs to what follows.
        let next_price = |at: usize| {
            let next = self.hearing.quantity_at.get(at).copied().flatten().map(|next| &self.hearing.heard[next]);
            let price = next.is_some_and(|next| next.kind == Some(Kind::Money) || next.quantity.short.is_some());
            self.kind == Kind::Money && price && self.hearing.tape().flows(at)
        };
        let opens = |at: usize, length: usize| {
            at >= quantity.end && (self.hearing.tape().next_is(at + length, Sense::Is) || next_price(at + length))
        };
        // "the whole wheat" is a name.
        let named = |at: usize, length: usize| {
            (at..at + length)
                .any(|at| self.hearing.mention_at.get(at).copied().flatten().is_some_and(|m| self.is_thing(m)))
        };
        let found = |at: usize| {
            let phrase = reader.phrase_of_subject(at, |role| role == wanted);
            // "everything else is a percent of that"
            let rest = |end: usize| self.hearing.hints(end, Hint::Else);
            phrase.is_some_and(|(_, length)| !opens(at, length) && !named(at, length) && !rest(at + length))
        };
        back.chain(ahead).any(found)
    }

    /// Figures of the whole and of one piece, which may be spoken of in any words.
    fn only_right(&mut self) {
        let topics: &[Topic] = match self.kind {
            Kind::Percent => &[Topic::Loss, Topic::Hydration, Topic::Prefermented],
            Kind::Weight => &[Topic::Total, Topic::Finished, Topic::Piece, Topic::Part, Topic::Line],
            Kind::Money => &[Topic::CostTotal, Topic::CostEach, Topic::Basket, Topic::CostLine],
            Kind::Volume | Kind::Count | Kind::Temperature | Kind::Duration | Kind::Length => &[],
        };
        for topic in topics {
            self.topic(*topic, 200, ONLY_RIGHT);
        }
    }

    /// No figure at all.
    fn none(&mut self) {
        let cost = match (self.kind, self.heard.noun) {
            (Kind::Weight | Kind::Volume, _) => 340,
            (Kind::Percent, _) => 300,
            (Kind::Count, Noun::Mention(_)) => 400,
            (Kind::Count, Noun::Pieces | Noun::AtATime) => 300,
            (Kind::Count, _) => 150,
            (Kind::Money, _) => 300,
            (Kind::Temperature, _) => 400,
            (Kind::Duration, _) => 330,
            (Kind::Length, _) => 300,
        };
        let why = "no figure answers to it";
        self.found.push(Candidate { index: None, other: None, mention: None, again: false, cost, why });
    }

    /// Facts of the things a mention may be of.
    fn of_mention(&mut self, near: &Near, topics: &[Topic]) {
        let kind = self.kind;
        let parts = self.parts_near();
        let named = self.hearing.mentions[near.mention].named.clone();
        for (named, looseness) in named {
            let loose = match looseness {
                0 => 0,
                1 => 5,
                2 => 25,
                3 => 35,
                _ => 20,
            };
            let (other, thing) = match named {
                Named::Thing(thing) => (self.heard.other, thing),
                Named::Other(other, thing) => (Some(self.heard.other.unwrap_or(other)), thing),
                Named::Part(part) => {
                    self.of_part(near, part);
                    continue;
                }
                Named::Piece => continue,
            };
            // A name that the recipe itself has is the recipe's.
            let elsewhere = matches!(named, Named::Other(..)) && self.heard.other.is_none();
            let facts = other.and_then(|other| self.truth.others.get(other)).map_or(&self.truth.facts, |o| &o.facts);
            for (index, fact) in facts.iter().enumerate() {
                if fact.kind == kind && fact.thing == Some(thing) && topics.contains(&fact.topic) {
                    let part = self.truth.things.get(thing).and_then(|thing| thing.part);
                    let of_part = part.is_some_and(|part| parts.contains(&part));
                    let cost = near.cost + loose + if elsewhere { 15 } else { 0 } - if of_part { 30 } else { 0 };
                    let mention = Some(near.mention);
                    self.found.push(Candidate {
                        index: Some(index),
                        other,
                        mention,
                        again: near.again,
                        cost,
                        why: near.why,
                    });
                }
            }
        }
    }

    /// Parts named close by: "yeast for the dough".
    fn parts_near(&self) -> Vec<usize> {
        let quantity = self.quantity();
        let from = quantity.start.saturating_sub(6);
        let to = (quantity.end + 6).min(self.hearing.tokens.len());
        let back = (from..quantity.start).rev().take_while(|&at| self.hearing.tokens[at + 1].gap != Gap::Sentence);
        let ahead =
            (quantity.end..to).take_while(|&at| self.hearing.tokens[at].gap == Gap::None && !self.hearing.stops(at));
        let mentions = back.chain(ahead).filter_map(|at| self.hearing.mention_at[at]);
        mentions
            .flat_map(|mention| &self.hearing.mentions[mention].named)
            .filter_map(|(named, _)| if let Named::Part(part) = named { Some(*part) } else { None })
            .collect()
    }

    fn of_part(&mut self, near: &Near, part: usize) {
        // "jars" are pieces first, where a part is called so too.
        if self.hearing.mentions[near.mention].named.contains(&(Named::Piece, 0)) {
            return;
        }
        let part = &self.truth.parts[part];
        let suffix = format!(".{}", part.id);
        for (index, fact) in self.truth.facts.iter().enumerate() {
            let named = fact.about == part.id || fact.about.ends_with(&suffix);
            if fact.kind == self.kind && fact.topic == Topic::Part && named {
                let (cost, mention) = (near.cost + 80, Some(near.mention));
                self.found.push(Candidate {
                    index: Some(index),
                    other: None,
                    mention,
                    again: near.again,
                    cost,
                    why: near.why,
                });
            }
        }
    }

    /// Weights, volumes and percents: of lines by their names, and of the whole by its words.
    fn amounts(&mut self, index: usize) {
        let mut near = near(self.hearing, index);
        if self.kind == Kind::Percent {
            // "twenty percent of the flour" is of something else: the flour is what it is reckoned by.
            let quantity = self.quantity();
            let of = self.hearing.after_of(quantity.end).is_some();
            near.iter_mut().filter(|near| of && self.is_basis(near.mention)).for_each(|near| near.cost += 220);
        }
        // "two 750 mL jars": the size of what is named behind it.
        let container =
            [Sense::Package, Sense::Sort].iter().any(|s| self.hearing.tape().next_is(self.quantity().end, *s));
        let container = container || self.is_of_a_pot();
        near.iter_mut().filter(|_| container).for_each(|near| near.cost += 120);
        let whole = self.kind == Kind::Weight && self.phrase(Role::Whole, 0, 4);
        let before = |near: &&mut Near| self.hearing.mentions[near.mention].end <= self.quantity().start;
        near.iter_mut().filter(before).filter(|_| whole).for_each(|near| near.cost += 60);
        for near in &near {
            // "oil is 13 percent", where there is one of the formula as well: nobody tells a share of what is in the pan.
            let line = self.hearing.mentions[near.mention].named.len() > 1 && !self.cue(Cue::TakesUp, 10, 8);
            let topics: &[Topic] = match self.kind {
                Kind::Percent if line => &[Topic::Line],
                _ => &[Topic::Line, Topic::Oil],
            };
            self.of_mention(near, topics);
            if self.kind == Kind::Weight && self.names_basis(near.mention) {
                self.topic(Topic::Basis, near.cost + 35, "what is a hundred per cent is spoken of");
            }
        }
        let each = self.heard_each().filter(|_| !container);
        match self.kind {
            Kind::Percent => {
                // "it's a soft dough, it's seventy percent water"
                let end = self.quantity().end;
                let water = self.hearing.tape().flows(end) && self.hearing.hints(end, Hint::Water);
                // "it's 76 percent water in the end", "it's 65 percent water with the starter counted"
                let counted = self.hearing.hints(end + 1, Hint::With) && self.hearing.names_behind(end + 2, 2);
                let overall = water
                    && self.hearing.tape().flows(end + 1)
                    && (counted || self.hearing.hints(end + 1, Hint::Overall));
                // "it stays wet, about 65 percent water, starter and all"
                let wet = water && self.cue(Cue::Wet, 5, 0);
                if overall || wet || water && self.cue(Cue::Total, 8, 0) {
                    self.topic(Topic::Hydration, 20, "the dough is told by its water");
                }
                // "It should come out at about seventy percent.": with nothing named in its sentence
                let start = self.quantity().start;
                // "all the water together is eighty-six percent"
                // "add up all the water, the second lot too, you get 80 percent", "all together that's 86 percent water"
                let all_the_water = |at: usize| {
                    self.hearing.hints(at, Hint::All)
                        && self.hearing.tape().is(at + 1, Sense::Determiner)
                        && self.hearing.hints(at + 2, Hint::Water)
                };
                if (start.saturating_sub(12)..start).any(all_the_water)
                    || self.hearing.hints(end, Hint::Water) && self.phrase(Role::Whole, 4, 0)
                {
                    self.topic(Topic::Hydration, 5, "all the water is spoken of");
                }
                let from = (0..=start).rev().find(|&at| self.hearing.tokens[at].gap == Gap::Sentence).unwrap_or(0);
                let nameless =
                    (from.max(start.saturating_sub(12))..start).all(|at| self.hearing.mention_at[at].is_none());
                let comes = (start.saturating_sub(5)..start)
                    .any(|at| self.hearing.hints(at, Hint::Comes) && self.hearing.hints(at + 1, Hint::Out));
                if nameless && comes && start - from < 12 && self.hearing.name_at(end).is_none() {
                    self.topic(Topic::Hydration, 40, "what it comes out at is its hydration");
                }
                // "poolish and all, the dough is at 70 percent"
                let led =
                    (start.saturating_sub(2)..start).rev().take_while(|&at| self.hearing.tokens[at].is(Sense::Is));
                let is = led.count();
                if is > 0 && self.hinted(is + 1, Hint::Dough) && self.hearing.tape().flows(start) {
                    self.topic(Topic::Hydration, 10, "the dough is told by its hydration");
                }
                // "a seventy percent dough"
                if self.hearing.tape().flows(self.quantity().end) && self.cue(Cue::Total, 0, 1) {
                    self.topic(Topic::Hydration, 40, "the dough is told by its hydration");
                }
                if self.cue(Cue::LossToo, 5, 4)
                    && near.iter().all(|near| near.cost > 60 || !self.is_thing(near.mention))
                {
                    self.topic(Topic::Loss, 110, "a loss is spoken of");
                }
                for (topic, cue, why) in [
                    (Topic::Hydration, Cue::Hydration, "hydration is spoken of"),
                    (Topic::Loss, Cue::Loss, "a loss is spoken of"),
                    (Topic::Prefermented, Cue::Preferment, "a preferment is spoken of"),
                    (Topic::Oil, Cue::TakesUp, "taking up oil is spoken of"),
                ] {
                    let oil = topic != Topic::Oil || self.cue(Cue::Oil, 10, 8);
                    if let Some(distance) = self.hearing.cue_distance(self.quantity(), cue, 10, 8).filter(|_| oil) {
                        // "the water's 74 percent, and that's your hydration": the nearer word has it.
                        self.topic(topic, 12 + 12 * i32::try_from(distance).unwrap_or(10), why);
                    }
                }
            }
            Kind::Weight => {
                if let Some(cost) = each {
                    self.topic(Topic::Piece, cost, "one piece is spoken of");
                }
                match (self.phrase(Role::Whole, 8, 6), self.cue(Cue::Total, 6, 5)) {
                    (true, true) => self.topic(Topic::Total, 70, "all of it is weighed"),
                    (true, false) => {
                        // "everything in the bowl comes to …"
                        let alone = near.iter().all(|near| near.cost > 100);
                        self.topic(Topic::Total, if alone { 120 } else { 155 }, "all of it is spoken of");
                    }
                    (false, true) => self.topic(Topic::Total, 170, "the whole is spoken of"),
                    (false, false) => {}
                }
                if let Some(distance) = self.hearing.taken_up(self.quantity()) {
                    let cost = 30 + 10 * i32::try_from(distance).unwrap_or(10);
                    self.topic(Topic::Oil, cost, "taking up oil is spoken of");
                }
                if self.cue(Cue::Loss, 8, 3) {
                    self.topic(Topic::Loss, 150, "a loss is spoken of");
                }
                if self.cue(Cue::Finished, 6, 5) {
                    self.topic(Topic::Finished, 140, "the finished weight is spoken of");
                }
                if self.cue(Cue::Basis, 5, 5) {
                    // "the basis is 950 grams of flour"
                    let told = self.quantity().start.checked_sub(2);
                    let told = told.is_some_and(|at| {
                        self.hearing.tells(at, Cue::Basis) && self.hearing.tokens[at + 1].is(Sense::Is)
                    });
                    self.topic(Topic::Basis, if told { -40 } else { 60 }, "the basis is spoken of");
                }
            }
            Kind::Volume | Kind::Count | Kind::Temperature | Kind::Duration | Kind::Length | Kind::Money => {}
        }
    }

    /// Whether a name is of a thing and not of pieces or parts.
    fn is_thing(&self, mention: usize) -> bool {
        let named = &self.hearing.mentions[mention].named;
        named.iter().all(|(named, _)| matches!(named, Named::Thing(_) | Named::Other(..)))
    }

    /// Whether a name is of several lines that are 100 % together: "a kilo of flour".
    fn names_basis(&self, mention: usize) -> bool {
        let named = &self.hearing.mentions[mention].named;
        let basis = |named: &Named| matches!(named, Named::Thing(thing) if self.truth.things[*thing].basis);
        let names = named.iter().filter(|(named, _)| basis(named)).filter_map(|(named, _)| match named {
            Named::Thing(thing) => self.truth.things[*thing].names.first(),
            Named::Other(..) | Named::Part(_) | Named::Piece => None,
        });
        names.collect::<std::collections::BTreeSet<_>>().len() > 1
    }

    /// Whether a name behind "of" is of what is 100 %.
    fn is_basis(&self, mention: usize) -> bool {
        let mention = &self.hearing.mentions[mention];
        let behind = mention.start >= self.quantity().end;
        behind
            && mention
                .named
                .iter()
                .any(|(named, _)| matches!(named, Named::Thing(thing) if self.truth.things[*thing].basis))
    }

    /// Counts: of a line by its name, of pieces, at a time, of anything.
    fn counts(&mut self, index: usize) {
        match self.heard.noun {
            Noun::Mention(mention) => {
                let near = Near { mention, cost: 0, why: "it is counted", again: false };
                self.of_mention(&near, &[Topic::Line]);
            }
            Noun::Pieces => self.topic(Topic::Pieces, 0, "pieces are counted"),
            Noun::AtATime => self.topic(Topic::Pieces, 290, "pieces are counted"),
            Noun::Strokes | Noun::Things | Noun::None => {
                let oil = near(self.hearing, index).iter().any(|near| {
                    let named = &self.hearing.mentions[near.mention].named;
                    near.cost < 200 && named.iter().any(|(named, _)| {
                        matches!(named, Named::Thing(thing) if self.truth.things[*thing].id == "fry.oil")
                    })
                });
                if oil && (self.cue(Cue::Uses, 8, 4) || self.heard.noun == Noun::Strokes) {
                    self.topic(Topic::OilUses, 60, "uses of the oil are counted");
                }
            }
        }
    }

    /// Money: of everything, of a piece, of a line, of the shopping.
    fn money(&mut self, index: usize) {
        let nearby = near(self.hearing, index);
        for near in &nearby {
            // "for tinned corn, €4.82": what tells the variant is not what is paid for.
            let variant = if self.heard.other.is_some() && self.hearing.tells_variant(near.mention) { 150 } else { 0 };
            let near = Near { cost: near.cost + 20 + variant, ..*near };
            self.of_mention(&near, &[Topic::CostLine]);
        }
        // What is "of it" is no total.
        if !self.is_shared_out(index) && self.hearing.is_paid_for_else(self.quantity().end) {
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
            // "…, salt a penny, so that's four forty-seven": a list of prices is summed up.
            let so = self.hinted(2, Hint::SumsUp);
            let is = start.checked_sub(1).is_some_and(|at| self.hearing.tokens[at].is(Sense::Is));
            let priced = index.checked_sub(1).map(|before| &self.hearing.heard[before]);
            let priced =
                priced.is_some_and(|before| before.kind == Some(Kind::Money) && start - before.quantity.end <= 8);
            let makes = self.hinted(1, Hint::AddsUp);
            // "and it's cheaper, it comes to seven seventy-one"
            let comes_to = self.hinted(2, Hint::Comes) && self.hearing.tape().is(start - 1, Sense::To);
            let adds_up = self.hearing.is_summed_up_at(start);
            let spoken = spoken || (so && is || makes) && priced || adds_up;
            // "So, fourteen dollars and seventy cents.", "Together, eleven dollars and three cents."
            let cents = !self.heard.carried && self.quantity().step == Exact::ratio(1, 100);
            let summed_up = cents && (is || self.hinted(1, Hint::SumsUp)) && self.hearing.talk_of_money(index);
            // "three euro twenty-six, so that's one euro eighty-one a jar"
            let shared_out = self.is_shared_out(index);
            let cost = match (led, spoken) {
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
        if self.tells_of_the_dish() {
            self.topic(Topic::CostTotal, -10, "the dish itself is spoken of");
        }
        // "and that's 65 cents, I buy the big carton" goes on with something else.
        let end = self.quantity().end;
        let own = (end..(end + 8).min(self.hearing.tokens.len())).find(|&at| self.hearing.hints(at, Hint::I));
        let reach = own.map_or(8, |at| at - end);
        if self.cue(Cue::Basket, 12, reach) || self.cue(Cue::Shop, 12, reach) {
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
            self.topic(Topic::Basket, cost, "the shopping is spoken of");
        }
        if self.is_left_of_the_packs() {
            self.topic(Topic::Unused, -40, "what is left of the shopping is spoken of");
        }
        let divided = self.phrase(Role::Divide, 8, 0).then_some(20);
        if let Some(cost) = self.heard_each().or(divided) {
            self.topic(Topic::CostEach, cost - 10, "one piece is spoken of");
        }
    }

    /// "18 08 of that is still on your shelf", "of that, 25.27 stays yours": whether it is what is left of whole packs.
    fn is_left_of_the_packs(&self) -> bool {
        let (start, end) = (self.quantity().start, self.quantity().end);
        let tape = self.hearing.tape();
        let these = [Sense::This, Sense::Pronoun, Sense::What, Sense::Them];
        let this = |at: usize| these.iter().any(|sense| tape.is(at, *sense));
        let flows = |at: usize| self.hearing.tokens.get(at).is_some_and(|token| token.gap != Gap::Sentence);
        let of_it = tape.flows(end) && tape.is(end, Sense::Of) && this(end + 1);
        let worth = tape.flows(end) && self.hearing.hints(end, Hint::Worth);
        let led = start > 1 && tape.is(start - 2, Sense::Of) && this(start - 1);
        let behind = (end..end + 9).take_while(|&at| flows(at));
        (of_it || worth || led) && behind.into_iter().any(|at| self.hearing.tells(at, Cue::Unused))
    }
}
