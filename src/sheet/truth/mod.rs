//! What is true of a recipe when it is spoken of: for everything that may be said with a number, the values that
//! are right and what they are of. Owns the values that a proof-reader holds claims against; must not know how
//! anything is said.

mod cost;
mod formula;
mod method;
mod spoken;

pub use spoken::spoken;

use super::Figure;
use super::resolve::{Inputs, Refusal, Request, Resolution, find_variant, settle};
use super::shown::{Minted, Shown};
use crate::batch::Unsizable;
use crate::exact::{Dimension, Exact, Measures};
use iso_currency::Currency;

/// What a number said measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Kind {
    /// Grams.
    Weight,
    /// Millilitres.
    Volume,
    /// A bare count.
    Count,
    /// Percent.
    Percent,
    /// Degrees Celsius.
    Temperature,
    /// Seconds.
    Duration,
    /// Millimetres.
    Length,
    /// The currency's major unit.
    Money,
}

impl Kind {
    /// Its name in `proof/1`.
    pub fn id(self) -> &'static str {
        match self {
            Self::Weight => "weight",
            Self::Volume => "volume",
            Self::Count => "count",
            Self::Percent => "percent",
            Self::Temperature => "temperature",
            Self::Duration => "duration",
            Self::Length => "length",
            Self::Money => "money",
        }
    }

    /// The kind of a measure's dimension.
    pub fn of(dimension: Dimension) -> Self {
        match dimension {
            Dimension::Weight => Self::Weight,
            Dimension::Volume => Self::Volume,
            Dimension::Length => Self::Length,
            Dimension::Duration => Self::Duration,
            Dimension::Temperature => Self::Temperature,
            Dimension::Percent => Self::Percent,
            Dimension::Count => Self::Count,
        }
    }
}

/// A value that is right, in its kind's unit, as it is shown. Only the sheet makes one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Value {
    low: Exact,
    high: Exact,
    shown: Figure,
    share: bool,
}

impl Value {
    fn one(minted: Minted) -> Self {
        Self { low: minted.value.clone(), high: minted.value, shown: minted.figure, share: false }
    }

    fn range(low: Exact, high: Exact, shown: Figure) -> Self {
        Self { low, high, shown, share: false }
    }

    fn share(self) -> Self {
        Self { share: true, ..self }
    }

    /// Its lower end.
    pub fn low(&self) -> &Exact {
        &self.low
    }

    /// Its upper end; the same as the lower for one value.
    pub fn high(&self) -> &Exact {
        &self.high
    }

    /// How every output shows it.
    pub fn shown(&self) -> &Figure {
        &self.shown
    }

    /// Whether it is a share of what the fact is about, not the whole.
    pub fn is_share(&self) -> bool {
        self.share
    }
}

/// What a fact is about, as far as wording can tell it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Topic {
    /// An amount of a line.
    Line,
    /// How many pieces it makes.
    Pieces,
    /// The weight of one piece.
    Piece,
    /// All that is weighed in.
    Total,
    /// What is left after the loss.
    Finished,
    /// The loss.
    Loss,
    /// The weight of the basis.
    Basis,
    /// A part's total.
    Part,
    /// Hydration.
    Hydration,
    /// The share of the flour that is prefermented.
    Prefermented,
    /// The cost of everything.
    CostTotal,
    /// The cost of one piece.
    CostEach,
    /// The cost of everything with the energy that it takes.
    PoweredTotal,
    /// The same of one piece.
    PoweredEach,
    /// The cost of a line.
    CostLine,
    /// What whole packs cost.
    Basket,
    /// What is left of the basket's packs, in money.
    Unused,
    /// The frying oil: its filling, or what is used of it.
    Oil,
    /// How many batches a filling of oil serves.
    OilUses,
    /// How deep the oil stands.
    Depth,
    /// The frying pan's size.
    Pan,
    /// A measure of a step.
    Measure,
}

/// One thing that may be said with a number, and what is right to say.
#[derive(Clone, Debug)]
pub struct Fact {
    /// What it is about: `main.onion`, `yield.pieces`, `step.fry`.
    pub about: String,
    /// What it measures.
    pub kind: Kind,
    /// What sort of thing it is about.
    pub topic: Topic,
    /// Values that are right, the plainest first; never empty.
    pub values: Vec<Value>,
    /// The thing it is an amount or a cost of, an index into [`Truth::things`].
    pub thing: Option<usize>,
    /// Steps it belongs to, as indices, in order.
    pub steps: Vec<usize>,
    /// For a measure, the author's words around it.
    pub around: Option<Around>,
}

