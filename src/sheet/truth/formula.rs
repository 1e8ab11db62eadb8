//! What is right to say of lines, parts and the yield. Must not know how anything is said.

use super::super::formula::{PartShown, line_name, piece_weights};
use super::super::resolve::Resolution;
use super::super::shown::{Minted, Shown};
use super::super::steps::{ShareShown, step_lines};
use super::{Fact, Kind, Thing, Topic, Value};
use crate::batch::{BatchLine, Quota};
use crate::exact::Exact;
use crate::measure::{countable, household, weigh};
use crate::model::LineRef;

/// The things of a recipe: its lines, and the frying oil.
pub(super) fn things(resolution: &Resolution<'_>, formula: &[PartShown]) -> Vec<Thing> {
    let recipe = resolution.inputs.recipe;
    let mut things: Vec<Thing> = resolution
        .batch
        .lines()
        .map(|line| {
            let written = recipe.line(line.at);
            let mut names = vec![line_name(resolution, line)];
            if let Some(item) = line.item.as_deref().and_then(|key| resolution.item(key)) {
                names.extend([item.name.clone(), item.plural.clone()]);
                names.extend(item.said_as.iter().cloned());
                names.push(item.key.replace('-', " "));
            }
            if line.takes.is_some() {
                names.push(written.key.replace('-', " "));
            }
            Thing {
                id: recipe.line_id(line.at),
                names: distinct(names),
                part: Some(line.at.part),
                note: written.note.clone(),
                has_amount: formula[line.at.part].weights[line.at.line].is_some(),
                counted: matches!(line.quota, Quota::Count(_)),
                basis: formula[line.at.part].figures.lines[line.at.line].is_basis,
            }
        })
        .collect();
    if let Some(item) = recipe.fry.as_ref().and_then(|fry| resolution.item(&fry.oil)) {
        let mut names = vec![item.name.clone(), item.plural.clone()];
        names.extend(item.said_as.iter().cloned());
        names.push(item.key.replace('-', " "));
        names.extend(["frying oil".to_owned(), "oil".to_owned()]);
        let id = "fry.oil".to_owned();
        things.push(Thing {
            id,
            names: distinct(names),
            part: None,
            note: None,
            has_amount: false,
            counted: false,
            basis: false,
        });
    }
    things
}

fn distinct(names: Vec<String>) -> Vec<String> {
    let mut kept: Vec<String> = Vec::new();
    for name in names {
        if !name.is_empty() && !kept.contains(&name) {
            kept.push(name);
        }
    }
    kept
}

/// The amount of every line, in each kind it may be said in: weight, percent, volume, count.
pub(super) fn lines(
    resolution: &Resolution<'_>,
    shown: &Shown<'_>,
    formula: &[PartShown],
    shares: &[ShareShown],
) -> Vec<Fact> {
    let recipe = resolution.inputs.recipe;
    let mut facts = Vec::new();
    for (thing, line) in resolution.batch.lines().enumerate() {
        let steps: Vec<usize> = (0..recipe.method.steps.len())
            .filter(|&step| step_lines(&recipe.method.steps[step]).contains(&line.at))
            .collect();
        let weight = formula[line.at.part].weights[line.at.line].as_ref();
        let of_line: Vec<&ShareShown> = shares.iter().filter(|share| share.line == line.at).collect();
        for kind in [Kind::Weight, Kind::Volume, Kind::Count, Kind::Percent] {
            let values = amounts(kind, resolution, shown, line, weight, &of_line);
            if !values.is_empty() {
                let about = recipe.line_id(line.at);
                let steps = steps.clone();
                facts.push(Fact { about, kind, topic: Topic::Line, values, thing: Some(thing), steps, around: None });
            }
        }
    }
    facts
}

