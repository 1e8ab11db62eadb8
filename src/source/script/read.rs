//! From a file's bytes to a script: which encoding, which format, and what is wrong with it.

use super::build::Builder;
use super::encoding::{Encoded, Encoding};
use super::{Format, Script, codes, markdown, plain, subrip, webvtt};
use crate::diag::{Diagnostic, Findings};
use crate::source::codes::{EMPTY_FILE, FILE_TOO_LARGE};
use crate::source::folder::read_bytes;
use crate::span::{SourceId, Span, Texts};
use std::ops::Range;
use std::path::Path;

/// So many words of a file are listened to, which is half a day of talk.
pub const MOST_WORDS: usize = 100_000;

/// Reads a spoken text from a file, which may stand outside the channel.
///
/// Answers `None`, with a finding, where it can't be read, is too large, has more than [`MOST_WORDS`] or has no text.
pub fn read_file(path: &Path, texts: &mut Texts, findings: &mut Findings) -> Option<Script> {
    let bytes = read_bytes(path, texts, findings)?;
    let name = path.display().to_string();
    let script = read(&name, bytes, texts, findings)?;
    if let Some(word) = script.words.get(MOST_WORDS) {
        let message = format!("`{name}` has more than {MOST_WORDS} words");
        findings.push(Diagnostic::error(FILE_TOO_LARGE, word.span, message).hint("give what is said in one video"));
        return None;
    }
    Some(script)
}

/// Reads a spoken text from its bytes; `name` is the file's, whose ending counts where the text doesn't tell.
///
/// The text is added to `texts`, for places in findings and spans of words. Answers `None`, with a finding, where
/// there is nothing in it.
pub fn read(name: &str, bytes: Vec<u8>, texts: &mut Texts, findings: &mut Findings) -> Option<Script> {
    let file = Encoded::detect(bytes);
    let source = texts.add_apart(name, file.text());
    let text = texts.get(source).map_or("", |text| text.content.as_str());
    if file.fault().is_some() && text.contains('\0') {
        findings.push(
            Diagnostic::error(codes::NO_TEXT, Span::new(source, 0, 0), format!("`{name}` holds no text"))
                .hint("give captions (.vtt, .srt) or a script (.txt, .md)"),
        );
        return None;
    }
    warn_of_encoding(&file, source, findings);
    if text.trim_start_matches('\u{feff}').trim().is_empty() {
        findings.push(
            Diagnostic::error(EMPTY_FILE, Span::new(source, 0, 0), format!("`{name}` is empty"))
                .hint("name the file that holds the captions or the script"),
        );
        return None;
    }
    let format = format(name, text);
    let mut builder = Builder::new(source, text);
    let mut complaints = Complaints { source, findings, made: 0 };
    match format {
        Format::WebVtt => webvtt::read(text, &mut builder, &mut complaints),
        Format::SubRip => {
            if ending(name) == "vtt" {
                complaints.no_signature();
            }
            subrip::read(text, &mut builder, &mut complaints);
        }
        Format::Plain => plain::read(text, &mut builder),
        Format::Markdown => markdown::read(text, &mut builder),
    }
    complaints.end();
    let built = builder.finish();
    if built.words.is_empty() {
        findings.push(
            Diagnostic::warning(codes::NOTHING_SAID, Span::new(source, 0, 0), format!("nothing is said in `{name}`"))
                .hint("captions have lines of text below their times"),
        );
    }
    Some(Script { format, cues: built.cues, words: built.words, repeats: built.repeats, file })
}

/// The format by what the text holds, and by the file's ending where that says nothing.
fn format(name: &str, text: &str) -> Format {
    if webvtt::is_webvtt(text) {
        Format::WebVtt
    } else if subrip::is_subrip(text) {
        Format::SubRip
    } else if matches!(ending(name).as_str(), "md" | "markdown") || markdown::is_markdown(text) {
        Format::Markdown
    } else {
        Format::Plain
    }
}

fn ending(name: &str) -> String {
    Path::new(name).extension().map_or(String::new(), |ending| ending.to_string_lossy().to_lowercase())
}

fn warn_of_encoding(file: &Encoded, source: SourceId, findings: &mut Findings) {
    let message = match (file.kind, file.fault()) {
        (Encoding::Utf8, None) => return,
        (Encoding::Utf8, Some(byte)) => format!("byte 0x{byte:02x} is not UTF-8; it is left as it is"),
        (Encoding::Utf16Le | Encoding::Utf16Be, _) => "this is UTF-16, which players don't read".to_owned(),
        (Encoding::Windows1252, _) => "this is not UTF-8; it is read as Latin-1 (Windows-1252)".to_owned(),
    };
    findings.push(
        Diagnostic::warning(codes::OTHER_ENCODING, Span::new(source, 0, 0), message).hint("save the file as UTF-8"),
    );
}

/// How many faults of one file are told one by one.
const TOLD: usize = 20;

/// Tells what is wrong with captions, but not without end.
pub(super) struct Complaints<'f> {
    source: SourceId,
    findings: &'f mut Findings,
    made: usize,
}

impl Complaints<'_> {
    /// A line with an arrow whose times can't be read.
    pub(super) fn times(&mut self, line: Range<usize>) {
        self.warn(line, "these times can't be read, so no player shows their text and it is not proofed");
    }

    /// A cue that ends before it starts.
    pub(super) fn backwards(&mut self, line: Range<usize>) {
        self.warn(line, "this ends before it starts, so no player shows it");
    }

    /// WebVTT without its first line.
    fn no_signature(&mut self) {
        self.findings.push(
            Diagnostic::warning(codes::NO_WEBVTT_LINE, Span::new(self.source, 0, 0), "the first line is not `WEBVTT`")
                .hint("start the file with a line `WEBVTT` and a blank line, or players refuse it"),
        );
    }

    fn warn(&mut self, line: Range<usize>, message: &str) {
        self.made += 1;
        if self.made <= TOLD {
            let span = Span::new(self.source, line.start, line.end);
            self.findings.push(
                Diagnostic::warning(codes::BAD_TIMES, span, message)
                    .hint("write them as `00:01:02.500 --> 00:01:04.000`"),
            );
        }
    }

    fn end(self) {
        if self.made > TOLD {
            let more = format!("{} more lines of times are wrong", self.made - TOLD);
            self.findings.push(
                Diagnostic::warning(codes::BAD_TIMES, Span::new(self.source, 0, 0), more)
                    .hint("export the captions again"),
            );
        }
    }
}
