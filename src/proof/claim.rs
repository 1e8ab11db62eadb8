//! Claims put together: what was said, when, of what, and whether it is right. Must not know how it is shown.

use super::aside::{Aside, aside};
use super::digits::digits;
use super::doubt::TOLD;
use super::hear::{Fate, Heard, Hearing};
use super::judge::Said;
use super::ledger;
use super::lexicon::{Cue, SaidUnit, Sense};
use super::link::Linked;
use super::names::Slip;
use super::sums::Sum;
use super::supposed;
use super::told::Told;
use crate::exact::Exact;
use crate::sheet::{Fact, Figure, Kind, Topic, Truth, Value, spoken};
use crate::source::script::{Millis, Script, Word};
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

/// How a claim compares with its figure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// It is right at the precision spoken.
    Agrees,
    /// It is not.
    Differs,
    /// No figure answers to it.
    Unplaced,
}

impl Verdict {
    /// Its name in `proof/1`.
    pub fn id(self) -> &'static str {
        match self {
            Self::Agrees => "agrees",
            Self::Differs => "differs",
            Self::Unplaced => "unplaced",
        }
    }
}

/// Where something is said.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Place {
    /// Its words, indices into the script's.
    pub words: Range<usize>,
    /// When its first word starts; `None` without times.
    pub start: Option<Millis>,
    /// When all of its words have been said.
    pub end: Option<Millis>,
    /// Line of its first word, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
    /// Its words as written.
    pub text: String,
}

/// What would be right.
#[derive(Clone, Debug)]
pub struct Expected {
    /// The value in the claim's unit.
    pub value: Value,
    /// As a person says it.
    pub said: Figure,
}

/// A value asserted of the recipe.
#[derive(Clone, Debug)]
pub struct Claim {
    /// Where it is said.
    pub place: Place,
    /// What it measures.
    pub kind: Kind,
    /// Lower end as said, in the kind's unit.
    pub low: Exact,
    /// Upper end as said.
    pub high: Exact,
    /// The currency that money is in, by its code: as said, else the channel's.
    pub currency: &'static str,
    /// What it is about; `None` if unplaced.
    pub about: Option<String>,
    /// The variant it is said of, where that is not the one asked for: its id, empty for the recipe as written.
    pub variant: Option<String>,
    /// Whether it is right.
    pub verdict: Verdict,
    /// What would be right; `None` if unplaced.
    pub expected: Option<Expected>,
    /// Whether it differs by what captions often mishear.
    pub misheard: bool,
    /// The words of the value alone, and the same in digits, where it is said in words and has a plain form.
    pub digits: Option<(Range<usize>, String)>,
    /// The step it is said in, by number; 0 before the method.
    pub step: usize,
    /// What was tried, the likeliest first, and why: about, what speaks against it, the reason.
    pub tried: Vec<(String, i32, &'static str)>,
    /// Why it is unplaced though a figure was found: what made that too doubtful.
    pub doubt: Option<&'static str>,
}

/// A sum said aloud.
#[derive(Clone, Debug)]
pub struct SumSaid {
    /// Where it is said.
    pub place: Place,
    /// Whether the arithmetic is right.
    pub holds: bool,
    /// What comes out, with the unit of its result as that was said.
    pub comes_to: String,
    /// The claim that its result makes, if a figure answers to it: whether that is right.
    pub result: Option<Claim>,
}

impl SumSaid {
    /// Whether its result differs from its figure.
    pub fn result_differs(&self) -> bool {
        self.result.as_ref().is_some_and(|claim| claim.verdict == Verdict::Differs)
    }

