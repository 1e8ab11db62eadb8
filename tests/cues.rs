//! Cues: the names of cards held against the drawn ones, and what placing promises for anything that may be heard.

mod kitchen;
mod texts;

use kitchen::Kitchen;
use proptest::prelude::*;
use std::collections::BTreeMap;
use std::path::Path;
use tallyspoon::cards::deck;
use tallyspoon::cue::{
    Card, Claim, Cue, CueSheet, FILE, Heard, Lane, Material, Rate, Reading, card_of, cards, chapters, plan, read,
    reading_time,
};
use tallyspoon::diag::Findings;
use tallyspoon::locale::Locale;
use tallyspoon::model::{Content, Options, load};
use tallyspoon::notes::{Format, MOST_BYTES, notes};
use tallyspoon::sheet::{Inputs, Request, Sheet, resolve};
use tallyspoon::source::Sources;
use tallyspoon::source::script::Millis;
use tallyspoon::template::{Overrides, Voice};
use tallyspoon::theme;
use texts::{strange, visible};

fn demo() -> (Sources, Content, Locale) {
    let sources = Sources::read(Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/content")));
    let (content, _) = load(&sources, &Options::default());
    let content = content.expect("the demo channel is sound");
    let locale = Locale::new(&content.channel.locale, &content.channel.language).expect("a locale");
    (sources, content, locale)
}

fn sheets(content: &Content, locale: &Locale) -> Vec<Sheet> {
    let (channel, pantry, book) = (&content.channel, &content.pantry, &content.prices);
    let inputs = |recipe| Inputs { channel, pantry, book, recipe, locale };
    let all = content.recipes.iter();
    all.map(|recipe| resolve(inputs(recipe), &Request::default()).expect("the demo resolves").sheet).collect()
}

#[test]
fn every_drawn_card_has_its_name_here_and_every_name_is_drawn() {
    let (_, content, locale) = demo();
    let theme = theme::load(&content.channel.theme, None, &mut Findings::new()).expect("a built-in theme");
    for sheet in sheets(&content, &locale) {
        let named = cards(&sheet);
        for frame in &content.channel.frames {
            let drawn = deck(&sheet, &theme, frame, &locale).expect("the demo is drawn");
            let found: Vec<&Card> = drawn
                .iter()
                .map(|card| card_of(card.plain_name(), &named).unwrap_or_else(|| panic!("{} has no name", card.name)))
                .collect();
            for card in &named {
                assert!(found.contains(&card), "{} of {} is not drawn", card.name, sheet.recipe);
            }
            // In running order, as pages of one card follow each other.
            let places: Vec<usize> = found.iter().map(|card| named.iter().position(|n| n == *card).unwrap()).collect();
            assert!(places.is_sorted(), "{}: {places:?}", sheet.recipe);
        }
    }
}

#[test]
fn the_demo_s_chapters_are_in_its_notes_and_no_number_is_strange() {
    let (sources, content, locale) = demo();
    let mut with_cues = 0;
    for sheet in sheets(&content, &locale) {
        let Some((source, text)) = sources.file(&format!("{}/{FILE}", sheet.recipe)) else { continue };
        let (named, mut findings) = (cards(&sheet), Findings::new());
        let reading = Reading { cards: &named, video: None, pins_alone: false };
        let cues = read(source, text, reading, &mut findings).expect("the demo's cues are sound");
        let list = chapters(&sheet, &cues, &locale).list;
        assert!(list.len() >= 3);
        let voice = Voice { locale: &locale, region: content.channel.region, overrides: &Overrides::new() };
        for (name, format) in Format::ALL {
            let text = notes(&sheet, &list, &voice, format).expect("notes");
            assert!(format != Format::Plain || text.len() <= MOST_BYTES);
            let mut text = if format == Format::Html { visible(&text) } else { text };
            for chapter in &list {
                let (at, title) = (chapter.at.text(), chapter.title.text());
                let place = text.find(at).unwrap_or_else(|| panic!("{name} lacks {at}"));
                assert!(text[place + at.len()..].trim_start().starts_with(&title), "{name}: {at} {title}: {text}");
                text.replace_range(place..place + at.len(), "");
            }
            assert_eq!(strange(&text, &sheet), Vec::<String>::new(), "{name}");
        }
        with_cues += 1;
    }
    assert!(with_cues > 0, "a recipe of the demo has cues");
}

/// What may be heard: numbers of lines and steps in any order, said at any time.
fn heard() -> impl Strategy<Value = Vec<(u64, usize, usize)>> {
    prop::collection::vec((0..240_000_u64, 0..40_usize, 0..5_usize), 0..60)
}

fn material(sheet: &Sheet, said: &[(u64, usize, usize)]) -> Heard {
    let mut abouts: Vec<String> = sheet.parts.iter().flat_map(|part| &part.lines).map(|line| line.id.clone()).collect();
    abouts.extend(sheet.steps.iter().map(|step| format!("step.{}", step.id)));
    abouts.extend(["cost.total".to_owned(), "yield.pieces".to_owned()]);
    let mut claims: Vec<Claim> = said
        .iter()
        .map(|(at, about, step)| Claim {
            start: Millis(*at),
            end: Millis(at + 1500),
            about: abouts[about % abouts.len()].clone(),
            step: (*step).min(sheet.steps.len()),
            agrees: true,
            figure: String::new(),
        })
        .collect();
    claims.sort_by_key(|claim| claim.start);
    let openings = claims.iter().step_by(3).map(|claim| Millis(claim.start.0.saturating_sub(700))).collect();
    Heard { openings, numbers: claims.len(), claims, end: Millis(245_000), ..Heard::default() }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn whatever_is_heard_cards_keep_apart_are_readable_and_pins_stay(
        first in heard(), second in heard(), rate in 0..Rate::ALL.len(), pins in prop::collection::vec(any::<bool>(), 80),
        words in 0..40_usize,
    ) {
        let (sheet, rate) = (Kitchen::default().sheet(), Rate::ALL[rate]);
        let named = cards(&sheet);
        let words: BTreeMap<String, usize> =
            named.iter().enumerate().map(|(at, card)| (card.name.clone(), words + at % 7)).collect();
        let heard = material(&sheet, &first);
        let made = plan(&Material { sheet: &sheet, cards: &named, words: &words, heard: &heard, video: None }, rate, None, None);
        let mut pinned = made.sheet.clone();
        for (cue, pin) in pinned.cues.iter_mut().zip(pins) {
            cue.pinned = pin;
        }
        let heard = material(&sheet, &second);
        let stuff = Material { sheet: &sheet, cards: &named, words: &words, heard: &heard, video: None };
        let again = plan(&stuff, rate, None, Some(&pinned));
        for pin in pinned.cues.iter().filter(|cue| cue.pinned) {
            prop_assert_eq!(again.sheet.find(&pin.card.name), Some(pin));
            prop_assert!(again.changes.iter().all(|change| change.card != pin.card.name));
        }
        let same = plan(&stuff, rate, None, Some(&pinned));
        prop_assert_eq!(&same.sheet, &again.sheet);
        let settled = plan(&stuff, rate, None, Some(&again.sheet));
        prop_assert_eq!(&settled.sheet, &again.sheet);
        prop_assert_eq!(settled.changes.len(), 0);
        for made in [&made, &again] {
            check(&made.sheet, rate.frames_lasting(heard.end));
            for cue in made.sheet.cues.iter().filter(|cue| !cue.pinned) {
                let least = rate.frames_lasting(reading_time(words[&cue.card.name]));
                let told = made.troubles.iter().any(|trouble| trouble.card == cue.card.name && trouble.length == cue.length);
                prop_assert!(cue.length >= least || told, "{} is too short and nobody says so", cue.card.name);
                prop_assert!(cue.length >= rate.frames_lasting(Millis(1000)), "{} is shorter than a second", cue.card.name);
            }
        }
        let steps: Vec<&Cue> = made.sheet.lane(Lane::Steps).collect();
        let numbers: Vec<usize> =
            steps.iter().map(|cue| named.iter().position(|card| *card == cue.card).unwrap()).collect();
        prop_assert!(numbers.is_sorted(), "steps come in the order of the method");
        chapters_hold(&sheet, &made.sheet);
    }
}

fn check(sheet: &CueSheet, end: u64) {
    for lane in Lane::ALL {
        let cues: Vec<&Cue> = sheet.lane(lane).collect();
        assert!(cues.windows(2).all(|pair| pair[0].end() <= pair[1].start), "two cards of {} at once", lane.id());
        assert!(cues.iter().all(|cue| cue.end() <= end && cue.length > 0));
    }
    for cue in sheet.cues.iter().filter(|cue| !cue.pinned) {
        let hidden =
            |other: &&Cue| cue.lane().hides(other.lane()) && cue.start < other.end() && other.start < cue.end();
        let over = sheet.cues.iter().find(hidden).map(|other| &other.card.name);
        assert_eq!(over, None, "{} stands where another card does", cue.card.name);
    }
}

/// A right claim of a second and a half about a figure, in a step counted from one, or in none.
fn said(start: u64, about: &str, step: usize) -> Claim {
    let (start, end) = (Millis(start), Millis(start + 1500));
    Claim { start, end, about: about.to_owned(), step, agrees: true, figure: String::new() }
}

#[test]
fn a_caution_follows_the_card_of_its_step_and_a_step_waits_for_the_cost() {
    let (_, content, locale) = demo();
    let sheet = sheets(&content, &locale).into_iter().find(|sheet| sheet.fry.is_some()).expect("a dish that is fried");
    let hot = sheet.cautions.iter().find(|caution| caution.id == "hot-oil").expect("a caution");
    let step = hot.step.as_deref().expect("a step with hot oil");
    let at = sheet.steps.iter().position(|known| known.id == step).expect("the step");
    let next = format!("step.{}", sheet.steps[at + 1].id);
    let claims =
        vec![said(10_000, &format!("step.{step}"), at + 1), said(40_000, "cost.total", 0), said(42_000, &next, at + 2)];
    let openings = claims.iter().map(|claim| claim.start).collect();
    let heard = Heard { openings, numbers: claims.len(), claims, end: Millis(90_000), ..Heard::default() };
    let named = cards(&sheet);
    let words = named.iter().map(|card| (card.name.clone(), 20)).collect();
    let material = Material { sheet: &sheet, cards: &named, words: &words, heard: &heard, video: None };
    let made = plan(&material, Rate::ALL[2], None, None).sheet;
    let cue = |name: &str| made.find(name).unwrap_or_else(|| panic!("{name} is not there: {made:?}"));
    let (own, caution) = (cue(&format!("step-{}", at + 1)), cue("caution-hot-oil"));
    assert_eq!(caution.start, own.end());
    assert_eq!(cue(&format!("step-{}", at + 2)).start, cue("cost").end());
}

#[test]
fn what_is_told_last_comes_while_somebody_speaks_and_the_closing_card_when_there_is_room() {
    let (_, content, locale) = demo();
    let sheet = sheets(&content, &locale).into_iter().next().expect("a dish");
    let (at, last) = sheet.steps.iter().enumerate().next_back().expect("a step");
    let claims = vec![said(30_000, "cost.total", 0), said(32_000, &format!("step.{}", last.id), at + 1)];
    let openings = claims.iter().map(|claim| claim.start).collect();
    let heard = Heard { openings, numbers: claims.len(), claims, end: Millis(36_000), ..Heard::default() };
    let named = cards(&sheet);
    // Reading the cost takes until nobody speaks any more.
    let words = named.iter().map(|card| (card.name.clone(), 60)).collect();
    let video = Some(Millis(120_000));
    let material = Material { sheet: &sheet, cards: &named, words: &words, heard: &heard, video };
    let made = plan(&material, Rate::ALL[2], None, None).sheet;
    assert_eq!(made.find(&format!("step-{}", at + 1)), None, "{made:?}");
    let (cost, closing) = (made.find("cost").expect("the cost"), made.find("closing").expect("the closing card"));
    assert!(closing.start >= cost.start && closing.end() <= Rate::ALL[2].frames_lasting(Millis(120_000)));
    assert_eq!((made.length, made.end()), (None, 120 * 25));
}

fn chapters_hold(sheet: &Sheet, cues: &CueSheet) {
    let locale = Kitchen::default().locale();
    let found = chapters(sheet, cues, &locale);
    assert!(found.list.is_empty() || found.list.len() >= 3);
    let seconds: Vec<u64> = found.list.iter().map(|chapter| chapter.start.0 / 1000).collect();
    assert!(seconds.first().is_none_or(|first| *first == 0));
    assert!(seconds.windows(2).all(|pair| pair[0] + 10 <= pair[1]), "{seconds:?}");
    assert!(seconds.last().is_none_or(|last| last + 10 <= found.end.0 / 1000), "{seconds:?} until {:?}", found.end);
    let said = found.list.len() + found.remarks.len();
    let steps = cues.lane(Lane::Steps).count();
    assert!(steps == 0 || said > 0, "a step without a chapter has a reason");
}
