//! The price book of a channel, and purchases added to it. Must not know recipes.

use super::{Fault, Home};
use crate::diag::Findings;
use crate::model::{self, Book, Decimal, Import, Imported, Options, Written, append};
use crate::publish::replace;
use crate::source::{Sources, csv_line};
use crate::span::{SourceId, Texts};
use std::path::PathBuf;

const FILE: &str = "prices.csv";

/// A channel's book, and the texts it was read from.
pub struct Ledger {
    /// The texts.
    pub sources: Sources,
    /// The book.
    pub book: Book,
}

impl Ledger {
    /// Reads the book of a channel, and none of its recipes.
    ///
    /// # Errors
    /// A channel, pantry or book at fault.
    pub fn open(home: &Home) -> Result<Self, Fault> {
        let sources = Sources::read(&home.content);
        let (book, findings) = model::load_book(&sources, &Options { language: home.language.clone() });
        match book {
            Some(book) => Ok(Self { sources, book }),
            None => Err(Fault::Findings(findings, sources.texts)),
        }
    }

    /// Where the book stands.
    pub fn path(home: &Home) -> PathBuf {
        home.content.join(FILE)
    }

    /// The book's own text among the channel's.
    pub fn own(&self) -> Option<SourceId> {
        self.sources.file(FILE).map(|(id, _)| id)
    }

    /// What the book says now.
    pub fn own_text(&self) -> Option<&str> {
        self.sources.file(FILE).map(|(_, text)| text)
    }

    /// A typed purchase (day, item, pack, price, place, note), read as a shop's list of one line would be.
    ///
    /// # Errors
    /// Everything in it that is not understood, or a purchase that stands in the book already.
    pub fn typed(&self, fields: &Written) -> Result<Vec<Written>, Fault> {
        let lines = typed(&self.book, self.own(), self.sources.texts.clone(), fields)?;
        Ok(lines.into_iter().map(|imported| imported.line).collect())
    }

    /// The remark of a purchase, which says where it was on offer.
    pub fn note(offer: bool, note: &str) -> String {
        match (offer, note.trim()) {
            (true, "") => "on offer".to_owned(),
            (true, note) => format!("on offer, {note}"),
            (false, note) => note.to_owned(),
        }
    }

    /// The book's text with these lines at its end.
    ///
    /// # Errors
    /// A line that has a field which the book has no column for.
    pub fn with(&self, lines: &[Written]) -> Result<String, Fault> {
        append(self.own_text(), lines).map_err(|column| {
            Fault::Request(format!("`{FILE}` has no column `{column}`: add it to its header, or leave it out"))
        })
    }

    /// Adds lines at the end of the book, on disk.
    ///
    /// # Errors
    /// As for [`Ledger::with`], and a file that was changed meanwhile or can't be written.
    pub fn add(&self, home: &Home, lines: &[Written]) -> Result<(), Fault> {
        let after = self.with(lines)?;
        replace(&Self::path(home), self.own_text().map(str::as_bytes), after.as_bytes())
            .map_err(|findings| Fault::Findings(findings, self.sources.texts.clone()))
    }
}

/// A typed purchase (day, item, pack, price, place, note), checked as a line of the book, whose own text may be among `texts`.
pub(super) fn typed(
    book: &Book,
    own: Option<SourceId>,
    mut texts: Texts,
    fields: &Written,
) -> Result<Vec<Imported>, Fault> {
    let text = format!("date,item,pack,price,place,note\n{}\n", csv_line(fields.iter().map(String::as_str), ','));
    let id = texts.add("what is typed", text);
    let settings = Import { separator: Some(','), decimal: Some(Decimal::Point), typed: true, ..Import::default() };
    let mut findings = Findings::new();
    let lines = model::import(id, &settings, book, own, &texts, &mut findings);
    if findings.has_errors() {
        return Err(Fault::Request(findings.errors_in_words().join("\nerror: ")));
    }
    Ok(lines)
}
