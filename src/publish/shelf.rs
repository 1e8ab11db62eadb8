//! New files beside the creator's own, under names that nobody has taken: nothing is ever overwritten.
//! Must not know what a file says.

use super::folder::fault;
use crate::diag::Findings;
use crate::draft::draft;
use std::fs;
use std::io::{self, ErrorKind, Write as _};
use std::path::{Path, PathBuf};

/// Puts `bytes` in `folder` under the first of `names` that is free, and answers its path. The folder is made where it
/// is missing; the file is there whole or not at all.
///
/// # Errors
/// A folder that is a link or no folder, one that can't be written to, or no free name.
pub fn shelve(folder: &Path, names: impl IntoIterator<Item = String>, bytes: &[u8]) -> Result<PathBuf, Findings> {
    let cannot = |error: io::Error| {
        let message = format!("cannot write in `{}`: {error}", folder.display());
        fault("output-failed", message, "check the folder's permissions and the free space, then run it again")
    };
    match fs::symlink_metadata(folder) {
        Ok(meta) if meta.is_dir() => {}
        Ok(_) => {
            let message = format!("`{}` is not a plain folder", folder.display());
            return Err(fault("output-elsewhere", message, "files would land elsewhere: move it away"));
        }
        Err(error) if error.kind() == ErrorKind::NotFound => fs::create_dir(folder).map_err(cannot)?,
        Err(error) => return Err(cannot(error)),
    }
    let mut staged = draft(folder, "").map_err(cannot)?;
    staged.write_all(bytes).map_err(cannot)?;
    #[cfg(unix)]
    {
        // A staged file is its owner's alone; a kept one is as readable as any.
        use std::os::unix::fs::PermissionsExt as _;
        fs::set_permissions(staged.path(), fs::Permissions::from_mode(0o644)).map_err(cannot)?;
    }
    staged.as_file().sync_all().map_err(cannot)?;
    for name in names {
        let path = folder.join(name);
        match staged.persist_noclobber(&path) {
            Ok(_) => return Ok(path),
            Err(taken) if taken.error.kind() == ErrorKind::AlreadyExists => staged = taken.file,
            Err(failed) => return Err(cannot(failed.error)),
        }
    }
    Err(cannot(io::Error::from(ErrorKind::AlreadyExists)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names() -> impl Iterator<Item = String> {
        ["a", "b"].into_iter().map(str::to_owned)
    }

    #[test]
    fn what_is_there_stays_as_it_is() {
        let dir = tempfile::tempdir().expect("a folder");
        let folder = dir.path().join("slates");
        assert_eq!(shelve(&folder, names(), b"one").expect("room"), folder.join("a"));
        assert_eq!(shelve(&folder, names(), b"two").expect("room"), folder.join("b"));
        assert!(shelve(&folder, names(), b"three").is_err());
        let text = |name: &str| fs::read_to_string(folder.join(name)).expect("there");
        assert_eq!((text("a"), text("b")), ("one".to_owned(), "two".to_owned()));
        assert_eq!(fs::read_dir(&folder).expect("there").count(), 2, "no staged file is left");
    }

    #[cfg(unix)]
    #[test]
    fn a_link_leads_nowhere() {
        let dir = tempfile::tempdir().expect("a folder");
        let elsewhere = tempfile::tempdir().expect("a folder");
        let folder = dir.path().join("slates");
        std::os::unix::fs::symlink(elsewhere.path(), &folder).expect("a link");
        assert!(shelve(&folder, names(), b"one").is_err());
        assert_eq!(fs::read_dir(elsewhere.path()).expect("there").count(), 0);
    }
}
