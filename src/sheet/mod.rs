//! The sheet: one resolved set of figures for a recipe at a yield, with their shown texts.
//! Every output is a function of it; must not know outputs.

mod cautions;
mod choices;
mod costs;
mod document;
mod figure;
mod formula;
mod frozen;
mod ladder;
mod larder;
mod pattern;
mod prices;
mod resolve;
mod shown;
mod standing;
mod steps;
mod tally;
mod totals;
mod truth;

pub use choices::{Axis, BreakEven, Choice, Choices, Sway, choices};
pub use figure::{Figure, Label, Phrase, Piece};
pub use frozen::{Broken, digest, seal, thaw};
pub use larder::Larder;
pub use pattern::pattern;
pub use prices::{PriceFigures, Shelf, history, price_list};
pub use resolve::{Inputs, Refusal, Request, document, resolve};
pub use standing::{Order, Since, Standing, Taken, sort};
pub use tally::{countdown, tally};
pub use truth::{Around, Fact, Kind, PartName, StepText, Thing, Topic, Truth, Value, spoken, truth};

use crate::exact::Dimension;
use crate::model::{Allergen, Claim};
use serde::{Deserialize, Serialize};

/// A sheet, and what tables of many reckon with.
#[derive(Clone, Debug)]
pub struct Resolved {
    /// The figures that outputs show.
    pub sheet: Sheet,
    /// Its cost in exact values.
    pub exact: ExactCost,
}

/// What a batch costs, as decimals of the currency's major unit: the values that `figures/1` has.
#[derive(Clone, Debug)]
pub struct ExactCost {
    /// ISO 4217 code of the currency.
    pub currency: &'static str,
    /// The sum of what is known.
    pub total: String,
    /// Price of a piece at the upper count; `None` where pieces are not counted.
    pub each_low: Option<String>,
    /// And at the lower count.
    pub each_high: Option<String>,
}

/// Everything that may be shown of a recipe at one yield, variant and day.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Sheet {
    /// The channel's name.
    pub channel: String,
    /// The recipe's folder name.
    pub recipe: String,
    /// Its title.
    pub title: String,
    /// The variant, if one is chosen.
    pub variant: Option<VariantName>,
    /// The day whose prices hold; `None` if the price book is empty.
    pub day: Option<Figure>,
    /// How much it makes.
    pub yields: YieldFigures,
    /// Parts in the order written.
    pub parts: Vec<PartFigures>,
    /// Baker's hydration.
    pub hydration: HydrationFigures,
    /// Share of the flour that is prefermented, shown in percent.
    pub prefermented: Option<Figure>,
    /// The formula with its parts opened, item by item.
    pub overall: Vec<OverallFigures>,
    /// What it costs.
    pub cost: CostFigures,
    /// What fries it.
    pub fry: Option<FryFigures>,
    /// Allergens in it, by the channel's region.
    pub allergens: Vec<Allergen>,
    /// Names of items whose allergens are not known; never silent.
    pub allergens_unknown: Vec<String>,
    /// Diet claims that hold.
    pub diet: Vec<Claim>,
    /// Cautions due, in a fixed order.
    pub cautions: Vec<CautionText>,
    /// Paragraphs before the first step.
    pub intro: Vec<Phrase>,
    /// Steps in order.
    pub steps: Vec<StepFigures>,
    /// The formula at several yields, for the ratio table.
    pub ladder: Vec<Rung>,
    /// One worked line of how to reckon any amount.
    pub worked: Option<Worked>,
    /// What each variant of the recipe changes at this yield.
    pub variants: Vec<VariantFigures>,
}

/// Which variant a sheet is of.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct VariantName {
    /// Its id.
    pub id: String,
    /// Its title.
    pub title: String,
}

/// How much the batch makes.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct YieldFigures {
    /// "10–12 fritters".
    pub pieces: Option<Figure>,
    /// "10–12".
    pub count: Option<Figure>,
    /// What the pieces are called at this count.
    pub piece_name: Option<String>,
    /// What one piece is called.
    pub piece_one: Option<String>,
    /// Basis weight of the main part.
    pub basis: Option<Figure>,
    /// Names of what is 100 %.
    pub basis_names: Vec<String>,
    /// All that is weighed in: the sum of the shown amounts, to what the scale can weigh.
    pub total: Figure,
    /// What is left after the loss; `None` without one.
    pub finished: Option<Figure>,
    /// The loss, in percent.
    pub loss: Option<Figure>,
    /// Raw weight of one piece (a range where the count is one).
    pub each: Option<Figure>,
}

/// One part.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct PartFigures {
    /// Its id; `main` for a formula without parts.
    pub id: String,
    /// Its title; `None` for a formula without parts.
    pub title: Option<String>,
    /// Basis weight.
    pub basis: Option<Figure>,
    /// Its lines' shown weights added up, to what the scale can weigh.
    pub total: Figure,
    /// Its lines' shown percents added up, to a tenth.
    pub total_percent: Option<Figure>,
    /// Its lines in the order they are weighed.
    pub lines: Vec<LineFigures>,
}

