//! Units of the source format, their dimensions and their exact size. Knows no ingredient.

use super::Exact;

/// What a quantity measures; each dimension has one base unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Dimension {
    /// Weight, in grams.
    Weight,
    /// Volume, in millilitres.
    Volume,
    /// Length, in millimetres.
    Length,
    /// Duration, in seconds.
    Duration,
    /// Temperature, in degrees Celsius.
    Temperature,
    /// Percent, in percent.
    Percent,
    /// A bare count.
    Count,
}

/// Whose household measures spoons and cups are.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Measures {
    /// Cup 250 mL, tablespoon 15 mL, teaspoon 5 mL.
    Metric,
    /// US customary: cup 236.5882365 mL, tablespoon and teaspoon in proportion (NIST).
    Us,
    /// Imperial cup 284.130625 mL, tablespoon 15 mL, teaspoon 5 mL.
    Uk,
    /// Cup 250 mL, tablespoon 20 mL, teaspoon 5 mL.
    Au,
    /// Cup 250 mL, tablespoon 15 mL, teaspoon 5 mL.
    Ca,
    /// Cup 200 mL, tablespoon 15 mL, teaspoon 5 mL.
    Jp,
}

impl Measures {
    /// Every set with its name in `channel.toml`.
    pub const ALL: [(&'static str, Self); 6] = [
        ("metric", Self::Metric),
        ("us", Self::Us),
        ("uk", Self::Uk),
        ("au", Self::Au),
        ("ca", Self::Ca),
        ("jp", Self::Jp),
    ];

    /// The set of that name.
    pub fn parse(name: &str) -> Option<Self> {
        Self::ALL.iter().find(|(n, _)| *n == name).map(|(_, m)| *m)
    }
}

/// A unit of the source format.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[expect(missing_docs, reason = "each is the unit of its name")]
pub enum Unit {
    Milligram,
    Gram,
    Kilogram,
    Ounce,
    Pound,
    Millilitre,
    Centilitre,
    Litre,
    Teaspoon,
    Tablespoon,
    Cup,
    FluidOunce,
    Pint,
    Quart,
    Gallon,
    Millimetre,
    Centimetre,
    Metre,
    Inch,
    Second,
    Minute,
    Hour,
    Day,
    Celsius,
    Fahrenheit,
    Percent,
}

/// Spellings a source may use, compared in lower case.
const SPELLINGS: &[(&str, Unit)] = &[
    ("mg", Unit::Milligram),
    ("g", Unit::Gram),
    ("gram", Unit::Gram),
    ("grams", Unit::Gram),
    ("kg", Unit::Kilogram),
    ("oz", Unit::Ounce),
    ("ounce", Unit::Ounce),
    ("ounces", Unit::Ounce),
    ("lb", Unit::Pound),
    ("lbs", Unit::Pound),
    ("pound", Unit::Pound),
    ("pounds", Unit::Pound),
    ("ml", Unit::Millilitre),
    ("cl", Unit::Centilitre),
    ("l", Unit::Litre),
    ("litre", Unit::Litre),
    ("litres", Unit::Litre),
    ("liter", Unit::Litre),
    ("liters", Unit::Litre),
    ("tsp", Unit::Teaspoon),
    ("teaspoon", Unit::Teaspoon),
    ("teaspoons", Unit::Teaspoon),
    ("tbsp", Unit::Tablespoon),
    ("tablespoon", Unit::Tablespoon),
    ("tablespoons", Unit::Tablespoon),
    ("cup", Unit::Cup),
    ("cups", Unit::Cup),
    ("fl oz", Unit::FluidOunce),
    ("pt", Unit::Pint),
    ("pint", Unit::Pint),
    ("pints", Unit::Pint),
    ("qt", Unit::Quart),
    ("quart", Unit::Quart),
    ("quarts", Unit::Quart),
    ("gal", Unit::Gallon),
    ("gallon", Unit::Gallon),
    ("gallons", Unit::Gallon),
    ("mm", Unit::Millimetre),
    ("cm", Unit::Centimetre),
    ("m", Unit::Metre),
    ("in", Unit::Inch),
    ("inch", Unit::Inch),
    ("inches", Unit::Inch),
    ("s", Unit::Second),
    ("sec", Unit::Second),
    ("second", Unit::Second),
    ("seconds", Unit::Second),
    ("min", Unit::Minute),
    ("mins", Unit::Minute),
    ("minute", Unit::Minute),
    ("minutes", Unit::Minute),
    ("h", Unit::Hour),
    ("hr", Unit::Hour),
    ("hour", Unit::Hour),
    ("hours", Unit::Hour),
    ("d", Unit::Day),
    ("day", Unit::Day),
    ("days", Unit::Day),
    ("°c", Unit::Celsius),
    ("℃", Unit::Celsius),
    ("°f", Unit::Fahrenheit),
    ("℉", Unit::Fahrenheit),
    ("%", Unit::Percent),
];

impl Unit {
    /// Reads a unit as a source spells it.
    pub fn parse(text: &str) -> Option<Self> {
        let folded = text.to_lowercase();
        SPELLINGS.iter().find(|(spelling, _)| *spelling == folded).map(|(_, unit)| *unit)
    }