    /// Whether the arithmetic does not come out, or its result is another than the figure.
    pub fn is_wrong(&self) -> bool {
        !self.holds || self.result_differs()
    }
}

/// Everything found in a script.
#[derive(Clone, Debug)]
pub struct Proof {
    /// The recipe's folder name.
    pub recipe: String,
    /// Claims in the order said.
    pub claims: Vec<Claim>,
    /// Sums in the order said.
    pub sums: Vec<SumSaid>,
    /// Lines whose amount is never said.
    pub silent: Vec<String>,
    /// Mangled names in the order said.
    pub names: Vec<Slip>,
    /// What is spoken of without a number.
    pub told: Told,
    /// Titles of the steps, for grouping.
    pub steps: Vec<String>,
    /// What was heard and is held against nothing, in the order said.
    pub aside: Vec<Aside>,
    /// Whether the script seems to be of another dish: hardly a number in it has a figure here.
    pub another_dish: bool,
}

impl Proof {
    /// How many claims have a verdict.
    pub fn count(&self, verdict: Verdict) -> usize {
        self.claims.iter().filter(|claim| claim.verdict == verdict).count()
    }

    /// How many sums are wrong: their arithmetic does not come out, or their result differs from its figure.
    pub fn wrong_sums(&self) -> usize {
        self.sums.iter().filter(|sum| sum.is_wrong()).count()
    }

    /// Whether anything said differs from its figure, or does not add up.
    pub fn differs(&self) -> bool {
        self.count(Verdict::Differs) > 0 || self.wrong_sums() > 0
    }
}

/// Puts a proof together.
pub(super) fn proof(script: &Script, truth: &Truth, hearing: &Hearing<'_>, mut linked: Vec<Linked>) -> Proof {
    let mut maker =
        Maker { script, truth, hearing, told: told_by_name(hearing, truth, &linked), resized: BTreeSet::new() };
    for link in &mut linked {
        maker.settle(link);
    }
    maker.in_the_other_order(&mut linked);
    maker.halves(&mut linked);
    maker.as_before(&mut linked);
    maker.two_of_another(&mut linked);
    maker.forms(&mut linked);
    maker.each_its_own(&mut linked);
    maker.prices_behind(&mut linked);
    maker.in_order(&mut linked);
    maker.shares_in_order(&mut linked);
    maker.sides(&mut linked);
    maker.rests(&mut linked);
    maker.misheard(&mut linked);
    maker.resized = maker.find_resized(&linked);
    let together = ledger::together(hearing, truth, &linked);
    let mut said: BTreeSet<&str> = BTreeSet::new();
    let (mut claims, mut results) = (Vec::new(), Vec::new());
    let (mut claimed, mut dropped) = (BTreeSet::new(), BTreeMap::new());
    let judged = linked.par_iter().enumerate().map(|(index, link)| {
        let heard = &hearing.heard[link.heard];
        (link, heard, maker.claim(link, heard, together.contains(&index)))
    });
    for (link, heard, claim) in judged.collect::<Vec<_>>() {
        let chosen = &link.tried[link.chosen];
        // "too thick? another ten grams of water": on top of an amount that was never said, it is none of the recipe's.
        let start = heard.quantity.start;
        let rest = (start.saturating_sub(8)..start).any(|at| hearing.tokens[at].is(Sense::Left));
        let on_top = heard.quantity.more && claim.verdict == Verdict::Differs && !rest;
        if on_top
            && chosen.fact(truth).is_some_and(|fact| fact.topic == Topic::Line && !said.contains(fact.about.as_str()))
        {
            continue;
        }
        // "if the stick is wet, three minutes more"
        let supposed = (start.saturating_sub(10)..start).any(|at| hearing.tokens[at].is(Sense::If));
        if supposed
            && claim.kind == Kind::Duration
            && claim.verdict == Verdict::Differs
            && (heard.quantity.more || hearing.is_more(heard))
        {
            continue;
        }
        if let Some(fact) = chosen.fact(truth).filter(|fact| fact.topic == Topic::Line || fact.topic == Topic::Part)
            && chosen.other.is_none()
            && !claim.expected.as_ref().is_some_and(|expected| expected.value.is_share())
        {
            said.insert(&fact.about);
        }
        // A number that no figure answers to is a claim where it is of a dish; other talk is none.
        let supposed = claim.doubt.is_some_and(|why| supposed::OF_THE_DISH.contains(&why));
        if claim.verdict == Verdict::Unplaced && !supposed && !hearing.is_of_a_dish(heard, claim.kind) {
            dropped.insert(link.heard, claim.doubt);
            continue;
        }
        claimed.insert(link.heard);
        if heard.fate == Fate::InSum { results.push((link.heard, claim)) } else { claims.push(claim) }
    }
    let lines = truth.things.iter().filter(|thing| thing.has_amount && !said.contains(thing.id.as_str()));
    let silent = lines.map(|thing| thing.id.clone()).collect();
    let sums = hearing.sums.iter().map(|sum| maker.sum(sum, &results)).collect();
    let placed = claims.iter().filter(|claim| claim.verdict != Verdict::Unplaced).count();
    let agree = claims.iter().filter(|claim| claim.verdict == Verdict::Agrees).count();
    Proof {
        recipe: truth.recipe.clone(),
        another_dish: claims.len() >= 5 && (placed * 3 < claims.len() || agree * 4 < claims.len()),
        claims,
        sums,
        silent,
        aside: aside(
            hearing,
            |heard| dropped.get(&heard).copied().flatten(),
            |heard| claimed.contains(&heard),
            |tokens| maker.place(tokens.start, tokens.end),
        ),
        names: Vec::new(),
        told: Told::default(),
        steps: truth.steps.iter().map(|step| step.title.clone()).collect(),
    }
}

pub(super) struct Maker<'m, 't> {
    script: &'m Script,
    pub(super) truth: &'m Truth,
    pub(super) hearing: &'m Hearing<'t>,
    /// What has been said rightly beside its own name: it is not said again without.
    pub(super) told: BTreeSet<(String, Kind)>,
    /// What is heard of a batch of another size, by its place among what is heard.
    resized: BTreeSet<usize>,
}

/// What is said rightly beside its own name.
fn told_by_name(hearing: &Hearing<'_>, truth: &Truth, linked: &[Linked]) -> BTreeSet<(String, Kind)> {
    let named = linked.iter().filter(|link| {
        let chosen = &link.tried[link.chosen];
        // A variant's own tells nothing of this one's.
        chosen.mention.is_some() && chosen.cost <= 2 * TOLD && chosen.other.is_none()
    });
    let facts = named.filter_map(|link| Some((link, link.tried[link.chosen].fact(truth)?)));
    let right =
        facts.filter(|(link, fact)| Said::of(&hearing.heard[link.heard].quantity, fact.kind, truth).agrees_with(fact));
    right.map(|(_, fact)| (fact.about.clone(), fact.kind)).collect()
}

impl Maker<'_, '_> {
    /// Whether a fact has been said rightly beside its own name.
    pub(super) fn is_told(&self, fact: &Fact) -> bool {
        self.told.contains(&(fact.about.clone(), fact.kind))
    }