/// One line.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct LineFigures {
    /// `PART.KEY`.
    pub id: String,
    /// Its key: a file-safe name unique in its part.
    pub key: String,
    /// The name shown, in the number that fits the amount.
    pub name: String,
    /// A remark of the author's.
    pub note: Option<String>,
    /// Percent of its part's basis.
    pub percent: Option<Figure>,
    /// The amount: "120 g", "2", "2 tsp", "to taste".
    pub amount: Figure,
    /// The weight, where the amount is not one: "about 120 g" without the word.
    pub weight: Option<Figure>,
    /// In spoons and cups, where that is within 5 %.
    pub household: Option<Figure>,
    /// Whether it is a part of its own (a preferment) rather than an ingredient.
    pub is_part: bool,
    /// Whether it is among what is 100 %.
    pub is_basis: bool,
}

impl LineFigures {
    /// In spoons and cups, where the amount doesn't say so already.
    pub fn spoons(&self) -> Option<&Figure> {
        self.household.as_ref().filter(|household| **household != self.amount)
    }
}

/// One item of the overall formula.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct OverallFigures {
    /// The item's name.
    pub name: String,
    /// Its weight in all parts together.
    pub amount: Figure,
    /// Percent of all the basis there is.
    pub percent: Option<Figure>,
}

/// Baker's hydration, each in percent; `None` where flour is not what is 100 %, or a fact is not known.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct HydrationFigures {
    /// The item water over flour.
    pub nominal: Option<Figure>,
    /// With the water inside every item that is not a flour.
    pub effective: Option<Figure>,
}

/// What it costs.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct CostFigures {
    /// Whether every line has a price.
    pub complete: bool,
    /// Known lines, in the order of the formula, the frying oil last. Their texts add up to `total`.
    pub lines: Vec<CostLineFigures>,
    /// Names of what has no price, in order, with their line ids.
    pub missing: Vec<(String, String)>,
    /// The sum of what is known.
    pub total: Figure,
    /// Price of one piece; a range for a range.
    pub each: Option<Figure>,
    /// Whole packs that a viewer must buy.
    pub basket: Figure,
    /// The packs of the basket.
    pub packs: Vec<PackFigures>,
    /// Prices older than the channel's limit, the one that weighs most first.
    pub stale: Vec<StaleFigures>,
    /// What of the basket the batch is not charged with: in the packs and, frying, in the pan. With `total` it adds up
    /// to `basket`.
    pub left: Figure,
    /// How many more batches what is left makes, by what runs out first; `None` where that is none, or not known.
    pub more: Option<Figure>,
    /// The energy, if the recipe states it.
    pub energy: Option<EnergyFigures>,
    /// The total with the energy.
    pub with_energy: Option<Figure>,
    /// Price of one piece with the energy; a range for a range.
    pub with_energy_each: Option<Figure>,
    /// As much of it shop-bought.
    pub compare: Option<CompareFigures>,
    /// Lengths of the totals' bars, in thousandths of the longest.
    pub bars: TotalBars,
}

/// The energy of a batch.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct EnergyFigures {
    /// Kilowatt-hours.
    pub kwh: Figure,
    /// The price of one.
    pub tariff: Option<Figure>,
    /// What they cost. With the total it adds up to the total with energy.
    pub cost: Option<Figure>,
}

/// The same thing ready-made.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct CompareFigures {
    /// What a pack holds: "400 g", "8 puffs".
    pub size: Figure,
    /// What a pack costs.
    pub price: Figure,
    /// The day that was seen.
    pub bought: Figure,
    /// What as much as the batch makes would cost.
    pub same: Figure,
    /// What one piece of it costs, or as much of it as one piece.
    pub each: Option<Figure>,
    /// How far the batch, with energy where that is known, is from it; `None` where they are alike or a price is missing.
    pub gap: Option<Figure>,
    /// Whether the batch is the cheaper one.
    pub cheaper: bool,
}

/// Lengths of bars, in thousandths of the longest.
#[derive(Clone, Copy, Debug, Default, Serialize, Deserialize)]
pub struct TotalBars {
    /// What the batch used.
    pub used: u16,
    /// With energy.
    pub with_energy: u16,
    /// At the till.
    pub basket: u16,
    /// Shop-bought.
    pub compare: u16,
}

/// A price that is older than the channel's limit.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct StaleFigures {
    /// The pantry key.
    pub item: String,
    /// The item's name.
    pub name: String,
    /// How many days old the price is.
    pub age: Figure,
    /// The item's share of the total, in percent.
    pub share: Figure,
    /// The same in thousandths.
    pub weight: u16,
}

