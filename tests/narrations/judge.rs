//! Holds what the proof-reader reported against the labels: what it found, what it made of it and what it missed, a tally
//! a kind. Owns the matching of the two by the words they share; knows no rule of the proof-reader.

use crate::labels::{self, Claim, Name, Narration, Words};
use crate::transcript::Word;
use serde_json::Value;
use std::collections::BTreeMap;
use std::ops::AddAssign;

/// The kinds of claim, as in `proof/1`.
pub const KINDS: [&str; 8] = ["weight", "volume", "count", "percent", "temperature", "duration", "length", "money"];

/// How often something was right, of how often it could have been.
#[derive(Clone, Copy, Default)]
pub struct Share {
    pub right: usize,
    pub of: usize,
}

impl Share {
    fn add(&mut self, right: bool) {
        self.right += usize::from(right);
        self.of += 1;
    }

    /// The share, one where there was nothing to get right.
    pub fn rate(self) -> f64 {
        if self.of == 0 { 1.0 } else { self.right as f64 / self.of as f64 }
    }
}

impl AddAssign for Share {
    fn add_assign(&mut self, other: Self) {
        self.right += other.right;
        self.of += other.of;
    }
}

/// What was found of what there was, and how much of what was reported was there.
#[derive(Clone, Copy, Default)]
pub struct Found {
    pub precision: Share,
    pub recall: Share,
}

impl Found {
    /// The harmonic mean of both.
    pub fn f1(self) -> f64 {
        let (precision, recall) = (self.precision.rate(), self.recall.rate());
        if precision + recall == 0.0 { 0.0 } else { 2.0 * precision * recall / (precision + recall) }
    }
}

impl AddAssign for Found {
    fn add_assign(&mut self, other: Self) {
        self.precision += other.precision;
        self.recall += other.recall;
    }
}

/// The tally of one kind of claim, or of all.
#[derive(Clone, Copy, Default)]
pub struct Tally {
    /// Claims found where they stand, with their kind and their value.
    pub claims: Found,
    /// Of those found where they stand: kind and value right.
    pub value: Share,
    /// Of those found: about the figure they are about.
    pub link: Share,
    /// Of those found: the verdict.
    pub verdict: Share,
    /// Of those found: the figure held against them.
    pub expected: Share,
    /// Planted slips that were reported.
    pub slips: Share,
    pub false_alarms: usize,
}

impl AddAssign for Tally {
    fn add_assign(&mut self, other: Self) {
        self.claims += other.claims;
        self.value += other.value;
        self.link += other.link;
        self.verdict += other.verdict;
        self.expected += other.expected;
        self.slips += other.slips;
        self.false_alarms += other.false_alarms;
    }
}

/// All that was judged of some narrations.
#[derive(Clone, Default)]
pub struct Score {
    pub kinds: BTreeMap<&'static str, Tally>,
    pub sums: Found,
    pub sum_verdicts: Share,
    pub sum_slips: Share,
    pub sum_alarms: usize,
    pub misheard: Share,
    /// Of claims found: within half a second of their first word, or in a script at its line and column.
    pub places: Share,
    pub names: Found,
    /// Names corrected with certainty, so by itself, into what they are not.
    pub wrong_names: usize,
    /// Names only suggested, and not what was said.
    pub wrong_suggestions: usize,
    pub silent: Found,
    pub seconds: f64,
    /// What went wrong, a line each.
    pub faults: Vec<String>,
}

impl AddAssign for Score {
    fn add_assign(&mut self, other: Self) {
        for (kind, tally) in other.kinds {
            *self.kinds.entry(kind).or_default() += tally;
        }
        self.sums += other.sums;
        self.sum_verdicts += other.sum_verdicts;
        self.sum_slips += other.sum_slips;
        self.sum_alarms += other.sum_alarms;
        self.misheard += other.misheard;
        self.places += other.places;
        self.names += other.names;
        self.wrong_names += other.wrong_names;
        self.wrong_suggestions += other.wrong_suggestions;
        self.silent += other.silent;
        self.seconds += other.seconds;
        self.faults.extend(other.faults);
    }
}

