//! Sheets held against each other: what is unchanged has no drift however it was kept, and what differs always has.

mod kitchen;

use kitchen::Kitchen;
use proptest::prelude::*;
use serde_json::Value;
use tallyspoon::diag::Findings;
use tallyspoon::locale::Locale;
use tallyspoon::model::Region;
use tallyspoon::sheet::Sheet;
use tallyspoon::slate::{Asked, Rank, Slate, Take, Topic, changes, correction};
use tallyspoon::span::Texts;

fn kitchens() -> impl Strategy<Value = Kitchen> {
    let voice = prop_oneof![
        Just(("en-IE", "en", iso_currency::Currency::EUR)),
        Just(("en-US", "en", iso_currency::Currency::USD)),
        Just(("fr-FR", "fr", iso_currency::Currency::EUR)),
        Just(("de-CH", "de", iso_currency::Currency::CHF)),
        Just(("en-GB", "en", iso_currency::Currency::JPY)),
    ];
    let title = prop_oneof![Just("Split-pea cakes".to_owned()), "[a-z<>&\"\\\\ é\u{202e}乳]{1,30}"];
    (voice, 0_usize..4, 1_usize..3, any::<bool>(), title).prop_map(|(voice, lines, paragraphs, priced, title)| {
        Kitchen {
            tag: voice.0,
            language: voice.1,
            currency: voice.2,
            more_lines: (0..lines).map(|n| format!("leaf-{}", ["a", "b", "c", "d"][n])).collect(),
            paragraphs,
            title,
            priced,
        }
    })
}

fn take() -> Take {
    let text = str::to_owned;
    Take {
        day: text("2026-03-05"),
        version: text("0.1.0"),
        theme: text("harbour"),
        theme_digest: String::new(),
        locale: text("en-IE"),
        language: text("en"),
        total: text("3.1875"),
        asked: Asked { makes: Some(text("12")), have: vec![text("flour=\"1 kg\"")], ..Asked::default() },
        frames: Vec::new(),
    }
}

fn read(text: &str) -> (Option<Slate>, Findings) {
    let (mut texts, mut findings) = (Texts::new(""), Findings::new());
    let id = texts.add("a.toml", text);
    (Slate::read(id, &texts, &mut findings), findings)
}

/// What is no statement: the day stays true, bars are no words, and which prices are old is the
/// creator's affair, and who is cheaper is said with the gap.
const UNSAID: [&str; 5] = ["day", "bar", "bars", "stale", "cheaper"];

/// What a sheet says, as a tree.
fn said(sheet: &Sheet) -> Value {
    fn strip(value: &mut Value) {
        match value {
            Value::Object(map) => {
                map.retain(|key, _| !UNSAID.contains(&key.as_str()));
                map.values_mut().for_each(strip);
            }
            Value::Array(list) => list.iter_mut().for_each(strip),
            Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {}
        }
    }
    let mut tree = serde_json::to_value(sheet).expect("a sheet is texts");
    strip(&mut tree);
    tree
}

fn english() -> Locale {
    Locale::new("en-IE", "en").expect("a locale")
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn drift_of_what_is_unchanged_is_empty_and_a_slate_holds_all_of_a_sheet(kitchen in kitchens()) {
        let sheet = kitchen.sheet();
        let kept = Slate { take: take(), sheet: sheet.clone() };
        let (back, findings) = read(&kept.text());
        prop_assert!(!findings.has_errors(), "{:?}", findings.sorted());
        let back = back.expect("it was kept");
        prop_assert_eq!(&back.take, &kept.take);
        prop_assert_eq!(format!("{:?}", back.sheet), format!("{sheet:?}"));
        prop_assert_eq!(back.text(), kept.text());
        let list = changes(&back.sheet, &kitchen.sheet(), &kitchen.locale(), Region::Eu);
        prop_assert_eq!(&list, &Vec::new());
        prop_assert_eq!(correction(&back.sheet, &sheet, &list, &kitchen.locale()), None);
    }

    #[test]
    fn what_differs_drifts_both_ways(one in kitchens(), other in kitchens()) {
        let (one, other) = (one.sheet(), other.sheet());
        let there = changes(&one, &other, &english(), Region::Eu);
        let back = changes(&other, &one, &english(), Region::Eu);
        prop_assert_eq!(there.is_empty(), said(&one) == said(&other));
        let mut turned: Vec<_> = there.iter().map(|c| (c.id.clone(), c.to.clone(), c.from.clone())).collect();
        let mut back: Vec<_> = back.into_iter().map(|c| (c.id, c.from, c.to)).collect();
        turned.sort_by(|a, b| a.0.cmp(&b.0));
        back.sort_by(|a, b| a.0.cmp(&b.0));
        prop_assert_eq!(turned, back);
    }

    #[test]
    fn a_digit_changed_anywhere_in_a_slate_is_seen(at in 0_usize..10_000, digit in 0_u8..10) {
        let whole = Slate { take: take(), sheet: Kitchen::default().sheet() }.text();
        let body = whole.find("day = ").expect("a day");
        let digits: Vec<usize> = whole.char_indices().skip_while(|(i, _)| *i < body).filter(|(_, c)| c.is_ascii_digit()).map(|(i, _)| i).collect();
        let place = digits[at % digits.len()];
        let mut text = whole.clone();
        text.replace_range(place..=place, &digit.to_string());
        prop_assume!(text != whole);
        let (slate, findings) = read(&text);
        prop_assert!(slate.is_none() && findings.has_errors(), "a changed digit at {} passed", place);
    }
}

/// Each kind of change is told under its own topic, and no more is chief than has to be.
#[test]
fn a_change_is_told_under_its_topic() {
    let before = Kitchen::default();
    let now = Kitchen { priced: false, ..Kitchen::default() };
    let list = changes(&before.sheet(), &now.sheet(), &english(), Region::Eu);
    assert!(!list.is_empty() && list.iter().all(|change| change.topic == Topic::Price), "{list:#?}");
    let unpriced = list.iter().find(|change| change.id == "cost.sauce.mustard").expect("the line without a price");
    assert_eq!(unpriced.to.as_ref().map(|s| s.said.text()).as_deref(), Some("no price yet"));
    let text = correction(&before.sheet(), &now.sheet(), &list, &english()).expect("a correction");
    assert!(text.description.contains("What is known so far: "), "{}", text.description);
    let now = Kitchen { more_lines: vec!["leaf-a".to_owned()], ..Kitchen::default() };
    let list = changes(&before.sheet(), &now.sheet(), &english(), Region::Eu);
    let chief: Vec<&str> = list.iter().filter(|c| c.rank() == Rank::Chief).map(|c| c.id.as_str()).collect();
    assert_eq!(chief, ["main.leaf-a", "cost.total", "cost.each"], "{list:#?}");
}
