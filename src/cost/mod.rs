//! Batch × price book: the cost of each line, the total, the piece, the basket and the frying oil.
//! Must not know outputs.

mod fry;

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

/// Whole packs of one item.
#[derive(Clone, Debug)]
pub struct Packs {
    /// The pantry key.
    pub item: String,
    /// How many packs.
    pub count: Exact,
    /// The purchase whose pack and price hold.
    pub purchase: Purchase,
    /// What they cost together.
    pub amount: Exact,
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
    /// Price of a piece at the upper and at the lower count.
    pub each: Option<(Exact, Exact)>,
    /// Whole packs to buy, in the order of their first line.
    pub packs: Vec<Packs>,
    /// What these packs cost.
    pub basket: Exact,
}

impl Cost {
    /// Whether every line has a price.
    pub fn is_complete(&self) -> bool {
        self.missing.is_empty()
    }
}

/// Costs a batch at the prices of `day`.
///
/// A line's cost is its weight as eaten over what is eaten of a pack, times the pack's price.
/// To taste is not costed; a line that takes a part is costed by the part's own lines.
pub fn cost(recipe: &Recipe, batch: &Batch, pantry: &Pantry, book: &PriceBook, day: Option<Date>) -> Cost {
    let oil = frying(recipe, batch, pantry);
    let mut charges: Vec<(Charge, &str, Exact, Exact)> = batch
        .lines()
        .filter_map(|line| {
            let grams = line.grams.clone()?;
            Some((Charge::Line(line.at), line.item.as_deref()?, grams.clone(), grams))
        })
        .collect();
    if let (Some(oil), Some(fry)) = (oil, recipe.fry.as_ref()) {
        charges.push((Charge::Oil, &fry.oil, oil.used.clone(), oil.bought()));
    }
    let mut lines = Vec::new();
    let mut missing = Vec::new();
    for (charge, item, used, _) in &charges {
        match price_per_gram(item, pantry, book, day) {
            Some((per_gram, purchase)) => {
                lines.push(CostLine { charge: *charge, amount: per_gram * used, purchase: purchase.clone() });
            }
            None => missing.push(*charge),
        }
    }
    let packs = basket(&charges, pantry, book, day);
    let total: Exact = lines.iter().map(|line| &line.amount).sum();
    let each = batch.pieces.and_then(|(low, high)| {
        Some((total.over(&Exact::from(i64::from(high)))?, total.over(&Exact::from(i64::from(low)))?))
    });
    let basket = packs.iter().map(|pack| &pack.amount).sum();
    Cost { lines, missing, total, each, packs, basket }
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

/// Whole packs of each item that has a price.
fn basket(
    charges: &[(Charge, &str, Exact, Exact)],
    pantry: &Pantry,
    book: &PriceBook,
    day: Option<Date>,
) -> Vec<Packs> {
    let mut needs: Vec<(&str, Exact)> = Vec::new();
    for (_, item, _, bought) in charges {
        match needs.iter_mut().find(|(known, _)| known == item) {
            Some((_, sum)) => *sum += bought,
            None => needs.push((item, bought.clone())),
        }
    }
    let packs = needs.into_iter().filter_map(|(item, grams)| {
        let (_, purchase) = price_per_gram(item, pantry, book, day)?;
        let eaten = eaten_of_pack(pantry.get(item)?, &purchase.pack)?;
        let count = grams.over(&eaten)?.ceil();
        let amount = &count * &purchase.price;
        Some(Packs { item: item.to_owned(), count, purchase: purchase.clone(), amount })
    });
    packs.collect()
}
