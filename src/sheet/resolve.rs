//! Resolves a recipe at a yield, a variant and a day into the sheet.

use super::shown::Shown;
use super::{ExactCost, Larder, Resolved, Sheet, VariantName, cautions, costs, formula, ladder, steps};
use crate::batch::{Batch, Unreachable, Unsizable, Wanted, WrittenSizes, factor, scale, written_sizes};
use crate::cost::{Cost, Frying, cost, frying};
use crate::diag::Diagnostic;
use crate::exact::Exact;
use crate::locale::Locale;
use crate::model::{
    Allergen, Channel, Claim, Item, Pantry, PriceBook, Recipe, Region, Subject, Variant, Verdict, verdict,
};
use jiff::civil::Date;
use serde_json::Value;
use std::collections::BTreeSet;
use std::sync::OnceLock;

/// The checked entries a sheet is resolved from.
#[derive(Clone, Copy)]
pub struct Inputs<'a> {
    /// The channel.
    pub channel: &'a Channel,
    /// Facts on ingredients.
    pub pantry: &'a Pantry,
    /// The price book.
    pub book: &'a PriceBook,
    /// The recipe.
    pub recipe: &'a Recipe,
    /// How the channel's language and locale write.
    pub locale: &'a Locale,
}

/// What is wanted of a recipe.
#[derive(Clone, Debug)]
pub struct Request {
    /// The yield.
    pub wanted: Wanted,
    /// A variant's id.
    pub variant: Option<String>,
    /// The day whose prices hold; that of the book's latest purchase if `None`.
    pub day: Option<Date>,
}

impl Default for Request {
    fn default() -> Self {
        Self { wanted: Wanted::AsWritten, variant: None, day: None }
    }
}

/// Why there is no sheet.
#[derive(Clone, Debug)]
pub enum Refusal {
    /// The sources are at fault.
    Sources(Box<Diagnostic>),
    /// The recipe has no such variant; with those it has.
    UnknownVariant(String, Vec<String>),
    /// The yield can't be had.
    Yield(Unreachable),
}

impl From<Unsizable> for Refusal {
    fn from(why: Unsizable) -> Self {
        Self::Sources(Box::new(Diagnostic::error("unsizable", why.span, why.message).hint(why.hint)))
    }
}

/// A recipe at one yield, before it is put in words.
pub(super) struct Resolution<'a> {
    pub inputs: Inputs<'a>,
    pub variant: Option<&'a Variant>,
    pub day: Option<Date>,
    pub written: &'a WrittenSizes,
    pub batch: Batch,
    cost: OnceLock<Cost>,
    pub fry: Option<Frying>,
}

impl<'a> Resolution<'a> {
    pub fn new(
        inputs: Inputs<'a>,
        written: &'a WrittenSizes,
        variant: Option<&'a Variant>,
        day: Option<Date>,
        factor: &Exact,
    ) -> Result<Self, Unsizable> {
        let Inputs { pantry, recipe, .. } = inputs;
        let batch = scale(recipe, pantry, written, variant, factor)?;
        let fry = frying(recipe, &batch, pantry);
        Ok(Self { inputs, variant, day, written, batch, cost: OnceLock::new(), fry })
    }

    /// What it costs; reckoned where somebody asks.
    pub fn cost(&self) -> &Cost {
        let Inputs { channel, pantry, book, recipe, .. } = self.inputs;
        self.cost.get_or_init(|| cost(recipe, &self.batch, pantry, book, self.day, channel.tariff.as_ref()))
    }

    /// What it costs, where that can be shown: up to 10^12 of the currency, far above what any kitchen spends.
    pub fn payable(&self) -> Result<&Cost, Unsizable> {
        let cost = self.cost();
        let shop = cost.comparison.as_ref().map(|comparison| &comparison.amount);
        let most = Exact::power_of_ten(12);
        if [Some(cost.full()), Some(&cost.basket), shop].into_iter().flatten().all(|amount| *amount <= most) {
            return Ok(cost);
        }
        Err(Unsizable {
            message: "this yield costs more than 10^12, which is more than can be shown".into(),
            hint: "check the prices and packs of what it takes, and how much of it is made".into(),
            span: self.inputs.recipe.title.span,
        })
    }

