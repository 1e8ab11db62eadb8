//! What was heard of a recipe and when, as plain data: what cues are placed by. Must not know how it was heard.

use crate::source::script::Millis;

/// Everything heard in a video.
#[derive(Clone, Debug, Default)]
pub struct Heard {
    /// When sentences begin: behind a full stop or a pause, in order.
    pub openings: Vec<Millis>,
    /// Numbers said that a figure answers to, in order.
    pub claims: Vec<Claim>,
    /// How many numbers were said in all.
    pub numbers: usize,
    /// Names of lines, in order.
    pub names: Vec<Name>,
    /// Words that tell a step, in order.
    pub traces: Vec<Trace>,
    /// What was said that is not so, in order.
    pub findings: Vec<Finding>,
    /// When the captions end.
    pub end: Millis,
}

/// A number said of something.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Claim {
    /// When its first word is said.
    pub start: Millis,
    /// When its last word has been said.
    pub end: Millis,
    /// What it is about: a line's id, `step.ID`, `cost.total`.
    pub about: String,
    /// The step it is said in, by number; 0 before the method.
    pub step: usize,
    /// Whether it is right.
    pub agrees: bool,
    /// The figure that it is of, as shown.
    pub figure: String,
}

/// A name said.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Name {
    /// When.
    pub start: Millis,
    /// Lines that go by it.
    pub lines: Vec<String>,
}

/// A word said that only one step has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Trace {
    /// When.
    pub start: Millis,
    /// The step, an index.
    pub step: usize,
    /// How much it tells: 2 for a word of the heading, 1 for one of the text.
    pub weight: u32,
}

/// Something said that is not so.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// When its first word is said.
    pub start: Millis,
    /// When its last word has been said.
    pub end: Millis,
    /// What was said.
    pub said: String,
    /// What it should be.
    pub right: String,
}
