//! The channel: who publishes, in which locale, currency, measures, frames and theme.

use super::Offers;
use crate::exact::{Exact, Measures, Quantity};
use crate::span::Spanned;
use serde::{Deserialize, Serialize};

/// The newest form of sources that is read here, as `schema` of `channel.toml` says it. Form 1 is the first.
pub const SCHEMA: u32 = 1;

/// Whose list of allergens holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Region {
    /// European Union, Regulation 1169/2011 Annex II.
    Eu,
    /// United States, FALCPA and the FASTER Act.
    Us,
    /// Canada, Food and Drug Regulations B.01.010.1.
    Ca,
    /// Australia and New Zealand, Standard 1.2.3.
    Anz,
}

impl Region {
    /// Its id in the sources.
    pub fn id(self) -> &'static str {
        match self {
            Self::Eu => "eu",
            Self::Us => "us",
            Self::Ca => "ca",
            Self::Anz => "anz",
        }
    }
}

/// `channel.toml`, checked.
#[derive(Clone, Debug)]
pub struct Channel {
    /// The channel's name as shown on cards.
    pub name: String,
    /// BCP 47 tag, such as `en-IE`.
    pub locale: String,
    /// The language of this run's wording: ISO 639 code, such as `en`.
    pub language: String,
    /// ISO 4217 currency.
    pub currency: iso_currency::Currency,
    /// Whose spoons and cups.
    pub measures: Measures,
    /// Whose allergen list.
    pub region: Region,
    /// The theme's folder name.
    pub theme: Spanned<String>,
    /// The least weight the kitchen scale can tell apart; its unit is the unit amounts are shown in.
    pub scale: Quantity,
    /// After how many days a price is old; `None` where the channel sets no limit.
    pub stale_after: Option<i64>,
    /// Whether prices on offer hold.
    pub offers: Offers,
    /// The price of a kilowatt-hour in the currency's major unit; `None` where the channel gives none.
    pub tariff: Option<Exact>,
    /// The frames that cards are made for, in the order written.
    pub frames: Vec<Frame>,
    /// Where its pages will be: an address that ends with a slash; `None` where the channel does not say.
    pub site: Option<String>,
    /// Whether notes end with a stamp that a machine finds their recipe by.
    pub stamp: bool,
}

/// One picture size.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Frame {
    /// Its name, such as `wide`.
    pub id: String,
    /// Width in pixels.
    pub width: u32,
    /// Height in pixels.
    pub height: u32,
    /// Frames per second as written, such as `25` or `29.97`.
    pub rate: Option<String>,
    /// Margins of the graphics-safe area in whole pixels, rounded up.
    pub safe: Insets,
}

/// Margins in pixels.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[expect(missing_docs, reason = "each is the margin of its name")]
pub struct Insets {
    pub top: u32,
    pub right: u32,
    pub bottom: u32,
    pub left: u32,
}
