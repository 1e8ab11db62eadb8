//! From artifacts to disk: what changed, in one move, never touching a file that is not ours.
//!
//! Recipes are made one after the other and each on all cores, so that memory holds a few pictures and
//! never a channel's. Nothing takes its place before everything is made without a fault.

mod channel;
mod compare;
mod folder;
mod moves;
mod recipe;
mod record;
mod replace;
mod seen;
mod shelf;

pub use channel::{CHANNEL, Roll};
pub use compare::{Whole, compare};
pub use moves::Move;
pub use recipe::{Dish, Made, Setting, index};
pub use replace::replace;
pub use shelf::shelve;

use crate::diag::Findings;
use crate::sheet::digest;
use folder::Folder;
use rayon::prelude::*;
use record::RecipeRecord;
use std::collections::BTreeSet;
use std::path::Path;

/// Tells programs apart that may draw differently, so that another draws everything again.
const PROGRAM: &str = env!("TALLYSPOON_SOURCES");

/// Takes an artifact: a path under the recipe's folder, `/` between names, and its bytes.
pub type Put<'a> = dyn Fn(&str, &[u8]) + Sync + 'a;

/// What a recipe contributes: its files, made on demand.
pub trait Work: Sync {
    /// The recipe's id, which is its folder's name.
    fn id(&self) -> &str;
    /// A text that differs where any of its files may: everything that they are made of.
    fn inputs(&self) -> String;
    /// The figures that its files show, by name, in the order to tell their moves.
    fn figures(&self) -> Vec<(String, String)>;
    /// Makes every file; faults found on the way stop the whole run, after every recipe has told its own.
    fn make(&self, put: &Put) -> Findings;
}

/// Works of several kinds are handed over by reference.
impl<T: Work + ?Sized> Work for &T {
    fn id(&self) -> &str {
        (**self).id()
    }

    fn inputs(&self) -> String {
        (**self).inputs()
    }

    fn figures(&self) -> Vec<(String, String)> {
        (**self).figures()
    }

    fn make(&self, put: &Put) -> Findings {
        (**self).make(put)
    }
}

