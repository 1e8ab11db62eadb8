//! Which quantities are claims: what is taken back, denied, of a package, of another dish or no number at all is
//! told apart here. Must not know what is true.

mod back;
mod kitchen;
mod pack;
mod screen;
mod variant;

use super::hint::Hint;
use super::lexicon::{Cue, Leeway, Lexicon, Role, SaidUnit, Sense};
use super::mention::{Mention, Names};
use super::numeral::Tape;
use super::quantity::{Quantity, Reader};
use super::sums::{Sum, sums};
use super::token::{Gap, Token};
use crate::exact::{Exact, Unit};
use crate::model::Pantry;
use crate::sheet::{Kind, Topic, Truth};
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

impl Heard {
    /// Whether it is one of its unit: "a cup", "a litre".
    pub fn is_one(&self) -> bool {
        self.quantity.low == Exact::one() && self.quantity.high == Exact::one()
    }
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
    /// What food is called in one word, one of it.
    foods: BTreeSet<String>,
    /// Stems by which each other variant is told.
    titles: Vec<BTreeSet<String>>,
}

/// The last words of the names of food.
fn foods(pantry: &Pantry, lexicon: &Lexicon) -> BTreeSet<String> {
    let names = pantry.items.values().flat_map(|item| std::iter::once(&item.name).chain(&item.said_as));
    let last = names.filter_map(|name| super::token::folded(name).split_whitespace().last().map(str::to_owned));
    last.map(|word| (lexicon.language.singular)(&word)).collect()
}

/// "fourteen, did I say fourteen, forty-one": the second fourteen only repeats the first and is no part of what follows.
fn begun_again(mut quantities: Vec<Quantity>, reader: Reader<'_>) -> Vec<Quantity> {
    let repeats = |first: &Quantity, second: &Quantity| {
        let (head, tail) = second.short.filter(|_| second.unit.is_none())?;
        let doubt = |role| matches!(role, Role::Doubt | Role::Correction);
        let same = first.unit.is_none() && first.low == Exact::from(head);
        let asked = (first.end..second.start)
            .any(|at| reader.phrase(at, doubt).is_some_and(|(_, length)| at + length == second.start));
        (same && second.start - first.end <= 4 && asked).then_some((first.end - first.start, tail))
    };
    for index in 1..quantities.len() {
        if let Some((words, tail)) = repeats(&quantities[index - 1], &quantities[index]) {
            let second = &mut quantities[index];
            second.start += words;
            (second.low, second.high) = (Exact::from(tail), Exact::from(tail));
            second.short = None;
        }
    }
    quantities
}

/// "wholemeal 15 72, rye 20 96" behind "spelt 65 percent 312 grams": a percent and a weight each, and no prices.
fn parted(quantities: Vec<Quantity>, tape: Tape<'_>) -> Vec<Quantity> {
    let percent = Some(SaidUnit::Unit(Unit::Percent));
    let gram = Some(SaidUnit::Unit(Unit::Gram));
    let mut parted: Vec<Quantity> = Vec::with_capacity(quantities.len());
    for quantity in quantities {
        let pair = quantity.short.filter(|(share, _)| quantity.unit.is_none() && (1..=100).contains(share));
        let goes_on = match parted.last_chunk::<2>() {
            Some([share, weight]) => {
                let close = share.end == weight.start && quantity.start - weight.end <= 4;
                let both = share.unit == percent && weight.unit == gram;
                close && both && quantity.end == quantity.start + 2 && tape.flows(quantity.start + 1)
            }
            None => false,
        };
        let Some((share, weight)) = pair.filter(|_| goes_on) else {
            parted.push(quantity);
            continue;
        };
        let part = |value: i64, unit, start| Quantity {
            start,
            end: start + 1,
            low: Exact::from(value),
            high: Exact::from(value),
            step: Exact::one(),
            unit,
            short: None,
            pair: None,
            ..quantity.clone()
        };
        parted.extend([part(share, percent, quantity.start), part(weight, gram, quantity.start + 1)]);
    }
    parted
}

/// "eighty percent of it is strong, so eight hundred, and twenty percent wholemeal": nothing here is 820 percent of
/// anything.
fn two_of_hundreds(quantities: Vec<Quantity>, tape: Tape<'_>) -> Vec<Quantity> {
    let percent = Some(SaidUnit::Unit(Unit::Percent));
    let mut all: Vec<Quantity> = Vec::with_capacity(quantities.len());
    for quantity in quantities {
        let joint = (quantity.start..quantity.end)
            .find(|&at| tape.is(at, Sense::And))
            .filter(|_| quantity.unit == percent && quantity.low == quantity.high && quantity.low > Exact::from(500));
        let Some(joint) = joint else {
            all.push(quantity);
            continue;
        };
        let hundreds = (&quantity.low * Exact::ratio(1, 100)).floor() * Exact::from(100);
        let rest = &quantity.low - &hundreds;
        all.push(Quantity {
            end: joint,
            low: hundreds.clone(),
            high: hundreds,
            unit: None,
            short: None,
            pair: None,
            ..quantity.clone()
        });
        all.push(Quantity { start: joint + 1, low: rest.clone(), high: rest, ..quantity });
    }
    all
}

