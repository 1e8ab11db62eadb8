//! From artifacts to disk: what changed, in one move, never touching a file that is not ours.
//!
//! Every core makes a recipe at a time, and pictures are put down as they are drawn, so that memory holds a few and never a
//! channel's. Nothing takes its place before everything is made without a fault.

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
pub use folder::Folder;
pub use moves::Move;
pub use recipe::{Dish, Made, Setting, index};
pub use replace::replace;
pub use shelf::shelve;

use crate::diag::Findings;
use crate::sheet::digest;
use rayon::prelude::*;
use record::{RecipeRecord, Record};
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::sync::Mutex;

/// Tells programs apart that may draw differently, so that another draws everything again.
const PROGRAM: &str = env!("TALLYSPOON_SOURCES");

/// Takes what a recipe is made into, by paths under the recipe's folder, `/` between names.
pub trait Store: Sync {
    /// Takes an artifact.
    fn put(&self, path: &str, bytes: &[u8]);

    /// Whether a picture stands there already as it is drawn of `of`, a text that differs where it would; it is kept then.
    fn stands(&self, _path: &str, _of: &str) -> bool {
        false
    }

    /// Takes a picture that does not stand there, drawn of `of`.
    fn put_drawn(&self, path: &str, _of: &str, bytes: &[u8]) {
        self.put(path, bytes);
    }

    /// A picture as it was drawn together with those that [stand](Store::stands) there, where the pictures beside it have
    /// the names of those that were drawn with it.
    fn before(&self, _path: &str) -> Option<Vec<u8>> {
        None
    }
}

/// What only takes artifacts, and knows of none that stand there.
impl<F: Fn(&str, &[u8]) + Sync> Store for F {
    fn put(&self, path: &str, bytes: &[u8]) {
        self(path, bytes);
    }
}

/// Where a recipe's artifacts go.
pub type Put<'a> = dyn Store + 'a;

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
    /// Whether its figures were held against those that were published before.
    pub figures: bool,
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
    run_in(Folder::open(out)?, works, scope, tick)
}

/// The same of a folder that is open.
///
/// # Errors
/// As for [`run`].
pub fn run_in<W: Work>(
    mut folder: Folder,
    works: &[W],
    scope: Scope,
    tick: &(dyn Fn(Tick) + Sync),
) -> Result<Report, Findings> {
    let program = matches!(scope, Scope::Channel(_)).then_some(PROGRAM);
    // One by one: what changes together stands side by side, and would all be one core's.
    let made: Vec<_> = works.par_iter().with_max_len(1).map(|work| bring(&folder, work, program, tick)).collect();
    let mut after = Record::default();
    if !matches!(scope, Scope::Channel(_)) {
        after.recipes = folder.before.recipes.clone();
    }
    let mut findings = Findings::new();
    for (work, (record, found)) in works.iter().zip(made) {
        after.recipes.insert(work.id().into(), record);
        findings.extend(found);
    }
    if let Scope::Channel(files) = scope {
        files.iter().for_each(|(path, bytes)| folder.put(path, bytes));
    }
    findings.extend(folder.findings());
    if findings.has_errors() {
        return Err(findings);
    }
    let done = folder.commit(|path: &str| covers(works, scope, path), &mut after)?;
    let before = &folder.before;
    let ids: BTreeSet<&String> = before.recipes.keys().chain(after.recipes.keys()).collect();
    let changes: Vec<Change> = ids
        .into_iter()
        .map(|id| {
            let all = program.is_some();
            change(id, all, (before.recipes.get(id), after.recipes.get(id)), (&done.written, &done.removed))
        })
        .filter(|change| !change.is_none())
        .collect();
    let changed: BTreeSet<&str> = changes.iter().map(|change| change.recipe.as_str()).collect();
    Ok(Report {
        unchanged: works.iter().filter(|w| !changed.contains(w.id())).count(),
        written: done.written.len(),
        removed: done.removed.len(),
        left: done.left.into_iter().collect(),
        changes,
    })
}

