//! A file of the creator's own given a new text, in one move. Must not know what it says.

use super::folder::fault;
use crate::diag::Findings;
use crate::draft::draft;
use std::fs;
use std::io::{self, Write as _};
use std::path::Path;

/// Puts `after` in place of the file at `path`, which must still hold `before` (`None` where there is none yet).
///
/// The text is written beside it and renamed, so the file is old or new at any moment; its permissions stay, and a link
/// is followed.
///
/// # Errors
/// A file that someone changed meanwhile, that is none, or that can't be written; it is as it was then.
pub fn replace(path: &Path, before: Option<&[u8]>, after: &[u8]) -> Result<(), Findings> {
    let cannot = |error: io::Error| {
        let message = format!("cannot write `{}`: {error}", path.display());
        fault("output-failed", message, "check the folder's permissions and the free space, then run it again")
    };
    let real = path.canonicalize().unwrap_or_else(|_| path.to_owned());
    // A device or a pipe is nobody's text: reading it may never end, and a file must not take its place.
    if fs::metadata(&real).is_ok_and(|there| !there.is_file()) {
        let message = format!("`{}` is no plain file", path.display());
        return Err(fault("foreign-file", message, "nothing was written: give a file's name"));
    }
    let there = match fs::read(&real) {
        Ok(bytes) => Some(bytes),
        Err(error) if error.kind() == io::ErrorKind::NotFound => None,
        Err(error) => return Err(cannot(error)),
    };
    if there.as_deref() != before {
        let message = format!("`{}` was changed while this ran", path.display());
        return Err(fault("changed-meanwhile", message, "nothing was written: run it again"));
    }
    let folder = real.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let mut staged = draft(folder, "").map_err(cannot)?;
    staged.write_all(after).map_err(cannot)?;
    match fs::metadata(&real) {
        Ok(meta) => fs::set_permissions(staged.path(), meta.permissions()).map_err(cannot)?,
        Err(_) => open_to_all(staged.path()).map_err(cannot)?,
    }
    staged.as_file().sync_all().map_err(cannot)?;
    staged.persist(&real).map_err(|error| cannot(error.error))?;
    Ok(())
}

/// A new file is as readable as any: a staged one is its owner's alone.
fn open_to_all(path: &Path) -> io::Result<()> {
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt as _;
        fs::set_permissions(path, fs::Permissions::from_mode(0o644))?;
    }
    #[cfg(not(unix))]
    let _ = path;
    Ok(())
}
