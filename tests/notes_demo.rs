//! The demo channel's notes and pages in every language: whole, and without a number that is not on the sheet.

mod texts;

use std::path::Path;
use tallyspoon::locale::{Language, Locale};
use tallyspoon::model::{Options, load};
use tallyspoon::notes::{Format, MOST_BYTES, notes};
use tallyspoon::page::{Beside, Entry, index, page};
use tallyspoon::sheet::{Inputs, Request, Sheet, resolve};
use tallyspoon::source::Sources;
use tallyspoon::template::{Overrides, Voice};
use texts::{numbers, strange, visible};

#[test]
fn every_recipe_has_whole_notes_and_an_honest_page_in_every_language() {
    let sources = Sources::read(Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/content")));
    for language in Language::ALL.map(Language::code) {
        let (content, _) = load(&sources, &Options { language: Some(language.to_owned()) });
        let content = content.expect("the demo channel is sound");
        let locale = Locale::new(&content.channel.locale, language).expect("a locale");
        let voice = Voice { locale: &locale, region: content.channel.region, overrides: &Overrides::new() };
        let sheets: Vec<Sheet> = content
            .recipes
            .iter()
            .map(|recipe| {
                let (channel, pantry, book) = (&content.channel, &content.pantry, &content.prices);
                let inputs = Inputs { channel, pantry, book, recipe, locale: &locale };
                resolve(inputs, &Request::default()).expect("the demo resolves").sheet
            })
            .collect();
        assert!(!sheets.is_empty());
        for sheet in &sheets {
            let plain = notes(sheet, &[], &voice, Format::Plain).expect("notes");
            assert!(plain.len() <= MOST_BYTES && !plain.contains(['<', '>']), "{language} {}", sheet.recipe);
            for step in &sheet.steps {
                let start = format!("{}. {}", step.number.text(), step.title.text());
                assert!(plain.contains(&start), "{language} {}: nothing is left out of the demo", sheet.recipe);
            }
            for line in sheet.parts.iter().flat_map(|part| &part.lines) {
                for figure in [Some(&line.amount), line.percent.as_ref()].into_iter().flatten() {
                    assert!(plain.contains(figure.text()), "{language} {} lacks {}", line.id, figure.text());
                }
            }
            let page =
                page(sheet, &voice, Beside { home: Some("../index.html"), ..Beside::default() }).expect("a page");
            let markdown = notes(sheet, &[], &voice, Format::Markdown).expect("notes");
            for text in [plain, markdown, visible(&page)] {
                assert!(!numbers(&text).is_empty());
                assert_eq!(strange(&text, sheet), Vec::<String>::new(), "{language} {}: {text}", sheet.recipe);
            }
        }
        for sheet in &sheets {
            let entry = [Entry { href: "index.html", sheet, companion: None }];
            let listed = index(&content.channel.name, &entry, &voice).expect("an index");
            assert_eq!(strange(&visible(&listed), sheet), Vec::<String>::new(), "{language} {}", sheet.recipe);
        }
    }
}
