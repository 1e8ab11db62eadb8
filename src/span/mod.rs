//! Where something stands in a source: file ids, byte spans and values that carry them.
//! Must not know what a diagnostic or a recipe is.

mod texts;

pub use texts::{Place, Text, Texts};

use std::ops::Deref;

/// A source file of the channel; an index into the reader's list of files.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct SourceId(pub u32);

/// A range of bytes in a source file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Span {
    /// Which file.
    pub source: SourceId,
    /// First byte.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
}

impl Span {
    /// A span of `source` from byte `start` up to byte `end`.
    pub fn new(source: SourceId, start: usize, end: usize) -> Self {
        Self { source, start, end }
    }
}

/// A value and where it was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Spanned<T> {
    /// The value.
    pub value: T,
    /// Where it was written.
    pub span: Span,
}

impl<T> Spanned<T> {
    /// `value` as written at `span`.
    pub fn new(value: T, span: Span) -> Self {
        Self { value, span }
    }

    /// The same place with another value.
    pub fn map<U>(self, change: impl FnOnce(T) -> U) -> Spanned<U> {
        Spanned { value: change(self.value), span: self.span }
    }
}

impl<T> Deref for Spanned<T> {
    type Target = T;
    fn deref(&self) -> &T {
        &self.value
    }
}