impl Score {
    /// The tallies of all kinds together.
    pub fn all(&self) -> Tally {
        let mut all = Tally::default();
        for tally in self.kinds.values() {
            all += *tally;
        }
        all
    }

    /// Planted slips of claims and of sums that were reported.
    pub fn slips(&self) -> Share {
        let mut slips = self.all().slips;
        slips += self.sum_slips;
        slips
    }

    /// Reports of a difference where there is none, in ten minutes of talk.
    pub fn alarms_per_ten_minutes(&self) -> f64 {
        (self.all().false_alarms + self.sum_alarms) as f64 * 600.0 / self.seconds
    }
}

/// A claim as reported, with the words it stands on.
struct Report<'a> {
    words: Words,
    said: &'a Value,
}

impl Report<'_> {
    fn kind(&self) -> &str {
        self.said["kind"].as_str().unwrap_or("")
    }

    fn verdict(&self) -> &str {
        self.said["verdict"].as_str().unwrap_or("")
    }

    fn has_value_of(&self, claim: &Claim) -> bool {
        let value = |key: &str| labels::number(&self.said[key]);
        self.kind() == claim.kind && same(value("low"), claim.low, 1e-9) && same(value("high"), claim.high, 1e-9)
    }
}

fn same(theirs: Option<f64>, ours: f64, within: f64) -> bool {
    theirs.is_some_and(|theirs| (theirs - ours).abs() <= within * ours.abs().max(1e-3))
}

/// Judges one report by the labels of its narration.
pub fn judge(narration: &Narration, words: &[Word], proof: &Value) -> Score {
    let mut score = Score { seconds: narration.seconds, ..Score::default() };
    claims(&mut score, narration, words, proof);
    sums(&mut score, narration, words, proof);
    names(&mut score, narration, words, proof);
    silent(&mut score, narration, proof);
    for fault in &mut score.faults {
        *fault = format!("{}: {fault}", narration.name);
    }
    score
}

fn reports<'a>(list: &'a Value, text: &str, words: &[Word]) -> Vec<Report<'a>> {
    labels::list(list).map(|said| Report { words: place(said, text, words), said }).collect()
}

/// The words that a reported text stands on: where it is found, nearest to the time or the place it names.
fn place(said: &Value, text: &str, words: &[Word]) -> Words {
    let bare = |word: &str| word.chars().filter(|letter| letter.is_alphanumeric()).collect::<String>().to_lowercase();
    let wanted: Vec<String> =
        said[text].as_str().unwrap_or("").split_whitespace().map(bare).filter(|word| !word.is_empty()).collect();
    let numbered: Vec<(usize, String)> = words
        .iter()
        .enumerate()
        .map(|(index, word)| (index, bare(&word.text)))
        .filter(|(_, word)| !word.is_empty())
        .collect();
    let time = said["start"].as_str().map(clock);
    let spot = (said["line"].as_f64().unwrap_or(0.0), said["column"].as_f64().unwrap_or(0.0));
    let distance = |word: &Word| match (time, word.time) {
        (Some(time), Some(at)) => (time - at).abs(),
        _ => (spot.0 - word.line as f64).abs() * 1000.0 + (spot.1 - word.column as f64).abs(),
    };
    let found = numbered
        .windows(wanted.len().max(1))
        .filter(|run| !wanted.is_empty() && run.iter().map(|(_, word)| word).eq(&wanted))
        .map(|run| Words(run[0].0, run[run.len() - 1].0 + 1))
        .min_by(|one, other| distance(&words[one.0]).total_cmp(&distance(&words[other.0])));
    found.unwrap_or_else(|| {
        let nearest = (0..words.len()).min_by(|one, other| distance(&words[*one]).total_cmp(&distance(&words[*other])));
        let first = nearest.unwrap_or(0);
        Words(first, (first + wanted.len().max(1)).min(words.len()))
    })
}

fn clock(time: &str) -> f64 {
    time.split(':').fold(0.0, |sum, part| sum * 60.0 + part.parse::<f64>().unwrap_or(f64::NAN))
}

