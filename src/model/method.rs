//! The method: an introduction and steps, their text as inlines with every owned number in a brace.

use super::formula::LineRef;
use crate::exact::{Exact, Range};
use crate::span::{Span, Spanned};

/// What follows the front matter.
#[derive(Clone, Debug, Default)]
pub struct Method {
    /// Paragraphs before the first step.
    pub intro: Vec<Vec<Inline>>,
    /// Steps in order.
    pub steps: Vec<Step>,
}

/// One `##` heading and what follows.
#[derive(Clone, Debug)]
pub struct Step {
    /// A slug of the heading, unique in the recipe.
    pub id: String,
    /// The heading.
    pub title: Vec<Inline>,
    /// What its card says on screen: the block quotes, if any.
    pub card: Option<Vec<Inline>>,
    /// Its paragraphs and list items, without markup.
    pub text: Vec<Vec<Inline>>,
    /// Where the heading stands.
    pub span: Span,
}

/// A run of author text or a brace.
#[derive(Clone, Debug)]
pub enum Inline {
    /// Author text, as written.
    Text(String),
    /// A number that the tool owns.
    Brace(Spanned<Brace>),
}

/// What stands in braces.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Brace {
    /// A line's amount, percent or name, or a share of it.
    Line(LineUse),
    /// The total of a part that no line takes: a side part or the main one.
    Part(PartUse),
    /// A measure that stays as it is at any yield.
    Measure(Range),
    /// A result.
    Outcome(Outcome),
}

/// A use of a line in the text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LineUse {
    /// Which line.
    pub line: LineRef,
    /// How much of it.
    pub share: Share,
    /// What of it is said.
    pub field: Field,
}

/// A use of a whole part in the text: its total, with its title as the name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PartUse {
    /// Index of the part.
    pub part: usize,
    /// How much of it.
    pub share: Share,
    /// What of it is said; never the percent.
    pub field: Field,
}

/// How much of a line a brace takes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Share {
    /// All of it.
    Whole,
    /// A fraction of it, above 0 and at most 1.
    Fraction(Exact),
    /// What shares before it, in the order of the method, have left.
    Remaining {
        /// The fraction that is left, above 0.
        left: Exact,
    },
}

/// What a brace says of a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Field {
    /// Amount and name: "180 g water".
    AmountAndName,
    /// The amount alone.
    Amount,
    /// The percent alone.
    Percent,
    /// The name alone.
    Name,
    /// The household measure, or the amount where there is none.
    Household,
}

/// A result that a brace may name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// `{pieces}`: "10–12 fritters".
    Pieces,
    /// `{each}`: raw weight of one piece.
    Each,
    /// `{cost}`: the total.
    Cost,
    /// `{cost each}`: the price of one piece.
    CostEach,
    /// `{hydration}`: nominal hydration.
    Hydration,
    /// `{batch}`: the basis weight.
    Batch,
}
