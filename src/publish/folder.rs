//! The folder that is published to: what stands there, what is ours, and how new files take their place.
//!
//! New files are staged in a folder of our own beside their places and renamed there when all of them
//! are complete, so a file is old or new at any moment. Must not know recipes or outputs.

use super::record::{self, Record};
use super::seen::Seen;
use crate::diag::{Diagnostic, Findings, Severity};
use crate::sheet::digest;
use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};
use std::fs::{self, File, Metadata, TryLockError};
use std::io;
use std::mem;
use std::path::{Path, PathBuf};
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

/// Where new files wait until all are complete. A killed run leaves it; the next one clears it.
const STAGE: &str = ".tallyspoon.new";

/// The file in it that a run holds a lock on while it is at work.
const LOCK: &str = "lock";
/// So often a run begins again when others end just then.
const TRIES: usize = 50;

/// An open, locked folder with its record and the new files that wait.
pub struct Folder {
    root: PathBuf,
    made: Vec<PathBuf>,
    lock: File,
    seen: Seen,
    /// What it held of ours when it was opened.
    pub(super) before: Record,
    waiting: Mutex<Waiting>,
    /// How many files were staged.
    count: AtomicUsize,
}

#[derive(Default)]
struct Waiting {
    /// Digest of every file put, by path.
    put: BTreeMap<String, String>,
    /// Those of them that differ from what is there, by what their files in the stage are called.
    staged: BTreeMap<String, String>,
    findings: Findings,
}

/// What a commit did.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Committed {
    pub written: BTreeSet<String>,
    pub removed: BTreeSet<String>,
    pub left: BTreeSet<String>,
}

/// An error about the folder: there is no source to point into.
pub(super) fn fault(code: &'static str, message: String, hint: &str) -> Findings {
    let mut findings = Findings::new();
    let hint = Some(hint.to_owned());
    findings.push(Diagnostic { code, severity: Severity::Error, span: None, message, hint });
    findings
}

pub(super) fn cannot(what: &str, path: &Path, error: &io::Error) -> Findings {
    let message = format!("cannot {what} `{}`: {error}", path.display());
    fault("output-failed", message, "check the folder's permissions and the free space, then run it again")
}

impl Folder {
    /// Opens `root`, making it if it is not there.
    ///
    /// # Errors
    /// A folder that can't be made or read, a record that is none of ours, or another run at work in it.
    pub fn open(root: &Path) -> Result<Self, Findings> {
        let made: Vec<PathBuf> =
            root.ancestors().take_while(|p| !p.as_os_str().is_empty() && !p.exists()).map(Path::to_owned).collect();
        let early = record_bytes(root)?;
        let (record, seen) = rayon::join(|| parse_record(root, early.as_deref()), || Seen::of(root));
        let (record, mut seen) = (record?, seen);
        let stage = root.join(STAGE);
        if fs::symlink_metadata(&stage).is_ok_and(|m| !m.is_dir()) {
            return Err(foreign(&stage));
        }
        let lock = take_lock(root, &stage)?;
        seen.begin(&lock);
        let mut folder = Self {
            root: root.into(),
            made,
            lock,
            seen,
            before: record,
            waiting: Mutex::default(),
            count: AtomicUsize::new(0),
        };
        // What another run did until now is what stands there.
        let now = record_bytes(root)?;
        if now != early {
            folder.before = parse_record(root, now.as_deref())?;
        }
        clear(&stage).map_err(|e| cannot("clear", &stage, &e))?;
        Ok(folder)
    }

    fn stage(&self) -> PathBuf {
        self.root.join(STAGE)
    }

