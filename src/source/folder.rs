//! Walks a channel's folder in a fixed order and keeps every text in memory.
//! Must not know what a text means, and never reads outside the folder.

use super::{assets, codes};
use crate::diag::{Diagnostic, Findings, did_you_mean, steers};
use crate::span::{SourceId, Span, Texts};
use std::collections::BTreeMap;
use std::fs;
use std::io::Read;
use std::ops::Bound;
use std::path::{Path, PathBuf};

/// The largest source file that is read, in bytes.
pub const FILE_LIMIT: u64 = 16 * 1024 * 1024;
/// The largest file of TOML or Markdown, which take many times their size in memory.
pub const TEXT_LIMIT: u64 = 2 * 1024 * 1024;
/// So many bytes of sources are read in all.
pub const CHANNEL_LIMIT: u64 = 256 * 1024 * 1024;

/// A channel's texts, read once.
#[derive(Clone, Debug, Default)]
pub struct Sources {
    /// The texts, for places in findings.
    pub texts: Texts,
    /// What reading them found.
    pub findings: Findings,
    readable: BTreeMap<String, SourceId>,
    /// All that are text, also where something keeps them from being read.
    held: BTreeMap<String, SourceId>,
    recipes: Vec<String>,
}

impl Sources {
    /// Reads the channel in the folder `root`. What can't be read is a finding.
    pub fn read(root: &Path) -> Self {
        let mut sources = Self::new(root.display().to_string());
        let real_root = match root.canonicalize() {
            Ok(real) if real.is_dir() => real,
            Ok(_) => {
                sources.blame_root(root, "is not a folder");
                return sources;
            }
            Err(error) => {
                sources.blame_root(root, &format!("can't be opened: {error}"));
                return sources;
            }
        };
        let mut walk = Walk::new(real_root.clone());
        walk.top(&real_root);
        sources.findings.extend(walk.findings);
        sources.fill(walk.files);
        sources
    }

    /// A channel from texts in memory, as if they stood in the folder `root`.
    pub fn from_memory<P: Into<String>>(root: &str, files: impl IntoIterator<Item = (P, Vec<u8>)>) -> Self {
        let mut sources = Self::new(root.to_owned());
        let mut files: Vec<(String, Vec<u8>)> = files.into_iter().map(|(path, bytes)| (path.into(), bytes)).collect();
        // As a walk comes by them: `tea/recipe.md` before `tea-loaf/recipe.md`.
        files.sort_by(|(one, _), (other, _)| one.split('/').cmp(other.split('/')));
        sources.fill(files);
        sources
    }

    /// The id and content of a readable file.
    pub fn file(&self, path: &str) -> Option<(SourceId, &str)> {
        let id = *self.readable.get(path)?;
        Some((id, self.texts.get(id)?.content.as_str()))
    }

    /// Paths of all readable files, sorted.
    pub fn paths(&self) -> impl Iterator<Item = &str> {
        self.readable.keys().map(String::as_str)
    }

    /// The paths and contents of all that are text, sorted: also those that findings keep from being read.
    pub fn held(&self) -> impl Iterator<Item = (&str, &str)> {
        self.held.iter().filter_map(|(path, id)| Some((path.as_str(), self.texts.get(*id)?.content.as_str())))
    }

    /// Those that begin so, sorted.
    pub fn paths_from<'a>(&'a self, start: &'a str) -> impl Iterator<Item = &'a str> {
        let from = self.readable.range::<str, _>((Bound::Included(start), Bound::Unbounded));
        from.map(|(path, _)| path.as_str()).take_while(move |path| path.starts_with(start))
    }

    /// Names of the folders that hold a `recipe.md`, sorted; also where it can't be read.
    pub fn recipes(&self) -> &[String] {
        &self.recipes
    }

    fn new(root: String) -> Self {
        Self { texts: Texts::new(root), ..Self::default() }
    }

    fn blame_root(&mut self, root: &Path, what: &str) {
        self.findings.push(Diagnostic {
            code: codes::UNREADABLE,
            severity: crate::diag::Severity::Error,
            span: None,
            message: format!("the channel's folder `{}` {what}", root.display()),
            hint: Some("name the folder that holds `channel.toml` with `--content DIR`".into()),
        });
    }

