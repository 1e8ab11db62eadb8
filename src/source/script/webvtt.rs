//! WebVTT by the parser of the W3C's specification (https://www.w3.org/TR/webvtt1/, sections 6.1, 6.3 and 6.4).
//! Settings, regions and styles are skipped: they say where and how words are shown, never which.

use super::build::Builder;
use super::entity::reference;
use super::lines::Lines;
use super::read::Complaints;
use super::{Break, Cue, Millis};
use std::ops::Range;

/// The first line of captions in WebVTT starts so.
const SIGNATURE: &str = "WEBVTT";

/// Whether a text is WebVTT: the signature and then nothing, a space, a tab or a line's end.
pub(super) fn is_webvtt(text: &str) -> bool {
    let rest = text.strip_prefix('\u{feff}').unwrap_or(text).strip_prefix(SIGNATURE);
    rest.is_some_and(|rest| rest.is_empty() || rest.starts_with([' ', '\t', '\n', '\r']))
}

/// Reads a text that [`is_webvtt`].
pub(super) fn read(text: &str, builder: &mut Builder<'_>, complaints: &mut Complaints<'_>) {
    let mut lines = Lines::from(text, 0);
    lines.next();
    let mut voice = "";
    let mut block = Block { text, lines, in_header: true };
    // Without a line between them, what follows the first line is a header, and not a cue.
    let after = block.lines;
    if block.lines.next().is_some_and(|line| !line.is_empty()) {
        block.lines = after;
        block.collect(complaints);
    }
    block.in_header = false;
    while block.lines.at < text.len() {
        let start = block.lines;
        if block.lines.next().is_none_or(|line| line.is_empty()) {
            continue;
        }
        block.lines = start;
        if let Some(cue) = block.collect(complaints) {
            cue_of(text, &cue, &mut voice, builder);
        }
    }
}

/// A cue's parts as bytes of the text.
struct RawCue {
    id: Option<Range<usize>>,
    start: Millis,
    end: Millis,
    text: Range<usize>,
}

/// Lines up to a blank one, or to a line with an arrow that starts the next block.
struct Block<'t> {
    text: &'t str,
    lines: Lines<'t>,
    in_header: bool,
}

impl Block<'_> {
    /// "Collect a WebVTT block".
    fn collect(&mut self, complaints: &mut Complaints<'_>) -> Option<RawCue> {
        let (mut count, mut seen_arrow) = (0, false);
        let mut cue: Option<RawCue> = None;
        let mut first: Option<Range<usize>> = None;
        loop {
            let before = self.lines;
            let Some(line) = self.lines.next() else { break };
            count += 1;
            let content = &self.text[line.clone()];
            if content.contains("-->") {
                if self.in_header || count > 2 || seen_arrow {
                    self.lines = before;
                    break;
                }
                seen_arrow = true;
                match times(content) {
                    Some((start, end)) => {
                        let at = self.lines.at;
                        if end < start {
                            complaints.backwards(line);
                        }
                        cue = Some(RawCue { id: first.take(), start, end, text: at..at });
                    }
                    None => complaints.times(line),
                }
            } else if content.is_empty() {
                break;
            } else {
                match &mut cue {
                    Some(cue) => cue.text.end = line.end,
                    None => first = first.or(Some(line)),
                }
            }
        }
        cue
    }
}

/// "Collect WebVTT cue timings and settings", without the settings.
fn times(line: &str) -> Option<(Millis, Millis)> {
    let skip = |text: &'_ str| text.len() - text.trim_start_matches([' ', '\t', '\u{c}']).len();
    let line = &line[skip(line)..];
    let (start, rest) = Millis::webvtt(line)?;
    let rest = rest[skip(rest)..].strip_prefix("-->")?;
    let (end, _) = Millis::webvtt(&rest[skip(rest)..])?;
    Some((start, end))
}

fn cue_of<'t>(text: &'t str, raw: &RawCue, voice: &mut &'t str, builder: &mut Builder<'_>) {
    builder.begin(Cue {
        id: raw.id.clone().map(|id| builder.span(id)),
        start: Some(raw.start),
        end: Some(raw.end),
        text: builder.span(raw.text.clone()),
        heading: None,
    });
    let mut at = raw.text.start;
    while let Some(c) = text[at..raw.text.end].chars().next() {
        let rest = &text[at..raw.text.end];
        let mut length = c.len_utf8();
        match c {
            '\n' | '\r' => builder.separate(Break::Line),
            '\0' => builder.character('\u{fffd}', at..at + 1),
            '<' => {
                length = rest.find('>').map_or(rest.len(), |end| end + 1);
                tag(rest[1..length].trim_end_matches('>'), voice, builder);
            }
            '&' => match reference(rest) {
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

/// What a tag says: a time, or who speaks. Any other is the look of what it holds.
fn tag<'t>(content: &'t str, voice: &mut &'t str, builder: &mut Builder<'_>) {
    if content.starts_with(|c: char| c.is_ascii_digit()) {
        if let Some((time, "")) = Millis::webvtt(content) {
            builder.stamp(time);
        }
        return;
    }
    let name_end = content.find(['.', ' ', '\t', '\u{c}', '\n', '\r']).unwrap_or(content.len());
    match &content[..name_end] {
        "v" => {
            let annotation = content.find([' ', '\t', '\u{c}', '\n', '\r']).map_or("", |at| content[at..].trim());
            if *voice != annotation {
                builder.separate(Break::Speaker);
                *voice = annotation;
            }
        }
        // No tag of WebVTT, and players leave it out; whoever wrote it meant a new line.
        "br" | "br/" => builder.separate(Break::Line),
        _ => {}
    }
}
