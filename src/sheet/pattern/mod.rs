//! The pattern: a recipe as exact numbers that any yield can be cut from, for a reader that reckons for itself, such as
//! a page in a browser. It follows the same rules as the sheet and must come to the same shown texts.
//! Must not know who reads it.
//!
//! Every weight, volume and count is a straight line in the factor on the written batch (fixed lines are its start), so
//! a pair `[start, slope]` says it at any yield. Numbers are exact texts: `12`, `1/3`.

mod facts;
mod method;

use super::resolve::{Inputs, Resolution, find_variant, settle};
use super::shown::Shown;
use super::{Larder, Refusal};
use crate::batch::{BatchLine, BatchPart, Quota, Wanted, beside};
use crate::exact::{Dimension, Exact, Unit};
use crate::locale::Key;
use crate::model::{Basis, LineRef, Portion};
use crate::sheet::Request;
use serde_json::{Value, json};

/// The pattern of a recipe at the prices of `day` (that of the book's latest purchase if `None`).
///
/// # Errors
/// [`Refusal`] where the sources can't give one.
pub fn pattern(inputs: Inputs<'_>, day: Option<jiff::civil::Date>) -> Result<Value, Refusal> {
    let request = Request { wanted: Wanted::AsWritten, variant: None, day };
    let larder = Larder::new(inputs, day);
    let inputs = larder.inputs(inputs);
    let (written, factor, day) = settle(inputs, &request)?;
    let recipe = inputs.recipe;
    let shown = Shown::new(inputs.locale, inputs.channel);
    let cut = |id: Option<&str>| -> Result<Cut<'_>, Refusal> {
        let variant = id.map(|id| find_variant(recipe, id)).transpose()?;
        let one = Resolution::new(inputs, &written, variant, day, &factor)?;
        let (other, step) = beside(&one.batch.factor, |factor| one.at_factor(factor))?;
        Ok(Cut { one, other, step })
    };
    let mut cuts = vec![cut(None)?];
    for variant in &recipe.variants {
        cuts.push(cut(Some(&variant.id))?);
    }
    let as_written = &cuts[0];
    Ok(json!({
        "schema": "pattern/1",
        "recipe": recipe.id,
        "makes": recipe.makes.as_ref().map(|makes| json!({
            "low": makes.low, "high": makes.high, "one": makes.one, "many": makes.many,
        })),
        "main": recipe.main,
        "loss": recipe.loss.as_ref().map(Exact::ratio_text),
        "byEach": recipe.parts[recipe.main].each.is_some(),
        "ratio": recipe.ratio.iter().map(Exact::ratio_text).collect::<Vec<_>>(),
        "opened": recipe.opened(),
        "parts": (0..recipe.parts.len()).map(|part| part_value(as_written, part)).collect::<Vec<_>>(),
        "variants": cuts.iter().map(|cut| cut.value(&shown)).collect::<Vec<_>>(),
        "items": facts::items(&cuts, &shown),
        "fry": facts::fry(as_written, &shown),
        "energy": facts::energy(as_written),
        "compare": compare(as_written, &shown),
        "scale": { "step": inputs.channel.scale.value.ratio_text(), "pounds": by_pound(inputs) },
        "spoons": spoons(inputs),
        "units": units(inputs),
        "notation": inputs.locale.notation(inputs.channel.currency),
        "words": {
            "taste": inputs.locale.text(Key::ToTaste),
            "labelled": inputs.locale.text(Key::Labelled),
            "noPrice": inputs.locale.text(Key::CostNoPrice),
            "kwh": inputs.locale.text(Key::UnitKilowattHour),
        },
        "method": method::method(as_written, &shown),
    }))
}

/// A variant at two yields, which tell every straight line.
pub(super) struct Cut<'a> {
    pub one: Resolution<'a>,
    other: Resolution<'a>,
    /// How much larger the factor of `other` is.
    step: Exact,
}

