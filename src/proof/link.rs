//! Which figure a claim is about: by what it measures, the names near it, the words around it and the order of the
//! steps. Never by how near a value is: only where all that leaves it open, by what is said exactly right.

use super::candidates::{Candidate, ONLY_RIGHT, candidates};
use super::context::{Context, Likeness};
use super::hear::{Fate, Hearing};
use super::judge::Said;
use super::lexicon::Sense;
use super::money::WHOLE_VARIANT;
use super::reread::digits;
use super::sums::Sum;
use super::token::Gap;
use crate::sheet::{Fact, Kind, Topic, Truth};
use rayon::prelude::*;

/// How a claim was linked.
#[derive(Clone, Debug)]
pub struct Linked {
    /// The quantity, an index into what was heard.
    pub heard: usize,
    /// What was tried, the cheapest first; the last resort of no figure is among them.
    pub tried: Vec<Candidate>,
    /// Which of them holds, an index.
    pub chosen: usize,
    /// Where in the method it is said: 0 before it, then the step's number.
    pub place: usize,
}

impl Linked {
    /// Chooses what was not tried before.
    pub fn choose(&mut self, candidate: Candidate) {
        self.chosen = self.tried.len();
        self.tried.push(candidate);
    }

    /// Holds it to another figure, of this variant or another, for what else has been said of what is chosen.
    pub fn hold_to(&mut self, index: usize, other: Option<usize>, why: &'static str) {
        let chosen = self.tried[self.chosen].clone();
        self.choose(Candidate { index: Some(index), other, why, ..chosen });
    }
}

/// At most so many figures are tried for a claim.
const TRIED: usize = 8;
/// Said again of the same name though it was for another number.
const SAME_NAME: i32 = 150;
/// "two percent, so ten grams" is said of one line.
const SAME_THING: i32 = 60;
/// Names used out of the order they were said in.
const CROSSED: i32 = 80;
/// The same figure twice in a row.
const REPEATED: i32 = 60;
/// What a value that is exactly right speaks for its figure: as much as a word or two between.
pub(super) const SAID_RIGHT: i32 = 25;
/// What speaks against the whole where a value is many times less or more.
const NOT_THE_WHOLE: i32 = 200;
/// Lines out of the order they are weighed in.
const DISORDER: i32 = 25;

/// The cost of going from one place in the method to another.
fn moved(from: usize, to: usize) -> i32 {
    let far = |steps: usize, each: i32, most: i32| (i32::try_from(steps).unwrap_or(most) * each).min(most);
    match (from, to) {
        (a, b) if a == b => 0,
        (a, b) if b > a => far(b - a, 15, 90),
        (_, 0) => 80,
        (a, b) => 70 + far(a - b, 10, 60),
    }
}

/// What a pair of choices for claims that follow each other costs.
fn paired(
    first: (&Candidate, Kind),
    second: (&Candidate, Kind),
    close: bool,
    hearing: &Hearing<'_>,
    truth: &Truth,
) -> i32 {
    let ((a, kind_a), (b, kind_b)) = (first, second);
    let amount = |kind| matches!(kind, Kind::Weight | Kind::Volume | Kind::Count);
    let mut cost = 0;
    let alike = kind_a == kind_b;
    let amounts = amount(kind_a) && amount(kind_b);
    if let (Some(m), Some(n)) = (a.mention, b.mention) {
        // "fresh dill 32 grams and that's 36p", of two that are called so
        let things = (a.fact(truth).and_then(|fact| fact.thing), b.fact(truth).and_then(|fact| fact.thing));
        if m == n && kind_b == Kind::Money && matches!(things, (Some(one), Some(other)) if one != other) {
            cost += SAME_THING;
        }
        if m == n && !b.again && (alike || amounts) {
            cost += if alike { SAME_NAME } else { SAME_NAME / 3 };
        } else if hearing.mentions[m].start > hearing.mentions[n].start && alike {
            cost += CROSSED;
        }
    }
    let (Some(fact_a), Some(fact_b)) = (a.fact(truth), b.fact(truth)) else { return cost };
    if close && fact_a.topic == fact_b.topic && matches!(fact_a.topic, Topic::Line | Topic::Measure) {
        cost += if fact_a.about == fact_b.about { -SAME_THING } else { SAME_THING };
    }
    if fact_a.about == fact_b.about && kind_a == kind_b && a.mention != b.mention {
        cost += REPEATED;
    }
    if let (Topic::Line, Topic::Line, Some(a), Some(b)) = (fact_a.topic, fact_b.topic, fact_a.thing, fact_b.thing)
        && a > b
    {
        cost += DISORDER;
    }
    cost
}