/// One line of the cost table.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct CostLineFigures {
    /// The line's id, or `fry.oil`.
    pub id: String,
    /// The name shown.
    pub name: String,
    /// What tells it from other lines of the same name: its part, its remark, or both.
    #[serde(default)]
    pub of: Option<String>,
    /// The amount of the line as used.
    pub amount: Figure,
    /// Its cost.
    pub cost: Figure,
    /// Its share of the total in percent; shares add up to 100 %.
    pub share: Figure,
    /// Length of its bar, in thousandths of the total.
    pub bar: u16,
    /// Whether its price is that of an offer.
    pub offer: bool,
    /// Whether it is free.
    pub free: bool,
}

/// One purchase of the basket.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct PackFigures {
    /// The item's name.
    pub name: String,
    /// "2 × 500 g" as a text of figures.
    pub packs: Figure,
    /// What these packs cost.
    pub cost: Figure,
    /// What stays in them; `None` where nothing does.
    pub left: Option<Figure>,
    /// How many more batches that makes; `None` where that is none.
    pub more: Option<Figure>,
    /// Whether they are free.
    pub free: bool,
}

/// The frying oil.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct FryFigures {
    /// The oil's name.
    pub oil: String,
    /// What fills the pan.
    pub fill: Figure,
    /// The fill by volume.
    pub fill_volume: Figure,
    /// What the food takes up.
    pub taken_up: Figure,
    /// How many batches a filling serves.
    pub uses: Figure,
    /// What this batch is charged with.
    pub used: Figure,
    /// How deep.
    pub depth: Figure,
}

/// A caution.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct CautionText {
    /// Its id, such as `hot-oil`.
    pub id: String,
    /// A short heading.
    pub title: String,
    /// The caution, with its published temperatures and times.
    pub text: String,
    /// That it is general information and that local rules and licensed practice come first.
    pub general: String,
    /// The id of the first step that calls for it; `None` where none does, as where it is told of the whole dish.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub step: Option<String>,
}

/// A step of the method.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct StepFigures {
    /// Its slug.
    pub id: String,
    /// Its number, from 1.
    pub number: Figure,
    /// Its heading.
    pub title: Phrase,
    /// What its card says on screen; the heading where the author says nothing.
    pub card: Phrase,
    /// Its paragraphs.
    pub text: Vec<Phrase>,
    /// Amounts used, with their names, in the order of the text.
    pub uses: Vec<UseFigures>,
    /// Measures that stay as they are: the chips of its card.
    pub measures: Vec<MeasureFigures>,
    /// How long it is left to itself, where that is an hour or more: what a waiting card shows. It is the longest duration on
    /// its card, or in its text if the card tells none.
    pub wait: Option<Figure>,
}

/// An amount used by a step.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct UseFigures {
    /// The line's id.
    pub line: String,
    /// The amount of it used here.
    pub amount: Figure,
    /// The name shown.
    pub name: String,
}

impl UseFigures {
    /// The amount with its name; an amount in words follows it: "chilli flakes, to taste".
    pub fn told(&self) -> Phrase {
        if self.amount.text().contains(char::is_numeric) {
            Phrase::new().figure(&self.amount).author(format!(" {}", self.name))
        } else {
            Phrase::new().author(format!("{}, ", self.name)).figure(&self.amount)
        }
    }
}

/// A measure that stays as it is at any yield.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct MeasureFigures {
    /// What it measures.
    pub dimension: Dimension,
    /// Its shown text.
    pub shown: Figure,
}

/// The formula at one yield of the ratio table.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Rung {
    /// Basis weight, the column's heading.
    pub basis: Option<Figure>,
    /// How many it makes: "12 rolls".
    pub pieces: Option<Figure>,
    /// The same without what one is called; `None` in sheets that were kept before there was one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub count: Option<Figure>,
    /// Amounts, one list a part in the order of `Sheet::parts`, one amount a line.
    pub amounts: Vec<Vec<Figure>>,
    /// Whether it is the sheet's own yield.
    pub own: bool,
}

/// A worked line: `basis × percent = amount` of one ingredient.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Worked {
    /// A round weight of the basis.
    pub basis: Figure,
    /// What the basis is called.
    pub basis_name: String,
    /// The line's percent.
    pub percent: Figure,
    /// The line's name.
    pub name: String,
    /// What comes out.
    pub amount: Figure,
}

/// What a variant changes, and only that.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct VariantFigures {
    /// Its id.
    pub id: String,
    /// Its title.
    pub title: String,
    /// Lines that change.
    pub changes: Vec<VariantChange>,
    /// The variant's total cost, complete or not as `complete` says.
    pub total: Figure,
    /// The variant's price of one piece.
    pub each: Option<Figure>,
    /// Whether every line of it has a price.
    pub complete: bool,
}

/// A line that a variant changes.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct VariantChange {
    /// The line's id.
    pub line: String,
    /// Name and amount as written.
    pub from: LineFigures,
    /// Name and amount in the variant.
    pub to: LineFigures,
}
