//! The judge judged: a report written from the labels themselves is right in everything, and each kind of fault put into it
//! is counted where it belongs. Knows nothing of the program.

use crate::judge::{Score, judge};
use crate::labels::{Narration, Words, narrations};
use crate::transcript::{self, Word};
use serde_json::{Value, json};

/// Where some words stand, in the terms of `proof/1`.
fn place(words: &[Word], at: Words) -> Value {
    let first = &words[at.0];
    match first.time {
        Some(time) => {
            let minutes = (time / 60.0).floor();
            json!({ "start": format!("00:{minutes:02}:{:06.3}", time - minutes * 60.0) })
        }
        None => json!({ "start": null, "line": first.line, "column": first.column }),
    }
}

fn with(mut place: Value, more: Value) -> Value {
    if let (Value::Object(all), Value::Object(more)) = (&mut place, more) {
        all.extend(more);
    }
    place
}

/// The report that a perfect proof-reader would give.
fn perfect(narration: &Narration, words: &[Word]) -> Value {
    let claims: Vec<Value> = narration
        .claims
        .iter()
        .map(|claim| {
            let expected = |which: fn((f64, f64)) -> f64| claim.expected.map(|range| which(range).to_string());
            let more = json!({
                "text": claim.text, "kind": claim.kind, "low": claim.low.to_string(), "high": claim.high.to_string(),
                "about": claim.about.first(), "verdict": claim.verdict, "misheard": claim.misheard,
                "expected_low": expected(|range| range.0), "expected_high": expected(|range| range.1),
            });
            with(place(words, claim.words), more)
        })
        .collect();
    let sums: Vec<Value> = narration
        .sums
        .iter()
        .map(|sum| with(place(words, sum.words), json!({ "text": sum.text, "holds": sum.holds })))
        .collect();
    let names: Vec<Value> = narration
        .names
        .iter()
        .map(|name| with(place(words, name.words), json!({ "said": name.said, "written": name.written })))
        .collect();
    json!({ "claims": claims, "sums": sums, "names": names, "silent": narration.silent })
}

/// The score over all narrations of reports that were changed.
fn scored(change: impl Fn(&mut Value)) -> Score {
    let mut score = Score::default();
    for narration in ["dev", "held"].iter().flat_map(|split| narrations(split)) {
        let words = transcript::words(&narration.file);
        let mut proof = perfect(&narration, &words);
        change(&mut proof);
        score += judge(&narration, &words, &proof);
    }
    score
}

/// Changes every so-manieth claim.
fn each(proof: &mut Value, step: usize, change: impl Fn(&mut Value)) {
    proof["claims"].as_array_mut().expect("claims").iter_mut().step_by(step).for_each(change);
}

#[test]
fn a_perfect_report_is_right_in_everything() {
    let score = scored(|_| {});
    assert_eq!(score.faults, Vec::<String>::new());
    let all = score.all();
    for share in [
        all.claims.precision,
        all.claims.recall,
        all.value,
        all.link,
        all.verdict,
        all.expected,
        score.slips(),
        score.places,
    ] {
        assert!(share.of > 100 && share.right == share.of, "{} of {}", share.right, share.of);
    }
    for share in
        [score.sums.precision, score.sums.recall, score.names.precision, score.names.recall, score.silent.recall]
    {
        assert!(share.of > 10 && share.right == share.of, "{} of {}", share.right, share.of);
    }
    assert_eq!((all.claims.f1(), score.alarms_per_ten_minutes(), score.wrong_names), (1.0, 0.0, 0));
}

#[test]
fn each_fault_is_counted_where_it_belongs() {
    let silent_reader = scored(|proof| *proof = json!({ "claims": [], "sums": [], "names": [], "silent": [] }));
    assert_eq!((silent_reader.all().claims.recall.right, silent_reader.slips().right), (0, 0));
    assert_eq!(silent_reader.alarms_per_ten_minutes(), 0.0);

    let values = scored(|proof| each(proof, 4, |claim| claim["low"] = json!("0.5"))).all();
    assert!(values.claims.precision.rate() < 0.8 && values.claims.recall.rate() < 0.8 && values.value.rate() < 0.8);

    let links = scored(|proof| each(proof, 4, |claim| claim["about"] = json!("main.elsewhere"))).all();
    assert!(links.link.rate() < 0.8 && links.claims.recall.rate() == 1.0);

    let blind = scored(|proof| each(proof, 1, |claim| claim["verdict"] = json!("agrees")));
    assert!(blind.all().slips.right == 0 && blind.all().false_alarms == 0);

    let nervous = scored(|proof| each(proof, 1, |claim| claim["verdict"] = json!("differs")));
    assert!(nervous.alarms_per_ten_minutes() > 30.0 && nervous.all().slips.rate() == 1.0);

    let late = scored(|proof| each(proof, 4, |claim| claim["line"] = json!(9999)));
    let later = scored(|proof| {
        each(proof, 4, |claim| {
            if let Some(start) = claim["start"].as_str() {
                claim["start"] = json!(start.replacen("00:", "01:", 1));
            }
        });
    });
    assert!(
        late.places.rate() < 0.99 && later.places.rate() < 0.9,
        "{} and {}",
        late.places.rate(),
        later.places.rate()
    );

    let doubled = scored(|proof| {
        let claims = proof["claims"].as_array_mut().expect("claims");
        claims.extend(claims.clone());
    });
    assert!(doubled.all().claims.precision.rate() <= 0.5 && doubled.all().claims.recall.rate() == 1.0);

    let renamed = scored(|proof| {
        for name in proof["names"].as_array_mut().expect("names") {
            name["written"] = json!("elsewhere");
        }
    });
    assert!(renamed.wrong_names > 20 && renamed.names.recall.right == 0);
    let suggested = scored(|proof| {
        for name in proof["names"].as_array_mut().expect("names") {
            name["written"] = json!("elsewhere");
            name["certain"] = json!(false);
        }
    });
    assert_eq!((suggested.wrong_names, suggested.wrong_suggestions), (0, renamed.wrong_names));
}
