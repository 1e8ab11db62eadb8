//! What as much of it costs ready-made. Must not know how it is shown.

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
