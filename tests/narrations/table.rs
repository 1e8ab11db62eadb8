//! The table that the evaluation prints: a row a kind, then what is judged over all. Knows nothing of how it was judged.

use crate::judge::{Found, Score, Share, Tally};
use std::fmt::Write;

/// The table of one split.
pub fn table(split: &str, takes: usize, score: &Score) -> String {
    let mut out = String::new();
    let all = score.all();
    let _ = writeln!(
        out,
        "\n{split}: {takes} narrations, {:.1} minutes, {} claims",
        score.seconds / 60.0,
        all.claims.recall.of
    );
    let _ = writeln!(
        out,
        "{:<12}{:>7}{:>8}{:>8}{:>8}{:>8}{:>8}{:>9}{:>9}{:>9}{:>8}",
        "kind", "claims", "P", "R", "F1", "value", "link", "verdict", "expected", "slips", "alarms"
    );
    for (kind, tally) in &score.kinds {
        row(&mut out, kind, tally);
    }
    row(&mut out, "all", &all);
    let slips = score.slips();
    let _ = writeln!(out, "slips reported, sums with them: {} ({})", percent(slips), of(slips));
    let alarms = all.false_alarms + score.sum_alarms;
    let _ = writeln!(out, "false alarms: {alarms}, {:.2} in ten minutes", score.alarms_per_ten_minutes());
    let _ = writeln!(out, "sums: {}; whether they hold {}", found(score.sums), percent(score.sum_verdicts));
    let _ = writeln!(out, "start of claims, or line and column: {} ({})", percent(score.places), of(score.places));
    let _ = writeln!(out, "misheard or not, of reported slips: {} ({})", percent(score.misheard), of(score.misheard));
    let _ = writeln!(
        out,
        "names: {}; wrongly corrected {}, wrongly suggested {}",
        found(score.names),
        score.wrong_names,
        score.wrong_suggestions
    );
    let _ = writeln!(out, "silent lines: {}", found(score.silent));
    out
}

fn row(out: &mut String, name: &str, tally: &Tally) {
    let claims = tally.claims;
    let _ = writeln!(
        out,
        "{name:<12}{:>7}{:>8}{:>8}{:>8.3}{:>8}{:>8}{:>9}{:>9}{:>9}{:>8}",
        claims.recall.of,
        percent(claims.precision),
        percent(claims.recall),
        claims.f1(),
        percent(tally.value),
        percent(tally.link),
        percent(tally.verdict),
        percent(tally.expected),
        of(tally.slips),
        tally.false_alarms
    );
}

fn found(found: Found) -> String {
    format!(
        "precision {} ({}), recall {} ({})",
        percent(found.precision),
        of(found.precision),
        percent(found.recall),
        of(found.recall)
    )
}

fn percent(share: Share) -> String {
    if share.of == 0 { "–".to_owned() } else { format!("{:.1}%", share.rate() * 100.0) }
}

fn of(share: Share) -> String {
    format!("{}/{}", share.right, share.of)
}
