//! Reads a channel's sources into checked entries. Everything wrong is found in one go.
//! Must not know yields or outputs.

mod bounds;
mod brace;
mod channel;
mod compare;
mod compound;
mod dates;
mod diet;
mod energy;
mod field;
mod fry;
mod import;
mod lines;
mod makes;
mod method;
mod money;
mod numerals;
mod pantry;
mod prices;
mod quantity;
mod recipe;
mod sizing;
mod translation;
mod typed;
mod variant;
mod video;

pub use dates::amiss_in;
pub use import::{Import, Imported, Order, import};
pub use numerals::Decimal;
pub use prices::{Written, append};
pub use quantity::meant_unit;

use super::{Channel, Pantry, PriceBook, Recipe, codes};
use crate::diag::{Diagnostic, Findings};
use crate::exact::Measures;
use crate::source::Sources;
use crate::span::Span;
use rayon::prelude::*;

/// What a run may ask for beside what the sources say.
#[derive(Clone, Debug, Default)]
pub struct Options {
    /// The language of this run, such as `fr`; by default the channel's.
    pub language: Option<String>,
}

/// A channel's checked entries.
#[derive(Clone, Debug)]
pub struct Content {
    /// The channel.
    pub channel: Channel,
    /// The pantry.
    pub pantry: Pantry,
    /// The price book.
    pub prices: PriceBook,
    /// The recipes by folder name.
    pub recipes: Vec<Recipe>,
}

impl Content {
    /// The recipe of that folder name.
    pub fn recipe(&self, id: &str) -> Option<&Recipe> {
        self.recipes.iter().find(|recipe| recipe.id == id)
    }
}

/// Which words are wanted.
#[derive(Clone, Debug)]
struct Languages {
    /// The language of this run.
    run: String,
    /// The language in which `pantry.toml` and `recipe.md` are written.
    own: String,
}

/// What every reader of a recipe needs to know.
struct Kitchen<'a> {
    measures: Measures,
    languages: &'a Languages,
    pantry: &'a Pantry,
}

/// What prices are of, without the recipes.
#[derive(Clone, Debug)]
pub struct Book {
    /// The channel.
    pub channel: Channel,
    /// The pantry.
    pub pantry: Pantry,
    /// The price book.
    pub prices: PriceBook,
}

/// Reads the channel, its pantry and its price book, and no recipe. They are there exactly if no finding is an error.
pub fn load_book(sources: &Sources, options: &Options) -> (Option<Book>, Findings) {
    let mut findings = sources.findings.clone();
    let (channel, languages, measures) = channel::read(sources, options, &mut findings);
    let (pantry, prices) = book(sources, channel.as_ref(), &languages, measures, &mut findings);
    let book = channel.map(|channel| Book { channel, pantry, prices });
    (book.filter(|_| !findings.has_errors()), findings)
}

fn book(
    sources: &Sources,
    channel: Option<&Channel>,
    languages: &Languages,
    measures: Measures,
    findings: &mut Findings,
) -> (Pantry, PriceBook) {
    let pantry = pantry::read(sources, languages, measures, findings);
    let mut prices = prices::read(sources, &pantry, measures, findings);
    prices.offers = channel.map_or_else(Default::default, |channel| channel.offers);
    (pantry, prices)
}

/// Reads everything. The entries are there exactly if no finding is an error.
pub fn load(sources: &Sources, options: &Options) -> (Option<Content>, Findings) {
    let mut findings = sources.findings.clone();
    let (channel, languages, measures) = channel::read(sources, options, &mut findings);
    let (pantry, prices) = book(sources, channel.as_ref(), &languages, measures, &mut findings);
    let kitchen = Kitchen { measures, languages: &languages, pantry: &pantry };
    let read = sources.recipes().par_iter().map(|id| {
        let mut findings = Findings::new();
        (recipe::read(sources, id, &kitchen, &mut findings), findings)
    });
    let mut recipes = Vec::new();
    for (recipe, found) in read.collect::<Vec<_>>() {
        recipes.extend(recipe);
        findings.extend(found);
    }
    if let (true, Some((id, _))) = (sources.recipes().is_empty(), sources.file("channel.toml")) {
        let finding = Diagnostic::error(codes::NO_RECIPES, Span::new(id, 0, 0), "the channel has no recipe");
        findings.push(finding.hint("make a folder beside `channel.toml` with a `recipe.md` in it"));
    }
    let content = match channel {
        Some(channel) if !findings.has_errors() => Some(Content { channel, pantry, prices, recipes }),
        Some(_) | None => None,
    };
    (content, findings)
}
