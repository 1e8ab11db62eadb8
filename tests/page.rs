//! Pages: self-contained, escaped, readable in light and dark, and without a number that is not on the sheet.

mod kitchen;
mod texts;

use kitchen::Kitchen;
use std::collections::BTreeSet;
use tallyspoon::model::Region;
use tallyspoon::page::{Beside, Entry, index, page};
use tallyspoon::template::{Overrides, Voice};
use texts::{numbers, strange, visible};

fn written(kitchen: &Kitchen) -> String {
    let locale = kitchen.locale();
    let voice = Voice { locale: &locale, region: Region::Eu, overrides: &Overrides::new() };
    let beside = Beside { home: Some("../index.html"), picture: Some("wide/title.png") };
    page(&kitchen.sheet(), &voice, beside).expect("the page is written")
}

fn index_of(kitchen: &Kitchen) -> String {
    let locale = kitchen.locale();
    let voice = Voice { locale: &locale, region: Region::Eu, overrides: &Overrides::new() };
    let sheet = kitchen.sheet();
    let entries = [Entry { href: "split-pea-cakes/index.html", sheet: &sheet }];
    index(&sheet.channel, &entries, &voice).expect("the index is written")
}

fn linked_data(html: &str) -> serde_json::Value {
    let start = html.split_once("<script type=\"application/ld+json\">").expect("linked data").1;
    serde_json::from_str(start.split_once("</script>").expect("its end").0).expect("linked data is JSON")
}

#[test]
fn every_number_is_on_the_sheet_and_every_amount_and_percent_is_shown() {
    for (tag, language) in [("en-IE", "en"), ("fr-FR", "fr"), ("de-DE", "de")] {
        let kitchen = Kitchen { tag, language, ..Kitchen::default() };
        let sheet = kitchen.sheet();
        for html in [written(&kitchen), index_of(&kitchen)] {
            assert!(!numbers(&visible(&html)).is_empty());
            assert_eq!(strange(&visible(&html), &sheet), Vec::<String>::new(), "{tag}");
        }
        let text = visible(&written(&kitchen));
        for line in sheet.parts.iter().flat_map(|part| &part.lines) {
            assert!(text.contains(&line.name) && text.contains(line.amount.text()), "{tag} {}", line.id);
            assert!(line.percent.as_ref().is_none_or(|percent| text.contains(percent.text())), "{tag} {}", line.id);
        }
        assert!(text.contains(sheet.cost.total.text()), "{tag}");
        for caution in &sheet.cautions {
            assert!(text.contains(&caution.text) && text.contains(&caution.general), "{tag} {}", caution.id);
        }
    }
}

#[test]
fn nothing_is_fetched_and_no_script_runs() {
    for html in [written(&Kitchen::default()), index_of(&Kitchen::default())] {
        for fetches in [" src=", "url(", "@import", "http://", "<iframe", "<object", " on", "javascript:"] {
            let found = html.match_indices(fetches).filter(|(at, _)| {
                // " on" is looked for as an attribute, such as `onclick=`.
                fetches != " on"
                    || html[at + 1..]
                        .split_once('=')
                        .is_some_and(|(name, _)| name.bytes().all(|b| b.is_ascii_lowercase()))
            });
            assert_eq!(found.count(), 0, "{fetches}");
        }
        let addresses = html.match_indices("https://").map(|(at, _)| &html[at..at + 18]);
        assert!(addresses.into_iter().all(|address| address == "https://schema.org"), "only names of the vocabulary");
        let scripts = html.matches("<script").count();
        assert_eq!(scripts, html.matches("<script type=\"application/ld+json\">").count());
        assert!(html.contains("<link rel=\"icon\" href=\"data:,\">"), "no request for an icon either");
    }
}

#[test]
fn what_an_author_writes_can_not_leave_its_place() {
    let title = "Cakes </title></script><script>alert(1)</script> & \"more\"";
    let html = written(&Kitchen { title: title.to_owned(), ..Kitchen::default() });
    assert_eq!(html.matches("<script").count(), 1);
    assert_eq!(html.matches("</script>").count(), 1);
    assert_eq!(html.matches("</title>").count(), 1);
    assert_eq!(linked_data(&html)["name"], title);
    assert!(!html.contains("&amp;amp;") && !html.contains("&amp;#39;") && !html.contains("&amp;quot;"), "{html}");
}

