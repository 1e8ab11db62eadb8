//! Whether a claim agrees with its figure, at the precision it was said at; and whether one that differs was likely
//! misheard. Must not know how the figure was found.

use super::lexicon::{Leeway, SaidUnit, size};
use super::quantity::Quantity;
use crate::exact::{Exact, Measures, Unit};
use crate::sheet::{Fact, Kind, Truth, Value};

/// A claim's value ready to be compared.
pub struct Said<'q> {
    /// As said.
    pub quantity: &'q Quantity,
    /// What it measures.
    pub kind: Kind,
    /// Its unit; the kind's own where it was left out.
    pub unit: SaidUnit,
    /// Whose spoons and cups, and whose degrees.
    pub measures: Measures,
}

/// Degrees without saying of what are the channel's; above what any oven has in Celsius they are Fahrenheit.
pub fn degrees(quantity: &Quantity, measures: Measures) -> Unit {
    // No home oven goes beyond 300 °C (common practice, no source).
    if measures == Measures::Us || quantity.low > Exact::from(300) { Unit::Fahrenheit } else { Unit::Celsius }
}

/// The unit a kind has where none was said.
fn own_unit(kind: Kind, truth: &Truth) -> SaidUnit {
    match kind {
        Kind::Weight => SaidUnit::Unit(Unit::Gram),
        Kind::Volume => SaidUnit::Unit(Unit::Millilitre),
        Kind::Percent | Kind::Count => SaidUnit::Unit(Unit::Percent),
        Kind::Temperature => SaidUnit::Degrees,
        Kind::Duration => SaidUnit::Unit(Unit::Second),
        Kind::Length => SaidUnit::Unit(Unit::Millimetre),
        Kind::Money => SaidUnit::Major(truth.currency.code()),
    }
}

impl<'q> Said<'q> {
    /// A quantity as one of a kind.
    pub fn of(quantity: &'q Quantity, kind: Kind, truth: &Truth) -> Self {
        let unit = quantity.unit.unwrap_or_else(|| own_unit(kind, truth));
        Self { quantity, kind, unit, measures: truth.measures }
    }

    /// Whether it agrees with any value that is right for a fact.
    pub fn agrees_with(&self, fact: &Fact) -> bool {
        fact.values.iter().any(|value| self.agrees(value))
    }

    /// Whether it agrees with `size` times a fact; with none of it, nothing does.
    pub fn agrees_times(&self, fact: &Fact, size: &Exact) -> bool {
        if !size.is_positive() {
            return false;
        }
        let part = |value: &Exact| value / size;
        let (low, high, step) = (part(&self.quantity.low), part(&self.quantity.high), part(&self.quantity.step));
        let quantity = Quantity { low, high, step, ..self.quantity.clone() };
        Said { quantity: &quantity, ..*self }.agrees_with(fact)
    }

    /// Whether it is all of a value that is right for a fact, and not only inside a range.
    pub fn is_all_of(&self, fact: &Fact) -> bool {
        let spans = self.quantity.low < self.quantity.high;
        fact.values.iter().any(|value| self.agrees(value) && (spans || value.low() == value.high()))
    }

    /// The same without what "about" leaves open.
    pub fn is_exactly(&self, fact: &Fact) -> bool {
        self.without_leeway(|said| said.is_all_of(fact))
    }

    /// Whether it agrees with a fact even if "about" is not meant.
    pub fn agrees_without_leeway(&self, fact: &Fact) -> bool {
        self.without_leeway(|said| said.agrees_with(fact))
    }

