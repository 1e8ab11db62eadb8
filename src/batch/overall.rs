//! The overall formula: the main part and what it takes, item by item; hydration and the
//! prefermented share.

use super::scale::{BatchLine, BatchPart, basis_lines};
use crate::exact::Exact;
use crate::model::{Pantry, Recipe, Role};

/// An item's weight in all parts together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OverallLine {
    /// The pantry key.
    pub item: String,
    /// Grams.
    pub grams: Exact,
    /// Percent of all the basis there is.
    pub percent: Option<Exact>,
}

/// The formula with its parts opened.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Overall {
    /// All the basis there is, in grams: all the flour, where the main part's basis is flour.
    pub basis: Option<Exact>,
    /// Whether that is flour: what hydration tells something of.
    pub is_dough: bool,
    /// The sum of percents.
    pub total_percent: Option<Exact>,
    /// Percent of the flour that stands in preferments; `None` without one.
    pub prefermented: Option<Exact>,
    /// Items in the order of their first line.
    pub lines: Vec<OverallLine>,
}

/// Water over flour, in percent; `None` where there is no flour.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hydration {
    /// The item `water` alone.
    pub nominal: Option<Exact>,
    /// With the water inside every item that is no flour; `None` also where a water content is not known.
    pub effective: Option<Exact>,
}

/// Item lines of the main part and what it takes, with their item and grams.
fn item_lines<'b>(
    recipe: &Recipe,
    parts: &'b [BatchPart],
) -> impl Iterator<Item = (&'b BatchLine, &'b str, &'b Exact)> {
    recipe.opened().into_iter().flat_map(|part| &parts[part].lines).filter_map(|line| {
        let item = line.item.as_deref()?;
        Some((line, item, line.grams.as_ref()?))
    })
}

fn is_flour(pantry: &Pantry, item: &str) -> bool {
    pantry.get(item).is_some_and(|item| item.role == Role::Flour)
}

impl Overall {
    /// Opens `parts`; percents are of the basis in `reference`, the same yield without a variant,
    /// because percents stay percents of the written basis.
    pub(super) fn of(recipe: &Recipe, pantry: &Pantry, parts: &[BatchPart], reference: &[BatchPart]) -> Self {
        let (basis, is_dough) = all_basis(recipe, pantry, reference);
        let percent_of = |grams: &Exact| basis.as_ref().and_then(|basis| (grams * Exact::from(100)).over(basis));
        let mut lines: Vec<OverallLine> = Vec::new();
        for (_, item, grams) in item_lines(recipe, parts) {
            match lines.iter_mut().find(|line| line.item == item) {
                Some(line) => line.grams += grams,
                None => lines.push(OverallLine { item: item.to_owned(), grams: grams.clone(), percent: None }),
            }
        }
        for line in &mut lines {
            line.percent = percent_of(&line.grams);
        }
        let total: Exact = lines.iter().map(|line| &line.grams).sum();
        Self {
            total_percent: percent_of(&total),
            prefermented: prefermented(recipe, pantry, parts),
            basis,
            is_dough,
            lines,
        }
    }
}

/// All the basis there is: all flour where the main basis is flour, else every line of its items; and whether it is flour.
fn all_basis(recipe: &Recipe, pantry: &Pantry, parts: &[BatchPart]) -> (Option<Exact>, bool) {
    let main: Vec<&str> = basis_lines(recipe, recipe.main)
        .iter()
        .filter_map(|at| parts[at.part].lines[at.line].item.as_deref())
        .collect();
    let by_flour = !main.is_empty() && main.iter().all(|item| is_flour(pantry, item));
    let counts = |item: &str| if by_flour { is_flour(pantry, item) } else { main.contains(&item) };
    let sum: Exact = item_lines(recipe, parts).filter(|(_, item, _)| counts(item)).map(|(_, _, grams)| grams).sum();
    (sum.is_positive().then_some(sum), by_flour)
}

/// Flour in nested parts as a percent of all flour.
fn prefermented(recipe: &Recipe, pantry: &Pantry, parts: &[BatchPart]) -> Option<Exact> {
    let (mut all, mut nested) = (Exact::zero(), Exact::zero());
    for (line, item, grams) in item_lines(recipe, parts) {
        if is_flour(pantry, item) {
            all += grams;
            if line.at.part != recipe.main {
                nested += grams;
            }
        }
    }
    if nested.is_zero() { None } else { (nested * Exact::from(100)).over(&all) }
}

impl Hydration {
    pub(super) fn of(recipe: &Recipe, pantry: &Pantry, parts: &[BatchPart]) -> Self {
        let (mut flour, mut water, mut inside) = (Exact::zero(), Exact::zero(), Some(Exact::zero()));
        for (_, item, grams) in item_lines(recipe, parts) {
            if is_flour(pantry, item) {
                flour += grams;
            } else if item == "water" {
                water += grams;
            } else {
                let share = pantry.get(item).and_then(|item| item.water.as_ref());
                inside = inside.zip(share).map(|(sum, share)| sum + grams * share);
            }
        }
        let percent = |wet: Exact| (wet * Exact::from(100)).over(&flour);
        Self { nominal: percent(water.clone()), effective: inside.and_then(|inside| percent(water + inside)) }
    }
}
