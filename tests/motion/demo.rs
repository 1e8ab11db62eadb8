//! The demo channel's cards as they move.

use std::path::Path;
use tallyspoon::cards::{Card, moving_deck};
use tallyspoon::diag::Findings;
use tallyspoon::locale::Locale;
use tallyspoon::model::{Content, Frame, Options, load};
use tallyspoon::motion::COUNTED;
use tallyspoon::sheet::{Figure, Inputs, Request, Sheet, countdown, resolve};
use tallyspoon::source::Sources;
use tallyspoon::span::Spanned;
use tallyspoon::theme::{self, Theme};

pub fn content(language: &str) -> Content {
    let sources = Sources::read(Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/content")));
    let (content, _) = load(&sources, &Options { language: Some(language.to_owned()) });
    content.expect("the demo channel is sound")
}

pub fn locale(content: &Content, language: &str) -> Locale {
    Locale::new(&content.channel.locale, language).expect("a locale")
}

/// Every recipe's sheet and what is left of its waits.
pub fn sheets(content: &Content, locale: &Locale) -> Vec<(Sheet, Vec<Vec<Figure>>)> {
    let sheet = |recipe: &tallyspoon::model::Recipe| {
        let (channel, pantry, book) = (&content.channel, &content.pantry, &content.prices);
        let inputs = Inputs { channel, pantry, book, recipe, locale };
        let sheet = resolve(inputs, &Request::default()).expect("the demo resolves").sheet;
        let waits = (0..recipe.method.steps.len()).map(|step| countdown(inputs, step)).collect();
        (sheet, waits)
    };
    content.recipes.iter().map(sheet).collect()
}

pub fn theme(content: &Content, name: &str) -> Theme {
    let choice = Spanned::new(name.to_owned(), content.channel.theme.span);
    theme::load(&choice, None, &mut Findings::new()).expect("a built-in theme")
}

pub fn deck((sheet, waits): &(Sheet, Vec<Vec<Figure>>), theme: &Theme, frame: &Frame, locale: &Locale) -> Vec<Card> {
    moving_deck(sheet, theme, frame, locale, (COUNTED, waits)).expect("the demo's cards")
}
