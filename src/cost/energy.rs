//! What the heat of a batch takes: kilowatt-hours and their price. Must not know ingredients.

use crate::exact::Exact;
use crate::model::Recipe;

/// The energy of a batch.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Energy {
    /// How often the appliances run: once a written batch, and once more for a part of one.
    pub loads: Exact,
    /// Kilowatt-hours of all appliances at all loads.
    pub kwh: Exact,
    /// Their price; `None` where the channel has no tariff.
    pub amount: Option<Exact>,
}

/// The energy of `factor` written batches at a price a kilowatt-hour; `None` if the recipe states none.
///
/// An oven costs the same half empty, so a part of a batch is charged as a whole one.
pub fn energy(recipe: &Recipe, factor: &Exact, tariff: Option<&Exact>) -> Option<Energy> {
    if recipe.energy.is_empty() {
        return None;
    }
    let loads = factor.ceil();
    let one: Exact = recipe.energy.iter().map(|appliance| &appliance.kwh).sum();
    let kwh = one * &loads;
    Some(Energy { amount: tariff.map(|tariff| tariff * &kwh), kwh, loads })
}
