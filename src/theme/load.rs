//! From the files of a folder to a theme: what is built in, what lies over it, and everything that is wrong with it.
//! Must not know the disk.

use std::borrow::Cow;
use std::collections::{BTreeMap, HashMap};
use std::sync::{Arc, Mutex};

use super::read::{self, Entries, Entry, Reader};
use super::template::Template;
use super::tokens::{Face, Tokens};
use super::{Drawing, NAMES, Plate, Theme, builtin_files};
use crate::diag::{Diagnostic, Findings};
use crate::draw::{Art, Colour, DrawError, FontBook, TextStyle};
use crate::span::{SourceId, Span, Spanned};

/// A file of a theme's folder.
#[derive(Clone, Debug)]
pub struct ThemeFile {
    /// Its path in the folder, with `/`: `theme.toml`, `art/list.svg`, `fonts/Name-Bold.ttf`.
    pub path: String,
    /// Its id for diagnostics; `None` for a file of the binary.
    pub source: Option<SourceId>,
    /// Its bytes.
    pub bytes: Cow<'static, [u8]>,
}

impl ThemeFile {
    fn span(&self, start: usize, end: usize, home: Span) -> Span {
        self.source.map_or(home, |source| Span::new(source, start, end))
    }
}

/// Loads the theme that a channel chose.
///
/// `own` are the files of the channel's `themes/NAME/`, if there is such a folder. They lie over the built-in theme of
/// that name, or over the one that their `theme.toml` names as its `base`: a colour, a drawing or a font is enough.
/// Fonts that no style names stand in for characters that the styles' fonts lack.
///
/// `None` if anything is wrong; `findings` then says what and where.
pub fn load(choice: &Spanned<String>, own: Option<&[ThemeFile]>, findings: &mut Findings) -> Option<Theme> {
    let mut found = Findings::new();
    let theme = Loader { name: &choice.value, home: choice.span, findings: &mut found }.load(own);
    let failed = found.has_errors();
    findings.extend(found);
    theme.filter(|_| !failed)
}

struct Loader<'a> {
    name: &'a str,
    /// Where the theme is chosen: the place of faults that are in no file of the channel.
    home: Span,
    findings: &'a mut Findings,
}