    /// Whether a quantity agrees with a fact.
    pub(super) fn agrees(&self, heard: &Heard, fact: &Fact) -> bool {
        Said::of(&heard.quantity, fact.kind, self.truth).agrees_with(fact)
    }

    fn claim(&self, link: &Linked, heard: &Heard, together: bool) -> Claim {
        let chosen = &link.tried[link.chosen];
        let kind = heard.kind.unwrap_or(Kind::Count);
        let each = self.is_per_piece(heard) || self.is_a_piece(heard);
        let certain = |fact: &&Fact| {
            let each = each && self.is_share_of_one(heard, fact);
            self.is_certain(heard, chosen) || together || each || self.agrees(heard, fact)
        };
        // How many of what is weighed there are is a guess of their size.
        let guessed = |fact: &&Fact| {
            let thing = fact.thing.and_then(|thing| self.truth.things.get(thing));
            let weighed = thing.is_some_and(|thing| !thing.counted);
            kind == Kind::Count && fact.topic == Topic::Line && weighed && !self.agrees(heard, fact)
        };
        // What only the order of the method speaks for is chatter, unless cooking is spoken of or it is right.
        let talk = matches!(kind, Kind::Duration | Kind::Temperature | Kind::Length);
        let idle = |fact: &&Fact| {
            // "it's thirty degrees in here today" is of the weather.
            let hot = kind == Kind::Temperature && !heard.carried;
            let hot = hot && Said::of(&heard.quantity, kind, self.truth).base(&heard.quantity.low) >= Exact::from(60);
            let vague = chosen.cost > if hot { 280 } else { 180 };
            // "for an hour and a half until it's twice the size", "the time is 35 to 45 minutes"
            let until = self.hearing.tokens.get(heard.quantity.end).is_some_and(|token| token.is(Sense::Until));
            let waits = kind == Kind::Duration && !heard.carried && (until || heard.quantity.low < heard.quantity.high);
            // "in a tin they're good for twelve days"
            let start = heard.quantity.start;
            let kept = (start.saturating_sub(5)..start)
                .rev()
                .take_while(|&at| self.hearing.tape().flows(at + 1))
                .any(|at| self.hearing.tells(at, Cue::Keeps));
            let waits = waits || kind == Kind::Duration && kept;
            talk && vague
                && fact.topic == Topic::Measure
                && !waits
                && !self.hearing.in_the_kitchen(&heard.quantity)
                && !(kind == Kind::Temperature && self.hearing.heats_for_a_time(heard.quantity.end))
                && !(kind == Kind::Temperature && self.hearing.is_at_for_a_time(heard.quantity.start))
                && !self.agrees(heard, fact)
        };
        let of_a_piece = |fact: &&Fact| {
            fact.topic == Topic::Line
                && self.is_per_piece(heard)
                && !self.agrees(heard, fact)
                && !self.is_share_of_one(heard, fact)
        };
        let found = chosen.fact(self.truth);
        let doubt = found.and_then(|fact| match () {
            () if self.resized.contains(&link.heard) => Some(supposed::ANOTHER_SIZE),
            () if !certain(&fact) => self.uncertain(heard, chosen),
            () if guessed(&fact) => Some("how many there are of what is weighed is a guess"),
            () if idle(&fact) => Some("no cooking is spoken of"),
            () if of_a_piece(&fact) => Some("it is of what goes into one piece"),
            () => None,
        });
        let fact = found.filter(|_| doubt.is_none());
        let said = Said::of(&heard.quantity, kind, self.truth);
        let right = fact.and_then(|fact| fact.values.iter().find(|value| said.agrees(value)));
        let share = heard.quantity.more || self.is_share(heard);
        let plain = fact.and_then(|fact| {
            let of_share = fact.values.iter().find(|value| share && value.is_share());
            self.fraction_said(link.heard, fact).or(of_share).or(fact.values.first())
        });
        let value = right.or(plain);
        let verdict = match (fact, right) {
            (None, _) => Verdict::Unplaced,
            (Some(_), Some(_)) => Verdict::Agrees,
            (Some(_), None) if together => Verdict::Agrees,
            (Some(fact), None) if each && self.is_share_of_one(heard, fact) => Verdict::Agrees,
            (Some(_), None) => Verdict::Differs,
        };
        let unit = match heard.quantity.unit {
            Some(SaidUnit::Unit(unit)) => Some(unit),
            Some(SaidUnit::Degrees) => Some(super::judge::degrees(&heard.quantity, self.truth.measures)),
            Some(_) | None => None,
        };
        let unit = unit.filter(|_| kind != Kind::Money);
        let expected = value.map(|value| Expected {
            said: spoken(value, kind, unit, self.truth.measures, self.truth.currency),
            value: value.clone(),
        });
        let other = chosen.other.and_then(|other| self.truth.others.get(other));
        Claim {
            place: self.place(heard.quantity.start, self.end_of(link, heard)),
            kind,
            low: said.base(&heard.quantity.low),
            high: said.base(&heard.quantity.high),
            currency: self.currency(heard),
            about: fact.map(|fact| fact.about.clone()),
            variant: other.map(|other| other.variant.clone().unwrap_or_default()),
            verdict,
            misheard: verdict == Verdict::Differs
                && value.is_some_and(|value| said.misheard(value) && !said.is_in_another_unit(value)),
            expected,
            digits: self.digits(heard),
            step: link.place,
            doubt,
            tried: link
                .tried
                .iter()
                .map(|tried| {
                    let about = tried.fact(self.truth).map_or_else(|| "nothing".to_owned(), |fact| fact.about.clone());
                    (about, tried.cost, tried.why)
                })
                .collect(),
        }
    }

