//! What `proof` and `shoot` write beside what they say: captions with mangled names corrected, and pages; never over a
//! source, a device or a file of another kind. Must not know how a name is found or a file changed.

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
    /// The file that was read, if one was.
    pub(super) file: Option<&'a Path>,
    /// The texts that findings point into.
    pub(super) texts: &'a Texts,
}

impl Put<'_> {
    /// The captions with every name corrected that can't mean anything else, and with numbers in digits where that is
    /// asked for; and what is changed in them at `out`, a line each.
    pub(super) fn fixed(
        &self,
        out: &Path,
        proof: &Proof,
        script: &Script,
        numbers: bool,
    ) -> Result<(Vec<u8>, String), Failure> {
        let (changes, places) = changes(proof, numbers);
        let fixed = fix(script, self.texts, &changes).map_err(|why| Failure::CommandLine(format!("`--fix`: {why}")))?;
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
        Ok((fixed.bytes, text))
    }

    /// Refuses to write the captions themselves, what stands in the channel's folder, what is no file, and a file whose
    /// name does not end so: a slip of the hand can't hit a file of another kind, and a page may still be made again.
    pub(super) fn admit(&self, option: &str, out: &Path, ending: &str) -> Result<(), Failure> {
        let refuse = |why: &str| Err(Failure::CommandLine(format!("`{option} {}` {why}", out.display())));
        match fs::metadata(out) {
            Ok(there) if there.is_dir() => return refuse("is a folder: give a file's name"),
            Ok(there) if !there.is_file() => return refuse("is no plain file: give a file's name"),
            Ok(_) | Err(_) => {}
        }
        // A link is followed, so it is the file it leads to that counts.
        let real = out.canonicalize().ok();
        if let Some(real) = &real {
            if self.file.and_then(|file| file.canonicalize().ok()).is_some_and(|file| file == *real) {
                return refuse("is the file that is read: give another name");
            }
            if self.content.canonicalize().is_ok_and(|content| real.starts_with(content)) {
                return refuse("is one of the channel's own files: give another name");
            }
        }
        if self::ending(real.as_deref().unwrap_or(out)).eq_ignore_ascii_case(ending) {
            return Ok(());
        }
        refuse(&format!("does not end with `.{ending}`: give a name that does"))
    }

    /// Writes a file that was admitted, whole or not at all.
    pub(super) fn put(&self, out: &Path, bytes: &[u8]) -> Result<(), Failure> {
        let before = fs::read(out).ok();
        replace(out, before.as_deref(), bytes).map_err(|findings| Failure::Findings(findings, self.texts.clone()))
    }
}

/// What stands behind the last point of a file's name.
pub(super) fn ending(path: &Path) -> &str {
    path.extension().and_then(|ending| ending.to_str()).unwrap_or_default()
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
