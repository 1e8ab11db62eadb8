//! The formula of a recipe: parts, lines, amounts, frying and variants, as written and checked.
//!
//! Checked here means: every key is known, parts form no circle, every percent has a basis,
//! volume lines have a density and counted lines an `each`; so scaling can't fail on facts.

use super::facts::Claim;
use super::method::Method;
use crate::exact::Exact;
use crate::span::{SourceId, Span, Spanned};

/// How many a batch makes, and what one is called.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Makes {
    /// The lower count.
    pub low: u32,
    /// The upper count, by which everything is reckoned.
    pub high: u32,
    /// What one is called.
    pub one: String,
    /// What several are called.
    pub many: String,
}

/// `recipe.md`, checked.
#[derive(Clone, Debug)]
pub struct Recipe {
    /// The folder's name.
    pub id: String,
    /// The file it was read from.
    pub source: SourceId,
    /// Its title in this run's language.
    pub title: Spanned<String>,
    /// How many it makes.
    pub makes: Option<Spanned<Makes>>,
    /// Written weight of the main part's basis, in grams.
    pub batch: Option<Spanned<Exact>>,
    /// The claims made, to be verified against the pantry.
    pub diet: Vec<Spanned<Claim>>,
    /// What baking or handling takes off the raw weight, as a share from 0 up to below 1.
    pub loss: Option<Exact>,
    /// Parts in the order written; never empty.
    pub parts: Vec<Part>,
    /// Index of the main part: the last that no other takes.
    pub main: usize,
    /// How it is fried.
    pub fry: Option<Fry>,
    /// What runs for the written batch; empty where nothing is stated.
    pub energy: Vec<Appliance>,
    /// What the shop asks for the same thing.
    pub compare: Option<Compare>,
    /// Its video.
    pub video: Option<Video>,
    /// Basis weights in grams that the ratio table is to show; empty for the usual ones.
    pub ratio: Vec<Exact>,
    /// Variants in the order written.
    pub variants: Vec<Variant>,
    /// The method.
    pub method: Method,
}

/// One table of lines.
#[derive(Clone, Debug)]
pub struct Part {
    /// Its id; `main` for a formula without parts.
    pub id: String,
    /// Its title, for parts that have one.
    pub title: Option<String>,
    /// What is 100 % in it.
    pub basis: Basis,
    /// Raw weight of this part in one piece, in grams.
    pub each: Option<Spanned<Exact>>,
    /// Lines in the order they are weighed.
    pub lines: Vec<Line>,
    /// Where the table stands.
    pub span: Span,
}

/// Which lines of a part are 100 % together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Basis {
    /// Indices into the part's lines; never empty.
    Lines(Vec<usize>),
    /// Nothing is: every line is a weight, a volume, a count or to taste.
    None,
}

/// A line's place in a recipe.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct LineRef {
    /// Index of the part.
    pub part: usize,
    /// Index of the line in it.
    pub line: usize,
}

/// What a line adds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Subject {
    /// A pantry item, by key.
    Item(String),
    /// Another part, by index.
    Part(usize),
}

/// One line of a formula. Its id is `PART.KEY`.
#[derive(Clone, Debug)]
pub struct Line {
    /// Its key: the brace name.
    pub key: String,
    /// What it adds.
    pub subject: Subject,
    /// How much.
    pub amount: Spanned<Amount>,
    /// A name of its own, where the line gives one different from the item's.
    pub name: Option<String>,
    /// A remark such as "finely chopped".
    pub note: Option<String>,
    /// Whether it stays as it is at any yield.
    pub fixed: bool,
    /// Where the line stands.
    pub span: Span,
}

/// How much of a line, all counted by the upper end where it is a range (`low` is the lower end).
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Amount {
    /// Percent of the basis of its own part.
    Percent {
        /// Percent, above zero.
        value: Exact,
        /// Lower end of a range.
        low: Option<Exact>,
    },
    /// A weight in grams.
    Weight {
        /// Grams, above zero.
        value: Exact,
        /// Lower end of a range.
        low: Option<Exact>,
    },
    /// A volume in millilitres; `unit` is the unit written, shown again where it still fits.
    Volume {
        /// Millilitres, above zero.
        value: Exact,
        /// Lower end of a range.
        low: Option<Exact>,
        /// The unit written.
        unit: crate::exact::Unit,
    },
    /// A bare count of the item.
    Count {
        /// How many, above zero.
        value: Exact,
        /// Lower end of a range.
        low: Option<Exact>,
    },
    /// All of another part.
    All,
    /// Neither weighed nor costed.
    ToTaste,
}

