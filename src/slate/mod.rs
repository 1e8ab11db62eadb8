//! The slate: the sheet of a take, kept in a file beside the recipe, the stamps on what was made of a sheet, and what has
//! become untrue of either since.
//! Must not know how files are read, written or named on a command line.

mod asked;
mod codes;
mod correction;
mod drift;
mod shift;
mod stamp;
mod statement;

pub use asked::Asked;
pub use codes::ALL as CODES;
pub use correction::{Correction, Section, correction, sections};
pub use drift::{Change, changes};
pub use shift::{Shift, shifts};
pub use stamp::{Drawing, NoteStamp, STAMP_KEY, Stamp};
pub use statement::{Rank, Statement, Topic, statements};

use crate::diag::{Diagnostic, Findings};
use crate::model::Frame;
use crate::sheet::{Broken, Sheet, seal, thaw};
use crate::source::read_toml;
use crate::span::{SourceId, Span, Texts};
use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use toml::Table;

/// The one form of slate that this program reads and writes.
const SCHEMA: &str = "slate/1";
/// The program's version.
pub const VERSION: &str = env!("CARGO_PKG_VERSION");

/// What was filmed: the sheet, what was asked for it, and what its cards were drawn with.
#[derive(Clone, Debug)]
pub struct Slate {
    /// Everything but the sheet.
    pub take: Take,
    /// The figures of the take.
    pub sheet: Sheet,
}

/// The take, apart from its figures.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub struct Take {
    /// The day it was filmed: ISO 8601.
    pub day: String,
    /// The program's version.
    pub version: String,
    /// The theme's name.
    pub theme: String,
    /// A digest of the theme's files.
    pub theme_digest: String,
    /// The locale that figures were written in: BCP 47.
    pub locale: String,
    /// The language of the wording: ISO 639.
    pub language: String,
    /// What it cost, exactly: a decimal in the currency's major unit.
    pub total: String,
    /// What was asked of the recipe.
    #[serde(default)]
    pub asked: Asked,
    /// The frames that cards were drawn for.
    pub frames: Vec<FrameTaken>,
}

/// A frame, and a digest of the cards drawn for it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct FrameTaken {
    /// The frame.
    pub frame: Frame,
    /// A digest of its cards, every byte of them.
    pub cards: String,
}

#[derive(Serialize)]
struct Written<'a> {
    schema: &'static str,
    digest: &'a str,
    #[serde(flatten)]
    take: &'a Take,
    sheet: &'a Sheet,
}

impl Slate {
    /// The file: TOML that a person can read, with a digest over all it holds.
    pub fn text(&self) -> String {
        let written = |digest: &str| {
            let file = Written { schema: SCHEMA, digest, take: &self.take, sheet: &self.sheet };
            toml::to_string(&file).expect("a sheet is texts, lists and tables")
        };
        let unsealed: Table = written("").parse().expect("what was written reads back");
        format!(
            "# What was filmed of `{}` on {}. The digest covers everything below: a change by hand breaks it.\n{}",
            self.sheet.recipe,
            self.take.day,
            written(&seal(&unsealed))
        )
    }

    /// Reads a slate back. What is wrong with it goes to `findings`, with its place.
    pub fn read(source: SourceId, texts: &Texts, findings: &mut Findings) -> Option<Self> {
        let text = texts.get(source)?;
        let mut found = Findings::new();
        let tree = read_toml(source, &text.content, 0..text.content.len(), &mut found);
        if found.has_errors() {
            findings.extend(found);
            return None;
        }
        let place = |key: &str| tree.get(key).map_or(Span::new(source, 0, 0), |value| value.span);
        let mut blame = |code, key: &str, why: String, hint: &str| {
            let message = format!("`{}` can't be relied on: {why}", text.path);
            findings.push(Diagnostic::error(code, place(key), message).hint(hint));
            None
        };
        const FOREIGN: &str = "a slate is written by `tallyspoon slate` and by nobody else: move the file away";
        // What is TOML may still hold a number that no word of the machine does.
        let table = match text.content.trim_start_matches('\u{feff}').parse::<Table>() {
            Ok(table) => table,
            Err(why) => return blame(codes::SLATE_UNREADABLE, "", why.message().to_owned(), FOREIGN),
        };
        match table.get("schema").and_then(toml::Value::as_str) {
            Some(SCHEMA) => {}
            Some(other) => {
                let why = format!("its form is `{other}`, this program reads `{SCHEMA}`");
                return blame(codes::SLATE_UNREADABLE, "schema", why, "read it with the program that wrote it");
            }
            None => return blame(codes::SLATE_UNREADABLE, "", "it is no slate".to_owned(), FOREIGN),
        }
        let sheet = match thaw(&table) {
            Ok(sheet) => sheet,
            Err(broken @ Broken::Changed(..)) => {
                let why = format!("it was changed after it was taken ({broken})");
                let hint = "put back the file as it was written; what was filmed can't be told from this one";
                return blame(codes::SLATE_CHANGED, "digest", why, hint);
            }
            Err(broken @ Broken::Unsealed) => {
                return blame(codes::SLATE_UNREADABLE, "schema", broken.to_string(), FOREIGN);
            }
            Err(broken @ Broken::Unknown(_)) => {
                let hint = "read it with the program that wrote it, or take a new slate";
                return blame(codes::SLATE_UNREADABLE, "sheet", broken.to_string(), hint);
            }
        };
        match table.try_into::<Take>() {
            Ok(take) => Some(Self { take, sheet }),
            Err(why) => blame(codes::SLATE_UNREADABLE, "schema", why.message().to_owned(), FOREIGN),
        }
    }
}

/// The name of a slate's file for the day of the take: `2026-03-02`, and `2026-03-02-2` for the second of that day.
pub fn file_stem(day: Date, take: usize) -> String {
    if take < 2 { day.to_string() } else { format!("{day}-{take}") }
}