    /// Whether an amount is what comes to one piece of a line or a part.
    pub(super) fn is_share_of_one(&self, heard: &Heard, fact: &Fact) -> bool {
        let pieces = self.truth.facts.iter().filter(|fact| fact.topic == Topic::Pieces).flat_map(|fact| &fact.values);
        let quantity = &heard.quantity;
        let of_what = matches!(fact.topic, Topic::Line | Topic::Part) && heard.kind == Some(fact.kind);
        let said = Said::of(quantity, fact.kind, self.truth);
        let step = said.base(&quantity.step);
        let right = |pieces: &Exact, value: &Value| {
            let each = value.low().over(pieces);
            each.is_some_and(|each| (each - said.base(&quantity.low)).abs() < step)
        };
        let ends: Vec<&Exact> = pieces.flat_map(|value| [value.low(), value.high()]).collect();
        of_what
            && quantity.low == quantity.high
            && fact.values.iter().any(|value| ends.iter().any(|pieces| right(pieces, value)))
    }

    /// Whether an amount is of what goes into one piece: "per jar", "into each roll".
    pub(super) fn is_per_piece(&self, heard: &Heard) -> bool {
        let (start, end) = (heard.quantity.start, heard.quantity.end);
        let piece = |at: usize| {
            let mention = self.hearing.mention_at.get(at).copied().flatten();
            mention.is_some() && self.hearing.is_piece_at(at)
        };
        let tape = self.hearing.tape();
        let of_one = [Sense::Per, Sense::Each, Sense::This];
        let into = |at: usize| self.hearing.tokens[at].is(Sense::Into) && tape.is(at + 1, Sense::Each);
        let one = |at: usize| of_one.iter().any(|sense| tape.is(at, *sense)) && piece(at + 1) || into(at);
        (start.saturating_sub(5)..start).any(one) || (end..end + 9).take_while(|&at| tape.flows(at)).any(one)
    }

