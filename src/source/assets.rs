//! Reads folders of a channel that hold no recipe: a theme's artwork and fonts, templates.
//! Must not know what they are for.

use super::folder::Walk;
use crate::diag::Findings;
use crate::span::{SourceId, Texts};
use std::path::Path;

/// The folders of a channel that are read as assets and never as recipes.
pub const FOLDERS: [&str; 2] = ["themes", "templates"];

/// A file as it is, text or not.
#[derive(Clone, Debug)]
pub struct Asset {
    /// Its path below the folder that was read, with `/` between names.
    pub path: String,
    /// Its id for findings; its text is empty if it is none.
    pub source: SourceId,
    /// Its bytes.
    pub bytes: Vec<u8>,
}

/// Every file below `folder` of the channel `root`, sorted by path; none if there is no such folder.
pub fn assets(root: &Path, folder: &str, texts: &mut Texts, findings: &mut Findings) -> Vec<Asset> {
    let plain = folder.split('/').all(|name| !name.is_empty() && !name.starts_with('.') && !name.contains('\\'));
    if !plain || !root.join(folder).is_dir() {
        return Vec::new();
    }
    let Ok(real) = root.canonicalize() else { return Vec::new() };
    let top = real.join(folder);
    let mut walk = Walk::new(real);
    walk.tree(folder, &top);
    findings.extend(walk.findings);
    walk.files
        .into_iter()
        .map(|(path, bytes)| {
            let text = std::str::from_utf8(&bytes).unwrap_or("");
            let source = texts.add(path.clone(), text);
            let path = path.strip_prefix(folder).unwrap_or(&path).trim_start_matches('/').to_owned();
            Asset { path, source, bytes }
        })
        .collect()
}
