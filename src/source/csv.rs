//! CSV by RFC 4180 with the bytes of every field. Must not know what the columns mean.

use super::codes;
use crate::diag::{Diagnostic, Findings};
use crate::span::{SourceId, Span, Spanned};

/// One record.
#[derive(Clone, Debug)]
pub struct Row {
    /// Its fields, blanks around them taken off.
    pub fields: Vec<Spanned<String>>,
    /// The whole record without its line ending.
    pub span: Span,
}

/// So many records are read.
pub const MOST_ROWS: usize = 200_000;

/// Reads the records up to [`MOST_ROWS`], the header included; a record may have any number of fields, split by `separator`.
pub fn read_csv(source: SourceId, text: &str, separator: u8, findings: &mut Findings) -> Vec<Row> {
    let base = if text.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 };
    let slice = &text[base..];
    let mut builder = ::csv::ReaderBuilder::new();
    let mut reader = builder.has_headers(false).flexible(true).delimiter(separator).from_reader(slice.as_bytes());
    let mut rows = Vec::new();
    let mut record = ::csv::StringRecord::new();
    loop {
        let start = usize::try_from(reader.position().byte()).unwrap_or(slice.len());
        // The text is UTF-8 and in memory, and any number of fields goes: reading it can't fail.
        if !reader.read_record(&mut record).unwrap_or(false) {
            return rows;
        }
        let end = usize::try_from(reader.position().byte()).unwrap_or(slice.len());
        let raw = &slice[start.min(end)..end];
        let skipped = raw.len() - raw.trim_start_matches(['\r', '\n']).len();
        let (from, to) = (base + start + skipped, base + start + raw.trim_end_matches(['\r', '\n']).len());
        let span = Span::new(source, from, to.max(from));
        let (ranges, open_quote) = field_ranges(&text[span.start..span.end], separator);
        if let Some(at) = open_quote {
            let mark = Span::new(source, span.start + at, span.start + at + 1);
            findings.push(
                Diagnostic::error(codes::UNCLOSED_QUOTE, mark, "the quote that opens here is never closed")
                    .hint("close it with a second `\"`; a quote inside a quoted field is written twice"),
            );
            return rows;
        }
        let fields = record.iter().zip(ranges).map(|(value, range)| {
            Spanned::new(value.trim().to_owned(), Span::new(source, span.start + range.start, span.start + range.end))
        });
        if rows.len() == MOST_ROWS {
            let finding =
                Diagnostic::error(codes::FILE_TOO_LARGE, span, format!("there are more than {MOST_ROWS} lines"));
            findings.push(finding.hint("take lines out that no longer matter"));
            return rows;
        }
        rows.push(Row { fields: fields.collect(), span });
    }
}

/// Where in a field a byte stands.
#[derive(Clone, Copy, PartialEq, Eq)]
enum State {
    Start,
    Plain,
    /// In a quoted field whose quote opened at this byte.
    Quoted(usize),
    /// After a quote that closed the field, or is the first of a doubled one.
    Closed(usize),
}

/// The bytes of each field of a record, and of a quote that is not closed.
fn field_ranges(record: &str, separator: u8) -> (Vec<std::ops::Range<usize>>, Option<usize>) {
    let mut ranges = Vec::new();
    let (mut start, mut state) = (0, State::Start);
    for (at, byte) in record.bytes().enumerate() {
        state = match (state, byte) {
            (State::Start, b'"') => State::Quoted(at),
            (State::Quoted(open), b'"') => State::Closed(open),
            (State::Closed(open), b'"') => State::Quoted(open),
            (State::Quoted(open), _) => State::Quoted(open),
            (State::Start | State::Plain | State::Closed(_), byte) if byte == separator => {
                ranges.push(start..at);
                start = at + 1;
                State::Start
            }
            (State::Start | State::Plain | State::Closed(_), _) => State::Plain,
        };
    }
    ranges.push(start..record.len());
    let open = match state {
        State::Quoted(open) => Some(open),
        State::Start | State::Plain | State::Closed(_) => None,
    };
    (ranges, open)
}

/// Fields as one record by RFC 4180, without a line ending: quoted where they must be.
pub fn csv_line<'f>(fields: impl IntoIterator<Item = &'f str>, separator: char) -> String {
    let special = |c: char| c == separator || matches!(c, '"' | '\r' | '\n');
    let quoted = |field: &str| {
        if field.contains(special) { format!("\"{}\"", field.replace('"', "\"\"")) } else { field.to_owned() }
    };
    fields.into_iter().map(quoted).collect::<Vec<_>>().join(&separator.to_string())
}

/// A cell that no spreadsheet runs: one that would start a formula is made text by an apostrophe (OWASP, "CSV Injection").
pub fn inert(cell: &str) -> String {
    let runs = cell.starts_with(['=', '+', '-', '@', '\t', '\r']);
    if runs { format!("'{cell}") } else { cell.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_cell_starts_a_formula() {
        for cell in ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "=cmd|' /C calc'!A0"] {
            assert_eq!(inert(cell), format!("'{cell}"));
        }
        for cell in ["", "Soup", "€4.05", "1-2", "18–20 puffs", "−3%"] {
            assert_eq!(inert(cell), cell);
        }
    }

    #[test]
    fn quoted_fields_keep_their_bytes() {
        let text = "\u{feff}a,\"b, \"\"c\"\"\",d\r\n\r\n1,\"two\r\nlines\",3\r\n";
        let mut findings = Findings::new();
        let rows = read_csv(SourceId(0), text, b',', &mut findings);
        let fields: Vec<Vec<&str>> =
            rows.iter().map(|row| row.fields.iter().map(|f| f.value.as_str()).collect()).collect();
        assert_eq!(fields, [vec!["a", "b, \"c\"", "d"], vec!["1", "two\r\nlines", "3"]]);
        let third = &rows[1].fields[2].span;
        assert_eq!(&text[third.start..third.end], "3");
        let quoted = &rows[0].fields[1].span;
        assert_eq!(&text[quoted.start..quoted.end], "\"b, \"\"c\"\"\"");
        assert!(!findings.has_errors());
    }

    #[test]
    fn a_line_reads_back() {
        let fields = ["market hall, \"north\"", "", "1;2", "plain"];
        for separator in [',', ';', '\t'] {
            let line = csv_line(fields, separator);
            let rows = read_csv(SourceId(0), &line, separator as u8, &mut Findings::new());
            let read: Vec<&str> = rows[0].fields.iter().map(|field| field.value.as_str()).collect();
            assert_eq!(read, fields, "{line}");
        }
    }
}
