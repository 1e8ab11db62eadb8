//! Which quantities are claims: what is taken back, denied, of a package, of another dish or no number at all is
//! told apart here. Must not know what is true.

use super::lexicon::{Cue, Lexicon, Role, SaidUnit, Sense};
use super::mention::{Mention, Named, Names};
use super::numeral::Tape;
use super::quantity::{Quantity, Reader};
use super::sums::{Sum, sums};
use super::token::{Gap, Token};
use crate::exact::{Exact, Unit};
use crate::sheet::{Kind, Truth};
use std::collections::BTreeSet;

/// What becomes of a quantity.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fate {
    /// It is asserted of this recipe.
    Stands,
    /// The speaker took it back.
    TakenBack,
    /// It is denied.
    Denied,
    /// The size of a package, or a rate.
    Package,
    /// Words that look like a number and say none.
    Idle,
    /// Of another dish, time or person.
    Elsewhere,
    /// A term of a sum said aloud.
    InSum,
    /// A share of something, without a value.
    Share,
    /// A bare number that nothing gives a meaning.
    Meaningless,
}

/// What a count counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Noun {
    /// It is not a count, or the link has to tell.
    None,
    /// A name, an index of a mention.
    Mention(usize),
    /// Pieces of what is made.
    Pieces,
    /// Strokes: "ten times".
    Strokes,
    /// So many at once.
    AtATime,
    /// Things that the recipe does not name.
    Things,
}

/// A quantity with what the words around it make of it.
#[derive(Clone, Debug)]
pub struct Heard {
    /// The quantity.
    pub quantity: Quantity,
    /// What it measures; `None` where nothing tells.
    pub kind: Option<Kind>,
    /// What becomes of it.
    pub fate: Fate,
    /// What it counts.
    pub noun: Noun,
    /// The other variant it is said of, an index into the others of the truth.
    pub other: Option<usize>,
    /// Money of another currency.
    pub foreign: bool,
    /// Whether its unit was left out.
    pub carried: bool,
}

/// A script read as far as its own words go.
pub struct Hearing<'t> {
    /// The tokens.
    pub tokens: &'t [Token],
    /// Their stems.
    pub stems: &'t [String],
    /// The language.
    pub lexicon: &'static Lexicon,
    /// What is true, for its names and its currency alone.
    pub truth: &'t Truth,
    /// Names heard, in order.
    pub mentions: Vec<Mention>,
    /// Quantities in order.
    pub heard: Vec<Heard>,
    /// Sums said aloud.
    pub sums: Vec<Sum>,
    /// The mention that covers a token.
    pub mention_at: Vec<Option<usize>>,
    /// The quantity that covers a token.
    pub quantity_at: Vec<Option<usize>>,
    /// Stems of the method and of what pieces are called.
    method: BTreeSet<String>,
}

/// Reads all of a script.
pub fn hear<'t>(tokens: &'t [Token], stems: &'t [String], lexicon: &'static Lexicon, truth: &'t Truth) -> Hearing<'t> {
    let reader = Reader { tape: Tape(tokens), lexicon, measures: truth.measures };
    let names = Names::new(truth, lexicon);
    let mentions = names.all(tokens);
    let quantities = reader.all();
    let mut hearing = Hearing {
        tokens,
        stems,
        lexicon,
        truth,
        mention_at: vec![None; tokens.len()],
        quantity_at: vec![None; tokens.len()],
        method: method(truth, lexicon),
        mentions,
        heard: Vec::with_capacity(quantities.len()),
        sums: Vec::new(),
    };
    hearing.slots(&names, &quantities);
    hearing.cover();
    for (index, quantity) in quantities.into_iter().enumerate() {
        hearing.quantity_at[quantity.start..quantity.end].fill(Some(index));
        let kind = quantity.unit.map(|unit| unit.kind(hearing.pounds(&quantity)));
        let foreign = quantity.unit.is_some_and(|unit| hearing.foreign(unit));
        let (noun, carried) = (Noun::None, quantity.unit.is_none());
        hearing.heard.push(Heard { quantity, kind, fate: Fate::Stands, noun, other: None, foreign, carried });
    }
    hearing.cents();
    hearing.thicknesses();
    hearing.sums = sums(&mut hearing, reader);
    let idle = hearing.idle(reader);
    for index in 0..hearing.heard.len() {
        hearing.screen(index, &idle);
    }
    super::bare::give_meaning(&mut hearing, reader);
    hearing.corrections(reader);
    hearing.elsewhere(reader);
    hearing.alternatives(reader);
    hearing
}

