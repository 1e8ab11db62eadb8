//! Lines of a text whose endings are LF, CRLF or CR alone, and where a byte stands in them.
//! Must not know what is on a line.

use std::ops::Range;

/// Where lines of a text are, byte by byte.
#[derive(Clone, Copy)]
pub(super) struct Lines<'t> {
    text: &'t str,
    /// The first byte of the next line.
    pub(super) at: usize,
}

impl<'t> Lines<'t> {
    /// The lines of `text` from byte `at`.
    pub(super) fn from(text: &'t str, at: usize) -> Self {
        Self { text, at }
    }

    /// The lines of `text` without a byte-order mark.
    pub(super) fn behind_mark(text: &'t str) -> Self {
        Self::from(text, if text.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 })
    }
}

impl Iterator for Lines<'_> {
    type Item = Range<usize>;

    /// The bytes of the next line without its ending; a last line that is empty is none.
    fn next(&mut self) -> Option<Range<usize>> {
        let rest = self.text.get(self.at..).filter(|rest| !rest.is_empty())?;
        let start = self.at;
        let Some(offset) = rest.find(['\n', '\r']) else {
            self.at = self.text.len();
            return Some(start..self.at);
        };
        let ending = if rest[offset..].starts_with("\r\n") { 2 } else { 1 };
        self.at = start + offset + ending;
        Some(start..start + offset)
    }
}

/// Tells line and column of bytes that are asked for in rising order.
pub(super) struct Places<'t> {
    text: &'t str,
    lines: Lines<'t>,
    line: usize,
    column: usize,
    at: usize,
}

impl<'t> Places<'t> {
    pub(super) fn new(text: &'t str) -> Self {
        let mut lines = Lines::behind_mark(text);
        let at = lines.at;
        lines.next();
        Self { text, lines, line: 1, column: 1, at }
    }

    /// Line and column of a character's first byte, both from 1; not before any that was asked for.
    pub(super) fn of(&mut self, byte: usize) -> (usize, usize) {
        while byte >= self.lines.at && self.lines.at < self.text.len() {
            (self.line, self.column, self.at) = (self.line + 1, 1, self.lines.at);
            self.lines.next();
        }
        if let Some(between) = self.text.get(self.at..byte) {
            self.column += between.chars().count();
            self.at = byte;
        }
        (self.line, self.column)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn all_three_line_endings_end_a_line() {
        let text = "a\rb\nc\r\nd\n\re";
        let lines: Vec<&str> = Lines::from(text, 0).map(|range| &text[range]).collect();
        assert_eq!(lines, ["a", "b", "c", "d", "", "e"]);
        let mut places = Places::new("\u{feff}né o\r\nx y");
        assert_eq!([3, 7, 10, 12].map(|byte| places.of(byte)), [(1, 1), (1, 4), (2, 1), (2, 3)]);
    }
}