/// One label for one report: the same value first, then the most words shared of those that either has.
fn pair(narration: &Narration, reports: &[Report]) -> Vec<Option<usize>> {
    let mut close: Vec<(bool, f64, usize, usize)> = Vec::new();
    for (label, claim) in narration.claims.iter().enumerate() {
        for (index, report) in reports.iter().enumerate() {
            let shared = claim.words.shared(report.words);
            if shared > 0 {
                let either = claim.words.1.max(report.words.1) - claim.words.0.min(report.words.0);
                close.push((report.has_value_of(claim), shared as f64 / either as f64, label, index));
            }
        }
    }
    close.sort_by(|one, other| other.0.cmp(&one.0).then(other.1.total_cmp(&one.1)).then(one.2.cmp(&other.2)));
    let mut taken = vec![None; reports.len()];
    let mut labelled = vec![false; narration.claims.len()];
    for (_, _, label, index) in close {
        if taken[index].is_none() && !labelled[label] {
            taken[index] = Some(label);
            labelled[label] = true;
        }
    }
    taken
}

/// What marks a planted slip that was not reported, among all faults.
const MISSED: &str = "[slip missed] ";
/// What marks a report of what is right, or of what is no claim.
const ALARM: &str = "[false alarm] ";

fn kind_of(kind: &str) -> &'static str {
    KINDS.into_iter().find(|known| *known == kind).unwrap_or("other")
}

fn claims(score: &mut Score, narration: &Narration, words: &[Word], proof: &Value) {
    let reports = reports(&proof["claims"], "text", words);
    let pairs = pair(narration, &reports);
    for (report, pair) in reports.iter().zip(&pairs) {
        let text = report.said["text"].as_str().unwrap_or("");
        match pair.map(|label| &narration.claims[label]) {
            Some(claim) => {
                matched(score, report, claim, words);
                placed(score, report.said, &words[report.words.0], text);
            }
            None if narration.either.iter().any(|either| either.shared(report.words) > 0) => {}
            None => {
                let trap = narration.traps.iter().find(|(trap, _)| trap.shared(report.words) > 0);
                let trap = trap.map_or(String::new(), |(_, text)| format!(", in `{text}`"));
                let (verdict, around) = (report.verdict(), around(words, report.words));
                let about = report.said["about"].as_str().unwrap_or("nothing");
                let mark = if verdict == "differs" { ALARM } else { "" };
                score
                    .faults
                    .push(format!("{mark}`{text}` is no claim{trap}, reported as {verdict} about {about} | {around}"));
                let tally = score.kinds.entry(kind_of(report.kind())).or_default();
                tally.claims.precision.add(false);
                tally.false_alarms += usize::from(report.verdict() == "differs");
            }
        }
    }
    for (label, claim) in narration.claims.iter().enumerate() {
        if !pairs.contains(&Some(label)) {
            let around = around(words, claim.words);
            let mark = if claim.slip { MISSED } else { "" };
            score.faults.push(format!("{mark}`{}` ({} {}) is not found | {around}", claim.text, claim.kind, claim.low));
            let tally = score.kinds.entry(kind_of(&claim.kind)).or_default();
            tally.claims.recall.add(false);
            if claim.slip {
                tally.slips.add(false);
            }
        }
    }
}

/// The words around some, for whoever reads a list of faults.
fn around(words: &[Word], at: Words) -> String {
    let run = |from: usize, to: usize| {
        let texts: Vec<&str> = words[from..to].iter().map(|word| word.text.as_str()).collect();
        texts.join(" ")
    };
    let (before, after) = (at.0.saturating_sub(14), (at.1 + 10).min(words.len()));
    format!("{} [{}] {}", run(before, at.0), run(at.0, at.1), run(at.1, after))
}

