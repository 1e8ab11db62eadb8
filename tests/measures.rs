//! Sizes of units and household measures against published values.

use tallyspoon::exact::{Exact, Measures, Unit, parse_quantity};
use tallyspoon::measure::household;

/// NIST SP 811 appendix B and NIST Handbook 44: exact values of the customary units; also PyPI pint
/// 0.25.3 with Fraction, GNU units and UCUM.
#[test]
fn customary_units_have_their_published_size() {
    let sizes = [
        (Unit::Cup, Measures::Us, "236.5882365"),
        (Unit::Tablespoon, Measures::Us, "14.78676478125"),
        (Unit::Teaspoon, Measures::Us, "4.92892159375"),
        (Unit::FluidOunce, Measures::Metric, "29.5735295625"),
        (Unit::Pint, Measures::Us, "473.176473"),
        (Unit::Quart, Measures::Us, "946.352946"),
        (Unit::Gallon, Measures::Us, "3785.411784"),
        (Unit::Pound, Measures::Us, "453.59237"),
        (Unit::Ounce, Measures::Us, "28.349523125"),
        (Unit::Cup, Measures::Metric, "250"),
        (Unit::Tablespoon, Measures::Au, "20"),
        (Unit::Cup, Measures::Jp, "200"),
        (Unit::Cup, Measures::Uk, "284.130625"),
        (Unit::Tablespoon, Measures::Uk, "15"),
        (Unit::Tablespoon, Measures::Ca, "15"),
        (Unit::Inch, Measures::Us, "25.4"),
    ];
    for (unit, measures, size) in sizes {
        assert_eq!(unit.size(measures).decimal(), size, "{unit:?} {measures:?}");
    }
}

/// TM 10-412 *Armed Forces Recipe Service* (2003), card A-1: 1.25 lb × 3.48 = 4.35 lb;
/// 6 gal × 3.33 = 19.98 gal.
#[test]
fn worked_conversions_of_the_armed_forces_card_come_out() {
    let times = |text: &str, factor: &str| {
        let quantity = parse_quantity(text, Measures::Us).expect("a quantity");
        quantity.value * Exact::from_decimal(factor).expect("a factor")
    };
    let equals = |text: &str| parse_quantity(text, Measures::Us).expect("a quantity").value;
    assert_eq!(times("1.25 lb", "3.48"), equals("4.35 lb"));
    assert_eq!(times("6 gal", "3.33"), equals("19.98 gal"));
}

/// Every household measure stays within 5 % of its volume, has at most two terms, and counts in
/// eighths or thirds; from an eighth of a teaspoon up there nearly always is one.
#[test]
fn household_measures_are_close_and_short_in_every_region() {
    for (name, measures) in Measures::ALL {
        let mut found = 0;
        for tenths in (7..20_000_i64).step_by(7) {
            let volume = Exact::ratio(tenths, 10);
            let Some(terms) = household(&volume, measures) else { continue };
            found += 1;
            let sum: Exact = terms.iter().map(|term| &term.count * term.unit.size(measures)).sum();
            assert!((sum - &volume).abs() <= &volume * Exact::ratio(5, 100), "{name} {tenths}");
            assert!(terms.len() <= 2);
            let kitchen = |count: &Exact| (count * Exact::from(8)).is_whole() || (count * Exact::from(3)).is_whole();
            assert!(terms.iter().all(|term| kitchen(&term.count)), "{terms:?}");
        }
        assert!(found > 2_800, "{name}: {found}");
    }
}
