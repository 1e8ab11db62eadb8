//! Finds what rolling captions repeat: a cue that shows the last lines of the one before it and more, or the same
//! again for an instant. Must not know what a format is.

use super::{Break, Cue, Millis, Word};
use std::ops::Range;

/// The most rows that captions roll through (CTA-608 has two, three or four).
const ROWS: usize = 4;
/// Where a file is not known to roll, a cue that repeats the one before it follows within this.
const GAP: u64 = 1000;
/// A cue no longer than this holds the picture, nobody can say anything in it.
const INSTANT: u64 = 100;

/// What one cue repeats of the one before it.
#[derive(Clone, Copy, Default)]
struct Overlap {
    /// How many of its first words.
    words: usize,
    /// Whether it shows something new after them.
    grows: bool,
    /// Whether it follows at once.
    near: bool,
    /// Whether the times alone say that nobody says it twice.
    certain: bool,
}

/// How many of its first words each cue repeats: the last ones of the cue before it in `order`, that has any.
///
/// Two equal lines after each other are no proof: people do say things twice. They are repeats where the file rolls
/// (at least one cue in four goes on after lines of the one before), where three cues or more in a row
/// repeat, or where the times are too short for words or overlap.
pub(super) fn repeated(cues: &[Cue], words: &[Word], shown: &[Range<usize>], order: &[usize]) -> Vec<usize> {
    let mut again = vec![0; cues.len()];
    let filled: Vec<usize> = order.iter().copied().filter(|&cue| !shown[cue].is_empty()).collect();
    let pairs: Vec<Overlap> = filled.windows(2).map(|pair| overlap(cues, words, shown, pair[0], pair[1])).collect();
    let growing = pairs.iter().filter(|pair| pair.grows && pair.near).count();
    let rolls = growing > 0 && growing * 4 >= pairs.len();
    for (at, pair) in pairs.iter().enumerate() {
        let beside = |other: Option<&Overlap>| other.is_some_and(|other| other.words > 0 && other.near);
        let in_a_run = beside(at.checked_sub(1).and_then(|at| pairs.get(at))) || beside(pairs.get(at + 1));
        if rolls || pair.near && (in_a_run || pair.certain) {
            again[filled[at + 1]] = pair.words;
        }
    }
    again
}

fn overlap(cues: &[Cue], words: &[Word], shown: &[Range<usize>], before: usize, after: usize) -> Overlap {
    let (Cue { start: Some(from), end: Some(to), .. }, Cue { start: Some(start), end: Some(end), .. }) =
        (&cues[before], &cues[after])
    else {
        return Overlap::default();
    };
    let (old, new) = (&words[shown[before].clone()], &words[shown[after].clone()]);
    let rows = (0..old.len()).rev().filter(|&at| at == 0 || old[at].break_before >= Break::Line).take(ROWS);
    let same = |row: &usize| {
        let rest = &old[*row..];
        rest.len() <= new.len() && rest.iter().zip(new).all(|(a, b)| a.text == b.text)
    };
    // The longest of them: what was shown from the earliest row.
    let Some(row) = rows.filter(same).last() else { return Overlap::default() };
    let count = old.len() - row;
    let brief = |from: Millis, to: Millis| to.0.saturating_sub(from.0) <= INSTANT;
    let certain = count == new.len() && (brief(*start, *end) || brief(*from, *to) || start < to);
    Overlap { words: count, grows: count < new.len(), near: start.0 <= to.0.saturating_add(GAP), certain }
}
