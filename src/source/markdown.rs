//! Markdown as a flat list of blocks whose text knows its bytes. Must not know what a step or a brace is.
//!
//! A block quote ends with its last line that starts with `>`: the line after it is text again, without
//! a blank line between them (CommonMark would draw it into the quote).

use super::codes;
use crate::diag::{Diagnostic, Findings};
use crate::span::{SourceId, Span};
use pulldown_cmark::{Event, Options, Parser, Tag, TagEnd};
use std::ops::Range;

/// What a block is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BlockKind {
    /// A heading and its level, 1 to 6.
    Heading(u8),
    /// A paragraph in a block quote.
    Quote,
    /// A paragraph or a list item.
    Text,
}

/// A run of a block's text and where it was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chunk {
    /// The text, escapes resolved.
    pub text: String,
    /// Its bytes in the file.
    pub span: Span,
    /// Whether it is an escape or an entity: a brace in it is a plain one.
    pub literal: bool,
}

/// A block with its text.
#[derive(Clone, Debug)]
pub struct Block {
    /// What it is.
    pub kind: BlockKind,
    /// Its text in runs.
    pub chunks: Vec<Chunk>,
    /// Where it stands.
    pub span: Span,
}

/// Reads the Markdown at `range` of `text`.
pub fn read_markdown(source: SourceId, text: &str, range: Range<usize>, findings: &mut Findings) -> Vec<Block> {
    let mut blocks = Vec::new();
    for stretch in stretches(text, range) {
        let mut reader = BlockReader {
            source,
            text,
            base: stretch.start,
            findings,
            blocks: &mut blocks,
            open: None,
            quote: false,
            comment: false,
        };
        for (event, at) in Parser::new_ext(&text[stretch.clone()], Options::empty()).into_offset_iter() {
            reader.event(event, at);
        }
        reader.close();
    }
    blocks
}

/// Runs of lines that start with `>` and runs of lines that don't.
fn stretches(text: &str, range: Range<usize>) -> Vec<Range<usize>> {
    let mut found: Vec<(bool, Range<usize>)> = Vec::new();
    let mut at = range.start;
    while at < range.end {
        let end = text[at..range.end].find('\n').map_or(range.end, |offset| at + offset + 1);
        let line = &text[at..end];
        let quoted = line.trim_start_matches(' ').starts_with('>') && !line.starts_with("    ");
        match found.last_mut() {
            Some((same, run)) if *same == quoted => run.end = end,
            Some(_) | None => found.push((quoted, at..end)),
        }
        at = end;
    }
    found.into_iter().map(|(_, run)| run).collect()
}

struct BlockReader<'t> {
    source: SourceId,
    text: &'t str,
    base: usize,
    findings: &'t mut Findings,
    blocks: &'t mut Vec<Block>,
    open: Option<Block>,
    quote: bool,
    comment: bool,
}