    fn waiting(&self) -> std::sync::MutexGuard<'_, Waiting> {
        self.waiting.lock().expect("no holder of the list panics")
    }

    /// Whether every file of a recipe is the one recorded, byte for byte.
    pub(super) fn is_as_recorded(&self, recipe: &str) -> bool {
        let files: Vec<(&str, &String)> = self.before.files_of(recipe).collect();
        let folders: BTreeSet<&str> = files.iter().filter_map(|(path, _)| Some(path.rsplit_once('/')?.0)).collect();
        folders.iter().all(|folder| self.link_on_the_way(folder).is_none())
            && files.iter().all(|(path, digest)| self.digest_on_disk(path).is_some_and(|there| there == **digest))
    }

    /// Keeps a recipe's files, which are as recorded.
    pub(super) fn keep(&self, recipe: &str) {
        let files = self.before.files_of(recipe).map(|(path, digest)| (path.to_owned(), digest.clone()));
        self.waiting().put.extend(files);
    }

    /// Keeps a file if it is as recorded; whether it is.
    pub(super) fn keep_file(&self, path: &str) -> bool {
        let Some(digest) = self.before.files.get(path) else { return false };
        let stands =
            self.links_above(path).is_none() && self.digest_on_disk(path).is_some_and(|there| there == *digest);
        if stands {
            self.waiting().put.insert(path.into(), digest.clone());
        }
        stands
    }

    /// The bytes of a file that is as recorded.
    pub(super) fn bytes_of(&self, path: &str) -> Option<Vec<u8>> {
        let recorded = self.before.files.get(path).filter(|_| self.links_above(path).is_none())?;
        let full = self.root.join(path);
        let plain = fs::symlink_metadata(&full).is_ok_and(|meta| meta.is_file());
        let bytes = plain.then(|| fs::read(&full).ok()).flatten()?;
        (digest(&bytes) == *recorded).then_some(bytes)
    }

    /// Takes a new file: stages it if it differs from what is there. Faults are collected until the commit.
    pub(super) fn put(&self, path: &str, bytes: &[u8]) {
        let coming = digest(bytes);
        let result = self.differs(path, &coming).and_then(|differs| {
            // All in one folder: making folders and clearing them away takes as long as writing into them.
            let name = differs.then(|| self.count.fetch_add(1, Ordering::Relaxed).to_string());
            if let Some(name) = &name {
                let staged = self.stage().join(name);
                fs::write(&staged, bytes).map_err(|e| cannot("write", &staged, &e))?;
            }
            Ok(name)
        });
        let mut waiting = self.waiting();
        waiting.put.insert(path.into(), coming);
        match result {
            Ok(Some(name)) => drop(waiting.staged.insert(path.into(), name)),
            Ok(None) => {}
            Err(findings) => waiting.findings.extend(findings),
        }
    }

    /// Whether `path` must be written for it to hold bytes of the digest `coming`; what is in the way and not ours is an error.
    fn differs(&self, path: &str, coming: &str) -> Result<bool, Findings> {
        // A name out of a file that somebody else wrote, such as a slate's frame, could lead anywhere.
        if !record::is_inside(path) {
            let message = format!("`{path}` is no path in the folder");
            return Err(fault(
                "output-elsewhere",
                message,
                "files would land elsewhere: give what it is made from a plain name",
            ));
        }
        if let Some(link) = self.links_above(path) {
            let message = format!("`{}` is not a plain folder", link.display());
            return Err(fault(
                "output-elsewhere",
                message,
                "files would land elsewhere: remove it or give another --out",
            ));
        }
        let full = self.root.join(path);
        let Ok(meta) = fs::symlink_metadata(&full) else { return Ok(true) };
        if !meta.is_file() {
            return Err(foreign(&full));
        }
        let there = self.digest_of(path, &meta).map_err(|e| cannot("read", &full, &e))?;
        if there == coming {
            return Ok(false);
        }
        if self.before.wrote(path, &there) { Ok(true) } else { Err(foreign(&full)) }
    }

    /// The first folder on the way to `path` that is not a plain folder (a symbolic link, a file).
    fn links_above(&self, path: &str) -> Option<PathBuf> {
        path.rsplit_once('/').and_then(|(folder, _)| self.link_on_the_way(folder))
    }

    /// The same, the folder itself among them.
    fn link_on_the_way(&self, folder: &str) -> Option<PathBuf> {
        let full = self.root.join(folder);
        let all: Vec<&Path> = full.ancestors().take_while(|p| *p != self.root).collect();
        let odd = |p: &&Path| fs::symlink_metadata(p).is_ok_and(|m| !m.is_dir());
        all.into_iter().rev().find(odd).map(Path::to_owned)
    }

    fn digest_on_disk(&self, path: &str) -> Option<Cow<'_, str>> {
        let meta = fs::symlink_metadata(self.root.join(path)).ok()?;
        meta.is_file().then(|| self.digest_of(path, &meta).ok()).flatten()
    }

    /// The digest of a plain file of which the system says `meta`; its bytes are read unless it is as it was last seen.
    fn digest_of(&self, path: &str, meta: &Metadata) -> io::Result<Cow<'_, str>> {
        if let Some(digest) = self.seen.digest(path, meta) {
            return Ok(digest.into());
        }
        let digest = digest(&fs::read(self.root.join(path))?);
        self.seen.read(path, &digest, meta);
        Ok(digest.into())
    }

    /// Everything that was found wrong with the places of new files.
    pub(super) fn findings(&self) -> Findings {
        self.waiting().findings.clone()
    }

    /// Moves every staged file to its place, removes those of ours in `scope` that were neither put nor
    /// kept, and records what now stands there.
    ///
    /// # Errors
    /// A file that can't be moved. The record then still owns both the old and the new files.
    pub(super) fn commit(&mut self, scope: impl Fn(&str) -> bool, after: &mut Record) -> Result<Committed, Findings> {
        let waiting = mem::take(&mut *self.waiting());
        let ours: BTreeSet<&String> = self.before.files.keys().chain(self.before.pending.keys()).collect();
        let stale: Vec<&String> = ours.into_iter().filter(|p| scope(p) && !waiting.put.contains_key(*p)).collect();
        after.files = waiting.put;
        for (path, digest) in self.before.files.iter().filter(|(path, _)| !scope(path)) {
            after.files.entry(path.clone()).or_insert_with(|| digest.clone());
        }
        let staged = waiting.staged;
        let mut done = Committed { written: staged.keys().cloned().collect(), ..Committed::default() };
        if staged.is_empty() && stale.is_empty() && *after == self.before {
            self.seen.keep(&after.files, &self.lock);
            return Ok(done);
        }
        self.made.clear();
        let (bytes, moved) = rayon::join(|| after.bytes(), || self.move_all(after, &staged, &stale, &mut done));
        moved?;
        let write = || write_record(&self.root, &bytes);
        let (written, ()) = rayon::join(write, || self.seen.keep(&after.files, &self.lock));
        written.map(|()| done)
    }

    /// Moves what is staged to its place and what is stale away. Before anything moves it is recorded that both what is
    /// there and what is coming are ours.
    fn move_all(
        &self,
        after: &Record,
        staged: &BTreeMap<String, String>,
        stale: &[&String],
        done: &mut Committed,
    ) -> Result<(), Findings> {
        write_record(&self.root, &self.before.bytes_before(after, &done.written))?;
        // One by one: the system moves no two files between folders at once.
        staged.iter().try_for_each(|(path, name)| self.place(path, name, &after.files[path]))?;
        for &path in stale {
            if self.remove(path)? {
                done.removed.insert(path.clone());
            } else if self.root.join(path).exists() {
                done.left.insert(path.clone());
            }
        }
        Ok(())
    }

    fn place(&self, path: &str, name: &str, digest: &str) -> Result<(), Findings> {
        let place = self.root.join(path);
        let folder = place.parent().expect("it is under the root");
        let staged = self.stage().join(name);
        let moved = match fs::rename(&staged, &place) {
            Err(e) if e.kind() == io::ErrorKind::NotFound => {
                fs::create_dir_all(folder).map_err(|e| cannot("make", folder, &e))?;
                fs::rename(&staged, &place)
            }
            moved => moved,
        };
        moved.map_err(|e| cannot("write", &place, &e))?;
        if let Ok(meta) = fs::symlink_metadata(&place) {
            self.seen.note(path, digest, &meta);
        }
        Ok(())
    }

    /// Removes a file of ours and the folders this empties; `false` if it is not there or not ours any more.
    fn remove(&self, path: &str) -> Result<bool, Findings> {
        let ours = self.links_above(path).is_none()
            && self.digest_on_disk(path).is_some_and(|digest| self.before.wrote(path, &digest));
        if ours {
            let full = self.root.join(path);
            fs::remove_file(&full).map_err(|e| cannot("remove", &full, &e))?;
            full.ancestors().skip(1).take_while(|p| *p != self.root).all(|p| fs::remove_dir(p).is_ok());
        }
        Ok(ours)
    }
}

