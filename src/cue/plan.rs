//! The cue sheet of what was heard: cards that were pinned stay, all others are placed anew, and what moved, came and
//! went is told. Must not know files or outputs.

use super::cues::{Cue, CueSheet};
use super::heard::Heard;
use super::lane::{About, Card, Lane};
use super::moments::moments;
use super::place::{Trouble, Why, Wish, place, reading_time};
use super::rate::Rate;
use crate::sheet::Sheet;
use crate::source::script::Millis;
use std::collections::BTreeMap;

/// What cues are made of.
#[derive(Clone, Copy, Debug)]
pub struct Material<'a> {
    /// The figures.
    pub sheet: &'a Sheet,
    /// Every card of the recipe.
    pub cards: &'a [Card],
    /// Words on each card by its name, all its pages together.
    pub words: &'a BTreeMap<String, usize>,
    /// What was heard.
    pub heard: &'a Heard,
    /// When the video ends, where that is known; never before what was heard does.
    pub video: Option<Millis>,
}

/// A cue that is not what it was.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// The card's name.
    pub card: String,
    /// Its lane.
    pub lane: Lane,
    /// Start and length before, in frames; `None` for one that is new.
    pub before: Option<(u64, u64)>,
    /// Start and length now; `None` for one that is gone.
    pub after: Option<(u64, u64)>,
}

/// A cue sheet and how it came about.
#[derive(Clone, Debug)]
pub struct Plan {
    /// The cues.
    pub sheet: CueSheet,
    /// What is not as it was, by lane and time.
    pub changes: Vec<Change>,
    /// Cards that are shorter than reading them takes, or left out.
    pub troubles: Vec<Trouble>,
    /// Pinned cards whose moment is elsewhere: the name and the moment's frame.
    pub held: Vec<(String, u64)>,
    /// Steps, lines and waits that were not heard, by their cards' names.
    pub silent: Vec<String>,
}

/// How much of a recipe was heard: steps and lines, of how many.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Match {
    /// Steps whose start was heard.
    pub steps: (usize, usize),
    /// Lines that were heard.
    pub lines: (usize, usize),
    /// Numbers that are right.
    pub numbers: (usize, usize),
}

impl Match {
    /// Whether that is enough to be the same dish: half of the numbers, and a third of steps and lines together.
    ///
    /// Captions of another dish have names and steps in common with it, but few numbers.
    pub fn is_enough(&self) -> bool {
        let (heard, all) = (self.steps.0 + self.lines.0, self.steps.1 + self.lines.1);
        heard > 0 && heard * 3 >= all && self.numbers.0 * 2 >= self.numbers.1
    }
}

/// How much of the recipe was heard.
pub fn matched(material: &Material<'_>) -> Match {
    let found = moments(material.sheet, material.cards, material.heard);
    let count = |lane: Lane| {
        let of_lane = || material.cards.iter().filter(move |card| card.lane() == lane);
        (of_lane().filter(|card| found.contains_key(&card.name)).count(), of_lane().count())
    };
    let right = material.heard.claims.iter().filter(|claim| claim.agrees).count();
    let numbers = (right, material.heard.numbers);
    Match { steps: count(Lane::Steps), lines: count(Lane::Ingredients), numbers }
}

/// Cues of what was heard, over `old` ones of which those that are pinned stay. Times of `old` are at `rate`.
pub fn plan(material: &Material<'_>, rate: Rate, length: Option<u64>, old: Option<&CueSheet>) -> Plan {
    let mut found = moments(material.sheet, material.cards, material.heard);
    let spoken = rate.frames_lasting(material.heard.end);
    let video = material.video.map_or(spoken, |video| rate.frames_lasting(video).max(spoken));
    let end = length.unwrap_or(video);
    if end >= spoken + rate.nominal() {
        // What goes on after the last word closes.
        let closing = material.cards.iter().find(|card| card.about == About::Closing);
        found.extend(closing.map(|card| (card.name.clone(), material.heard.end)));
    }
    let mut maker = Maker { material, rate, spoken, end, found, troubles: Vec::new(), cues: Vec::new() };
    let pins: Vec<Cue> = old.iter().flat_map(|old| &old.cues).filter(|cue| cue.pinned).cloned().collect();
    for lane in ORDER {
        maker.lane(lane, &pins);
    }
    let mut sheet = CueSheet {
        rate,
        length,
        video: Some(video),
        off: old.map_or_else(|| [Lane::WeighOut].into(), |old| old.off.clone()),
        cues: maker.cues,
    };
    sheet.sort();
    let mut troubles = maker.troubles;
    // In the order they would be on screen.
    troubles.sort_by_key(|trouble| maker.found.get(&trouble.card).copied());
    let held = pins.iter().filter_map(|pin| {
        let moment = rate.frame_near(*maker.found.get(&pin.card.name)?);
        (moment.abs_diff(pin.start) > rate.frames_lasting(Millis(1000))).then(|| (pin.card.name.clone(), moment))
    });
    let wanted = [Lane::Steps, Lane::Ingredients, Lane::Waits];
    let silent = material.cards.iter().filter(|card| {
        wanted.contains(&card.lane()) && !maker.found.contains_key(&card.name) && sheet.find(&card.name).is_none()
    });
    Plan {
        changes: changes(old, &sheet),
        held: held.collect(),
        silent: silent.map(|card| card.name.clone()).collect(),
        troubles,
        sheet,
    }
}

