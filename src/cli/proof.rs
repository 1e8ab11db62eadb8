//! `proof`: reads a script or captions and holds them against a recipe's figures. Must not know how a claim is found.

use super::Failure;
use super::args::{Cli, What};
use super::channel::open;
use super::terminal::{report, say, width};
use crate::diag::Findings;
use crate::proof::{self, Look};
use crate::source::script::read_file;
use std::path::Path;

/// Holds `file` against a recipe. Answers whether anything in it differs.
pub(super) fn proof(cli: &Cli, what: &What, file: &Path, json: bool, explain: bool) -> Result<bool, Failure> {
    if !file.is_file() {
        let why = format!("there is no file `{}`: give captions (.vtt, .srt) or a script (.txt, .md)", file.display());
        return Err(Failure::CommandLine(why));
    }
    let channel = open(cli, Some(&what.recipe))?;
    let truth = channel.truth(what)?;
    let (mut texts, mut findings) = (channel.texts.clone(), Findings::new());
    let script = read_file(file, &mut texts, &mut findings);
    let Some(script) = script.filter(|_| !findings.has_errors()) else {
        return Err(Failure::Findings(findings, texts));
    };
    let proof = proof::proof(&script, &truth);
    report(&findings, &texts);
    let text = if json {
        serde_json::to_string_pretty(&proof.document()).expect("a document is texts and lists") + "\n"
    } else {
        proof::report(&proof, &script, Look { width: width(), explain })
    };
    say(text.as_bytes())?;
    Ok(proof.differs())
}
