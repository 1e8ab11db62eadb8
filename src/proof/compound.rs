//! A value said in two terms: "an hour and a half", "two euros forty", "a cup and a tablespoon". Must not know a recipe.

use super::lexicon::{Role, SaidUnit, Sense, size};
use super::numeral::{Numeral, Wording};
use super::quantity::{Reader, Simple};
use super::token::{Gap, Token};
use crate::exact::{Exact, Unit};
use crate::sheet::Kind;

impl Reader<'_> {
    /// A second term behind the first: "an hour and a half", "two euros forty", "one kilo two hundred".
    pub(super) fn compound(self, first: Simple) -> Simple {
        let first = match self.spoons(&first) {
            Some(whole) => return whole,
            None => first,
        };
        let Some(unit) = first.unit.filter(|_| first.low == first.high) else { return first };
        let and = self.tape.next_is(first.end, Sense::And);
        let at = if and { first.end + 1 } else { first.end };
        // "a dollar oh seven"
        if let (SaidUnit::Major(_) | SaidUnit::Dollar | SaidUnit::PoundOrMoney, Some((cents, end))) =
            (unit, self.tape.hundredths(first.end))
        {
            let low = &first.low + Exact::ratio(cents, 100);
            let unit = paid_in(unit);
            return Simple { low: low.clone(), high: low, step: Exact::ratio(1, 100), unit: Some(unit), end, ..first };
        }
        // "a dollar and a penny"
        let penny = and && self.tape.is(at, Sense::Article);
        let penny = self.tape.at(at + 1).filter(|token| penny && matches!(token.unit(), Some(SaidUnit::Minor(_))));
        if let (SaidUnit::Major(_) | SaidUnit::Dollar | SaidUnit::PoundOrMoney, Some(_)) = (unit, penny) {
            let low = &first.low + Exact::ratio(1, 100);
            let unit = paid_in(unit);
            let step = Exact::ratio(1, 100);
            return Simple { low: low.clone(), high: low, step, unit: Some(unit), end: at + 2, ..first };
        }
        let Some(numeral) = self.tape.flows(at).then(|| self.tape.numeral(at)).flatten() else { return first };
        // "six pounds nine | thirteen p each", "1 euro 37 | 5 eggs"
        let written = |at: usize| self.tape.at(at).is_some_and(|token| token.digits.is_some());
        let own = |cents: &Exact, second: usize| {
            unit != SaidUnit::PoundOrMoney && *cents >= Exact::from(10) && written(at) && written(second)
        };
        if let (SaidUnit::Major(_) | SaidUnit::Dollar | SaidUnit::PoundOrMoney, Wording::Pair(cents, _, second)) =
            (unit, &numeral.wording)
            && !and
            && (self.unit(numeral.end, false).is_some_and(|(unit, _, _)| matches!(unit, SaidUnit::Minor(_)))
                || own(cents, *second))
            && *cents < Exact::from(100)
        {
            let unit = paid_in(unit);
            let low = &first.low + cents * Exact::ratio(1, 100);
            let step = Exact::ratio(1, 100);
            return Simple { low: low.clone(), high: low, step, unit: Some(unit), end: *second, ..first };
        }
        // "chilled an hour fifteen, four degrees"
        if let (SaidUnit::Unit(Unit::Hour), Wording::Pair(minutes, _, second)) = (unit, &numeral.wording)
            && !and
            && *minutes < Exact::from(60)
            && (minutes / Exact::from(5)).is_whole()
            && self.unit(numeral.end, false).is_some_and(|(unit, _, _)| unit.kind(Kind::Weight) != Kind::Duration)
        {
            let low = &first.low + minutes * Exact::ratio(1, 60);
            return Simple { low: low.clone(), high: low, step: Exact::ratio(1, 60), end: *second, ..first };
        }
        let second = self.unit(numeral.end, false);
        // "an hour and a quarter of a teaspoon" are two.
        let next_of = self.tape.next_is(numeral.end, Sense::Article) || self.unit(numeral.end, true).is_some();
        let fraction = numeral.wording == Wording::Fraction;
        // "108 grams and two thirds of the walnuts" are two: nobody parts a gram so.
        let of_the = self.tape.next_is(numeral.end, Sense::Of) && self.tape.is(numeral.end + 1, Sense::Determiner);
        let of_it = self.tape.next_is(numeral.end, Sense::Of) && fraction;
        // "it is 35 percent, and three quarters of it goes in now"
        let whole = [Unit::Gram, Unit::Percent].map(SaidUnit::Unit).contains(&unit);
        let next_of = next_of || (of_the || of_it) && whole;
        // "that's 27 percent, and two thirds goes in now": a percent is parted in halves and quarters.
        let share = unit == SaidUnit::Unit(Unit::Percent) && !(&numeral.value * Exact::from(4)).is_whole();
        let next_of = next_of || share;
        // "in the icebox an hour and a half, my mother sold these"
        let one = self.tape.is(first.start, Sense::Article) && unit == SaidUnit::Unit(Unit::Hour);
        // "a teaspoon and a half that is ninety pence"
        let half = self.tape.is(at, Sense::Article);
        let of_what = !one && !half && self.tape.next_is(numeral.end, Sense::Determiner);
        // "a teaspoon and a half, mm, my nan's bathroom": who hums says no unit.
        let hums = self.tape.at(numeral.end).and_then(Token::unit) == Some(SaidUnit::Unit(Unit::Millimetre))
            && unit.kind(Kind::Weight) != Kind::Length;
        if fraction && and && (second.is_none() && !next_of || hums) && !of_what {
            let low = &first.low + &numeral.value;
            return Simple { low: low.clone(), high: low, step: numeral.step, end: numeral.end, ..first };
        }
        if fraction || !numeral.value.is_whole() {
            return first;
        }
        let small = |unit, below: i64, alone: bool| -> Option<(SaidUnit, usize)> {
            if numeral.value >= Exact::from(below) {
                return None;
            }
            match second {
                Some((second, end, _)) if second == unit => Some((unit, end)),
                Some(_) => None,
                None => (alone && !and_blocks(self, &numeral, and, matches!(unit, SaidUnit::Minor(_))))
                    .then_some((unit, numeral.end)),
            }
        };
        let tens = (&numeral.value / Exact::from(5)).is_whole();
        let found = match unit {
            SaidUnit::Unit(Unit::Hour) => small(SaidUnit::Unit(Unit::Minute), 60, tens),
            SaidUnit::Unit(Unit::Minute) => small(SaidUnit::Unit(Unit::Second), 60, tens && !and),
            SaidUnit::Unit(Unit::Kilogram) => {
                small(SaidUnit::Unit(Unit::Gram), 1000, !and && numeral.value >= Exact::from(100))
            }
            SaidUnit::Unit(Unit::Litre) => {
                small(SaidUnit::Unit(Unit::Millilitre), 1000, !and && numeral.value >= Exact::from(100))
            }
            SaidUnit::Unit(Unit::Pound) => small(SaidUnit::Unit(Unit::Ounce), 16, false),
            SaidUnit::PoundOrMoney => {
                small(SaidUnit::Unit(Unit::Ounce), 16, false).or_else(|| small(SaidUnit::Minor(Some("GBP")), 100, !and))
            }
            SaidUnit::Major(_) | SaidUnit::Dollar => {
                let minor = second.map(|(unit, _, _)| unit).filter(|u| matches!(u, SaidUnit::Minor(_)));
                // "five euro and fifty-three": with "and" only where nothing goes on that may be counted.
                let joins =
                    |token: &Token| [Sense::Of, Sense::To, Sense::Or, Sense::And].iter().any(|sense| token.is(*sense));
                let ends = |token: &Token| token.gap != Gap::None || token.is(Sense::Common) && !joins(token);
                let ends = self.tape.at(numeral.end).is_none_or(ends);
                let cents = ends && numeral.value >= Exact::from(10);
                small(minor.unwrap_or(SaidUnit::Minor(None)), 100, !and || cents)
            }
            SaidUnit::Unit(_) | SaidUnit::Degrees | SaidUnit::Days(_) | SaidUnit::Minor(_) => None,
        };
        let Some((second, end)) = found else { return first };
        let money = matches!(second, SaidUnit::Minor(_));
        let ratio = if money { Exact::ratio(1, 100) } else { size(second, self.measures) / size(unit, self.measures) };
        let low = &first.low + &numeral.value * &ratio;
        let unit = if money && unit == SaidUnit::PoundOrMoney { SaidUnit::Major("GBP") } else { unit };
        Simple { low: low.clone(), high: low, step: ratio, unit: Some(unit), end, ..first }
    }

    /// "a cup and a tablespoon", "a tablespoon plus half a teaspoon": a volume in two measures.
    fn spoons(self, first: &Simple) -> Option<Simple> {
        let Some(SaidUnit::Unit(large @ (Unit::Cup | Unit::Tablespoon))) = first.unit else { return None };
        let joint = self.tape.at(first.end).filter(|token| token.gap == Gap::None)?;
        let plus = self.phrase(first.end, |role| role == Role::Add).is_some();
        if !(joint.is(Sense::And) || plus) || first.low != first.high {
            return None;
        }
        let second = self.simple(first.end + 1)?;
        // "coriander seeds one tablespoon and half a teaspoon of pepper": the first has its name before it.
        let noun = first.start.checked_sub(1).and_then(|at| self.tape.at(at)).is_some_and(|t| t.senses.is_empty());
        if joint.is(Sense::And) && noun && self.tape.flows(first.start) && self.tape.next_is(second.end, Sense::Of) {
            return None;
        }
        let Some(SaidUnit::Unit(small @ (Unit::Tablespoon | Unit::Teaspoon))) = second.unit else { return None };
        let smaller = small.size(self.measures) < large.size(self.measures);
        let ratio = small.size(self.measures) / large.size(self.measures);
        let low = &first.low + &second.low * &ratio;
        (smaller && second.low == second.high).then(|| Simple {
            numeral: None,
            low: low.clone(),
            high: low,
            step: second.step * ratio,
            unit: first.unit,
            start: first.start,
            end: second.end,
            more: first.more,
            fraction: false,
        })
    }
}

