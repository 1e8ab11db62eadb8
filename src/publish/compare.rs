//! What would be written if the sources were other than they are: two makings compared in memory.
//! Must not know the disk or how an artifact is made.

use super::record::RecipeRecord;
use super::{Change, Report, Tick, Work, change};
use crate::diag::Findings;
use crate::sheet::digest;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Mutex;

/// Everything that is published: the recipes, and the files beside their folders.
pub type Whole<'a, W> = (&'a [W], &'a [(String, Vec<u8>)]);

/// Digests by path.
type Files = BTreeMap<String, String>;

/// What publishing `after` over a published `before` would do; nothing is read or written. Both have the same recipes.
///
/// # Errors
/// Every fault of every recipe that differs.
pub fn compare<W: Work>(
    before: Whole<'_, W>,
    after: Whole<'_, W>,
    tick: &(dyn Fn(Tick) + Sync),
) -> Result<Report, Findings> {
    let mut findings = Findings::new();
    let mut report = Report::default();
    for (old, new) in before.0.iter().zip(after.0) {
        tick(Tick::Recipe(new.id()));
        let (mut there, mut coming) = (Files::new(), Files::new());
        if old.inputs() != new.inputs() {
            there = made(old, tick, &mut findings);
            coming = made(new, tick, &mut findings);
        }
        let (written, removed) = differences(&there, &coming);
        let figures = |work: &W| RecipeRecord { figures: work.figures(), ..RecipeRecord::default() };
        report.add(change(new.id(), true, (Some(&figures(old)), Some(&figures(new))), (&written, &removed)));
        tick(Tick::Done);
    }
    report.changes.sort_by(|a, b| a.recipe.cmp(&b.recipe));
    let beside = |files: &[(String, Vec<u8>)]| {
        files.iter().map(|(path, bytes)| (path.clone(), digest(bytes))).collect::<Files>()
    };
    let (written, removed) = differences(&beside(before.1), &beside(after.1));
    report.written += written.len();
    report.removed += removed.len();
    if findings.has_errors() { Err(findings) } else { Ok(report) }
}

/// The files of a recipe, by their paths from the folder that is published to.
fn made<W: Work>(work: &W, tick: &(dyn Fn(Tick) + Sync), findings: &mut Findings) -> Files {
    let files = Mutex::new(Files::new());
    findings.extend(work.make(&|path: &str, bytes: &[u8]| {
        files.lock().expect("no holder of the list panics").insert(format!("{}/{path}", work.id()), digest(bytes));
        tick(Tick::File);
    }));
    files.into_inner().expect("no holder of the list panics")
}

/// Paths that would be written, and those that would be removed.
fn differences(before: &Files, after: &Files) -> (BTreeSet<String>, BTreeSet<String>) {
    let written = after.iter().filter(|(path, digest)| before.get(*path) != Some(digest));
    let removed = before.keys().filter(|path| !after.contains_key(*path));
    (written.map(|(path, _)| path.clone()).collect(), removed.cloned().collect())
}

impl Report {
    /// Counts what became of a recipe.
    fn add(&mut self, change: Change) {
        if change.is_none() {
            self.unchanged += 1;
            return;
        }
        self.written += change.written;
        self.removed += change.removed;
        self.changes.push(change);
    }
}