/// The words around a measure of a step.
#[derive(Clone, Debug, Default)]
pub struct Around {
    /// The words of its clause before it.
    pub before: String,
    /// The words of its clause behind it.
    pub after: String,
    /// The whole sentence, and the card's where it stands there too.
    pub sentence: String,
}

/// Something with a name that amounts are said of: a line, or the frying oil.
#[derive(Clone, Debug)]
pub struct Thing {
    /// The line's id, or `fry.oil`.
    pub id: String,
    /// Names it may go by, the shown one first.
    pub names: Vec<String>,
    /// The part of a line, an index into [`Truth::parts`].
    pub part: Option<usize>,
    /// The author's remark on it.
    pub note: Option<String>,
    /// Whether it has an amount that can be said.
    pub has_amount: bool,
    /// Whether it is counted rather than weighed.
    pub counted: bool,
    /// Whether it is among what is 100 %.
    pub basis: bool,
}

/// A part's id and title.
#[derive(Clone, Debug)]
pub struct PartName {
    /// Its id.
    pub id: String,
    /// Its title; `None` for a formula without parts.
    pub title: Option<String>,
}

/// A step's words.
#[derive(Clone, Debug)]
pub struct StepText {
    /// Its slug.
    pub id: String,
    /// Its heading.
    pub title: String,
    /// All its text, ingredients by name.
    pub text: String,
}

/// Everything that may be said of a recipe at one yield, variant and day.
#[derive(Clone, Debug)]
pub struct Truth {
    /// The recipe's folder name.
    pub recipe: String,
    /// Its title.
    pub title: String,
    /// The variant it is of.
    pub variant: Option<String>,
    /// The channel's currency.
    pub currency: Currency,
    /// Whose spoons and cups.
    pub measures: Measures,
    /// What pieces are called, one and many.
    pub pieces: Vec<String>,
    /// Parts in the order written.
    pub parts: Vec<PartName>,
    /// Lines in the order written, then the oil.
    pub things: Vec<Thing>,
    /// Steps in order.
    pub steps: Vec<StepText>,
    /// What may be said.
    pub facts: Vec<Fact>,
    /// The same of every other variant, as written among them; theirs are empty.
    pub others: Vec<Truth>,
}

/// What is true of a recipe as asked for.
///
/// # Errors
/// [`Refusal`] where the sources or the request can't give it.
pub fn truth(inputs: Inputs<'_>, request: &Request) -> Result<Truth, Refusal> {
    let recipe = inputs.recipe;
    let (written, factor, day) = settle(inputs, request)?;
    let variant = request.variant.as_deref().map(|id| find_variant(recipe, id)).transpose()?;
    let resolution = Resolution::new(inputs, &written, variant, day, &factor)?;
    let mut truth = of(&resolution)?;
    let all = std::iter::once(None).chain(recipe.variants.iter().map(Some));
    for other in all.filter(|other| other.map(|o| &o.id) != variant.map(|v| &v.id)) {
        truth.others.push(of(&resolution.with_variant(other)?)?);
    }
    Ok(truth)
}

/// What is true of one resolution, without its other variants.
fn of(resolution: &Resolution<'_>) -> Result<Truth, Unsizable> {
    let Inputs { channel, recipe, locale, .. } = resolution.inputs;
    let shown = Shown::new(locale, channel);
    let parts = super::formula::formula(resolution, &shown);
    let yields = super::formula::yields(resolution, &shown, &parts);
    let costs = super::costs::costs(resolution, &shown, &parts)?;
    let told = super::steps::steps(resolution, &shown, &parts, &yields, &costs);
    let things = formula::things(resolution, &parts);
    let mut facts = formula::lines(resolution, &shown, &parts, &told.shares);
    facts.extend(formula::yields(resolution, &shown, &parts));
    facts.extend(cost::costs(resolution, &shown));
    facts.extend(cost::frying(resolution, &shown));
    facts.extend(method::measures(resolution, &shown));
    Ok(Truth {
        recipe: recipe.id.clone(),
        title: recipe.title.value.clone(),
        variant: resolution.variant.map(|variant| variant.id.clone()),
        currency: channel.currency,
        measures: channel.measures,
        pieces: recipe.makes.as_ref().map(|makes| vec![makes.one.clone(), makes.many.clone()]).unwrap_or_default(),
        parts: parts
            .iter()
            .map(|part| PartName { id: part.figures.id.clone(), title: part.figures.title.clone() })
            .collect(),
        things,
        steps: method::texts(resolution),
        facts,
        others: Vec::new(),
    })
}
