//! Whether an item fits a diet claim. Must not know formulas.

use super::facts::{Allergen, Claim, Item};

/// What an item says about a claim.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// It fits.
    Fits,
    /// It contradicts the claim, because of this allergen where it is one.
    Contradicts(Option<Allergen>),
    /// Its facts are not known, so that it can't support the claim.
    Unknown,
}

/// What `item` says about `claim`.
pub fn verdict(claim: Claim, item: &Item) -> Verdict {
    let Some(barred) = barred(claim) else {
        return match &item.diet {
            Some(diet) if diet.contains(&claim) => Verdict::Fits,
            Some(_) => Verdict::Contradicts(None),
            None => Verdict::Unknown,
        };
    };
    match &item.allergens {
        Some(allergens) => match barred.iter().find(|allergen| allergens.contains(allergen)) {
            Some(allergen) => Verdict::Contradicts(Some(*allergen)),
            None => Verdict::Fits,
        },
        None => Verdict::Unknown,
    }
}

/// The allergens that a claim rules out; `None` for a claim that items make themselves.
///
/// Nuts take in peanuts and pine nuts: who avoids the one is usually told to avoid the others
/// (common practice, no source).
fn barred(claim: Claim) -> Option<&'static [Allergen]> {
    match claim {
        Claim::Vegan | Claim::Vegetarian => None,
        Claim::GlutenFree => Some(&[Allergen::Wheat, Allergen::Rye, Allergen::Barley, Allergen::Oats]),
        Claim::DairyFree => Some(&[Allergen::Milk]),
        Claim::EggFree => Some(&[Allergen::Eggs]),
        Claim::NutFree => Some(&[
            Allergen::Peanuts,
            Allergen::Almonds,
            Allergen::Hazelnuts,
            Allergen::Walnuts,
            Allergen::Cashews,
            Allergen::Pecans,
            Allergen::BrazilNuts,
            Allergen::Pistachios,
            Allergen::Macadamias,
            Allergen::PineNuts,
        ]),
    }
}