/// "the freezer is at minus eighteen", "-18 °C". "864 minus 480" is a sum, and "- 200 g" stands in a list.
fn below_zero(mut quantities: Vec<Quantity>, tape: Tape<'_>) -> Vec<Quantity> {
    let mut end = None;
    for quantity in &mut quantities {
        let word = quantity.start.checked_sub(1).filter(|&at| tape.flows(at + 1) && Some(at) != end);
        let word = word.filter(|&at| tape.at(at).is_some_and(|token| token.hints(Hint::BelowZero)));
        let sign = tape.at(quantity.start).is_some_and(|token| token.below);
        let cold = quantity.high.is_whole() && quantity.high < Exact::from(100) && !quantity.fraction;
        let degrees = match quantity.unit {
            Some(unit) => unit.kind(Kind::Weight) == Kind::Temperature,
            None => cold && word.is_some(),
        };
        end = Some(quantity.end);
        if degrees && (sign || word.is_some()) {
            (quantity.low, quantity.high) = (-&quantity.high, -&quantity.low);
            quantity.unit = quantity.unit.or(Some(SaidUnit::Degrees));
            quantity.start = word.unwrap_or(quantity.start);
        }
    }
    quantities
}

/// Reads all of a script.
pub fn hear<'t>(
    tokens: &'t [Token],
    stems: &'t [String],
    lexicon: &'static Lexicon,
    (truth, pantry): (&'t Truth, &Pantry),
) -> Hearing<'t> {
    let reader = Reader { tape: Tape(tokens), lexicon, measures: truth.measures };
    let names = Names::new(truth, lexicon);
    let mentions = names.all(tokens);
    let quantities = two_of_hundreds(parted(begun_again(reader.all(), reader), reader.tape), reader.tape);
    let quantities = below_zero(quantities, reader.tape);
    let mut hearing = Hearing {
        tokens,
        stems,
        lexicon,
        truth,
        mention_at: vec![None; tokens.len()],
        quantity_at: vec![None; tokens.len()],
        method: method(truth, lexicon),
        foods: foods(pantry, lexicon),
        titles: Vec::new(),
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
    hearing.fills();
    hearing.raises();
    hearing.sums = sums(&mut hearing, reader);
    let idle = hearing.idle(reader);
    for index in 0..hearing.heard.len() {
        hearing.screen(index, &idle);
    }
    hearing.marks(reader);
    hearing.counts_up();
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
    // "about" tells nothing of the method.
    let leeway = |word: &str| {
        let role = |role| matches!(role, Role::Before(_) | Role::After(_));
        lexicon.phrase(|k| (k == 0).then_some(word), role).is_some()
    };
    let stems = |text: String| -> Vec<String> {
        text.split_whitespace().filter(|word| !leeway(word)).map(lexicon.language.stem).collect()
    };
    words.flat_map(stems).collect()
}