/// One claim's choices over all places.
struct Stage {
    heard: usize,
    kind: Kind,
    tried: Vec<Candidate>,
    /// By choice and place: the cheapest way there, and the choice and place before it.
    cheapest: Vec<Vec<(i32, usize, usize)>>,
}

/// What a claim may be about, the cheapest first; the last resort of no figure is among them.
fn choices(hearing: &Hearing<'_>, truth: &Truth, index: usize, kind: Kind, likeness: &Likeness) -> Vec<Candidate> {
    let heard = &hearing.heard[index];
    let mut tried = candidates(hearing, truth, index, kind, likeness);
    // Where words leave it open, what is said right is what is meant. A value that is only near counts for nothing.
    let said = Said::of(&heard.quantity, kind, truth);
    let several = |candidate: &Candidate| {
        // "fifty-three grams" has its unit; a bare number must be longer.
        let line = |fact: &Fact| matches!(fact.topic, Topic::Line | Topic::CostLine);
        let line = candidate.fact(truth).is_some_and(line);
        digits(&heard.quantity) >= if line && heard.carried { 3 } else { 2 }
    };
    let right = |candidate: &Candidate| candidate.fact(truth).is_some_and(|fact| said.is_exactly(fact));
    tried.retain(|candidate| candidate.why != ONLY_RIGHT || several(candidate) && right(candidate));
    for candidate in &mut tried {
        let right = candidate.fact(truth).filter(|fact| said.agrees_with(fact));
        candidate.cost -= match right.map(|fact| fact.topic) {
            None => 0,
            // The words around a measure tell less than a name does.
            Some(Topic::Measure) => 2 * SAID_RIGHT,
            Some(_) => SAID_RIGHT,
        };
    }
    // "the second water, 31 grams of it altogether": what is many times less than the whole is not the whole.
    for candidate in &mut tried {
        let whole = candidate.fact(truth).filter(|fact| matches!(fact.topic, Topic::Total | Topic::Basis));
        // "with the oat milk it's 5 pounds 18, the oat milk's 30p"
        let variant = candidate.fact(truth).filter(|_| candidate.why == WHOLE_VARIANT);
        if whole.or(variant).is_some_and(|whole| said.is_of_another_size(whole)) {
            candidate.cost += NOT_THE_WHOLE;
        }
    }
    tried.sort_by_key(|candidate| candidate.cost);
    let none = tried.iter().position(|candidate| candidate.index.is_none()).unwrap_or(0);
    if none >= TRIED {
        tried.swap(none, TRIED - 1);
    }
    tried.truncate(TRIED);
    tried
}

