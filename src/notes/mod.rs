//! The text to paste under a video or into a site: every figure of the sheet in words, from a template.
//! Must not know cards, pages or the disk, and adds no number of its own.

use crate::cue::Chapter;
use crate::locale::Key;
use crate::sheet::Sheet;
use crate::template::{Escape, Fault, Voice};
use minijinja::value::Serde;
use minijinja::{Value, context};

/// The most that a description holds: 5,000 bytes of UTF-8 (common practice of video platforms).
pub const MOST_BYTES: usize = 5_000;

/// What notes are written in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Format {
    /// A description: no markup, no `<` or `>`, at most [`MOST_BYTES`].
    Plain,
    /// CommonMark with tables.
    Markdown,
    /// A fragment of HTML for a page of one's own.
    Html,
}

impl Format {
    /// Every format with its name on the command line.
    pub const ALL: [(&'static str, Self); 3] =
        [("plain", Self::Plain), ("markdown", Self::Markdown), ("html", Self::Html)];

    /// The format of that name.
    pub fn parse(name: &str) -> Option<Self> {
        Self::ALL.iter().find(|(known, _)| *known == name).map(|(_, format)| *format)
    }

    /// Its name on the command line.
    pub fn name(self) -> &'static str {
        match self {
            Self::Plain => "plain",
            Self::Markdown => "markdown",
            Self::Html => "html",
        }
    }

    /// The file's name, as published and as a channel's own template of it is called.
    pub fn file(self) -> &'static str {
        match self {
            Self::Plain => "notes.txt",
            Self::Markdown => "notes.md",
            Self::Html => "notes.html",
        }
    }

    fn builtin(self) -> &'static str {
        match self {
            Self::Plain => include_str!("templates/notes.txt"),
            Self::Markdown => include_str!("templates/notes.md"),
            Self::Html => include_str!("templates/notes.html"),
        }
    }

    fn escape(self) -> Escape {
        match self {
            Self::Plain => Escape::Plain,
            Self::Markdown => Escape::Markdown,
            Self::Html => Escape::Html,
        }
    }
}

/// What a description can do without.
struct Section {
    /// Its name in a template's `shown`.
    name: &'static str,
    /// What names it where it is left out.
    wording: Key,
    /// Whether the sheet has anything to say in it.
    there: fn(&Sheet) -> bool,
}

const fn section(name: &'static str, wording: Key, there: fn(&Sheet) -> bool) -> Section {
    Section { name, wording, there }
}

/// Sections in the order that they are given up. What is not here always stays: every amount and percent,
/// the total, the piece price, allergens and the headings of cautions.
const SPARE: &[Section] = &[
    section("intro", Key::NotesIntro, |sheet| !sheet.intro.is_empty()),
    section("lines_cost", Key::NotesCostLines, |sheet| !sheet.cost.lines.is_empty()),
    section("totals", Key::Totals, |sheet| sheet.cost.with_energy.is_some() || sheet.cost.compare.is_some()),
    section("household", Key::NotesHousehold, |sheet| {
        sheet.parts.iter().flat_map(|part| &part.lines).any(|line| line.spoons().is_some())
    }),
    section("swaps", Key::NotesSwaps, |sheet| !sheet.variants.is_empty()),
    section("method", Key::NotesMethod, |sheet| !sheet.steps.is_empty()),
    section("cautions", Key::NotesCautions, |sheet| !sheet.cautions.is_empty()),
];

/// The notes of a sheet, with the video's chapters where it has some.
///
/// Plain notes leave out what doesn't fit, by name, and write `<` and `>` of the author's as `‹` and `›`.
///
/// # Errors
/// [`Fault`] where the channel's own template is malformed, or where even the formula, the cost and the
/// allergens alone pass [`MOST_BYTES`].
pub fn notes(sheet: &Sheet, chapters: &[Chapter], voice: &Voice<'_>, format: Format) -> Result<String, Fault> {
    match format {
        Format::Markdown | Format::Html => render(sheet, chapters, voice, format, 0),
        Format::Plain => fitted(sheet, chapters, voice, MOST_BYTES),
    }
}

/// The same with a last line of its own: what `stamp` says of the text above, one word that is no markup in any format.
///
/// # Errors
/// As for [`notes`]; the stamp takes its room from the text.
pub fn stamped(
    sheet: &Sheet,
    chapters: &[Chapter],
    voice: &Voice<'_>,
    format: Format,
    stamp: &dyn Fn(&str) -> String,
) -> Result<String, Fault> {
    let text = match format {
        Format::Markdown | Format::Html => notes(sheet, chapters, voice, format)?,
        Format::Plain => fitted(sheet, chapters, voice, MOST_BYTES.saturating_sub(stamp("").len() + 2))?,
    };
    let stamp = stamp(&text);
    Ok(match format {
        Format::Plain => format!("{text}\n{stamp}\n"),
        Format::Markdown => format!("{text}\n`{stamp}`\n"),
        Format::Html => format!("{text}<p><code>{stamp}</code></p>\n"),
    })
}

fn fitted(sheet: &Sheet, chapters: &[Chapter], voice: &Voice<'_>, most: usize) -> Result<String, Fault> {
    let mut least = 0;
    for given_up in 0..=SPARE.len() {
        let text = render(sheet, chapters, voice, Format::Plain, given_up)?.replace('<', "‹").replace('>', "›");
        least = text.len();
        if least <= most {
            return Ok(text);
        }
    }
    Err(Fault {
        template: Format::Plain.file().to_owned(),
        line: None,
        message: format!("the notes of `{}` need {least} bytes at the least, of {most}", sheet.recipe),
    })
}

/// Renders with the first `given_up` of [`SPARE`] left out and named.
fn render(
    sheet: &Sheet,
    chapters: &[Chapter],
    voice: &Voice<'_>,
    format: Format,
    given_up: usize,
) -> Result<String, Fault> {
    let (left_out, shown) = SPARE.split_at(given_up);
    let there = |section: &&Section| (section.there)(sheet);
    let context = context! {
        sheet => Value::from(Serde(sheet)),
        chapters => chapters.iter().map(|chapter| Value::from(Serde(chapter))).collect::<Vec<_>>(),
        shown => shown.iter().filter(there).map(|section| section.name).collect::<Vec<_>>(),
        left_out => left_out.iter().filter(there).map(|section| section.wording.id()).collect::<Vec<_>>(),
    };
    Ok(tidy(&voice.render(format.file(), format.builtin(), format.escape(), context)?))
}

/// Without spaces at line ends or more than one empty line at a time, closed by a line end.
fn tidy(text: &str) -> String {
    let mut tidy = String::with_capacity(text.len());
    let mut empty = 1;
    for line in text.lines().map(str::trim_end) {
        empty = if line.is_empty() { empty + 1 } else { 0 };
        if empty < 2 {
            tidy.push_str(line);
            tidy.push('\n');
        }
    }
    while tidy.ends_with("\n\n") {
        tidy.pop();
    }
    tidy
}
