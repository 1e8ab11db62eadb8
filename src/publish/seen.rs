//! What this machine has seen of the files in a folder that is published to: a file that the system tells as untouched
//! since its bytes were known is not read again. Kept among the user's caches, never in the folder, which is the same on
//! every machine; lost or unreadable, every file is read. Must not know what is published.
//!
//! A file is told as untouched where device, number, size, time of writing and time of change are all the same. The last
//! of them is the system's own: bytes, names and times can't be changed without it. Its clock ticks slowly, so what was
//! changed in the tick in which it was read is not taken for seen (a *racily clean* file).

use crate::draft::draft;
use crate::sheet::digest;
use std::collections::BTreeMap;
use std::env;
use std::fmt::Write as _;
use std::fs::{self, File, Metadata};
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::sync::Mutex;
use std::thread::sleep;
use std::time::{Duration, SystemTime};

/// The form of what is kept.
const FORM: &str = "seen/1";
/// So many folders are remembered; the one published to longest ago is forgotten first.
const FOLDERS: usize = 32;
/// How often the file system's clock is looked at until it has moved on, a millisecond apart; most tick within ten.
const LOOKS: usize = 30;

/// What the system says of a file: device, number and size, and the times of writing and of change, each in seconds and
/// nanoseconds.
type Stamp = [i64; 7];

/// A file as it was when its bytes were known.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Sight {
    /// SHA-256 of its bytes.
    digest: String,
    /// What the system said of it.
    stamp: Stamp,
}

/// What is known of a folder's files, by their paths from it.
pub(super) struct Seen {
    /// Where it is kept; `None` where nothing is.
    place: Option<PathBuf>,
    /// What the kept file begins with.
    heading: String,
    known: BTreeMap<String, Sight>,
    /// What this run saw, with each file's time of change.
    fresh: Mutex<BTreeMap<String, (Sight, SystemTime)>>,
    /// The file system's time when the run began.
    began: Option<SystemTime>,
}

impl Seen {
    /// What was seen of the folder `root`.
    pub(super) fn of(root: &Path) -> Self {
        let real = root.canonicalize().ok();
        let heading = format!("{FORM} {:?}\n", real.as_deref().unwrap_or(root));
        let place = real.zip(caches()).map(|(_, caches)| caches.join(digest(heading.as_bytes())));
        let kept = place.as_ref().and_then(|place| fs::read_to_string(place).ok()).unwrap_or_default();
        let known = kept.strip_prefix(&heading).map(parse).unwrap_or_default();
        Self { place, heading, known, fresh: Mutex::default(), began: None }
    }

    /// Takes all that is known.
    pub(super) fn take(&mut self) -> impl Send + use<> {
        std::mem::take(&mut self.known)
    }

    /// A run begins, at the file system's time that `lock`, a file in the folder, is written to.
    pub(super) fn begin(&mut self, lock: &File) {
        self.began = clock(lock);
    }

    /// The digest of a file that is as it was seen.
    pub(super) fn digest(&self, path: &str, now: &Metadata) -> Option<&str> {
        let sight = self.known.get(path)?;
        (stamp(now)?.0 == sight.stamp).then_some(&sight.digest)
    }

    /// A file's bytes were read, after the system said this of it.
    pub(super) fn read(&self, path: &str, digest: &str, before: &Metadata) {
        // One that was changed in this very run may have been changed again as it was read.
        if stamp(before).zip(self.began).is_some_and(|((_, changed), began)| changed < began) {
            self.note(path, digest, before);
        }
    }

    /// A file of the run's own has just taken its place.
    pub(super) fn note(&self, path: &str, digest: &str, now: &Metadata) {
        if let Some((stamp, changed)) = stamp(now) {
            let sight = Sight { digest: digest.to_owned(), stamp };
            self.fresh.lock().expect("no holder of the list panics").insert(path.to_owned(), (sight, changed));
        }
    }

    /// Keeps what is known of these files, given with the digests they should have; `lock` is as for [`Seen::begin`].
    ///
    /// That nothing can be kept is no fault: the files are read again then.
    pub(super) fn keep(&mut self, files: &BTreeMap<String, String>, lock: &File) {
        let fresh = std::mem::take(&mut *self.fresh.lock().expect("no holder of the list panics"));
        let last = fresh.values().map(|(_, changed)| *changed).max();
        let now = last.and_then(|last| tick_after(last, lock));
        let mut known = std::mem::take(&mut self.known);
        let count = known.len();
        known.retain(|path, sight| files.get(path) == Some(&sight.digest));
        let mut news = known.len() != count;
        for (path, (sight, changed)) in fresh {
            if now.is_some_and(|now| changed < now) && files.get(&path) == Some(&sight.digest) {
                news |= known.insert(path, sight.clone()) != Some(sight);
            }
        }
        self.known = known;
        if news {
            let _ = self.write();
        }
    }