fn matched(score: &mut Score, report: &Report, claim: &Claim, words: &[Word]) {
    let tally = score.kinds.entry(kind_of(&claim.kind)).or_default();
    let right = report.has_value_of(claim);
    let about = report.said["about"].as_str();
    let verdict = report.verdict();
    tally.claims.precision.add(right);
    tally.claims.recall.add(right);
    tally.value.add(right);
    let reported = verdict == "differs" || (claim.verdict == "unplaced" && verdict == "unplaced");
    if claim.slip {
        tally.slips.add(reported);
    } else if verdict == "differs" {
        tally.false_alarms += 1;
    }
    let mut wrong = Vec::new();
    if right {
        if !claim.about.is_empty() {
            let linked = about.is_some_and(|about| claim.about.iter().any(|label| label == about));
            tally.link.add(linked);
            if !linked {
                wrong.push(format!("about {} and not {}", about.unwrap_or("nothing"), claim.about.join(" or ")));
            }
        }
        tally.verdict.add(verdict == claim.verdict);
        if let (Some((low, high)), true) = (claim.expected, verdict == claim.verdict) {
            let figure = |key: &str| labels::number(&report.said[key]);
            // Shown or exact: a shown weight keeps within 2 %.
            let near = same(figure("expected_low"), low, 0.02) && same(figure("expected_high"), high, 0.02);
            tally.expected.add(near);
            if !near {
                wrong.push(format!("held against {} and not {low}", report.said["expected_low"]));
            }
        }
    } else {
        let value = |key: &str| report.said[key].as_str().unwrap_or("nothing");
        wrong.push(format!(
            "{} {}–{} and not {} {}–{}",
            report.kind(),
            value("low"),
            value("high"),
            claim.kind,
            claim.low,
            claim.high
        ));
    }
    if verdict != claim.verdict {
        wrong.push(format!("{verdict} and not {}", claim.verdict));
    }
    if claim.slip && verdict == "differs" && claim.verdict == "differs" {
        let misheard = report.said["misheard"].as_bool().unwrap_or(false);
        score.misheard.add(misheard == claim.misheard);
        if misheard != claim.misheard {
            wrong.push(format!("misheard is {misheard}"));
        }
    }
    if !wrong.is_empty() {
        let around = around(words, claim.words);
        let mark = match (claim.slip, reported) {
            (true, false) => MISSED,
            (false, _) if verdict == "differs" => ALARM,
            _ => "",
        };
        score.faults.push(format!("{mark}`{}`: {} | {around}", claim.text, wrong.join("; ")));
    }
}

/// Whether a claim is where it says, by the first of the words that it names.
fn placed(score: &mut Score, said: &Value, first: &Word, text: &str) {
    let right = match (first.time, said["start"].as_str()) {
        (Some(time), Some(start)) => (clock(start) - time).abs() <= 0.5,
        (None, None) => said["line"].as_u64() == Some(first.line as u64) && near_column(said, first),
        _ => false,
    };
    score.places.add(right);
    if !right {
        score
            .faults
            .push(format!("`{text}` is said to be at {}:{} or {}", said["line"], said["column"], said["start"]));
    }
}

/// A claim may begin inside a word, after a bracket or a mark of emphasis.
fn near_column(said: &Value, first: &Word) -> bool {
    let length = first.text.chars().count() as u64;
    said["column"].as_u64().is_some_and(|column| (0..length).contains(&column.wrapping_sub(first.column as u64)))
}

fn sums(score: &mut Score, narration: &Narration, words: &[Word], proof: &Value) {
    let reports = reports(&proof["sums"], "text", words);
    let mut found = vec![false; narration.sums.len()];
    for report in &reports {
        let holds = report.said["holds"].as_bool().unwrap_or(false);
        let label =
            (0..found.len()).find(|&index| !found[index] && narration.sums[index].words.shared(report.words) > 0);
        if let Some(label) = label {
            let sum = &narration.sums[label];
            found[label] = true;
            score.sums.precision.add(true);
            score.sum_verdicts.add(holds == sum.holds);
            if !sum.holds {
                score.sum_slips.add(!holds);
            }
            score.sum_alarms += usize::from(sum.holds && !holds);
            if holds != sum.holds {
                score.faults.push(format!("the sum `{}` holds: {}", sum.text, sum.holds));
            }
        } else if !narration.either.iter().any(|either| either.shared(report.words) > 0) {
            score.sums.precision.add(false);
            score.sum_alarms += usize::from(!holds);
            score.faults.push(format!("`{}` is no sum", report.said["text"].as_str().unwrap_or("")));
        }
    }
    for (sum, found) in narration.sums.iter().zip(found) {
        score.sums.recall.add(found);
        if !found {
            score.faults.push(format!("the sum `{}` is not found", sum.text));
            if !sum.holds {
                score.sum_slips.add(false);
            }
        }
    }
}

