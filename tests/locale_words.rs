//! The wording: complete and alike in every language, without digits of its own, and well put together.

use std::collections::{BTreeMap, BTreeSet};
use tallyspoon::exact::{Exact, Unit};
use tallyspoon::locale::{Key, Language, Locale, PluralCategory, Unusable};

fn irish() -> Locale {
    Locale::new("en-IE", "en").expect("a locale")
}

fn french() -> Locale {
    Locale::new("fr-FR", "fr").expect("a locale")
}

fn german() -> Locale {
    Locale::new("de-DE", "de").expect("a locale")
}

/// Every form of every text: key, form (`""` for a plain text), text.
fn forms(language: Language) -> Vec<(String, String, String)> {
    let table: toml::Table = language.source().parse().expect("the wording is TOML");
    let mut all = Vec::new();
    for (key, value) in table {
        match value {
            toml::Value::String(text) => all.push((key, String::new(), text)),
            toml::Value::Table(plurals) => {
                all.extend(plurals.into_iter().map(|(form, text)| {
                    (key.clone(), form, text.as_str().expect("a plural form is a text").to_owned())
                }))
            }
            other => panic!("`{key}` is neither a text nor plural forms: {other}"),
        }
    }
    all
}

fn slots(text: &str) -> BTreeSet<&str> {
    text.split('{').skip(1).map(|rest| rest.split_once('}').expect("a slot is closed").0).collect()
}

#[test]
fn every_language_has_every_key_and_no_other() {
    let known: BTreeSet<&str> = Key::ALL.iter().map(|key| key.id()).collect();
    assert_eq!(known.len(), Key::ALL.len(), "no key stands twice");
    for language in Language::ALL {
        let all = forms(language);
        let found: BTreeSet<&str> = all.iter().map(|(key, _, _)| key.as_str()).collect();
        assert_eq!(found, known, "{language:?}");
    }
}

#[test]
fn a_text_has_the_same_slots_and_forms_in_every_language() {
    let shape = |language: Language| -> BTreeMap<(String, String), BTreeSet<String>> {
        forms(language)
            .into_iter()
            .map(|(key, form, text)| ((key, form), slots(&text).into_iter().map(str::to_owned).collect()))
            .collect()
    };
    let english = shape(Language::English);
    for (key, form) in english.keys() {
        assert!(["", "one", "other"].contains(&form.as_str()), "`{key}` has an unknown form `{form}`");
    }
    for language in Language::ALL {
        assert_eq!(shape(language), english, "{language:?}");
    }
}

#[test]
fn no_text_is_empty_or_padded_or_holds_markup() {
    for language in Language::ALL {
        for (key, _, text) in forms(language) {
            assert!(!text.is_empty() && text.trim() == text, "{language:?} {key}: `{text}`");
            assert!(!text.contains(['<', '>', '\n']), "{language:?} {key}: `{text}`");
        }
    }
}

#[test]
fn only_cautions_hold_digits_and_every_language_the_same() {
    let digits = |text: &str| -> Vec<String> {
        text.split(|c: char| !c.is_numeric()).filter(|run| !run.is_empty()).map(str::to_owned).collect()
    };
    let of = |language: Language| -> BTreeMap<String, Vec<String>> {
        forms(language).into_iter().map(|(key, _, text)| (key, digits(&text))).collect()
    };
    let english = of(Language::English);
    for (key, found) in &english {
        assert!(found.is_empty() || key.starts_with("caution-"), "`{key}` holds {found:?}");
    }
    for language in Language::ALL {
        assert_eq!(of(language), english, "{language:?}");
    }
}

