//! A file of the creator's own rewritten for them: only as it was last seen, and never without a copy of what it held.
//! Must not know what a file says.

use super::{Fault, Home};
use crate::publish::{replace, shelve};
use crate::sheet::digest;
use jiff::ZonedDateTime;
use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

/// Where copies of what was replaced are kept, in the channel's folder. Its name is hidden, so nothing reads it.
const KEPT: &str = ".tallyspoon.kept";
/// So many copies of one file are kept; the oldest go.
const COPIES: usize = 30;
/// So many copies of one second have a name.
const A_SECOND: usize = 99;

/// What a file was seen to hold: a digest of it, empty where there is no file.
pub fn seen(bytes: Option<&[u8]>) -> String {
    bytes.map_or_else(String::new, digest)
}

/// Puts `after` in place of a file of the channel, which must still be as it was `seen` (see [`seen`]). Answers the
/// digest of what it holds now.
///
/// `path` is one of the channel's own: a name that was looked up, never one that somebody typed.
///
/// # Errors
/// [`Fault::Meanwhile`] where the file holds something else; what can't be read or written.
pub fn rewrite(home: &Home, path: &str, seen_as: &str, after: &[u8]) -> Result<String, Fault> {
    let full = home.content.join(path);
    inside(&home.content, &full)?;
    let before = match fs::read(&full) {
        Ok(bytes) => Some(bytes),
        Err(error) if error.kind() == ErrorKind::NotFound => None,
        Err(error) => return Err(error.into()),
    };
    if seen(before.as_deref()) != seen_as {
        return Err(meanwhile(path));
    }
    if before.as_deref() == Some(after) {
        return Ok(digest(after));
    }
    if let Some(before) = &before {
        keep(home, path, before)?;
    }
    replace(&full, before.as_deref(), after).map_err(|findings| {
        let changed = findings.sorted().iter().any(|finding| finding.code == "changed-meanwhile");
        if changed { meanwhile(path) } else { Fault::Findings(findings, crate::span::Texts::default()) }
    })?;
    Ok(digest(after))
}

fn meanwhile(path: &str) -> Fault {
    Fault::Meanwhile(format!("`{path}` was changed elsewhere since it was read here, so nothing was written"))
}

/// Refuses a path whose links lead out of the channel.
fn inside(root: &Path, full: &Path) -> Result<(), Fault> {
    let real = root.canonicalize()?;
    let there = full.canonicalize().or_else(|_| full.parent().unwrap_or(root).canonicalize())?;
    if there.starts_with(&real) {
        return Ok(());
    }
    Err(Fault::Request(format!("`{}` leads out of the channel's folder", full.display())))
}

/// Keeps a copy, and lets the oldest of the same file go.
fn keep(home: &Home, path: &str, bytes: &[u8]) -> Result<PathBuf, Fault> {
    let folder = home.content.join(KEPT);
    let stem = path.replace('/', "~");
    let now = ZonedDateTime::now();
    let (day, time) = (now.date(), now.time());
    let now = format!("{day}T{:02}-{:02}-{:02}", time.hour(), time.minute(), time.second());
    let names = (1..=A_SECOND).map(|copy| format!("{stem}.{now}.{copy:02}"));
    let fresh = !folder.exists();
    let place = shelve(&folder, names, bytes).map_err(|found| Fault::Findings(found, crate::span::Texts::default()))?;
    if fresh {
        // Copies are nobody's history: a repository that the channel is in does not see them.
        fs::write(folder.join(".gitignore"), "*\n")?;
    }
    let mut copies: Vec<PathBuf> = fs::read_dir(&folder)?.filter_map(|entry| Some(entry.ok()?.path())).collect();
    let prefix = format!("{stem}.");
    // The one just made stays whatever the clock says: one that was set back would make it the oldest.
    copies.retain(|copy| {
        *copy != place && copy.file_name().is_some_and(|name| name.to_string_lossy().starts_with(&prefix))
    });
    copies.sort();
    let surplus = (copies.len() + 1).saturating_sub(COPIES);
    for old in &copies[..surplus] {
        fs::remove_file(old)?;
    }
    Ok(place)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn home() -> (tempfile::TempDir, Home) {
        let dir = tempfile::tempdir().expect("a folder");
        let home = Home { content: dir.path().to_owned(), language: None };
        (dir, home)
    }

    #[test]
    fn what_is_replaced_is_kept_and_what_was_changed_is_left() {
        let (dir, home) = home();
        let path = dir.path().join("prices.csv");
        fs::write(&path, "one").expect("room");
        assert!(matches!(rewrite(&home, "prices.csv", &seen(Some(b"other")), b"two"), Err(Fault::Meanwhile(_))));
        assert!(matches!(rewrite(&home, "prices.csv", "", b"two"), Err(Fault::Meanwhile(_))));
        assert_eq!(fs::read(&path).expect("there"), b"one");
        let now = rewrite(&home, "prices.csv", &seen(Some(b"one")), b"two").expect("as it was seen");
        assert_eq!((now, fs::read(&path).expect("there")), (seen(Some(b"two")), b"two".to_vec()));
        let kept: Vec<_> = fs::read_dir(dir.path().join(KEPT)).expect("kept").map(|e| e.expect("one").path()).collect();
        let copies: Vec<_> = kept.iter().filter(|p| p.to_string_lossy().contains("prices.csv.")).collect();
        assert_eq!(copies.len(), 1);
        assert_eq!(fs::read(copies[0]).expect("there"), b"one");
    }

    #[test]
    fn copies_are_bounded() {
        let (dir, home) = home();
        fs::write(dir.path().join("a.csv"), "0").expect("room");
        let mut before = "0".to_owned();
        for round in 1..40 {
            let after = round.to_string();
            rewrite(&home, "a.csv", &seen(Some(before.as_bytes())), after.as_bytes()).expect("as it was seen");
            before = after;
        }
        let kept = fs::read_dir(dir.path().join(KEPT)).expect("kept").count();
        assert_eq!(kept, COPIES + 1, "the copies and what hides them from a repository");
    }

    #[cfg(unix)]
    #[test]
    fn no_link_leads_out() {
        let (dir, home) = home();
        let elsewhere = tempfile::tempdir().expect("a folder");
        fs::write(elsewhere.path().join("a.csv"), "theirs").expect("room");
        std::os::unix::fs::symlink(elsewhere.path().join("a.csv"), dir.path().join("a.csv")).expect("a link");
        assert!(rewrite(&home, "a.csv", &seen(Some(b"theirs")), b"mine").is_err());
        assert_eq!(fs::read(elsewhere.path().join("a.csv")).expect("there"), b"theirs");
    }
}
