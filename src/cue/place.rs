//! Places cards on their lanes: each at its moment, long enough to be read, one at a time, on whole frames; and says what
//! had to be shortened or left out, and why. Must not know what a card is about.

use super::cues::Cue;
use super::lane::Card;
use super::rate::Rate;
use crate::source::script::Millis;

/// Milliseconds a word: 160 words a minute (BBC R&D citing Ofcom: 160 to 180, above 200 is hard).
const A_WORD: u64 = 60_000 / 160;
/// No card is shorter; common practice, no source.
const LEAST: Millis = Millis(1_000);
/// A card may come so long after its moment; common practice, no source.
const LATE: Millis = Millis(1_000);

/// The least time that a card of so many words stays on screen.
pub fn reading_time(words: usize) -> Millis {
    Millis((u64::try_from(words).unwrap_or(u64::MAX)).saturating_mul(A_WORD).max(LEAST.0))
}

/// A card that wants to be on screen.
#[derive(Clone, Debug)]
pub(super) struct Wish {
    pub card: Card,
    /// The frame it belongs to.
    pub moment: u64,
    /// Frames that reading it takes.
    pub least: u64,
    /// Frames that it would stay where nothing else comes.
    pub wanted: u64,
    /// The frame from which it has nothing to say any more: so long it may wait for cards of other lanes to go.
    pub until: u64,
}

/// Why a card is not as long as reading it takes, or not there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Why {
    /// Another card comes: its name.
    Next(String),
    /// A pinned card is in the way: its name.
    Pinned(String),
    /// Another card needs until then to be read: its name.
    Before(String),
    /// The video ends.
    End,
}

/// What became of a card that could not be placed as it should be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Trouble {
    /// The card's name.
    pub card: String,
    /// Frames that it stays; 0 where it is left out.
    pub length: u64,
    /// Frames that reading it takes.
    pub least: u64,
    /// Why.
    pub why: Why,
}

/// Places the cards of a lane around its pinned ones and those of other lanes that would stand on the same part of the
/// picture. `end` is one past the video's last frame.
pub(super) fn place(mut wishes: Vec<Wish>, taken: &[Cue], end: u64, rate: Rate) -> (Vec<Cue>, Vec<Trouble>) {
    wishes.sort_by(|a, b| (a.moment, &a.card.name).cmp(&(b.moment, &b.card.name)));
    let mut lane =
        Strip { placed: Vec::new(), taken, end, floor: rate.frames_lasting(LEAST), late: rate.frames_lasting(LATE) };
    let mut troubles = Vec::new();
    for wish in wishes {
        let least = wish.least;
        let name = wish.card.name.clone();
        if let Err(why) = lane.put(wish) {
            troubles.push(Trouble { card: name, length: 0, least, why });
        }
    }
    for at in 0..lane.placed.len() {
        let (wish, cue) = &lane.placed[at];
        if cue.length < wish.least {
            let why = lane.why_ends(cue, lane.placed.get(at + 1).map(|(_, next)| next));
            troubles.push(Trouble { card: cue.card.name.clone(), length: cue.length, least: wish.least, why });
        }
    }
    (lane.placed.into_iter().map(|(_, cue)| cue).collect(), troubles)
}

struct Strip<'p> {
    placed: Vec<(Wish, Cue)>,
    taken: &'p [Cue],
    end: u64,
    floor: u64,
    late: u64,
}

impl Strip<'_> {
    fn put(&mut self, wish: Wish) -> Result<(), Why> {
        let mut start = wish.moment;
        let latest = start + self.late;
        if let Some((before, cue)) = self.placed.last_mut() {
            // The card before keeps what reading it takes, then this one waits a little, then the other is cut short.
            let room = latest.saturating_sub(cue.start);
            let keeps = before.least.min(cue.length).min(room);
            if keeps < self.floor.min(cue.length) {
                return Err(Why::Before(cue.card.name.clone()));
            }
            cue.length = cue.length.min(keeps.max(start.saturating_sub(cue.start)));
            start = start.max(cue.end());
        }
        // The first gap that is long enough.
        let length = loop {
            let next = self.taken.iter().filter(|other| other.end() > start).min_by_key(|other| other.start);
            let until = next.map_or(self.end, |next| next.start.min(self.end));
            let length = wish.wanted.min(until.saturating_sub(start));
            if length >= self.floor {
                break length;
            }
            let Some(next) = next.filter(|next| next.start < self.end) else { return Err(Why::End) };
            let limit = if next.lane() == wish.card.lane() { latest } else { latest.max(wish.until) };
            if next.end() > limit {
                return Err(why(next));
            }
            start = next.end();
        };
        let cue = Cue { card: wish.card.clone(), start, length, pinned: false };
        self.placed.push((wish, cue));
        Ok(())
    }

    /// What a cue that is cut short makes room for.
    fn why_ends(&self, cue: &Cue, next: Option<&Cue>) -> Why {
        let starts = |other: &&Cue| other.start == cue.end();
        self.taken.iter().find(starts).or(next.filter(starts)).map_or(Why::End, why)
    }
}

/// Why another card is in the way.
fn why(other: &Cue) -> Why {
    let name = other.card.name.clone();
    if other.pinned { Why::Pinned(name) } else { Why::Next(name) }
}
