//! Every figure of every recipe that there is in the tests' channels, said in the plainest forms and alone: what is right is
//! never told to differ, and what is not is told so of its own figure. What the forms say is reckoned from the same facts as
//! the proof holds them to, which other tests hold to their sources; here the linking is tried.

use super::{content, proofed_in, truth_in};
use std::path::Path;
use tallyspoon::exact::Exact;
use tallyspoon::model::Content;
use tallyspoon::proof::Verdict;
use tallyspoon::sheet::{Fact, Kind, Topic, Truth};

/// What is said of a weight: its name and how much.
const WEIGHED: &[&str] = &[
    "{n} {g} grams",
    "{g} grams of {n}",
    "then {n} and I need {g} grams",
    "{n}: {g} g.",
    "okay {g} grams of {n} in it goes",
    "you want {g} grams of {n} for this",
];
/// What is said of a price: of what, and how much.
const PAID: &[&str] = &["the {n} costs {m}", "{m} for the {n}", "the {n} is {m} of it", "{n} comes to {m}"];
/// What is said of all of it.
const IN_ALL: &[&str] = &[
    "the whole batch is {m}",
    "the lot costs {m}",
    "that comes to {m} for the batch",
    "so that's {m} for the lot",
    "all told it's {m}",
    "it costs {m} to make",
];
/// What is said of one piece.
const EACH: &[&str] = &["it works out at {m} a {p}", "so a {p} is {m}", "each {p} costs {m}", "and that's {m} per {p}"];

/// How often something was said, and how often it was taken as it should be.
#[derive(Default)]
struct Tried {
    said: usize,
    taken: usize,
    /// What was right and told to differ.
    alarms: Vec<String>,
    /// What else was not taken so.
    missed: Vec<String>,
}

struct Kitchen<'c> {
    content: &'c Content,
    truth: Truth,
}

impl Kitchen<'_> {
    /// Says one thing of a fact, rightly or not.
    fn say(&self, text: &str, fact: &Fact, right: bool, tried: &mut Tried) {
        let proof = proofed_in(self.content, "plain.txt", text, &self.truth);
        let of = |verdict| {
            proof.claims.iter().any(|claim| claim.verdict == verdict && claim.about.as_ref() == Some(&fact.about))
        };
        tried.said += 1;
        let taken = of(if right { Verdict::Agrees } else { Verdict::Differs });
        tried.taken += usize::from(taken);
        if right && proof.differs() {
            tried.alarms.push(format!("{}: {text}", self.truth.title));
        } else if !taken {
            tried.missed.push(format!("{}: {text}", self.truth.title));
        }
    }

    /// Names that only one thing has, here and in every variant.
    fn name(&self, fact: &Fact) -> Option<&str> {
        let thing = fact.thing.and_then(|thing| self.truth.things.get(thing))?;
        let name = thing.names.first()?;
        let all = || std::iter::once(&self.truth).chain(&self.truth.others).flat_map(|truth| &truth.things);
        let only = all().all(|other| other.id == thing.id || !other.names.contains(name));
        only.then_some(name.as_str())
    }
}

/// The nearest that is said of a value, and one and a half times that.
fn said(value: &Exact, places: u32) -> (Exact, Exact) {
    let right = value.round_places(places);
    let wrong = (&right * &Exact::ratio(3, 2)).round_places(places);
    (right, wrong)
}

fn fill(form: &str, parts: &[(&str, &str)]) -> String {
    parts.iter().fold(form.to_owned(), |text, (slot, part)| text.replace(slot, part))
}

/// "4.05" in the channel's money, as captions with marks write it.
fn money(value: &Exact, truth: &Truth) -> String {
    let symbol = match truth.currency.code() {
        "USD" => "$",
        "GBP" => "£",
        _ => "€",
    };
    let text = value.decimal();
    let (units, cents) = text.split_once('.').unwrap_or((&text, ""));
    format!("{symbol}{units}.{cents:0<2}")
}

