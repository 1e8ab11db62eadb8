//! `proof`: reads a script or captions and holds them against a recipe's figures. Must not know how a claim is found.

use super::Failure;
use super::args::{Cli, What};
use super::fix::{Put, ending};
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
    if asked.html.is_some() && asked.html == asked.fix {
        return Err(Failure::CommandLine("`--html` and `--fix` are two files: give them two names".into()));
    }
    let channel = open(&cli.home(), Some(&what.recipe))?;
    let put = Put { content: &cli.content, file: Some(file), texts: &channel.texts };
    asked.html.map_or(Ok(()), |out| put.admit("--html", out, "html"))?;
    asked.fix.map_or(Ok(()), |out| put.admit("--fix", out, ending(file)))?;
    let truth = channel.truth(&what.recipe, &what.asked())?;
    let (mut texts, mut findings) = (channel.texts.clone(), Findings::new());
    let script = read_file(file, &mut texts, &mut findings);
    let Some(script) = script.filter(|_| !findings.has_errors()) else {
        return Err(Failure::Findings(findings, texts));
    };
    let proof = proof::proof(&script, &truth, &channel.content.pantry);
    report(&findings, &texts);
    let put = Put { texts: &texts, ..put };
    // All that is to be written is made before any of it is.
    let fixed = asked.fix.map(|out| put.fixed(out, &proof, &script, asked.numbers)).transpose()?;
    if let Some(out) = asked.html {
        put.put(out, proof::web_report(&proof, &script, &truth.title).as_bytes())?;
    }
    if let Some((out, (bytes, _))) = asked.fix.zip(fixed.as_ref()) {
        put.put(out, bytes)?;
    }
    let text = if asked.json {
        serde_json::to_string_pretty(&proof.document()).expect("a document is texts and lists") + "\n"
    } else {
        proof::report(&proof, &script, Look { width: width(), explain: asked.explain })
    };
    say(text.as_bytes())?;
    if let Some((_, done)) = fixed {
        tell(done.trim_end());
    }
    Ok(proof.differs())
}