/// What is right to say of a line in one kind; the whole first, then its shares.
fn amounts(
    kind: Kind,
    resolution: &Resolution<'_>,
    shown: &Shown<'_>,
    line: &BatchLine,
    weight: Option<&Exact>,
    shares: &[&ShareShown],
) -> Vec<Value> {
    let (Some(weight), Some(grams)) = (weight, &line.grams) else { return Vec::new() };
    let low_weight = |whole: &Exact| line.low_share.as_ref().map(|low| weigh(&(whole * low), shown.scale()).grams);
    let mut values = Vec::new();
    match kind {
        Kind::Weight => {
            let low = low_weight(grams).unwrap_or_else(|| weight.clone());
            values.push(Value::range(low.clone(), weight.clone(), shown.weights_shown(&low, weight)));
            // A part is shown as its lines add up; its percent of the basis may come to a gram less or more.
            let own = weigh(grams, shown.scale()).grams;
            if own != *weight {
                let low = low_weight(grams).unwrap_or_else(|| own.clone());
                values.push(Value::range(low.clone(), own.clone(), shown.weights_shown(&low, &own)));
            }
            values.extend(shares.iter().map(|share| {
                let Minted { figure, value } = share.minted.clone();
                Value::range(share.low.clone(), value, figure).share()
            }));
        }
        Kind::Percent => {
            let percents = |share: &Exact| {
                let (percent, high) = (line.percent.as_ref()? * share, shown.line_percent(line, share)?);
                let low = line.low_share.as_ref().filter(|_| line.quota == Quota::Weight);
                let low = low.map_or_else(|| high.value.clone(), |low| shown.percent(&(percent * low)).value);
                Some(Value::range(low, high.value, high.figure))
            };
            values.extend(percents(&Exact::one()));
            values.extend(shares.iter().filter_map(|share| Some(percents(&share.share)?.share())));
        }
        Kind::Volume => volumes(resolution, shown, line, (weight, grams), shares, &mut values),
        Kind::Count => counts(resolution, shown, line, (weight, grams), shares, &mut values),
        Kind::Temperature | Kind::Duration | Kind::Length | Kind::Money => {}
    }
    values
}

/// By volume: as written, as spoons and cups show it, and through the density.
fn volumes(
    resolution: &Resolution<'_>,
    shown: &Shown<'_>,
    line: &BatchLine,
    (weight, grams): (&Exact, &Exact),
    shares: &[&ShareShown],
    values: &mut Vec<Value>,
) {
    let item = line.item.as_deref().and_then(|key| resolution.item(key));
    let density = item.and_then(|item| item.density.as_ref());
    let measures = resolution.inputs.channel.measures;
    let exact = match &line.quota {
        Quota::Volume { millilitres, .. } => Some(millilitres.clone()),
        Quota::Weight | Quota::Count(_) => density.and_then(|density| grams.over(density)),
        Quota::ToTaste => None,
    };
    let Some(exact) = exact else { return };
    let from = |all: &Exact| line.low_share.as_ref().map_or_else(|| all.clone(), |low| all * low);
    let low = from(&exact);
    let spooned = |millilitres: &Exact| -> Option<Exact> {
        Some(household(millilitres, measures)?.iter().map(|term| &term.count * term.unit.size(measures)).sum())
    };
    let spoons = spooned(&low).zip(spooned(&exact));
    let figure = shown.household(line, item, &Exact::one()).unwrap_or_else(|| shown.volume(&exact));
    values.push(Value::range(low, exact.clone(), figure.clone()));
    if let Some((low, high)) = spoons {
        values.push(Value::range(low, high, figure));
    }
    if let (Some(density), Quota::Weight) = (density, &line.quota) {
        let least =
            line.low_share.as_ref().map_or_else(|| weight.clone(), |low| weigh(&(grams * low), shown.scale()).grams);
        let ends = least.over(density).zip(weight.over(density));
        values.extend(ends.map(|(low, high)| {
            let figure = shown.volume_range(&low, &high);
            Value::range(low, high, figure)
        }));
    }
    let written = matches!(line.quota, Quota::Volume { .. });
    let of = |share: &&ShareShown| {
        let (low, high) = if written {
            let high = &exact * &share.share;
            (from(&high), high)
        } else {
            (share.low.over(density?)?, share.minted.value.over(density?)?)
        };
        Some(Value::range(low.clone(), high.clone(), shown.volume_range(&low, &high)).share())
    };
    values.extend(shares.iter().filter_map(of));
}

/// By count: as written, or through the weight of one.
fn counts(
    resolution: &Resolution<'_>,
    shown: &Shown<'_>,
    line: &BatchLine,
    (weight, grams): (&Exact, &Exact),
    shares: &[&ShareShown],
    values: &mut Vec<Value>,
) {
    let item = line.item.as_deref().and_then(|key| resolution.item(key));
    let exact = match &line.quota {
        Quota::Count(count) => Some(count.clone()),
        Quota::Weight | Quota::Volume { .. } => {
            item.and_then(|item| item.each.as_ref()).and_then(|each| grams.over(each))
        }
        Quota::ToTaste => None,
    };
    let Some(exact) = exact else { return };
    let as_written = matches!(line.quota, Quota::Count(_));
    let count = if as_written { countable(&exact).unwrap_or_else(|| exact.clone()) } else { exact.clone() };
    let low = line.low_share.as_ref().map(|low| &exact * low);
    let low = low.map_or_else(|| count.clone(), |low| countable(&low).unwrap_or(low));
    let figure = if as_written { shown.count_range(&low, &count) } else { shown.weighed(weight.clone()).figure };
    values.push(Value::range(low, count, figure));
    values.extend(shares.iter().map(|share| {
        let part = &exact * &share.share;
        let low = line.low_share.as_ref().map_or_else(|| part.clone(), |low| &part * low);
        Value::range(low.clone(), part.clone(), shown.count_range(&low, &part)).share()
    }));
}

