//! What yield is wanted, and the factor on the written batch that gives it.

use super::scale::{Batch, scale};
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
    /// The yield is below what anyone could weigh.
    TooSmall,
}

/// The factor on the written batch that gives the wanted yield, which is above zero.
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
            factors.collect::<Result<Vec<_>, _>>()?.into_iter().flatten().min().unwrap_or_else(Exact::one)
        }
    };
    if factor > Exact::from(1_000_000) {
        return Err(Unreachable::TooLarge);
    }
    if factor < Exact::ratio(1, 1_000_000) { Err(Unreachable::TooSmall) } else { Ok(factor) }
}

/// What `at` answers a little above a factor, and how far above. Some formulas can't be twice as large (a part that is
/// taken by a fixed weight may be too small for what grows in it), but none has its limit right at the written batch.
///
/// # Errors
/// That of the nearest factor where there is none.
pub fn beside<T, E>(factor: &Exact, at: impl Fn(&Exact) -> Result<T, E>) -> Result<(T, Exact), E> {
    let mut step = Exact::one();
    loop {
        match at(&(factor + &step)) {
            Ok(other) => return Ok((other, step)),
            Err(why) if step < Exact::ratio(1, 1_000_000) => return Err(why),
            Err(_) => step = step / Exact::from(16),
        }
    }
}

/// How far one item on hand reaches; `None` where it is enough at any yield, in fixed lines or making room for others.
/// Need is a straight line in the factor (fixed lines are its start), so two yields tell it.
fn reach(
    recipe: &Recipe,
    pantry: &Pantry,
    written: &WrittenSizes,
    variant: Option<&Variant>,
    have: &Have,
) -> Result<Option<Exact>, Unreachable> {
    let at = |factor: &Exact| scale(recipe, pantry, written, variant, factor);
    let batch = at(&Exact::one()).and_then(|one| Ok((beside(&one.factor, at)?, one)));
    // What has no size as written has none to reach for either: that is told where it is resolved.
    let Ok(((other, step), one)) = batch else { return Ok(None) };
    let need = |batch: &Batch| need(recipe, batch, &have.item);
    let Some((one, other)) = need(&one).zip(need(&other)) else {
        return Err(Unreachable::NotWeighed(have.item.clone(), weighed_items(&one)));
    };
    let slope = (other - &one).over(&step).unwrap_or_else(Exact::zero);
    let left = &have.grams - (one - &slope);
    if !slope.is_positive() && left >= Exact::zero() {
        return Ok(None);
    }
    let factor = left.over(&slope).filter(Exact::is_positive);
    factor.map(Some).ok_or_else(|| Unreachable::TooLittle(have.item.clone()))
}

/// Grams of an item that a batch needs; `None` if no weighed line has it.
fn need(recipe: &Recipe, batch: &Batch, name: &str) -> Option<Exact> {
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

fn weighed_items(batch: &Batch) -> Vec<String> {
    let mut items: Vec<String> =
        batch.lines().filter(|line| line.grams.is_some()).filter_map(|line| line.item.clone()).collect();
    items.sort();
    items.dedup();
    items
}
