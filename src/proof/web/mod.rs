//! The report as one file of HTML that plays along with a video on the same machine: no request leaves it. Must not
//! know the disk or where the video is.

use super::claim::{Claim, Place, Proof, Verdict};
use super::report::{at, counts, sum_verdict, verdict};
use crate::source::script::Script;
use minijinja::value::Serde;
use minijinja::{Environment, Value};
use serde::Serialize;
use std::ops::Range;

/// Words of a script shown around a claim, on each side.
const AROUND: usize = 12;

/// A place of the script and what is to be said of it.
#[derive(Serialize)]
struct Spot {
    state: &'static str,
    start: Option<u64>,
    end: Option<u64>,
    at: String,
    before: String,
    own: String,
    after: String,
    tell: String,
}

#[derive(Serialize)]
struct Group {
    title: String,
    spots: Vec<Spot>,
}

#[derive(Serialize)]
struct Page<'p> {
    title: &'p str,
    counts: String,
    another: bool,
    timed: bool,
    groups: Vec<Group>,
    silent: &'p [String],
}

/// The page: what differs by steps, mangled names, sums, what has no figure, and at last what agrees.
pub fn web_report(proof: &Proof, script: &Script, title: &str) -> String {
    let spots = Spots { script };
    let of = |wanted: Verdict| proof.claims.iter().filter(move |claim| claim.verdict == wanted);
    let mut groups: Vec<Group> = Vec::new();
    let mut step = None;
    for claim in of(Verdict::Differs) {
        if step != Some(claim.step) {
            step = Some(claim.step);
            let heading = claim.step.checked_sub(1).and_then(|step| proof.steps.get(step));
            let heading = heading.map_or("before the method", String::as_str);
            groups.push(Group { title: format!("Differs: {heading}"), spots: Vec::new() });
        }
        if let Some(group) = groups.last_mut() {
            group.spots.push(spots.claim(claim));
        }
    }
    let names = proof.names.iter().map(|slip| {
        let sure = if slip.certain { "should be" } else { "may be meant for" };
        spots.spot(&slip.place, "sound", format!("{sure} “{}”: {}", slip.written, slip.why))
    });
    groups.push(Group { title: "Names misheard".into(), spots: names.collect() });
    let sums = proof.sums.iter().map(|sum| {
        let state = if sum.is_wrong() { "wrong" } else { "right" };
        spots.spot(&sum.place, state, sum_verdict(sum))
    });
    groups.push(Group { title: "Sums".into(), spots: sums.collect() });
    for (title, wanted) in [("No figure answers to these", Verdict::Unplaced), ("Agrees", Verdict::Agrees)] {
        groups.push(Group { title: title.into(), spots: of(wanted).map(|claim| spots.claim(claim)).collect() });
    }
    groups.retain(|group| !group.spots.is_empty());
    let page = Page {
        title,
        counts: counts(proof).trim_end().to_owned(),
        another: proof.another_dish,
        timed: script.words.first().is_some_and(|word| word.start.is_some()),
        groups,
        silent: &proof.silent,
    };
    let environment = Environment::new();
    // The name's ending has every value escaped for HTML.
    environment
        .render_named_str("report.html", include_str!("report.html"), Value::from(Serde(&page)))
        .expect("the template is part of the program and asks for nothing that the page lacks")
}

/// Makes places of a script into spots.
struct Spots<'s> {
    script: &'s Script,
}

impl Spots<'_> {
    fn claim(&self, claim: &Claim) -> Spot {
        let state = match (claim.verdict, claim.misheard) {
            (Verdict::Agrees, _) => "right",
            (Verdict::Differs, true) => "sound",
            (Verdict::Differs, false) => "wrong",
            (Verdict::Unplaced, _) => "open",
        };
        self.spot(&claim.place, state, verdict(claim))
    }

    fn spot(&self, place: &Place, state: &'static str, tell: String) -> Spot {
        let words = &place.words;
        let from = words.start.saturating_sub(AROUND);
        let to = (words.end + AROUND).min(self.script.words.len());
        Spot {
            state,
            start: place.start.map(|time| time.0),
            end: place.end.map(|time| time.0),
            at: at(place).trim().to_owned(),
            before: self.joined(from..words.start),
            own: self.joined(words.clone()),
            after: self.joined(words.end..to),
            tell,
        }
    }

    fn joined(&self, range: Range<usize>) -> String {
        self.script.words[range].iter().map(|word| word.text.as_str()).collect::<Vec<_>>().join(" ")
    }
}
