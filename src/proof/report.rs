//! The report for people: what differs, grouped by step, with its place, its words underlined and what they should
//! be; then what has no figure, sums, what was never said, and counts. Must not know a terminal.

use super::claim::{Claim, Place, Proof, SumSaid, Verdict};
use super::supposed;
use crate::diag::sanitise;
use crate::source::script::{Millis, Script};
use std::fmt::Write as _;

/// How a report is laid out.
#[derive(Clone, Copy, Debug)]
pub struct Look {
    /// Columns to write in.
    pub width: usize,
    /// Whether every claim is shown, with what was tried for it and why.
    pub explain: bool,
}

/// Words of a script shown around a claim, on each side.
const AROUND: usize = 7;

/// Puts a proof in words.
pub fn report(proof: &Proof, script: &Script, look: Look) -> String {
    let mut text = String::new();
    let shown = |claim: &&Claim| look.explain || claim.verdict == Verdict::Differs;
    let mut step = usize::MAX;
    for claim in proof.claims.iter().filter(shown) {
        if claim.step != step {
            step = claim.step;
            let title = step.checked_sub(1).and_then(|step| proof.steps.get(step));
            let _ = writeln!(text, "{}", title.map_or("Before the method", String::as_str));
        }
        quote(&mut text, &claim.place, script, look);
        let _ = writeln!(text, "{}{}", indent(), verdict(claim));
        if look.explain {
            if let Some(doubt) = claim.doubt.filter(|_| not_of_this(claim).is_none()) {
                let _ = writeln!(text, "{}  left unplaced: {doubt}", indent());
            }
            for (about, cost, why) in &claim.tried {
                let _ = writeln!(text, "{}  tried {about}: {why} ({})", indent(), rank(*cost));
            }
        }
        text.push('\n');
    }
    for sum in proof.sums.iter().filter(|sum| look.explain || sum.is_wrong()) {
        let _ = writeln!(text, "A sum");
        quote(&mut text, &sum.place, script, look);
        let _ = writeln!(text, "{}{}\n", indent(), sum_verdict(sum));
    }
    let unplaced: Vec<&Claim> = proof.claims.iter().filter(|claim| claim.verdict == Verdict::Unplaced).collect();
    if !unplaced.is_empty() && !look.explain {
        text.push_str("No figure answers to these\n");
        for claim in unplaced {
            let why = not_of_this(claim).map_or_else(String::new, |why| format!(": {why}"));
            let _ = writeln!(text, "  {}  {}{why}", at(&claim.place), sanitise(&claim.place.text));
        }
        text.push('\n');
    }
    if look.explain && !proof.aside.is_empty() {
        text.push_str("Left aside\n");
        for aside in &proof.aside {
            let _ = writeln!(text, "  {}  {}: {}", at(&aside.place), sanitise(&aside.place.text), aside.why);
        }
        text.push('\n');
    }
    if !proof.names.is_empty() {
        text.push_str("Names misheard\n");
        for slip in &proof.names {
            let (said, written) = (sanitise(&slip.place.text), sanitise(&slip.written));
            let link = if slip.certain { "is" } else { "may be" };
            let why = if look.explain { format!(": {}", slip.why) } else { String::new() };
            let _ = writeln!(text, "  {}  {said} {link} {written}{why}", at(&slip.place));
        }
        text.push('\n');
    }
    if !proof.silent.is_empty() {
        let _ = writeln!(text, "Never said: {}\n", proof.silent.join(", "));
    }
    if proof.another_dish {
        text.push_str("Hardly a number in it is one of this recipe: are these the captions of another video?\n\n");
    }
    text.push_str(&counts(proof));
    text
}

/// A cost in the explanation, as a word: its number is no figure.
fn rank(cost: i32) -> &'static str {
    match cost {
        ..=40 => "nothing speaks against it",
        41..=150 => "little speaks against it",
        151..=300 => "much speaks against it",
        _ => "a last resort",
    }
}

/// Why a claim of this dish is held against nothing: it is of another size, or of other food.
fn not_of_this(claim: &Claim) -> Option<&'static str> {
    claim.doubt.filter(|why| supposed::OF_THE_DISH.contains(why))
}

