//! `proof`: reads a script or captions and holds them against a recipe's figures. Must not know how a claim is found.

use super::Failure;
use super::args::{Cli, What};
use super::fix::Put;
use super::terminal::{report, say, tell, width};
use crate::desk::open;
use crate::diag::Findings;
use crate::proof::{self, Look};
use crate::source::script::read_file;
use std::path::Path;

/// What is asked of a file.
#[derive(Clone, Copy)]
pub(super) struct Asked<'a> {
    /// The captions or the script.
    pub(super) file: &'a Path,
    /// Whether everything found is printed as JSON.
    pub(super) json: bool,
    /// Whether every claim is shown.
    pub(super) explain: bool,
    /// Where to write it with its names corrected.
    pub(super) fix: Option<&'a Path>,
    /// Whether numbers are set in digits there.
    pub(super) numbers: bool,
    /// Where to write the report as a page.
    pub(super) html: Option<&'a Path>,
}

/// Holds a file against a recipe. Answers whether anything in it differs.
pub(super) fn proof(cli: &Cli, what: &What, asked: Asked<'_>) -> Result<bool, Failure> {
    let file = asked.file;
    if !file.is_file() {
        let why = format!("there is no file `{}`: give captions (.vtt, .srt) or a script (.txt, .md)", file.display());
        return Err(Failure::CommandLine(why));
    }
    let channel = open(&cli.home(), Some(&what.recipe))?;
    let truth = channel.truth(&what.recipe, &what.asked())?;
    let (mut texts, mut findings) = (channel.texts.clone(), Findings::new());
    let script = read_file(file, &mut texts, &mut findings);
    let Some(script) = script.filter(|_| !findings.has_errors()) else {
        return Err(Failure::Findings(findings, texts));
    };
    let proof = proof::proof(&script, &truth, &channel.content.pantry);
    report(&findings, &texts);
    let put = Put { content: &cli.content, file, texts: &texts };
    if let Some(out) = asked.html {
        put.put("--html", out, proof::web_report(&proof, &script, &truth.title).as_bytes())?;
    }
    let fixed = asked.fix.map(|out| put.fixed(out, &proof, &script, asked.numbers)).transpose()?;
    let text = if asked.json {
        serde_json::to_string_pretty(&proof.document()).expect("a document is texts and lists") + "\n"
    } else {
        proof::report(&proof, &script, Look { width: width(), explain: asked.explain })
    };
    say(text.as_bytes())?;
    if let Some(done) = fixed {
        tell(done.trim_end());
    }
    Ok(proof.differs())
}
