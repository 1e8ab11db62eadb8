//! Warnings about prices: those too old, where they weigh most, those known by offers alone that are left out, and none
//! for energy.
//! Must not know how a recipe is costed.

use crate::diag::{Diagnostic, Findings};
use crate::model::{Content, Offers, Purchase};
use crate::sheet::{Resolved, StaleFigures};
use std::collections::BTreeMap;

/// A price is older than the channel's limit.
const STALE_PRICE: &str = "stale-price";
/// An item has only prices on offer, which the channel leaves out.
const ONLY_OFFERS: &str = "only-offers";

/// A recipe states its energy and the channel no tariff.
const NO_TARIFF: &str = "no-tariff";

/// From this share of a recipe's total on, in thousandths, an old price is told by itself.
const MATTERS: u16 = 50;

/// What deserves a look in the prices that the recipes as written stand on.
pub fn price_worries(content: &Content, sheets: &[Resolved]) -> Findings {
    let mut findings = Findings::new();
    let mut worst: BTreeMap<&str, (&StaleFigures, &str)> = BTreeMap::new();
    for resolved in sheets {
        for price in &resolved.sheet.cost.stale {
            let entry = worst.entry(&price.item).or_insert((price, &resolved.sheet.recipe));
            if price.weight > entry.0.weight {
                *entry = (price, &resolved.sheet.recipe);
            }
        }
    }
    let (heavy, light): (Vec<_>, Vec<_>) = worst.into_iter().partition(|(_, (price, _))| price.weight >= MATTERS);
    let holding = |item: &str| content.prices.latest(item, content.prices.last_day()?);
    for (item, (price, recipe)) in heavy {
        let Some(purchase) = holding(item) else { continue };
        let (age, share) = (price.age.text(), price.share.text());
        let message = format!("the price of `{item}` is {age} old and makes up {share} of what `{recipe}` comes to");
        let hint = format!("look it up: `tallyspoon prices add {item} \"{}\" PRICE`", purchase.pack_text);
        findings.push(Diagnostic::warning(STALE_PRICE, purchase.span, message).hint(hint));
    }
    if let Some((purchase, limit)) = light.first().and_then(|(item, _)| holding(item)).zip(content.channel.stale_after)
    {
        let message = match light.len() {
            1 => {
                format!("the price of `{}` is over {limit} days old, and makes up little of any recipe", purchase.item)
            }
            count => format!("{count} prices are over {limit} days old, each making up little of any recipe"),
        };
        findings.push(Diagnostic::warning(STALE_PRICE, purchase.span, message).hint("`tallyspoon prices` marks them"));
    }
    let asked = content.recipes.iter().filter_map(|recipe| recipe.energy.first());
    for appliance in asked.filter(|_| content.channel.tariff.is_none()) {
        let message = "the energy has no price, so no total counts it";
        let hint = "add the price of a kilowatt-hour to `channel.toml`, such as `tariff = \"0.32\"`";
        findings.push(Diagnostic::warning(NO_TARIFF, appliance.span, message).hint(hint));
    }
    for purchase in left_out(content) {
        let message = format!("`{}` has only prices on offer, and the channel leaves offers out", purchase.item);
        let hint = "add what it costs when it is not on offer; until then it counts as missing";
        findings.push(Diagnostic::warning(ONLY_OFFERS, purchase.span, message).hint(hint));
    }
    findings
}

/// The latest purchase of each item that was never bought but on offer, where offers are left out.
fn left_out(content: &Content) -> impl Iterator<Item = &Purchase> {
    let asked = content.channel.offers == Offers::LeaveOut;
    let lists = content.prices.by_item.values().filter(move |list| asked && list.iter().all(Purchase::is_offer));
    lists.filter_map(|list| list.last())
}