impl Cut<'_> {
    /// `[start, slope]` of a value that `read` takes off a resolution.
    fn line(&self, read: impl Fn(&Resolution<'_>) -> Option<Exact>) -> Value {
        let (Some(here), Some(there)) = (read(&self.one), read(&self.other)) else { return Value::Null };
        let slope = (there - &here) / &self.step;
        let start = here - &slope * &self.one.batch.factor;
        json!([start.ratio_text(), slope.ratio_text()])
    }

    fn value(&self, shown: &Shown<'_>) -> Value {
        let recipe = self.one.inputs.recipe;
        let variant = self.one.variant;
        let part = |index: usize| {
            let lines = &self.one.batch.parts[index].lines;
            json!({
                "basis": self.line(|there| there.batch.parts[index].basis.clone()),
                "lines": lines.iter().map(|line| self.line_value(line)).collect::<Vec<_>>(),
            })
        };
        json!({
            "id": variant.map(|variant| &variant.id),
            "title": variant.map(|variant| &variant.title),
            "parts": (0..recipe.parts.len()).map(part).collect::<Vec<_>>(),
            "missing": !self.one.cost().is_complete(),
            "safety": facts::safety(&self.one, shown),
        })
    }

    fn line_value(&self, line: &BatchLine) -> Value {
        let at = line.at;
        let (one, many) = self.names(line);
        let read = |there: &BatchLine| match &there.quota {
            Quota::Volume { millilitres, .. } => Some(millilitres.clone()),
            Quota::Count(count) => Some(count.clone()),
            Quota::Weight | Quota::ToTaste => None,
        };
        let quota = match &line.quota {
            Quota::Weight => json!({ "kind": "weight" }),
            Quota::ToTaste => json!({ "kind": "taste" }),
            Quota::Count(_) => json!({ "kind": "count", "value": self.line(|there| read(there.batch.line(at))) }),
            Quota::Volume { unit, .. } => json!({
                "kind": "volume", "unit": spoon(*unit), "value": self.line(|there| read(there.batch.line(at))),
            }),
        };
        json!({
            "item": line.item,
            "takes": line.takes,
            "name": one,
            "many": (many != one).then_some(&many),
            "of": self.one.inputs.locale.amount_of("{amount}", &one),
            "ofMany": (many != one).then(|| self.one.inputs.locale.amount_of("{amount}", &many)),
            "quota": quota,
            "grams": self.line(|there| there.batch.line(at).grams.clone()),
            "percent": written_percent(self, at),
            "low": line.low_share.as_ref().map(Exact::ratio_text),
        })
    }

    /// What a line is called at one and at more than one.
    fn names(&self, line: &BatchLine) -> (String, String) {
        let called = |count: Exact| {
            let quota = match &line.quota {
                Quota::Count(_) => Quota::Count(count),
                other => other.clone(),
            };
            super::formula::name_of(&self.one, line, &quota)
        };
        (called(Exact::one()), called(Exact::from(2)))
    }
}

/// The percent of a line that is written as one; of the others it follows from the weights.
fn written_percent(cut: &Cut<'_>, at: LineRef) -> Option<String> {
    let (here, there) = (&cut.one.batch.line(at).percent, &cut.other.batch.line(at).percent);
    here.as_ref().filter(|percent| Some(*percent) == there.as_ref()).map(Exact::ratio_text)
}

fn part_value(cut: &Cut<'_>, index: usize) -> Value {
    let recipe = cut.one.inputs.recipe;
    let part = &recipe.parts[index];
    let basis: &[usize] = match &part.basis {
        Basis::Lines(lines) => lines,
        Basis::None => &[],
    };
    let BatchPart { lines, .. } = &cut.one.batch.parts[index];
    let title = super::formula::part_title(&cut.one, index);
    json!({
        "id": part.id,
        "title": title,
        "of": cut.one.inputs.locale.amount_of("{amount}", title.as_deref().unwrap_or(&part.id)),
        "alone": cut.one.stands_alone(index),
        "basis": basis,
        "keys": part.lines.iter().map(|line| &line.key).collect::<Vec<_>>(),
        "notes": part.lines.iter().map(|line| &line.note).collect::<Vec<_>>(),
        "items": lines.iter().map(|line| &line.item).collect::<Vec<_>>(),
    })
}

/// What as much of it costs ready-made, and what is said of it that stays the same at any yield.
fn compare(cut: &Cut<'_>, shown: &Shown<'_>) -> Option<Value> {
    let figures = super::totals::compare(&cut.one, shown)?;
    let compare = cut.one.inputs.recipe.compare.as_ref()?;
    let (pieces, grams) = match &compare.size {
        Portion::Pieces(pieces) => (Some(pieces.ratio_text()), None),
        Portion::Weight(grams) => (None, Some(grams.ratio_text())),
    };
    let each = pieces.as_ref().and(figures.each.as_ref()).map(|each| each.text().to_owned());
    Some(json!({
        "price": compare.price.ratio_text(), "pieces": pieces, "grams": grams, "each": each,
        "size": figures.size, "cost": figures.price, "bought": figures.bought,
    }))
}

/// Whether weights are shown in pounds and ounces.
fn by_pound(inputs: Inputs<'_>) -> bool {
    matches!(inputs.channel.scale.unit, Some(Unit::Ounce | Unit::Pound))
}

/// The id of a household measure; `None` for any other unit of volume.
fn spoon(unit: Unit) -> Option<&'static str> {
    match unit {
        Unit::Cup => Some("cup"),
        Unit::Tablespoon => Some("tbsp"),
        Unit::Teaspoon => Some("tsp"),
        _ => None,
    }
}

/// Weights in grams and volumes in millilitres by every spelling of their units.
fn units(inputs: Inputs<'_>) -> Value {
    let known = Unit::spellings().filter_map(|spelling| Some((spelling, Unit::parse(spelling)?)));
    let kind = |unit: Unit| match unit.dimension() {
        Dimension::Weight => Some("weight"),
        Dimension::Volume => Some("volume"),
        Dimension::Length | Dimension::Duration | Dimension::Temperature | Dimension::Percent | Dimension::Count => {
            None
        }
    };
    let sizes = known.filter_map(|(spelling, unit)| {
        let size = unit.size(inputs.channel.measures).ratio_text();
        Some((spelling.to_owned(), json!([kind(unit)?, size])))
    });
    Value::Object(sizes.collect())
}

/// Millilitres of the household measures.
fn spoons(inputs: Inputs<'_>) -> Value {
    let size = |unit: Unit| unit.size(inputs.channel.measures).ratio_text();
    json!({ "cup": size(Unit::Cup), "tbsp": size(Unit::Tablespoon), "tsp": size(Unit::Teaspoon) })
}
