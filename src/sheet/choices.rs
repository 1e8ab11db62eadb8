//! Figures of a choice: variants, yields or places side by side, what a dearer item would do to each, and when the batch
//! pays off against the shop's own. Must not know outputs.

use super::resolve::{Inputs, Refusal, Request, Resolution, find_variant, settle};
use super::shown::Shown;
use super::totals::each_exact;
use super::{Figure, formula};
use crate::cost::{break_even, price_to_match};
use crate::exact::Exact;
use crate::model::{PriceBook, Purchase, Recipe};
use std::collections::BTreeMap;

/// What stands side by side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Axis {
    /// The request alone.
    None,
    /// The recipe as written and each of its variants.
    Variant,
    /// The yields of the ratio table.
    Yield,
    /// The prices that hold, and each place's own where it has them.
    Place,
}

/// One of what stands side by side.
#[derive(Clone, Debug)]
pub struct Choice {
    /// Its name: a variant's title, a yield, a place; empty for the request alone.
    pub name: String,
    /// At a place: how many of the lines it sells, and of how many.
    pub sold: Option<(Figure, Figure)>,
    /// How many pieces it makes.
    pub pieces: Option<Figure>,
    /// Whether every line has a price.
    pub complete: bool,
    /// What the batch used.
    pub total: Figure,
    /// One piece of it.
    pub each: Option<Figure>,
    /// With the energy.
    pub with_energy: Option<Figure>,
    /// At the till.
    pub basket: Figure,
    /// How far its total is from the first one's, with its sign; `None` for the first, and while a price is missing.
    pub gap: Option<Figure>,
    /// Against the shop-bought one.
    pub break_even: Option<BreakEven>,
}

/// When the batch pays off against the shop-bought one.
#[derive(Clone, Debug)]
pub struct BreakEven {
    /// How many batches from whole packs cost no more than as much ready-made; `None` if more than are worth counting,
    /// or never.
    pub batches: Option<Figure>,
    /// The price of the ready-made pack at which both cost the same.
    pub price: Figure,
    /// Whether a batch, with energy where that is known, costs less than as much ready-made.
    pub cheaper: bool,
}

/// What 10 % on an item's price does.
#[derive(Clone, Debug)]
pub struct Sway {
    /// The item's name.
    pub name: String,
    /// What it adds to the total of each choice; `None` where that has none of it.
    pub adds: Vec<Option<Figure>>,
    /// What it adds to one piece of the first choice.
    pub each: Option<Figure>,
}

/// Choices side by side.
#[derive(Clone, Debug)]
pub struct Choices {
    /// How much dearer an item is reckoned for the sways: "+10 %".
    pub step: Figure,
    /// The first is what the others are measured by.
    pub list: Vec<Choice>,
    /// Items, the one that moves the first total most first.
    pub sways: Vec<Sway>,
}

/// How much dearer an item is reckoned: a tenth.
const STEP: (i64, i64) = (1, 10);

