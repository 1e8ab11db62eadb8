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
    let mut list = List::new(hearing, truth, heard, kind);
    let without_figure = kind == Kind::Money && hearing.has_no_figure(&heard.quantity);
    if !heard.foreign && !without_figure {
        match kind {
            Kind::Weight | Kind::Volume | Kind::Percent => list.amounts(index),
            Kind::Count => list.counts(index),
            Kind::Money => list.money(index),
            Kind::Temperature | Kind::Duration | Kind::Length => {}
        }
        if !matches!(kind, Kind::Percent | Kind::Money) {
            list.measures(likeness);
        }
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

impl<'l, 't> List<'l, 't> {
    pub(super) fn new(hearing: &'l Hearing<'t>, truth: &'l Truth, heard: &'l Heard, kind: Kind) -> Self {
        Self { hearing, truth, heard, kind, found: Vec::new() }
    }

    pub(super) fn try_also(&mut self, candidate: Candidate) {
        self.found.push(candidate);
    }

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
    pub(super) fn hinted(&self, back: usize, hint: Hint) -> bool {
        self.quantity().start.checked_sub(back).is_some_and(|at| self.hearing.hints(at, hint))
    }

    /// Whether a phrase of a role stands near.
    pub(super) fn phrase(&self, wanted: Role, before: usize, behind: usize) -> bool {
        let quantity = self.quantity();
        let reader = self.hearing.reader();
        let from = quantity.start.saturating_sub(before);
        let stops = |at: usize| self.hearing.stops(at);
        let back = (from..quantity.start)
            .rev()
            .take_while(|&at| self.hearing.tokens[at + 1].gap != Gap::Sentence && !stops(at));
        let ahead = (quantity.end..quantity.end + behind).take_while(|&at| {
            // "the tamarind 76p so for the lot you're at 5 56"
            let goes_on = |token: &Token| {
                token.gap != Gap::Sentence
                    && !token.is(Sense::And)
                    && !(self.kind == Kind::Money && token.hints(Hint::So))
            };
            self.hearing.tokens.get(at).is_some_and(goes_on) && !stops(at)
        });
        // "twenty-nine all of it is three seventeen", "the brown fifty all in six 53": it belongs to what follows.
        let next_price = |at: usize| {
            let next = self.hearing.quantity_at.get(at).copied().flatten().map(|next| &self.hearing.heard[next]);
            let price = next.is_some_and(|next| next.kind == Some(Kind::Money) || next.quantity.short.is_some());
            self.kind == Kind::Money && price && self.hearing.tape().flows(at)
        };
        let opens = |at: usize, length: usize| {
            let is = self.hearing.tape().next_is(at + length, Sense::Is);
            // "two 96 for the lot, which is eight less than mine"
            let goes_on = self.kind == Kind::Money && self.hearing.hints(at + length, Hint::Which);
            // "those are 35p, the tray falls to 5 20"
            let to = |at: usize| self.hearing.tape().is(at, Sense::To) || self.hearing.tape().is(at, Sense::At);
            let falls = (at + length..at + length + 3).any(|at| to(at) && next_price(at + 1));
            at >= quantity.end && (is && !goes_on || falls || next_price(at + length))
        };
        // "the whole wheat" is a name.
        let named = |at: usize, length: usize| {
            (at..at + length)
                .any(|at| self.hearing.mention_at.get(at).copied().flatten().is_some_and(|m| self.is_thing(m)))
        };
        // "the batch is 5.20 and the bowl is 52 pence", where bowls are made; "what's in the bowl is 2.92" so far.
        let some_of_it = |at: usize, length: usize| {
            let piece = length > 1 && self.hearing.is_piece_at(at + length - 1);
            let so_far = at > 0
                && self.hearing.tokens[at - 1].is(Sense::Inside)
                && self.hearing.tokens[at].is(Sense::Determiner);
            wanted == Role::Whole && self.kind == Kind::Money && (piece || so_far)
        };
        let found = |at: usize| {
            let phrase = reader.phrase_of_subject(at, |role| role == wanted);
            // "everything else is a percent of that"
            let rest = |end: usize| self.hearing.hints(end, Hint::Else);
            phrase.is_some_and(|(_, length)| {
                !(opens(at, length) || named(at, length) || some_of_it(at, length) || rest(at + length))
            })
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
    pub(super) fn of_mention(&mut self, near: &Near, topics: &[Topic]) {
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
                // Nobody tells what water costs.
                let free = fact.topic == Topic::CostLine && fact.values.iter().all(|value| value.high().is_zero());
                if fact.kind == kind && fact.thing == Some(thing) && topics.contains(&fact.topic) && !free {
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
        // "Malt vinegar, 572 grams in all" is of the vinegar.
        let beside = |near: &&mut Near| self.hearing.mentions[near.mention].end < self.quantity().start;
        near.iter_mut().filter(before).filter(beside).filter(|_| whole).for_each(|near| near.cost += 60);
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
                // "add what hides in there and we're at about 69 percent, so a soft dough"
                let at = (start.saturating_sub(3)..start).any(|at| {
                    self.hearing.tape().is(at, Sense::At) && at > 0 && self.hearing.hints(at - 1, Hint::Subject)
                });
                let dough = (end..end + 5).any(|at| self.hearing.hints(at, Hint::Dough));
                if at && dough && self.hearing.name_at(end).is_none() {
                    self.topic(Topic::Hydration, 10, "the dough is told by its hydration");
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
    pub(super) fn is_thing(&self, mention: usize) -> bool {
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
}
