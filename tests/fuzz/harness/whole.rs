//! Checks of everything that is made of a sheet. Must not know how a number comes about.

use super::demo::{DEMO, SHEETS, inputs, small};
use super::{sources, text};
use serde_json::Value;
use std::sync::LazyLock;
use tallyspoon::cards::deck;
use tallyspoon::cue::cards;
use tallyspoon::diag::Findings;
use tallyspoon::draw::{svg_metadata, to_stamped_svg};
use tallyspoon::exact::{Exact, parse_number};
use tallyspoon::notes::{Format, MOST_BYTES, notes};
use tallyspoon::page::{Beside, page};
use tallyspoon::sheet::{Request, Sheet, document, resolve, seal, thaw};
use tallyspoon::slate::{changes, statements};
use tallyspoon::template::{Overrides, Voice};
use tallyspoon::theme::{self, Theme};
use tallyspoon::workbook::workbook;

/// A shown amount of money, in English.
fn money(shown: &Value) -> Option<Exact> {
    let text = shown.as_str()?;
    let negative = text.contains(['-', '−']);
    let digits: String = text.chars().filter(|c| c.is_ascii_digit() || *c == '.').collect();
    let value = parse_number(&digits).ok()?;
    Some(if negative { -value } else { value })
}

/// What is shown adds up, where it is shown in English, and exact values are numbers.
pub fn adds_up(document: &Value) {
    let cost = &document["cost"];
    let lines = cost["lines"].as_array().expect("cost has lines");
    let shown: Option<Vec<Exact>> = lines.iter().map(|line| money(&line["shown"])).collect();
    if let (Some(shown), Some(total)) = (shown, money(&cost["total_shown"])) {
        assert_eq!(shown.iter().sum::<Exact>(), total, "{cost:#}");
    }
    let exact = |value: &Value| {
        let text = value.as_str().unwrap_or_else(|| panic!("{value} is no decimal"));
        parse_number(text.trim_start_matches('-')).unwrap_or_else(|why| panic!("{text} is no decimal: {why:?}"))
    };
    for part in document["parts"].as_array().expect("there are parts") {
        let id = format!("{}.", part["id"].as_str().expect("a part has an id"));
        let of_part = |line: &&Value| line["id"].as_str().is_some_and(|line| line.starts_with(&id));
        let lines = document["lines"].as_array().expect("there are lines").iter().filter(of_part);
        let grams: Vec<Exact> =
            lines.filter(|line| !line["grams"].is_null()).map(|line| exact(&line["grams"])).collect();
        // Each is rounded at the twelfth place.
        let apart = (grams.iter().sum::<Exact>() - exact(&part["total_g"])).abs();
        let slack = Exact::from(i64::try_from(grams.len() + 1).unwrap_or(1)) / Exact::power_of_ten(12);
        assert!(apart <= slack, "the lines of `{id}` are {apart:?} apart from its total");
    }
}

static THEME: LazyLock<Theme> = LazyLock::new(|| {
    theme::load(&DEMO.content.channel.theme, None, &mut Findings::new()).expect("a theme that is built in")
});

/// A recipe, and all that is made of it: notes, page, workbook, cards laid out and written as SVG.
pub fn outputs(data: &[u8]) -> bool {
    let Some(channel) = sources::channel_of(&small("buns/recipe.md", data)) else { return false };
    let (inputs, written) = (inputs(&channel, &channel.content.recipes[0]), Request::default());
    let Ok(resolved) = resolve(inputs, &written) else { return false };
    let (sheet, locale) = (&resolved.sheet, &channel.locale);
    let overrides = Overrides::new();
    let voice = Voice { locale, region: channel.content.channel.region, overrides: &overrides };
    for (_, format) in Format::ALL {
        let Ok(text) = notes(sheet, &[], &voice, format) else { continue };
        let plain = text.len() <= MOST_BYTES && !text.contains(['<', '>']);
        assert!(format != Format::Plain || plain, "{text}");
    }
    page(sheet, &voice, Beside::default()).expect("a page is made of any sheet");
    workbook(&document(inputs, &written).expect("what has a sheet has a document"))
        .expect("a workbook is made of any sheet");
    cards(sheet);
    assert!(changes(sheet, sheet, locale, voice.region).is_empty());
    assert!(!statements(sheet, locale, voice.region).is_empty());
    frozen(sheet);
    for frame in &channel.content.channel.frames {
        match deck(sheet, &THEME, frame, locale) {
            Ok(deck) => {
                for card in deck {
                    let svg = to_stamped_svg(&card.scene, &card.name);
                    assert_eq!(svg_metadata(&svg), Some(card.name));
                }
            }
            Err(errors) => assert!(!errors.is_empty()),
        }
    }
    true
}

/// A sheet in a slate comes back as it was.
fn frozen(sheet: &Sheet) {
    let mut table = toml::Table::new();
    table.insert("sheet".into(), toml::Value::try_from(sheet).expect("a sheet is texts, lists and tables"));
    table.insert("digest".into(), seal(&table).into());
    let again = thaw(&table).expect("a sealed sheet opens");
    assert_eq!(format!("{again:?}"), format!("{sheet:?}"));
}

/// A channel's own template, of notes in every form.
pub fn templates(data: &[u8]) -> bool {
    let mut understood = false;
    let own = text(data);
    let sheet = &SHEETS[data.len() % SHEETS.len()];
    for (_, format) in Format::ALL {
        let overrides = Overrides::from([(format.file().to_owned(), own.clone().into_owned())]);
        let voice = Voice { locale: &DEMO.locale, region: DEMO.content.channel.region, overrides: &overrides };
        match notes(sheet, &[], &voice, format) {
            Ok(_) => understood = true,
            Err(fault) => assert!(!fault.message.is_empty()),
        }
    }
    understood
}