    fn without_leeway(&self, ask: impl Fn(&Said<'_>) -> bool) -> bool {
        let quantity = Quantity { leeway: Leeway::None, ..self.quantity.clone() };
        ask(&Said { quantity: &quantity, ..*self })
    }

    /// Whether it is three times as much as a fact or more, or as little, and does not sound like it.
    pub fn is_of_another_size(&self, fact: &Fact) -> bool {
        let (said, three) = (self.base(&self.quantity.low), Exact::from(3));
        fact.values.iter().all(|value| {
            let far = said > value.high() * &three || &said * &three < *value.low();
            far && !self.misheard(value)
        })
    }

    /// A value said, in the kind's base unit.
    pub fn base(&self, value: &Exact) -> Exact {
        match self.unit {
            SaidUnit::Degrees => degrees(self.quantity, self.measures).to_base(value, self.measures),
            SaidUnit::Unit(unit) => unit.to_base(value, self.measures),
            SaidUnit::PoundOrMoney if self.kind == Kind::Money => value.clone(),
            unit => value * size(unit, self.measures),
        }
    }

    /// A figure's value in the unit said.
    fn in_said(&self, base: &Exact) -> Exact {
        match self.fahrenheit() {
            true => base * Exact::ratio(9, 5) + Exact::from(32),
            false => base / self.base(&Exact::one()),
        }
    }

    fn fahrenheit(&self) -> bool {
        match self.unit {
            SaidUnit::Degrees => degrees(self.quantity, self.measures) == Unit::Fahrenheit,
            SaidUnit::Unit(unit) => unit == Unit::Fahrenheit,
            SaidUnit::Days(_) | SaidUnit::Major(_) | SaidUnit::Minor(_) | SaidUnit::PoundOrMoney | SaidUnit::Dollar => {
                false
            }
        }
    }

    /// The step that a figure is rounded to before it is compared.
    fn step(&self, value: &Exact, figure: &Exact) -> Exact {
        if self.kind == Kind::Temperature && self.fahrenheit() && !figure.is_whole() {
            // Turned into degrees Fahrenheit nobody says 356: dials go in fives and twenty-fives.
            let round = [25, 10, 5].into_iter().map(Exact::from).find(|step| (value / step).is_whole());
            return round.unwrap_or_else(|| self.quantity.step.clone());
        }
        if self.kind == Kind::Temperature && self.fahrenheit() {
            let round = [25, 10, 5].into_iter().map(Exact::from).find(|step| (value / step).is_whole());
            let written_here = self.measures == Measures::Us;
            return round.filter(|_| !written_here).unwrap_or_else(|| self.quantity.step.clone());
        }
        self.quantity.step.clone()
    }

    /// How far rounding may move a figure, as a share of it.
    fn room(&self) -> Exact {
        match self.unit {
            SaidUnit::Unit(Unit::Kilogram | Unit::Pound | Unit::Litre | Unit::Metre | Unit::Gallon | Unit::Quart)
            | SaidUnit::PoundOrMoney => Exact::ratio(5, 100),
            _ => Exact::ratio(30, 100),
        }
    }

    /// Whether one end said is a figure's end, at the precision spoken.
    fn is(&self, said: &Exact, figure: &Exact) -> bool {
        if said == figure {
            return true;
        }
        if self.kind == Kind::Duration {
            return false;
        }
        // "five hundred and seventy" is close enough to 571.
        let tens = (said / Exact::from(10)).is_whole() && *said >= Exact::from(100);
        let room = Exact::ratio(if tens { 5 } else { 2 }, 1000);
        if *said >= Exact::from(100) && (said - figure).abs() <= figure * room {
            return true;
        }
        let rounded = figure.round_to(&self.step(said, figure));
        rounded == *said && (said - figure).abs() <= figure.abs() * self.room()
    }

    /// Whether a claim agrees with one value.
    pub fn agrees(&self, value: &Value) -> bool {
        let (low, high) = (self.in_said(value.low()), self.in_said(value.high()));
        let (said_low, said_high) = (&self.quantity.low, &self.quantity.high);
        let inside = |said: &Exact| *said >= low && *said <= high;
        let ends = self.is(said_low, &low) && self.is(said_high, &high);
        let one = said_low == said_high && (inside(said_low) || self.is(said_low, &low) || self.is(said_high, &high));
        let within = said_low < said_high && inside(said_low) && inside(said_high);
        if ends || one || within {
            return true;
        }
        let coarse = self.kind == Kind::Weight || self.kind == Kind::Volume;
        let half = if coarse { &self.quantity.step * Exact::ratio(1, 2) } else { Exact::zero() };
        let (nine, eleven) = (Exact::ratio(9, 10), Exact::ratio(11, 10));
        let near = |said: &Exact, figure: &Exact| *figure >= said * &nine && *figure <= said * &eleven;
        match self.quantity.leeway {
            Leeway::None => false,
            Leeway::About => {
                let low_near = near(said_low, &low) || inside(said_low);
                let high_near = near(said_high, &high) || inside(said_high);
                if said_low == said_high { low_near || high_near } else { low_near && high_near }
            }
            // "over a litre" is said of 1.26 litres, too: of one of a coarse unit as far as its next half.
            Leeway::Under | Leeway::AtMost => {
                high <= *said_high && (high >= said_high * &nine || high >= said_high - &half)
            }
            Leeway::Over | Leeway::AtLeast => {
                low >= *said_low && (low <= said_low * &eleven || low <= said_low + &half)
            }
        }
    }

    /// "four centimetres" of what is four millimetres: the number was heard as it should be, and the unit said is wrong.
    pub fn is_in_another_unit(&self, value: &Value) -> bool {
        let ten = Exact::from(10);
        let right = match self.quantity.unit {
            Some(SaidUnit::Unit(Unit::Centimetre)) => self.in_said(value.low()) * ten,
            Some(SaidUnit::Unit(Unit::Millimetre)) => &self.in_said(value.low()) / ten,
            Some(_) | None => return false,
        };
        self.quantity.low == right
    }

    /// Whether a value that differs is what captions make of the right one.
    pub fn misheard(&self, value: &Value) -> bool {
        let figures = [self.in_said(value.low()), self.in_said(value.high())];
        let said = [&self.quantity.low, &self.quantity.high];
        let cents = Exact::from(if self.kind == Kind::Money { 100 } else { 1 });
        said.iter().zip(&figures).any(|(said, figure)| {
            slip_of_hearing(said, figure, &self.quantity.step)
                || self.kind == Kind::Money && slip_of_hearing(&(*said * &cents), &(figure * &cents), &Exact::one())
                || self.kind == Kind::Money && misheard_but_for_cents(said, figure)
        })
    }
}

/// "seventy dollars and seven cents" for "seventeen dollars and seven cents".
fn misheard_but_for_cents(said: &Exact, figure: &Exact) -> bool {
    let one = Exact::one();
    let (major, right) = (said.floor(), figure.round_to(&Exact::ratio(1, 100)));
    let whole = right.floor();
    said - &major == &right - &whole && slip_of_hearing(&major, &whole, &one)
}

/// Fifteen for fifty, a lost point, a lost hundred or its tail, a digit lost at either end.
fn slip_of_hearing(said: &Exact, figure: &Exact, step: &Exact) -> bool {
    let ten = Exact::from(10);
    let hundred = Exact::from(100);
    if said == figure || !said.is_positive() || !figure.is_positive() {
        return false;
    }
    // "fifteen" and "fifty", also behind a hundred.
    let teen = |a: &Exact, b: &Exact| {
        (3..=9).any(|n| {
            let (teen, ty) = (Exact::from(10 + n), Exact::from(10 * n));
            let head = a - &teen;
            head >= Exact::zero() && (&head / &hundred).is_whole() && *b == head + ty
        })
    };
    // "four" and "forty", also behind a hundred.
    let digit = |a: &Exact, b: &Exact| {
        (2..=9).any(|n| {
            let head = a - Exact::from(n);
            head >= Exact::zero() && (&head / &hundred).is_whole() && *b == head + Exact::from(10 * n)
        })
    };
    // A lost point, or one that moved: 15 for 1.5, 1.44 for 14.4.
    let point = (1..=2).any(|places| {
        let scaled = figure * Exact::power_of_ten(places);
        !figure.is_whole() && scaled == *said
    });
    let gained = (1..=2).any(|places| {
        let scaled = said * Exact::power_of_ten(places);
        !said.is_whole() && scaled == *figure
    });
    // "a hundred and" lost, or what follows it.
    let head = |whole: &Exact, part: &Exact| {
        let rest = whole - part;
        *whole > hundred && (&rest / &hundred).is_whole() && rest.is_positive() && *part < hundred
            || (part / &hundred).is_whole() && whole - part < hundred && whole > part
    };
    let dropped = said.is_whole() && figure.is_whole() && head(figure, said);
    // "and a half" lost.
    let half = figure - said == Exact::ratio(1, 2) && step.is_whole() && *said < ten;
    teen(said, figure)
        || teen(figure, said)
        || digit(said, figure)
        || digit(figure, said)
        || point
        || gained
        || dropped
        || half
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slips_of_hearing_are_told_from_slips_of_the_tongue() {
        let slip = |said: &str, figure: &str| {
            let read = |text| Exact::from_decimal(text).expect("a number");
            slip_of_hearing(&read(said), &read(figure), &Exact::one())
        };
        for (said, figure) in [
            ("15", "50"),
            ("50", "15"),
            ("115", "150"),
            ("13", "30"),
            ("15", "1.5"),
            ("54", "5.4"),
            ("22", "2.2"),
            ("20", "120"),
            ("100", "120"),
            ("80", "180"),
            ("2", "2.5"),
            ("200", "250"),
        ] {
            assert!(slip(said, figure), "{said} for {figure}");
        }
        for (said, figure) in
            [("130", "120"), ("20", "25"), ("3", "4"), ("18", "8"), ("200", "180"), ("40", "50"), ("2", "3")]
        {
            assert!(!slip(said, figure), "{said} for {figure}");
        }
    }
}