/// "an hour and twenty grams": a number behind "and" that another unit or thing claims is no second term.
fn and_blocks(reader: Reader<'_>, numeral: &Numeral, and: bool, money: bool) -> bool {
    let next = reader.tape.at(numeral.end).filter(|token| token.gap == Gap::None);
    let joins = next.is_some_and(|token| {
        let range = [Sense::To, Sense::Or].iter().any(|sense| token.is(*sense));
        // "two euro seventy-eight to make" is no range.
        // "eight pound fifty-four, or one forty-two a jar" is none either.
        // "7 euros 71 or 48 cents a square" is none either: what follows has cents of its own.
        let cents = |next: &Numeral| {
            let unit = reader.unit(next.end, false).map(|(unit, _, _)| unit);
            money && matches!(unit, Some(SaidUnit::Minor(_)))
        };
        let goes_on = range
            && reader
                .tape
                .numeral(numeral.end + 1)
                .is_some_and(|next| !matches!(next.wording, Wording::Short(..)) && !cents(&next));
        goes_on || [Sense::Dash, Sense::Times].iter().any(|sense| token.is(*sense)) || !money && token.is(Sense::Of)
    });
    joins || and && next.is_some_and(|token| token.is(Sense::Filling))
}

/// The unit of what has hundredths behind it: pounds with pence are no weight.
fn paid_in(unit: SaidUnit) -> SaidUnit {
    if unit == SaidUnit::PoundOrMoney { SaidUnit::Major("GBP") } else { unit }
}
