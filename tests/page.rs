//! Pages: self-contained, escaped, readable in light and dark, and without a number that is not on the sheet.

mod kitchen;
mod texts;

use jiff::civil::date;
use kitchen::Kitchen;
use std::collections::BTreeSet;
use tallyspoon::batch::Wanted;
use tallyspoon::exact::Exact;
use tallyspoon::model::{Region, Video};
use tallyspoon::page::{Beside, Companion, Entry, FEED, SITEMAP, index, page, site_files};
use tallyspoon::sheet::{Request, document, pattern};
use tallyspoon::template::{Overrides, Voice};
use texts::{numbers, strange, visible};

fn written(kitchen: &Kitchen) -> String {
    let locale = kitchen.locale();
    let voice = Voice { locale: &locale, region: Region::Eu, overrides: &Overrides::new() };
    let beside = Beside { home: Some("../index.html"), picture: Some("wide/title.png"), ..Beside::default() };
    page(&kitchen.sheet(), &voice, beside).expect("the page is written")
}

fn index_of(kitchen: &Kitchen) -> String {
    let locale = kitchen.locale();
    let voice = Voice { locale: &locale, region: Region::Eu, overrides: &Overrides::new() };
    let sheet = kitchen.sheet();
    let entries = [Entry { href: "split-pea-cakes/index.html", sheet: &sheet, companion: None }];
    index(&sheet.channel, &entries, &voice).expect("the index is written")
}

/// What its page knows: a site, a video and, if wanted, a correction of it.
fn companion() -> Companion {
    Companion {
        site: Some("https://kitchen.example/".to_owned()),
        video: Some(Video {
            url: "https://kitchen.example/watch/cakes".to_owned(),
            moment: None,
            published: date(2026, 4, 1),
            corrected: None,
            length: Some(Exact::from(95)),
        }),
        correction: None,
    }
}