    fn fill(&mut self, files: Vec<(String, Vec<u8>)>) {
        let names: Vec<String> = files.iter().map(|(path, _)| path.clone()).collect();
        for (path, bytes) in files {
            if let Some(folder) = path.strip_suffix("/recipe.md") {
                self.recipes.push(folder.to_owned());
            }
            self.add(path, bytes);
        }
        if !names.iter().any(|path| path == "channel.toml") {
            let id = self.texts.add("channel.toml", "");
            self.findings.push(
                Diagnostic::error(codes::MISSING_FILE, Span::new(id, 0, 0), "there is no `channel.toml`")
                    .hint("a channel's folder holds a `channel.toml` with at least `name`, `locale` and `currency`"),
            );
        }
        self.warn_of_strays(&names);
    }

    fn add(&mut self, path: String, bytes: Vec<u8>) {
        let (content, fault) = match String::from_utf8(bytes) {
            Ok(content) => (content, None),
            Err(error) => {
                let at = error.utf8_error().valid_up_to();
                let byte = error.as_bytes()[at];
                (String::from_utf8_lossy(error.as_bytes()).into_owned(), Some((at, byte)))
            }
        };
        // A pantry that adds nothing is a pantry; any other empty file is a slip.
        let empty = !path.starts_with("pantry.") && content.trim_start_matches('\u{feff}').trim().is_empty();
        let steering = content.char_indices().find(|(_, c)| steers(*c));
        let id = self.texts.add(path.clone(), content);
        if fault.is_none() {
            self.held.insert(path.clone(), id);
        }
        if let Some((at, byte)) = fault {
            self.findings.push(
                Diagnostic::error(
                    codes::NOT_UTF8,
                    Span::new(id, at, at + 3),
                    format!("byte 0x{byte:02x} is not UTF-8"),
                )
                .hint("save the file as UTF-8"),
            );
        } else if let Some((at, c)) = steering {
            self.findings.push(
                Diagnostic::error(
                    codes::CONTROL_CHARACTER,
                    Span::new(id, at, at + c.len_utf8()),
                    format!("`{path}` holds the control character U+{:04X}", c as u32),
                )
                .hint("take it out: it is not seen, and it would steer what shows it"),
            );
        } else if empty {
            self.findings.push(
                Diagnostic::error(codes::EMPTY_FILE, Span::new(id, 0, 0), format!("`{path}` is empty"))
                    .hint("fill it in or delete it"),
            );
        } else {
            self.readable.insert(path, id);
        }
    }

    /// Files that look like sources but are read by nobody: a slip in a name would be silent otherwise.
    fn warn_of_strays(&mut self, names: &[String]) {
        let orphan = |name: &str| {
            let folder = name.split_once('/').map(|(folder, _)| format!("{folder}/recipe.md"));
            folder.is_some_and(|recipe| !names.contains(&recipe))
        };
        for name in names.iter().filter(|name| !is_source(name) || orphan(name)) {
            let id = match self.readable.remove(name) {
                Some(id) => id,
                None => continue,
            };
            let (folder, file) = name.rsplit_once('/').unwrap_or(("", name));
            let known: &[&str] =
                if folder.is_empty() { &["channel.toml", "pantry.toml", "prices.csv"] } else { &["recipe.md"] };
            let hint = did_you_mean(file, known.iter().copied())
                .unwrap_or_else(|| "rename it to what it should be, or move it out of the channel's folder".into());
            let finding =
                Diagnostic::warning(codes::UNKNOWN_FILE, Span::new(id, 0, 0), format!("nothing reads `{name}`"));
            self.findings.push(finding.hint(hint));
        }
    }
}

/// The most bytes that a source of that name may have.
pub fn most_bytes(path: &str) -> u64 {
    if [".toml", ".md"].iter().any(|end| path.ends_with(end)) { TEXT_LIMIT } else { FILE_LIMIT }
}

/// Whether a path is one of a channel's sources.
fn is_source(path: &str) -> bool {
    let of_language = |name: &str, start: &str, end: &str| {
        name.strip_prefix(start).and_then(|rest| rest.strip_suffix(end)).is_some_and(|middle| {
            middle.is_empty()
                || middle.strip_prefix('.').is_some_and(|language| {
                    (2..=3).contains(&language.len()) && language.bytes().all(|b| b.is_ascii_lowercase())
                })
        })
    };
    match path.split_once('/') {
        None => path == "channel.toml" || path == "prices.csv" || of_language(path, "pantry", ".toml"),
        Some((_, file)) => file == "cues.toml" || of_language(file, "recipe", ".md"),
    }
}

