//! TOML as a tree whose every key and value knows its bytes; numbers stay the text that was written.
//! Must not know which keys there may be.

use super::codes;
use crate::diag::{Diagnostic, Findings};
use crate::span::{SourceId, Span, Spanned};
use ::toml::de::{DeTable, DeValue};

/// A table's entries in the order written.
#[derive(Clone, Debug)]
pub struct Table {
    /// Its entries.
    pub entries: Vec<Entry>,
    /// Where it stands: its braces or its header.
    pub span: Span,
    /// Whether it was written in braces.
    pub inline: bool,
    /// Whether all of it could be read: what is missing from one that is not may be written all the same.
    pub whole: bool,
}

/// A key and its value.
#[derive(Clone, Debug)]
pub struct Entry {
    /// The key.
    pub key: Spanned<String>,
    /// Its value.
    pub value: Spanned<Value>,
}

/// A TOML value.
#[derive(Clone, Debug)]
pub enum Value {
    /// A string.
    Text(String),
    /// An integer or a float, as written.
    Number(String),
    /// `true` or `false`.
    Flag(bool),
    /// A date or a time, as written.
    Date(String),
    /// An array.
    List(Vec<Spanned<Value>>),
    /// A table.
    Table(Table),
}

impl Table {
    /// The value of a key.
    pub fn get(&self, key: &str) -> Option<&Spanned<Value>> {
        self.entry(key).map(|entry| &entry.value)
    }

    /// The entry of a key.
    pub fn entry(&self, key: &str) -> Option<&Entry> {
        self.entries.iter().find(|entry| entry.key.value == key)
    }
}

impl Value {
    /// What it is, for a message: "a text", "a number".
    pub fn kind(&self) -> &'static str {
        match self {
            Self::Text(_) => "a text",
            Self::Number(_) => "a number",
            Self::Flag(_) => "true or false",
            Self::Date(_) => "a date",
            Self::List(_) => "a list",
            Self::Table(_) => "a table",
        }
    }
}

/// Reads the TOML that stands at `range` of `text`; what is wrong with it goes to `findings`, and
/// what could be read is answered.
pub fn read_toml(source: SourceId, text: &str, range: std::ops::Range<usize>, findings: &mut Findings) -> Table {
    let base = range.start;
    let slice = &text[range];
    let (root, errors) = DeTable::parse_recoverable(slice);
    let whole = errors.is_empty();
    for error in errors {
        let at = error.span().unwrap_or(0..0);
        let span = Span::new(source, base + at.start, base + at.end.min(slice.len()));
        findings.push(explain(error.message(), span, &text[span.start.min(span.end)..span.end]));
    }
    let builder = Builder { source, slice, base };
    Table { whole, ..builder.table(root.get_ref(), builder.span(0..0), false) }
}

fn explain(message: &str, span: Span, at: &str) -> Diagnostic {
    if message.contains("duplicate key") {
        let finding =
            Diagnostic::error(codes::DUPLICATE_KEY, span, format!("`{}` stands here a second time", at.trim()));
        return finding.hint("keep one of the two");
    }
    let message = message.lines().next().unwrap_or("not TOML").trim_end_matches('.');
    Diagnostic::error(codes::BAD_TOML, span, format!("this is not TOML: {message}"))
        .hint("texts stand in quotes, tables in `[brackets]`, one `key = value` a line")
}

struct Builder<'t> {
    source: SourceId,
    slice: &'t str,
    base: usize,
}

impl Builder<'_> {
    fn span(&self, range: std::ops::Range<usize>) -> Span {
        Span::new(self.source, self.base + range.start, self.base + range.end)
    }

    fn table(&self, table: &DeTable<'_>, span: Span, inline: bool) -> Table {
        let mut entries: Vec<Entry> = table
            .iter()
            .map(|(key, value)| Entry {
                key: Spanned::new(key.get_ref().clone().into_owned(), self.span(key.span())),
                value: self.value(value.get_ref(), value.span()),
            })
            .collect();
        entries.sort_by_key(|entry| entry.key.span);
        Table { entries, span, inline, whole: true }
    }

    fn value(&self, value: &DeValue<'_>, range: std::ops::Range<usize>) -> Spanned<Value> {
        let span = self.span(range.clone());
        let written = || self.slice.get(range.clone()).unwrap_or("").to_owned();
        let value = match value {
            DeValue::String(text) => Value::Text(text.clone().into_owned()),
            DeValue::Integer(_) | DeValue::Float(_) => Value::Number(written()),
            DeValue::Boolean(flag) => Value::Flag(*flag),
            DeValue::Datetime(_) => Value::Date(written()),
            DeValue::Array(list) => {
                Value::List(list.iter().map(|item| self.value(item.get_ref(), item.span())).collect())
            }
            DeValue::Table(table) => Value::Table(self.table(table, span, written().starts_with('{'))),
        };
        Spanned::new(value, span)
    }
}
