//! What is right to say of money and of the frying oil. Must not know how anything is said.

use super::super::costs::charge_id;
use super::super::resolve::Resolution;
use super::super::shown::Shown;
use super::super::totals::each_exact;
use super::{Fact, Kind, Topic, Value};
use crate::cost::Charge;
use crate::exact::{Dimension, Exact, Quantity, Range, Unit, apportion};
use crate::measure::poured;
use crate::model::Pan;

/// The total, the piece, each line and the basket.
pub(super) fn costs(resolution: &Resolution<'_>, shown: &Shown<'_>) -> Vec<Fact> {
    let cost = resolution.cost();
    let mut facts = Vec::new();
    if cost.lines.is_empty() {
        return facts;
    }
    let places = shown.minor_places();
    let money = |minor: i64| {
        let value = Exact::from(minor) / Exact::power_of_ten(places);
        Value::range(value.clone(), value, shown.minor(minor))
    };
    let mut fact = |about: String, topic, value, thing| {
        let values = vec![value];
        facts.push(Fact { about, kind: Kind::Money, topic, values, thing, steps: Vec::new(), around: None });
    };
    let total = shown.to_minor(&cost.total);
    fact("cost.total".into(), Topic::CostTotal, money(total), None);
    if let Some((low, high)) = &cost.each {
        let value = Value::range(low.round_places(places), high.round_places(places), shown.money_range(low, high));
        fact("cost.each".into(), Topic::CostEach, value, None);
    }
    if let Some(full) = &cost.with_energy {
        fact("cost.total".into(), Topic::PoweredTotal, money(shown.to_minor(full)), None);
    }
    if let Some((low, high)) = each_exact(resolution, cost.with_energy.as_ref()) {
        let value = Value::range(low.round_places(places), high.round_places(places), shown.money_range(&low, &high));
        fact("cost.each".into(), Topic::PoweredEach, value, None);
    }
    let basket = shown.to_minor(&cost.basket);
    fact("cost.basket".into(), Topic::Basket, money(basket), None);
    fact("cost.basket".into(), Topic::Unused, money(basket - total), None);
    let amounts: Vec<Exact> = cost.lines.iter().map(|line| line.amount.clone()).collect();
    let lines = resolution.batch.lines().count();
    for (line, minor) in cost.lines.iter().zip(apportion(total, &amounts)) {
        let thing = match line.charge {
            Charge::Line(at) => resolution.batch.lines().position(|line| line.at == at),
            Charge::Oil => Some(lines),
        };
        fact(format!("cost.{}", charge_id(resolution, line.charge)), Topic::CostLine, money(minor), thing);
    }
    facts
}

/// The oil as its filling and as what is used up, its depth, how often it serves, and the pan.
pub(super) fn frying(resolution: &Resolution<'_>, shown: &Shown<'_>) -> Vec<Fact> {
    let (Some(frying), Some(written)) = (&resolution.fry, &resolution.inputs.recipe.fry) else { return Vec::new() };
    let oil = Some(resolution.batch.lines().count());
    let mut facts = Vec::new();
    let mut fact = |about: &str, kind, topic, values, thing| {
        let about = about.to_owned();
        facts.push(Fact { about, kind, topic, values, thing, steps: Vec::new(), around: None });
    };
    let weights = [&frying.fill, &frying.used, &frying.taken_up].map(|grams| Value::one(shown.weight(grams)));
    fact("fry.oil", Kind::Weight, Topic::Oil, weights.into(), oil);
    let density = frying.fill.over(&frying.fill_volume);
    let volumes = [&frying.fill, &frying.used, &frying.taken_up].into_iter().filter_map(|grams| {
        let millilitres = poured(&grams.over(density.as_ref()?)?);
        Some(Value::range(millilitres.clone(), millilitres.clone(), shown.volume(&millilitres)))
    });
    fact("fry.oil", Kind::Volume, Topic::Oil, volumes.collect(), oil);
    let share = shown.percent(&(&written.takes_up * Exact::from(100)));
    fact("fry.oil", Kind::Percent, Topic::Oil, vec![Value::one(share)], oil);
    let uses = Value::range(written.uses.clone(), written.uses.clone(), shown.whole(&written.uses));
    fact("fry.oil", Kind::Count, Topic::OilUses, vec![uses], oil);
    let length = |millimetres: &Exact| {
        let unit = Some(Unit::Centimetre);
        let end = Quantity { dimension: Dimension::Length, value: millimetres.clone(), unit };
        let figure = shown.measure(&Range { low: end.clone(), high: end }, |_| None);
        Value::range(millimetres.clone(), millimetres.clone(), figure)
    };
    fact("fry.oil", Kind::Length, Topic::Depth, vec![length(&written.depth)], oil);
    let sizes = match &written.pan {
        Pan::Round(across) => vec![length(across)],
        Pan::Rect(width, long) => vec![length(width), length(long)],
    };
    fact("fry.pan", Kind::Length, Topic::Pan, sizes, None);
    facts
}