/// Links every claim that stands, and the results of sums.
pub fn link(hearing: &Hearing<'_>, truth: &Truth) -> Vec<Linked> {
    let context = Context::new(truth, hearing.lexicon);
    let places = truth.steps.len() + 1;
    let mut stages: Vec<Stage> = Vec::new();
    let results: Vec<usize> = hearing.sums.iter().filter_map(Sum::result).collect();
    let claims = hearing.heard.iter().enumerate().filter_map(|(index, heard)| {
        let result = heard.fate == Fate::InSum && results.binary_search(&index).is_ok();
        heard.kind.filter(|_| heard.fate == Fate::Stands || result).map(|kind| (index, kind))
    });
    // What a claim may be about is of no other claim, so all cores look for it.
    let claims: Vec<(usize, Kind)> = claims.collect();
    let choices = claims.into_par_iter().map(|(index, kind)| {
        let likeness = context.likeness(hearing, &hearing.heard[index].quantity);
        let tried = choices(hearing, truth, index, kind, &likeness);
        (index, kind, likeness, tried)
    });
    for (index, kind, likeness, tried) in choices.collect::<Vec<_>>() {
        let here = |place: usize| match place.checked_sub(1) {
            Some(step) => -likeness.steps.get(&step).copied().unwrap_or(0),
            None => 0,
        };
        let stands = |candidate: &Candidate, place: usize| {
            let extra = candidate.fact(truth).map_or(Some(0), |fact| match (fact.topic, place.checked_sub(1)) {
                (Topic::Measure, None) => None,
                (Topic::Measure, Some(step)) => fact.steps.contains(&step).then_some(0),
                (_, None) => Some(0),
                (_, Some(_)) if fact.steps.is_empty() => Some(10),
                (_, Some(step)) => Some(if fact.steps.contains(&step) { 0 } else { 60 }),
            });
            extra.map(|extra| extra + candidate.cost + here(place))
        };
        let close = stages.last().is_some_and(|before| {
            let percent = (before.kind == Kind::Percent) != (kind == Kind::Percent);
            // "fifteen minutes at a hundred and twenty" is of one step.
            let heat = [before.kind, kind].iter().all(|kind| matches!(kind, Kind::Duration | Kind::Temperature));
            // "four hundred and fifty grams, which is about three and two thirds cups"
            let amounts = [Kind::Weight, Kind::Volume];
            let size = amounts.contains(&before.kind) && amounts.contains(&kind) && before.kind != kind;
            // "two hundred and forty for fifteen minutes"
            let (from, to) = (hearing.heard[before.heard].quantity.end, hearing.heard[index].quantity.start);
            let led = from + 1 == to
                && hearing.tape().flows(to)
                && (hearing.tape().next_is(from, Sense::For) || hearing.tape().next_is(from, Sense::At));
            let heat = heat && before.kind != kind;
            // "three centimetres by ten"
            let sides = before.kind == Kind::Length && kind == Kind::Length && from + 1 == to;
            let sides = sides && hearing.tape().next_is(from, Sense::By);
            sides || heat && led || (percent || size || heat) && says_again(hearing, before.heard, index)
        });
        let unreachable = (i32::MAX / 4, 0, 0);
        let mut cheapest = vec![vec![unreachable; places]; tried.len()];
        for (choice, candidate) in tried.iter().enumerate() {
            // The best way out of each place of the claim before, whatever its choice there.
            let out: Vec<(i32, usize)> = match stages.last() {
                None => (0..places).map(|place| (moved(0, place), 0)).collect(),
                Some(before) => {
                    let pairs: Vec<i32> = before
                        .tried
                        .iter()
                        .map(|other| paired((other, before.kind), (candidate, kind), close, hearing, truth))
                        .collect();
                    let best = |place: usize| {
                        let ways = before.cheapest.iter().zip(&pairs).enumerate();
                        ways.map(|(at, (ways, pair))| (ways[place].0 + pair, at)).min().unwrap_or((0, 0))
                    };
                    (0..places).map(best).collect()
                }
            };
            for place in 0..places {
                let Some(own) = stands(candidate, place) else { continue };
                let first = stages.is_empty();
                let ways = out.iter().enumerate().map(|(from, (cost, at))| {
                    let way = if first { 0 } else { moved(from, place) };
                    (cost + way + own, *at, from)
                });
                if first {
                    cheapest[choice][place] = (out[place].0 + own, 0, 0);
                } else if let Some(way) = ways.min() {
                    cheapest[choice][place] = way;
                }
            }
        }
        // Costs stay small however long the script is.
        let least = cheapest.iter().flatten().map(|way| way.0).min().unwrap_or(0);
        cheapest.iter_mut().flatten().for_each(|way| way.0 -= least);
        stages.push(Stage { heard: index, kind, tried, cheapest });
    }
    retrace(stages)
}

/// Whether a quantity only says the one before it in another way: "of it, which is 314 grams".
fn says_again(hearing: &Hearing<'_>, first: usize, second: usize) -> bool {
    let (from, to) = (hearing.heard[first].quantity.end, hearing.heard[second].quantity.start);
    let light = |at: usize| {
        let token = &hearing.tokens[at];
        let word = token.is(Sense::Is) || token.is(Sense::Of) || token.is(Sense::Common) || token.is(Sense::Or);
        token.gap != Gap::Sentence && word && !token.is(Sense::And)
    };
    // "thirty-nine, so that's seventy-five percent strong" says something of its own.
    let behind = hearing.heard[second].quantity.end;
    // "450 grams, which is about three and two thirds cups, baking powder 3.5 percent": that has its own.
    let name = hearing.name_at(behind).filter(|_| hearing.tape().flows(behind));
    // Nor is "a hundred percent, right, you want 600 grams of water" of one thing.
    let of = hearing.after_of(behind).is_some_and(|of| hearing.name_at(of).is_some());
    let own = of || name.is_some_and(|name| !hearing.is_numbered(name));
    !own && to > from && to - from <= 5 && (from..to).all(light) && hearing.tokens[to].gap != Gap::Sentence
}

/// Follows the cheapest way back from the end.
fn retrace(stages: Vec<Stage>) -> Vec<Linked> {
    let mut linked = Vec::with_capacity(stages.len());
    let mut next: Option<(usize, usize)> = None;
    for stage in stages.into_iter().rev() {
        let (choice, place) = next.unwrap_or_else(|| {
            let all = stage.cheapest.iter().enumerate();
            let ends =
                all.flat_map(|(choice, ways)| ways.iter().enumerate().map(move |(place, way)| (way.0, choice, place)));
            ends.min().map_or((0, 0), |(_, choice, place)| (choice, place))
        });
        let (_, before, from) = stage.cheapest[choice][place];
        linked.push(Linked { heard: stage.heard, tried: stage.tried, chosen: choice, place });
        next = Some((before, from));
    }
    linked.reverse();
    linked
}