/// Resolves a request along an axis.
///
/// At a place, an item that it sells has its latest price there; what it does not sell has the price that holds.
///
/// # Errors
/// [`Refusal`] where the sources or the request can't give one.
pub fn choices(inputs: Inputs<'_>, request: &Request, axis: Axis) -> Result<Choices, Refusal> {
    let (written, factor, day) = settle(inputs, request)?;
    let variant = request.variant.as_deref().map(|id| find_variant(inputs.recipe, id)).transpose()?;
    let shown = Shown::new(inputs.locale, inputs.channel);
    let books: Vec<(String, PriceBook)> = match (axis, day) {
        (Axis::Place, Some(day)) => places(inputs.book, inputs.recipe, variant, day),
        (Axis::None | Axis::Variant | Axis::Yield, _) | (Axis::Place, None) => Vec::new(),
    };
    let own = Resolution::new(inputs, &written, variant, day, &factor)?;
    let mut all: Vec<(String, Resolution<'_>)> = Vec::new();
    match axis {
        Axis::None => all.push((String::new(), own)),
        Axis::Variant => {
            all.push((inputs.recipe.title.value.clone(), own.with_variant(None)?));
            for variant in &inputs.recipe.variants {
                all.push((variant.title.clone(), own.with_variant(Some(variant))?));
            }
        }
        Axis::Yield => {
            let factors = super::ladder::factors(&own);
            // What was asked for stands first.
            for factor in [&own.batch.factor].into_iter().chain(factors.iter().filter(|f| **f != own.batch.factor)) {
                // A yield that the formula can't be had at is no choice.
                let Ok(there) = own.at_factor(factor) else { continue };
                all.push((yield_name(&there, &shown), there));
            }
        }
        Axis::Place => {
            all.push((String::new(), own));
            for (place, book) in &books {
                let inputs = Inputs { book, ..inputs };
                all.push((place.clone(), Resolution::new(inputs, &written, variant, day, &factor)?));
            }
        }
    }
    for (_, there) in &all {
        there.payable()?;
    }
    Ok(side_by_side(&all, &shown, axis))
}

fn side_by_side(all: &[(String, Resolution<'_>)], shown: &Shown<'_>, axis: Axis) -> Choices {
    let first = all.first().map(|(_, resolution)| resolution.cost());
    let list = all.iter().enumerate().map(|(index, (name, there))| {
        let cost = there.cost();
        let whole = cost.is_complete() && first.is_some_and(|first| first.is_complete());
        let gap = first.filter(|_| index > 0 && whole).map(|first| shown.money_change(&(&cost.total - &first.total)));
        let at_place =
            cost.lines.iter().filter(|line| line.purchase.place.to_lowercase() == name.to_lowercase()).count();
        let sold = (axis == Axis::Place && index > 0).then(|| {
            let count = |count: usize| shown.whole(&Exact::from(i64::try_from(count).unwrap_or(i64::MAX)));
            (count(at_place), count(cost.lines.len() + cost.missing.len()))
        });
        Choice {
            name: name.clone(),
            sold,
            pieces: formula::yields(there, shown, &formula::formula(there, shown)).pieces,
            complete: cost.is_complete(),
            total: shown.sum(cost, shown.to_minor(&cost.total)),
            each: cost.each.as_ref().map(|(low, high)| shown.money_range(low, high)),
            with_energy: cost.with_energy.as_ref().map(|full| shown.money(full)),
            basket: shown.sum(cost, shown.to_minor(&cost.basket)),
            gap,
            break_even: break_even_of(there, shown),
        }
    });
    let step = shown.change(&(Exact::ratio(STEP.0, STEP.1) * Exact::from(100)));
    Choices { step, list: list.collect(), sways: sways(all, shown) }
}

fn break_even_of(there: &Resolution<'_>, shown: &Shown<'_>) -> Option<BreakEven> {
    let (recipe, cost) = (there.inputs.recipe, there.cost());
    let comparison = cost.comparison.as_ref().filter(|_| cost.is_complete())?;
    Some(BreakEven {
        batches: break_even(cost, recipe).map(|count| shown.whole(&count)),
        price: shown.money(&price_to_match(cost, comparison)?),
        cheaper: *cost.full() < comparison.amount,
    })
}

/// What a tenth more on each item does to every choice.
fn sways(all: &[(String, Resolution<'_>)], shown: &Shown<'_>) -> Vec<Sway> {
    let tenth = Exact::ratio(STEP.0, STEP.1);
    let rises: Vec<BTreeMap<&str, Exact>> = all
        .iter()
        .map(|(_, there)| {
            let mut sums: BTreeMap<&str, Exact> = BTreeMap::new();
            for line in there.cost().lines.iter().filter(|line| line.amount.is_positive()) {
                *sums.entry(&line.purchase.item).or_insert_with(Exact::zero) += &(&line.amount * &tenth);
            }
            sums
        })
        .collect();
    let mut items: Vec<&str> = rises.iter().flat_map(|sums| sums.keys().copied()).collect();
    items.sort();
    items.dedup();
    // By what they do to the first; items that only others have come by what they do there.
    let weight =
        |item: &str| rises.iter().map(|sums| sums.get(item).cloned().unwrap_or_else(Exact::zero)).collect::<Vec<_>>();
    items.sort_by_key(|item| std::cmp::Reverse(weight(item)));
    let name = |item: &str| {
        all.first().and_then(|(_, there)| there.item(item)).map_or(item, |item| item.name.as_str()).to_owned()
    };
    let pieces = all.first().and_then(|(_, there)| each_exact(there, Some(&Exact::one())));
    let figures = items.into_iter().map(|item| Sway {
        name: name(item),
        adds: rises.iter().map(|sums| sums.get(item).map(|rise| shown.money_fine(rise))).collect(),
        each: rises
            .first()
            .and_then(|sums| sums.get(item))
            .zip(pieces.as_ref())
            // The upper count, as everything is reckoned by it.
            .map(|(rise, (share, _))| shown.money_fine(&(rise * share))),
    });
    figures.collect()
}

fn yield_name(there: &Resolution<'_>, shown: &Shown<'_>) -> String {
    let basis = there.batch.parts[there.batch.main].basis.as_ref();
    let figure = shown.weight(basis.unwrap_or(&there.batch.total)).figure;
    figure.text().to_owned()
}

/// Each place that sells any of the recipe's items, by name, with the book as it is for who buys there what it has.
fn places(
    book: &PriceBook,
    recipe: &Recipe,
    variant: Option<&crate::model::Variant>,
    day: jiff::civil::Date,
) -> Vec<(String, PriceBook)> {
    let swapped = variant.into_iter().flat_map(|variant| variant.swap.iter().map(|(_, item)| item.as_str()));
    let lines = recipe.line_refs().filter_map(|at| match &recipe.line(at).subject {
        crate::model::Subject::Item(item) => Some(item.as_str()),
        crate::model::Subject::Part(_) => None,
    });
    let oil = recipe.fry.as_ref().map(|fry| fry.oil.as_str());
    let mut names: BTreeMap<String, String> = BTreeMap::new();
    for item in lines.chain(swapped).chain(oil) {
        for purchase in book.back_from(item, day).filter(|purchase| !purchase.place.is_empty()) {
            names.entry(purchase.place.to_lowercase()).or_insert_with(|| purchase.place.clone());
        }
    }
    let only = |place: &str| {
        let mut there = book.clone();
        for list in there.by_item.values_mut() {
            let at_place = |purchase: &Purchase| {
                let counts = book.offers == crate::model::Offers::Count || !purchase.is_offer();
                purchase.place.to_lowercase() == place && purchase.date <= day && counts
            };
            if list.iter().any(at_place) {
                list.retain(at_place);
            }
        }
        there
    };
    names.into_iter().map(|(folded, name)| (name, only(&folded))).collect()
}