/// What is changed of the words, without those that stay.
fn changed(said: &str, written: &str) -> (Vec<String>, Vec<String>) {
    // A hyphen is not heard.
    let split = |text: &str| text.to_lowercase().split([' ', '-']).map(str::to_owned).collect::<Vec<_>>();
    let (mut said, mut written) = (split(said), split(written));
    while said.len() > 1 && written.len() > 1 && said[0] == written[0] {
        said.remove(0);
        written.remove(0);
    }
    while said.len() > 1 && written.len() > 1 && said.last() == written.last() {
        said.pop();
        written.pop();
    }
    (said, written)
}

/// Whether what is reported of several parts of a mangled name makes all of it right: "sighed" is side and "pair" is pear.
fn together(name: &Name, reported: &[Report<'_>]) -> bool {
    let mut written: Vec<&str> = name.said.split_whitespace().collect();
    let inside = reported.iter().filter(|report| name.words.0 <= report.words.0 && report.words.1 <= name.words.1);
    for report in inside {
        let from = report.words.0 - name.words.0;
        let words = written.iter_mut().skip(from).take(report.words.1 - report.words.0);
        words.for_each(|word| *word = "");
        if let Some(first) = written.get_mut(from) {
            *first = report.said["written"].as_str().unwrap_or("");
        }
    }
    let letters = |text: &str| text.to_lowercase().chars().filter(|c| c.is_alphanumeric()).collect::<String>();
    letters(&written.concat()) == letters(&name.written)
}

fn names(score: &mut Score, narration: &Narration, words: &[Word], proof: &Value) {
    let mut found = vec![false; narration.names.len()];
    let reported = reports(&proof["names"], "said", words);
    for report in &reported {
        let text = |key: &str| report.said[key].as_str().unwrap_or("");
        let of = |index: &usize| narration.names[*index].words.shared(report.words) > 0;
        let near: Vec<usize> = (0..found.len()).filter(of).collect();
        let several = |index: &&usize| together(&narration.names[**index], &reported);
        let label = near.iter().find(|index| !found[**index]).or_else(|| near.iter().find(several)).copied();
        let right = label.is_some_and(|index| {
            let name = &narration.names[index];
            changed(text("said"), text("written")) == changed(&name.said, &name.written) || together(name, &reported)
        });
        if let (Some(index), true) = (label, right) {
            found[index] = true;
        } else if narration.either.iter().any(|either| either.shared(report.words) > 0) {
            continue;
        } else {
            // One that does not say how sure it is would be taken at its word.
            let certain = report.said["certain"].as_bool().unwrap_or(true);
            score.wrong_names += usize::from(certain);
            score.wrong_suggestions += usize::from(!certain);
            score.faults.push(format!("the name `{}` is not `{}`", text("said"), text("written")));
        }
        score.names.precision.add(right);
    }
    for (name, found) in narration.names.iter().zip(found) {
        score.names.recall.add(found);
        if !found {
            score.faults.push(format!("the name `{}` for `{}` is not found", name.said, name.written));
        }
    }
}

fn silent(score: &mut Score, narration: &Narration, proof: &Value) {
    let reported: Vec<&str> = labels::list(&proof["silent"]).filter_map(Value::as_str).collect();
    for line in &reported {
        if !narration.silent_either.iter().any(|either| either == line) {
            let right = narration.silent.iter().any(|label| label == line);
            score.silent.precision.add(right);
            if !right {
                score.faults.push(format!("`{line}` is not silent"));
            }
        }
    }
    for line in &narration.silent {
        let found = reported.contains(&line.as_str());
        score.silent.recall.add(found);
        if !found {
            score.faults.push(format!("`{line}` is silent"));
        }
    }
}
