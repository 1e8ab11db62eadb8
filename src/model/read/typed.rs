//! Finds numbers with a unit in text that stands outside braces. Must not know recipes.

use crate::exact::Unit;
use std::ops::Range;

/// Words that are units, but far more often something else after a number: "cut 2 in half".
const EVERYDAY: [&str; 2] = ["in", "d"];

/// The characters of each number with a unit.
pub(super) fn find(text: &[char]) -> Vec<Range<usize>> {
    let mut found = Vec::new();
    let mut at = 0;
    while at < text.len() {
        let Some(end_of_number) = number(text, at) else {
            at += 1;
            continue;
        };
        let inside_word = at > 0 && text[at - 1].is_alphanumeric();
        match measure(text, at).filter(|_| !inside_word) {
            Some(end) => {
                found.push(at - usize::from(is_signed(text, at))..end);
                at = end;
            }
            None => at = end_of_number,
        }
    }
    found
}

/// Whether the number at `start` is below zero: a sign stands right before it, and nothing but a blank before that.
fn is_signed(text: &[char], start: usize) -> bool {
    let sign = start.checked_sub(1).is_some_and(|at| matches!(text[at], '-' | '−'));
    sign && start.checked_sub(2).is_none_or(|at| text[at].is_whitespace())
}

/// Where the number with a unit that starts at `start` ends.
fn measure(text: &[char], start: usize) -> Option<usize> {
    let mut end = number(text, start)?;
    // No measure has more numbers in it than "1 1/2 to 2 1/2 cups".
    for _ in 0..4 {
        if let Some(unit_end) = unit(text, skip_blanks(text, end)) {
            return Some(unit_end);
        }
        // A range, a mixed fraction, or a hyphen as in "20-minute".
        let mut next = skip_blanks(text, end);
        if text.get(next).is_some_and(|c| matches!(c, '-' | '–' | '—' | '‑')) {
            next = skip_blanks(text, next + 1);
        } else if text.get(next..next + 3) == Some(&['t', 'o', ' ']) {
            next = skip_blanks(text, next + 3);
        } else if next == end {
            return None;
        }
        match number(text, next) {
            Some(number_end) => end = number_end,
            None => return unit(text, next),
        }
    }
    None
}

fn number(text: &[char], start: usize) -> Option<usize> {
    if !text.get(start)?.is_numeric() {
        return None;
    }
    let inner = |at: usize| {
        let c = text[at];
        let joins = matches!(c, '.' | ',' | '/') && text.get(at + 1).is_some_and(|next| next.is_numeric());
        c.is_numeric() || joins
    };
    Some((start..text.len()).find(|at| !inner(*at)).unwrap_or(text.len()))
}

fn skip_blanks(text: &[char], start: usize) -> usize {
    (start..text.len()).find(|at| !text[*at].is_whitespace()).unwrap_or(text.len())
}

fn unit(text: &[char], start: usize) -> Option<usize> {
    let first = *text.get(start)?;
    if matches!(first, '%' | '℃' | '℉') {
        return Some(start + 1);
    }
    if first == '°' {
        let letter = skip_blanks(text, start + 1);
        return text.get(letter).is_some_and(|c| matches!(c, 'C' | 'F')).then_some(letter + 1);
    }
    let end = (start..text.len()).find(|at| !text[*at].is_alphabetic()).unwrap_or(text.len());
    let word: String = text[start..end].iter().collect();
    let is_unit = word.len() <= 12 && !EVERYDAY.contains(&word.as_str()) && Unit::parse(&word).is_some();
    is_unit.then_some(end)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(text: &str) -> Vec<String> {
        let chars: Vec<char> = text.chars().collect();
        find(&chars).into_iter().map(|range| chars[range].iter().collect()).collect()
    }

    #[test]
    fn measures_are_found_and_plain_numbers_are_not() {
        assert_eq!(found("Bake 20 min at 180 °C."), ["20 min", "180 °C"]);
        assert_eq!(found("a 20-minute rest, 3-4 mm, 8 to 12 h"), ["20-minute", "3-4 mm", "8 to 12 h"]);
        assert_eq!(found("1 1/2 cups, ½ tsp, 60%, 1,5 kg"), ["1 1/2 cups", "½ tsp", "60%", "1,5 kg"]);
        assert_eq!(found("Freeze at -18 °C or −20 °C, for 2-3 h"), ["-18 °C", "−20 °C", "2-3 h"]);
        assert_eq!(found("cut 2 in half, step 3, 4 eggs, 24 rolls, B12 g"), Vec::<String>::new());
    }
}