/// Whether a path has the look of a source, so that it is read or its reader told that it is not.
fn looks_like_source(path: &str) -> bool {
    match path.split_once('/') {
        None => path.ends_with(".toml") || path.ends_with(".csv"),
        // A script of the take is read when it is proofed, as captions are.
        Some((_, file)) => file == "cues.toml" || file.ends_with(".md") && file != "script.md",
    }
}

/// Reads a file that stands outside the channel, such as captions.
///
/// Answers `None`, with a finding, where it can't be read or is too large.
pub(super) fn read_bytes(path: &Path, texts: &mut Texts, findings: &mut Findings) -> Option<Vec<u8>> {
    let fault = match read_bounded(path, FILE_LIMIT) {
        Ok(bytes) => return Some(bytes),
        Err(fault) => fault,
    };
    let shown = path.display().to_string();
    let id = texts.add_apart(shown.clone(), "");
    let finding = Diagnostic::error(fault.code, Span::new(id, 0, 0), fault.message(&shown));
    findings.push(finding.hint("give a file of captions or a script"));
    None
}

/// Reads one text that stands outside the channel, such as a price book, into `texts`.
///
/// Answers `None`, with a finding, where it can't be read, is too large or is not UTF-8.
pub fn read_text(path: &Path, texts: &mut Texts, findings: &mut Findings) -> Option<SourceId> {
    let mut lone = Sources::new(String::new());
    let shown = path.display().to_string();
    match read_bounded(path, FILE_LIMIT) {
        Ok(bytes) => lone.add(shown.clone(), bytes),
        Err(fault) => {
            let id = lone.texts.add(shown.clone(), "");
            let finding = Diagnostic::error(fault.code, Span::new(id, 0, 0), fault.message(&shown));
            lone.findings.push(finding.hint("give a table as CSV"));
        }
    }
    let content = lone.texts.get(SourceId(0)).map_or(String::new(), |text| text.content.clone());
    let id = texts.add_apart(shown.clone(), content);
    for finding in lone.findings.sorted() {
        let span = finding.span.map(|span| Span { source: id, ..span });
        findings.push(Diagnostic { span, ..finding.clone() });
    }
    lone.readable.contains_key(&shown).then_some(id)
}

/// Why a file was not read.
struct Unread {
    code: &'static str,
    why: String,
}

impl Unread {
    fn message(&self, path: &str) -> String {
        format!("`{path}` {}", self.why)
    }
}

/// The bytes of a file of at most `most` bytes; `None` for any other and where it can't be read.
pub fn read_within(path: &Path, most: u64) -> Option<Vec<u8>> {
    read_bounded(path, most).ok()
}

fn read_bounded(path: &Path, most: u64) -> Result<Vec<u8>, Unread> {
    let unreadable = |error: std::io::Error| Unread { code: codes::UNREADABLE, why: format!("can't be read: {error}") };
    // Asked before it is opened: a pipe would keep who opens it waiting.
    if !fs::metadata(path).map_err(unreadable)?.is_file() {
        return Err(Unread { code: codes::UNREADABLE, why: "is not a file".into() });
    }
    let file = fs::File::open(path).map_err(unreadable)?;
    let mut bytes = Vec::new();
    file.take(most + 1).read_to_end(&mut bytes).map_err(unreadable)?;
    if bytes.len() as u64 > most {
        let why = format!("is larger than {} MiB", most / 1024 / 1024);
        return Err(Unread { code: codes::FILE_TOO_LARGE, why });
    }
    Ok(bytes)
}

/// What a folder holds.
struct Entry {
    name: String,
    path: PathBuf,
    /// Whether it is a link.
    linked: bool,
}

/// A walk over the top folder and the recipe folders in it.
pub(super) struct Walk {
    root: PathBuf,
    pub(super) files: Vec<(String, Vec<u8>)>,
    pub(super) findings: Findings,
    /// So many bytes may still be read.
    room: u64,
    full: bool,
}

impl Walk {
    /// A walk that stays in `root`, a path without links.
    pub(super) fn new(root: PathBuf) -> Self {
        Self { root, files: Vec::new(), findings: Findings::new(), room: CHANNEL_LIMIT, full: false }
    }

