//! The demo channel's cards in every theme, language and shape of frame: no number that is not on the sheet, no paint
//! outside the safe area, and pixels that an outside renderer makes of the SVG as well.

#[path = "outside/pixels.rs"]
mod outside;
mod texts;

use outside::{distance, rsvg};
use rayon::prelude::*;
use std::path::Path;
use tallyspoon::cards::{Card, deck};
use tallyspoon::cue::{self, Lane};
use tallyspoon::diag::Findings;
use tallyspoon::draw::{Node, Raster, Rect, to_pixels, to_svg};
use tallyspoon::locale::{Language, Locale};
use tallyspoon::model::{Content, Frame, Insets, Options, load};
use tallyspoon::sheet::{Inputs, Request, Sheet, resolve};
use tallyspoon::source::Sources;
use tallyspoon::span::Spanned;
use tallyspoon::theme::{self, Theme};
use texts::{numbers, strange};

fn content(language: &str) -> Content {
    let sources = Sources::read(Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/content")));
    let (content, _) = load(&sources, &Options { language: Some(language.to_owned()) });
    content.expect("the demo channel is sound")
}

fn sheets(content: &Content, locale: &Locale) -> Vec<Sheet> {
    let sheet = |recipe| {
        let (channel, pantry, book) = (&content.channel, &content.pantry, &content.prices);
        let inputs = Inputs { channel, pantry, book, recipe, locale };
        resolve(inputs, &Request::default()).expect("the demo resolves").sheet
    };
    content.recipes.iter().map(sheet).collect()
}

fn load_theme(content: &Content, name: &str) -> Theme {
    let choice = Spanned::new(name.to_owned(), content.channel.theme.span);
    theme::load(&choice, None, &mut Findings::new()).expect("a built-in theme")
}

/// The channel's frames, a square, and one of twice the pixels.
fn frames(content: &Content) -> Vec<Frame> {
    let frame = |id: &str, width: u32, height: u32, part: u32| Frame {
        id: id.to_owned(),
        width,
        height,
        safe: Insets { top: height / part, right: width / part, bottom: height / part, left: width / part },
        ..content.channel.frames[0].clone()
    };
    let mut frames = content.channel.frames.clone();
    frames.extend([frame("square", 1080, 1080, 20), frame("large", 3840, 2160, 20)]);
    frames
}

/// Holds every deck of the channel to `check`: each recipe in every language and theme, on every frame. `place` names it.
fn every_deck(check: impl Fn(&[Card], &Sheet, &Frame, &str) + Sync) {
    for language in Language::ALL.map(Language::code) {
        let content = content(language);
        let locale = Locale::new(&content.channel.locale, language).expect("a locale");
        let sheets = sheets(&content, &locale);
        for name in theme::NAMES {
            let theme = load_theme(&content, name);
            for frame in &frames(&content) {
                sheets.par_iter().for_each(|sheet| {
                    let place = format!("{language} {name} {} {}", frame.id, sheet.recipe);
                    let cards = deck(sheet, &theme, frame, &locale).unwrap_or_else(|why| panic!("{place}: {why:?}"));
                    check(&cards, sheet, frame, &place);
                });
            }
        }
    }
}

#[test]
fn no_card_shows_a_number_that_is_not_on_the_sheet_or_leaves_the_safe_area() {
    every_deck(|cards, sheet, frame, place| cards.iter().for_each(|card| honest(card, sheet, frame, place)));
}

/// What may be on screen at once stands apart: a step's card or a caution below, amounts and waits above. On a square, where
/// there is no room for it, a caution lies over them.
/// A weight in a column of money is taken for a part of it.
#[test]
fn the_totals_tell_what_the_oil_costs_and_how_much_of_it_that_is() {
    every_deck(|cards, sheet, _, place| {
        let Some(fry) = &sheet.fry else { return };
        let cost = sheet.cost.lines.iter().find(|line| line.id == "fry.oil").expect("the oil has a price").cost.text();
        let totals = cards.iter().filter(|card| card.plain_name().starts_with("totals"));
        // Spaces that no line breaks at are spaces here.
        let plain = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
        let said: Vec<String> = totals.flat_map(|card| card.scene.texts()).map(|text| plain(&text)).collect();
        let told = |text: &String| text.contains(&plain(cost)) && text.contains(&plain(fry.used.text()));
        assert!(said.iter().any(told), "{place}: {said:?}");
    });
}

#[test]
fn cards_that_may_be_shown_at_once_do_not_cross() {
    every_deck(|cards, sheet, frame, place| {
        let named = cue::cards(sheet);
        let lane = |card: &Card| cue::card_of(card.plain_name(), &named).expect("a card of the recipe").lane();
        let on_lanes: Vec<(Lane, &Card)> =
            cards.iter().map(|card| (lane(card), card)).filter(|(lane, _)| *lane != Lane::WeighOut).collect();
        for (at, (lane, card)) in on_lanes.iter().enumerate() {
            for (other_lane, other) in &on_lanes[at + 1..] {
                let is_square = frame.width == frame.height;
                let warns = is_square && [lane, other_lane].contains(&&Lane::Cautions);
                if lane == other_lane || lane.hides(*other_lane) || warns {
                    continue;
                }
                let common = plate(card).intersection(&plate(other));
                assert!(common.w <= 0.0 || common.h <= 0.0, "{place}: {} on {}", card.name, other.name);
            }
        }
    });
}

fn plate(card: &Card) -> Rect {
    let Some(plate @ Node::Art { .. }) = card.scene.nodes.first() else { panic!("{}: no plate", card.name) };
    plate.bounds()
}

fn honest(card: &Card, sheet: &Sheet, frame: &Frame, place: &str) {
    let texts = card.scene.nodes.iter().filter_map(|node| match node {
        Node::Text { block, .. } => Some(block.text()),
        _ => None,
    });
    // Joiners and spaces that hold a figure together belong to no number.
    let text = texts.collect::<Vec<_>>().join("\n").replace('\u{2060}', "").replace('\u{a0}', " ");
    let text = text.replace('\u{2044}', "/");
    assert_eq!(strange(&text, sheet), Vec::<String>::new(), "{place} {}: {text}", card.name);
    let counts = ["weigh-out", "reveal", "step", "wait", "cost", "ratio"];
    if counts.iter().any(|kind| card.name.contains(kind)) {
        assert!(!numbers(&text).is_empty(), "{place} {}: {text}", card.name);
    }
    let (paint, safe) = (card.scene.bounds(), frame.safe);
    let within = paint.x >= (safe.left + 1) as f32
        && paint.y >= (safe.top + 1) as f32
        && paint.right() <= (frame.width - safe.right - 1) as f32
        && paint.bottom() <= (frame.height - safe.bottom - 1) as f32;
    assert!(within, "{place} {}: {paint:?}", card.name);
}

/// One card of each kind: what its name says before the number or line that it is of.
fn one_of_each(cards: Vec<Card>) -> Vec<Card> {
    let kind = |card: &Card| card.name.split('-').nth(1).unwrap_or_default().to_owned();
    let mut kinds = Vec::new();
    let first = |card: &Card| {
        let kind = kind(card);
        let new = !kinds.contains(&kind);
        kinds.push(kind);
        new
    };
    cards.into_iter().filter(first).collect()
}

#[test]
fn an_outside_renderer_makes_the_same_pixels_of_every_kind_of_card() {
    let content = content("en");
    let locale = Locale::new(&content.channel.locale, "en").expect("a locale");
    let (sheets, frames) = (sheets(&content, &locale), frames(&content));
    for name in theme::NAMES {
        let theme = load_theme(&content, name);
        let mut cards = Vec::new();
        for (index, frame) in frames.iter().enumerate() {
            // Each frame on another recipe, and all of them on the first frame.
            let some = if index == 0 { &sheets[..] } else { &sheets[index % sheets.len()..][..1] };
            for sheet in some {
                let deck = deck(sheet, &theme, frame, &locale).expect("a deck");
                cards.extend(one_of_each(deck).into_iter().map(|card| (frame.id.as_str(), &sheet.recipe, card)));
            }
        }
        assert!(cards.len() > 40, "{}", cards.len());
        let differing: Vec<String> = cards
            .par_iter()
            .filter_map(|(frame, recipe, card)| {
                let found = distance(&drawn(card), &rsvg(&to_svg(&card.scene)));
                (!found.same()).then(|| format!("{name} {frame} {recipe} {}: {found:?}", card.name))
            })
            .collect();
        assert_eq!(differing, Vec::<String>::new());
    }
}

/// The measure sees the next line's mark and amount on a real card.
#[test]
fn a_card_is_told_from_its_neighbour() {
    let content = content("en");
    let locale = Locale::new(&content.channel.locale, "en").expect("a locale");
    let sheets = sheets(&content, &locale);
    let sheet = &sheets[0];
    for name in theme::NAMES {
        let theme = load_theme(&content, name);
        let cards = deck(sheet, &theme, &content.channel.frames[0], &locale).expect("a deck");
        let reveals: Vec<&Card> = cards.iter().filter(|card| card.name.contains("reveal")).collect();
        for pair in reveals.windows(2).take(3) {
            let found = distance(&drawn(pair[0]), &rsvg(&to_svg(&pair[1].scene)));
            assert!(!found.same(), "{name} {} passes for {}: {found:?}", pair[0].name, pair[1].name);
        }
    }
}

fn drawn(card: &Card) -> Raster {
    let mut raster = Raster::new(1, 1).expect("a raster");
    to_pixels(&card.scene, &mut raster).expect("pixels");
    raster
}
