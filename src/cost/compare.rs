//! What as much of it costs ready-made. Must not know how it is shown.

use super::Cost;
use crate::batch::Batch;
use crate::exact::Exact;
use crate::model::{Portion, Recipe};
use jiff::civil::Date;

/// The shop-bought one at the size of the batch.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Comparison {
    /// How many shop packs the batch is as much as.
    pub packs: Exact,
    /// What they cost: the pack's price times their number, a part of a pack too.
    pub amount: Exact,
}

/// What the shop asks for as much as the batch makes; `None` if the recipe names no comparison, if it was seen after
/// `day`, or if the batch counts no pieces.
///
/// Pieces are compared with pieces, by the upper number of a range; a weight with what is left after the loss.
pub fn comparison(recipe: &Recipe, batch: &Batch, day: Option<Date>) -> Option<Comparison> {
    let compare = recipe.compare.as_ref().filter(|compare| day.is_none_or(|day| compare.bought <= day))?;
    let packs = match &compare.size {
        Portion::Pieces(pieces) => Exact::from(i64::from(batch.pieces?.1)).over(pieces)?,
        Portion::Weight(grams) => batch.finished.over(grams)?,
    };
    Some(Comparison { amount: &compare.price * &packs, packs })
}

/// How many batches are tried before paying off is called very long.
const MOST: i64 = 1000;

/// The first batch at which the packs bought so far, with their energy, have cost no more than as much ready-made; `None`
/// if that takes more than a thousand batches, or never comes.
pub fn break_even(cost: &Cost, recipe: &Recipe) -> Option<Exact> {
    let comparison = cost.comparison.as_ref().filter(|comparison| *cost.full() < comparison.amount)?;
    let uses = recipe.fry.as_ref().map_or_else(Exact::one, |fry| fry.uses.clone());
    let energy = cost.energy.as_ref().and_then(|energy| energy.amount.clone()).unwrap_or_else(Exact::zero);
    (1..=MOST).map(Exact::from).find(|batches| {
        let packs: Exact = cost.packs.iter().map(|pack| pack.paid_for(batches, &uses)).sum();
        packs + &energy * batches <= &comparison.amount * batches
    })
}

/// The price of the ready-made pack at which as much of it costs what the batch does.
pub fn price_to_match(cost: &Cost, comparison: &Comparison) -> Option<Exact> {
    cost.full().over(&comparison.packs)
}