fn write_record(root: &Path, bytes: &[u8]) -> Result<(), Findings> {
    let (staged, place) = (root.join(STAGE).join(record::NAME), root.join(record::NAME));
    fs::write(&staged, bytes).map_err(|e| cannot("write", &staged, &e))?;
    fs::rename(&staged, &place).map_err(|e| cannot("write", &place, &e))
}

/// Locks the stage, which is made where it is missing.
fn take_lock(root: &Path, stage: &Path) -> Result<File, Findings> {
    let path = stage.join(LOCK);
    for _ in 0..TRIES {
        fs::create_dir_all(stage).map_err(|e| cannot("make", stage, &e))?;
        if fs::symlink_metadata(&path).is_ok_and(|meta| !meta.is_file()) {
            return Err(foreign(&path));
        }
        let lock = match File::options().write(true).create(true).truncate(false).open(&path) {
            Ok(lock) => lock,
            // A run that ended took the stage away.
            Err(e) if e.kind() == io::ErrorKind::NotFound => continue,
            Err(e) => return Err(cannot("write in", stage, &e)),
        };
        match lock.try_lock() {
            // The same file has to be there still: one that a run took away as it ended keeps nobody out.
            Ok(())
                if File::open(&path).is_ok_and(|again| matches!(again.try_lock(), Err(TryLockError::WouldBlock))) =>
            {
                return Ok(lock);
            }
            Ok(()) => {}
            Err(TryLockError::WouldBlock) => break,
            Err(TryLockError::Error(e)) => return Err(cannot("lock", stage, &e)),
        }
    }
    let message = format!("another run is writing to `{}`", root.display());
    Err(fault("output-busy", message, "wait for it to end, or give another --out"))
}

