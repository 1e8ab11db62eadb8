//! Chapters of a video from its cues: the first at the start, at least three, each long enough; what does not fit is joined
//! to the one before it or left out, with a reason. Must not know where they are written.

use super::cues::CueSheet;
use super::lane::About;
use crate::locale::{Key, Locale};
use crate::sheet::{Figure, Phrase, Sheet};
use crate::source::script::Millis;
use serde::Serialize;

/// The least seconds of a chapter; common practice of video platforms.
const LEAST: u64 = 10;
/// The least number of chapters; common practice of video platforms.
const FEWEST: usize = 3;

/// A chapter.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Chapter {
    /// When it starts.
    #[serde(skip)]
    pub start: Millis,
    /// The same as shown: whole seconds, never after the start.
    pub at: Figure,
    /// Its title.
    pub title: Phrase,
}

/// The chapters of a video.
#[derive(Clone, Debug, Default)]
pub struct Chapters {
    /// In order; none where there would be too few.
    pub list: Vec<Chapter>,
    /// What was joined or left out, and why.
    pub remarks: Vec<String>,
    /// When the last one ends.
    pub end: Millis,
}

/// A chapter that might be.
struct Proposed {
    start: Millis,
    title: Phrase,
    /// Whether its title may be added to another's.
    step: bool,
}

impl Proposed {
    fn seconds(&self) -> u64 {
        self.start.0 / 1000
    }
}

/// The chapters: what comes before the method, its steps, and the cost.
pub fn chapters(sheet: &Sheet, cues: &CueSheet, locale: &Locale) -> Chapters {
    let end = cues.rate.time(cues.end());
    let mut remarks = Vec::new();
    let mut proposed =
        vec![Proposed { start: Millis(0), title: Phrase::new().author(sheet.title.clone()), step: false }];
    let mut told = Vec::new();
    for cue in &cues.cues {
        let start = cues.rate.time(cue.start);
        match &cue.card.about {
            About::Step(id) => {
                let step = sheet.steps.iter().find(|step| step.id == *id);
                proposed.extend(step.map(|step| Proposed { start, title: step.title.clone(), step: true }));
            }
            About::Cost => told.push(Proposed { start, title: Phrase::worded(locale, Key::Cost, &[]), step: false }),
            About::Title
            | About::Part(_)
            | About::Reveal(_)
            | About::Line(_)
            | About::Caution(_)
            | About::Wait(_)
            | About::Totals
            | About::Ratio
            | About::Variant(_)
            | About::Closing => {}
        }
    }
    if !proposed.iter().any(|chapter| chapter.step) {
        let remarks = vec!["no chapters: no step has a cue".to_owned()];
        return Chapters { list: Vec::new(), remarks, end };
    }
    // What comes before the method is too short for a chapter: the first of it starts with the video.
    if let [_, first, ..] = proposed.as_mut_slice()
        && first.start.0 / 1000 < LEAST
    {
        let title = first.title.text();
        if first.start.0 >= 1000 {
            remarks.push(format!("`{title}` starts with the video: what comes before it is shorter than {LEAST} s"));
        }
        first.start = Millis(0);
        proposed.remove(0);
    }
    let mut kept: Vec<Proposed> = Vec::new();
    for next in proposed {
        match kept.last_mut().filter(|last| next.seconds() - last.seconds() < LEAST) {
            Some(last) => {
                let why = format!("it starts {} s after it", next.seconds() - last.seconds());
                remarks.push(join(last, &next, &why));
            }
            None => kept.push(next),
        }
    }
    while let [.., before, last] = kept.as_mut_slice()
        && (end.0 / 1000).saturating_sub(last.seconds()) < LEAST
    {
        let why = format!("the video ends {} s after it starts", (end.0 / 1000).saturating_sub(last.seconds()));
        let last = Proposed { title: last.title.clone(), ..*last };
        remarks.push(join(before, &last, &why));
        kept.pop();
    }
    for cost in told {
        remarks.extend(insert(&mut kept, cost, end));
    }
    if kept.len() < FEWEST {
        let few = kept.len();
        remarks.push(format!("no chapters: there would be {few}, and video platforms want {FEWEST} of {LEAST} s each"));
        kept.clear();
    }
    let list = kept.into_iter().map(|chapter| Chapter {
        at: Figure::clock(chapter.seconds()),
        start: chapter.start,
        title: chapter.title,
    });
    Chapters { list: list.collect(), remarks, end }
}

/// Takes a chapter that is too short into the one before it, and says why.
fn join(into: &mut Proposed, short: &Proposed, why: &str) -> String {
    let (before, title) = (into.title.text(), short.title.text());
    if short.step && into.step {
        into.title = Phrase::joined(&[into.title.clone(), short.title.clone()], " · ");
        format!("`{title}` shares the chapter of `{before}`: {why}, and a chapter takes {LEAST} s")
    } else {
        format!("`{title}` has no chapter beside `{before}`: {why}, and a chapter takes {LEAST} s")
    }
}

/// Puts a chapter between those that are there, or says why it does not fit.
fn insert(kept: &mut Vec<Proposed>, new: Proposed, end: Millis) -> Option<String> {
    let at = kept.partition_point(|chapter| chapter.start <= new.start);
    let title = new.title.text();
    let lasts = kept.get(at).map_or(end.0 / 1000, Proposed::seconds).saturating_sub(new.seconds());
    let before = at.checked_sub(1).and_then(|before| kept.get(before));
    let since = before.map_or(new.seconds(), |before| new.seconds() - before.seconds());
    let why = if since < LEAST {
        format!("it starts {since} s after the one before it")
    } else if lasts < LEAST {
        format!("only {lasts} s are left after it starts")
    } else {
        kept.insert(at, new);
        return None;
    };
    Some(format!("`{title}` has no chapter of its own: {why}, and a chapter takes {LEAST} s"))
}
