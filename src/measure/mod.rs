//! Conversion by density, size and household measures, and kitchen rounding.
//! Must not know prices, yields or wording.

mod household;
mod kitchen;

pub use household::{Term, household, spooned};
pub use kitchen::{Weighed, countable, poured, weigh};

use crate::exact::Exact;
use crate::model::{Item, Pack};

/// Grams of `millilitres` of an item; `None` if its density is not known.
pub fn grams_of_volume(item: &Item, millilitres: &Exact) -> Option<Exact> {
    item.density.as_ref().map(|density| millilitres * density)
}

/// Grams of `count` of an item, as eaten; `None` if the weight of one is not known.
pub fn grams_of_count(item: &Item, count: &Exact) -> Option<Exact> {
    item.each.as_ref().map(|each| count * each)
}

/// What of a pack is eaten, in grams: its content less what is drained, peeled or trimmed.
///
/// A count is of pieces whose `each` is as eaten already. `None` if a density or an `each` is missing.
pub fn eaten_of_pack(item: &Item, pack: &Pack) -> Option<Exact> {
    match pack {
        Pack::Weight(grams) => Some(grams * &item.edible),
        Pack::Volume(millilitres) => grams_of_volume(item, millilitres).map(|grams| grams * &item.edible),
        Pack::Count(count) => grams_of_count(item, count),
    }
}

/// The largest share by which a shown amount may differ from the exact one: 2 %.
pub fn tolerance() -> Exact {
    Exact::ratio(2, 100)
}

/// Whether `shown` is within `share` of `exact`.
fn within(shown: &Exact, exact: &Exact, share: &Exact) -> bool {
    (shown - exact).abs() <= exact.abs() * share
}