impl BlockReader<'_> {
    fn event(&mut self, event: Event<'_>, at: Range<usize>) {
        let range = self.base + at.start..self.base + at.end;
        match event {
            Event::Start(tag) => self.start(&tag, range),
            Event::End(tag) => self.end(tag),
            Event::Text(text) | Event::Code(text) => self.run(&text, range),
            Event::SoftBreak | Event::HardBreak => self.run(" ", range),
            Event::Html(html) | Event::InlineHtml(html) => {
                if !self.comment && !html.trim_start().starts_with("<!--") {
                    self.refuse("raw HTML", range);
                }
            }
            // What follows it in the same list item is a block of its own.
            Event::Rule => self.close(),
            Event::InlineMath(_) | Event::DisplayMath(_) | Event::FootnoteReference(_) | Event::TaskListMarker(_) => {
                self.refuse("this", range);
            }
        }
    }

    fn start(&mut self, tag: &Tag<'_>, range: Range<usize>) {
        match tag {
            Tag::Heading { level, .. } => self.begin(BlockKind::Heading(*level as u8), range),
            Tag::Paragraph | Tag::Item => self.begin(self.kind(), range),
            Tag::BlockQuote(_) => {
                self.close();
                self.quote = true;
            }
            Tag::CodeBlock(_) => self.refuse("a code block", range),
            Tag::Image { .. } => self.refuse("a picture", range),
            // A comment is the author's own business, and says nothing to a viewer.
            Tag::HtmlBlock => {
                self.comment = self.text[range.clone()].trim_start().starts_with("<!--");
                if self.comment {
                    self.refuse_beside_comment(range);
                }
            }
            Tag::List(_) | Tag::Emphasis | Tag::Strong | Tag::Link { .. } => {}
            Tag::FootnoteDefinition(_)
            | Tag::DefinitionList
            | Tag::DefinitionListTitle
            | Tag::DefinitionListDefinition
            | Tag::Table(_)
            | Tag::TableHead
            | Tag::TableRow
            | Tag::TableCell
            | Tag::Strikethrough
            | Tag::Superscript
            | Tag::Subscript
            | Tag::MetadataBlock(_) => self.refuse("this", range),
        }
    }

    fn end(&mut self, tag: TagEnd) {
        match tag {
            TagEnd::Heading(_) | TagEnd::Paragraph | TagEnd::Item => self.close(),
            TagEnd::HtmlBlock => self.comment = false,
            TagEnd::BlockQuote(_) => {
                self.close();
                self.quote = false;
            }
            _ => {}
        }
    }

    fn kind(&self) -> BlockKind {
        if self.quote { BlockKind::Quote } else { BlockKind::Text }
    }

    fn begin(&mut self, kind: BlockKind, range: Range<usize>) {
        self.close();
        let span = Span::new(self.source, range.start, range.end);
        self.open = Some(Block { kind, chunks: Vec::new(), span });
    }

    fn close(&mut self) {
        if let Some(block) = self.open.take().filter(|block| !block.chunks.is_empty()) {
            self.blocks.push(block);
        }
    }

    fn run(&mut self, text: &str, range: Range<usize>) {
        let source = self.source;
        let written = &self.text[range.clone()];
        let escaped = self.text[..range.start].ends_with('\\');
        let found = if text == " " && written.trim().is_empty() { Some(0) } else { written.find(text) };
        let start = range.start + found.unwrap_or(0);
        let end = if found.is_some() { (start + text.len()).min(range.end.max(start)) } else { range.end };
        // Text of a tight list item has no paragraph of its own: behind a rule or a heading in it nothing is open.
        if self.open.is_none() && !text.trim().is_empty() {
            self.begin(self.kind(), range.clone());
        }
        let Some(block) = &mut self.open else { return };
        let mut push = |text: &str, start: usize, end: usize, literal: bool| {
            if !text.is_empty() {
                block.chunks.push(Chunk { text: text.to_owned(), span: Span::new(source, start, end), literal });
            }
        };
        let first = text.chars().next().map_or(0, char::len_utf8);
        if escaped && found == Some(0) {
            push(&text[..first], start, start + first, true);
            push(&text[first..], start + first, end, false);
        } else {
            push(text, start, end, found.is_none());
        }
    }

    /// A comment's HTML block goes on to the end of the line that it ends on, or of the text where it ends nowhere
    /// (CommonMark, HTML blocks, condition 2): whatever else stands there would be lost without a word.
    fn refuse_beside_comment(&mut self, range: Range<usize>) {
        let block = &self.text[range.clone()];
        let mut rest = block.trim_start();
        while rest.starts_with("<!--") {
            // The dashes that open it may be those that end it: `<!-->`.
            let Some(end) = rest[2..].find("-->") else {
                let span = Span::new(self.source, range.start, range.end);
                let finding = Diagnostic::error(codes::UNSUPPORTED_MARKUP, span, "this comment is never closed");
                let hint = "close it with `-->` above the next line that starts with `>`";
                self.findings.push(finding.hint(hint));
                return;
            };
            rest = rest[2 + end + "-->".len()..].trim_start();
        }
        let behind = rest.trim_end();
        if !behind.is_empty() {
            let start = range.end - rest.len();
            let span = Span::new(self.source, start, start + behind.len());
            let message = "text on the line of a comment is passed over with it";
            let finding = Diagnostic::error(codes::UNSUPPORTED_MARKUP, span, message);
            self.findings.push(finding.hint("put the comment on lines of its own"));
        }
    }

    fn refuse(&mut self, what: &str, range: Range<usize>) {
        let span = Span::new(self.source, range.start, range.end);
        self.findings.push(
            Diagnostic::error(codes::UNSUPPORTED_MARKUP, span, format!("{what} can't be put on a card"))
                .hint("write it as plain paragraphs, lists and block quotes"),
        );
    }
}
