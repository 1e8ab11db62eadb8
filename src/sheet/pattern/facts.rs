//! Facts of the pattern that no yield changes: items with their prices, the frying oil, energy, allergens and cautions.
//! Must not know lines.

use super::Cut;
use crate::exact::Exact;
use crate::locale::Key;
use crate::measure::eaten_of_pack;
use crate::model::{Hazard, Pack, Role};
use crate::sheet::cautions::{self, ACID};
use crate::sheet::resolve::Resolution;
use crate::sheet::shown::Shown;
use serde_json::{Map, Value, json};

/// Every item of any variant, by key.
pub(super) fn items(cuts: &[Cut<'_>], shown: &Shown<'_>) -> Value {
    let mut all = Map::new();
    for resolution in cuts.iter().map(|cut| &cut.one) {
        for item in resolution.items() {
            // Of the book and not of the cost, which has no line for what this variant takes to taste.
            let purchase = resolution.day.and_then(|day| resolution.inputs.book.latest(&item.key, day));
            let price = purchase.and_then(|purchase| {
                let eaten = eaten_of_pack(item, &purchase.pack)?;
                Some(json!({
                    "price": purchase.price.ratio_text(),
                    "eaten": eaten.ratio_text(),
                    "pieces": match &purchase.pack {
                        Pack::Count(pieces) => Some(pieces.ratio_text()),
                        Pack::Weight(_) | Pack::Volume(_) => None,
                    },
                    "packs": shown.packs_of(purchase),
                    "offer": purchase.is_offer(),
                }))
            });
            all.insert(
                item.key.clone(),
                json!({
                    "name": item.name,
                    "flour": item.role == Role::Flour,
                    "water": if item.key == "water" { Some("all".to_owned()) } else { item.water.as_ref().map(Exact::ratio_text) },
                    "acid": item.hazards.contains(&Hazard::Acid),
                    "density": item.density.as_ref().map(Exact::ratio_text),
                    "each": item.each.as_ref().map(Exact::ratio_text),
                    "price": price,
                }),
            );
        }
    }
    Value::Object(all)
}

/// What fries it; the fill of the pan stays, what is taken up follows the yield.
pub(super) fn fry(cut: &Cut<'_>, shown: &Shown<'_>) -> Option<Value> {
    let frying = cut.one.fry.as_ref()?;
    let written = cut.one.inputs.recipe.fry.as_ref()?;
    let figures = crate::sheet::costs::fry(&cut.one, shown)?;
    Some(json!({
        "item": written.oil,
        "name": figures.oil,
        "fill": frying.fill.ratio_text(),
        "takesUp": written.takes_up.ratio_text(),
        "uses": written.uses.ratio_text(),
    }))
}

/// What the heat of the written batch takes, and what a kilowatt-hour costs.
pub(super) fn energy(cut: &Cut<'_>) -> Option<Value> {
    let energy = cut.one.cost().energy.as_ref()?;
    let one = energy.kwh.over(&energy.loads)?;
    let tariff = cut.one.inputs.channel.tariff.as_ref();
    Some(json!({ "kwh": one.ratio_text(), "tariff": tariff.map(Exact::ratio_text) }))
}

/// Allergens, diets and cautions of a variant, in words. A caution that depends on the yield says by what.
pub(super) fn safety(resolution: &Resolution<'_>, shown: &Shown<'_>) -> Value {
    let (locale, region) = (shown.locale, resolution.inputs.channel.region.id());
    let names = crate::sheet::resolve::allergens(resolution);
    let names: Vec<&str> = names.iter().filter_map(|allergen| locale.allergen(allergen.id(), region)).collect();
    let unknown: Vec<&str> =
        resolution.items().iter().filter(|i| i.allergens.is_none()).map(|i| i.name.as_str()).collect();
    let diet: Vec<&str> =
        crate::sheet::resolve::diet(resolution).iter().filter_map(|claim| locale.diet(claim.id())).collect();
    let listed = |key: Key, names: &[&str]| locale.fill(key, &[("names", &locale.list(names))]);
    let contains = match (names.is_empty(), unknown.is_empty()) {
        (false, _) => Some(listed(Key::Contains, &names)),
        (true, true) => Some(locale.text(Key::ContainsNone).to_owned()),
        (true, false) => None,
    };
    json!({
        "contains": contains,
        "unknown": (!unknown.is_empty()).then(|| listed(Key::ContainsUnknown, &unknown)),
        "diet": (!diet.is_empty()).then(|| locale.list(&diet)),
        "cautions": cautions::possible(resolution, shown).into_iter().map(|caution| json!({
            "id": caution.id, "title": caution.title, "text": caution.text, "byAcid": caution.id == ACID,
        })).collect::<Vec<_>>(),
    })
}
