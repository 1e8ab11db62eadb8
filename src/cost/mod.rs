//! Batch × price book: the cost of each line, the total, the piece, the basket, the frying oil, energy and the shop's own.
//! Must not know outputs.

mod basket;
mod compare;
mod energy;
mod fry;

pub use basket::Packs;
pub use compare::{Comparison, break_even, price_to_match};
pub use energy::Energy;
pub use fry::{Frying, frying};

use crate::batch::Batch;
use crate::exact::Exact;
use crate::measure::eaten_of_pack;
use crate::model::{LineRef, Pantry, PriceBook, Purchase, Recipe};
use jiff::civil::Date;

/// What a cost is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Charge {
    /// A line of the formula.
    Line(LineRef),
    /// The oil it is fried in.
    Oil,
}

/// The cost of one line, in the currency's major unit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CostLine {
    /// What it is of.
    pub charge: Charge,
    /// The exact cost.
    pub amount: Exact,
    /// The purchase whose price holds.
    pub purchase: Purchase,
}

/// What a batch costs on a day.
#[derive(Clone, Debug)]
pub struct Cost {
    /// Known lines, in the order of the formula, the oil last.
    pub lines: Vec<CostLine>,
    /// What has no price that day, in the same order.
    pub missing: Vec<Charge>,
    /// The sum of what is known.
    pub total: Exact,
    /// Price of a piece at the upper and at the lower count; `None` while nothing has a price.
    pub each: Option<(Exact, Exact)>,
    /// Whole packs to buy, in the order of their first line.
    pub packs: Vec<Packs>,
    /// What these packs cost.
    pub basket: Exact,
    /// How many more batches what is left over makes, by the item that runs out first; what is free never does. `None`
    /// while a price is missing.
    pub more: Option<Exact>,
    /// The energy, if the recipe states it.
    pub energy: Option<Energy>,
    /// The total with the energy; `None` where that, its tariff or every price is not known.
    pub with_energy: Option<Exact>,
    /// As much of it shop-bought.
    pub comparison: Option<Comparison>,
}

impl Cost {
    /// What the batch used, with energy where that is known.
    pub fn full(&self) -> &Exact {
        self.with_energy.as_ref().unwrap_or(&self.total)
    }

    /// Whether there is a sum at all: where nothing has a price there is none, and nought is not one.
    pub fn is_known(&self) -> bool {
        known(&self.lines, &self.missing)
    }

    /// Whether every line has a price.
    pub fn is_complete(&self) -> bool {
        self.missing.is_empty()
    }
}

fn known(lines: &[CostLine], missing: &[Charge]) -> bool {
    !lines.is_empty() || missing.is_empty()
}

/// What a batch wants of an item, in grams as eaten.
struct Wanting<'a> {
    charge: Charge,
    item: &'a str,
    /// What it is charged with.
    used: Exact,
    /// What must be bought for it.
    bought: Exact,
}

/// Costs a batch at the prices of `day` and the price of a kilowatt-hour.
///
/// A line's cost is its weight as eaten over what is eaten of a pack, times the pack's price.
/// To taste is not costed; a line that takes a part is costed by the part's own lines.
pub fn cost(
    recipe: &Recipe,
    batch: &Batch,
    pantry: &Pantry,
    book: &PriceBook,
    day: Option<Date>,
    tariff: Option<&Exact>,
) -> Cost {
    let wanted = wanted(recipe, batch, pantry);
    let mut lines = Vec::new();
    let mut missing = Vec::new();
    for Wanting { charge, item, used, .. } in &wanted {
        match price_per_gram(item, pantry, book, day) {
            Some((per_gram, purchase)) => {
                lines.push(CostLine { charge: *charge, amount: per_gram * used, purchase: purchase.clone() });
            }
            None => missing.push(*charge),
        }
    }
    let uses = recipe.fry.as_ref().map_or_else(Exact::one, |fry| fry.uses.clone());
    let packs = basket::basket(&wanted, &uses, pantry, book, day);
    let total: Exact = lines.iter().map(|line| &line.amount).sum();
    let sum = known(&lines, &missing).then_some(&total);
    let each = batch.pieces.zip(sum).and_then(|((low, high), total)| {
        Some((total.over(&Exact::from(i64::from(high)))?, total.over(&Exact::from(i64::from(low)))?))
    });
    let paid = packs.iter().filter(|pack| !pack.purchase.price.is_zero());
    let more = paid.map(|pack| pack.more.clone()).min().filter(|_| missing.is_empty());
    let energy = energy::energy(recipe, &batch.factor, tariff);
    let with_energy = energy.as_ref().and_then(|energy| Some(sum? + energy.amount.as_ref()?));
    Cost {
        basket: packs.iter().map(|pack| &pack.amount).sum(),
        comparison: compare::comparison(recipe, batch, day),
        lines,
        missing,
        total,
        each,
        packs,
        more,
        energy,
        with_energy,
    }
}

/// Everything the batch takes that has a weight, the frying oil last.
fn wanted<'a>(recipe: &'a Recipe, batch: &'a Batch, pantry: &Pantry) -> Vec<Wanting<'a>> {
    let mut wanted: Vec<Wanting<'_>> = batch
        .lines()
        .filter_map(|line| {
            let grams = line.grams.clone()?;
            let item = line.item.as_deref()?;
            Some(Wanting { charge: Charge::Line(line.at), item, used: grams.clone(), bought: grams })
        })
        .collect();
    if let (Some(oil), Some(fry)) = (frying(recipe, batch, pantry), recipe.fry.as_ref()) {
        wanted.push(Wanting { charge: Charge::Oil, item: &fry.oil, used: oil.used.clone(), bought: oil.bought() });
    }
    wanted
}

/// Price of a gram as eaten, and the purchase it comes from.
fn price_per_gram<'b>(
    item: &str,
    pantry: &Pantry,
    book: &'b PriceBook,
    day: Option<Date>,
) -> Option<(Exact, &'b Purchase)> {
    let purchase = book.latest(item, day?)?;
    let eaten = eaten_of_pack(pantry.get(item)?, &purchase.pack)?;
    Some((purchase.price.over(&eaten)?, purchase))
}