    /// The same yield and day with another variant.
    pub fn with_variant(&self, variant: Option<&'a Variant>) -> Result<Self, Unsizable> {
        Self::new(self.inputs, self.written, variant, self.day, &self.batch.factor)
    }

    /// The same variant and day at another yield.
    pub fn at_factor(&self, factor: &Exact) -> Result<Self, Unsizable> {
        Self::new(self.inputs, self.written, self.variant, self.day, factor)
    }

    /// The item of a key; the loader has checked that every key is known.
    pub fn item(&self, key: &str) -> Option<&'a Item> {
        self.inputs.pantry.get(key)
    }

    /// Every item in it, the frying oil included, in the order of the formula.
    pub fn items(&self) -> Vec<&'a Item> {
        let lines = self.batch.lines().filter_map(|line| line.item.as_deref());
        let oil = self.inputs.recipe.fry.as_ref().map(|fry| fry.oil.as_str());
        let mut seen = BTreeSet::new();
        lines.chain(oil).filter(|key| seen.insert(*key)).filter_map(|key| self.item(key)).collect()
    }

    /// What so many pieces are called.
    pub fn piece(&self, count: &Exact) -> Option<String> {
        let makes = self.inputs.recipe.makes.as_ref()?;
        Some(if self.inputs.locale.is_one(count) { makes.one.clone() } else { makes.many.clone() })
    }

    /// What is weighed on its own: the main part and those beside it.
    pub fn stands_alone(&self, part: usize) -> bool {
        let taken = |p: &crate::model::Part| p.lines.iter().any(|line| line.subject == Subject::Part(part));
        !self.inputs.recipe.parts.iter().any(taken)
    }
}

/// Resolves the sheet.
///
/// # Errors
/// [`Refusal`] where the sources or the request can't give one.
pub fn resolve(inputs: Inputs<'_>, request: &Request) -> Result<Resolved, Refusal> {
    with_sheet(inputs, request, |resolution, sheet| {
        let (cost, inputs) = (resolution.cost(), resolution.inputs);
        let (low, high) = cost.each.as_ref().map(|(low, high)| (low.decimal(), high.decimal())).unzip();
        let currency = inputs.channel.currency.code();
        Resolved { sheet, exact: ExactCost { currency, total: cost.total.decimal(), each_low: low, each_high: high } }
    })
}

/// The sheet with exact values, as `figures/1`.
///
/// # Errors
/// As for [`resolve`].
pub fn document(inputs: Inputs<'_>, request: &Request) -> Result<Value, Refusal> {
    with_sheet(inputs, request, |resolution, sheet| super::document::document(resolution, &sheet))
}

fn with_sheet<T>(
    inputs: Inputs<'_>,
    request: &Request,
    make: impl FnOnce(&Resolution<'_>, Sheet) -> T,
) -> Result<T, Refusal> {
    let larder = Larder::new(inputs, request.day);
    let inputs = larder.inputs(inputs);
    let (written, factor, day) = settle(inputs, request)?;
    let variant = request.variant.as_deref().map(|id| find_variant(inputs.recipe, id)).transpose()?;
    let resolution = Resolution::new(inputs, &written, variant, day, &factor)?;
    let sheet = build(&resolution)?;
    Ok(make(&resolution, sheet))
}

/// The written sizes, how many written batches are wanted, and the day.
pub(super) fn settle(inputs: Inputs<'_>, request: &Request) -> Result<(WrittenSizes, Exact, Option<Date>), Refusal> {
    let Inputs { pantry, book, recipe, .. } = inputs;
    let written = written_sizes(recipe, pantry)?;
    let variant = request.variant.as_deref().map(|id| find_variant(recipe, id)).transpose()?;
    let factor = factor(recipe, pantry, &written, variant, &request.wanted).map_err(Refusal::Yield)?;
    Ok((written, factor, request.day.or_else(|| book.last_day())))
}

pub(super) fn find_variant<'r>(recipe: &'r Recipe, id: &str) -> Result<&'r Variant, Refusal> {
    recipe.variants.iter().find(|variant| variant.id == id).ok_or_else(|| {
        Refusal::UnknownVariant(id.to_owned(), recipe.variants.iter().map(|variant| variant.id.clone()).collect())
    })
}

