//! Slates beside a recipe: those that are kept, a new one, and the channel as one was taken. Must not know what has become
//! untrue of them.

use super::channel::{Channel, no_such, open_speaking};
use super::decor::Decor;
use super::{Fault, Home};
use crate::diag::Findings;
use crate::publish::{Dish, Made, Put, Work, shelve};
use crate::sheet::digest;
use crate::slate::{Asked, FrameTaken, Slate, Take, VERSION, file_stem};
use crate::source::assets;
use crate::span::{Span, Spanned, Texts};
use jiff::civil::Date;
use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::Mutex;

/// The folder beside a recipe that holds its slates.
const FOLDER: &str = "slates";
/// So many takes a day are kept.
const TAKES: usize = 999;

/// A slate and its file's name without the ending.
pub struct Kept {
    /// The name.
    pub name: String,
    /// What it says.
    pub slate: Slate,
    /// Where the file starts.
    pub place: Span,
}

/// Every slate of a recipe by its file's name, the oldest first. What is wrong with one is a finding.
pub fn kept(home: &Home, recipe: &str, texts: &mut Texts, findings: &mut Findings) -> Vec<Kept> {
    let found = assets(&home.content, &format!("{recipe}/{FOLDER}"), texts, findings);
    let slates = found.into_iter().filter_map(|asset| {
        let name = asset.path.strip_suffix(".toml")?.to_owned();
        let slate = Slate::read(asset.source, texts, findings)?;
        Some(Kept { name, slate, place: Span::new(asset.source, 0, 0) })
    });
    let mut all: Vec<Kept> = slates.collect();
    // The tenth take of a day comes after the ninth.
    all.sort_by(|a, b| (&a.slate.take.day, a.name.len(), &a.name).cmp(&(&b.slate.take.day, b.name.len(), &b.name)));
    all
}

/// The last of them; none where any can't be relied on.
pub(super) fn last(home: &Home, recipe: &str, texts: &mut Texts, findings: &mut Findings) -> Option<Kept> {
    let mut found = Findings::new();
    let all = kept(home, recipe, texts, &mut found);
    let sound = !found.has_errors();
    findings.extend(found);
    all.into_iter().next_back().filter(|_| sound)
}

/// Keeps the sheet of a take of `day`, and answers the file it is kept in.
///
/// # Errors
/// What can't be had or drawn, or a folder that can't be written to.
pub fn take(
    home: &Home,
    (channel, decor): (&Channel, &Decor),
    (recipe, asked): (&str, &Asked),
    day: Date,
) -> Result<PathBuf, Fault> {
    let resolved = channel.sheet(recipe, asked)?;
    let model = &channel.content.channel;
    let drawn = Drawn::new(decor.dish(channel, &resolved.sheet, asked));
    let found = drawn.work().make(&|_: &str, _: &[u8]| {});
    if found.has_errors() {
        return Err(Fault::Findings(found, decor.texts.clone()));
    }
    let frames = model.frames.iter().map(|frame| FrameTaken { frame: frame.clone(), cards: drawn.digest(&frame.id) });
    let take = Take {
        day: day.to_string(),
        version: VERSION.to_owned(),
        theme: model.theme.value.clone(),
        theme_digest: decor.look(),
        locale: model.locale.clone(),
        language: model.language.clone(),
        total: resolved.exact.total.clone(),
        asked: asked.clone(),
        frames: frames.collect(),
    };
    let text = Slate { take, sheet: resolved.sheet.clone() }.text();
    let folder = home.content.join(recipe).join(FOLDER);
    let names = (1..=TAKES).map(|take| format!("{}.toml", file_stem(day, take)));
    shelve(&folder, names, text.as_bytes()).map_err(|findings| Fault::Findings(findings, decor.texts.clone()))
}

/// A recipe's cards, with a digest of each file that was made of them.
pub struct Drawn<'a> {
    dish: Dish<'a>,
    files: Mutex<BTreeMap<String, String>>,
}

impl<'a> Drawn<'a> {
    /// The cards of a dish.
    pub fn new(dish: Dish<'a>) -> Self {
        Self { dish: Dish { words: false, ..dish }, files: Mutex::default() }
    }

    /// Its work, which is remembered as it is made.
    pub fn work(&self) -> Made<'_, impl Fn(&Put) -> Findings + Sync> {
        let make = |put: &Put| {
            self.dish.make(&|path: &str, bytes: &[u8]| {
                self.files.lock().expect("no holder of the list panics").insert(path.to_owned(), digest(bytes));
                put.put(path, bytes);
            })
        };
        Made { dish: self.dish, make }
    }

    /// A digest of every file of a frame.
    pub fn digest(&self, frame: &str) -> String {
        let files = self.files.lock().expect("no holder of the list panics");
        let of_frame = files.iter().filter(|(path, _)| path.split('/').next() == Some(frame));
        digest(of_frame.map(|(path, digest)| format!("{path} {digest}\n")).collect::<String>().as_bytes())
    }
}

/// The slate of that name.
///
/// # Errors
/// There is none, or one is at fault.
pub fn find(home: &Home, recipe: &str, name: &str, texts: &Texts) -> Result<(Kept, Texts), Fault> {
    let (mut texts, mut findings) = (texts.clone(), Findings::new());
    let all = kept(home, recipe, &mut texts, &mut findings);
    let names: Vec<String> = all.iter().map(|kept| kept.name.clone()).collect();
    match all.into_iter().find(|kept| kept.name == name.trim_end_matches(".toml")) {
        Some(kept) => Ok((kept, texts)),
        None if findings.has_errors() => Err(Fault::Findings(findings, texts)),
        None => Err(Fault::Request(no_such("slate", name, &names))),
    }
}

/// The channel with all that a slate says otherwise: its locale, its language, its theme and its frames.
///
/// # Errors
/// Sources at fault.
pub fn as_taken(home: &Home, kept: &Kept, recipe: &str, texts: Texts) -> Result<Channel, Fault> {
    let take = &kept.slate.take;
    let mut channel = open_speaking(home, Some(recipe), &take.locale, &take.language)?;
    channel.content.channel.theme = Spanned::new(take.theme.clone(), kept.place);
    channel.content.channel.frames = take.frames.iter().map(|taken| taken.frame.clone()).collect();
    channel.texts = texts;
    Ok(channel)
}