/// Whether a sum comes out, and else what it makes or what its result should be.
pub(super) fn sum_verdict(sum: &SumSaid) -> String {
    match sum.result.as_ref().filter(|_| sum.result_differs()) {
        _ if !sum.holds => format!("the arithmetic does not come out: it makes {}", sum.comes_to),
        Some(result) => verdict(result),
        None => "it comes out".to_owned(),
    }
}

fn indent() -> &'static str {
    "            "
}

/// "0:02:23", or line and column.
pub(super) fn at(place: &Place) -> String {
    match place.start {
        Some(Millis(millis)) => {
            let seconds = millis / 1000;
            format!("{:>8}", format!("{}:{:02}:{:02}", seconds / 3600, seconds / 60 % 60, seconds % 60))
        }
        None => format!("{:>8}", format!("{}:{}", place.line, place.column)),
    }
}

/// The words around a place, and a line under those it is made of.
fn quote(text: &mut String, place: &Place, script: &Script, look: Look) {
    let joined = |range: std::ops::Range<usize>| {
        let words: Vec<&str> = script.words[range].iter().map(|word| word.text.as_str()).collect();
        sanitise(&words.join(" "))
    };
    let own = joined(place.words.clone());
    let from = place.words.start.saturating_sub(AROUND);
    let to = (place.words.end + AROUND).min(script.words.len());
    let mut before = joined(from..place.words.start);
    let mut after = joined(place.words.end..to);
    let room = look.width.saturating_sub(indent().len() + own.chars().count() + 4);
    while before.chars().count() + after.chars().count() > room && !(before.is_empty() && after.is_empty()) {
        if before.chars().count() > after.chars().count() {
            before = before.split_once(' ').map(|(_, rest)| rest.to_owned()).unwrap_or_default();
        } else {
            after = after.rsplit_once(' ').map(|(rest, _)| rest.to_owned()).unwrap_or_default();
        }
    }
    let gap = if before.is_empty() { "" } else { " " };
    let start = indent().chars().count() + console::measure_text_width(&before) + gap.len();
    let _ = writeln!(text, "  {}  {}", at(place), format!("{before}{gap}{own} {after}").trim_end());
    let _ = writeln!(text, "{}{}", " ".repeat(start), "~".repeat(console::measure_text_width(&own)));
}

/// What a claim should be.
pub(super) fn verdict(claim: &Claim) -> String {
    let about = claim.about.as_deref().unwrap_or("");
    let of_variant = match claim.variant.as_deref() {
        Some("") => " of the recipe as written".to_owned(),
        Some(variant) => format!(" of variant {variant}"),
        None => String::new(),
    };
    let expected = claim.expected.as_ref().map(|expected| {
        let (said, shown) = (expected.said.text(), expected.value.shown().text());
        if said == shown { said.to_owned() } else { format!("{said} ({shown})") }
    });
    let expected = expected.unwrap_or_default();
    match claim.verdict {
        Verdict::Agrees => format!("agrees with {about}{of_variant}: {expected}"),
        Verdict::Differs if claim.misheard => {
            format!("should be {expected}, {about}{of_variant}; likely misheard")
        }
        Verdict::Differs => format!("should be {expected}, {about}{of_variant}"),
        Verdict::Unplaced => not_of_this(claim).unwrap_or("no figure answers to it").to_owned(),
    }
}

pub(super) fn counts(proof: &Proof) -> String {
    let number = |count: usize, one: &str, many: &str| format!("{count} {}", if count == 1 { one } else { many });
    let misheard = proof.claims.iter().filter(|claim| claim.misheard).count();
    let differs = match (proof.count(Verdict::Differs), misheard) {
        (differs, 0) => number(differs, "differs", "differ"),
        (differs, misheard) => format!("{} ({misheard} likely misheard)", number(differs, "differs", "differ")),
    };
    let sums = match proof.wrong_sums() {
        0 => String::new(),
        wrong => format!("; {} wrong", number(wrong, "sum is", "sums are")),
    };
    format!(
        "{}: {}, {differs}, {}{sums}\n",
        number(proof.claims.len(), "claim", "claims"),
        number(proof.count(Verdict::Agrees), "agrees", "agree"),
        number(proof.count(Verdict::Unplaced), "has no figure", "have no figure"),
    )
}
