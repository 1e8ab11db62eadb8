//! Measures as text: a number, a plain space (NIST SP 811 section 7.2) and a unit in the run's language.
//! Knows no ingredient's facts and converts nothing.

use super::{Key, Language, Locale};
use crate::exact::{Exact, Unit};

impl Locale {
    /// `value` of `unit` with at most `max_places` decimals: "180 g", "5 min", "180 °C", "40 %".
    /// Spoons and cups are written as fractions where they can be: "1 1/2 cups".
    pub fn measure(&self, value: &Exact, unit: Unit, max_places: u32) -> String {
        self.measure_range(value, value, unit, max_places)
    }

    /// A range with the unit once: "8–12 h", "3–4 mm"; one value where both ends are shown alike.
    pub fn measure_range(&self, low: &Exact, high: &Exact, unit: Unit, max_places: u32) -> String {
        let end = |value: &Exact| self.unit_number(value, unit, max_places);
        let number = self.range(&end(low), &end(high));
        if unit == Unit::Percent {
            return self.layout.percent.replacen('n', &number, 1);
        }
        format!("{number} {}", self.unit_name(unit, high))
    }

    /// The symbol or name of `unit` beside `value` of it.
    pub fn unit_name(&self, unit: Unit, value: &Exact) -> &'static str {
        self.text_in(unit_key(unit), self.measured(value))
    }

    /// A weight or a volume of something: "180 g water", "180 g d’eau", "180 g Wasser".
    ///
    /// Not for counts: "2 lemons" needs no word between in any of the languages.
    pub fn amount_of(&self, amount: &str, name: &str) -> String {
        let key = match self.language {
            Language::French if elides(name) => Key::AmountOfElided,
            Language::French | Language::English | Language::German => Key::AmountOf,
        };
        self.fill(key, &[("amount", amount), ("name", name)])
    }

    fn unit_number(&self, value: &Exact, unit: Unit, max_places: u32) -> String {
        let household = matches!(unit, Unit::Teaspoon | Unit::Tablespoon | Unit::Cup);
        household.then(|| self.mixed(value)).flatten().unwrap_or_else(|| self.number(value, max_places))
    }
}

fn unit_key(unit: Unit) -> Key {
    match unit {
        Unit::Milligram => Key::UnitMilligram,
        Unit::Gram => Key::UnitGram,
        Unit::Kilogram => Key::UnitKilogram,
        Unit::Ounce => Key::UnitOunce,
        Unit::Pound => Key::UnitPound,
        Unit::Millilitre => Key::UnitMillilitre,
        Unit::Centilitre => Key::UnitCentilitre,
        Unit::Litre => Key::UnitLitre,
        Unit::Teaspoon => Key::UnitTeaspoon,
        Unit::Tablespoon => Key::UnitTablespoon,
        Unit::Cup => Key::UnitCup,
        Unit::FluidOunce => Key::UnitFluidOunce,
        Unit::Pint => Key::UnitPint,
        Unit::Quart => Key::UnitQuart,
        Unit::Gallon => Key::UnitGallon,
        Unit::Millimetre => Key::UnitMillimetre,
        Unit::Centimetre => Key::UnitCentimetre,
        Unit::Metre => Key::UnitMetre,
        Unit::Inch => Key::UnitInch,
        Unit::Second => Key::UnitSecond,
        Unit::Minute => Key::UnitMinute,
        Unit::Hour => Key::UnitHour,
        Unit::Day => Key::UnitDay,
        Unit::Celsius => Key::UnitCelsius,
        Unit::Fahrenheit => Key::UnitFahrenheit,
        Unit::Percent => Key::UnitPercent,
    }
}

/// Whether French elides "de" before `name`: before a vowel, and before an h that is not one of the kitchen's
/// aspirated ones (dictionary knowledge, from memory).
fn elides(name: &str) -> bool {
    const ASPIRATED: [&str; 13] = [
        "haricot",
        "hareng",
        "homard",
        "harissa",
        "haddock",
        "houmous",
        "hachis",
        "halva",
        "halloumi",
        "haut",
        "houblon",
        "hot-dog",
        "hamburger",
    ];
    let folded = name.trim().to_lowercase();
    match folded.chars().next() {
        Some('h') => !ASPIRATED.iter().any(|word| folded.starts_with(word)),
        Some(first) => "aàâäeéèêëiîïoôöuùûüœæ".contains(first),
        None => false,
    }
}
