//! Writes a finding for a terminal: place, code, message, the source line with a marker, and what to do.
//! Must not know what a recipe is.

use super::{Diagnostic, Severity};
use crate::span::{Span, Text, Texts};
use annotate_snippets::{AnnotationKind, Group, Level, Origin, Renderer, Snippet, Title};

/// How a finding is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Style {
    /// Letters only: for files, pipes and tests.
    Plain,
    /// With terminal colours.
    Coloured,
}

/// The most characters of a source line that are shown.
const LINE_LIMIT: usize = 160;
/// A line is shown up to this byte of it: beyond, no line was written by hand, and a thousand findings would each copy it.
const SHOWN_BYTES: usize = 4_096;

/// A finding as several lines without a trailing line break.
pub fn render(finding: &Diagnostic, texts: &Texts, style: Style) -> String {
    let level = match finding.severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
    };
    let title = level.primary_title(sanitise(&finding.message)).id(finding.code);
    let mut group = placed(title, finding, texts);
    if let Some(hint) = &finding.hint {
        group = group.element(Level::HELP.message(sanitise(hint)));
    }
    let renderer = match style {
        Style::Plain => Renderer::plain(),
        Style::Coloured => Renderer::styled(),
    };
    renderer.term_width(LINE_LIMIT + 40).render(&[group])
}

/// A finding as one line: `path:line:column: error[code]: message; what to do`.
pub fn one_line(finding: &Diagnostic, texts: &Texts) -> String {
    let place = finding.span.map_or(String::new(), |span| {
        let place = texts.place(span);
        format!("{}:{}:{}: ", sanitise(&place.path), place.line, place.column)
    });
    let severity = match finding.severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
    };
    let hint = finding.hint.as_ref().map_or(String::new(), |hint| format!("; {hint}"));
    let text = format!("{}{hint}", finding.message);
    format!("{place}{severity}[{}]: {}", finding.code, sanitise(&text))
}

/// Text that can't steer a terminal: control characters and direction overrides as visible marks.
pub fn sanitise(text: &str) -> String {
    text.chars().map(visible).collect()
}

/// Whether a character steers what shows it: a control character that is no white space, or one that turns the
/// direction of what follows (Unicode Standard Annex 9).
pub fn steers(c: char) -> bool {
    c.is_control() && !matches!(c, '\t' | '\n' | '\r') || matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

fn visible(c: char) -> char {
    match c {
        '\n' | '\t' => ' ',
        // The control pictures stand at the same offset from U+2400.
        '\0'..='\u{1f}' => char::from_u32(0x2400 + c as u32).unwrap_or('\u{fffd}'),
        '\u{7f}' => '\u{2421}',
        // Marks of a direction turn only what stands right beside them, but are not seen either.
        '\u{61c}' | '\u{200e}' | '\u{200f}' => '\u{fffd}',
        _ if steers(c) => '\u{fffd}',
        _ => c,
    }
}

/// The part of a line that is shown, made safe, with the marked bytes in it.
struct Excerpt {
    line: String,
    mark: std::ops::Range<usize>,
}

impl Excerpt {
    fn of(text: &Text, line: usize, span: Span) -> Self {
        let range = text.line_range(line);
        let content = text.content[range.clone()].trim_start_matches('\u{feff}');
        let skipped = range.len() - content.len();
        let from = span.start.saturating_sub(range.start + skipped).min(content.len());
        let to = span.end.saturating_sub(range.start + skipped).clamp(from, content.len());
        let (before, rest) = split_at_boundary(content, from);
        let (marked, after) = split_at_boundary(rest, to.saturating_sub(before.len()));
        let marked: String = marked.chars().take(LINE_LIMIT / 2).collect();
        let after: String = after.chars().take(LINE_LIMIT / 2).collect();
        let (before, marked, after) = (sanitise(before), sanitise(&marked), sanitise(&after));
        let mark = before.len()..before.len() + marked.len();
        Self { line: format!("{before}{marked}{after}"), mark }
    }
}

fn split_at_boundary(text: &str, at: usize) -> (&str, &str) {
    let mut at = at.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    text.split_at(at)
}

/// A title with the place and the excerpt below it, where there is a place.
fn placed<'a>(title: Title<'a>, finding: &Diagnostic, texts: &Texts) -> Group<'a> {
    let group = Group::with_title(title);
    let Some((span, text)) = finding.span.and_then(|span| Some((span, texts.get(span.source)?))) else {
        return group;
    };
    let place = texts.place(span);
    if span.start.saturating_sub(text.line_range(place.line).start) > SHOWN_BYTES {
        return group.element(Origin::path(sanitise(&place.path)).line(place.line).char_column(place.column));
    }
    let excerpt = Excerpt::of(text, place.line, span);
    let snippet = Snippet::source(excerpt.line)
        .path(sanitise(&place.path))
        .line_start(place.line)
        .annotation(AnnotationKind::Primary.span(excerpt.mark));
    group.element(snippet)
}
/// "1 error", "2 errors".
pub fn counted(count: usize, name: &str) -> String {
    let plural = if count == 1 { "" } else { "s" };
    format!("{count} {name}{plural}")
}