/// Brings a recipe's files up to date: answers what is to be recorded of it, and what is wrong. Without a program all of
/// them are made in any case.
fn bring<W: Work>(
    folder: &Folder,
    work: &W,
    program: Option<&str>,
    tick: &(dyn Fn(Tick) + Sync),
) -> (RecipeRecord, Findings) {
    tick(Tick::Recipe(work.id()));
    let key = program.map(|program| digest(format!("{program}\n{}", work.inputs()).as_bytes()));
    let before = folder.before.recipes.get(work.id());
    let same = before.filter(|before| key.is_some() && before.key == key && folder.is_as_recorded(work.id()));
    let brought = match same {
        Some(before) => {
            folder.keep(work.id());
            (RecipeRecord { key, figures: work.figures(), drawn: before.drawn.clone() }, Findings::new())
        }
        None => {
            let place = Place { folder, id: work.id(), program, before, drawn: Mutex::default(), tick };
            let findings = work.make(&place);
            let drawn = place.drawn.into_inner().expect("no holder of the list panics");
            // What is told to have moved is what publishing showed last: a batch of another size is no move.
            let figures = match program {
                Some(_) => work.figures(),
                None => before.map_or_else(Vec::new, |before| before.figures.clone()),
            };
            (RecipeRecord { key, figures, drawn }, findings)
        }
    };
    tick(Tick::Done);
    brought
}

/// A recipe's place in the folder while it is made.
struct Place<'a> {
    folder: &'a Folder,
    id: &'a str,
    program: Option<&'a str>,
    before: Option<&'a RecipeRecord>,
    drawn: Mutex<BTreeMap<String, String>>,
    tick: &'a (dyn Fn(Tick) + Sync),
}

impl Place<'_> {
    fn path(&self, path: &str) -> String {
        format!("{}/{path}", self.id)
    }

    /// Notes what a picture is drawn of; whether it was drawn of the same before.
    fn note(&self, path: &str, of: &str) -> bool {
        let Some(program) = self.program else { return false };
        let of = digest(format!("{program}\n{of}").as_bytes());
        let same = self.before.is_some_and(|before| before.drawn.get(path) == Some(&of));
        self.drawn.lock().expect("no holder of the list panics").insert(path.to_owned(), of);
        same
    }
}

impl Store for Place<'_> {
    fn put(&self, path: &str, bytes: &[u8]) {
        self.folder.put(&self.path(path), bytes);
        (self.tick)(Tick::File);
    }

    fn stands(&self, path: &str, of: &str) -> bool {
        let stands = self.note(path, of) && self.folder.keep_file(&self.path(path));
        if stands {
            (self.tick)(Tick::File);
        }
        stands
    }

    fn put_drawn(&self, path: &str, of: &str, bytes: &[u8]) {
        self.note(path, of);
        self.put(path, bytes);
    }

    fn before(&self, path: &str) -> Option<Vec<u8>> {
        let folder = path.rsplit_once('/').map_or("", |(folder, _)| folder);
        let beside = |drawn: &BTreeMap<String, String>| {
            let pictures = drawn.keys().filter(|path| of(path, folder));
            pictures.cloned().collect::<Vec<_>>()
        };
        let now = beside(&self.drawn.lock().expect("no holder of the list panics"));
        self.before.filter(|before| before.drawn.contains_key(path) && beside(&before.drawn) == now)?;
        self.folder.bytes_of(&self.path(path))
    }
}

/// What became of a recipe among all files written and removed. Only of a channel published as a whole are figures told.
fn change(
    id: &str,
    all: bool,
    (before, after): (Option<&RecipeRecord>, Option<&RecipeRecord>),
    (written, removed): (&BTreeSet<String>, &BTreeSet<String>),
) -> Change {
    let own = |set: &BTreeSet<String>| {
        let from = set.range(format!("{id}/")..);
        from.take_while(|path| of(path, id)).cloned().collect::<Vec<_>>()
    };
    let (written, removed) = (own(written), own(removed));
    Change {
        recipe: id.to_owned(),
        // Where only some of its files were made before, none of its figures was told.
        new: all
            && before.is_none_or(|before| before.figures.is_empty() && after.is_some_and(RecipeRecord::has_figures)),
        gone: after.is_none(),
        figures: all,
        shown: moves::outputs(&written),
        written: written.len(),
        removed: removed.len(),
        moves: if all { moves::between(before, after) } else { Vec::new() },
    }
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
const FILMS: [&str; 3] = ["mov", "apng", "webm"];
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
