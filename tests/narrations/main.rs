//! Narrations that were labelled by hand before any rule saw them: the labels held against transcripts and figures, and the
//! proof-reader held against the labels. Owns no rule of what is a claim. `cargo test --test narrations -- --nocapture`
//! prints the tables; `NARRATIONS_SHOW=dev` lists what went wrong there. `held` is to judge by and not to tune by.

mod judge;
mod labels;
mod mirror;
mod table;
mod transcript;

use judge::Score;
use labels::{Narration, narrations};
use serde_json::Value;
use std::collections::BTreeSet;
use std::process::Command;

/// To work by, to judge by, and the takes of the demo channel.
const SPLITS: [&str; 3] = ["dev", "held", "demo"];

/// The figures that a narration is held against.
fn figures(narration: &Narration, more: &[&str]) -> Value {
    let arguments: Vec<&str> = narration.arguments.iter().map(String::as_str).chain(more.iter().copied()).collect();
    figures_with(narration, &arguments)
}

fn figures_with(narration: &Narration, arguments: &[&str]) -> Value {
    let done = Command::new(env!("CARGO_BIN_EXE_tallyspoon"))
        .arg("--content")
        .arg(&narration.content)
        .args(["figures", &narration.recipe, "--json"])
        .args(arguments)
        .output()
        .expect("the program");
    assert!(done.status.success(), "{}: {}", narration.name, String::from_utf8_lossy(&done.stderr));
    serde_json::from_slice(&done.stdout).expect("figures/1")
}

/// Every name that `about` may take at these figures.
fn known(figures: &Value) -> BTreeSet<String> {
    let ids = |list: &Value, prefix: &str| {
        labels::list(list).map(|entry| format!("{prefix}{}", labels::string(&entry["id"]))).collect::<Vec<_>>()
    };
    let mut known = BTreeSet::from_iter(ids(&figures["lines"], ""));
    known.extend(ids(&figures["steps"], "step."));
    known.extend(ids(&figures["cost"]["lines"], "cost."));
    known.extend(
        ["yield.pieces", "yield.each", "yield.loss", "yield.total", "yield.finished", "yield.basis", "hydration"]
            .map(str::to_owned),
    );
    known.extend(["cost.total", "cost.each", "cost.basket"].map(str::to_owned));
    if !figures["fry"].is_null() {
        known.extend(["fry.oil", "fry.pan"].map(str::to_owned));
    }
    known
}

#[test]
fn labels_stand_where_they_say_and_name_what_there_is() {
    for narration in SPLITS.iter().flat_map(|split| narrations(split)) {
        let words = transcript::words(&narration.file);
        let figures = figures(&narration, &[]);
        let known = known(&figures);
        let name = &narration.name;
        let at = |place: labels::Words, text: &str| {
            let there: Vec<&str> = words[place.0..place.1].iter().map(|word| word.text.as_str()).collect();
            assert_eq!(there.join(" "), text, "{name}: words {place:?}");
        };
        let mut end = 0;
        for claim in &narration.claims {
            at(claim.words, &claim.text);
            assert!(claim.words.0 >= end, "{name}: `{}` overlaps the claim before it", claim.text);
            end = claim.words.1;
            let frost = claim.kind == "temperature";
            assert!(
                claim.low <= claim.high && (claim.low >= 0.0 || frost),
                "{name}: `{}` has a turned range",
                claim.text
            );
            for about in &claim.about {
                assert!(known.contains(about), "{name}: `{}` is about `{about}`, which is not there", claim.text);
            }
            match claim.verdict.as_str() {
                "agrees" => assert!(!claim.slip && !claim.about.is_empty(), "{name}: `{}`", claim.text),
                "differs" => assert!(claim.slip && claim.expected.is_some(), "{name}: `{}`", claim.text),
                "unplaced" => assert!(claim.about.is_empty(), "{name}: `{}`", claim.text),
                other => panic!("{name}: `{other}` is no verdict"),
            }
            if claim.misheard {
                assert_eq!(claim.verdict, "differs", "{name}: `{}`", claim.text);
            }
        }
        for sum in &narration.sums {
            at(sum.words, &sum.text);
        }
        for mangled in &narration.names {
            let there: Vec<&str> =
                words[mangled.words.0..mangled.words.1].iter().map(|word| word.text.as_str()).collect();
            assert_eq!(there.join(" ").trim_matches(|letter: char| !letter.is_alphanumeric()), mangled.said, "{name}");
        }
        for (place, text) in &narration.traps {
            at(*place, text);
        }
        for line in narration.silent.iter().chain(&narration.silent_either) {
            assert!(known.contains(line), "{name}: the silent line `{line}` is not there");
        }
        expectations(&narration, &figures);
    }
}

