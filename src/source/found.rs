//! Files of other people's folders, such as an edit project: found by their endings and read whole, or passed by.
//! Must not know what is in them.

use super::folder::read_within;
use std::fs;
use std::path::{Path, PathBuf};

/// The largest file that is read, in bytes: more than any picture of 8192 by 8192 pixels of ours.
const MOST: u64 = 256 << 20;
/// Folders in folders beyond this depth are passed by.
const DEEPEST: usize = 64;

/// What a search found.
#[derive(Clone, Debug, Default)]
pub struct Found {
    /// Files of the wanted endings, each once, sorted by path.
    pub files: Vec<PathBuf>,
    /// What could not be listed, and why.
    pub closed: Vec<String>,
}

/// Every file in or below `paths` whose name ends in one of `endings` (without the dot, any case). Links to folders are
/// not followed, hidden folders are passed by.
pub fn find(paths: &[PathBuf], endings: &[&str]) -> Found {
    let mut found = Found::default();
    for path in paths {
        walk(path, endings, 0, &mut found);
    }
    found.files.sort();
    found.files.dedup();
    found
}

fn walk(path: &Path, endings: &[&str], depth: usize, found: &mut Found) {
    if !path.is_dir() {
        let ending = path.extension().and_then(|ending| ending.to_str()).map(str::to_ascii_lowercase);
        if ending.is_some_and(|ending| endings.contains(&ending.as_str())) {
            found.files.push(path.to_owned());
        }
        return;
    }
    match fs::read_dir(path).and_then(Iterator::collect::<Result<Vec<_>, _>>) {
        Ok(entries) => {
            for entry in entries {
                let (inner, hidden) = (entry.path(), entry.file_name().to_string_lossy().starts_with('.'));
                let circle = inner.is_dir() && (inner.is_symlink() || depth >= DEEPEST);
                if !hidden && !circle {
                    walk(&inner, endings, depth + 1, found);
                }
            }
        }
        Err(error) => found.closed.push(format!("`{}` can't be listed: {error}", path.display())),
    }
}

/// The bytes of a found file; `None` if it can't be read or is too large to be one of ours.
pub fn read_found(path: &Path) -> Option<Vec<u8>> {
    read_within(path, MOST)
}