/// An appliance that runs for the written batch.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Appliance {
    /// What it is called, where there are several.
    pub name: Option<String>,
    /// Kilowatt-hours, above zero: W × h × duty / 1000.
    pub kwh: Exact,
    /// Where it stands.
    pub span: Span,
}

/// The same thing ready-made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Compare {
    /// The price of a pack in the channel's currency.
    pub price: Exact,
    /// What the pack holds.
    pub size: Portion,
    /// The day the price was seen.
    pub bought: jiff::civil::Date,
    /// Where it stands.
    pub span: Span,
}

/// Where a recipe's video is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Video {
    /// Its address.
    pub url: String,
    /// The address of a moment, `{seconds}` for the seconds from the start; `None` for the address with a fragment.
    pub moment: Option<String>,
    /// The day it was published.
    pub published: jiff::civil::Date,
    /// The day its description was last corrected, not before it was published.
    pub corrected: Option<jiff::civil::Date>,
    /// Seconds it lasts.
    pub length: Option<Exact>,
}

/// What a ready-made pack holds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Portion {
    /// So many pieces.
    Pieces(Exact),
    /// Grams.
    Weight(Exact),
}

/// The frying pan's inside.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Pan {
    /// A round pan by its diameter in millimetres.
    Round(Exact),
    /// A rectangular pan by its sides in millimetres.
    Rect(Exact, Exact),
}

/// How a recipe is fried.
#[derive(Clone, Debug)]
pub struct Fry {
    /// The oil, a pantry key whose item has a density.
    pub oil: String,
    /// The pan.
    pub pan: Pan,
    /// Depth of the oil in millimetres.
    pub depth: Exact,
    /// Oil taken up as a share of the raw weight fried.
    pub takes_up: Exact,
    /// How many batches one filling serves, at least 1.
    pub uses: Exact,
    /// Where the table stands.
    pub span: Span,
}

/// A variant: the same lines with some swapped or reset.
#[derive(Clone, Debug)]
pub struct Variant {
    /// Its id.
    pub id: String,
    /// Its title in this run's language.
    pub title: String,
    /// Lines that carry another item.
    pub swap: Vec<(LineRef, String)>,
    /// Lines that carry another amount.
    pub set: Vec<(LineRef, Spanned<Amount>)>,
    /// Where the table stands.
    pub span: Span,
}

impl Recipe {
    /// The line at `at`.
    pub fn line(&self, at: LineRef) -> &Line {
        &self.parts[at.part].lines[at.line]
    }

    /// The id of the line at `at`: `PART.KEY`.
    pub fn line_id(&self, at: LineRef) -> String {
        format!("{}.{}", self.parts[at.part].id, self.line(at).key)
    }

    /// Indices of the main part and all it takes, in the order written.
    pub fn opened(&self) -> Vec<usize> {
        let mut found = vec![self.main];
        let mut next = 0;
        while let Some(&part) = found.get(next) {
            next += 1;
            for line in &self.parts[part].lines {
                if let Subject::Part(taken) = line.subject
                    && !found.contains(&taken)
                {
                    found.push(taken);
                }
            }
        }
        found.sort_unstable();
        found
    }

    /// Keys of all the pantry items that it names, variants and the frying oil included; some of them more than once.
    pub fn items(&self) -> impl Iterator<Item = &str> {
        let lines = self.parts.iter().flat_map(|part| &part.lines).filter_map(|line| match &line.subject {
            Subject::Item(key) => Some(key),
            Subject::Part(_) => None,
        });
        let swapped = self.variants.iter().flat_map(|variant| &variant.swap).map(|(_, key)| key);
        lines.chain(swapped).chain(self.fry.as_ref().map(|fry| &fry.oil)).map(String::as_str)
    }

    /// Every line's place, in the order written.
    pub fn line_refs(&self) -> impl Iterator<Item = LineRef> + '_ {
        self.parts.iter().enumerate().flat_map(|(part, p)| (0..p.lines.len()).map(move |line| LineRef { part, line }))
    }
}
