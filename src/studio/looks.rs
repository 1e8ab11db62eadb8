//! What the page shows, as data: the channel, one recipe as it is asked for, the price book. Texts are those of the sheet.
//! Must not know how anything is drawn or written.

use super::bench::{Bench, Good};
use super::picture::Wish;
use super::reply::finding;
use super::state::Studio;
use crate::desk::{Fault, LOCALES, Ledger, kept, no_such, seen, today};
use crate::diag::Findings;
use crate::locale::Locale;
use crate::model::Frame;
use crate::sheet::{PriceFigures, Shelf, history, price_list};
use crate::slate::Asked;
use serde_json::{Value, json};

/// The channel, its recipes and what is wrong.
pub(super) fn state(studio: &Studio) -> Value {
    let bench = studio.bench();
    let (told, looked) = bench.problems();
    let problems: Vec<Value> = told.0.sorted().iter().map(|found| finding(found, &told.1)).collect();
    let good = bench.good().ok();
    let paths: Vec<&str> = bench.sources.paths().collect();
    let begun = good.is_some() || bench.sources.file("channel.toml").is_some() || !bench.sources.recipes().is_empty();
    let places = LOCALES.iter().map(|place| {
        json!({ "locale": place.locale, "name": place.name, "currency": place.currency, "measures": place.measures })
    });
    json!({
        "version": bench.version,
        "begun": begun,
        "broken": bench.broken(),
        "looked": looked,
        "channel": good.map(|good| channel(good)),
        "recipes": recipes(&bench, good.map(AsRef::as_ref)),
        "problems": problems,
        "paths": paths,
        "out": studio.out.display().to_string(),
        "folder": studio.home.content.display().to_string(),
        "today": today().to_string(),
        "places": places.collect::<Vec<_>>(),
    })
}

fn channel(good: &Good) -> Value {
    let model = &good.channel.content.channel;
    let items = good.channel.content.pantry.items.values().map(|item| json!({ "key": item.key, "name": item.name }));
    json!({
        "name": model.name,
        "locale": model.locale,
        "currency": model.currency.code(),
        "frames": model.frames.iter().map(frame).collect::<Vec<_>>(),
        "items": items.collect::<Vec<_>>(),
    })
}

fn frame(frame: &Frame) -> Value {
    json!({ "id": frame.id, "width": frame.width, "height": frame.height, "safe": frame.safe })
}

/// Every recipe as written; one that can't be resolved by its folder alone.
fn recipes(bench: &Bench, good: Option<&Good>) -> Vec<Value> {
    let as_written = Asked::default();
    let one = |id: &String| {
        let sheet = good.and_then(|good| good.sheet(id, &as_written).ok());
        match sheet {
            Some(resolved) => {
                let sheet = &resolved.sheet;
                json!({
                    "id": id,
                    "title": sheet.title,
                    "makes": sheet.yields.pieces,
                    "total": sheet.cost.total,
                    "each": sheet.cost.each,
                    "complete": sheet.cost.complete,
                    "priced": !sheet.cost.lines.is_empty(),
                })
            }
            None => json!({ "id": id, "title": id }),
        }
    };
    bench.sources.recipes().iter().map(one).collect()
}

/// One recipe as it is asked for: everything that its sheet shows, and the names of its cards.
pub(super) fn view(studio: &Studio, wish: &Wish) -> Result<Value, Fault> {
    let bench = studio.bench();
    let good = bench.good()?;
    let resolved = good.sheet(&wish.recipe, &wish.asked)?;
    let deck = good.deck(wish)?;
    let cards: Vec<Value> = deck
        .iter()
        .map(|card| json!({ "name": card.plain_name(), "number": card.name, "says": card.scene.texts() }))
        .collect();
    let recipe = good.channel.recipe(&wish.recipe)?;
    let variants = recipe.variants.iter().map(|variant| json!({ "id": variant.id, "title": variant.title }));
    let (mut texts, mut found) = (good.channel.texts.clone(), Findings::new());
    let takes = kept(&studio.home, &wish.recipe, &mut texts, &mut found);
    let takes: Vec<Value> =
        takes.iter().map(|kept| json!({ "name": kept.name, "asked": kept.slate.take.asked.to_string() })).collect();
    let mut sheet = serde_json::to_value(&resolved.sheet).unwrap_or_default();
    // These are long, and nothing on the page shows them.
    if let Some(object) = sheet.as_object_mut() {
        object.remove("ladder");
        object.remove("intro");
    }
    let document = good.channel.document(&wish.recipe, &wish.asked)?;
    let items = document["lines"].as_array().map_or(&[][..], Vec::as_slice);
    let items = items.iter().map(|line| json!({ "id": line["id"], "item": line["item"], "name": line["name"] }));
    let oil = recipe
        .fry
        .as_ref()
        .map(|fry| json!({ "id": "fry.oil", "item": fry.oil, "name": resolved.sheet.fry.as_ref().map(|f| &f.oil) }));
    Ok(json!({
        "version": bench.version,
        "sheet": sheet,
        "cards": cards,
        "variants": variants.collect::<Vec<_>>(),
        "lines": items.chain(oil).collect::<Vec<_>>(),
        "takes": takes,
        "captions": super::work::captions(studio, &wish.recipe).map(|(name, _)| name),
    }))
}

/// What things cost, or every purchase of one; and what the book was seen to hold.
pub(super) fn prices(studio: &Studio, item: Option<&str>) -> Result<Value, Fault> {
    let ledger = Ledger::open(&studio.home)?;
    let book = &ledger.book;
    let locale =
        Locale::new(&book.channel.locale, &book.channel.language).map_err(|why| Fault::Request(why.to_string()))?;
    let day = book.prices.last_day().unwrap_or_else(today);
    let shelf = Shelf { book, locale: &locale, day };
    let rows = match item {
        Some(item) if book.prices.by_item.contains_key(item) => history(shelf, item),
        Some(item) if book.pantry.get(item).is_some() => Vec::new(),
        Some(item) => {
            let known: Vec<String> = book.pantry.items.keys().cloned().collect();
            return Err(Fault::Request(no_such("item", item, &known)));
        }
        None => price_list(shelf),
    };
    Ok(json!({
        "seen": seen(ledger.own_text().map(str::as_bytes)),
        "rows": rows.iter().map(row).collect::<Vec<_>>(),
    }))
}

fn row(row: &PriceFigures) -> Value {
    json!({
        "item": row.item,
        "name": row.name,
        "pack": row.pack,
        "price": row.price,
        "unit": row.per_unit,
        "bought": row.bought,
        "age": row.age,
        "change": row.change,
        "place": row.place,
        "note": row.note,
        "offer": row.offer,
        "free": row.free,
        "stale": row.stale,
    })
}
