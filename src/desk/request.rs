//! What is asked of a recipe, checked: yield, variant and day from their texts.
//! A text that says nothing sensible is the asker's fault, and is told by the options' names.

use crate::batch::{Have, Unreachable, Wanted};
use crate::diag::did_you_mean;
use crate::exact::{Dimension, Exact, Malformed, Measures, Quantity, parse_number, parse_quantity};
use crate::measure::{grams_of_count, grams_of_volume};
use crate::model::{Item, Pantry, Recipe, Subject, amiss_in, meant_unit};
use crate::sheet::Request;
use crate::slate::Asked;
use jiff::civil::Date;

/// Reads what is asked of `recipe`.
///
/// # Errors
/// What is wrong with what was asked, and what to write.
pub(super) fn request(asked: &Asked, recipe: &Recipe, pantry: &Pantry, measures: Measures) -> Result<Request, String> {
    Ok(Request {
        wanted: wanted(asked, recipe, pantry, measures)?,
        variant: asked.variant.clone(),
        day: asked.on.as_deref().map(|text| day("--on", text)).transpose()?,
    })
}

fn wanted(asked: &Asked, recipe: &Recipe, pantry: &Pantry, measures: Measures) -> Result<Wanted, String> {
    if let Some(text) = &asked.makes {
        let count = text.parse::<u32>().ok().filter(|&n| n > 0).map(|n| Exact::from(i64::from(n)));
        return count.map(Wanted::Makes).ok_or_else(|| format!("`--makes {text}` is not a whole number above 0"));
    }
    if let Some(text) = &asked.batch {
        let quantity = quantity(text, measures).map_err(|why| format!("`--batch {text}`: {why}"))?;
        let weighed = quantity.dimension == Dimension::Weight;
        return if weighed {
            Ok(Wanted::Batch(quantity.value))
        } else {
            Err(format!("`--batch {text}` is not a weight, such as `500 g`"))
        };
    }
    if let Some(text) = &asked.times {
        let times = parse_number(text).ok().filter(Exact::is_positive);
        return times
            .map(Wanted::Times)
            .ok_or_else(|| format!("`--times {text}` is not a number above 0, such as `2`, `0.5` or `3/4`"));
    }
    if asked.have.is_empty() {
        return Ok(Wanted::AsWritten);
    }
    let list = asked.have.iter().map(|text| have(text, recipe, pantry, measures));
    list.collect::<Result<Vec<_>, _>>().map(Wanted::Have)
}

fn have(text: &str, recipe: &Recipe, pantry: &Pantry, measures: Measures) -> Result<Have, String> {
    let told = |why: String| format!("`--have {text}`: {why}");
    let (item, amount) =
        text.split_once('=').ok_or_else(|| told("write an item and an amount, such as `flour=330 g`".into()))?;
    let item = item.trim();
    let quantity = quantity(amount, measures).map_err(told)?;
    let grams = match quantity.dimension {
        Dimension::Weight => Some(quantity.value),
        Dimension::Volume => facts(item, recipe, pantry).and_then(|facts| grams_of_volume(facts, &quantity.value)),
        Dimension::Count => facts(item, recipe, pantry).and_then(|facts| grams_of_count(facts, &quantity.value)),
        Dimension::Duration | Dimension::Temperature | Dimension::Length | Dimension::Percent => None,
    };
    let grams =
        grams.ok_or_else(|| told(format!("`{}` can't be turned into a weight; give a weight", amount.trim())))?;
    Ok(Have { item: item.into(), grams })
}

/// The pantry's facts on an item, or on that of the recipe's line of that key or id.
fn facts<'a>(name: &str, recipe: &Recipe, pantry: &'a Pantry) -> Option<&'a Item> {
    let line = recipe.line_refs().find(|at| recipe.line(*at).key == name || recipe.line_id(*at) == name);
    pantry.get(name).or_else(|| match &recipe.line(line?).subject {
        Subject::Item(key) => pantry.get(key),
        Subject::Part(_) => None,
    })
}

/// A quantity above zero.
fn quantity(text: &str, measures: Measures) -> Result<Quantity, String> {
    let quantity = parse_quantity(text, measures).map_err(|why| match why {
        Malformed::NoNumber => "there is no number in it".to_owned(),
        Malformed::BadNumber(number) => format!("`{number}` is not a number such as `500`, `0.5` or `1 1/2`"),
        Malformed::UnknownUnit(unit) => format!("there is no unit `{unit}`: {}", meant_unit(&unit)),
        Malformed::MixedUnits => "its terms do not go together".to_owned(),
        Malformed::Backwards => "its ends are the wrong way round".to_owned(),
        Malformed::TooLarge => "it is too large".to_owned(),
        Malformed::ZeroDenominator => "it divides by zero".to_owned(),
    })?;
    if quantity.value.is_positive() { Ok(quantity) } else { Err("it must be above 0".into()) }
}

/// A day written as ISO 8601 has it, and nothing else that would pass for one.
///
/// # Errors
/// What is no day, told by the option's name.
pub fn day(option: &str, text: &str) -> Result<Date, String> {
    let written = text.len() == "2026-05-01".len() && text.bytes().all(|b| b.is_ascii_digit() || b == b'-');
    let parsed = if written { text.parse().ok() } else { None };
    let amiss = || amiss_in(text).map(|amiss| format!(": {amiss}")).unwrap_or_default();
    parsed.ok_or_else(|| format!("`{option} {text}` is not a day such as `2026-05-01`{}", amiss()))
}

/// Today, where the computer stands.
pub fn today() -> Date {
    jiff::ZonedDateTime::now().date()
}

/// Why a yield can't be had, and what to write.
pub(super) fn unreachable(why: &Unreachable) -> String {
    match why {
        Unreachable::NoMakes => "`--makes` needs a recipe that says what it makes: use `--times`".into(),
        Unreachable::NoBasis => "`--batch` needs a recipe with a basis: use `--times`".into(),
        Unreachable::NotWeighed(item, items) => {
            let meant = did_you_mean(item, items.iter().map(String::as_str));
            let hint = meant.unwrap_or_else(|| format!("it weighs {}", listed(items)));
            format!("the recipe weighs no `{item}`: {hint}")
        }
        Unreachable::TooLittle(item) => format!("there is too little `{item}` for what the recipe needs at any yield"),
        Unreachable::TooLarge => "that is more than a million batches".into(),
        Unreachable::TooSmall => "that is less than a millionth of a batch".into(),
    }
}

/// Names in backticks, a comma between.
pub fn listed(names: &[String]) -> String {
    names.iter().map(|name| format!("`{name}`")).collect::<Vec<_>>().join(", ")
}
