//! Figures of the price book: what holds on a day, its age, what a kilogram or a litre costs, and how that moved.
//! Must not know recipes or outputs.

use super::Figure;
use super::shown::Shown;
use crate::exact::{Exact, Unit};
use crate::locale::Locale;
use crate::measure::eaten_of_pack;
use crate::model::{Book, Pack, Purchase};
use jiff::civil::Date;

/// A price book on a day, as a channel writes it.
#[derive(Clone, Copy)]
pub struct Shelf<'a> {
    /// The channel, its pantry and its prices.
    pub book: &'a Book,
    /// How it writes.
    pub locale: &'a Locale,
    /// The day.
    pub day: Date,
}

/// One purchase as it is shown.
#[derive(Clone, Debug)]
pub struct PriceFigures {
    /// The pantry key.
    pub item: String,
    /// The item's name.
    pub name: String,
    /// What the pack holds.
    pub pack: Figure,
    /// Its price.
    pub price: Figure,
    /// The price of a kilogram or a litre as bought, or of one.
    pub per_unit: Option<Figure>,
    /// The day it was bought.
    pub bought: Figure,
    /// How many days ago that was.
    pub age: Figure,
    /// By how much the same amount became dearer since the purchase before; `None` where there is none, or it was free.
    pub change: Option<Figure>,
    /// Where it was bought; may be empty.
    pub place: String,
    /// A remark; may be empty.
    pub note: String,
    /// Whether it was on offer.
    pub offer: bool,
    /// Whether it is free.
    pub free: bool,
    /// Whether it is older than the channel's limit.
    pub stale: bool,
}

/// Whole days from `date` to `day`.
pub(super) fn age(date: Date, day: Date) -> i64 {
    i64::from((day - date).get_days())
}

/// What holds on the day, item by item in the order of their keys.
pub fn price_list(shelf: Shelf<'_>) -> Vec<PriceFigures> {
    shelf.book.prices.by_item.keys().filter_map(|item| figures(shelf, item).next()).collect()
}

/// Every purchase of an item that may hold on the day, the latest first.
pub fn history(shelf: Shelf<'_>, item: &str) -> Vec<PriceFigures> {
    figures(shelf, item).collect()
}

fn figures<'a>(shelf: Shelf<'a>, item: &str) -> impl Iterator<Item = PriceFigures> + use<'a> {
    let Book { channel, pantry, prices } = shelf.book;
    let shown = Shown::new(shelf.locale, channel);
    let facts = pantry.get(item);
    let mut list = prices.back_from(item, shelf.day).peekable();
    std::iter::from_fn(move || {
        let purchase = list.next()?;
        let per_gram = |purchase: &Purchase| {
            let eaten = eaten_of_pack(facts?, &purchase.pack)?;
            purchase.price.over(&eaten)
        };
        let ratio = list.peek().and_then(|before| per_gram(purchase)?.over(&per_gram(before)?));
        let days = age(purchase.date, shelf.day);
        Some(PriceFigures {
            item: purchase.item.clone(),
            name: facts.map_or_else(|| purchase.item.clone(), |facts| facts.name.clone()),
            pack: shown.pack(purchase),
            price: shown.money(&purchase.price),
            per_unit: per_unit(&shown, purchase),
            bought: shown.date(purchase.date),
            age: shown.days(days),
            change: ratio.map(|ratio| shown.change(&((ratio - Exact::one()) * Exact::from(100)))),
            place: purchase.place.clone(),
            note: purchase.note.clone(),
            offer: purchase.is_offer(),
            free: purchase.price.is_zero(),
            stale: channel.stale_after.is_some_and(|limit| days > limit),
        })
    })
}

/// The price of a kilogram, a litre or one, as bought; a pack of one has nothing to add.
fn per_unit(shown: &Shown<'_>, purchase: &Purchase) -> Option<Figure> {
    let (held, unit) = match &purchase.pack {
        Pack::Weight(grams) => (grams / Exact::from(1000), Some(Unit::Kilogram)),
        Pack::Volume(millilitres) => (millilitres / Exact::from(1000), Some(Unit::Litre)),
        Pack::Count(count) => (count.clone(), None),
    };
    let price = purchase.price.over(&held)?;
    (unit.is_some() || held != Exact::one()).then(|| shown.money_per(&price, unit))
}