    /// Every spelling a source may use, for suggestions.
    pub fn spellings() -> impl Iterator<Item = &'static str> {
        SPELLINGS.iter().map(|(spelling, _)| *spelling)
    }

    /// What it measures.
    pub fn dimension(self) -> Dimension {
        match self {
            Self::Milligram | Self::Gram | Self::Kilogram | Self::Ounce | Self::Pound => Dimension::Weight,
            Self::Millilitre
            | Self::Centilitre
            | Self::Litre
            | Self::Teaspoon
            | Self::Tablespoon
            | Self::Cup
            | Self::FluidOunce
            | Self::Pint
            | Self::Quart
            | Self::Gallon => Dimension::Volume,
            Self::Millimetre | Self::Centimetre | Self::Metre | Self::Inch => Dimension::Length,
            Self::Second | Self::Minute | Self::Hour | Self::Day => Dimension::Duration,
            Self::Celsius | Self::Fahrenheit => Dimension::Temperature,
            Self::Percent => Dimension::Percent,
        }
    }

    /// How many base units one of it is; for temperatures the size of a degree.
    ///
    /// Weights and US volumes: NIST SP 811 appendix B values, exact. Spoons and cups by `measures`.
    pub fn size(self, measures: Measures) -> Exact {
        match self {
            Self::Milligram => Exact::ratio(1, 1000),
            Self::Gram | Self::Millilitre | Self::Millimetre | Self::Second | Self::Celsius | Self::Percent => {
                Exact::one()
            }
            Self::Kilogram | Self::Litre | Self::Metre => Exact::from(1000),
            Self::Ounce => Exact::ratio(28_349_523_125, 1_000_000_000),
            Self::Pound => Exact::ratio(45_359_237, 100_000),
            Self::Centilitre | Self::Centimetre => Exact::from(10),
            Self::Teaspoon => match measures {
                Measures::Us => Exact::ratio(492_892_159_375, 100_000_000_000),
                Measures::Metric | Measures::Uk | Measures::Au | Measures::Ca | Measures::Jp => Exact::from(5),
            },
            Self::Tablespoon => match measures {
                Measures::Us => Exact::ratio(1_478_676_478_125, 100_000_000_000),
                Measures::Au => Exact::from(20),
                Measures::Metric | Measures::Uk | Measures::Ca | Measures::Jp => Exact::from(15),
            },
            Self::Cup => match measures {
                Measures::Us => Exact::ratio(2_365_882_365, 10_000_000),
                Measures::Uk => Exact::ratio(284_130_625, 1_000_000),
                Measures::Jp => Exact::from(200),
                Measures::Metric | Measures::Au | Measures::Ca => Exact::from(250),
            },
            Self::FluidOunce => Exact::ratio(295_735_295_625, 10_000_000_000),
            Self::Pint => Exact::ratio(473_176_473, 1_000_000),
            Self::Quart => Exact::ratio(946_352_946, 1_000_000),
            Self::Gallon => Exact::ratio(3_785_411_784, 1_000_000),
            Self::Inch => Exact::ratio(254, 10),
            Self::Minute => Exact::from(60),
            Self::Hour => Exact::from(3600),
            Self::Day => Exact::from(86_400),
            Self::Fahrenheit => Exact::ratio(5, 9),
        }
    }

    /// `value` of this unit in its dimension's base unit (degrees Fahrenheit included).
    pub fn to_base(self, value: &Exact, measures: Measures) -> Exact {
        match self {
            Self::Fahrenheit => (value - Exact::from(32)) * Exact::ratio(5, 9),
            _ => value * self.size(measures),
        }
    }
}