    /// Every file of a folder and of those in it.
    pub(super) fn tree(&mut self, folder_name: &str, folder: &Path) {
        for Entry { name, path, linked } in self.entries(folder) {
            let relative = format!("{folder_name}/{name}");
            match path.is_dir() {
                // A link could lead round in a circle.
                true if !linked => self.tree(&relative, &path),
                true => {}
                false => self.file(relative, &path, true),
            }
        }
    }

    fn top(&mut self, folder: &Path) {
        for Entry { name, path, linked } in self.entries(folder) {
            if path.is_dir() && !looks_like_source(&name) {
                if !assets::FOLDERS.contains(&name.as_str()) && (!linked || self.inside(&name, &path)) {
                    self.recipe_folder(&name, &path, linked);
                }
            } else if looks_like_source(&name) {
                self.file(name, &path, linked);
            }
        }
    }

    fn recipe_folder(&mut self, folder_name: &str, folder: &Path, from_link: bool) {
        for Entry { name, path, linked } in self.entries(folder) {
            let relative = format!("{folder_name}/{name}");
            if looks_like_source(&relative) {
                self.file(relative, &path, from_link || linked);
            }
        }
    }

    /// The entries of a folder by name; hidden ones are nobody's business.
    fn entries(&mut self, folder: &Path) -> Vec<Entry> {
        let listed = fs::read_dir(folder).and_then(Iterator::collect::<Result<Vec<_>, _>>);
        let mut entries: Vec<Entry> = match listed {
            Ok(list) => list.iter().filter_map(|entry| self.named(entry)).collect(),
            Err(error) => {
                self.blame(codes::UNREADABLE, format!("`{}` can't be read: {error}", folder.display()));
                Vec::new()
            }
        };
        entries.retain(|entry| !entry.name.starts_with('.'));
        entries.sort_by(|a, b| a.name.cmp(&b.name));
        entries
    }

    /// An entry's name and path. One that is not UTF-8 can't be asked for: it is nobody's, unless it holds a recipe.
    fn named(&mut self, entry: &fs::DirEntry) -> Option<Entry> {
        let (name, path) = (entry.file_name(), entry.path());
        if name.to_str().is_none() && path.join("recipe.md").exists() {
            let message = format!("the folder `{}` has a name that is not UTF-8", name.to_string_lossy());
            self.findings.push(Diagnostic {
                code: codes::NOT_UTF8,
                severity: crate::diag::Severity::Error,
                span: None,
                message,
                hint: Some("rename it: lower-case letters and digits with hyphens between words".into()),
            });
        }
        // Where the system does not say what it is, it may be a link.
        let linked = entry.file_type().map_or(true, |kind| kind.is_symlink());
        Some(Entry { name: name.into_string().ok()?, path, linked })
    }

    /// A file that, where a link is on the way to it, may lead out.
    fn file(&mut self, relative: String, path: &Path, linked: bool) {
        if linked && !self.inside(&relative, path) {
            return;
        }
        match read_bounded(path, most_bytes(&relative)) {
            Ok(bytes) if self.room < bytes.len() as u64 => {
                // Told once, at the file that goes beyond.
                if !std::mem::replace(&mut self.full, true) {
                    let most = CHANNEL_LIMIT / 1024 / 1024;
                    self.blame(
                        codes::FILE_TOO_LARGE,
                        format!("with `{relative}` the channel has more than {most} MiB of sources"),
                    );
                }
            }
            Ok(bytes) => {
                self.room -= bytes.len() as u64;
                self.files.push((relative, bytes));
            }
            Err(fault) => self.blame(fault.code, fault.message(&relative)),
        }
    }

    /// Whether a path, its links followed, stays in the channel's folder.
    fn inside(&mut self, relative: &str, path: &Path) -> bool {
        match path.canonicalize() {
            Ok(real) if real.starts_with(&self.root) => true,
            Ok(_) => {
                self.blame(codes::OUTSIDE_FOLDER, format!("`{relative}` leads out of the channel's folder"));
                false
            }
            Err(error) => {
                self.blame(codes::UNREADABLE, format!("`{relative}` can't be read: {error}"));
                false
            }
        }
    }

    fn blame(&mut self, code: &'static str, message: String) {
        self.findings.push(Diagnostic {
            code,
            severity: crate::diag::Severity::Error,
            span: None,
            message,
            hint: Some("put a plain file of the channel's own there".into()),
        });
    }
}