impl<'t> Hearing<'t> {
    /// The tape of tokens.
    pub fn tape(&self) -> Tape<'t> {
        Tape(self.tokens)
    }

    /// What reads phrases on the tape.
    pub fn reader(&self) -> Reader<'t> {
        Reader { tape: self.tape(), lexicon: self.lexicon, measures: self.truth.measures }
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
            let open = |at: usize| self.tape().flows(at) && free(at);
            // "seventy-five percent strong, fifteen wholemeal"
            let percent = quantity.unit == Some(SaidUnit::Unit(Unit::Percent));
            if of.is_some() || quantity.unit.is_none() || percent {
                let heard =
                    [from, at].into_iter().filter(|&at| open(at)).find_map(|at| names.sounding(self.tokens, at));
                let heard = heard.filter(|heard| (heard.start..heard.end).all(free));
                let told = || names.described(self.tokens, from, true);
                if let Some(mention) = heard.or_else(told) {
                    found.push(mention);
                    continue;
                }
            }
            // "the strong one is 46 cents", "the strong is the other 86"
            let told = (2..=4).filter_map(|back| quantity.start.checked_sub(back)).find_map(|at| {
                let told = names.described(self.tokens, at, false)?;
                let light = |between: usize| {
                    [Sense::Is, Sense::Determiner, Sense::Left].iter().any(|sense| self.tape().is(between, *sense))
                };
                ((told.end..quantity.start).all(light) && free(at)).then_some(told)
            });
            // "wholemeal 44 cents, plain 17, oats 20", also "strong, 321 grams" and "the rest is plain 90 grams"
            let row = quantity.start.checked_sub(1).filter(|&at| {
                let unit = quantity.unit.is_some();
                let opens = self.tokens[at].gap != Gap::None || at > 0 && self.quantity_at[at - 1].is_some();
                let led = unit && at > 0 && self.tokens[at - 1].is(Sense::Is) && self.tape().flows(at);
                let flows =
                    self.tape().flows(quantity.start) || unit && opens && self.tokens[quantity.start].gap == Gap::Comma;
                (opens || led) && free(at) && flows
            });
            if let Some(told) = told.or_else(|| row.and_then(|at| names.listed(self.tokens, at))) {
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
        // "one tablespoon, level, of caraway"
        let filled = self.tape().is(at, Sense::Filling) && self.tape().is(at + 1, Sense::Of);
        let filled = filled && (at..at + 2).all(|at| self.tokens[at].gap != Gap::Sentence);
        let at = if filled { at + 1 } else { at };
        if !self.tape().next_is(at, Sense::Of) && !filled {
            return None;
        }
        // "of that, the corn …": one determiner and no more.
        let mut at = at + 1;
        if self.tape().next_is(at, Sense::Determiner) {
            at += 1;
        }
        if self.tape().next_is(at, Sense::Article) {
            at += 1;
        }
        Some(at)
    }

    /// "57c" right behind another price is cents.
    fn cents(&mut self) {
        for index in 1..self.heard.len() {
            let (before, heard) = (&self.heard[index - 1], &self.heard[index]);
            let near = heard.quantity.start - before.quantity.end <= 12 && before.kind == Some(Kind::Money);
            if near && self.hints(heard.quantity.end - 1, Hint::Cents) {
                let heard = &mut self.heard[index];
                (heard.kind, heard.quantity.unit) = (Some(Kind::Money), Some(SaidUnit::Minor(None)));
            }
        }
    }

    /// "five mil thick" is of length.
    fn thicknesses(&mut self) {
        for index in 0..self.heard.len() {
            let quantity = &self.heard[index].quantity;
            let mil = self.tokens[quantity.end - 1].is(Sense::NotAlone);
            let mil = mil && quantity.unit == Some(SaidUnit::Unit(Unit::Millilitre));
            let cut = (quantity.start.saturating_sub(4)..quantity.start).any(|at| self.tokens[at].is(Sense::Divides));
            // "nine centimetres across and a bit of a belly in the middle, two mil"
            let before = index.checked_sub(1).map(|before| &self.heard[before]);
            let cut = cut
                || before.is_some_and(|before| {
                    before.kind == Some(Kind::Length) && quantity.start - before.quantity.end <= 14
                }) && quantity.high < Exact::from(10);
            if mil && (cut || self.cue(quantity, Cue::Across, 0, 2) || self.cue(quantity, Cue::Deep, 0, 2)) {
                let heard = &mut self.heard[index];
                (heard.kind, heard.quantity.unit) = (Some(Kind::Length), Some(SaidUnit::Unit(Unit::Millimetre)));
            }
        }
    }

    /// "bump your salt up to 36 grams" tells where it goes and is no bound.
    fn raises(&mut self) {
        for index in 0..self.heard.len() {
            let quantity = &self.heard[index].quantity;
            let (start, most) = (quantity.start, quantity.leeway == Leeway::AtMost);
            if most && (start.saturating_sub(6)..start).any(|at| self.tells(at, Cue::Moves)) {
                self.heard[index].quantity.leeway = Leeway::None;
            }
        }
    }

    /// "five ounces each", "the eight ounce jars": of containers that the method fills ounces are fluid.
    fn fills(&mut self) {
        let ounce = Some(SaidUnit::Unit(Unit::Ounce));
        let volumes = self.truth.facts.iter().any(|fact| fact.topic == Topic::Measure && fact.kind == Kind::Volume);
        for index in 0..self.heard.len() {
            let quantity = &self.heard[index].quantity;
            let (start, end) = (quantity.start, quantity.end);
            // "and ten ounces of soda on top": of what the recipe does not weigh
            let of = self.after_of(end).filter(|&of| self.name_at(of).is_some());
            if quantity.unit != ounce || !volumes || of.is_some() {
                continue;
            }
            let holds = (start.saturating_sub(2)..start).any(|at| self.tokens[at].is(Sense::Holds));
            let glass = (start.saturating_sub(14)..start).any(|at| self.tells(at, Cue::Glass));
            let before =
                (start.saturating_sub(10)..start).rev().take_while(|&at| self.tokens[at + 1].gap != Gap::Sentence);
            let behind = (end..(end + 2).min(self.tokens.len())).take_while(|&at| self.tape().flows(at));
            let named = behind.clone().any(|at| self.mention_at[at].is_some() && !self.is_piece_at(at));
            let container =
                |at: usize| self.is_piece_at(at) || self.tokens[at].is(Sense::Package) && self.is_of_the_method(at);
            // "two tablespoons in ten ounces of fizzy water"
            let water = self.after_of(end).is_some_and(|of| (of..of + 2).any(|at| self.hints(at, Hint::Drink)));
            if !named && (water || glass || holds || before.chain(behind).any(container)) {
                let heard = &mut self.heard[index];
                (heard.kind, heard.quantity.unit) = (Some(Kind::Volume), Some(SaidUnit::Unit(Unit::FluidOunce)));
            }
        }
    }

    /// Whether a number right behind a sum is what the sum came to, said again.
    pub fn says_result(&self, quantity: &Quantity) -> bool {
        let sum = self.sum_before(quantity);
        let result = sum.and_then(Sum::result).map(|last| &self.heard[last].quantity);
        result.is_some_and(|result| result.low == quantity.low && result.high == quantity.high)
    }

    /// Whether a number stands right behind a sum of several: what they come to.
    pub fn follows_long_sum(&self, quantity: &Quantity) -> bool {
        self.sum_before(quantity).is_some_and(|sum| sum.terms.len() > 3)
    }

    fn sum_before(&self, quantity: &Quantity) -> Option<&Sum> {
        let last = self.sums.partition_point(|sum| sum.end <= quantity.start).checked_sub(1);
        last.map(|last| &self.sums[last]).filter(|sum| quantity.start - sum.end <= 4)
    }

    /// "1.93 plus 0.53 plus 0.29 is 2.75, two seventy-five then": what several numbers came to is said again.
    pub fn adds_up_to(&self, quantity: &Quantity) -> bool {
        self.sum_before(quantity).is_some_and(|sum| sum.terms.len() > 3) && self.says_result(quantity)
    }

    /// "it all adds up to 6 95": whether words tell that what stands at a token is a sum.
    pub fn is_summed_up_at(&self, start: usize) -> bool {
        start > 2
            && self.tokens[start - 1].is(Sense::To)
            && self.hints(start - 2, Hint::Up)
            && self.hints(start - 3, Hint::Adds)
    }

    /// What pounds are of: money where prices are in pounds and it is about cost, weight elsewhere.
    fn pounds(&self, quantity: &Quantity) -> Kind {
        if self.truth.currency.code() != "GBP" {
            return Kind::Weight;
        }
        let from = quantity.start.saturating_sub(8);
        let cost = self.tokens[from..quantity.start].iter().any(|token| token.is(Sense::Cost));
        let each = self.tape().is(quantity.end, Sense::Each);
        // "it's twelve pence each, the tofu's three pounds"
        let priced = self
            .heard
            .last()
            .is_some_and(|before| before.kind == Some(Kind::Money) && quantity.start - before.quantity.end <= 8);
        // "four pounds eighty-three": nobody weighs so.
        let pence = quantity.step == Exact::ratio(1, 100) && quantity.unit == Some(SaidUnit::PoundOrMoney);
        // "we sell a bag of six for two pounds"
        let sold = (from..quantity.start).any(|at| self.reader().phrase(at, |role| role == Role::Sold).is_some());
        // "if you bought everything from scratch it's 18 pounds", but "buy two pounds of plums"
        let bought =
            self.tokens[from..quantity.start].iter().any(|token| self.lexicon.cues(&token.text).contains(&Cue::Basket));
        let bought = (bought || self.is_spent(quantity)) && !self.tape().next_is(quantity.end, Sense::Of);
        if cost || each || priced || pence || sold || bought { Kind::Money } else { Kind::Weight }
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

    /// Whether a token is a topic's word.
    pub fn tells(&self, at: usize, cue: Cue) -> bool {
        self.tokens.get(at).is_some_and(|token| self.lexicon.cues(&token.text).contains(&cue))
    }

    /// Whether a token hints at something beside others.
    pub fn hints(&self, at: usize, hint: Hint) -> bool {
        self.tokens.get(at).is_some_and(|token| token.hints(hint))
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
        // Also "the hydration's".
        let is = |at: usize| {
            let text = &self.tokens[at].text;
            self.lexicon.cues(text).contains(&cue)
                || self.lexicon.cues(&(self.lexicon.language.singular)(text)).contains(&cue)
        };
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
            // "… comes to four twenty-eight, and if your cupboard's bare it's eighteen"
            if token.gap == Gap::Sentence || self.stops(at) || token.is(Sense::If) {
                break;
            }
            // "four percent the corn's wet as it is"
            if token.contracted && self.mention_at[at].is_some() {
                break;
            }
            if is(at) {
                return Some(nearest.map_or(ahead + 1, |n: usize| n.min(ahead + 1)));
            }
        }
        nearest
    }
}
