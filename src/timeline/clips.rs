//! Clips of a take: which film is on screen when, lane by lane; a card of several pages is several clips. Must not know how
//! they are written down.

use crate::cue::{Card, Cue, CueSheet, Lane, card_of};
use crate::exact::{Exact, apportion};

/// A picture of a card, or of a page of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    /// Its file's name without the ending, such as `03-step-1`.
    pub name: String,
    /// The card that it is of.
    pub card: String,
    /// Words on it.
    pub words: usize,
}

impl Picture {
    /// The picture of that name, `NN-name`, with so many words; `None` if it is of none of `cards`.
    pub fn new(name: &str, words: usize, cards: &[Card]) -> Option<Self> {
        let plain = name.split_once('-').map_or(name, |(_, plain)| plain);
        card_of(plain, cards).map(|card| Self { name: name.to_owned(), card: card.name.clone(), words })
    }
}

/// A film on a lane.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Clip {
    /// The file, beside the list that names it.
    pub file: String,
    /// The card.
    pub card: String,
    /// Its first frame in the video.
    pub start: u64,
    /// Frames; the film has as many, from its first.
    pub length: u64,
}

/// How much a marker asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tone {
    /// It tells where something starts.
    Calm,
    /// Something is not so.
    Alarm,
}

/// A mark on the timeline.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Marker {
    /// What it says.
    pub name: String,
    /// More on it.
    pub comment: String,
    /// Its first frame in the video.
    pub start: u64,
    /// Frames.
    pub length: u64,
    /// How much it asks for.
    pub tone: Tone,
}

/// All that an edit list is written from.
#[derive(Clone, Copy, Debug)]
pub struct Take<'a> {
    /// The recipe's folder name.
    pub recipe: &'a str,
    /// The cues, at the rate of the list.
    pub cues: &'a CueSheet,
    /// Pictures of one frame, in running order.
    pub pictures: &'a [Picture],
    /// Marks.
    pub markers: &'a [Marker],
    /// The frame that the video's first has on the timeline.
    pub start: u64,
}

impl Take<'_> {
    /// The clips of a lane in order.
    pub fn clips(&self, lane: Lane) -> Vec<Clip> {
        self.cues.lane(lane).flat_map(|cue| self.of(cue)).collect()
    }

    /// A cue's pages one after the other, each as long as its share of the words.
    fn of(&self, cue: &Cue) -> Vec<Clip> {
        let pages: Vec<&Picture> = self.pictures.iter().filter(|picture| picture.card == cue.card.name).collect();
        let shares: Vec<Exact> =
            pages.iter().map(|page| Exact::from(i64::try_from(page.words.max(1)).unwrap_or(1))).collect();
        let frames = apportion(i64::try_from(cue.length).unwrap_or(i64::MAX), &shares);
        let mut start = cue.start;
        let mut clips = Vec::new();
        for (page, frames) in pages.iter().zip(frames) {
            let length = u64::try_from(frames).unwrap_or(0);
            if length > 0 {
                clips.push(Clip { file: format!("{}.mov", page.name), card: cue.card.name.clone(), start, length });
            }
            start += length;
        }
        clips
    }
}
