//! The desk: a channel opened with all it is made with, and what is asked of it: the work that the command line and the
//! studio share. Must not know who asks, or how the answer looks.

mod board;
mod book;
mod channel;
mod companion;
mod cues;
mod decor;
mod formula;
mod keep;
mod lines;
mod publishing;
mod request;
mod slates;
mod start;
mod upgrade;
mod what_if;
mod worries;

pub use board::{Board, board, works};
pub use book::Ledger;
pub use channel::{Channel, no_such, of_sources, open, open_speaking};
pub use cues::{captions, cue_file, frame_rate, video_end};
pub use decor::Decor;
pub use keep::{rewrite, seen};
pub use lines::{Known, Slip, Typed, read_lines};
pub use publishing::{Published, apart, proofread, publish_all, told, would};
pub use request::{day, listed, today};
pub use slates::{Drawn, Kept, as_taken, find, kept, take};
pub use start::{Answers, LOCALES, Made, Place, add_dish, begin, is_begun, is_free, is_understood, slips};
pub use upgrade::upgrade;
pub use what_if::{Question, compared, supposed};
pub use worries::price_worries;

use crate::diag::Findings;
use crate::span::Texts;
use std::io;
use std::path::PathBuf;

/// Which channel, and in which language.
#[derive(Clone, Debug)]
pub struct Home {
    /// The channel's folder.
    pub content: PathBuf,
    /// The language to write in, instead of the channel's own.
    pub language: Option<String>,
}

/// Why something that was asked for can't be had.
#[derive(Debug)]
pub enum Fault {
    /// What was asked is at fault; says what to ask instead.
    Request(String),
    /// The sources or a folder are; every finding, and the texts it points into.
    Findings(Findings, Texts),
    /// A file was changed while somebody was at it here; says which.
    Meanwhile(String),
    /// The machine is.
    Io(io::Error),
}

impl From<io::Error> for Fault {
    fn from(error: io::Error) -> Self {
        Self::Io(error)
    }
}
