//! Scripts in Markdown: the words that are read aloud, without the marks. Must not know what a word means.

use super::build::Builder;
use super::lines::Lines;
use super::{Break, Cue};
use pulldown_cmark::{Event, HeadingLevel, Options, Parser, Tag, TagEnd};
use std::ops::Range;

/// Whether a text has what only Markdown has: front matter, or a heading.
pub(super) fn is_markdown(text: &str) -> bool {
    body(text).is_some() || Lines::behind_mark(text).any(|line| is_heading(&text[line]))
}

fn is_heading(line: &str) -> bool {
    let level = line.bytes().take_while(|b| *b == b'#').count();
    (1..=6).contains(&level) && line[level..].starts_with([' ', '\t'])
}

/// Reads any text; what stands in front matter, comments, code blocks or is struck out is not said.
pub(super) fn read(text: &str, builder: &mut Builder<'_>) {
    let base = body(text).unwrap_or(0);
    let mut silent = 0_usize;
    let options = Options::ENABLE_TABLES | Options::ENABLE_STRIKETHROUGH;
    for (event, at) in Parser::new_ext(&text[base..], options).into_offset_iter() {
        let range = base + at.start..base + at.end;
        match event {
            Event::Start(tag) => match tag {
                Tag::Heading { level, .. } => paragraph(range, Some(level), builder),
                Tag::Paragraph | Tag::Item => paragraph(range, None, builder),
                Tag::TableHead | Tag::TableRow => builder.separate(Break::Paragraph),
                Tag::TableCell => {
                    let text = builder.span(range);
                    let cell = Cue { id: None, start: None, end: None, text, heading: None };
                    builder.begin_behind(Break::Cell, cell);
                }
                Tag::CodeBlock(_) | Tag::HtmlBlock | Tag::Strikethrough | Tag::Image { .. } => silent += 1,
                _ => {}
            },
            Event::End(TagEnd::CodeBlock | TagEnd::HtmlBlock | TagEnd::Strikethrough | TagEnd::Image) => silent -= 1,
            Event::Text(said) | Event::Code(said) if silent == 0 => run(text, &said, range, builder),
            Event::End(TagEnd::TableHead | TagEnd::TableRow) => builder.separate(Break::Paragraph),
            Event::SoftBreak | Event::HardBreak => builder.separate(Break::Line),
            Event::Rule => builder.separate(Break::Paragraph),
            _ => {}
        }
    }
}

fn paragraph(range: Range<usize>, level: Option<HeadingLevel>, builder: &mut Builder<'_>) {
    let text = builder.span(range);
    builder.begin(Cue { id: None, start: None, end: None, text, heading: level.map(|level| level as u8) });
}

/// Text as it is displayed; where it was written otherwise, all of it stands for each character.
fn run(text: &str, said: &str, range: Range<usize>, builder: &mut Builder<'_>) {
    match text[range.clone()].find(said) {
        Some(offset) => builder.text(said, range.start + offset),
        None => said.chars().for_each(|c| builder.character(c, range.clone())),
    }
}

/// Where the text starts behind front matter between two lines `+++` or `---`.
fn body(text: &str) -> Option<usize> {
    let mut lines = Lines::behind_mark(text);
    let fence = lines.next().map(|line| text[line].trim_end()).filter(|line| matches!(*line, "+++" | "---"))?;
    lines.by_ref().find(|line| text[line.clone()].trim_end() == fence)?;
    Some(lines.at)
}