    /// "thirty grams a glass"
    pub(super) fn is_a_piece(&self, heard: &Heard) -> bool {
        let (tape, end) = (self.hearing.tape(), heard.quantity.end);
        let leads = tape.next_is(end, Sense::Article) || tape.next_is(end, Sense::Per);
        leads && tape.flows(end + 1) && self.hearing.is_piece_at(end + 1)
    }

    /// Whether a share of the whole is spoken of: "the remaining", "the other half".
    fn is_share(&self, heard: &Heard) -> bool {
        let start = heard.quantity.start;
        (start.saturating_sub(3)..start).any(|at| self.hearing.tokens[at].is(Sense::Left))
    }

    /// "two thirds of the walnuts, you've got ninety-six grams of them, so sixty-four in here": the share of a line that is
    /// so much of it as has just been said in a fraction.
    fn fraction_said<'f>(&self, index: usize, fact: &'f Fact) -> Option<&'f Value> {
        let all = &self.hearing.heard;
        let start = all[index].quantity.start;
        // "ninety in the mix, the other forty-five on top": one share has been said, so it is the other.
        let before = index.checked_sub(1).map(|before| &all[before]).filter(|before| {
            self.is_share(&all[index]) && before.kind == Some(fact.kind) && start - before.quantity.end <= 12
        });
        if let Some(before) = before.filter(|_| fact.topic == Topic::Line) {
            let said = Said::of(&before.quantity, fact.kind, self.truth);
            let shares = || fact.values.iter().filter(|value| value.is_share());
            if shares().any(|share| said.agrees(share)) {
                return shares().find(|share| !said.agrees(share));
            }
        }
        let said = all[..index].iter().rev().take(2).find(|before| before.fate == Fate::Share)?;
        let near = said.quantity.fraction && start - said.quantity.end <= 16;
        let whole = fact.values.iter().find(|value| !value.is_share() && value.low() == value.high())?;
        let part = whole.low() * &said.quantity.low;
        let room = whole.low() * Exact::ratio(1, 50);
        let between = &all[index - 1].quantity;
        let percent = all[index - 1].kind == Some(Kind::Percent);
        let mut shares = fact.values.iter().filter(|value| value.is_share());
        let share = shares.find(|value| (value.low() - &part).abs() <= room)?;
        // "three quarters of it, 68 grams, and keep back 23": the share itself has been said.
        let told = between.start >= said.quantity.end && Said::of(between, fact.kind, self.truth).agrees(share);
        let rest = fact.values.iter().find(|value| value.is_share() && *value != share);
        rest.filter(|_| told).or(Some(share)).filter(|_| near && !percent && fact.topic == Topic::Line)
    }

    fn currency(&self, heard: &Heard) -> &'static str {
        match heard.quantity.unit {
            Some(SaidUnit::Major(code) | SaidUnit::Minor(Some(code))) => code,
            Some(SaidUnit::Dollar) if heard.foreign => "USD",
            Some(SaidUnit::PoundOrMoney) => "GBP",
            Some(
                SaidUnit::Unit(_) | SaidUnit::Degrees | SaidUnit::Days(_) | SaidUnit::Minor(None) | SaidUnit::Dollar,
            )
            | None => self.truth.currency.code(),
        }
    }

    /// One past a claim's last token: the name behind it belongs to it.
    fn end_of(&self, link: &Linked, heard: &Heard) -> usize {
        let end = heard.quantity.end;
        let linked = link.tried[link.chosen].mention;
        let noun = match heard.noun {
            super::hear::Noun::Mention(mention) => Some(mention),
            super::hear::Noun::Pieces
            | super::hear::Noun::Strokes
            | super::hear::Noun::AtATime
            | super::hear::Noun::Things
            | super::hear::Noun::None => None,
        };
        let mention = linked.or(noun).map(|mention| &self.hearing.mentions[mention]);
        let near = mention.filter(|mention| mention.start >= end && mention.start - end <= 4);
        near.map_or(end, |mention| mention.end)
    }

    /// The value in digits, where it is in words.
    fn digits(&self, heard: &Heard) -> Option<(Range<usize>, String)> {
        let tokens = heard.quantity.start..heard.quantity.end;
        let in_words = self.hearing.tokens[tokens.clone()].iter().all(|token| token.digits.is_none());
        let text = digits(&heard.quantity).filter(|_| in_words)?;
        Some((self.place(tokens.start, tokens.end).words, text))
    }

    /// Where tokens stand in the script.
    fn place(&self, start: usize, end: usize) -> Place {
        let tokens = self.hearing.tokens;
        let (first, last) = (&tokens[start], &tokens[end.max(start + 1) - 1]);
        let words = &self.script.words[first.word..=last.word];
        let texts: Vec<&str> = words.iter().map(|word| word.text.as_str()).collect();
        let text = texts.join(" ");
        let trimmed = text.trim_matches(|c: char| !c.is_alphanumeric() && !"€$£%°½⅓⅔¼¾⅛⅜⅝⅞".contains(c));
        Place {
            words: first.word..last.word + 1,
            start: words[0].start,
            end: said_until(words),
            line: words[0].line,
            column: words[0].column + first.offset,
            text: trimmed.to_owned(),
        }
    }

    fn sum(&self, sum: &Sum, results: &[(usize, Claim)]) -> SumSaid {
        let result = sum.result().and_then(|last| results.iter().find(|(heard, _)| *heard == last));
        let result = result.map(|(_, claim)| claim.clone()).filter(|claim| claim.verdict != Verdict::Unplaced);
        let unit = &self.hearing.tokens[sum.end - 1];
        let said =
            |unit: &str| if unit.starts_with(char::is_alphabetic) { format!(" {unit}") } else { unit.to_owned() };
        let unit = unit.unit().map_or_else(String::new, |_| said(&unit.text));
        let comes_to = format!("{}{unit}", sum.comes_to.decimal());
        SumSaid { place: self.place(sum.start, sum.end), holds: sum.holds, comes_to, result }
    }
}

/// When all words have been said: captions that overlap can end a later word before an earlier one.
pub(super) fn said_until(words: &[Word]) -> Option<Millis> {
    words.iter().map(|word| word.end).max().flatten()
}
