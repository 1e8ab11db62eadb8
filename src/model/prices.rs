//! The price book: one dated purchase a line.

use crate::exact::Exact;
use crate::span::Span;
use jiff::civil::Date;
use std::collections::BTreeMap;

/// What a purchase was of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Pack {
    /// Grams as bought.
    Weight(Exact),
    /// Millilitres.
    Volume(Exact),
    /// A count.
    Count(Exact),
}

/// One line of `prices.csv`.
#[derive(Clone, Debug)]
pub struct Purchase {
    /// The day.
    pub date: Date,
    /// The pantry key.
    pub item: String,
    /// The pack.
    pub pack: Pack,
    /// The pack as written, such as `500 g`.
    pub pack_text: String,
    /// The price of the pack in the currency's major unit, zero for what is free.
    pub price: Exact,
    /// Where it was bought; may be empty.
    pub place: String,
    /// A remark; may be empty.
    pub note: String,
    /// Where the line stands.
    pub span: Span,
}

/// Purchases by item, each item's by day and, within a day, in the order of the file.
#[derive(Clone, Debug, Default)]
pub struct PriceBook {
    /// Purchases by pantry key.
    pub by_item: BTreeMap<String, Vec<Purchase>>,
}

impl PriceBook {
    /// The item's latest purchase on or before `day`; of several on that day, the line further down.
    pub fn latest(&self, item: &str, day: Date) -> Option<&Purchase> {
        self.by_item.get(item)?.iter().rev().find(|p| p.date <= day)
    }

    /// The day of the book's latest purchase.
    pub fn last_day(&self) -> Option<Date> {
        self.by_item.values().filter_map(|list| list.last()).map(|p| p.date).max()
    }
}
