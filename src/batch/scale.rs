//! Scales a sized formula: every line's weight, percent and its amount in the form it was written.

use super::overall::{Hydration, Overall};
use super::size::{Sizer, Sizing, Unsizable, WrittenSizes};
use crate::exact::{Exact, Unit};
use crate::model::{Amount, Basis, LineRef, Pantry, Recipe, Subject, Variant};

/// A line's amount in the form it is shown in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Quota {
    /// By weight.
    Weight,
    /// By volume, in millilitres, written in `unit`.
    Volume {
        /// Millilitres.
        millilitres: Exact,
        /// The unit written.
        unit: Unit,
    },
    /// By count.
    Count(Exact),
    /// Not weighed.
    ToTaste,
}

/// A line at the wanted yield.
#[derive(Clone, Debug)]
pub struct BatchLine {
    /// Its place in the recipe.
    pub at: LineRef,
    /// The item's key after swaps; `None` for a part.
    pub item: Option<String>,
    /// The part it takes, by index.
    pub takes: Option<usize>,
    /// The form it is shown in.
    pub quota: Quota,
    /// Grams; `None` if to taste.
    pub grams: Option<Exact>,
    /// Percent of its part's basis; `None` if there is none or it is to taste.
    pub percent: Option<Exact>,
    /// The lower end of its range, as a share of the upper; `None` for one value.
    pub low_share: Option<Exact>,
}

/// A part at the wanted yield.
#[derive(Clone, Debug)]
pub struct BatchPart {
    /// Basis weight in grams.
    pub basis: Option<Exact>,
    /// Weight of all its lines in grams.
    pub total: Exact,
    /// Its lines.
    pub lines: Vec<BatchLine>,
}

/// A formula at the wanted yield. All weights are raw, in grams.
#[derive(Clone, Debug)]
pub struct Batch {
    /// How many written batches it is.
    pub factor: Exact,
    /// Lower and upper count of pieces.
    pub pieces: Option<(u32, u32)>,
    /// Parts in the recipe's order.
    pub parts: Vec<BatchPart>,
    /// Index of the main part.
    pub main: usize,
    /// All that is weighed in: the main part and those beside it.
    pub total: Exact,
    /// The total less the loss.
    pub finished: Exact,
    /// The main part and what it takes, item by item.
    pub overall: Overall,
    /// Hydration of the main part and what it takes.
    pub hydration: Hydration,
}

impl Batch {
    /// The line at a place.
    pub fn line(&self, at: LineRef) -> &BatchLine {
        &self.parts[at.part].lines[at.line]
    }

    /// Every line, in the order written.
    pub fn lines(&self) -> impl Iterator<Item = &BatchLine> {
        self.parts.iter().flat_map(|part| &part.lines)
    }
}

/// Scales the formula by `factor`, with a variant's changes.
///
/// Percents stay percents of the written basis weight, times the factor.
///
/// # Errors
/// [`Unsizable`] where a variant or a factor leaves a part that can't hold its weights, or is not what is taken of it.
pub fn scale(
    recipe: &Recipe,
    pantry: &Pantry,
    written: &WrittenSizes,
    variant: Option<&Variant>,
    factor: &Exact,
) -> Result<Batch, Unsizable> {
    let own = || {
        written.basis.iter().map(|basis| basis.as_ref().map_or(Sizing::Own, |weight| Sizing::Basis(weight * factor)))
    };
    let sizer = |variant| Sizer::new(recipe, pantry, variant, factor.clone(), own().collect());
    let parts = scaled_parts(&sizer(variant))?;
    let beside = |index: usize| index == recipe.main || !recipe.parts.iter().any(|part| takes(part, index));
    let total: Exact = parts.iter().enumerate().filter(|(i, _)| beside(*i)).map(|(_, p)| &p.total).sum();
    let finished = recipe.loss.as_ref().map_or_else(|| total.clone(), |loss| &total * (Exact::one() - loss));
    let reference = match variant {
        None => parts.clone(),
        Some(_) => scaled_parts(&sizer(None))?,
    };
    let overall = Overall::of(recipe, pantry, &parts, &reference);
    let hydration = Hydration::of(recipe, pantry, &parts);
    let pieces = recipe.makes.as_ref().map(|makes| (whole(makes.low, factor), whole(makes.high, factor)));
    Ok(Batch { factor: factor.clone(), pieces, parts, main: recipe.main, total, finished, overall, hydration })
}