impl Loader<'_> {
    fn load(&mut self, own: Option<&[ThemeFile]>) -> Option<Theme> {
        let own = own.unwrap_or_default();
        let own_entries = self.entries(own);
        let base = self.base(&own_entries, own.is_empty())?;
        let mut entries = self.entries(&base);
        entries.extend(own_entries);
        let mut files: BTreeMap<&str, &ThemeFile> = base.iter().map(|file| (file.path.as_str(), file)).collect();
        files.extend(own.iter().map(|file| (file.path.as_str(), file)));

        let home =
            own.iter().find(|file| file.path == "theme.toml").map_or(self.home, |file| file.span(0, 0, self.home));
        let tokens = Reader { entries: &entries, home, findings: self.findings }.tokens();
        let fonts = self.fonts(&files);
        let templates = self.templates(&files);
        let drawings = self.drawings(&files);
        let mut tokens = tokens?;
        self.fit_faces(&mut tokens, &fonts, &entries);
        Some(Theme {
            name: self.name.to_owned(),
            tokens,
            fonts,
            templates,
            drawings,
            panels: Mutex::new(HashMap::new()),
        })
    }

    fn entries(&mut self, files: &[ThemeFile]) -> Entries {
        let Some(file) = files.iter().find(|file| file.path == "theme.toml") else { return Entries::new() };
        let home = self.home;
        match std::str::from_utf8(&file.bytes) {
            Ok(text) => read::entries(text, &|start, end| file.span(start, end, home), self.findings),
            Err(error) => {
                let at = error.valid_up_to();
                let message = "`theme.toml` is not UTF-8 text".to_owned();
                let finding = Diagnostic::error("theme-syntax", file.span(at, at + 1, home), message);
                self.findings.push(finding.hint("save it as UTF-8"));
                Entries::new()
            }
        }
    }

    /// The built-in files that the theme starts from; none for a theme that is all the channel's own.
    fn base(&mut self, entries: &Entries, nothing_own: bool) -> Option<Vec<ThemeFile>> {
        let (name, place) = match entries.get("base") {
            Some((Entry::Text(name), place)) => (name.as_str(), *place),
            Some((Entry::Whole(_) | Entry::Switch(_) | Entry::List(_), place)) => ("", *place),
            None => (self.name, self.home),
        };
        let files = builtin_files(name);
        if files.is_none() && (nothing_own || entries.contains_key("base")) {
            let message = format!("there is no theme `{name}`");
            let hint = format!("use `{}`, or make a folder `themes/{name}` in the channel", NAMES.join("` or `"));
            self.findings.push(Diagnostic::error("theme-unknown", place, message).hint(hint));
            return None;
        }
        Some(files.unwrap_or_default())
    }

    fn fonts(&mut self, files: &BTreeMap<&str, &ThemeFile>) -> FontBook {
        let mut book = FontBook::new();
        let is_font = |path: &str| {
            let path = path.to_ascii_lowercase();
            path.starts_with("fonts/") && [".ttf", ".otf", ".ttc", ".otc"].iter().any(|end| path.ends_with(end))
        };
        for file in files.values().filter(|file| is_font(&file.path)) {
            // Every font also stands in for the others: a style asks for its own family first.
            if let Err(error) = book.add_fallback(&file.path, file.bytes.clone()) {
                let finding = Diagnostic::error("theme-font", file.span(0, 0, self.home), error.to_string());
                self.findings.push(finding.hint("replace the file or take it out"));
            }
        }
        book
    }

    fn art(&mut self, path: &str, files: &BTreeMap<&str, &ThemeFile>) -> Option<(Arc<Art>, String)> {
        let Some(file) = files.get(path) else {
            let message = format!("the theme has no `{path}`");
            let hint = "add the drawing, or take the rest from another theme with `base = \"harbour\"`";
            self.findings.push(Diagnostic::error("theme-missing", self.home, message).hint(hint));
            return None;
        };
        let Ok(text) = std::str::from_utf8(&file.bytes) else {
            let finding =
                Diagnostic::error("theme-art", file.span(0, 0, self.home), format!("`{path}` is not UTF-8 text"));
            self.findings.push(finding.hint("save it as plain SVG"));
            return None;
        };
        match Art::parse(path, text) {
            Ok(art) => Some((art, text.to_owned())),
            Err(error) => {
                self.bad_art(file, text, &error);
                None
            }
        }
    }

    fn bad_art(&mut self, file: &ThemeFile, text: &str, error: &DrawError) {
        let (start, end) = match error {
            DrawError::BadArt { line: Some(line), .. } => line_bytes(text, *line as usize),
            _ => (0, 0),
        };
        self.findings.push(Diagnostic::error("theme-art", file.span(start, end, self.home), error.to_string()));
    }

    fn templates(&mut self, files: &BTreeMap<&str, &ThemeFile>) -> HashMap<Plate, Template> {
        let mut templates = HashMap::new();
        for &plate in Plate::ALL {
            let Some((art, text)) = self.art(plate.file(), files) else { continue };
            let ids = art.slot_ids();
            let file = files[plate.file()];
            let missing: Vec<&str> = plate.slots().iter().copied().filter(|slot| !ids.contains(slot)).collect();
            if !missing.is_empty() {
                let message = format!("`{}` has no rectangle with the id `{}`", plate.file(), missing.join("`, `"));
                let hint = "draw a `<rect id=\"…\" x=\"…\" y=\"…\" width=\"…\" height=\"…\" fill=\"none\"/>` for it";
                let finding = Diagnostic::error("theme-slot", file.span(0, 0, self.home), message);
                self.findings.push(finding.hint(hint));
                continue;
            }
            match Template::new(plate.file(), &text, &art) {
                Ok(template) => {
                    templates.insert(plate, template);
                }
                Err(error) => self.bad_art(file, &text, &error),
            }
        }
        templates
    }

    fn drawings(&mut self, files: &BTreeMap<&str, &ThemeFile>) -> HashMap<Drawing, Arc<Art>> {
        Drawing::ALL
            .iter()
            .filter_map(|&drawing| self.art(drawing.file(), files).map(|(art, _)| (drawing, art)))
            .collect()
    }

    /// Learns each face's proportions from its font, which must be there.
    fn fit_faces(&mut self, tokens: &mut Tokens, fonts: &FontBook, entries: &Entries) {
        for (name, face) in tokens.style.faces_mut() {
            let style =
                TextStyle { italic: face.italic, ..TextStyle::new(&face.family, face.weight, 1000.0, Colour::BLACK) };
            match fonts.metrics(&style) {
                Ok(metrics) => face.em = 1000.0 / metrics.cap_height,
                Err(error) => {
                    let key = format!("style.{name}.family");
                    let place = entries.get(&key).map_or(self.home, |(_, place)| *place);
                    let finding = Diagnostic::error("theme-font", place, error.to_string());
                    self.findings.push(finding.hint("put the font's TTF or OTF file in the theme's `fonts` folder"));
                }
            }
        }
    }
}

/// First and last byte of a line, counted from 1.
fn line_bytes(text: &str, line: usize) -> (usize, usize) {
    let start = text.split_inclusive('\n').take(line.saturating_sub(1)).map(str::len).sum();
    let length = text[start..].lines().next().map_or(0, str::len);
    (start, start + length)
}

impl super::tokens::Styles {
    /// Every face with its key.
    fn faces_mut(&mut self) -> [(&'static str, &mut Face); 6] {
        [
            ("hero", &mut self.hero),
            ("display", &mut self.display),
            ("name", &mut self.name),
            ("amount", &mut self.amount),
            ("note", &mut self.note),
            ("label", &mut self.label),
        ]
    }
}
