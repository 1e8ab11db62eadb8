//! What yield is wanted, and the factor on the written batch that gives it.

use super::scale::scale;
use super::size::WrittenSizes;
use crate::exact::Exact;
use crate::model::{Pantry, Recipe, Variant};

/// What is on hand of one item, in grams as eaten.
#[derive(Clone, Debug)]
pub struct Have {
    /// A pantry key, a line's key or a line's id.
    pub item: String,
    /// Grams.
    pub grams: Exact,
}

/// A wanted yield.
#[derive(Clone, Debug)]
pub enum Wanted {
    /// The written batch.
    AsWritten,
    /// So many pieces, by the upper count.
    Makes(Exact),
    /// So much of the main part's basis, in grams.
    Batch(Exact),
    /// As much as what is on hand allows: the scarcest decides.
    Have(Vec<Have>),
    /// So many written batches.
    Times(Exact),
}

/// Why a yield can't be had: the command line is at fault.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Unreachable {
    /// A count was asked of a recipe that does not say what it makes.
    NoMakes,
    /// A basis weight was asked of a recipe without a basis.
    NoBasis,
    /// The item is not weighed in this recipe; with its weighed items.
    NotWeighed(String, Vec<String>),
    /// The item's fixed lines alone need more than there is.
    TooLittle(String),
    /// The yield is above what anyone could weigh.
    TooLarge,
}

/// The factor on the written batch that gives the wanted yield; above zero.
///
/// # Errors
/// [`Unreachable`] where the recipe can't answer.
pub fn factor(
    recipe: &Recipe,
    pantry: &Pantry,
    written: &WrittenSizes,
    variant: Option<&Variant>,
    wanted: &Wanted,
) -> Result<Exact, Unreachable> {
    let factor = match wanted {
        Wanted::AsWritten => Exact::one(),
        Wanted::Times(times) => times.clone(),
        Wanted::Makes(count) => {
            let makes = recipe.makes.as_ref().ok_or(Unreachable::NoMakes)?;
            count.over(&Exact::from(i64::from(makes.high))).ok_or(Unreachable::NoMakes)?
        }
        Wanted::Batch(grams) => {
            let basis = written.basis[recipe.main].as_ref().ok_or(Unreachable::NoBasis)?;
            grams.over(basis).ok_or(Unreachable::NoBasis)?
        }
        Wanted::Have(list) => {
            let factors = list.iter().map(|have| reach(recipe, pantry, written, variant, have));
            factors.collect::<Result<Vec<_>, _>>()?.into_iter().min().unwrap_or_else(Exact::one)
        }
    };
    if factor > Exact::from(1_000_000) { Err(Unreachable::TooLarge) } else { Ok(factor) }
}

/// How far one item on hand reaches. Need is a straight line in the factor (fixed lines are its
/// start), so two yields tell it.
fn reach(
    recipe: &Recipe,
    pantry: &Pantry,
    written: &WrittenSizes,
    variant: Option<&Variant>,
    have: &Have,
) -> Result<Exact, Unreachable> {
    let need = |factor: i64| need(recipe, pantry, written, variant, &have.item, &Exact::from(factor));
    let (one, two) = (need(1), need(2));
    let (Some(one), Some(two)) = (one, two) else {
        return Err(Unreachable::NotWeighed(have.item.clone(), weighed_items(recipe, pantry, written, variant)));
    };
    let slope = two - &one;
    let start = one - &slope;
    let factor = (&have.grams - start).over(&slope);
    factor.filter(Exact::is_positive).ok_or_else(|| Unreachable::TooLittle(have.item.clone()))
}

/// Grams of an item that a factor needs; `None` if no weighed line has it.
fn need(
    recipe: &Recipe,
    pantry: &Pantry,
    written: &WrittenSizes,
    variant: Option<&Variant>,
    name: &str,
    factor: &Exact,
) -> Option<Exact> {
    let batch = scale(recipe, pantry, written, variant, factor).ok()?;
    let by_item: Vec<_> = batch.lines().filter(|line| line.item.as_deref() == Some(name)).collect();
    let lines = if by_item.is_empty() {
        let named = |line: &&super::BatchLine| recipe.line(line.at).key == name || recipe.line_id(line.at) == name;
        batch.lines().filter(named).collect()
    } else {
        by_item
    };
    let weights: Vec<_> = lines.iter().filter_map(|line| line.grams.as_ref()).collect();
    (!weights.is_empty()).then(|| weights.into_iter().sum())
}

fn weighed_items(recipe: &Recipe, pantry: &Pantry, written: &WrittenSizes, variant: Option<&Variant>) -> Vec<String> {
    let Ok(batch) = scale(recipe, pantry, written, variant, &Exact::one()) else { return Vec::new() };
    let mut items: Vec<String> =
        batch.lines().filter(|line| line.grams.is_some()).filter_map(|line| line.item.clone()).collect();
    items.sort();
    items.dedup();
    items
}