/// Which of the files published before a run stands for; those of them that it does not make again go.
#[derive(Clone, Copy, Debug)]
pub enum Scope<'a> {
    /// The channel: every recipe, and the files beside them by their paths.
    Channel(&'a [(String, Vec<u8>)]),
    /// One recipe's pictures in its folders of these names.
    Frames(&'a [String]),
    /// One recipe's films of a form in its folders of these names.
    Films(&'a [String], Form),
    /// Only the files that it makes.
    Made,
}

/// What form films have: of a recipe's films, a run stands for those of its own form.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// One file, with this ending.
    File(&'static str),
    /// A folder of pictures.
    Folder,
    /// Lists for an edit program, which name films.
    Lists,
}

/// A step of the work, for a progress bar.
#[derive(Clone, Copy, Debug)]
pub enum Tick<'a> {
    /// This recipe is being made.
    Recipe(&'a str),
    /// One file of it is.
    File,
    /// It is done.
    Done,
}

/// What a run did.
#[derive(Clone, Debug, Default)]
pub struct Report {
    /// A line a recipe whose files or figures changed.
    pub changes: Vec<Change>,
    /// How many recipes were as they should be already.
    pub unchanged: usize,
    /// Files written.
    pub written: usize,
    /// Files removed, as no recipe makes them any more.
    pub removed: usize,
    /// Files that no recipe makes any more but that someone changed since: left where they are.
    pub left: Vec<String>,
}

/// What changed of a recipe.
#[derive(Clone, Debug)]
pub struct Change {
    /// The recipe.
    pub recipe: String,
    /// Whether it was not published before.
    pub new: bool,
    /// Whether it is no longer in the channel.
    pub gone: bool,
    /// What of it was written: names of cards without frame and number, `notes`, `page`.
    pub shown: Vec<String>,
    /// How many of its files were written.
    pub written: usize,
    /// How many of its files were removed.
    pub removed: usize,
    /// Figures that moved.
    pub moves: Vec<Move>,
}

/// Brings the folder `out` up to date with `works`.
///
/// # Errors
/// Every fault of every recipe and of the folder; nothing is written then.
pub fn run<W: Work>(out: &Path, works: &[W], scope: Scope, tick: &(dyn Fn(Tick) + Sync)) -> Result<Report, Findings> {
    let folder = Folder::open(out)?;
    let program = matches!(scope, Scope::Channel(_)).then_some(PROGRAM);
    let mut after = folder.before.clone();
    after.pending.clear();
    if matches!(scope, Scope::Channel(_)) {
        after.recipes.retain(|id, _| works.iter().any(|w| w.id() == id));
    }
    let mut findings = Findings::new();
    let keys: Vec<(Option<String>, bool)> = works.par_iter().map(|w| standing(&folder, w, program)).collect();
    for (work, (key, stands)) in works.iter().zip(keys) {
        tick(Tick::Recipe(work.id()));
        if stands {
            folder.keep(work.id());
        } else {
            findings.extend(work.make(&|path, bytes| {
                folder.put(&format!("{}/{path}", work.id()), bytes);
                tick(Tick::File);
            }));
        }
        after.recipes.insert(work.id().into(), RecipeRecord { key, figures: work.figures() });
        tick(Tick::Done);
    }
    if let Scope::Channel(files) = scope {
        files.iter().for_each(|(path, bytes)| folder.put(path, bytes));
    }
    findings.extend(folder.findings());
    if findings.has_errors() {
        return Err(findings);
    }
    let before = folder.before.clone();
    let covered = |path: &str| covers(works, scope, path);
    let done = folder.commit(covered, after.clone())?;
    let ids: BTreeSet<&String> = before.recipes.keys().chain(after.recipes.keys()).collect();
    let changes: Vec<Change> = ids
        .into_iter()
        .map(|id| change(id, before.recipes.get(id), after.recipes.get(id), &done.written, &done.removed))
        .filter(|change| !change.is_none())
        .collect();
    Ok(Report {
        unchanged: works.iter().filter(|w| changes.iter().all(|c| c.recipe != w.id())).count(),
        written: done.written.len(),
        removed: done.removed.len(),
        left: done.left.into_iter().collect(),
        changes,
    })
}

/// What became of a recipe among all files written and removed.
fn change(
    id: &str,
    before: Option<&RecipeRecord>,
    after: Option<&RecipeRecord>,
    written: &BTreeSet<String>,
    removed: &BTreeSet<String>,
) -> Change {
    let own = |set: &BTreeSet<String>| set.iter().filter(|path| of(path, id)).cloned().collect::<Vec<_>>();
    Change {
        recipe: id.to_owned(),
        new: before.is_none(),
        gone: after.is_none(),
        shown: moves::outputs(&own(written)),
        written: own(written).len(),
        removed: own(removed).len(),
        moves: moves::between(before, after),
    }
}

/// The digest of all that a recipe's files depend on, this `program` among it, and whether they stand there as they
/// should be. Without a program they are made in any case.
fn standing<W: Work>(folder: &Folder, work: &W, program: Option<&str>) -> (Option<String>, bool) {
    let key = program.map(|program| digest(format!("{program}\n{}", work.inputs()).as_bytes()));
    let before = folder.before.recipes.get(work.id());
    let same = key.is_some() && before.is_some_and(|before| before.key == key);
    let stands = same && folder.is_as_recorded(work.id());
    (key, stands)
}

/// Whether a path is of that recipe.
fn of(path: &str, id: &str) -> bool {
    path.strip_prefix(id).is_some_and(|rest| rest.starts_with('/'))
}

/// Whether a run stands for the file at `path`. Films are made at another time than what stands beside them.
fn covers<W: Work>(works: &[W], scope: Scope, path: &str) -> bool {
    let in_one_of =
        |frames: &[String]| works.iter().any(|w| frames.iter().any(|frame| of(path, &format!("{}/{frame}", w.id()))));
    match scope {
        // A recipe that is gone takes its films along.
        Scope::Channel(_) => film(path).is_none() || works.iter().all(|w| !of(path, w.id())),
        Scope::Frames(frames) => film(path).is_none() && in_one_of(frames),
        Scope::Films(frames, form) => film(path) == Some(form) && in_one_of(frames),
        Scope::Made => false,
    }
}

/// The endings of films.
pub const FILMS: [&str; 3] = ["mov", "apng", "webm"];
/// The endings of lists for an edit program.
const LISTS: [&str; 3] = ["edl", "otio", "vtt"];

/// What form of film a file is of, if it is of one: films stand where cards do, a film of pictures in a folder of its own.
fn film(path: &str) -> Option<Form> {
    let ending = path.rsplit_once('.').map_or("", |(_, ending)| ending);
    match FILMS.into_iter().find(|known| *known == ending) {
        Some(ending) => Some(Form::File(ending)),
        None if LISTS.contains(&ending) => Some(Form::Lists),
        None => (path.matches('/').count() == 3).then_some(Form::Folder),
    }
}