/// The yield, weights of pieces and parts, and what a baker reckons.
pub(super) fn yields(resolution: &Resolution<'_>, shown: &Shown<'_>, formula: &[PartShown]) -> Vec<Fact> {
    let recipe = resolution.inputs.recipe;
    let batch = &resolution.batch;
    let mut facts = Vec::new();
    let mut fact = |about: &str, kind, topic, values: Vec<Value>| {
        if !values.is_empty() {
            let about = about.to_owned();
            facts.push(Fact { about, kind, topic, values, thing: None, steps: Vec::new(), around: None });
        }
    };
    let whole = |count: u32| Exact::from(i64::from(count));
    let pieces = batch.pieces.map(|(low, high)| Value::range(whole(low), whole(high), shown.whole_range(low, high)));
    fact("yield.pieces", Kind::Count, Topic::Pieces, pieces.into_iter().collect());
    fact("yield.each", Kind::Weight, Topic::Piece, pieces_weigh(resolution, shown));
    let alone = formula.iter().enumerate().filter(|(part, _)| resolution.stands_alone(*part));
    let total = shown.weight(&alone.map(|(_, part)| &part.total).sum());
    fact("yield.total", Kind::Weight, Topic::Total, vec![Value::one(total)]);
    if let Some(loss) = &recipe.loss {
        fact("yield.finished", Kind::Weight, Topic::Finished, vec![Value::one(shown.weight(&batch.finished))]);
        let percent = shown.percent(&(loss * Exact::from(100)));
        fact("yield.loss", Kind::Percent, Topic::Loss, vec![Value::one(percent)]);
        let lost = shown.weight(&(&batch.total - &batch.finished));
        fact("yield.loss", Kind::Weight, Topic::Loss, vec![Value::one(lost)]);
    }
    if let Some(basis) = &batch.parts[batch.main].basis {
        fact("yield.basis", Kind::Weight, Topic::Basis, vec![Value::one(shown.weight(basis))]);
    }
    let percents = [&batch.hydration.nominal, &batch.hydration.effective];
    let hydration = percents.into_iter().flatten().map(|percent| Value::one(shown.percent(percent)));
    fact("hydration", Kind::Percent, Topic::Hydration, hydration.collect());
    let nested = batch.overall.prefermented.as_ref().map(|percent| Value::one(shown.percent(percent)));
    fact("prefermented", Kind::Percent, Topic::Prefermented, nested.into_iter().collect());
    for (index, part) in formula.iter().enumerate().filter(|_| formula.len() > 1) {
        let total = Minted { figure: part.figures.total.clone(), value: part.total.clone() };
        // A part that one line takes goes by that line's id.
        let taker = batch.lines().find(|line| line.takes == Some(index));
        let about = taker.map_or_else(|| part.figures.id.clone(), |line| recipe.line_id(line.at));
        fact(&about, Kind::Weight, Topic::Part, vec![Value::one(total)]);
    }
    facts
}

/// What one piece weighs: raw, finished, and of each part that says its own weight.
fn pieces_weigh(resolution: &Resolution<'_>, shown: &Shown<'_>) -> Vec<Value> {
    let recipe = resolution.inputs.recipe;
    let range = |(low, high): (Exact, Exact)| {
        let figure = shown.weight_range(&low, &high);
        Value::range(shown.weight(&low).value, shown.weight(&high).value, figure)
    };
    let each = piece_weights(resolution);
    let mut values: Vec<Value> = each.iter().cloned().map(range).collect();
    let kept = recipe.loss.as_ref().map(|loss| Exact::one() - loss);
    values.extend(each.zip(kept).map(|((low, high), kept)| range((low * &kept, high * &kept))));
    values.extend(recipe.parts.iter().filter_map(|p| p.each.as_ref()).map(|e| Value::one(shown.weight(&e.value))));
    values
}

/// What a line is called.
pub(super) fn name_of(resolution: &Resolution<'_>, at: LineRef) -> String {
    line_name(resolution, resolution.batch.line(at))
}
