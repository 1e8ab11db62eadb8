//! Reads captions and scripts and writes them back: what a script gives, for the tests beside this.

mod formats;
mod limits;
mod rolling;
mod webvtt;

use tallyspoon::diag::{Findings, one_line};
use tallyspoon::source::script::{Break, Edit, Millis, Script, Unwritable, read};
use tallyspoon::span::{Span, Texts};

/// A script and the file it was read from.
struct Reading {
    script: Script,
    texts: Texts,
    findings: Findings,
}

impl Reading {
    fn of(name: &str, bytes: impl AsRef<[u8]>) -> Self {
        let (mut texts, mut findings) = (Texts::new(""), Findings::new());
        let script = read(name, bytes.as_ref().to_vec(), &mut texts, &mut findings);
        let told = Self::tell(&findings, &texts);
        Self { script: script.unwrap_or_else(|| panic!("{told:?}")), texts, findings }
    }

    fn tell(findings: &Findings, texts: &Texts) -> Vec<String> {
        findings.sorted().iter().map(|finding| one_line(finding, texts)).collect()
    }

    fn told(&self) -> Vec<String> {
        Self::tell(&self.findings, &self.texts)
    }

    /// A stretch of the file as a parser of WebVTT sees it: NUL replaced, line endings alike.
    fn normal(&self, span: Span) -> String {
        self.texts.slice(span).replace('\0', "\u{fffd}").replace("\r\n", "\n").replace('\r', "\n")
    }

    /// Identifier, times in milliseconds and text of every cue.
    fn cues(&self) -> Vec<(String, u64, u64, String)> {
        let time = |time: Option<Millis>| time.expect("captions have times").0;
        let one = |cue: &tallyspoon::source::script::Cue| {
            let id = cue.id.map_or(String::new(), |id| self.normal(id));
            (id, time(cue.start), time(cue.end), self.normal(cue.text))
        };
        self.script.cues.iter().map(one).collect()
    }

    /// All words with a space, a bar where something stronger than a line stands between them.
    fn said(&self) -> String {
        let mut said = String::new();
        for word in &self.script.words {
            said += match word.break_before {
                Break::None | Break::Line | Break::Cue => " ",
                Break::Cell => " ¦ ",
                Break::Sentence => " | ",
                Break::Paragraph => " ¶ ",
                Break::Speaker => " » ",
            };
            said += &word.text;
        }
        said.trim_start().to_owned()
    }

    fn times(&self) -> Vec<(&str, u64, u64)> {
        let time = |time: Option<Millis>| time.expect("captions have times").0;
        self.script.words.iter().map(|word| (word.text.as_str(), time(word.start), time(word.end))).collect()
    }
}

/// Captions in WebVTT below their first line.
fn vtt(body: &str) -> Reading {
    Reading::of("take.vtt", format!("WEBVTT\n\n{body}"))
}

/// The text of each word, with a space.
fn words(script: &Script) -> String {
    script.words.iter().map(|word| word.text.as_str()).collect::<Vec<_>>().join(" ")
}
