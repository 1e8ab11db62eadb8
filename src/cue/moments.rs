//! When what a card is about happens: where steps start, lines are first weighed, waits begin and the cost is told. From
//! what was heard alone; must not know frames or how long a card stays.

use super::heard::{Claim, Heard};
use super::lane::{About, Card};
use crate::sheet::{Sheet, StepFigures};
use crate::source::script::Millis;
use std::collections::BTreeMap;

/// A sentence may open so long before the first number of what it is about.
const RUN_UP: u64 = 10_000;
/// Words that tell a step without numbers stand at most so far apart.
const TOGETHER: u64 = 8_000;
/// What such words must weigh together: a word of the heading, or two of the text.
const ENOUGH: u32 = 2;

/// The moment of each card that was heard of, by the card's name.
pub(super) fn moments(sheet: &Sheet, cards: &[Card], heard: &Heard) -> BTreeMap<String, Millis> {
    let starts = step_starts(&sheet.steps, heard);
    let lines = line_moments(sheet, heard, &starts);
    let of_steps: BTreeMap<&str, Millis> =
        sheet.steps.iter().zip(&starts).filter_map(|(step, start)| Some((step.id.as_str(), (*start)?))).collect();
    let first_of = |part: &str| {
        let part = sheet.parts.iter().find(|known| known.id == part)?;
        part.lines.iter().filter_map(|line| lines.get(line.id.as_str())).min().copied()
    };
    let told = |is: &dyn Fn(&str) -> bool| heard.claims.iter().find(|claim| is(&claim.about)).map(|claim| claim.start);
    let moment = |about: &About| match about {
        About::Title => heard.openings.first().copied(),
        About::Part(id) => first_of(id),
        About::Line(id) => lines.get(id.as_str()).copied(),
        About::Step(id) => of_steps.get(id.as_str()).copied(),
        About::Wait(id) => sheet.steps.iter().find(|step| step.id == *id).and_then(|step| wait(step, heard)),
        About::Cost => told(&|about| about == "cost.total" || about == "cost.each"),
        About::Totals => told(&|about| about == "cost.basket"),
        About::Closing => closing(heard),
        About::Reveal(_) | About::Caution(_) | About::Ratio | About::Variant(_) => None,
    };
    cards.iter().filter_map(|card| Some((card.name.clone(), moment(&card.about)?))).collect()
}

/// When a wait begins: when its length is said.
fn wait(step: &StepFigures, heard: &Heard) -> Option<Millis> {
    let (about, wait) = (format!("step.{}", step.id), step.wait.as_ref()?);
    heard.claims.iter().find(|claim| claim.about == about && claim.figure == wait.text()).map(|claim| claim.start)
}

/// The first sentence behind the last number.
fn closing(heard: &Heard) -> Option<Millis> {
    let last = heard.claims.last()?.end;
    heard.openings.iter().copied().find(|opening| *opening >= last)
}

/// When each step starts, in the order of the method: at the sentence of its first number, or of words that only it has.
fn step_starts(steps: &[StepFigures], heard: &Heard) -> Vec<Option<Millis>> {
    let mut firsts: Vec<Option<usize>> = vec![None; steps.len()];
    for at in in_order(&heard.claims) {
        let first = &mut firsts[heard.claims[at].step - 1];
        *first = first.or(Some(at));
    }
    let mut starts: Vec<Option<Millis>> =
        firsts.iter().map(|first| first.map(|at| run_up(heard, heard.claims[at].start, at))).collect();
    for step in 0..steps.len() {
        if starts[step].is_none() {
            let from = starts[..step].iter().flatten().max().map_or(Millis(0), |before| Millis(before.0 + 1));
            let until = starts[step + 1..].iter().flatten().min().copied().unwrap_or(Millis(u64::MAX));
            starts[step] = traced(step, heard, from, until);
        }
    }
    starts
}

/// The most claims whose steps follow the order of the method, the earliest where there is a choice: an index each.
///
/// What is told ahead of its step, or again after it, is left out.
fn in_order(claims: &[Claim]) -> Vec<usize> {
    // The last claim of the longest row that ends in each step, and how long it is.
    let mut best: Vec<(usize, Option<usize>)> = Vec::with_capacity(claims.len());
    for (at, claim) in claims.iter().enumerate() {
        let earlier = (0..at).filter(|&before| (1..=claim.step).contains(&claims[before].step));
        let longest = earlier.max_by_key(|&before| (best[before].0, std::cmp::Reverse(before)));
        let own = usize::from(claim.step > 0);
        best.push((longest.map_or(0, |before| best[before].0) + own, longest));
    }
    let ends = (0..claims.len()).filter(|&at| claims[at].step > 0);
    let mut next = ends.max_by_key(|&at| (best[at].0, std::cmp::Reverse(at)));
    let mut row = Vec::new();
    while let Some(at) = next {
        row.push(at);
        next = best[at].1;
    }
    row.reverse();
    row
}

/// The start of the sentence that a number stands in, unless the number before it stands in it, too.
fn run_up(heard: &Heard, start: Millis, claim: usize) -> Millis {
    let before = claim.checked_sub(1).map_or(Millis(0), |before| heard.claims[before].end);
    opening_at(heard, start).filter(|opening| *opening >= before).unwrap_or(start)
}

/// The last sentence that opens at or shortly before a time.
fn opening_at(heard: &Heard, time: Millis) -> Option<Millis> {
    let opening = heard.openings.iter().rev().copied().find(|opening| *opening <= time);
    opening.filter(|opening| time.0 - opening.0 <= RUN_UP)
}

/// Where words of a step that has no number stand together, between its neighbours.
fn traced(step: usize, heard: &Heard, from: Millis, until: Millis) -> Option<Millis> {
    let own: Vec<_> =
        heard.traces.iter().filter(|trace| trace.step == step && trace.start >= from && trace.start < until).collect();
    let together = |at: usize| -> u32 {
        own[at..].iter().take_while(|other| other.start.0 - own[at].start.0 <= TOGETHER).map(|other| other.weight).sum()
    };
    let first = (0..own.len()).find(|&at| together(at) >= ENOUGH)?;
    let start = own[first].start;
    Some(opening_at(heard, start).filter(|opening| *opening >= from).unwrap_or(start))
}

/// When each line is first weighed: when its amount is first said, or, where that is never, when its name is said in a
/// step that takes it.
fn line_moments<'s>(sheet: &'s Sheet, heard: &Heard, starts: &[Option<Millis>]) -> BTreeMap<&'s str, Millis> {
    let mut moments = BTreeMap::new();
    for line in sheet.parts.iter().flat_map(|part| &part.lines) {
        if let Some(claim) = heard.claims.iter().find(|claim| claim.about == line.id) {
            moments.insert(line.id.as_str(), claim.start);
        }
    }
    for (at, step) in sheet.steps.iter().enumerate() {
        let Some(from) = starts[at] else { continue };
        let until = starts[at + 1..].iter().flatten().min().copied().unwrap_or(Millis(u64::MAX));
        let spoken = heard.names.iter().filter(|name| name.start >= from && name.start < until);
        for name in spoken {
            let silent = step.uses.iter().filter(|used| name.lines.contains(&used.line));
            // A name of several lines says nothing new where the amount of one of them was said.
            let fresh: Vec<&str> = silent.map(|used| used.line.as_str()).collect();
            if let [line] = fresh.as_slice() {
                let known = sheet.parts.iter().flat_map(|part| &part.lines).find(|known| known.id == *line);
                if let Some(line) = known {
                    moments.entry(line.id.as_str()).or_insert(name.start);
                }
            }
        }
    }
    moments
}
