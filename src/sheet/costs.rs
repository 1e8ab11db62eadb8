//! Figures of the cost: lines apportioned to the shown total, shares, pieces, the basket, the oil.

use super::formula::PartShown;
use super::prices::age;
use super::resolve::Resolution;
use super::shown::Shown;
use super::totals;
use super::{CostFigures, CostLineFigures, Figure, FryFigures, PackFigures, StaleFigures};
use crate::batch::Unsizable;
use crate::cost::Charge;
use crate::exact::{Exact, apportion};
use crate::model::{LineRef, Purchase};

/// What a batch costs, in figures that add up.
///
/// # Errors
/// [`Unsizable`] where it costs more than can be shown.
pub(super) fn costs(
    resolution: &Resolution<'_>,
    shown: &Shown<'_>,
    formula: &[PartShown],
) -> Result<CostFigures, Unsizable> {
    let cost = resolution.payable()?;
    let amounts: Vec<Exact> = cost.lines.iter().map(|line| line.amount.clone()).collect();
    let total = shown.to_minor(&cost.total);
    let minor = apportion(total, &amounts);
    let shares = if cost.total.is_zero() { vec![0; amounts.len()] } else { apportion(100, &amounts) };
    let lines = cost.lines.iter().enumerate().map(|(index, line)| {
        let (id, name, amount) = charged(resolution, shown, formula, line.charge);
        CostLineFigures {
            id,
            name,
            of: apart(formula, cost.lines.iter().map(|line| line.charge), line.charge),
            amount,
            cost: shown.minor(minor[index]),
            share: shown.percent_shown(Exact::from(shares[index])).figure,
            bar: totals::bar(&line.amount, Some(&cost.total)),
            offer: line.purchase.is_offer(),
            free: line.purchase.price.is_zero(),
        }
    });
    let packs = cost.packs.iter().map(|pack| PackFigures {
        name: resolution.item(&pack.item).map_or_else(|| pack.item.clone(), |item| item.name.clone()),
        packs: shown.packs(&pack.count, &pack.purchase),
        cost: shown.minor(shown.to_minor(&pack.amount)),
        left: pack.left.is_positive().then(|| match &pack.left_pieces {
            Some(pieces) => shown.whole(pieces),
            None => shown.weight(&pack.left).figure,
        }),
        more: pack.more.is_positive().then(|| shown.whole(&pack.more)),
        free: pack.purchase.price.is_zero(),
    });
    let basket = shown.to_minor(&cost.basket);
    Ok(CostFigures {
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
        total: shown.sum(cost, total),
        each: cost.each.as_ref().map(|(low, high)| shown.money_range(low, high)),
        basket: shown.sum(cost, basket),
        packs: packs.collect(),
        stale: stale(resolution, shown),
        left: shown.sum(cost, basket - total),
        more: cost.more.as_ref().filter(|more| more.is_positive()).map(|more| shown.whole(more)),
        energy: totals::energy(resolution, shown, total),
        with_energy: cost.with_energy.as_ref().map(|full| shown.money(full)),
        with_energy_each: totals::each(resolution, shown, cost.with_energy.as_ref()),
        compare: totals::compare(resolution, shown),
        bars: totals::bars(cost),
    })
}

/// Prices older than the channel's limit, by their share of the total.
fn stale(resolution: &Resolution<'_>, shown: &Shown<'_>) -> Vec<StaleFigures> {
    let cost = resolution.cost();
    let (Some(limit), Some(day)) = (resolution.inputs.channel.stale_after, resolution.day) else { return Vec::new() };
    let mut found: Vec<(&Purchase, Exact)> = Vec::new();
    for line in cost.lines.iter().filter(|line| age(line.purchase.date, day) > limit) {
        match found.iter_mut().find(|(purchase, _)| purchase.item == line.purchase.item) {
            Some((_, sum)) => *sum += &line.amount,
            None => found.push((&line.purchase, line.amount.clone())),
        }
    }
    found.sort_by(|a, b| b.1.cmp(&a.1).then(a.0.item.cmp(&b.0.item)));
    let figures = found.into_iter().map(|(purchase, amount)| {
        let share = amount.over(&cost.total).unwrap_or_else(Exact::zero);
        StaleFigures {
            item: purchase.item.clone(),
            name: resolution.item(&purchase.item).map_or_else(|| purchase.item.clone(), |item| item.name.clone()),
            age: shown.days(age(purchase.date, day)),
            share: shown.percent_shown((&share * Exact::from(100)).round()).figure,
            weight: (share * Exact::from(1000)).round().to_i64().and_then(|w| u16::try_from(w).ok()).unwrap_or(0),
        }
    });
    figures.collect()
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

/// What tells a charge from others of the same name: the title of its part where one of them is in another, its remark
/// where one is in the same.
fn apart(formula: &[PartShown], charges: impl Iterator<Item = Charge> + Clone, charge: Charge) -> Option<String> {
    let Charge::Line(at) = charge else { return None };
    let part = |at: LineRef| &formula[at.part].figures;
    let line = |at: LineRef| &part(at).lines[at.line];
    let alike = |same_part: bool| {
        charges.clone().any(|other| match other {
            Charge::Line(other) => {
                other != at && line(other).name == line(at).name && (other.part == at.part) == same_part
            }
            Charge::Oil => false,
        })
    };
    let title = part(at).title.as_ref().filter(|_| alike(false));
    let note = line(at).note.as_ref().filter(|_| alike(true));
    let told: Vec<&str> = title.into_iter().chain(note).map(String::as_str).collect();
    (!told.is_empty()).then(|| told.join(", "))
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