/// The order in which lanes are filled. Where cards of two lanes would hide each other, the later one gives way: amounts are
/// told, the cost waits for a moment between them, steps wait for it, cautions follow their steps, waits come when nothing is
/// poured, and the closing card waits until the cost has been read.
const ORDER: [Lane; 7] =
    [Lane::Ingredients, Lane::Cost, Lane::Steps, Lane::Cautions, Lane::Waits, Lane::WeighOut, Lane::Title];

struct Maker<'m> {
    material: &'m Material<'m>,
    rate: Rate,
    /// When all has been said.
    spoken: u64,
    /// When the video ends.
    end: u64,
    found: BTreeMap<String, Millis>,
    troubles: Vec<Trouble>,
    cues: Vec<Cue>,
}

impl Maker<'_> {
    fn lane(&mut self, lane: Lane, pins: &[Cue]) {
        let own: Vec<Cue> = pins.iter().filter(|pin| pin.lane() == lane).cloned().collect();
        let others = pins.iter().chain(self.cues.iter().filter(|cue| !cue.pinned));
        let others = others.filter(|cue| lane.hides(cue.lane())).cloned();
        let taken: Vec<Cue> = own.iter().cloned().chain(others).collect();
        let free = self.material.cards.iter().filter(|card| card.lane() == lane);
        let free = free.filter(|card| own.iter().all(|pin| pin.card.name != card.name));
        let mut wishes: Vec<Wish> = free.filter_map(|card| self.wish(card)).collect();
        if lane == Lane::Cautions {
            one_by_one(&mut wishes);
        }
        let (mut cues, troubles) = place(wishes, &taken, self.end, self.rate);
        cues.extend(own);
        cues.sort_by_key(|cue| cue.start);
        self.cues.extend(cues);
        self.troubles.extend(troubles);
    }

    fn wish(&self, card: &Card) -> Option<Wish> {
        let step = self.step_card(card);
        let named = step.map_or(&card.name, |step| &step.name);
        let moment = self.rate.frame_near(*self.found.get(named)?);
        let words = self.material.words.get(&card.name).copied().unwrap_or(0);
        let least = self.rate.frames_lasting(reading_time(words));
        let stay = |millis: u64| self.rate.frames_lasting(Millis(millis)).max(least);
        let cost = self.cues.iter().filter(|cue| cue.lane() == Lane::Cost).map(|cue| self.read_by(cue)).max();
        let (moment, wanted) = match &card.about {
            // How long cards stay where nothing else comes is common practice, no source.
            About::Part(id) => (moment, self.board(id, moment).max(least)),
            About::Line(_) => (moment, stay(3_000)),
            About::Closing => (moment.max(cost.unwrap_or(0)), self.end),
            // The step is told first.
            About::Caution(_) => {
                let told = self.cues.iter().find(|cue| cue.card.name == *named).map_or(moment, Cue::end);
                (moment.max(told), least)
            }
            About::Title
            | About::Reveal(_)
            | About::Step(_)
            | About::Wait(_)
            | About::Cost
            | About::Totals
            | About::Ratio
            | About::Variant(_) => (moment, stay(4_000)),
        };
        let until = match &card.about {
            About::Cost | About::Totals | About::Ratio | About::Variant(_) | About::Closing => self.end,
            // A step is told as long as somebody speaks: its card makes a chapter.
            About::Step(id) => self.card_of_step(id).map_or(0, |step| self.step_ends(step)).min(self.spoken),
            About::Wait(id) => self.card_of_step(id).map_or(0, |step| self.step_ends(step)),
            About::Title | About::Part(_) | About::Reveal(_) | About::Line(_) | About::Caution(_) => {
                step.map_or(0, |step| self.step_ends(step))
            }
        };
        Some(Wish { card: card.clone(), moment, least, wanted, until })
    }

    /// The card of the step that a card is about or calls for.
    fn step_card(&self, card: &Card) -> Option<&Card> {
        let step = match &card.about {
            About::Step(id) => Some(id),
            About::Caution(id) => self.material.sheet.cautions.iter().find(|caution| caution.id == *id)?.step.as_ref(),
            About::Title
            | About::Part(_)
            | About::Reveal(_)
            | About::Line(_)
            | About::Wait(_)
            | About::Cost
            | About::Totals
            | About::Ratio
            | About::Variant(_)
            | About::Closing => None,
        }?;
        self.card_of_step(step)
    }

    fn card_of_step(&self, step: &str) -> Option<&Card> {
        self.material.cards.iter().find(|card| matches!(&card.about, About::Step(id) if id == step))
    }

    /// The frame at which the step after this one's card starts, or the video ends.
    fn step_ends(&self, card: &Card) -> u64 {
        let steps = self.material.cards.iter().filter(|other| other.lane() == Lane::Steps);
        let starts = steps.filter_map(|other| self.found.get(&other.name));
        let next = self.found.get(&card.name).and_then(|start| starts.filter(|other| *other > start).min());
        next.map_or(self.end, |next| self.rate.frame_near(*next))
    }

    /// When a placed card has been read.
    fn read_by(&self, cue: &Cue) -> u64 {
        let words = self.material.words.get(&cue.card.name).copied().unwrap_or(0);
        cue.start + self.rate.frames_lasting(reading_time(words)).min(cue.length)
    }

    /// Frames from a part's first callout to the end of its last.
    fn board(&self, part: &str, from: u64) -> u64 {
        let lines = self.material.sheet.parts.iter().filter(|known| known.id == part).flat_map(|part| &part.lines);
        let is_of = |cue: &&Cue, id: &str| matches!(&cue.card.about, About::Line(line) if line == id);
        let ends = lines.filter_map(|line| self.cues.iter().find(|cue| is_of(cue, &line.id)).map(Cue::end));
        ends.max().unwrap_or(from).saturating_sub(from)
    }
}