/// What a label expects of a line's weight or percent is what the figures show of it, at the recipe as written or at one of its variants.
fn expectations(narration: &Narration, base: &Value) {
    // "if you use cow's milk then it's 198": of a variant's take, the recipe as written or another variant.
    let named = |at: usize| narration.arguments.get(at).is_some_and(|argument| argument == "--variant");
    let rest = narration.arguments.iter().enumerate().filter(|(at, _)| !(named(*at) || *at > 0 && named(at - 1)));
    let rest: Vec<&str> = rest.map(|(_, argument)| argument.as_str()).collect();
    let variants = labels::list(&base["variants"]).map(|variant| labels::string(&variant["id"]));
    let of_variant = |id: String| figures_with(narration, &[rest.as_slice(), &["--variant", &id]].concat());
    let mut sheets = vec![base.clone()];
    sheets.extend((!base["variant"].is_null()).then(|| figures_with(narration, &rest)));
    sheets.extend(variants.map(of_variant));
    for claim in &narration.claims {
        let (Some((low, _)), [about]) = (claim.expected, claim.about.as_slice()) else { continue };
        let key = match claim.kind.as_str() {
            "weight" => "grams",
            "percent" => "percent",
            _ => continue,
        };
        let figures: Vec<f64> = sheets
            .iter()
            .flat_map(|sheet| labels::list(&sheet["lines"]))
            .filter(|line| line["id"].as_str() == Some(about))
            .filter_map(|line| labels::number(&line[key]))
            .collect();
        // A share may be said of a line: a half, a third, three quarters or, of the dumplings' water, a sixth of it, or what goes into one piece.
        let pieces = ["low", "high"].map(|end| base["yield"][end].as_f64().map_or(1.0, |pieces| 1.0 / pieces));
        let shares = [1.0, 0.5, 1.0 / 3.0, 2.0 / 3.0, 0.25, 0.75, 1.0 / 6.0, 5.0 / 6.0].into_iter().chain(pieces);
        let near = |figure: f64| shares.clone().any(|share| (figure * share - low).abs() <= 0.02 * low);
        assert!(
            figures.is_empty() || figures.into_iter().any(near),
            "{}: `{}` expects {low} of `{about}`, and the figures say otherwise",
            narration.name,
            claim.text
        );
    }
}

#[test]
fn there_is_enough_to_judge_by() {
    let all: Vec<Narration> = ["dev", "held"].iter().flat_map(|split| narrations(split)).collect();
    let claims: usize = all.iter().map(|narration| narration.claims.len()).sum();
    let slips = all.iter().flat_map(|narration| &narration.claims).filter(|claim| claim.slip).count();
    let wrong_sums = all.iter().flat_map(|narration| &narration.sums).filter(|sum| !sum.holds).count();
    assert!(all.len() >= 26 && claims >= 450 && slips + wrong_sums >= 110, "{} takes, {claims} claims", all.len());
    assert!(all.iter().filter(|narration| narration.seconds >= 460.0).count() >= 6, "too few long takes");
}

/// What the proof-reader reports of a narration.
fn proof(narration: &Narration) -> Value {
    let done = Command::new(env!("CARGO_BIN_EXE_tallyspoon"))
        .arg("--content")
        .arg(&narration.content)
        .args(["proof", &narration.recipe])
        .arg(&narration.file)
        .args(&narration.arguments)
        .arg("--json")
        .output()
        .expect("the program");
    // One of them differs somewhere: that is no fault of the run.
    assert!(matches!(done.status.code(), Some(0 | 1)), "{}: {}", narration.name, String::from_utf8_lossy(&done.stderr));
    serde_json::from_slice(&done.stdout)
        .unwrap_or_else(|error| panic!("{}: {error}: {}", narration.name, String::from_utf8_lossy(&done.stderr)))
}

