//! A value said, set in digits with its unit's symbol: "two hundred grams" is `200 g`. Says nothing else than the
//! words do; must not know whether it is right.

use super::lexicon::{Leeway, SaidUnit};
use super::quantity::Quantity;
use crate::exact::{Exact, Unit};

/// The value in digits; `None` where it reads better in words, as "a minute" and "half of it" do, or has no one form.
pub fn digits(quantity: &Quantity) -> Option<String> {
    // "About" and "another" are among its words, and would be lost.
    let plain = quantity.leeway == Leeway::None && !quantity.more && !quantity.lone_one;
    if !plain || quantity.fraction || quantity.short.is_some() {
        return None;
    }
    let unit = match quantity.unit {
        None => None,
        Some(SaidUnit::Unit(unit)) => Some(unit),
        // Which degrees, which pounds and how money is written are another matter.
        Some(
            SaidUnit::Degrees
            | SaidUnit::Days(_)
            | SaidUnit::Major(_)
            | SaidUnit::Minor(_)
            | SaidUnit::PoundOrMoney
            | SaidUnit::Dollar,
        ) => return None,
    };
    let low = number(&quantity.low, unit)?;
    let value = if quantity.high > quantity.low { format!("{low}–{}", number(&quantity.high, unit)?) } else { low };
    Some(match unit {
        None => value,
        Some(Unit::Percent) => format!("{value}%"),
        Some(unit) => format!("{value} {}", symbol(unit, quantity.high > Exact::one())),
    })
}

/// A number: with a kitchen fraction where it has one and the unit is a spoon's or an old one's, else with decimals.
fn number(value: &Exact, unit: Option<Unit>) -> Option<String> {
    let metric = matches!(
        unit,
        Some(
            Unit::Milligram
                | Unit::Gram
                | Unit::Kilogram
                | Unit::Millilitre
                | Unit::Centilitre
                | Unit::Litre
                | Unit::Millimetre
                | Unit::Centimetre
                | Unit::Metre
                | Unit::Percent
        )
    );
    let whole = value.floor();
    let (top, bottom) = (value - &whole).to_fraction()?;
    let kitchen = matches!(bottom, 2 | 3 | 4 | 8);
    match (top, kitchen && !metric, value.round_places(3) == *value) {
        (0, ..) => Some(whole.decimal()),
        (_, true, _) if whole == Exact::zero() => Some(format!("{top}/{bottom}")),
        (_, true, _) => Some(format!("{} {top}/{bottom}", whole.decimal())),
        (_, false, true) => Some(value.decimal()),
        (_, false, false) => None,
    }
}

fn symbol(unit: Unit, many: bool) -> &'static str {
    match unit {
        Unit::Milligram => "mg",
        Unit::Gram => "g",
        Unit::Kilogram => "kg",
        Unit::Ounce => "oz",
        Unit::Pound => "lb",
        Unit::Millilitre => "mL",
        Unit::Centilitre => "cL",
        Unit::Litre => "L",
        Unit::Teaspoon => "tsp",
        Unit::Tablespoon => "tbsp",
        Unit::Cup if many => "cups",
        Unit::Cup => "cup",
        Unit::FluidOunce => "fl oz",
        Unit::Pint => "pt",
        Unit::Quart => "qt",
        Unit::Gallon => "gal",
        Unit::Millimetre => "mm",
        Unit::Centimetre => "cm",
        Unit::Metre => "m",
        Unit::Inch => "in",
        Unit::Second => "s",
        Unit::Minute => "min",
        Unit::Hour => "h",
        Unit::Day if many => "days",
        Unit::Day => "day",
        Unit::Celsius => "°C",
        Unit::Fahrenheit => "°F",
        Unit::Percent => "%",
    }
}
