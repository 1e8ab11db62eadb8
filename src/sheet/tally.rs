//! Figures on the way: what a figure shows at a share of it, and what is left of a wait as time runs. Every number that a
//! moving card shows is minted here. Must not know what moves.

use super::Figure;
use super::resolve::Inputs;
use super::shown::Shown;
use super::steps::long_rest;
use crate::exact::{Exact, Range, Unit};
use crate::locale::Locale;

/// What `figure` shows at 0, 1, … `steps` of `steps` equal shares of it: in the same unit, with as many decimals, rounded
/// half away from zero. The last is the figure itself.
///
/// Empty for a figure that is not one plain number with what stands around it: a range, a fraction, a compound, words.
pub fn tally(figure: &Figure, locale: &Locale, steps: u32) -> Vec<Figure> {
    let Some((before, number, behind)) = split(figure.text()) else { return Vec::new() };
    let Some((value, places)) = locale.read(number) else { return Vec::new() };
    if steps == 0 {
        return Vec::new();
    }
    let at = |step: u32| {
        let share = &value * Exact::ratio(i64::from(step), i64::from(steps));
        Figure::mint(format!("{before}{}{behind}", locale.number_fixed(&share, places)))
    };
    (0..steps).map(at).chain([figure.clone()]).collect()
}

/// A text around its one number; `None` where it holds none, or several.
fn split(text: &str) -> Option<(&str, &str, &str)> {
    let start = text.find(|c: char| c.is_ascii_digit())?;
    let end = text.rfind(|c: char| c.is_ascii_digit())? + 1;
    let (before, behind) = (&text[..start], &text[end..]);
    let plain = |part: &str| !part.chars().any(|c| c.is_numeric() || matches!(c, '-' | '−' | '–' | '/' | '+'));
    (plain(before) && plain(behind)).then_some((before, &text[start..end], behind))
}

/// The most figures that a wait runs through.
const MOST_LEFT: i64 = 60;

/// What is left of the longest wait of step `index` (from 0), from all of it to nothing, in even steps of whole minutes,
/// hours or days. Both ends of a range run down together. Empty for a step without a wait of an hour or more.
pub fn countdown(inputs: Inputs<'_>, index: usize) -> Vec<Figure> {
    let Some(step) = inputs.recipe.method.steps.get(index) else { return Vec::new() };
    let Some(wait) = long_rest(step) else { return Vec::new() };
    let shown = Shown::new(inputs.locale, inputs.channel);
    let full = shown.measure(wait, |_| None);
    let (low, high) = (&wait.low.value, &wait.high.value);
    // A range keeps to its unit: "55 min–1 h 55 min" is no figure to read at a glance.
    let unit = wait.high.unit.unwrap_or(Unit::Minute).size(inputs.channel.measures);
    let Some(tick) = (if low == high { tick(high) } else { Some(unit.clone()) }) else { return Vec::new() };
    // A day runs down by the hour: "0.5 days" among hours is no figure to read at a glance.
    let by_the_hour = wait.high.unit == Some(Unit::Day) && tick < unit;
    let unit = if by_the_hour { Some(Unit::Hour) } else { wait.high.unit };
    let ticks = (high / &tick).floor().to_i64().unwrap_or(0).clamp(0, MOST_LEFT);
    let at = |left: i64| {
        // What is left of the upper end counts whole ticks; the lower end keeps its share of it.
        let end = |whole: &Exact| (whole * Exact::from(left) * &tick / high).round_to(&tick);
        shown.running(&end(low), &end(high), unit, wait)
    };
    let later = (0..ticks).rev().map(at).filter(|figure| figure.text() != full.text());
    let mut left = vec![full.clone()];
    for figure in later {
        if left.last() != Some(&figure) {
            left.push(figure);
        }
    }
    left
}

/// The largest of the usual ticks that a wait of `seconds` has at least ten of.
fn tick(seconds: &Exact) -> Option<Exact> {
    const TICKS: [i64; 8] = [86_400, 43_200, 21_600, 3_600, 1_800, 900, 300, 60];
    TICKS.into_iter().map(Exact::from).find(|tick| seconds / tick >= Exact::from(10))
}

/// A wait as it runs down, for what its text needs.
impl Shown<'_> {
    fn running(&self, low: &Exact, high: &Exact, unit: Option<Unit>, wait: &Range) -> Figure {
        let mut left = wait.clone();
        (left.low.unit, left.high.unit) = (unit, unit);
        left.low.value = low.clone();
        left.high.value = high.clone();
        self.measure(&left, |_| None)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn way(text: &str, tag: &str, language: &str, steps: u32) -> Vec<String> {
        let locale = Locale::new(tag, language).unwrap();
        tally(&Figure::made_up(text), &locale, steps).iter().map(|figure| figure.text().to_owned()).collect()
    }

    #[test]
    fn figures_are_counted_in_their_own_form() {
        assert_eq!(way("€3.88", "en-IE", "en", 4), ["€0.00", "€0.97", "€1.94", "€2.91", "€3.88"]);
        assert_eq!(way("3,88 €", "de-DE", "de", 2), ["0,00 €", "1,94 €", "3,88 €"]);
        assert_eq!(way("1,234 g", "en-IE", "en", 2), ["0 g", "617 g", "1,234 g"]);
        assert_eq!(way("1.35 kg", "en-IE", "en", 3), ["0.00 kg", "0.45 kg", "0.90 kg", "1.35 kg"]);
    }

    #[test]
    fn what_is_no_plain_number_is_not_counted() {
        for text in ["€0.20–0.23", "1 1/2 cups", "to taste", "1 h 30 min", "2 × 500 g", "", "1,23,4 g", "-3 g"] {
            assert!(way(text, "en-IE", "en", 4).is_empty(), "{text}");
        }
    }
}
