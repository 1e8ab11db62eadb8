//! The texts that spans point into: paths, contents, and where a byte stands in lines and columns.
//! Must not know how a text is read or what it means.

use super::{SourceId, Span};

/// One source text.
#[derive(Clone, Debug)]
pub struct Text {
    /// Its path below the channel's folder, with `/` between folders.
    pub path: String,
    /// Its content, a byte-order mark included.
    pub content: String,
    line_starts: Vec<usize>,
    /// Whether it stands outside the channel's folder.
    apart: bool,
}

/// Where a byte stands: the path to show, line and column from 1, columns counted in characters.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Place {
    /// The channel's folder as it was given, and the path below it.
    pub path: String,
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1; a byte-order mark is none.
    pub column: usize,
}

/// Every source text of a run by its id.
#[derive(Clone, Debug, Default)]
pub struct Texts {
    root: String,
    list: Vec<Text>,
}

impl Texts {
    /// No texts yet, below the folder `root` as the user wrote it.
    pub fn new(root: impl Into<String>) -> Self {
        Self { root: root.into(), list: Vec::new() }
    }

    /// How many texts there are: the id of the next.
    pub fn len(&self) -> u32 {
        u32::try_from(self.list.len()).unwrap_or(u32::MAX)
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// Adds a text and answers its id.
    pub fn add(&mut self, path: impl Into<String>, content: impl Into<String>) -> SourceId {
        let content = content.into();
        let line_starts = std::iter::once(0).chain(content.match_indices('\n').map(|(at, _)| at + 1)).collect();
        let id = SourceId(self.len());
        self.list.push(Text { path: path.into(), content, line_starts, apart: false });
        id
    }

    /// Adds a text that stands outside the channel's folder, at a path as the user wrote it.
    pub fn add_apart(&mut self, path: impl Into<String>, content: impl Into<String>) -> SourceId {
        let id = self.add(path, content);
        if let Some(text) = self.list.last_mut() {
            text.apart = true;
        }
        id
    }

    /// The text of that id.
    pub fn get(&self, id: SourceId) -> Option<&Text> {
        self.list.get(id.0 as usize)
    }

    /// The id of the text at that path below the channel's folder.
    pub fn find(&self, path: &str) -> Option<SourceId> {
        let at = self.list.iter().position(|text| !text.apart && text.path == path)?;
        u32::try_from(at).ok().map(SourceId)
    }

    /// The texts of the channel's folder whose path ends so, with their ids.
    pub fn ending(&self, end: &str) -> impl Iterator<Item = (SourceId, &Text)> {
        let ids = (0..).map(SourceId);
        ids.zip(&self.list).filter(move |(_, text)| !text.apart && text.path.ends_with(end))
    }

    /// The texts of a folder in the channel's with their ids, in the order that they were added; an empty name is the
    /// channel's own folder, without those in it.
    pub fn within(&self, folder: &str) -> impl Iterator<Item = (SourceId, &Text)> {
        let inside = move |path: &str| match folder {
            "" => !path.contains('/'),
            _ => path.strip_prefix(folder).is_some_and(|rest| rest.starts_with('/')),
        };
        (0..).map(SourceId).zip(&self.list).filter(move |(_, text)| !text.apart && inside(&text.path))
    }

    /// What stands at `span`; empty where the span does not fit its text.
    pub fn slice(&self, span: Span) -> &str {
        self.get(span.source).and_then(|text| text.content.get(span.start..span.end)).unwrap_or("")
    }

    /// Where `span` starts.
    pub fn place(&self, span: Span) -> Place {
        let Some(text) = self.get(span.source) else {
            return Place { path: self.root.clone(), line: 1, column: 1 };
        };
        let (line, column) = text.position(span.start);
        let path = if text.apart { text.path.clone() } else { self.shown_path(&text.path) };
        Place { path, line, column }
    }

    /// A path below the channel's folder as it is shown.
    pub fn shown_path(&self, path: &str) -> String {
        let root = self.root.trim_end_matches('/');
        if root.is_empty() { path.to_owned() } else { format!("{root}/{path}") }
    }
}

impl Text {
    /// Line and column of a byte, both from 1; beyond the end, those of the end.
    pub fn position(&self, byte: usize) -> (usize, usize) {
        let line = self.line_starts.partition_point(|&start| start <= byte);
        let start = self.line_starts[line - 1];
        let end = floor_boundary(&self.content, byte);
        let before = self.content.get(start..end).unwrap_or("");
        // Characters counted by their first bytes: a line may be long, and have many places.
        let characters = before.bytes().filter(|byte| !matches!(byte, 0x80..=0xbf)).count();
        let column = characters - usize::from(before.starts_with('\u{feff}')) + 1;
        (line, column)
    }

    /// The bytes of a line (from 1) without its line ending.
    pub fn line_range(&self, line: usize) -> std::ops::Range<usize> {
        let start = self.line_starts.get(line.saturating_sub(1)).copied().unwrap_or(self.content.len());
        let end = self.line_starts.get(line).copied().unwrap_or(self.content.len());
        let shown = self.content[start..end].trim_end_matches(['\r', '\n']);
        start..start + shown.len()
    }
}

/// The nearest character boundary at or before `byte`.
fn floor_boundary(text: &str, byte: usize) -> usize {
    let mut at = byte.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_count_characters_and_no_byte_order_mark() {
        let mut texts = Texts::new("content/");
        let id = texts.add("a.toml", "\u{feff}é = 1\r\nü = 2\n");
        let text = texts.get(id).expect("added");
        assert_eq!(text.position(3), (1, 1));
        assert_eq!(text.position(6), (1, 3));
        let second = text.content.find('ü').expect("there");
        assert_eq!(text.position(second + 2), (2, 2));
        assert_eq!(&text.content[text.line_range(1)], "\u{feff}é = 1");
        assert_eq!(texts.place(Span::new(id, 3, 4)).path, "content/a.toml");
        assert_eq!(text.position(999), (3, 1));
    }
}