fn takes(part: &crate::model::Part, index: usize) -> bool {
    part.lines.iter().any(|line| line.subject == Subject::Part(index))
}

/// A count times the factor as a whole number of pieces, at least one.
fn whole(count: u32, factor: &Exact) -> u32 {
    let pieces = (Exact::from(i64::from(count)) * factor).round().to_i64().unwrap_or(i64::from(u32::MAX));
    u32::try_from(pieces.max(1)).unwrap_or(u32::MAX)
}

fn scaled_parts(sizer: &Sizer<'_>) -> Result<Vec<BatchPart>, Unsizable> {
    let mut parts = Vec::with_capacity(sizer.recipe.parts.len());
    for (index, part) in sizer.recipe.parts.iter().enumerate() {
        let basis = sizer.size(index).map_err(Unsizable::clone)?.basis.as_ref();
        let lines: Vec<BatchLine> = (0..part.lines.len())
            .map(|line| scaled_line(sizer, LineRef { part: index, line }, basis))
            .collect::<Result<_, _>>()?;
        let total = lines.iter().filter_map(|line| line.grams.as_ref()).sum();
        parts.push(BatchPart { basis: basis.cloned(), total, lines });
    }
    Ok(parts)
}

fn scaled_line(sizer: &Sizer<'_>, at: LineRef, basis: Option<&Exact>) -> Result<BatchLine, Unsizable> {
    let line = sizer.recipe.line(at);
    let amount = sizer.amount(at);
    let factor = sizer.line_factor(line);
    let takes = match line.subject {
        Subject::Part(part) => Some(part),
        Subject::Item(_) => None,
    };
    let hundred = Exact::from(100);
    let grams = match amount {
        Amount::Percent { value, .. } => basis.map(|basis| basis * value / &hundred),
        Amount::All => match takes.map(|part| sizer.size(part)).transpose() {
            Ok(size) => size.map(|size| size.total.clone()),
            Err(why) => return Err(why.clone()),
        },
        Amount::Weight { .. } | Amount::Volume { .. } | Amount::Count { .. } => sizer.own_grams(at),
        Amount::ToTaste => None,
    };
    let percent = match amount {
        Amount::Percent { value, .. } => Some(value.clone()),
        Amount::All | Amount::Weight { .. } | Amount::Volume { .. } | Amount::Count { .. } | Amount::ToTaste => {
            grams.as_ref().zip(basis).and_then(|(grams, basis)| (grams * &hundred).over(basis))
        }
    };
    let quota = match amount {
        Amount::Volume { value, unit, .. } => Quota::Volume { millilitres: value * &factor, unit: *unit },
        Amount::Count { value, .. } => Quota::Count(value * &factor),
        Amount::ToTaste => Quota::ToTaste,
        Amount::Percent { .. } | Amount::Weight { .. } | Amount::All => Quota::Weight,
    };
    Ok(BatchLine {
        at,
        item: sizer.item(at).map(str::to_owned),
        takes,
        quota,
        grams,
        percent,
        low_share: low_share(amount),
    })
}

fn low_share(amount: &Amount) -> Option<Exact> {
    match amount {
        Amount::Percent { value, low }
        | Amount::Weight { value, low }
        | Amount::Volume { value, low, .. }
        | Amount::Count { value, low } => low.as_ref().and_then(|low| low.over(value)),
        Amount::All | Amount::ToTaste => None,
    }
}

/// The places of a part's basis lines.
pub(super) fn basis_lines(recipe: &Recipe, part: usize) -> Vec<LineRef> {
    match &recipe.parts[part].basis {
        Basis::Lines(lines) => lines.iter().map(|&line| LineRef { part, line }).collect(),
        Basis::None => Vec::new(),
    }
}
