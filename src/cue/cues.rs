//! The cue sheet: which card is on screen when, lane by lane. Must not know how cues come about or what becomes of them.

use super::lane::{Card, Lane};
use super::rate::Rate;
use std::collections::BTreeSet;

/// A card on screen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cue {
    /// Which card.
    pub card: Card,
    /// Its first frame; the video's first is 0.
    pub start: u64,
    /// How many frames it stays, at least one.
    pub length: u64,
    /// Whether it was put there by hand: no new captions move it.
    pub pinned: bool,
}

impl Cue {
    /// One past its last frame.
    pub fn end(&self) -> u64 {
        self.start + self.length
    }

    /// The lane that it lies on.
    pub fn lane(&self) -> Lane {
        self.card.lane()
    }
}

/// All cues of a video.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CueSheet {
    /// The rate of its frames.
    pub rate: Rate,
    /// How many frames the video has, where the sheet says so itself.
    pub length: Option<u64>,
    /// How many it has by all else that is known of it.
    pub video: Option<u64>,
    /// Lanes that are kept but not shown: disabled tracks, and in no reel.
    pub off: BTreeSet<Lane>,
    /// Cues by start, then by lane. Those of a lane never overlap.
    pub cues: Vec<Cue>,
}

impl CueSheet {
    /// A sheet without cues.
    pub fn new(rate: Rate) -> Self {
        Self { rate, length: None, video: None, off: BTreeSet::new(), cues: Vec::new() }
    }

    /// The cues of a lane in order.
    pub fn lane(&self, lane: Lane) -> impl Iterator<Item = &Cue> {
        self.cues.iter().filter(move |cue| cue.lane() == lane)
    }

    /// The cue of the card of that name.
    pub fn find(&self, card: &str) -> Option<&Cue> {
        self.cues.iter().find(|cue| cue.card.name == card)
    }

    /// One past the last frame of the video, or of the last cue where nothing says how long the video is.
    pub fn end(&self) -> u64 {
        self.length.or(self.video).unwrap_or_else(|| self.cues.iter().map(Cue::end).max().unwrap_or(0))
    }

    /// Puts the cues in their order.
    pub fn sort(&mut self) {
        self.cues.sort_by(|a, b| (a.start, a.lane(), &a.card.name).cmp(&(b.start, b.lane(), &b.card.name)));
    }

    /// The same at another rate: each start and end at the frame nearest to it, no cue shorter than a frame.
    ///
    /// Cues that follow each other without a gap still do, and no two of a lane overlap.
    #[must_use]
    pub fn at(&self, rate: Rate) -> Self {
        let to = |frame: u64| self.rate.convert(frame, rate);
        let (length, video) = (self.length.map(to), self.video.map(to));
        let mut sheet = Self { rate, length, video, off: self.off.clone(), cues: self.cues.clone() };
        for lane in Lane::ALL {
            let mut free = 0;
            for cue in sheet.cues.iter_mut().filter(|cue| cue.lane() == lane) {
                let (start, end) = (to(cue.start).max(free), to(cue.end()));
                (cue.start, cue.length) = (start, end.saturating_sub(start).max(1));
                free = cue.end();
            }
        }
        sheet.sort();
        sheet
    }
}

#[cfg(test)]
mod tests {
    use super::super::lane::About;
    use super::*;
    use proptest::prelude::*;

    fn sheet(rate: Rate, lengths: &[(u64, u64)]) -> CueSheet {
        let mut sheet = CueSheet::new(rate);
        let mut at = 0;
        for (number, (gap, length)) in lengths.iter().enumerate() {
            let name = format!("step-{}", number + 1);
            let card = Card { about: About::Step(name.clone()), name };
            sheet.cues.push(Cue { card, start: at + gap, length: *length, pinned: false });
            at += gap + length;
        }
        sheet
    }

    proptest! {
        #[test]
        fn cues_keep_apart_and_near_at_any_rate(lengths in prop::collection::vec((0..90_u64, 1..400_u64), 1..40)) {
            for from in Rate::ALL {
                let before = sheet(from, &lengths);
                for to in Rate::ALL {
                    let after = before.at(to);
                    for pair in after.cues.windows(2) {
                        prop_assert!(pair[0].end() <= pair[1].start);
                    }
                    for (old, new) in before.cues.iter().zip(&after.cues) {
                        prop_assert!(new.length >= 1);
                        // Half a frame of rounding; a cue of less than a frame may push the next.
                        prop_assert!(from.time(old.start).0.abs_diff(to.time(new.start).0) <= 60);
                    }
                }
                prop_assert_eq!(before.at(from), before);
            }
        }
    }
}
