//! The order to shoot a take in: what to show and say, how long it takes to say and its card to be read, and what has to
//! wait. Must not know a terminal; adds no number but times of the video.

use crate::cue::{About, Card, cards, reading_time};
use crate::exact::Dimension;
use crate::locale::Key;
use crate::sheet::{Figure, Phrase, Sheet, StepFigures};
use crate::source::script::Millis;
use crate::template::{Escape, Fault, Voice};
use minijinja::value::Serde;
use minijinja::{Value, context};
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};

/// Milliseconds a word said: 150 words a minute; common practice, no source.
const A_WORD: u64 = 60_000 / 150;
/// The name of a channel's own template for the page.
const TEMPLATE: &str = "shoot.html";

/// The plan of a take.
#[derive(Clone, Debug, Serialize)]
pub struct Shooting {
    /// Scenes in order.
    pub scenes: Vec<Scene>,
    /// How long all of it is.
    pub total: Figure,
}

/// What is shot in one go.
#[derive(Clone, Debug, Serialize)]
pub struct Scene {
    /// What it is called: a step's number and title, or a text of the wording.
    pub title: Phrase,
    /// Shots in order.
    pub shots: Vec<Shot>,
    /// Waits of an hour or more, between this and the next: nobody films them.
    pub waits: Vec<Figure>,
    /// Shorter times that it takes in the kitchen.
    pub takes: Vec<Figure>,
}

/// What is shown and said.
#[derive(Clone, Debug, Serialize)]
pub struct Shot {
    /// When it starts in the video.
    pub at: Figure,
    /// How long it lasts: to be said, and its card to be read.
    pub lasts: Figure,
    /// Its card.
    pub card: Option<String>,
    /// What is shown and said.
    pub says: Phrase,
}

/// Plans a take. `words` has the words on each card by its name.
pub fn shooting(sheet: &Sheet, words: &BTreeMap<String, usize>, voice: &Voice<'_>) -> Shooting {
    let mut plan = Plan { cards: cards(sheet), words, clock: 0 };
    let word = |key: Key| Phrase::worded(voice.locale, key, &[]);
    let mut scenes = Vec::new();
    let intro = Phrase::joined(&sheet.intro, " ");
    let said = if intro.is_empty() { Phrase::new().author(sheet.title.clone()) } else { intro };
    let length = said_in(&said);
    scenes.push(Scene::of(word(Key::ShootOpening), vec![plan.shot(Some(&About::Title), said, length)]));
    let mut weighed = BTreeSet::new();
    for step in &sheet.steps {
        scenes.push(plan.step(sheet, step, &mut weighed));
    }
    let mut cost = Phrase::new().figure(&sheet.cost.total);
    if !sheet.cost.complete {
        cost = Phrase::worded(voice.locale, Key::Labelled, &[("label", word(Key::CostTotalKnown)), ("text", cost)]);
    }
    if let Some(each) = &sheet.cost.each {
        let slots =
            [("piece", sheet.yields.piece_one.clone().map_or_else(Phrase::new, |piece| Phrase::new().author(piece)))];
        let per = if sheet.yields.piece_one.is_some() {
            Phrase::worded(voice.locale, Key::CostPer, &slots)
        } else {
            word(Key::CostApiece)
        };
        let each = Phrase::worded(voice.locale, Key::Labelled, &[("label", per), ("text", Phrase::new().figure(each))]);
        cost = Phrase::joined(&[cost, each], " · ");
    }
    let length = said_in(&cost);
    scenes.push(Scene::of(word(Key::Cost), vec![plan.shot(Some(&About::Cost), cost, length)]));
    let title = Phrase::new().author(sheet.title.clone());
    scenes.push(Scene::of(word(Key::ShootClosing), vec![plan.shot(Some(&About::Closing), title, 0)]));
    Shooting { scenes, total: Figure::clock(plan.clock.div_ceil(1000)) }
}

impl Scene {
    fn of(title: Phrase, shots: Vec<Shot>) -> Self {
        Self { title, shots, waits: Vec::new(), takes: Vec::new() }
    }
}

struct Plan<'p> {
    cards: Vec<Card>,
    words: &'p BTreeMap<String, usize>,
    /// Milliseconds so far, whole seconds.
    clock: u64,
}

impl Plan<'_> {
    /// A shot that is said in so many milliseconds, or held until its card has been read.
    fn shot(&mut self, about: Option<&About>, says: Phrase, said: u64) -> Shot {
        let card = about.and_then(|about| self.cards.iter().find(|card| card.about == *about));
        let name = card.map(|card| card.name.clone());
        let read = name.as_ref().and_then(|name| self.words.get(name)).map_or(Millis(0), |words| reading_time(*words));
        let seconds = said.max(read.0).div_ceil(1000).max(1);
        let shot = Shot { at: Figure::clock(self.clock / 1000), lasts: Figure::clock(seconds), card: name, says };
        self.clock += seconds * 1000;
        shot
    }

    /// A step: each line that is weighed for the first time, then what is left to say, then its wait.
    fn step(&mut self, sheet: &Sheet, step: &StepFigures, weighed: &mut BTreeSet<String>) -> Scene {
        let mut shots = Vec::new();
        let mut said = 0;
        let lines: BTreeSet<&str> =
            sheet.parts.iter().flat_map(|part| &part.lines).map(|line| line.id.as_str()).collect();
        for used in step.uses.iter().filter(|used| lines.contains(used.line.as_str())) {
            if !weighed.insert(used.line.clone()) {
                continue;
            }
            let says = used.told();
            let length = said_in(&says);
            said += length;
            shots.push(self.shot(Some(&About::Line(used.line.clone())), says, length));
        }
        let text = Phrase::joined(&step.text, " ");
        let rest = said_in(&text).saturating_sub(said);
        shots.push(self.shot(Some(&About::Step(step.id.clone())), text, rest));
        let durations = step.measures.iter().filter(|measure| measure.dimension == Dimension::Duration);
        let takes = durations.map(|measure| measure.shown.clone()).filter(|shown| step.wait.as_ref() != Some(shown));
        if let Some(wait) = &step.wait {
            let says = Phrase::new().figure(wait);
            let length = said_in(&says);
            shots.push(self.shot(Some(&About::Wait(step.id.clone())), says, length));
        }
        let title = Phrase::new().figure(&step.number).author(" · ");
        let title = step.title.pieces().iter().fold(title, |mut title, piece| {
            title.push(piece.clone());
            title
        });
        Scene { title, shots, waits: step.wait.iter().cloned().collect(), takes: takes.collect() }
    }
}

/// Milliseconds that saying a text takes; a number is as many words as it has digits.
fn said_in(text: &Phrase) -> u64 {
    let text = text.text();
    let words = text.split_whitespace().map(|word| {
        let digits = word.chars().filter(|c| c.is_numeric()).count();
        digits.max(usize::from(word.contains(char::is_alphabetic) || word.contains(['€', '$', '£', '%'])))
    });
    A_WORD * u64::try_from(words.sum::<usize>()).unwrap_or(0)
}

/// The plan as one page to print.
///
/// # Errors
/// [`Fault`] where the channel's own template is malformed.
pub fn shooting_page(plan: &Shooting, sheet: &Sheet, voice: &Voice<'_>) -> Result<String, Fault> {
    let context = context! { plan => Value::from(Serde(plan)), sheet => Value::from(Serde(sheet)) };
    voice.render(TEMPLATE, include_str!("templates/shoot.html"), Escape::Html, context)
}
