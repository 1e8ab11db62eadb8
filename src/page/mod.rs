//! The web pages: one a recipe and an index, each a single file without scripts to run or anything to fetch.
//! Must not know cards, notes or the disk, and adds no number of its own.

mod linked;

use crate::sheet::Sheet;
use crate::template::{Escape, Fault, Voice};
use minijinja::value::Serde;
use minijinja::{Value, context};

/// The name of a recipe's page and of the index, each in its folder.
pub const FILE: &str = "index.html";
/// The name of a channel's own template for a recipe's page.
pub const PAGE_TEMPLATE: &str = "page.html";
/// The name of a channel's own template for the index.
pub const INDEX_TEMPLATE: &str = "index.html";

const STYLE: &str = include_str!("templates/style.css");

/// A recipe of the index.
#[derive(Clone, Copy, Debug)]
pub struct Entry<'a> {
    /// Where its page is, relative to the index.
    pub href: &'a str,
    /// Its figures.
    pub sheet: &'a Sheet,
}

/// What is beside a recipe's page, relative to it.
#[derive(Clone, Copy, Debug, Default)]
pub struct Beside<'a> {
    /// The index.
    pub home: Option<&'a str>,
    /// A picture of the recipe, such as its title card; named in the linked data, never fetched by the page.
    pub picture: Option<&'a str>,
}

/// The page of a recipe.
///
/// # Errors
/// [`Fault`] where the channel's own template is malformed.
pub fn page(sheet: &Sheet, voice: &Voice<'_>, beside: Beside<'_>) -> Result<String, Fault> {
    let context = context! {
        sheet => Value::from(Serde(sheet)),
        home => beside.home,
        style => Value::from_safe_string(STYLE.to_owned()),
        linked_data => Value::from_safe_string(linked::recipe(sheet, voice.locale.tag(), beside.picture)),
    };
    voice.render(PAGE_TEMPLATE, include_str!("templates/page.html"), Escape::Html, context)
}

/// The index of a channel's pages, in the order given.
///
/// # Errors
/// [`Fault`] where the channel's own template is malformed.
pub fn index(channel: &str, entries: &[Entry<'_>], voice: &Voice<'_>) -> Result<String, Fault> {
    let entry = |entry: &Entry<'_>| context! { href => entry.href, sheet => Value::from(Serde(entry.sheet)) };
    let context = context! {
        channel,
        entries => entries.iter().map(entry).collect::<Vec<_>>(),
        style => Value::from_safe_string(STYLE.to_owned()),
    };
    voice.render(INDEX_TEMPLATE, include_str!("templates/index.html"), Escape::Html, context)
}
