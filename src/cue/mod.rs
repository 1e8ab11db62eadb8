//! Cues: when each card comes and how long it stays, frame by frame. Owns rates, timecode, lanes, the cue sheet and its
//! file, and how cues follow from what is heard; must not know outputs or the disk.

mod chapters;
pub mod codes;
mod cues;
mod heard;
mod lane;
mod moments;
mod place;
mod plan;
mod rate;
mod read;
#[cfg(test)]
mod tests;
mod timecode;
mod write;

pub use chapters::{Chapter, Chapters, chapters};
pub use codes::ALL as CODES;
pub use cues::{Cue, CueSheet};
pub use heard::{Claim, Finding, Heard, Name, Trace};
pub use lane::{About, Card, Lane, card_of, cards};
pub use place::{Trouble, Why, reading_time};
pub use plan::{Change, Match, Material, Plan, matched, plan};
pub use rate::Rate;
pub use read::{FILE, Reading, read, unsupported};
pub use timecode::BadLabel;
pub use write::write;
