//! Puts changed words back into a file: every byte that was not asked for stays as it was.

use super::{Format, Script};
use crate::span::Span;
use std::fmt;

/// What is to stand where something else stood.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Edit {
    /// The bytes that go, such as a word's span.
    pub span: Span,
    /// What comes, as it is displayed: it is escaped where the format asks for it.
    pub text: String,
}

/// Why a change can't be written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unwritable {
    /// Two changes want the same bytes; the place of the second.
    Overlap(Span),
    /// The file's encoding has no such character; and the place it was meant for.
    Character(char, Span),
}

impl fmt::Display for Unwritable {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Overlap(_) => write!(f, "two changes meet in one word"),
            Self::Character(c, _) => write!(f, "the file's encoding has no `{c}`; save it as UTF-8"),
        }
    }
}

impl Script {
    /// The file's bytes with `edits` made; without any, the very bytes that were read.
    pub fn rewrite(&self, edits: &[Edit]) -> Result<Vec<u8>, Unwritable> {
        let mut edits: Vec<&Edit> = edits.iter().collect();
        edits.sort_by_key(|edit| edit.span);
        if let Some(pair) = edits.windows(2).find(|pair| pair[1].span.start < pair[0].span.end) {
            return Err(Unwritable::Overlap(pair[1].span));
        }
        let bytes = &self.file.bytes;
        let mut out = Vec::with_capacity(bytes.len());
        let mut ahead = edits.into_iter().peekable();
        // How far the text is read, in its own bytes and in the file's, and up to where it is replaced.
        let (mut at, mut from, mut gone) = (0, 0, 0);
        for (c, length) in self.file.units() {
            while let Some(edit) = ahead.next_if(|edit| edit.span.start <= at) {
                self.put(edit, &mut out)?;
                gone = edit.span.end;
            }
            if at >= gone {
                out.extend(&bytes[from..from + length]);
            }
            (at, from) = (at + c.len_utf8(), from + length);
        }
        for edit in ahead {
            self.put(edit, &mut out)?;
        }
        Ok(out)
    }

    fn put(&self, edit: &Edit, out: &mut Vec<u8>) -> Result<(), Unwritable> {
        let text = match self.format {
            Format::WebVtt => edit.text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;"),
            Format::SubRip | Format::Plain | Format::Markdown => edit.text.clone(),
        };
        self.file.write(&text, out).map_err(|c| Unwritable::Character(c, edit.span))
    }
}
