//! Scripts in plain text: paragraphs between blank lines. Must not know what a heading is.

use super::build::Builder;
use super::lines::Lines;
use super::{Break, Cue};

/// Reads any text.
pub(super) fn read(text: &str, builder: &mut Builder<'_>) {
    let mut fresh = true;
    for line in Lines::behind_mark(text) {
        let content = &text[line.clone()];
        if content.trim().is_empty() || is_clock(content.trim()) {
            fresh = true;
            continue;
        }
        let marker = list_marker(content);
        if fresh || marker > 0 {
            let text = builder.span(line.clone());
            builder.begin(Cue { id: None, start: None, end: None, text, heading: None });
        } else {
            builder.separate(Break::Line);
        }
        builder.extend_cue(line.end);
        builder.text(&content[marker..], line.start + marker);
        fresh = false;
    }
}

/// Whether a line is nothing but a time such as `1:05` or `[00:12]`: transcripts have them between the lines.
fn is_clock(line: &str) -> bool {
    let line = line.trim_matches(['[', ']', '(', ')']);
    line.contains(':')
        && line.len() <= 12
        && line
            .split([':', '.', ','])
            .all(|part| (1..=3).contains(&part.len()) && part.bytes().all(|b| b.is_ascii_digit()))
}

/// The bytes of a list's mark at the start of a line: `-`, `*`, `•`, or a number with a point or a bracket before a word.
fn list_marker(line: &str) -> usize {
    let start = line.len() - line.trim_start_matches([' ', '\t']).len();
    let rest = &line[start..];
    let digits = rest.bytes().take_while(u8::is_ascii_digit).count();
    let mark = match rest[digits..].chars().next() {
        Some(c @ ('-' | '*' | '•' | '–')) if digits == 0 => c.len_utf8(),
        Some('.' | ')') if (1..=2).contains(&digits) => digits + 1,
        _ => return 0,
    };
    let after = rest[mark..].strip_prefix([' ', '\t']).map(str::trim_start);
    let is_marker = after.is_some_and(|after| digits == 0 || after.starts_with(char::is_alphabetic));
    if is_marker { start + mark } else { 0 }
}
