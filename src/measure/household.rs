//! Household measures: a volume as at most two terms of cups and spoons with kitchen fractions.

use super::within;
use crate::exact::{Exact, Measures, Unit};

/// One term of a household measure, such as 1 1/2 tablespoons.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Term {
    /// How many, a multiple of an eighth or a third.
    pub count: Exact,
    /// Cup, tablespoon or teaspoon.
    pub unit: Unit,
}

/// The fractions that a set of kitchen measures holds, and the least and largest count sensible.
struct Measure {
    unit: Unit,
    parts: &'static [(i64, i64)],
    least: (i64, i64),
    most: i64,
}

const CUP: Measure = Measure {
    unit: Unit::Cup,
    parts: &[(0, 1), (1, 4), (1, 3), (1, 2), (2, 3), (3, 4)],
    least: (1, 4),
    most: 1_000_000_000,
};
const TABLESPOON: Measure = Measure { unit: Unit::Tablespoon, parts: &[(0, 1), (1, 2)], least: (1, 1), most: 4 };
const WHOLE_TABLESPOON: Measure = Measure { parts: &[(0, 1)], ..TABLESPOON };
const TEASPOON: Measure =
    Measure { unit: Unit::Teaspoon, parts: &[(0, 1), (1, 4), (1, 2), (3, 4)], least: (1, 4), most: 3 };
/// Two small spoons make any eighth.
const EIGHTHS: Measure =
    Measure { parts: &[(0, 1), (1, 8), (1, 4), (3, 8), (1, 2), (5, 8), (3, 4), (7, 8)], least: (1, 8), ..TEASPOON };

/// A volume in cups and spoons within 5 %, or `None` where no sensible measure comes that close.
///
/// The simplest measure within 2 % is taken; failing that, the closest within 5 %.
pub fn household(millilitres: &Exact, measures: Measures) -> Option<Vec<Term>> {
    let mut near = Vec::new();
    for terms in candidates(millilitres, measures) {
        let volume = volume(&terms, measures);
        if within(&volume, millilitres, &Exact::ratio(2, 100)) {
            return Some(terms);
        }
        if within(&volume, millilitres, &Exact::ratio(5, 100)) {
            near.push(((volume - millilitres).abs(), terms));
        }
    }
    near.into_iter().min_by(|(a, _), (b, _)| a.cmp(b)).map(|(_, terms)| terms)
}

/// A volume in cups and spoons within 2 %: close enough to stand as the shown amount. One count of the
/// `written` unit is preferred, so that a batch as written shows what its author wrote.
pub fn spooned(millilitres: &Exact, written: Unit, measures: Measures) -> Option<Vec<Term>> {
    let mut all: Vec<Vec<Term>> = candidates(millilitres, measures).collect();
    all.sort_by_key(|terms| terms.len() > 1 || terms[0].unit != written);
    all.into_iter().find(|terms| within(&volume(terms, measures), millilitres, &super::tolerance()))
}

/// The volume of a household measure in millilitres.
fn volume(terms: &[Term], measures: Measures) -> Exact {
    terms.iter().map(|term| &term.count * term.unit.size(measures)).sum()
}

/// Every sensible measure near a volume, simplest first.
fn candidates(millilitres: &Exact, measures: Measures) -> impl Iterator<Item = Vec<Term>> {
    let one = move |measure| nearest(millilitres, measure, measures).map(|term| vec![term]);
    let two = move |(first, second): (&Measure, &Measure)| {
        let head = below(millilitres, first, measures)?;
        let rest = millilitres - &head.count * first.unit.size(measures);
        nearest(&rest, second, measures).map(|tail| vec![head, tail])
    };
    let pairs = [(&CUP, &TABLESPOON), (&WHOLE_TABLESPOON, &TEASPOON), (&CUP, &TEASPOON)];
    [&CUP, &TABLESPOON, &TEASPOON, &EIGHTHS].into_iter().filter_map(one).chain(pairs.into_iter().filter_map(two))
}

/// The closest count of a measure.
fn nearest(millilitres: &Exact, measure: &Measure, measures: Measures) -> Option<Term> {
    let wanted = millilitres / measure.unit.size(measures);
    let floor = wanted.floor();
    let steps = measure.parts.iter().map(|&(n, d)| &floor + Exact::ratio(n, d)).chain([&floor + Exact::one()]);
    let count = steps.min_by_key(|count| (count - &wanted).abs())?;
    sensible(count, measure)
}

/// The largest count of a measure that is not above the volume.
fn below(millilitres: &Exact, measure: &Measure, measures: Measures) -> Option<Term> {
    let wanted = millilitres / measure.unit.size(measures);
    let floor = wanted.floor();
    let count = measure.parts.iter().map(|&(n, d)| &floor + Exact::ratio(n, d)).filter(|c| *c <= wanted).max()?;
    sensible(count, measure)
}

