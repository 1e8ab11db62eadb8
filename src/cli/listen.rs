//! Listens to captions for a recipe: the proof-reader's findings as the plain data that cues are placed by. Must not know
//! how cues are placed or kept.

use super::Failure;
use crate::cue::{Claim, Finding, Heard, codes};
use crate::desk::Channel;
use crate::diag::{Diagnostic, Findings};
use crate::proof::{self, Proof, Verdict};
use crate::sheet::Truth;
use crate::slate::Asked;
use crate::source::script::{Break, Millis, Script, read_file};
use crate::span::{SourceId, Span, Texts};
use std::path::{Path, PathBuf};

/// A pause of so many milliseconds parts what is said as a full stop does; common practice, no source.
const PAUSE: u64 = 800;

/// What captions hold for a recipe.
pub(super) struct Listened {
    /// The captions.
    pub(super) file: PathBuf,
    /// What was heard.
    pub(super) heard: Heard,
    /// The channel's texts with the captions.
    pub(super) texts: Texts,
    /// What deserves a look in the captions.
    pub(super) worries: Findings,
    /// The captions' first byte.
    pub(super) place: Span,
}

/// Reads captions and hears what they say of a recipe as it is asked for.
pub(super) fn listen(channel: &Channel, (recipe, asked): (&str, &Asked), file: &Path) -> Result<Listened, Failure> {
    if !file.is_file() {
        let why = format!("there is no file `{}`: give captions (.vtt or .srt)", file.display());
        return Err(Failure::CommandLine(why));
    }
    let truth = channel.truth(recipe, asked)?;
    let (mut texts, mut findings) = (channel.texts.clone(), Findings::new());
    let before = texts.len();
    let script = read_file(file, &mut texts, &mut findings);
    let place = Span::new(SourceId(before), 0, 0);
    let Some(script) = script.filter(|_| !findings.has_errors()) else {
        return Err(Failure::Findings(findings, texts));
    };
    if script.words.iter().all(|word| word.start.is_none()) {
        let message = format!("`{}` has no times, and cues need them", file.display());
        let hint = format!("give captions (.vtt or .srt), or plan the take with `tallyspoon shoot {recipe}`");
        findings.push(Diagnostic::error(codes::NO_TIMES, place, message).hint(hint));
        return Err(Failure::Findings(findings, texts));
    }
    let proof = proof::proof(&script, &truth, &channel.content.pantry);
    Ok(Listened { file: file.to_owned(), heard: heard(&script, &proof, &truth), texts, worries: findings, place })
}

/// The number of the step that a claim is about, where it is about one.
fn step_of(about: &str, truth: &Truth) -> Option<usize> {
    let id = about.strip_prefix("step.")?;
    truth.steps.iter().position(|step| step.id == id).map(|at| at + 1)
}

fn heard(script: &Script, proof: &Proof, truth: &Truth) -> Heard {
    let mut openings = Vec::new();
    let mut before: Option<Millis> = None;
    for word in &script.words {
        let (Some(start), Some(end)) = (word.start, word.end) else { continue };
        let paused = before.is_none_or(|before| start.0.saturating_sub(before.0) >= PAUSE);
        if paused || word.break_before >= Break::Sentence {
            openings.push(start);
        }
        before = Some(end);
    }
    openings.sort_unstable();
    let claims = proof.claims.iter().filter_map(|claim| {
        Some(Claim {
            start: claim.place.start?,
            end: claim.place.end?,
            step: step_of(claim.about.as_deref()?, truth).unwrap_or(claim.step).min(truth.steps.len()),
            about: claim.about.clone()?,
            agrees: claim.verdict == Verdict::Agrees,
            figure: claim.expected.as_ref()?.value.shown().text().to_owned(),
        })
    });
    let findings = proof.claims.iter().filter(|claim| claim.verdict == Verdict::Differs).filter_map(|claim| {
        Some(Finding {
            start: claim.place.start?,
            end: claim.place.end?,
            said: claim.place.text.clone(),
            right: claim.expected.as_ref()?.said.text().to_owned(),
        })
    });
    let mut heard = Heard {
        openings,
        claims: claims.collect(),
        numbers: proof.claims.len(),
        names: proof.told.names.clone(),
        traces: proof.told.traces.clone(),
        findings: findings.collect(),
        end: script.end().unwrap_or_default(),
    };
    heard.claims.sort_by_key(|claim| claim.start);
    heard
}
