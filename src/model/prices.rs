//! The price book: one dated purchase a line.

use crate::exact::{Exact, Unit};
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
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Purchase {
    /// The day.
    pub date: Date,
    /// The pantry key.
    pub item: String,
    /// The pack.
    pub pack: Pack,
    /// The pack as written, such as `500 g` or `6 x 330 mL`.
    pub pack_text: String,
    /// How many of one make up the pack: six of `6 x 330 mL`, else one.
    pub times: Exact,
    /// The unit written; `None` for a count.
    pub unit: Option<Unit>,
    /// The price of the pack in the currency's major unit, zero for what is free.
    pub price: Exact,
    /// Where it was bought; may be empty.
    pub place: String,
    /// A remark; may be empty.
    pub note: String,
    /// Where the line stands.
    pub span: Span,
}

/// What a remark begins with that marks a price as an offer, in the languages of the wording.
const OFFER_MARKS: [&str; 4] = ["on offer", "en promotion", "en promo", "im angebot"];

impl Purchase {
    /// Whether its note says that it was on offer: one of the remarks between its commas or semicolons begins with
    /// `on offer`, `en promotion`, `en promo` or `im Angebot`, in any case.
    pub fn is_offer(&self) -> bool {
        let begins = |remark: &str, mark: &str| {
            remark.strip_prefix(mark).is_some_and(|rest| !rest.starts_with(char::is_alphanumeric))
        };
        self.note.split([',', ';']).any(|remark| {
            let remark = remark.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
            OFFER_MARKS.iter().any(|mark| begins(&remark, mark))
        })
    }
}

/// Whether prices on offer hold.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Offers {
    /// They hold like any other.
    #[default]
    Count,
    /// They are left out, as a viewer won't find them.
    LeaveOut,
}

/// Purchases by item, each item's by day and, within a day, in the order of the file.
#[derive(Clone, Debug, Default)]
pub struct PriceBook {
    /// Purchases by pantry key.
    pub by_item: BTreeMap<String, Vec<Purchase>>,
    /// Whether those on offer hold.
    pub offers: Offers,
    /// The last day of the whole book, where this is a part of one.
    pub until: Option<Date>,
}

impl PriceBook {
    /// The item's latest purchase on or before `day`; of several on that day, the line further down.
    /// Offers are passed over where the channel leaves them out.
    pub fn latest(&self, item: &str, day: Date) -> Option<&Purchase> {
        self.back_from(item, day).next()
    }

    /// The item's purchases that may hold on `day`, the latest first: the first one holds.
    pub fn back_from<'b>(&'b self, item: &str, day: Date) -> impl Iterator<Item = &'b Purchase> + use<'b> {
        let list = self.by_item.get(item).map_or(&[][..], Vec::as_slice);
        let offers = self.offers;
        list.iter().rev().filter(move |p| p.date <= day && (offers == Offers::Count || !p.is_offer()))
    }

    /// The day of the book's latest purchase.
    pub fn last_day(&self) -> Option<Date> {
        self.by_item.values().filter_map(|list| list.last()).map(|p| p.date).max().max(self.until)
    }

    /// Of these items the purchases that hold on `day` (the book's last if `None`); the last day stays that of the whole.
    pub fn only<'k>(&self, items: impl Iterator<Item = &'k String>, day: Option<Date>) -> Self {
        let until = self.last_day();
        let held = |item: &String| Some((item.clone(), vec![self.latest(item, day.or(until)?)?.clone()]));
        Self { by_item: items.filter_map(held).collect(), offers: self.offers, until }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::span::SourceId;

    #[test]
    fn a_remark_of_the_note_marks_an_offer() {
        let offer = |note: &str| {
            let purchase = Purchase {
                date: jiff::civil::date(2026, 1, 5),
                item: "salt".to_owned(),
                pack: Pack::Weight(Exact::from(500)),
                pack_text: "500 g".to_owned(),
                times: Exact::one(),
                unit: Some(Unit::Gram),
                price: Exact::one(),
                place: String::new(),
                note: note.to_owned(),
                span: Span::new(SourceId(0), 0, 0),
            };
            purchase.is_offer()
        };
        for note in ["on offer", "On  Offer", "one bunch, on offer until Sunday", "im Angebot", "bio; en promo"] {
            assert!(offer(note), "{note}");
        }
        for note in ["", "not on offer", "on offers board", "special offer", "promo"] {
            assert!(!offer(note), "{note}");
        }
    }
}
