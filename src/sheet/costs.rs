//! Figures of the cost: lines apportioned to the shown total, shares, pieces, the basket, the oil.

use super::formula::PartShown;
use super::resolve::Resolution;
use super::shown::Shown;
use super::{CostFigures, CostLineFigures, Figure, FryFigures, PackFigures};
use crate::cost::Charge;
use crate::exact::{Exact, apportion};

/// What a batch costs, in figures that add up.
pub(super) fn costs(resolution: &Resolution<'_>, shown: &Shown<'_>, formula: &[PartShown]) -> CostFigures {
    let cost = &resolution.cost;
    let amounts: Vec<Exact> = cost.lines.iter().map(|line| line.amount.clone()).collect();
    let total = shown.to_minor(&cost.total);
    let minor = apportion(total, &amounts);
    let shares = if cost.total.is_zero() { vec![0; amounts.len()] } else { apportion(100, &amounts) };
    let longest = amounts.iter().max().filter(|most| most.is_positive());
    let lines = cost.lines.iter().enumerate().map(|(index, line)| {
        let (id, name, amount) = charged(resolution, shown, formula, line.charge);
        let bar = longest.and_then(|most| (&line.amount * Exact::from(1000)).over(most));
        CostLineFigures {
            id,
            name,
            amount,
            cost: shown.minor(minor[index]),
            share: shown.percent_shown(Exact::from(shares[index])).figure,
            bar: bar.and_then(|bar| bar.round().to_i64()).and_then(|bar| u16::try_from(bar).ok()).unwrap_or(0),
        }
    });
    let packs = cost.packs.iter().map(|pack| PackFigures {
        name: resolution.item(&pack.item).map_or_else(|| pack.item.clone(), |item| item.name.clone()),
        packs: shown.packs(&pack.count, &pack.purchase.pack_text),
        cost: shown.minor(shown.to_minor(&pack.amount)),
    });
    CostFigures {
        complete: cost.is_complete(),
        lines: lines.collect(),
        missing: cost
            .missing
            .iter()
            .map(|charge| {
                let (id, name, _) = charged(resolution, shown, formula, *charge);
                (id, name)
            })
            .collect(),
        total: shown.minor(total),
        each: cost.each.as_ref().map(|(low, high)| shown.money_range(low, high)),
        basket: shown.minor(shown.to_minor(&cost.basket)),
        packs: packs.collect(),
    }
}

/// Id, name and amount of what a cost is of.
fn charged(
    resolution: &Resolution<'_>,
    shown: &Shown<'_>,
    formula: &[PartShown],
    charge: Charge,
) -> (String, String, Figure) {
    match charge {
        Charge::Line(at) => {
            let line = &formula[at.part].figures.lines[at.line];
            (line.id.clone(), line.name.clone(), line.amount.clone())
        }
        Charge::Oil => {
            let used = resolution.fry.as_ref().map_or_else(Exact::zero, |fry| fry.used.clone());
            (charge_id(resolution, charge), oil_name(resolution), shown.weight(&used).figure)
        }
    }
}

/// The id of what a cost is of: a line's id, or `fry.oil`.
pub(super) fn charge_id(resolution: &Resolution<'_>, charge: Charge) -> String {
    match charge {
        Charge::Line(at) => resolution.inputs.recipe.line_id(at),
        Charge::Oil => "fry.oil".to_owned(),
    }
}

fn oil_name(resolution: &Resolution<'_>) -> String {
    let key = resolution.inputs.recipe.fry.as_ref().map_or("", |fry| &fry.oil);
    resolution.item(key).map_or_else(|| key.to_owned(), |item| item.name.clone())
}

/// The frying oil.
pub(super) fn fry(resolution: &Resolution<'_>, shown: &Shown<'_>) -> Option<FryFigures> {
    let frying = resolution.fry.as_ref()?;
    let written = resolution.inputs.recipe.fry.as_ref()?;
    let depth = crate::exact::Quantity {
        dimension: crate::exact::Dimension::Length,
        value: written.depth.clone(),
        unit: Some(crate::exact::Unit::Centimetre),
    };
    let depth = crate::exact::Range { low: depth.clone(), high: depth };
    Some(FryFigures {
        oil: oil_name(resolution),
        fill: shown.weight(&frying.fill).figure,
        fill_volume: shown.volume(&frying.fill_volume),
        taken_up: shown.weight(&frying.taken_up).figure,
        uses: shown.whole(&written.uses),
        used: shown.weight(&frying.used).figure,
        depth: shown.measure(&depth, |_| None),
    })
}
