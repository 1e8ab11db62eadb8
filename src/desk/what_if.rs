//! What a price would change: the channel as it is and as it would be, both made in memory and compared.
//! Must not know how anything is made.

use super::book::typed;
use super::channel::{Channel, no_such};
use super::decor::Decor;
use super::publishing::{Known, whole};
use super::request::day;
use super::{Fault, Home};
use crate::diag::sanitise;
use crate::exact::{Exact, parse_number};
use crate::model::{Book, PriceBook, Purchase};
use crate::publish::{self, Tick};
use crate::sheet::{Shelf, history};
use crate::span::Texts;
use jiff::civil::Date;

/// Where a purchase that nobody made is said to be made: at no other purchase's place.
const PLACE: &str = "what if";

/// What is asked about.
#[derive(Clone, Copy, Debug)]
pub struct Question<'a> {
    /// The pantry key.
    pub item: &'a str,
    /// "+15 %", "-10%" or the price of a pack.
    pub change: &'a str,
    /// Another pack than the one that holds.
    pub pack: Option<&'a str>,
    /// The day of the purchase.
    pub on: Option<&'a str>,
}

/// The channel as it would be at another price, and that price told: "if plain flour cost €2.29 for 2 kg instead of …:".
///
/// # Errors
/// An item, a price, a pack or a day that can't be.
pub fn supposed(channel: &Channel, asked: &Question<'_>) -> Result<(Channel, String), Fault> {
    let on = asked.on.map(|text| day("--on", text)).transpose().map_err(Fault::Request)?;
    let prices = &channel.content.prices;
    if channel.content.pantry.get(asked.item).is_none() {
        let known: Vec<String> = channel.content.pantry.items.keys().cloned().collect();
        return Err(Fault::Request(no_such("item", asked.item, &known)));
    }
    let Some(day) = on.or_else(|| prices.last_day()) else {
        return Err(Fault::Request("the price book is empty: give the day with `--on 2026-05-01`".into()));
    };
    let holding = prices.latest(asked.item, day);
    let purchase = purchase(channel, asked, holding, day)?;
    let told = supposition(channel, &purchase, day);
    Ok((channel.with_prices(with(prices, purchase)), told))
}

/// The purchase that is asked about, checked as a line of the book would be.
fn purchase(channel: &Channel, asked: &Question<'_>, holding: Option<&Purchase>, day: Date) -> Result<Purchase, Fault> {
    let price = price(channel, asked, holding)?;
    let pack = asked.pack.or(holding.map(|purchase| purchase.pack_text.as_str())).ok_or_else(|| {
        Fault::Request(format!("`{}` has no price yet: give its pack too, such as `--pack \"500 g\"`", asked.item))
    })?;
    let fields = [&day.to_string(), asked.item, pack, &price, PLACE, ""].map(str::to_owned);
    let mut lines = typed(&book(channel), None, Texts::new(""), &fields)?;
    lines.pop().map(|line| line.purchase).ok_or_else(|| Fault::Request(format!("`{}` is left out", asked.item)))
}

/// The new price as a till would print it: in whole minor units where it follows from a percent.
fn price(channel: &Channel, asked: &Question<'_>, holding: Option<&Purchase>) -> Result<String, Fault> {
    let Some(percent) = asked.change.trim().strip_suffix('%') else { return Ok(asked.change.trim().to_owned()) };
    let bad = || {
        let why = format!("`{}` is no change of price: write `+15%`, `-10%` or the price of a pack", asked.change);
        Fault::Request(why)
    };
    let percent = percent.trim();
    let (sign, number) = match percent.chars().next() {
        Some('+') => (1, &percent[1..]),
        Some('-') => (-1, &percent[1..]),
        Some('−') => (-1, percent.trim_start_matches('−')),
        Some(_) | None => (1, percent),
    };
    let change = parse_number(number).map_err(|_| bad())? * Exact::from(sign) / Exact::from(100);
    let purchase = holding.ok_or_else(|| {
        Fault::Request(format!("`{}` has no price that could change: give one, and its `--pack`", asked.item))
    })?;
    let price = &purchase.price * &(Exact::one() + change);
    if price < Exact::zero() {
        return Err(bad());
    }
    let places = channel.locale.minor_places(channel.content.channel.currency);
    Ok(price.round_places(places).fixed(places))
}

fn book(channel: &Channel) -> Book {
    let content = &channel.content;
    Book { channel: content.channel.clone(), pantry: content.pantry.clone(), prices: content.prices.clone() }
}

/// The book with one more line at its end.
fn with(prices: &PriceBook, purchase: Purchase) -> PriceBook {
    let mut after = prices.clone();
    let list = after.by_item.entry(purchase.item.clone()).or_default();
    list.push(purchase);
    list.sort_by_key(|purchase| purchase.date);
    after
}

/// "if plain flour cost €2.29 for 2 kg instead of €1.99 for 2 kg from 2026-06-13:".
fn supposition(channel: &Channel, purchase: &Purchase, day: Date) -> String {
    let before = book(channel);
    let after = Book { prices: with(&before.prices, purchase.clone()), ..before.clone() };
    let latest = |book: &Book| {
        let shelf = Shelf { book, locale: &channel.locale, day };
        history(shelf, &purchase.item).into_iter().next()
    };
    let told = |row: &crate::sheet::PriceFigures| format!("{} for {}", row.price.text(), row.pack.text());
    let was = latest(&before).map_or(String::new(), |row| format!(" instead of {}", told(&row)));
    let now = latest(&after).map_or(String::new(), |row| format!("{} cost {}", row.name, told(&row)));
    sanitise(&format!("if {now}{was} from {day} on:"))
}

/// Every recipe, card and note that differs between two channels made with the same decor; nothing is written.
///
/// # Errors
/// What can't be made of either.
pub fn compared(
    home: &Home,
    decor: &Decor,
    before: &Channel,
    after: &Channel,
    tick: &(dyn Fn(Tick) + Sync),
) -> Result<publish::Report, Fault> {
    let (old, new) = (before.sheets()?, after.sheets()?);
    let (known_old, known_new) = (Known::of(home, before, &old)?, Known::of(home, after, &new)?);
    let report = whole((before, decor), &old, &known_old, |works_old, beside_old| {
        whole((after, decor), &new, &known_new, |works_new, beside_new| {
            publish::compare((works_old, beside_old), (works_new, beside_new), tick)
        })
    });
    report.map_err(|findings| Fault::Findings(findings, decor.texts.clone()))
}
