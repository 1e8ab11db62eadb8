//! The `figures/1` document: exact values as decimal strings, and the sheet's shown texts.

use super::costs::charge_id;
use super::formula::piece_weights;
use super::resolve::Resolution;
use super::steps::{step_lines, step_measures};
use super::totals::each_exact;
use super::{Figure, Phrase, Sheet, StepFigures};
use crate::batch::BatchLine;
use crate::cost::{Charge, CostLine, Frying};
use crate::exact::{Dimension, Exact, Range};
use crate::measure::eaten_of_pack;
use crate::model::Step;
use serde_json::{Value, json};

fn decimal(value: &Exact) -> Value {
    Value::String(value.decimal())
}

fn optional(value: Option<&Exact>) -> Value {
    value.map_or(Value::Null, decimal)
}

fn texts(phrases: &[Phrase]) -> String {
    let paragraphs: Vec<String> = phrases.iter().map(Phrase::text).collect();
    paragraphs.join("\n\n")
}

/// The document of a resolved sheet.
pub(super) fn document(resolution: &Resolution<'_>, sheet: &Sheet) -> Value {
    let batch = &resolution.batch;
    let hydration = &batch.hydration;
    json!({
        "schema": "figures/1",
        "recipe": sheet.recipe,
        "title": sheet.title,
        "variant": sheet.variant.as_ref().map(|variant| &variant.id),
        "on": resolution.day.map(|day| day.to_string()),
        "yield": yields(resolution, sheet),
        "parts": parts(resolution, sheet),
        "lines": lines(resolution, sheet),
        "overall": overall(resolution, sheet),
        "hydration": { "nominal": optional(hydration.nominal.as_ref()), "effective": optional(hydration.effective.as_ref()),
            "nominal_shown": sheet.hydration.nominal.as_ref().map(|figure| figure.text()),
            "effective_shown": sheet.hydration.effective.as_ref().map(|figure| figure.text()),
        },
        "cost": cost(resolution, sheet),
        "fry": fry(resolution, sheet),
        "allergens": {
            "contains": sheet.allergens.iter().map(|allergen| allergen.id()).collect::<Vec<_>>(),
            "unknown": sheet.allergens_unknown,
        },
        "diet": sheet.diet.iter().map(|claim| claim.id()).collect::<Vec<_>>(),
        "cautions": sheet.cautions.iter().map(|c| json!({
            "id": c.id, "title": c.title, "text": c.text, "general": c.general,
        })).collect::<Vec<_>>(),
        "steps": resolution.inputs.recipe.method.steps.iter().zip(&sheet.steps)
            .map(|(step, figures)| step_value(resolution, step, figures)).collect::<Vec<_>>(),
        "variants": sheet.variants.iter().map(|variant| json!({
            "id": variant.id, "title": variant.title, "total_shown": variant.total.text(),
            "each_shown": variant.each.as_ref().map(|figure| figure.text()), "complete": variant.complete,
            "changes": variant.changes.iter().map(|change| json!({
                "id": change.line, "name": change.to.name, "shown": change.to.amount.text(),
                "percent_shown": change.to.percent.as_ref().map(|figure| figure.text()),
                "was_name": change.from.name, "was_shown": change.from.amount.text(),
                "was_percent_shown": change.from.percent.as_ref().map(|figure| figure.text()),
            })).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
        "ladder": sheet.ladder.iter().map(|rung| json!({
            "basis_shown": rung.basis.as_ref().map(|figure| figure.text()),
            "pieces_shown": rung.pieces.as_ref().map(|figure| figure.text()),
            "amounts": rung.amounts.iter().flatten().map(|figure| figure.text()).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
    })
}

fn yields(resolution: &Resolution<'_>, sheet: &Sheet) -> Value {
    let batch = &resolution.batch;
    let each = piece_weights(resolution);
    json!({
        "low": batch.pieces.map(|(low, _)| low),
        "high": batch.pieces.map(|(_, high)| high),
        "piece": sheet.yields.piece_one,
        "pieces_shown": sheet.yields.pieces.as_ref().map(|figure| figure.text()),
        "basis_g": optional(batch.parts[batch.main].basis.as_ref()),
        "basis_shown": sheet.yields.basis.as_ref().map(|figure| figure.text()),
        "total_g": decimal(&batch.total),
        "total_shown": sheet.yields.total.text(),
        "finished_g": decimal(&batch.finished),
        "finished_shown": sheet.yields.finished.as_ref().map(|figure| figure.text()),
        "each_low_g": each.as_ref().map(|(low, _)| low.decimal()),
        "each_high_g": each.as_ref().map(|(_, high)| high.decimal()),
        "each_shown": sheet.yields.each.as_ref().map(|figure| figure.text()),
        "factor": decimal(&batch.factor),
    })
}

fn parts(resolution: &Resolution<'_>, sheet: &Sheet) -> Value {
    let parts = resolution.batch.parts.iter().zip(&sheet.parts).map(|(part, figures)| {
        let percent = part.basis.as_ref().and_then(|basis| (&part.total * Exact::from(100)).over(basis));
        json!({
            "id": figures.id,
            "title": figures.title.as_ref().filter(|_| sheet.parts.len() > 1 || figures.id != "main"),
            "basis_g": optional(part.basis.as_ref()),
            "basis_shown": figures.basis.as_ref().map(|figure| figure.text()),
            "total_g": decimal(&part.total),
            "total_percent": optional(percent.as_ref()),
            "total_shown": figures.total.text(),
            "total_percent_shown": figures.total_percent.as_ref().map(|figure| figure.text()),
        })
    });
    Value::Array(parts.collect())
}

fn lines(resolution: &Resolution<'_>, sheet: &Sheet) -> Value {
    let shown = sheet.parts.iter().flat_map(|part| &part.lines);
    let lines = resolution.batch.lines().zip(shown).map(|(line, figures)| {
        json!({
            "id": figures.id,
            "item": line_item(resolution, line),
            "takes": line.takes.map(|part| &resolution.inputs.recipe.parts[part].id),
            "name": figures.name,
            "note": figures.note,
            "percent": optional(line.percent.as_ref()),
            "percent_shown": figures.percent.as_ref().map(|figure| figure.text()),
            "grams": optional(line.grams.as_ref()),
            "shown": figures.amount.text(),
            "weight_shown": figures.weight.as_ref().map(|figure| figure.text()),
            "household": figures.household.as_ref().map(|figure| figure.text()),
        })
    });
    Value::Array(lines.collect())
}

/// The item of a line; for a line that takes a part, the part's id.
fn line_item(resolution: &Resolution<'_>, line: &BatchLine) -> String {
    match (&line.item, line.takes) {
        (Some(item), _) => item.clone(),
        (None, Some(part)) => resolution.inputs.recipe.parts[part].id.clone(),
        (None, None) => resolution.inputs.recipe.line(line.at).key.clone(),
    }
}

fn overall(resolution: &Resolution<'_>, sheet: &Sheet) -> Value {
    let overall = &resolution.batch.overall;
    json!({
        "basis_g": optional(overall.basis.as_ref()),
        "total_percent": optional(overall.total_percent.as_ref()),
        "prefermented_percent": optional(overall.prefermented.as_ref()),
        "prefermented_shown": sheet.prefermented.as_ref().map(|figure| figure.text()),
        "lines": overall.lines.iter().zip(&sheet.overall).map(|(line, figures)| json!({
            "item": line.item,
            "grams": decimal(&line.grams),
            "percent": optional(line.percent.as_ref()),
            "shown": figures.amount.text(),
            "percent_shown": figures.percent.as_ref().map(|figure| figure.text()),
        })).collect::<Vec<_>>(),
    })
}

fn cost(resolution: &Resolution<'_>, sheet: &Sheet) -> Value {
    let cost = resolution.cost();
    let figures = &sheet.cost;
    let full_each = each_exact(resolution, cost.with_energy.as_ref());
    // By the contract the total is the sum of what is known, also where that is nothing: people are shown a dash, and a
    // program has `complete`.
    let nought = resolution.inputs.locale.money_minor(0, resolution.inputs.channel.currency);
    let sum = |figure: &Figure| if cost.is_known() { figure.text().to_owned() } else { nought.clone() };
    let unpaid = (!cost.is_known()).then(|| each_exact(resolution, Some(&cost.total))).flatten();
    let each = cost.each.as_ref().or(unpaid.as_ref());
    let each_shown = figures.each.as_ref().map(|figure| figure.text().to_owned());
    json!({
        "currency": resolution.inputs.channel.currency.code(),
        "minor_places": crate::locale::minor_places(resolution.inputs.channel.currency),
        "complete": figures.complete,
        "lines": cost.lines.iter().zip(&figures.lines).map(|(line, shown)| json!({
            "id": shown.id, "amount": decimal(&line.amount), "shown": shown.cost.text(), "share_shown": shown.share.text(),
            "amount_shown": shown.amount.text(), "item": line.purchase.item, "bought": line.purchase.date.to_string(), "offer": shown.offer, "free": shown.free,
            "from": reckoned_from(resolution, line),
        })).collect::<Vec<_>>(),
        "total": decimal(&cost.total),
        "total_shown": sum(&figures.total),
        "each_low": each.map(|(low, _)| low.decimal()),
        "each_high": each.map(|(_, high)| high.decimal()),
        "each_shown": each_shown.or(unpaid.as_ref().map(|_| nought.clone())),
        "basket": decimal(&cost.basket),
        "basket_shown": sum(&figures.basket),
        "packs": cost.packs.iter().zip(&figures.packs).map(|(pack, shown)| json!({
            "item": pack.item, "packs": decimal(&pack.count), "amount": decimal(&pack.amount), "shown": shown.cost.text(),
            "packs_shown": shown.packs.text(), "left_g": decimal(&pack.left),
            "left_shown": shown.left.as_ref().map(|figure| figure.text()), "more_batches": decimal(&pack.more),
        })).collect::<Vec<_>>(),
        "left": decimal(&(&cost.basket - &cost.total)),
        "left_shown": sum(&figures.left),
        "more_batches": optional(cost.more.as_ref()),
        "energy": cost.energy.as_ref().zip(figures.energy.as_ref()).map(|(energy, shown)| json!({
            "kwh": decimal(&energy.kwh), "loads": decimal(&energy.loads), "amount": optional(energy.amount.as_ref()),
            "kwh_shown": shown.kwh.text(), "shown": shown.cost.as_ref().map(|figure| figure.text()),
        })),
        "with_energy": optional(cost.with_energy.as_ref()),
        "with_energy_shown": figures.with_energy.as_ref().map(|figure| figure.text()),
        "with_energy_each_low": full_each.as_ref().map(|(low, _)| low.decimal()),
        "with_energy_each_high": full_each.as_ref().map(|(_, high)| high.decimal()),
        "with_energy_each_shown": figures.with_energy_each.as_ref().map(|figure| figure.text()),
        "compare": cost.comparison.as_ref().zip(figures.compare.as_ref()).map(|(comparison, shown)| json!({
            "packs": decimal(&comparison.packs), "amount": decimal(&comparison.amount), "shown": shown.same.text(),
            "each_shown": shown.each.as_ref().map(|figure| figure.text()),
            "gap_shown": shown.gap.as_ref().map(|figure| figure.text()), "cheaper": shown.cheaper,
        })),
        "missing": cost.missing.iter().map(|charge| charge_id(resolution, *charge)).collect::<Vec<_>>(),
    })
}

/// What the cost of a line is reckoned from: used × price ÷ (pack × edible), weights in grams. What is used is as eaten, what
/// is to buy and the pack as bought.
fn reckoned_from(resolution: &Resolution<'_>, line: &CostLine) -> Value {
    let (used, eaten_of_it) = match line.charge {
        Charge::Line(at) => {
            let grams = resolution.batch.line(at).grams.clone();
            (grams.clone(), grams)
        }
        Charge::Oil => (resolution.fry.as_ref().map(|f| f.used.clone()), resolution.fry.as_ref().map(Frying::bought)),
    };
    let item = resolution.item(&line.purchase.item);
    let edible = item.map(|item| &item.edible);
    let eaten = item.and_then(|item| eaten_of_pack(item, &line.purchase.pack));
    let to_buy = eaten_of_it.zip(edible).and_then(|(eaten, edible)| eaten.over(edible));
    json!({
        "used_g": optional(used.as_ref()),
        "to_buy_g": optional(to_buy.as_ref()),
        "pack": line.purchase.pack_text,
        "pack_g": optional(eaten.zip(edible).and_then(|(eaten, edible)| eaten.over(edible)).as_ref()),
        "edible": optional(edible),
        "price": decimal(&line.purchase.price),
    })
}

fn fry(resolution: &Resolution<'_>, sheet: &Sheet) -> Value {
    match (&resolution.fry, &sheet.fry) {
        (Some(frying), Some(figures)) => json!({
            "fill_g": decimal(&frying.fill),
            "fill_ml": decimal(&frying.fill_volume),
            "taken_up_g": decimal(&frying.taken_up),
            "used_g": decimal(&frying.used),
            "fill_shown": figures.fill.text(),
            "taken_up_shown": figures.taken_up.text(),
            "used_shown": figures.used.text(),
        }),
        (None, _) | (_, None) => Value::Null,
    }
}

fn step_value(resolution: &Resolution<'_>, step: &Step, figures: &StepFigures) -> Value {
    let measures = step_measures(step).into_iter().zip(&figures.measures);
    json!({
        "id": figures.id,
        "title": figures.title.text(),
        "card": figures.card.text(),
        "text": texts(&figures.text),
        "uses": step_lines(step).into_iter().map(|at| resolution.inputs.recipe.line_id(at)).collect::<Vec<_>>(),
        "amounts": figures.uses.iter().map(|use_| json!({
            "id": use_.line, "shown": use_.amount.text(), "name": use_.name,
        })).collect::<Vec<_>>(),
        "measures": measures.map(|(range, shown)| measure(range, shown.shown.text())).collect::<Vec<_>>(),
    })
}

fn measure(range: &Range, shown: &str) -> Value {
    let (kind, unit) = match range.dimension() {
        Dimension::Duration => ("duration", "s"),
        Dimension::Temperature => ("temperature", "Cel"),
        Dimension::Length => ("length", "mm"),
        Dimension::Weight => ("weight", "g"),
        Dimension::Volume => ("volume", "mL"),
        Dimension::Count => ("count", "1"),
        Dimension::Percent => ("percent", "%"),
    };
    json!({
        "kind": kind, "low": decimal(&range.low.value), "high": decimal(&range.high.value), "unit": unit, "shown": shown,
    })
}
