//! Figures of the totals beside what the batch used: with energy, and as much of it shop-bought.
//! Must not know single lines or outputs.

use super::resolve::Resolution;
use super::shown::Shown;
use super::{CompareFigures, EnergyFigures, Figure, TotalBars};
use crate::cost::Cost;
use crate::exact::Exact;
use crate::model::Portion;

/// A length in thousandths of the whole; nothing where there is none.
pub(super) fn bar(amount: &Exact, whole: Option<&Exact>) -> u16 {
    let share = whole.and_then(|whole| (amount * Exact::from(1000)).over(whole));
    share.and_then(|share| share.round().to_i64()).and_then(|share| u16::try_from(share).ok()).unwrap_or(0)
}

pub(super) fn bars(cost: &Cost) -> TotalBars {
    let (with_energy, same) = (cost.with_energy.as_ref(), cost.comparison.as_ref().map(|compare| &compare.amount));
    let longest = [Some(&cost.total), with_energy, Some(&cost.basket), same].into_iter().flatten().max();
    let of = |amount: Option<&Exact>| amount.map_or(0, |amount| bar(amount, longest));
    TotalBars {
        used: of(Some(&cost.total)),
        with_energy: of(with_energy),
        basket: of(Some(&cost.basket)),
        compare: of(same),
    }
}

/// The energy; `total` is what the batch used as it is shown, in minor units.
pub(super) fn energy(resolution: &Resolution<'_>, shown: &Shown<'_>, total: i64) -> Option<EnergyFigures> {
    let energy = resolution.cost().energy.as_ref()?;
    let tariff = resolution.inputs.channel.tariff.as_ref();
    // The rest of the shown whole, so that what is shown adds up.
    let cost = resolution.cost().with_energy.as_ref().map(|full| shown.minor(shown.to_minor(full) - total));
    Some(EnergyFigures {
        kwh: shown.kilowatt_hours(&energy.kwh),
        tariff: tariff.map(|price| shown.tariff(price)),
        cost,
    })
}

/// What one piece has of an amount, at the upper and the lower count.
pub(super) fn each(resolution: &Resolution<'_>, shown: &Shown<'_>, amount: Option<&Exact>) -> Option<Figure> {
    let (low, high) = each_exact(resolution, amount)?;
    Some(shown.money_range(&low, &high))
}

/// The same, exact.
pub(super) fn each_exact(resolution: &Resolution<'_>, amount: Option<&Exact>) -> Option<(Exact, Exact)> {
    let (amount, (low, high)) = (amount?, resolution.batch.pieces?);
    let over = |count: u32| amount.over(&Exact::from(i64::from(count)));
    Some((over(high)?, over(low)?))
}

pub(super) fn compare(resolution: &Resolution<'_>, shown: &Shown<'_>) -> Option<CompareFigures> {
    let (recipe, cost) = (resolution.inputs.recipe, resolution.cost());
    let (compare, comparison) = (recipe.compare.as_ref()?, cost.comparison.as_ref()?);
    let size = match &compare.size {
        Portion::Weight(grams) => shown.weight(grams).figure,
        Portion::Pieces(count) => {
            let name = resolution.piece(count);
            let count = shown.whole(count);
            name.map_or_else(|| count.clone(), |name| shown.with_word(&count, &name))
        }
    };
    let each = match &compare.size {
        // A shop's piece has one price, however many the batch makes.
        Portion::Pieces(count) => compare.price.over(count).map(|price| shown.money(&price)),
        Portion::Weight(_) => each(resolution, shown, Some(&comparison.amount)),
    };
    let gap = shown.to_minor(&comparison.amount) - shown.to_minor(cost.full());
    Some(CompareFigures {
        size,
        price: shown.money(&compare.price),
        bought: shown.date(compare.bought),
        same: shown.money(&comparison.amount),
        each,
        gap: (gap != 0 && cost.is_complete()).then(|| shown.minor(gap.abs())),
        cheaper: gap > 0,
    })
}
