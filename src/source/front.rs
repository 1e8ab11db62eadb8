//! Splits a text into its `+++` front matter and its body, both with their place in the file.
//! Must not know what is in either.

use super::codes;
use crate::diag::{Diagnostic, Findings};
use crate::span::{SourceId, Span};

/// Front matter and body as ranges of bytes of the file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FrontMatter {
    /// What stands between the two `+++` lines.
    pub head: std::ops::Range<usize>,
    /// What follows the second.
    pub body: std::ops::Range<usize>,
}

/// Finds the front matter; `None`, with a finding, where there is none or it has no end.
pub fn split_front_matter(source: SourceId, text: &str, findings: &mut Findings) -> Option<FrontMatter> {
    let start = if text.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 };
    let mut lines = Lines { text, at: start };
    let first = lines.by_ref().find(|range| !text[range.clone()].trim().is_empty());
    let Some(open) = first.filter(|range| is_fence(&text[range.clone()])) else {
        findings.push(
            Diagnostic::error(codes::NO_FRONT_MATTER, Span::new(source, start, start), "no front matter")
                .hint("start the file with a line `+++`, the formula, and a second line `+++`"),
        );
        return None;
    };
    let head_start = lines.at;
    for line in lines.by_ref() {
        if is_fence(&text[line.clone()]) {
            let body = line.end..text.len();
            return Some(FrontMatter { head: head_start..line.start, body });
        }
    }
    let mark = open.start..open.start + 3;
    findings.push(
        Diagnostic::error(
            codes::UNCLOSED_FRONT_MATTER,
            Span::new(source, mark.start, mark.end),
            "the front matter that opens here is never closed",
        )
        .hint("end it with a second line `+++` before the method"),
    );
    None
}

fn is_fence(line: &str) -> bool {
    line.trim_end() == "+++"
}

/// Lines with their endings, as byte ranges.
struct Lines<'t> {
    text: &'t str,
    at: usize,
}

impl Iterator for Lines<'_> {
    type Item = std::ops::Range<usize>;
    fn next(&mut self) -> Option<Self::Item> {
        let rest = self.text.get(self.at..).filter(|rest| !rest.is_empty())?;
        let end = rest.find('\n').map_or(self.text.len(), |at| self.at + at + 1);
        let line = self.at..end;
        self.at = end;
        Some(line)
    }
}