/// Lets cards that want to come at once follow each other, each as long as reading it takes or until its step ends.
fn one_by_one(wishes: &mut [Wish]) {
    wishes.sort_by_key(|wish| wish.moment);
    let mut free = 0;
    for wish in wishes {
        wish.moment = wish.moment.max(free);
        free = (wish.moment + wish.least).min(wish.until.max(wish.moment));
    }
}

/// What is in one sheet and not in the other, or elsewhere in it.
fn changes(old: Option<&CueSheet>, new: &CueSheet) -> Vec<Change> {
    let before: BTreeMap<&str, &Cue> =
        old.iter().flat_map(|old| &old.cues).map(|cue| (cue.card.name.as_str(), cue)).collect();
    let times = |cue: &Cue| (cue.start, cue.length);
    let mut all: Vec<Change> = new
        .cues
        .iter()
        .map(|cue| {
            let before = before.get(cue.card.name.as_str()).map(|cue| times(cue));
            Change { card: cue.card.name.clone(), lane: cue.lane(), before, after: Some(times(cue)) }
        })
        .filter(|change| change.before != change.after)
        .collect();
    let gone = before.values().filter(|cue| new.find(&cue.card.name).is_none());
    all.extend(gone.map(|cue| Change {
        card: cue.card.name.clone(),
        lane: cue.lane(),
        before: Some(times(cue)),
        after: None,
    }));
    all.sort_by(|a, b| {
        let time = |change: &Change| change.after.or(change.before);
        (a.lane, time(a), &a.card).cmp(&(b.lane, time(b), &b.card))
    });
    all
}

impl Trouble {
    /// What became of the card, and what to do: "`cost` stays 3.4 s, reading it takes 19.9 s: the video ends".
    pub fn text(&self, rate: Rate) -> String {
        let seconds = |frames: u64| {
            let tenths = (rate.time(frames).0 + 50) / 100;
            format!("{}.{} s", tenths / 10, tenths % 10)
        };
        let why = match &self.why {
            Why::Next(name) => format!("`{name}` comes"),
            Why::Pinned(name) => format!("`{name}` is pinned there"),
            Why::Before(name) => format!("`{name}` is still to be read"),
            Why::End => "the video ends".to_owned(),
        };
        match self.length {
            0 => format!("`{}` is left out, reading it takes {}: {why}", self.card, seconds(self.least)),
            length => {
                format!("`{}` stays {}, reading it takes {}: {why}", self.card, seconds(length), seconds(self.least))
            }
        }
    }
}
