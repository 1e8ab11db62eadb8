//! Files on their way: written beside their place under a name that nothing reads, then renamed there or read back.
//! One that a killed run left is swept by the next that writes in that folder. Must not know what is written.

use std::fs::{self, File};
use std::io;
use std::path::Path;
use tempfile::NamedTempFile;

/// What their names begin with: hidden, and no name of anything that is kept.
const PREFIX: &str = ".tallyspoon-";
/// So many letters and digits follow.
const LETTERS: usize = 6;

/// A new file in `folder` whose name ends with `ending`; it goes away with what is answered unless it is renamed.
///
/// # Errors
/// A folder that can't be written to.
pub fn draft(folder: &Path, ending: &str) -> io::Result<NamedTempFile> {
    sweep(folder);
    let mut builder = tempfile::Builder::new();
    builder.prefix(PREFIX).rand_bytes(LETTERS).suffix(ending);
    // Another run may sweep a file between its making and its lock.
    loop {
        let file = builder.tempfile_in(folder)?;
        hold(file.as_file());
        if file.path().exists() {
            return Ok(file);
        }
    }
}

/// Marks a file as one that somebody is writing. Where files can't be locked, nothing is swept either.
fn hold(file: &File) {
    // Elsewhere a lock would keep the program out that writes to the file by its name.
    if cfg!(unix) {
        let _ = file.lock();
    }
}

/// Removes what runs left that were killed: a lock ends with who held it.
fn sweep(folder: &Path) {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    for entry in entries.filter(|entry| cfg!(unix) && is_draft(&entry.file_name().to_string_lossy())) {
        let path = entry.path();
        let plain = fs::symlink_metadata(&path).is_ok_and(|meta| meta.is_file());
        // Held while it goes, so that its maker, if there is one yet, sees it gone.
        if plain
            && let Ok(file) = File::open(&path)
            && file.try_lock().is_ok()
        {
            let _ = fs::remove_file(&path);
        }
    }
}

fn is_draft(name: &str) -> bool {
    name.strip_prefix(PREFIX).is_some_and(|rest| {
        let letters = rest.split('.').next().unwrap_or(rest);
        letters.len() == LETTERS && letters.bytes().all(|letter| letter.is_ascii_alphanumeric())
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(folder: &Path) -> Vec<String> {
        let mut names: Vec<String> = fs::read_dir(folder)
            .expect("there")
            .map(|e| e.expect("one").file_name().into_string().expect("ours"))
            .collect();
        names.sort();
        names
    }

    #[cfg(unix)]
    #[test]
    fn what_a_killed_run_left_is_swept_and_nothing_else() {
        let folder = tempfile::tempdir().expect("a folder");
        let others = [".tallyspoon-abc", ".tallyspoon-abcdef-x", ".tallyspoon.json", "notes.txt", ".tallyspoon-abc+ef"];
        for name in others.iter().chain(&[".tallyspoon-abcdef", ".tallyspoon-abc123.mp4"]) {
            fs::write(folder.path().join(name), "left").expect("room");
        }
        std::os::unix::fs::symlink("notes.txt", folder.path().join(".tallyspoon-linked")).expect("a link");
        let at_work = draft(folder.path(), ".mov").expect("room");
        let second = draft(folder.path(), "").expect("room");
        let mut expected: Vec<String> = others.iter().map(|name| (*name).to_owned()).collect();
        expected.push(".tallyspoon-linked".to_owned());
        for file in [&at_work, &second] {
            expected.push(file.path().file_name().expect("named").to_string_lossy().into_owned());
        }
        expected.sort();
        assert_eq!(names(folder.path()), expected);
        assert!(at_work.path().to_string_lossy().ends_with(".mov"));
        drop((at_work, second));
        assert_eq!(names(folder.path()).len(), others.len() + 1, "what is let go of is gone");
    }

    #[cfg(unix)]
    #[test]
    fn many_at_once_leave_each_other_alone() {
        let folder = tempfile::tempdir().expect("a folder");
        std::thread::scope(|scope| {
            for thread in 0..4 {
                let folder = folder.path();
                scope.spawn(move || {
                    for round in 0..200 {
                        let file = draft(folder, "").expect("room");
                        let place = folder.join(format!("{thread}-{round}"));
                        file.persist(&place).expect("still there");
                    }
                });
            }
        });
        assert_eq!(names(folder.path()).len(), 800);
    }
}