    fn write(&self) -> Option<()> {
        let place = self.place.as_ref()?;
        let folder = place.parent()?;
        fs::create_dir_all(folder).ok()?;
        let mut text = self.heading.clone();
        for (path, Sight { digest, stamp: [first, rest @ ..] }) in &self.known {
            // A path that would break its line is read every time.
            if !path.contains('\n') {
                let _ = write!(text, "{digest} {first}");
                for number in rest {
                    let _ = write!(text, ":{number}");
                }
                text.extend([" ", path, "\n"]);
            }
        }
        let mut file = draft(folder, "").ok()?;
        file.write_all(text.as_bytes()).ok()?;
        file.persist(place).ok()?;
        forget(folder);
        Some(())
    }
}

/// The folder for what this program keeps of its own.
fn caches() -> Option<PathBuf> {
    let caches = env::var_os("XDG_CACHE_HOME").map(PathBuf::from).filter(|path| path.is_absolute());
    let caches = caches.or_else(|| Some(env::home_dir()?.join(".cache"))).filter(|path| path.is_absolute())?;
    cfg!(unix).then(|| caches.join("tallyspoon"))
}

/// Lets the folders that were published to longest ago go.
fn forget(caches: &Path) {
    let entries = fs::read_dir(caches).into_iter().flatten().flatten();
    let mut kept: Vec<(SystemTime, PathBuf)> =
        entries.filter_map(|entry| Some((entry.metadata().ok()?.modified().ok()?, entry.path()))).collect();
    kept.sort();
    let surplus = kept.len().saturating_sub(FOLDERS);
    kept[..surplus].iter().for_each(|(_, path)| drop(fs::remove_file(path)));
}

fn parse(text: &str) -> BTreeMap<String, Sight> {
    let line = |line: &str| {
        let (digest, rest) = line.split_once(' ')?;
        let (numbers, path) = rest.split_once(' ')?;
        let mut stamp = Stamp::default();
        let mut numbers = numbers.split(':');
        for number in &mut stamp {
            *number = numbers.next()?.parse().ok()?;
        }
        numbers.next().is_none().then(|| (path.to_owned(), Sight { digest: digest.to_owned(), stamp }))
    };
    text.lines().filter_map(line).collect()
}

/// What the system says of a file, and when it last changed.
#[cfg(unix)]
fn stamp(meta: &Metadata) -> Option<(Stamp, SystemTime)> {
    use std::os::unix::fs::MetadataExt as _;
    let (seconds, nanos) = (u64::try_from(meta.ctime()).ok()?, u64::try_from(meta.ctime_nsec()).ok()?);
    let changed = SystemTime::UNIX_EPOCH + Duration::from_secs(seconds) + Duration::from_nanos(nanos);
    // Numbers of more than 63 bits stay apart as they wrap round.
    let [device, number, size] = [meta.dev(), meta.ino(), meta.size()].map(u64::cast_signed);
    Some(([device, number, size, meta.mtime(), meta.mtime_nsec(), meta.ctime(), meta.ctime_nsec()], changed))
}

/// Other systems have no time of change that nobody can set.
#[cfg(not(unix))]
fn stamp(_: &Metadata) -> Option<(Stamp, SystemTime)> {
    None
}

/// The file system's own time: that of writing to a file in it.
fn clock(mut lock: &File) -> Option<SystemTime> {
    lock.write_all(b".").ok()?;
    lock.metadata().ok()?.modified().ok()
}

/// The file system's time as soon as it is after `last`, or what it is when that takes too long.
fn tick_after(last: SystemTime, lock: &File) -> Option<SystemTime> {
    let mut now = clock(lock)?;
    for _ in 0..LOOKS {
        if now > last {
            break;
        }
        sleep(Duration::from_millis(1));
        now = clock(lock)?;
    }
    Some(now)
}

#[cfg(all(test, unix))]
mod tests {
    use super::*;

    /// Whether a file is known after a run that began so many seconds after the file was changed, or before it.
    fn is_known(seconds: i64) -> bool {
        let folder = tempfile::tempdir().expect("a folder");
        let (file, lock) = (folder.path().join("page.html"), folder.path().join("lock"));
        fs::write(&file, "a page").expect("a file");
        let lock = File::create(lock).expect("a lock");
        let meta = fs::metadata(&file).expect("what the system says");
        let (_, changed) = stamp(&meta).expect("a stamp");
        let away = Duration::from_secs(seconds.unsigned_abs());
        let began = if seconds < 0 { changed - away } else { changed + away };
        let mut seen = Seen {
            place: None,
            heading: String::new(),
            known: BTreeMap::new(),
            fresh: Mutex::default(),
            began: Some(began),
        };
        let digest = digest(b"a page");
        seen.read("page.html", &digest, &meta);
        seen.keep(&BTreeMap::from([("page.html".to_owned(), digest.clone())]), &lock);
        seen.digest("page.html", &meta) == Some(digest.as_str())
    }

    #[test]
    fn after_the_clock_was_set_back_files_of_the_future_are_read_again() {
        assert!(is_known(3600));
        assert!(!is_known(0));
        assert!(!is_known(-3600));
    }
}
