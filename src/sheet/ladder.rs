//! The formula at several yields, one worked line, and what each variant changes.

use super::formula::{basis_names, formula, line_name, makes, weighed};
use super::resolve::Resolution;
use super::shown::Shown;
use super::{Rung, VariantChange, VariantFigures, Worked};
use crate::batch::{Quota, Unsizable};
use crate::exact::Exact;
use crate::model::Basis;
use rayon::prelude::*;

/// The ratio table: the recipe's own list of basis weights, or half, once and twice this yield. Nobody asked for half and
/// twice: where the formula can't be had at one of them it is no column.
///
/// # Errors
/// The smallest of the listed weights that the formula can't be had at.
pub(super) fn ladder(resolution: &Resolution<'_>, shown: &Shown<'_>) -> Result<Vec<Rung>, Unsizable> {
    let asked = listed(resolution).len() >= 2;
    let rungs: Vec<_> = factors(resolution).par_iter().map(|factor| rung(resolution, shown, factor)).collect();
    rungs.into_iter().filter(|rung| asked || rung.is_ok()).collect()
}

/// The yields of the ratio table, as factors of the written batch, the own one among them.
pub(super) fn factors(resolution: &Resolution<'_>) -> Vec<Exact> {
    let own = &resolution.batch.factor;
    let mut factors: Vec<Exact> = listed(resolution);
    if factors.len() < 2 {
        factors = vec![own * Exact::ratio(1, 2), own * Exact::from(2)];
    }
    factors.push(own.clone());
    factors.sort();
    factors.dedup();
    factors
}

/// Factors of the basis weights that the recipe lists for its ratio table.
fn listed(resolution: &Resolution<'_>) -> Vec<Exact> {
    let batch = &resolution.batch;
    let Some(basis) = &batch.parts[batch.main].basis else { return Vec::new() };
    let Some(written) = basis.over(&batch.factor) else { return Vec::new() };
    resolution.inputs.recipe.ratio.iter().filter_map(|grams| grams.over(&written)).collect()
}

fn rung(resolution: &Resolution<'_>, shown: &Shown<'_>, factor: &Exact) -> Result<Rung, Unsizable> {
    let there = resolution.at_factor(factor)?;
    let amounts =
        weighed(&there, shown).into_iter().map(|part| part.lines.into_iter().map(|(amount, _)| amount).collect());
    let (basis, pieces) = makes(&there, shown);
    let (pieces, count) = pieces.map(|pieces| (pieces.told, pieces.count)).unzip();
    Ok(Rung {
        basis,
        pieces: pieces.flatten(),
        count,
        amounts: amounts.collect(),
        own: *factor == resolution.batch.factor,
    })
}

/// The first weighed percent line that isn't of the basis, worked at the basis weight of this yield.
pub(super) fn worked(resolution: &Resolution<'_>, shown: &Shown<'_>) -> Option<Worked> {
    let main = &resolution.batch.parts[resolution.batch.main];
    let basis = main.basis.as_ref()?;
    let of_basis = match &resolution.inputs.recipe.parts[resolution.batch.main].basis {
        Basis::Lines(lines) => lines.as_slice(),
        Basis::None => &[],
    };
    let line = main.lines.iter().find(|line| {
        line.quota == Quota::Weight
            && line.takes.is_none()
            && line.low_share.is_none()
            && line.percent.is_some()
            && !of_basis.contains(&line.at.line)
    })?;
    let percent = line.percent.as_ref()?;
    Some(Worked {
        basis: shown.weight(basis).figure,
        basis_name: shown.locale.list(&basis_names(resolution)),
        percent: shown.percent(percent).figure,
        name: line_name(resolution, line),
        amount: shown.weight(line.grams.as_ref()?).figure,
    })
}

/// What each variant changes at this yield, against the formula as written.
pub(super) fn variants(resolution: &Resolution<'_>, shown: &Shown<'_>) -> Result<Vec<VariantFigures>, Unsizable> {
    if resolution.inputs.recipe.variants.is_empty() {
        return Ok(Vec::new());
    }
    let written = resolution.with_variant(None)?;
    let from = formula(&written, shown);
    let recipe = resolution.inputs.recipe;
    let mut found = Vec::new();
    for variant in &recipe.variants {
        let there = resolution.with_variant(Some(variant))?;
        let to = formula(&there, shown);
        let costs = super::costs::costs(&there, shown, &to)?;
        let changes = recipe.line_refs().filter_map(|at| {
            let from = &from[at.part].figures.lines[at.line];
            let to = &to[at.part].figures.lines[at.line];
            let same = from.name == to.name && from.amount == to.amount && from.percent == to.percent;
            (!same).then(|| VariantChange { line: from.id.clone(), from: from.clone(), to: to.clone() })
        });
        found.push(VariantFigures {
            id: variant.id.clone(),
            title: variant.title.clone(),
            changes: changes.collect(),
            total: costs.total,
            each: costs.each,
            complete: costs.complete,
        });
    }
    Ok(found)
}
