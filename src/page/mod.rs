//! The web pages: one a recipe and an index, each a single file that fetches nothing. A page shows the sheet as written
//! and works so without its script; with it, it cuts any yield from the recipe's pattern.
//! Must not know cards, notes or the disk, and adds no number of its own.

mod feed;
mod linked;
mod script;
mod video;

pub use feed::{FEED, SITEMAP, site_files};

use crate::cue::CueSheet;
use crate::locale::Key;
use crate::model::Video;
use crate::sheet::{Figure, Sheet};
use crate::slate::Section;
use crate::template::{Escape, Fault, Voice};
use jiff::civil::Date;
use minijinja::value::Serde;
use minijinja::{Value, context};
use rayon::prelude::*;
use std::collections::BTreeMap;

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
    /// What its page knows beyond them.
    pub companion: Option<&'a Companion>,
}

impl Entry<'_> {
    /// Its address below the site: its folder.
    fn place(&self) -> &str {
        self.href.strip_suffix(FILE).unwrap_or(self.href)
    }
}

/// What is beside a recipe's page, relative to it.
#[derive(Clone, Copy, Debug, Default)]
pub struct Beside<'a> {
    /// The index.
    pub home: Option<&'a str>,
    /// A picture of the recipe to share; named in the page's data, never fetched by it.
    pub picture: Option<&'a str>,
    /// The cues of its video.
    pub cues: Option<&'a CueSheet>,
    /// What else it knows.
    pub companion: Option<&'a Companion>,
    /// The pattern that any yield is cut from, as JSON; without it the page stays at the written yield.
    pub pattern: Option<&'a str>,
}

/// What a page knows beyond the sheet of the written yield.
#[derive(Clone, Debug)]
pub struct Companion {
    /// Where the channel's pages will be: an address that ends with a slash.
    pub site: Option<String>,
    /// The recipe's video.
    pub video: Option<Video>,
    /// What the video states that is no longer so.
    pub correction: Option<Corrected>,
}

/// What a video states that is no longer so.
#[derive(Clone, Debug)]
pub struct Corrected {
    /// The day it was filmed.
    pub filmed: Figure,
    /// The day of the correction.
    pub shown: Figure,
    /// The same as a date.
    pub day: Date,
    /// What changed, topic by topic.
    pub sections: Vec<Section>,
}

impl Companion {
    /// The last day that anything of the page is known to have changed.
    pub fn changed(&self) -> Option<Date> {
        let published = self.video.as_ref().map(|video| video.published);
        published.into_iter().chain(self.correction.as_ref().map(|correction| correction.day)).max()
    }
}

/// The page of a recipe.
///
/// # Errors
/// [`Fault`] where the channel's own template is malformed.
pub fn page(sheet: &Sheet, voice: &Voice<'_>, beside: Beside<'_>) -> Result<String, Fault> {
    let known = beside.companion;
    let film = known.and_then(|known| known.video.as_ref()).map(|video| video::film(video, sheet, beside.cues, voice));
    let address = known.and_then(|known| known.site.as_ref()).map(|site| format!("{site}{}/", sheet.recipe));
    let picture = beside.picture.map(|picture| match &address {
        Some(address) => format!("{address}{picture}"),
        None => picture.to_owned(),
    });
    let about = linked::About { sheet, voice, address: address.as_deref(), picture: picture.as_deref() };
    let feed = known.filter(|known| known.site.is_some() && known.video.is_some());
    let context = context! {
        sheet => Value::from(Serde(sheet)),
        home => beside.home,
        picture => address.as_ref().and(picture.as_ref()),
        address => address.as_deref(),
        feed => feed.and(beside.home).and_then(|home| home.strip_suffix(FILE)).map(|root| format!("{root}{FEED}")),
        film => film.as_ref().map(|film| Value::from(Serde(film))),
        correction => known.and_then(|known| known.correction.as_ref()).map(|c| context! {
            filmed => Value::from(Serde(&c.filmed)), shown => Value::from(Serde(&c.shown)), day => c.day.to_string(),
            sections => Value::from(Serde(&c.sections)),
        }),
        pattern => beside.pattern.map(|pattern| Value::from_safe_string(data(pattern, voice))),
        script => Value::from_safe_string(script::script().to_owned()),
        style => Value::from_safe_string(STYLE.to_owned()),
        linked_data => Value::from_safe_string(linked::data(&about, film.as_ref())),
    };
    voice.render(PAGE_TEMPLATE, include_str!("templates/page.html"), Escape::Html, context)
}

/// What the script reads: the pattern, and the wording it fills.
fn data(pattern: &str, voice: &Voice<'_>) -> String {
    let words: BTreeMap<&str, &str> =
        script::WORDS.iter().map(|key: &Key| (key.id(), voice.locale.text(*key))).collect();
    inert(&format!("{{\"pattern\":{pattern},\"words\":{}}}", serde_json::json!(words)))
}

/// JSON that can stand in an element of HTML: no text in it closes or opens any.
fn inert(json: &str) -> String {
    json.replace('<', "\\u003c")
}

/// The index of a channel's pages, in the order given.
///
/// # Errors
/// [`Fault`] where the channel's own template is malformed.
pub fn index(channel: &str, entries: &[Entry<'_>], voice: &Voice<'_>) -> Result<String, Fault> {
    let entry = |entry: &Entry<'_>| context! { href => entry.href, sheet => Value::from(Serde(entry.sheet)) };
    let site = entries.iter().find_map(|entry| entry.companion?.site.as_ref());
    let fed = entries.iter().any(|entry| entry.companion.is_some_and(|known| known.video.is_some()));
    let context = context! {
        channel,
        address => site,
        feed => site.filter(|_| fed).map(|_| FEED),
        entries => entries.par_iter().map(entry).collect::<Vec<_>>(),
        style => Value::from_safe_string(STYLE.to_owned()),
    };
    voice.render(INDEX_TEMPLATE, include_str!("templates/index.html"), Escape::Html, context)
}