/// The least that is asked of one split.
struct Gates {
    precision: f64,
    recall: f64,
    linking: f64,
    slips: f64,
    alarms: f64,
    /// Names corrected with certainty into what they are not.
    wrong_names: usize,
}

/// What a proof-reader has to reach that a creator never uploads without.
const GATES: Gates = Gates { precision: 0.95, recall: 0.95, linking: 0.95, slips: 0.97, alarms: 0.3, wrong_names: 0 };

/// What was reached on narrations that rules were worked out by, those of seven writers, and must not be lost again.
const REACHED: Gates =
    Gates { precision: 0.989, recall: 0.965, linking: 0.988, slips: 0.953, alarms: 0.89, wrong_names: 0 };

/// The same on the demo channel's own takes.
const REACHED_DEMO: Gates =
    Gates { precision: 1.0, recall: 1.0, linking: 1.0, slips: 1.0, alarms: 0.0, wrong_names: 0 };

/// The same on those that nobody has looked at.
const REACHED_UNSEEN: Gates =
    Gates { precision: 0.98, recall: 0.936, linking: 0.99, slips: 0.905, alarms: 1.95, wrong_names: 0 };

impl Gates {
    /// Those that a score misses, in words.
    fn missed(&self, split: &str, score: &Score) -> Vec<String> {
        let all = score.all();
        [
            ("precision of claims", all.claims.precision.rate() >= self.precision),
            ("recall of claims", all.claims.recall.rate() >= self.recall),
            ("linking", all.link.rate() >= self.linking),
            ("slips reported", score.slips().rate() >= self.slips),
            ("false alarms in ten minutes", score.alarms_per_ten_minutes() <= self.alarms),
            ("places of claims", score.places.rate() >= 0.95),
            ("names wrongly corrected", score.wrong_names <= self.wrong_names),
        ]
        .into_iter()
        .filter(|(_, passed)| !passed)
        .map(|(what, _)| format!("{split}: {what}"))
        .collect()
    }
}

/// The score over a split and how many narrations it has.
fn score(split: &str) -> (usize, Score) {
    let narrations = narrations(split);
    let mut score = Score::default();
    for narration in &narrations {
        score += judge::judge(narration, &transcript::words(&narration.file), &proof(narration));
    }
    (narrations.len(), score)
}

/// Prints the table of each split, and the faults of those that `NARRATIONS_SHOW` names.
#[test]
fn what_is_said_is_found_linked_and_judged() {
    let shown = std::env::var("NARRATIONS_SHOW").unwrap_or_default();
    let mut lost = Vec::new();
    for split in SPLITS {
        let (takes, score) = score(split);
        println!("{}", table::table(split, takes, &score));
        if shown.split(',').any(|name| name == split) {
            for fault in &score.faults {
                println!("  {fault}");
            }
        }
        let reached = match split {
            "held" => REACHED_UNSEEN,
            "demo" => REACHED_DEMO,
            _ => REACHED,
        };
        lost.extend(if takes > 0 { reached.missed(split, &score) } else { Vec::new() });
    }
    assert!(lost.is_empty(), "the proof-reader was better before: {lost:?}");
}

/// The gates that are not met yet: one more is a step back, one fewer is to be taken off here.
const STILL_MISSED: [&str; 5] = [
    "dev: slips reported",
    "dev: false alarms in ten minutes",
    "held: recall of claims",
    "held: slips reported",
    "held: false alarms in ten minutes",
];

#[test]
fn no_gate_is_missed_but_those_named() {
    let there: Vec<&str> = SPLITS.into_iter().filter(|split| !narrations(split).is_empty()).collect();
    let missed: Vec<String> = there.iter().flat_map(|split| GATES.missed(split, &score(split).1)).collect();
    let of_those_there = |gate: &&&str| there.iter().any(|split| gate.starts_with(split));
    assert_eq!(missed, STILL_MISSED.iter().filter(of_those_there).copied().collect::<Vec<_>>());
}