#[test]
fn the_page_names_its_language_and_its_landmarks() {
    let html = written(&Kitchen { tag: "fr-FR", language: "fr", ..Kitchen::default() });
    assert!(html.starts_with("<!DOCTYPE html>\n<html lang=\"fr-FR\">"), "{html}");
    assert_eq!(html.matches("<h1").count(), 1);
    assert_eq!(html.matches("<main>").count(), 1);
    let ids: Vec<&str> = html.split(" id=\"").skip(1).filter_map(|rest| rest.split('"').next()).collect();
    assert_eq!(ids.iter().collect::<BTreeSet<_>>().len(), ids.len(), "ids are unique: {ids:?}");
    for wanted in html.split("labelledby=\"").skip(1).filter_map(|rest| rest.split('"').next()) {
        assert!(ids.contains(&wanted), "`{wanted}` labels something and is not there");
    }
}

#[test]
fn linked_data_is_a_recipe_of_schema_org() {
    // Properties of schema.org `Recipe`, release 30.0.
    let data = linked_data(&written(&Kitchen::default()));
    assert_eq!(data["@type"], "Recipe");
    assert_eq!(data["image"], "wide/title.png");
    assert_eq!(data["recipeYield"], "10–12 miner's cakes");
    assert_eq!(data["recipeIngredient"][2], "300 g peas & lentils, soaked & drained");
    assert_eq!(data["recipeInstructions"][0]["@type"], "HowToStep");
    assert_eq!(data["suitableForDiet"][0], "https://schema.org/VegetarianDiet");
}

#[test]
fn an_incomplete_total_is_marked() {
    let text = visible(&written(&Kitchen { priced: false, ..Kitchen::default() }));
    assert!(text.contains("Incomplete: no price for mustard") && text.contains("no price yet"), "{text}");
    assert!(!text.contains("The whole batch"), "{text}");
    assert!(visible(&index_of(&Kitchen { priced: false, ..Kitchen::default() })).contains("What is known so far"));
}

#[test]
fn a_channel_may_write_its_own_pages() {
    let kitchen = Kitchen::default();
    let locale = kitchen.locale();
    let overrides = Overrides::from([("page.html".to_owned(), "<h1>{{ sheet.title }}</h1>{{ nothing }}".to_owned())]);
    let voice = Voice { locale: &locale, region: Region::Eu, overrides: &overrides };
    let fault = page(&kitchen.sheet(), &voice, Beside::default()).expect_err("`nothing` is not there");
    assert_eq!((fault.template.as_str(), fault.line), ("page.html", Some(1)));
}

/// Relative luminance of `#rrggbb` (W3C WCAG 2.2).
fn luminance(colour: &str) -> f64 {
    let channel = |at: usize| {
        let value = f64::from(u8::from_str_radix(&colour[at..at + 2], 16).expect("two hex digits")) / 255.0;
        if value <= 0.04045 { value / 12.92 } else { ((value + 0.055) / 1.055).powf(2.4) }
    };
    0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5)
}

fn contrast(one: &str, other: &str) -> f64 {
    let (one, other) = (luminance(one), luminance(other));
    (one.max(other) + 0.05) / (one.min(other) + 0.05)
}

#[test]
fn text_has_the_contrast_that_wcag_asks_for_in_light_and_dark() {
    // Published pairs on white: #767676 4.542, #777777 4.478 (W3C WCAG).
    assert!((contrast("#ffffff", "#767676") - 4.542).abs() < 0.001);
    assert!((contrast("#ffffff", "#777777") - 4.478).abs() < 0.001);
    let html = written(&Kitchen::default());
    let schemes: Vec<&str> =
        html.split("color-scheme: light dark;").nth(1).expect("a light scheme").splitn(3, "--paper:").collect();
    for scheme in &schemes[1..] {
        let scheme = format!("--paper:{scheme}");
        let colour = |name: &str| {
            let rest = scheme.split_once(&format!("--{name}: ")).expect("the colour is there").1;
            rest[..7].to_owned()
        };
        for ground in ["paper", "sheet"] {
            for text in ["ink", "quiet", "accent"] {
                let found = contrast(&colour(ground), &colour(text));
                assert!(found >= 4.5, "{text} on {ground}: {found:.2}");
            }
        }
        assert!(contrast(&colour("warn"), &colour("warn-ink")) >= 4.5);
    }
}