fn living(kitchen: &Kitchen) -> String {
    let locale = kitchen.locale();
    let voice = Voice { locale: &locale, region: Region::Eu, overrides: &Overrides::new() };
    let known = companion();
    let pattern = kitchen.with(|inputs| pattern(inputs, None).expect("a pattern")).to_string();
    let beside = Beside {
        home: Some("../index.html"),
        picture: Some("share.png"),
        companion: Some(&known),
        pattern: Some(&pattern),
        ..Beside::default()
    };
    page(&kitchen.sheet(), &voice, beside).expect("the page is written")
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
fn a_page_that_reckons_fetches_nothing_and_lets_no_text_into_its_script() {
    let title = "Cakes </script><script>alert(1)</script>";
    let html = living(&Kitchen { title: title.to_owned(), ..Kitchen::default() });
    for fetches in
        [" src=", "url(", "@import", "<iframe", "<object", "javascript:", "fetch(", "XMLHttpRequest", "import("]
    {
        assert!(!html.contains(fetches), "{fetches}");
    }
    // Linked data, the word that the script runs, the pattern, the script.
    assert_eq!(html.matches("<script").count(), 4);
    assert_eq!(html.matches("</script>").count(), 4);
    assert!(html.len() < 150_000, "{} bytes", html.len());
    let pattern = html.split_once("id=\"pattern\">").expect("a pattern").1.split_once("</script>").expect("its end").0;
    let data: serde_json::Value = serde_json::from_str(pattern).expect("the pattern is JSON");
    assert_eq!(data["pattern"]["schema"], "pattern/1");
    let worded = data["words"].as_object().expect("words");
    assert!(worded.values().all(|text| text.as_str().is_some_and(|text| !text.is_empty())));
}

/// `7` or `-1/3`.
fn exact(text: &serde_json::Value) -> Exact {
    let text = text.as_str().expect("an exact number");
    let (sign, text) = text.strip_prefix('-').map_or((1, text), |text| (-1, text));
    let (top, bottom) = text.split_once('/').unwrap_or((text, "1"));
    let read = |part: &str| Exact::from_decimal(part).expect("digits");
    Exact::from(sign) * read(top) / read(bottom)
}

#[test]
fn every_weight_lies_on_the_straight_line_of_the_pattern() {
    let kitchen = Kitchen::default();
    let pattern = kitchen.with(|inputs| pattern(inputs, None).expect("a pattern"));
    for (top, bottom) in [(1, 1), (1, 3), (7, 2), (250, 1), (1, 1000)] {
        for variant in pattern["variants"].as_array().expect("variants") {
            let factor = Exact::ratio(top, bottom);
            let id = variant["id"].as_str().map(str::to_owned);
            let request = Request { wanted: Wanted::Times(factor.clone()), variant: id, day: None };
            let there = kitchen.with(|inputs| document(inputs, &request).expect("a document"));
            let lines = variant["parts"]
                .as_array()
                .expect("parts")
                .iter()
                .flat_map(|part| part["lines"].as_array().expect("lines"));
            for (line, told) in lines.zip(there["lines"].as_array().expect("lines")) {
                let grams = line["grams"].as_array().map(|pair| exact(&pair[0]) + exact(&pair[1]) * &factor);
                assert_eq!(
                    grams.map(|grams| grams.decimal()).as_deref(),
                    told["grams"].as_str(),
                    "{told} at {top}/{bottom}"
                );
            }
        }
    }
}

#[test]
fn every_word_that_the_script_says_is_there() {
    let html = living(&Kitchen::default());
    let (_, script) = html.rsplit_once("<script>").expect("a script");
    let data = html.split_once("id=\"pattern\">").expect("a pattern").1.split_once("</script>").expect("its end").0;
    let data: serde_json::Value = serde_json::from_str(data).expect("the pattern is JSON");
    let said = script.split("words[\"").skip(1).chain(script.split("say(\"").skip(1));
    let keys: BTreeSet<&str> = said.filter_map(|rest| rest.split('"').next()).collect();
    assert!(keys.len() > 20, "{keys:?}");
    for key in keys {
        assert!(data["words"].get(key).is_some(), "{key}");
    }
    for refused in script.split("new Refused(\"").skip(1).filter_map(|rest| rest.split('"').next()) {
        assert!(data["words"].get(format!("live-refused-{refused}")).is_some(), "{refused}");
    }
}

#[test]
fn a_page_of_a_site_says_where_it_is_and_how_it_looks_when_shared() {
    let html = living(&Kitchen::default());
    let address = "https://kitchen.example/split-pea-cakes/";
    for told in [
        format!("<link rel=\"canonical\" href=\"{address}\">"),
        format!("<meta property=\"og:image\" content=\"{address}share.png\">"),
        "href=\"../feed.xml\"".to_owned(),
    ] {
        assert!(html.contains(&told), "{told}");
    }
    let data = linked_data(&html);
    assert_eq!(data["url"], address);
    assert_eq!(data["video"]["@type"], "VideoObject");
    assert_eq!(data["video"]["uploadDate"], "2026-04-01");
    assert_eq!(data["video"]["duration"], "PT95S");
    let bare = written(&Kitchen::default());
    assert!(!bare.contains("canonical") && !bare.contains("og:"), "without a site nothing is said of one");
}

#[test]
fn feed_and_site_map_have_the_days_of_the_sources() {
    let kitchen = Kitchen { title: "Peas & <cakes>".to_owned(), ..Kitchen::default() };
    let (locale, sheet, known) = (kitchen.locale(), kitchen.sheet(), companion());
    let voice = Voice { locale: &locale, region: Region::Eu, overrides: &Overrides::new() };
    let entries = [Entry { href: "split-pea-cakes/index.html", sheet: &sheet, companion: Some(&known) }];
    let files = site_files(&sheet.channel, &entries, &voice).expect("both are written");
    let text = |name: &str| &files.iter().find(|(path, _)| *path == name).expect(name).1;
    assert!(text(FEED).contains("<updated>2026-04-01T00:00:00Z</updated>"), "{}", text(FEED));
    assert!(text(FEED).contains("<title>Peas &amp; &lt;cakes&gt;</title>"), "{}", text(FEED));
    let place = "<loc>https://kitchen.example/split-pea-cakes/</loc><lastmod>2026-04-01</lastmod>";
    assert!(text(SITEMAP).contains(place), "{}", text(SITEMAP));
    let nowhere = Companion { site: None, ..known.clone() };
    let entries = [Entry { companion: Some(&nowhere), ..entries[0] }];
    assert!(site_files(&sheet.channel, &entries, &voice).expect("nothing to write").is_empty());
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
    assert_eq!(data["image"][0], "wide/title.png");
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