fn sensible(count: Exact, measure: &Measure) -> Option<Term> {
    let fits = count >= Exact::ratio(measure.least.0, measure.least.1) && count <= Exact::from(measure.most);
    fits.then_some(Term { count, unit: measure.unit })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn text(millilitres: Exact, measures: Measures) -> Option<Vec<(String, Unit)>> {
        household(&millilitres, measures).map(|terms| terms.into_iter().map(|t| (t.count.decimal(), t.unit)).collect())
    }

    #[test]
    fn simple_volumes_come_out_plain() {
        assert_eq!(text(Exact::from(250), Measures::Metric), Some(vec![("1".into(), Unit::Cup)]));
        assert_eq!(text(Exact::ratio(75, 10), Measures::Metric).expect("7.5 mL")[0], ("1.5".into(), Unit::Teaspoon));
        assert_eq!(text(Exact::from(20), Measures::Au), Some(vec![("1".into(), Unit::Tablespoon)]));
        assert_eq!(text(Exact::ratio(1, 100), Measures::Metric), None);
    }

    #[test]
    fn two_terms_are_used_where_one_is_too_coarse() {
        let terms = text(Exact::from(180), Measures::Metric).expect("180 mL");
        assert_eq!(terms.len(), 2, "{terms:?}");
    }

    fn terms(millilitres: Exact, measures: Measures) -> String {
        let texts = household(&millilitres, measures).into_iter().flatten();
        texts.map(|term| format!("{} {:?}", term.count.ratio_text(), term.unit)).collect::<Vec<_>>().join(" + ")
    }

    #[test]
    fn the_simplest_measure_is_taken_and_spoons_are_those_of_a_kitchen() {
        let metric = |n, d| terms(Exact::ratio(n, d), Measures::Metric);
        // Cup 250 mL, tablespoon 15 mL, teaspoon 5 mL.
        assert_eq!(metric(60, 1), "4 Tablespoon", "4 tbsp are exact, 1/4 cup is 62.5 mL");
        assert_eq!(metric(75, 1), "1/4 Cup + 5/2 Teaspoon", "62.5 + 12.5; five spoons are too many to count");
        assert_eq!(metric(25, 1), "1 Tablespoon + 2 Teaspoon", "whole tablespoons before teaspoons");
        assert_eq!(metric(45, 2), "3/2 Tablespoon");
        assert_eq!(metric(15, 1), "1 Tablespoon");
        assert_eq!(metric(10, 1), "2 Teaspoon");
        assert_eq!(metric(149, 10), "1 Tablespoon", "the next whole one is nearer than any part below it");
    }

    #[test]
    fn two_small_spoons_make_any_eighth() {
        let metric = |n, d| terms(Exact::ratio(n, d), Measures::Metric);
        assert_eq!(metric(15, 8), "3/8 Teaspoon");
        assert_eq!(metric(5, 8), "1/8 Teaspoon");
        assert_eq!(metric(25, 8), "5/8 Teaspoon");
        assert_eq!(metric(5, 16), "", "no spoon is as small as a sixteenth");
    }

    #[test]
    fn where_nothing_is_close_the_closest_within_a_twentieth_is_taken() {
        // 1/3 cup is 83.33 mL, off by 2.83; 1/4 cup and 1 tbsp are 77.5 mL, off by 3.
        assert_eq!(terms(Exact::ratio(161, 2), Measures::Metric), "1/3 Cup");
        // 80 mL: 3.33 against 2.5.
        assert_eq!(terms(Exact::from(80), Measures::Metric), "1/4 Cup + 1 Tablespoon");
    }

    #[test]
    fn the_authors_own_spoon_is_preferred() {
        let spoons = |n, d, written| {
            let found = spooned(&Exact::ratio(n, d), written, Measures::Metric).into_iter().flatten();
            found.map(|term| format!("{} {:?}", term.count.ratio_text(), term.unit)).collect::<Vec<_>>().join(" + ")
        };
        assert_eq!(spoons(15, 1, Unit::Teaspoon), "3 Teaspoon");
        assert_eq!(spoons(15, 1, Unit::Tablespoon), "1 Tablespoon");
        assert_eq!(spoons(45, 2, Unit::Tablespoon), "3/2 Tablespoon");
        // 4 tbsp are 60 mL, 4 % too little; with half a teaspoon they are exact, but 1/4 cup is one measure.
        assert_eq!(spoons(125, 2, Unit::Tablespoon), "1/4 Cup");
        assert_eq!(spoons(80, 1, Unit::Cup), "", "within 5 % is not close enough to stand for what was written");
    }
}
