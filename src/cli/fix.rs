//! What `proof` writes: captions with mangled names corrected, and the report as a page; never over a source. Must not
//! know how a name is found or a file changed.

use super::Failure;
use super::terminal::shown;
use crate::diag::sanitise;
use crate::proof::{Change, Place, Proof, fix};
use crate::publish::replace;
use crate::source::script::Script;
use crate::span::Texts;
use std::fmt::Write as _;
use std::fs;
use std::path::Path;

/// Puts files where they are asked for.
pub(super) struct Put<'a> {
    /// The channel's folder.
    pub(super) content: &'a Path,
    /// The file that was read.
    pub(super) file: &'a Path,
    /// The texts that findings point into.
    pub(super) texts: &'a Texts,
}

impl Put<'_> {
    /// Writes the captions with every name corrected that can't mean anything else, and with numbers in digits where
    /// that is asked for. Answers what was changed, a line each.
    pub(super) fn fixed(&self, out: &Path, proof: &Proof, script: &Script, numbers: bool) -> Result<String, Failure> {
        let (changes, places) = changes(proof, numbers);
        let fixed = fix(script, self.texts, &changes).map_err(|why| Failure::CommandLine(format!("`--fix`: {why}")))?;
        self.put("--fix", out, &fixed.bytes)?;
        let mut text = String::new();
        for (list, note) in [(&fixed.made, ""), (&fixed.left, ": left, do it by hand")] {
            for &at in list {
                let old = script.words[changes[at].words.clone()].iter().map(|word| word.text.as_str());
                let old = sanitise(&old.collect::<Vec<_>>().join(" "));
                let _ = writeln!(text, "{}  {old} → {}{note}", place(places[at]), sanitise(&changes[at].text));
            }
        }
        let count = match fixed.made.len() {
            0 => "nothing to change".to_owned(),
            1 => "1 change".to_owned(),
            many => format!("{many} changes"),
        };
        let _ = writeln!(text, "{count}, written to {}", shown(out));
        Ok(text)
    }

    /// Writes a file whole or not at all; never the captions themselves, or what stands in the channel's folder.
    pub(super) fn put(&self, option: &str, out: &Path, bytes: &[u8]) -> Result<(), Failure> {
        let refuse = |why: &str| Err(Failure::CommandLine(format!("`{option} {}` {why}", out.display())));
        if out.is_dir() {
            return refuse("is a folder: give a file's name");
        }
        if let Ok(real) = out.canonicalize() {
            if self.file.canonicalize().is_ok_and(|file| file == real) {
                return refuse("is the file that is read: give another name");
            }
            if self.content.canonicalize().is_ok_and(|content| real.starts_with(content)) {
                return refuse("is one of the channel's own files: give another name");
            }
        }
        let before = fs::read(out).ok();
        replace(out, before.as_deref(), bytes).map_err(|findings| Failure::Findings(findings, self.texts.clone()))
    }
}

/// What is to change, in the order said: names that are certain and, where asked for, numbers in words.
fn changes(proof: &Proof, numbers: bool) -> (Vec<Change>, Vec<&Place>) {
    let names = proof.names.iter().filter(|slip| slip.certain);
    let mut all: Vec<(Change, &Place)> = names
        .map(|slip| (Change { words: slip.place.words.clone(), text: slip.written.clone() }, &slip.place))
        .collect();
    if numbers {
        all.extend(proof.claims.iter().filter_map(|claim| {
            let (words, text) = claim.digits.clone()?;
            Some((Change { words, text }, &claim.place))
        }));
    }
    all.sort_by_key(|(change, _)| change.words.start);
    all.into_iter().unzip()
}

fn place(place: &Place) -> String {
    place.start.map_or_else(|| format!("{}:{}", place.line, place.column), |start| start.to_string())
}