fn build(resolution: &Resolution<'_>) -> Result<Sheet, Unsizable> {
    let Inputs { channel, recipe, locale, .. } = resolution.inputs;
    let shown = Shown::new(locale, channel);
    let formula = formula::formula(resolution, &shown);
    let yields = formula::yields(resolution, &shown, &formula);
    let cost = costs::costs(resolution, &shown, &formula)?;
    let steps::Told { intro, steps, .. } = steps::steps(resolution, &shown, &formula, &yields, &cost);
    Ok(Sheet {
        channel: channel.name.clone(),
        recipe: recipe.id.clone(),
        title: recipe.title.value.clone(),
        variant: resolution.variant.map(|v| VariantName { id: v.id.clone(), title: v.title.clone() }),
        day: resolution.day.map(|day| shown.date(day)),
        hydration: formula::hydration(resolution, &shown),
        prefermented: resolution.batch.overall.prefermented.as_ref().map(|p| shown.percent(p).figure),
        overall: formula::overall(resolution, &shown),
        fry: costs::fry(resolution, &shown),
        allergens: allergens(resolution),
        allergens_unknown: resolution
            .items()
            .iter()
            .filter(|i| i.allergens.is_none())
            .map(|i| i.name.clone())
            .collect(),
        diet: diet(resolution),
        cautions: cautions::cautions(resolution, &shown),
        ladder: ladder::ladder(resolution, &shown)?,
        worked: ladder::worked(resolution, &shown),
        variants: ladder::variants(resolution, &shown)?,
        parts: formula.into_iter().map(|part| part.figures).collect(),
        yields,
        cost,
        intro,
        steps,
    })
}

/// Allergens of all items that the channel's region lists.
pub(super) fn allergens(resolution: &Resolution<'_>) -> Vec<Allergen> {
    let all: BTreeSet<Allergen> =
        resolution.items().iter().filter_map(|item| item.allergens.as_ref()).flatten().copied().collect();
    all.into_iter().filter(|allergen| listed(*allergen, resolution.inputs.channel.region)).collect()
}

/// Whether a region's law lists an allergen: EU 1169/2011 Annex II; FALCPA and FASTER Act;
/// Canada's priority allergens; Standard 1.2.3 of Australia and New Zealand.
fn listed(allergen: Allergen, region: Region) -> bool {
    use Allergen::*;
    match allergen {
        Wheat | Crustaceans | Eggs | Fish | Peanuts | Soybeans | Milk | Almonds | Hazelnuts | Walnuts | Cashews
        | Pecans | BrazilNuts | Pistachios | Macadamias | Sesame => true,
        // Gluten cereals beyond wheat are named by all but the United States.
        Rye | Barley | Oats => region != Region::Us,
        PineNuts => region != Region::Eu,
        Celery => region == Region::Eu,
        Mustard => matches!(region, Region::Eu | Region::Ca),
        Sulphites => region != Region::Us,
        Lupin => matches!(region, Region::Eu | Region::Anz),
        Molluscs => region != Region::Us,
    }
}

/// The recipe's claims that hold for what is in this batch.
pub(super) fn diet(resolution: &Resolution<'_>) -> Vec<Claim> {
    let items = resolution.items();
    let claims = resolution.inputs.recipe.diet.iter().map(|claim| claim.value);
    claims.filter(|claim| items.iter().all(|item| verdict(*claim, item) == Verdict::Fits)).collect()
}