#[test]
fn cautions_hold_the_published_figures() {
    let english = irish();
    for (id, figures) in [
        // USDA FSIS: 3 min of rest for whole cuts. Temperatures are filled in: `numbers/safety.rs`.
        ("meat", &["3 min"][..]),
        // FSANZ, 2-hour/4-hour rule.
        ("chilled", &["2 h", "4 h"]),
        // NCHFP, garlic in oil.
        ("garlic", &["7 days"]),
        // 21 CFR 114.3.
        ("acid", &["4.6"]),
        // Common practice, no source: no figures.
        ("hot-sugar", &[]),
        // NFPA; CDC: no figures.
        ("hot-oil", &[]),
        ("raw-flour", &[]),
    ] {
        let text = english.text(Key::parse(&format!("caution-{id}")).expect("a caution of that id"));
        assert!(Key::parse(&format!("caution-{id}-title")).is_some());
        for figure in figures {
            assert!(text.contains(figure), "{id}: {figure}");
        }
    }
    assert_eq!(Key::parse("caution-no-such"), None);
}

#[test]
fn allergens_have_a_name_in_every_region_and_a_region_its_own_word() {
    // Ids of `figures/1`.
    let ids = "wheat rye barley oats crustaceans eggs fish peanuts soybeans milk almonds hazelnuts walnuts cashews \
               pecans brazil-nuts pistachios macadamias pine-nuts celery mustard sesame sulphites lupin molluscs";
    for locale in [irish(), french(), german()] {
        for id in ids.split_whitespace() {
            for region in ["eu", "us", "ca", "anz"] {
                assert!(locale.allergen(id, region).is_some(), "{id} {region}");
            }
        }
        for claim in ["vegan", "vegetarian", "gluten-free", "dairy-free", "egg-free", "nut-free"] {
            assert!(locale.diet(claim).is_some(), "{claim}");
        }
    }
    assert_eq!(irish().allergen("crustaceans", "eu"), Some("crustaceans"));
    assert_eq!(irish().allergen("crustaceans", "us"), Some("crustacean shellfish"));
    assert_eq!(irish().allergen("coconut", "us"), None);
}

#[test]
fn measures_keep_a_plain_space_and_symbols_no_plural() {
    // NIST SP 811 sections 7.2 and 6.1.2.
    let english = irish();
    let one = |n: i64, unit| english.measure(&Exact::from(n), unit, 1);
    assert_eq!(one(180, Unit::Gram), "180 g");
    assert_eq!(one(5, Unit::Minute), "5 min");
    assert_eq!(one(180, Unit::Celsius), "180 °C");
    assert_eq!(one(40, Unit::Percent), "40%");
    assert_eq!(english.measure_range(&Exact::from(8), &Exact::from(12), Unit::Hour, 1), "8–12 h");
    assert_eq!(english.measure_range(&Exact::from(3), &Exact::from(4), Unit::Millimetre, 1), "3–4 mm");
    assert_eq!(german().measure(&Exact::ratio(3, 2), Unit::Kilogram, 2), "1,5 kg");
    assert_eq!(german().measure_range(&Exact::from(1), &Exact::from(2), Unit::Day, 0), "1–2 Tage");
}

#[test]
fn spoons_and_cups_are_fractions_in_the_number_that_a_language_wants() {
    let half = Exact::ratio(1, 2);
    let more = Exact::ratio(3, 2);
    let two = Exact::from(2);
    let said = |locale: &Locale| [&half, &more, &two].map(|value| locale.measure(value, Unit::Cup, 2));
    assert_eq!(said(&irish()), ["1/2 cup", "1 1/2 cups", "2 cups"]);
    assert_eq!(said(&french()), ["1/2 tasse", "1 1/2 tasse", "2 tasses"]);
    assert_eq!(said(&german()), ["1/2 Tasse", "1 1/2 Tassen", "2 Tassen"]);
    assert_eq!(german().measure(&Exact::from(2), Unit::Tablespoon, 2), "2 EL");
    assert_eq!(french().measure(&Exact::from(2), Unit::Teaspoon, 2), "2 c. à c.");
    assert_eq!(irish().mixed(&Exact::ratio(11, 8)).as_deref(), Some("1 3/8"));
    assert_eq!(irish().mixed(&Exact::ratio(2, 3)).as_deref(), Some("2/3"));
    assert_eq!(irish().mixed(&Exact::ratio(17, 16)).as_deref(), Some("1 1/16"));
    assert_eq!(irish().mixed(&Exact::ratio(1, 5)), None);
    let one = |locale: &Locale| [&half, &Exact::one(), &more, &two].map(|count| locale.is_one(count));
    assert_eq!((one(&irish()), one(&french())), ([true, true, false, false], [true, true, true, false]));
}

