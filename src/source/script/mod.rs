//! What is spoken, from captions (WebVTT, SubRip) or a script (plain text, Markdown): words in the order they
//! are said, each with its place in the file and, where the file has times, when it is said. Writes a file back
//! with some of its words changed and every other byte as it was. Must not know what a word means.

mod build;
pub mod codes;
mod encoding;
mod entity;
mod lines;
mod markdown;
mod millis;
mod plain;
mod read;
mod rewrite;
mod rolling;
mod subrip;
mod webvtt;

pub use millis::Millis;
pub use read::{MOST_WORDS, read, read_file};
pub use rewrite::{Edit, Unwritable};

use crate::span::Span;
use encoding::Encoded;

/// How a spoken text is written down.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Format {
    /// Captions as the W3C's WebVTT has them.
    WebVtt,
    /// Captions as SubRip files have them.
    SubRip,
    /// A script in plain text.
    Plain,
    /// A script in Markdown.
    Markdown,
}

/// What stands between a word and the one before it; the strongest of what does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Break {
    /// A space, or nothing before the first word.
    None,
    /// A new line: in captions it says where the picture ended, not where the thought did.
    Line,
    /// A new cue: no more than a new line says.
    Cue,
    /// The next cell of a table's row.
    Cell,
    /// A full stop, question or exclamation mark.
    Sentence,
    /// A blank line, a heading or a list item in a script.
    Paragraph,
    /// Somebody else speaks.
    Speaker,
}

/// A word as it is displayed: tags off, character references decoded, punctuation kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Word {
    /// The word with its punctuation, never empty and without white space.
    pub text: String,
    /// The bytes that it was written with, from its first character to its last; a tag inside a word is in them.
    pub span: Span,
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1; a byte-order mark is none.
    pub column: usize,
    /// When it starts to be said; `None` in a script without times.
    pub start: Option<Millis>,
    /// When it has been said; not before `start`.
    pub end: Option<Millis>,
    /// Its cue, or its paragraph where there are no times: an index into [`Script::cues`].
    pub cue: usize,
    /// What stands before it.
    pub break_before: Break,
}

/// A cue of captions, or a paragraph of a script.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cue {
    /// The identifier, or SubRip's counter, as written; `None` where there is none.
    pub id: Option<Span>,
    /// When it is shown; `None` in a script without times.
    pub start: Option<Millis>,
    /// When it goes; may be before `start` where the file says so.
    pub end: Option<Millis>,
    /// Everything that is shown, with its markup, without the last line's ending.
    pub text: Span,
    /// The level of the heading that this paragraph is, 1 to 6.
    pub heading: Option<u8>,
}

/// A place where captions that roll repeat a word.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Repeat {
    /// The word: an index into [`Script::words`].
    pub word: usize,
    /// Where it is shown again.
    pub span: Span,
}

/// A spoken text.
#[derive(Clone, Debug)]
pub struct Script {
    /// How it is written down.
    pub format: Format,
    /// Cues or paragraphs in the file's order.
    pub cues: Vec<Cue>,
    /// Every word once, in the order they are said: by time where there are times.
    pub words: Vec<Word>,
    /// Where words are shown again; in the order of the file.
    pub repeats: Vec<Repeat>,
    file: Encoded,
}

impl Script {
    /// When the last word has been said and the last cue with one goes; `None` where there are no times.
    pub fn end(&self) -> Option<Millis> {
        let shown = self.words.iter().filter_map(|word| self.cues[word.cue].end);
        shown.chain(self.words.iter().filter_map(|word| word.end)).max()
    }
}
