//! The frying oil: what fills the pan, what the food takes up, what a batch is charged with.

use crate::batch::Batch;
use crate::exact::Exact;
use crate::model::{Pan, Pantry, Recipe};

/// Weights of the frying oil in grams.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Frying {
    /// What fills the pan: base area × depth × density.
    pub fill: Exact,
    /// The fill in millilitres.
    pub fill_volume: Exact,
    /// What the food takes up, a share of the main part's raw weight.
    pub taken_up: Exact,
    /// Taken up, and the rest of the fill spread over its uses.
    pub used: Exact,
}

impl Frying {
    /// What must be bought: the fill, or what is taken up where that is more.
    pub fn bought(&self) -> Exact {
        self.fill.clone().max(self.taken_up.clone())
    }
}

/// π to eighteen places; the area of a round pan is the one figure that is not rational.
fn pi() -> Exact {
    Exact::ratio(3_141_592_653_589_793_238, 1_000_000_000_000_000_000)
}

/// The oil of a batch; `None` if the recipe isn't fried or the oil's density is not known.
pub fn frying(recipe: &Recipe, batch: &Batch, pantry: &Pantry) -> Option<Frying> {
    let fry = recipe.fry.as_ref()?;
    let density = pantry.get(&fry.oil)?.density.as_ref()?;
    let area = match &fry.pan {
        Pan::Round(diameter) => pi() * diameter * diameter / Exact::from(4),
        Pan::Rect(width, length) => width * length,
    };
    // A cubic millimetre is a thousandth of a millilitre.
    let fill_volume = area * &fry.depth / Exact::from(1000);
    let fill = &fill_volume * density;
    let taken_up = &batch.parts[batch.main].total * &fry.takes_up;
    let rest = (&fill - &taken_up).max(Exact::zero());
    let used = &taken_up + rest / &fry.uses;
    Some(Frying { fill, fill_volume, taken_up, used })
}