/// Removes everything from the stage but its lock.
fn clear(stage: &Path) -> io::Result<()> {
    for entry in fs::read_dir(stage)? {
        let path = entry?.path();
        if path.ends_with(LOCK) {
            continue;
        }
        if fs::symlink_metadata(&path)?.is_dir() { fs::remove_dir_all(&path)? } else { fs::remove_file(&path)? }
    }
    Ok(())
}

/// Leaves no stage behind, and no folder that was made for nothing.
impl Drop for Folder {
    fn drop(&mut self) {
        // The lock goes last, and the folder only if nobody has begun in it since.
        let stage = self.stage();
        let _ = clear(&stage);
        let _ = fs::remove_file(stage.join(LOCK));
        let _ = fs::remove_dir(&stage);
        for folder in &self.made {
            let _ = fs::remove_dir(folder);
        }
        // Tens of thousands of names: nobody waits until all are let go of.
        let names = (mem::take(&mut self.before), mem::take(&mut self.waiting), self.seen.take());
        rayon::spawn(move || drop(names));
    }
}

fn foreign(path: &Path) -> Findings {
    let message = format!("`{}` is in the way: this program did not write it, or it was changed since", path.display());
    fault("foreign-file", message, "move it away or give another --out; nothing was written")
}

fn record_bytes(root: &Path) -> Result<Option<Vec<u8>>, Findings> {
    let path = root.join(record::NAME);
    match fs::read(&path) {
        Ok(bytes) => Ok(Some(bytes)),
        Err(e) if e.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(e) => Err(cannot("read", &path, &e)),
    }
}

fn parse_record(root: &Path, bytes: Option<&[u8]>) -> Result<Record, Findings> {
    let Some(bytes) = bytes else { return Ok(Record::default()) };
    Record::parse(bytes).map_err(|why| {
        let message = format!("`{}` is not a record of published files: {why}", root.join(record::NAME).display());
        fault("foreign-file", message, "move it away or give another --out; nothing was written")
    })
}