/// Stems of the method and of what pieces are called.
fn method(truth: &Truth, lexicon: &Lexicon) -> BTreeSet<String> {
    let texts = truth.steps.iter().map(|step| &step.text).chain(&truth.pieces);
    let words = texts.map(|text| super::token::folded(text));
    words.flat_map(|text| text.split_whitespace().map(lexicon.language.stem).collect::<Vec<_>>()).collect()
}

impl<'t> Hearing<'t> {
    /// The tape of tokens.
    pub fn tape(&self) -> Tape<'t> {
        Tape(self.tokens)
    }

    fn cover(&mut self) {
        self.mentions.sort_by_key(|mention| mention.start);
        self.mention_at = vec![None; self.tokens.len()];
        for (index, mention) in self.mentions.iter().enumerate() {
            self.mention_at[mention.start..mention.end].fill(Some(index));
        }
    }

    /// Names that are heard only by their sound, where a name must stand: behind "grams of", before "52 grams",
    /// and behind a number alone.
    fn slots(&mut self, names: &Names, quantities: &[Quantity]) {
        self.cover();
        let mut found = Vec::new();
        let free = |at: usize| self.mention_at.get(at).is_none_or(Option::is_none);
        for quantity in quantities {
            let of = self.after_of(quantity.end);
            let from = of.unwrap_or(quantity.end);
            let mut at = from;
            while at < from + 2 && self.tape().flows(at + 1) && self.tape().is(at, Sense::Describes) && free(at) {
                at += 1;
            }
            let open = |at: usize| self.tape().flows(at) && (at..at + 3).all(free);
            if of.is_some() || quantity.unit.is_none() {
                let heard =
                    [from, at].into_iter().filter(|&at| open(at)).find_map(|at| names.sounding(self.tokens, at));
                let told = || names.described(self.tokens, from, of.is_some());
                if let Some(mention) = heard.or_else(told) {
                    found.push(mention);
                    continue;
                }
            }
            // "the strong one is 46 cents"
            let told = (2..=4).filter_map(|back| quantity.start.checked_sub(back)).find_map(|at| {
                let rest = (at + 2..quantity.start).all(|between| self.tape().is(between, Sense::Is));
                names.described(self.tokens, at, false).filter(|told| rest && told.end == at + 2 && free(at))
            });
            if let Some(told) = told {
                found.push(told);
                continue;
            }
            if quantity.unit.is_some() {
                let ends_here = |mention: &Mention| mention.end == quantity.start;
                let before = (1..=3).filter_map(|back| quantity.start.checked_sub(back)).rev();
                let heard = before
                    .filter(|&at| (at..quantity.start).all(|at| free(at) && self.tape().flows(at + 1)))
                    .filter_map(|at| names.sounding(self.tokens, at))
                    .find(ends_here);
                found.extend(heard.filter(|mention| mention.end - mention.start > 1));
            }
        }
        self.mentions.extend(found);
    }

    /// One past "of" and determiners that stand at `at`; `None` without an "of".
    pub fn after_of(&self, at: usize) -> Option<usize> {
        if !self.tape().next_is(at, Sense::Of) {
            return None;
        }
        let mut at = at + 1;
        while self.tape().next_is(at, Sense::Determiner) || self.tape().next_is(at, Sense::Article) {
            at += 1;
        }
        Some(at)
    }

    /// "57c" right behind another price is cents.
    fn cents(&mut self) {
        for index in 1..self.heard.len() {
            let (before, heard) = (&self.heard[index - 1], &self.heard[index]);
            let near = heard.quantity.start - before.quantity.end <= 12 && before.kind == Some(Kind::Money);
            if near && self.tokens[heard.quantity.end - 1].text == "c" {
                let heard = &mut self.heard[index];
                (heard.kind, heard.quantity.unit) = (Some(Kind::Money), Some(SaidUnit::Minor(None)));
            }
        }
    }

    /// "five mil thick" is of length.
    fn thicknesses(&mut self) {
        for index in 0..self.heard.len() {
            let quantity = &self.heard[index].quantity;
            let mil = quantity.unit == Some(SaidUnit::Unit(Unit::Millilitre));
            if mil && (self.cue(quantity, Cue::Across, 0, 2) || self.cue(quantity, Cue::Deep, 0, 2)) {
                let heard = &mut self.heard[index];
                (heard.kind, heard.quantity.unit) = (Some(Kind::Length), Some(SaidUnit::Unit(Unit::Millimetre)));
            }
        }
    }

    /// What pounds are of: money where prices are in pounds and it is about cost, weight elsewhere.
    fn pounds(&self, quantity: &Quantity) -> Kind {
        if self.truth.currency.code() != "GBP" {
            return Kind::Weight;
        }
        let from = quantity.start.saturating_sub(8);
        let cost = self.tokens[from..quantity.start].iter().any(|token| token.is(Sense::Cost));
        let each = self.tape().is(quantity.end, Sense::Each);
        if cost || each { Kind::Money } else { Kind::Weight }
    }

    /// Whether a unit is of a currency that is not the channel's.
    fn foreign(&self, unit: SaidUnit) -> bool {
        let own = self.truth.currency.code();
        match unit {
            SaidUnit::Major(code) => code != own,
            SaidUnit::Minor(code) => code.is_some_and(|code| code != own),
            SaidUnit::Dollar => !matches!(own, "USD" | "CAD" | "AUD" | "NZD" | "SGD" | "HKD"),
            SaidUnit::PoundOrMoney | SaidUnit::Unit(_) | SaidUnit::Degrees | SaidUnit::Days(_) => false,
        }
    }

    /// Tokens of phrases that say no number.
    fn idle(&self, reader: Reader<'_>) -> Vec<bool> {
        let mut idle = vec![false; self.tokens.len()];
        for at in 0..self.tokens.len() {
            if let Some((_, length)) = reader.phrase(at, |role| role == Role::Nothing) {
                idle[at..(at + length).min(self.tokens.len())].fill(true);
            }
        }
        idle
    }

    /// Tells apart what has a unit and is no claim all the same.
    fn screen(&mut self, index: usize, idle: &[bool]) {
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
        let fate = match kind {
            _ if idle[start..end].iter().all(|idle| *idle) => Fate::Idle,
            // "I had eleven jars" is a story.
            None if before.is_some_and(|b| self.tokens[b].text == "had") => Fate::Idle,
            _ if next_alien(1) => Fate::Idle,
            Some(Kind::Percent) if before.is_some_and(|b| tape.is(b, Sense::Alien)) => Fate::Idle,
            Some(Kind::Percent) if next_alien(3) && !self.names_behind(end, 3) => Fate::Idle,
            Some(Kind::Duration) if self.talk_of_the_video(start, end) => Fate::Idle,
            Some(Kind::Weight | Kind::Volume) if self.is_package(start, end) => Fate::Package,
            Some(Kind::Money) if self.is_pack_price(index) || self.is_money_of_package(index) => Fate::Package,
            Some(_) if self.is_priced_pack(index) => Fate::Package,
            Some(_) if before.is_some_and(|b| tape.is(b, Sense::Per)) => Fate::Package,
            Some(_) if article && self.follows_money(index) => Fate::Package,
            Some(_) if article && self.is_bare_singular(quantity) => Fate::Idle,
            Some(_) | None => Fate::Stands,
        };
        self.heard[index].fate = fate;
    }

    /// Whether a name starts within so many tokens.
    fn names_behind(&self, at: usize, reach: usize) -> bool {
        (at..at + reach).any(|at| self.mention_at.get(at).copied().flatten().is_some())
    }

    /// "in two minutes I'll show you".
    fn talk_of_the_video(&self, start: usize, end: usize) -> bool {
        let own = (start.saturating_sub(4)..start).any(|at| self.tokens[at].is(Sense::Chat));
        let have = start >= 2 && self.tokens[start - 1].text == "have" && self.tokens[start - 2].text == "i";
        if own || have {
            return true;
        }
        let inside = start.checked_sub(1).is_some_and(|b| self.tokens[b].text == "in");
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
            subject.filter(|&at| (at..start).any(|at| tape.is(at, Sense::Is)) && !self.names_behind(at, start - at))
        };
        container.is_some_and(|container| self.is_foreign_container(container))
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
        let rate = (self.tape().is(end, Sense::Article) || self.tape().is(end, Sense::Per)) && package(end + 1);
        let sentence =
            (start.saturating_sub(7)..start).rev().take_while(|&at| self.tokens[at + 1].gap != Gap::Sentence);
        let before = sentence.into_iter().take_while(|&at| self.heard_money_at(at).is_none()).any(package);
        rate || before
    }

    fn heard_money_at(&self, at: usize) -> Option<usize> {
        self.quantity_at[at].filter(|&index| self.heard[index].kind == Some(Kind::Money))
    }

    /// "2.49 for a litre", "three euros a kilo": what a pack costs is no cost of the dish.
    fn is_pack_price(&self, index: usize) -> bool {
        let end = self.heard[index].quantity.end;
        let rate = self.tape().flows(end)
            && (self.tape().is(end, Sense::Article) || self.tape().is(end, Sense::Per))
            && self
                .tokens
                .get(end + 1)
                .and_then(Token::unit)
                .is_some_and(|unit| matches!(unit.kind(Kind::Weight), Kind::Weight | Kind::Volume));
        rate || self.pack_behind(index).is_some()
    }

    /// The amount that money is "for".
    fn pack_behind(&self, index: usize) -> Option<usize> {
        let end = self.heard[index].quantity.end;
        let next = self.heard.get(index + 1)?;
        let for_it = self.tokens.get(end).is_some_and(|token| token.text == "for" && token.gap == Gap::None);
        let amount = matches!(next.kind, Some(Kind::Weight | Kind::Volume));
        (for_it && amount && next.quantity.start == end + 1).then_some(index + 1)
    }

    fn is_priced_pack(&self, index: usize) -> bool {
        let before = index.checked_sub(1).filter(|&before| self.heard[before].kind == Some(Kind::Money));
        before.and_then(|before| self.pack_behind(before)) == Some(index)
    }

    /// "three euros a kilo": a rate.
    fn follows_money(&self, index: usize) -> bool {
        index.checked_sub(1).and_then(|before| self.heard.get(before)).is_some_and(|before| {
            let price = before.kind == Some(Kind::Money) || before.kind.is_none() && !before.quantity.low.is_whole();
            price && before.quantity.end == self.heard[index].quantity.start
        })
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

    /// Values taken back or denied.
    fn corrections(&mut self, reader: Reader<'_>) {
        for index in 0..self.heard.len() {
            if self.heard[index].fate != Fate::Stands {
                continue;
            }
            let denied = self.denied(reader, &self.heard[index].quantity);
            if denied {
                self.heard[index].fate = Fate::Denied;
            }
        }
        for index in 1..self.heard.len() {
            let (first, second) = (&self.heard[index - 1], &self.heard[index]);
            let standing = first.fate == Fate::Stands && second.fate == Fate::Stands;
            let again = self.taken_back(reader, first, second) || self.starts_again(first, second);
            if standing && first.kind == second.kind && again {
                self.heard[index - 1].fate = Fate::TakenBack;
            }
        }
    }

    /// "a hundred, a hundred and twenty": the first was only the beginning of the second.
    fn starts_again(&self, first: &Heard, second: &Heard) -> bool {
        let (from, to) = (first.quantity.end, second.quantity.start);
        let light = |at: usize| {
            let token = &self.tokens[at];
            token.is(Sense::And) || token.is(Sense::Is) || token.text.len() == 1
        };
        let (a, b) = (&first.quantity.high, &second.quantity.high);
        let round = (a / Exact::from(10)).is_whole() && *a < *b && b - a < a.clone().min(Exact::from(100));
        first.carried && to <= from + 3 && (from..to).all(light) && round
    }

    fn taken_back(&self, reader: Reader<'_>, first: &Heard, second: &Heard) -> bool {
        let (from, to) = (first.quantity.end, second.quantity.start);
        if to.saturating_sub(from) > 12 {
            return false;
        }
        (from..to).any(|at| {
            let near = at - from <= 5;
            near && reader
                .phrase(at, |role| role == Role::Correction)
                .is_some_and(|(_, length)| at + length <= to && to - (at + length) <= 4)
        })
    }

    /// Whether a denial stands right before a quantity, or before the words that say how exact it is.
    fn denied(&self, reader: Reader<'_>, quantity: &Quantity) -> bool {
        let mut start = quantity.start;
        let mut leeway = 0;
        for back in 1..=4.min(start) {
            let found = reader.phrase(start - back, |role| matches!(role, Role::Before(_)));
            if found.is_some_and(|(_, length)| length == back) {
                leeway = back;
            }
        }
        start -= leeway;
        let ends_here = |back: usize| {
            let found = reader.phrase(start - back, |role| role == Role::Denial);
            found.is_some_and(|(_, length)| length == back)
        };
        (1..=5.min(start)).any(ends_here) && self.tape().at(start).is_some_and(|token| token.gap != Gap::Sentence)
    }

    /// What is said of other recipes, other times and other people.
    fn elsewhere(&mut self, reader: Reader<'_>) {
        let mut until = 0;
        let mut scope = vec![false; self.tokens.len()];
        for at in 0..self.tokens.len() {
            if let Some((_, length)) = reader.phrase(at, |role| role == Role::Elsewhere) {
                until = at + length + 14;
                scope[at..(at + length).min(self.tokens.len())].fill(true);
            }
            let ends = self.tokens[at].gap == Gap::Sentence || self.tokens[at].is(Sense::But);
            if ends && !scope[at] {
                until = at;
            }
            scope[at] |= at < until;
        }
        for heard in &mut self.heard {
            if scope[heard.quantity.start] && heard.fate == Fate::Stands {
                heard.fate = Fate::Elsewhere;
            }
        }
    }

    /// "if you use tinned …": what is said of another variant.
    fn alternatives(&mut self, reader: Reader<'_>) {
        if self.truth.others.is_empty() {
            return;
        }
        let titles = self.titles();
        let mut scope: Vec<Option<usize>> = vec![None; self.tokens.len()];
        for at in 0..self.tokens.len() {
            let Some((_, length)) = reader.phrase(at, |role| role == Role::Alternative) else { continue };
            let from = at + length;
            let Some(other) = (from..(from + 4).min(self.tokens.len())).find_map(|i| self.other_at(i, &titles)) else {
                continue;
            };
            // A sentence without a number is only the question; one that begins "that's" goes on.
            let ends = |i: usize| {
                let said = self.quantity_at[from..i].iter().any(Option::is_some);
                let goes_on = self.tokens[i].is(Sense::Is);
                said && self.tokens[i].gap == Gap::Sentence && !goes_on
                    || i > from + 3 && reader.phrase(i, |role| role == Role::Return).is_some()
            };
            let to = (from..self.tokens.len().min(from + 36)).find(|&i| ends(i)).unwrap_or(from + 36);
            scope[at..to.min(self.tokens.len())].fill(Some(other));
        }
        for index in 0..self.heard.len() {
            let quantity = &self.heard[index].quantity;
            let behind = (quantity.end..quantity.end + 3)
                .take_while(|&at| self.tokens.get(at).is_some_and(|token| token.gap != Gap::Sentence))
                .find_map(|at| scope[at]);
            let behind = behind.filter(|_| !self.names_behind(quantity.end, 2));
            self.heard[index].other = scope[quantity.start].or(behind);
        }
    }

    /// The other variant that a token names: by an item that only it has, or by a word of its title alone.
    fn other_at(&self, at: usize, titles: &[BTreeSet<String>]) -> Option<usize> {
        let mention = self.mention_at[at].map(|mention| &self.mentions[mention]);
        let best = mention.and_then(|mention| mention.named.iter().min_by_key(|(_, looseness)| *looseness));
        if let Some((Named::Other(other, _), _)) = best {
            return Some(*other);
        }
        titles.iter().position(|title| title.contains(&self.stems[at]))
    }

    /// Words of each other variant's id that nothing else of the recipe has.
    fn titles(&self) -> Vec<BTreeSet<String>> {
        let stem = |word: &str| (self.lexicon.language.stem)(&word.to_lowercase());
        let own: BTreeSet<String> = self
            .truth
            .things
            .iter()
            .filter_map(|thing| thing.names.first())
            .chain([&self.truth.title])
            .flat_map(|name| name.split(' '))
            .map(stem)
            .collect();
        let of = |other: &Truth| {
            let words = other.variant.iter().flat_map(|id| id.split('-')).filter(|word| word.len() > 3).map(stem);
            words.filter(|word| !own.contains(word)).collect()
        };
        self.truth.others.iter().map(of).collect()
    }

    /// Whether a topic's word stands near a quantity: so many tokens before, so many behind, in one sentence.
    pub fn cue(&self, quantity: &Quantity, cue: Cue, before: usize, behind: usize) -> bool {
        self.cue_distance(quantity, cue, before, behind).is_some()
    }

    /// Whether another quantity that stands is at a token: words beyond it are its own.
    pub fn stops(&self, at: usize) -> bool {
        let other = self.quantity_at[at].map(|index| &self.heard[index]);
        other.is_some_and(|heard| heard.kind.is_some() && heard.fate == Fate::Stands)
    }

    /// How far the nearest word of a topic stands.
    pub fn cue_distance(&self, quantity: &Quantity, cue: Cue, before: usize, behind: usize) -> Option<usize> {
        let is = |at: usize| self.lexicon.cues(&self.tokens[at].text).contains(&cue);
        let mut nearest = None;
        for back in 1..=before.min(quantity.start) {
            let at = quantity.start - back;
            if self.tokens[at + 1].gap == Gap::Sentence || self.stops(at) {
                break;
            }
            if is(at) {
                nearest = Some(back);
                break;
            }
        }
        for ahead in 0..behind {
            let at = quantity.end + ahead;
            let Some(token) = self.tokens.get(at) else { break };
            if token.gap == Gap::Sentence || self.stops(at) {
                break;
            }
            if is(at) {
                return Some(nearest.map_or(ahead + 1, |n: usize| n.min(ahead + 1)));
            }
        }
        nearest
    }
}
