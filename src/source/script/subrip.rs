//! SubRip captions, which no standard describes: a counter, a line with two times, lines of text, a blank line.
//! What is read here is what players read: times with a comma or a point, text with blank lines in it, tags in
//! angle brackets or braces. Settings and looks are skipped.

use super::build::Builder;
use super::entity::reference;
use super::lines::Lines;
use super::read::Complaints;
use super::{Break, Cue, Millis};
use std::ops::Range;

/// Whether any line of a text is one of two times.
pub(super) fn is_subrip(text: &str) -> bool {
    text.contains("-->") && Lines::behind_mark(text).any(|line| times(&text[line]).is_some())
}

/// A cue whose text is not yet ended.
struct Open {
    id: Option<Range<usize>>,
    start: Millis,
    end: Millis,
    text: Option<Range<usize>>,
}

/// Reads a text that [`is_subrip`].
pub(super) fn read(text: &str, builder: &mut Builder<'_>, complaints: &mut Complaints<'_>) {
    let mut open: Option<Open> = None;
    // The two lines before this one: a counter may be among them, or be the last line of a text.
    let mut last: Option<Range<usize>> = None;
    let mut text_before_last: Option<Range<usize>> = None;
    // Whether no blank line came after `last`, and the last counter there was. Where blank lines stand
    // everywhere, a counter is told from a text by its value.
    let (mut adjoins, mut counted) = (false, 0_u64);
    for line in Lines::behind_mark(text) {
        let content = &text[line.clone()];
        if let Some((start, end)) = times(content) {
            let id = last.take().filter(|last| {
                let number = counter(&text[last.clone()]);
                number.is_some() && (adjoins || number == counted.checked_add(1))
            });
            counted = id.as_ref().and_then(|id| counter(&text[id.clone()])).unwrap_or(counted);
            if let Some(mut cue) = open.take() {
                // The counter is no text of the cue before it.
                if id.is_some() {
                    cue.text = text_before_last.take();
                }
                cue_of(text, cue, builder);
            }
            if end < start {
                complaints.backwards(line.clone());
            }
            open = Some(Open { id, start, end, text: None });
            text_before_last = None;
            continue;
        }
        if content.contains("-->") {
            complaints.times(line.clone());
        }
        match &mut open {
            Some(cue) if !content.trim().is_empty() => {
                text_before_last = cue.text.clone();
                let start = cue.text.as_ref().map_or(line.start, |range| range.start);
                cue.text = Some(start..line.end);
                (last, adjoins) = (Some(line), true);
            }
            None if !content.trim().is_empty() => (last, adjoins) = (Some(line), true),
            Some(_) | None => adjoins = false,
        }
    }
    if let Some(cue) = open {
        cue_of(text, cue, builder);
    }
}

fn counter(line: &str) -> Option<u64> {
    let line = line.trim();
    line.parse().ok().filter(|_| line.bytes().all(|b| b.is_ascii_digit()))
}

/// The two times of a line; what follows them is where on the picture the text stands.
fn times(line: &str) -> Option<(Millis, Millis)> {
    let (start, rest) = Millis::subrip(line.trim_start())?;
    let (end, rest) = Millis::subrip(rest.trim_start().strip_prefix("-->")?.trim_start())?;
    (rest.is_empty() || rest.starts_with(char::is_whitespace)).then_some((start, end))
}

fn cue_of(text: &str, cue: Open, builder: &mut Builder<'_>) {
    let range = cue.text.unwrap_or(0..0);
    builder.begin(Cue {
        id: cue.id.map(|id| builder.span(id)),
        start: Some(cue.start),
        end: Some(cue.end),
        text: builder.span(range.clone()),
        heading: None,
    });
    let mut at = range.start;
    while let Some(c) = text[at..range.end].chars().next() {
        let rest = &text[at..range.end];
        let mut length = c.len_utf8();
        match c {
            '\n' | '\r' => builder.separate(Break::Line),
            '<' | '{' => match markup(rest) {
                Some(bytes) => {
                    length = bytes;
                    if rest.starts_with("<br") {
                        builder.separate(Break::Line);
                    }
                }
                None => builder.character(c, at..at + 1),
            },
            // `\N` is a new line where captions came from a format that has it.
            '\\' if rest.starts_with("\\N") => {
                builder.separate(Break::Line);
                length = 2;
            }
            '&' => match reference(rest).filter(|(_, bytes)| rest[..*bytes].ends_with(';')) {
                Some((decoded, bytes)) => {
                    length = bytes;
                    decoded.chars().for_each(|c| builder.character(c, at..at + bytes));
                }
                None => builder.character(c, at..at + 1),
            },
            _ => builder.character(c, at..at + length),
        }
        at += length;
    }
}

/// The longest tag that is looked for, in bytes.
const LONGEST_TAG: usize = 256;

/// The bytes of a tag such as `<i>`, `</font>` or `{\an8}`; `None` where it is a plain character.
fn markup(text: &str) -> Option<usize> {
    let bytes = text.as_bytes();
    let (opens, close) = match bytes.first()? {
        b'<' => (matches!(bytes.get(1)?, b'/' | b'a'..=b'z' | b'A'..=b'Z'), b'>'),
        _ => (bytes.get(1)? == &b'\\', b'}'),
    };
    let end = bytes.iter().take(LONGEST_TAG).position(|b| *b == close)?;
    (opens && !bytes[1..end].contains(&b'<')).then_some(end + 1)
}