fn kitchens(mut each: impl FnMut(&Kitchen<'_>)) {
    let tests = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/narrations");
    let folders = std::fs::read_dir(tests).expect("the narrations' channels").filter_map(Result::ok);
    let names = folders.map(|folder| folder.file_name().to_string_lossy().into_owned());
    let mut channels: Vec<String> =
        names.filter(|name| name.ends_with("channel")).map(|name| format!("tests/narrations/{name}")).collect();
    channels.push("content".to_owned());
    channels.sort();
    for folder in &channels {
        let content = content(folder);
        for recipe in content.recipes.iter().map(|recipe| recipe.id.clone()) {
            each(&Kitchen { content: &content, truth: truth_in(&content, &recipe) });
        }
    }
}

/// Says all of a topic's facts in every form.
fn try_all(topic: Topic, kind: Kind, say: impl Fn(&Kitchen<'_>, &Fact, &mut Tried)) -> Tried {
    let mut tried = Tried::default();
    kitchens(|kitchen| {
        for fact in kitchen.truth.facts.iter().filter(|fact| fact.topic == topic && fact.kind == kind) {
            say(kitchen, fact, &mut tried);
        }
    });
    tried
}

fn held(tried: &Tried, of_ten_thousand: usize) {
    assert!(tried.said > 100, "hardly anything was said");
    assert!(tried.alarms.is_empty(), "false alarms: {:#?}", tried.alarms);
    let least = tried.said * of_ten_thousand;
    assert!(tried.taken * 10_000 >= least, "{} of {}: {:#?}", tried.taken, tried.said, tried.missed);
}

#[test]
fn every_weight_is_held_to_its_own_figure() {
    let tried = try_all(Topic::Line, Kind::Weight, |kitchen, fact, tried| {
        let Some(name) = kitchen.name(fact) else { return };
        let value = fact.values[0].low();
        let (right, wrong) = said(value, if *value < Exact::from(20) { 1 } else { 0 });
        for form in WEIGHED {
            for (value, right) in [(&right, true), (&wrong, false)] {
                let text = fill(form, &[("{n}", name), ("{g}", &value.decimal())]);
                kitchen.say(&text, fact, right, tried);
            }
        }
    });
    held(&tried, 9_900);
}

#[test]
fn every_price_is_held_to_its_own_figure() {
    let tried = try_all(Topic::CostLine, Kind::Money, |kitchen, fact, tried| {
        let Some(name) = kitchen.name(fact) else { return };
        let (right, wrong) = said(fact.values[0].low(), 2);
        if right < Exact::ratio(1, 10) {
            return;
        }
        for form in PAID {
            for (value, right) in [(&right, true), (&wrong, false)] {
                let text = fill(form, &[("{n}", name), ("{m}", &money(value, &kitchen.truth))]);
                kitchen.say(&text, fact, right, tried);
            }
        }
    });
    held(&tried, 9_900);
}

#[test]
fn what_all_of_it_and_one_piece_cost_are_held_to_their_figures() {
    let forms = |forms: &'static [&'static str]| {
        move |kitchen: &Kitchen<'_>, fact: &Fact, tried: &mut Tried| {
            let (right, _) = said(fact.values[0].low(), 2);
            let (_, wrong) = said(fact.values[0].high(), 2);
            let piece = kitchen.truth.pieces.first().cloned().unwrap_or_default();
            for form in forms {
                for (value, right) in [(&right, true), (&wrong, false)] {
                    let text = fill(form, &[("{p}", &piece), ("{m}", &money(value, &kitchen.truth))]);
                    kitchen.say(&text, fact, right, tried);
                }
            }
        }
    };
    held(&try_all(Topic::CostTotal, Kind::Money, forms(IN_ALL)), 9_900);
    held(&try_all(Topic::CostEach, Kind::Money, forms(EACH)), 9_900);
}