#[test]
fn plurals_follow_the_language() {
    let category = |locale: &Locale, value: Exact| locale.plural(&value);
    assert_eq!(category(&irish(), Exact::zero()), PluralCategory::Other);
    assert_eq!(category(&french(), Exact::zero()), PluralCategory::One);
    assert_eq!(category(&french(), Exact::ratio(3, 2)), PluralCategory::One);
    assert_eq!(category(&german(), Exact::one()), PluralCategory::One);
    assert_eq!(category(&german(), Exact::ratio(3, 2)), PluralCategory::Other);
}

#[test]
fn french_elides_before_a_vowel_and_a_silent_h() {
    let french = french();
    let said = |name: &str| french.amount_of("180 g", name);
    assert_eq!(said("eau"), "180 g d’eau");
    assert_eq!(said("huile de tournesol"), "180 g d’huile de tournesol");
    assert_eq!(said("œufs"), "180 g d’œufs");
    for name in ["haut de cuisse de poulet désossé", "houblon", "hot-dog", "hamburger"] {
        assert_eq!(said(name), format!("180 g de {name}"));
    }
    assert_eq!(said("farine"), "180 g de farine");
    assert_eq!(said("haricots blancs"), "180 g de haricots blancs");
    assert_eq!(said("yaourt"), "180 g de yaourt");
    assert_eq!(german().amount_of("180 g", "Wasser"), "180 g Wasser");
    assert_eq!(irish().amount_of("180 g", "water"), "180 g water");
}

#[test]
fn numbers_follow_the_language_of_the_run_where_the_tag_has_another_that_is_worded() {
    let half = Exact::ratio(3, 2);
    let french_in_ireland = Locale::new("en-IE", "fr").expect("a locale");
    assert_eq!(french_in_ireland.tag(), "fr-IE");
    assert_eq!(french_in_ireland.number(&half, 1), "1,5");
    let english_in_italy = Locale::new("it-IT", "en").expect("a locale");
    assert_eq!(english_in_italy.number(&half, 1), "1,5");
    assert_eq!(english_in_italy.date(jiff::civil::date(2026, 5, 1)), "1 May 2026");
}

#[test]
fn a_bad_tag_or_a_language_without_wording_is_refused() {
    assert_eq!(Locale::new("not a tag", "en").err(), Some(Unusable::BadTag("not a tag".into())));
    assert_eq!(Locale::new("en-IE", "xx").err(), Some(Unusable::NoWording("xx".into())));
}

#[test]
fn money_ranges_carry_the_symbol_once() {
    let cents = |n: i64| Exact::ratio(n, 1000);
    let euro = iso_currency::Currency::EUR;
    assert_eq!(irish().money_range(&cents(56), &cents(74), euro), "€0.06–0.07");
    assert_eq!(german().money_range(&cents(56), &cents(74), euro), "0,06–0,07\u{a0}€");
    assert_eq!(german().money_range(&cents(61), &cents(62), euro), "0,06\u{a0}€");
}

/// Every file under `folder`, as one text.
fn all_texts(folder: &std::path::Path) -> String {
    let entries =
        std::fs::read_dir(folder).expect("a folder of the sources").map(|entry| entry.expect("an entry").path());
    entries
        .filter(|path| !path.ends_with("keys.rs") && !path.ends_with("words"))
        .map(|path| if path.is_dir() { all_texts(&path) } else { std::fs::read_to_string(&path).unwrap_or_default() })
        .collect()
}

#[test]
fn every_text_is_used() {
    let sources = all_texts(std::path::Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/src")));
    let unused = Key::ALL.iter().filter(|key| {
        // These are asked for by the ids of `figures/1`.
        let by_id = ["allergen-", "diet-"].iter().any(|prefix| key.id().starts_with(prefix));
        !by_id && !sources.contains(&format!("Key::{key:?}")) && !sources.contains(&format!("\"{}\"", key.id()))
    });
    assert_eq!(unused.collect::<Vec<_>>(), Vec::<&Key>::new());
}
