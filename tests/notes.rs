//! Notes: the promises of a description held for any kitchen, their looks in snapshots, and templates of one's own.

mod kitchen;
mod texts;

use kitchen::Kitchen;
use proptest::prelude::*;
use tallyspoon::model::Region;
use tallyspoon::notes::{Format, MOST_BYTES, notes};
use tallyspoon::sheet::Sheet;
use tallyspoon::template::{Fault, Overrides, Voice};
use texts::{numbers, strange, visible};

fn written(kitchen: &Kitchen, format: Format, overrides: &Overrides) -> Result<String, Fault> {
    let locale = kitchen.locale();
    notes(&kitchen.sheet(), &[], &Voice { locale: &locale, region: Region::Eu, overrides }, format)
}

fn plain(kitchen: &Kitchen) -> String {
    written(kitchen, Format::Plain, &Overrides::new()).expect("the notes are written")
}

/// What notes must show of a sheet: every amount, every percent, the total and the piece price.
fn due(sheet: &Sheet) -> Vec<String> {
    let lines = sheet.parts.iter().flat_map(|part| &part.lines);
    let figures = lines.flat_map(|line| [Some(&line.amount), line.percent.as_ref()]);
    let cost = [Some(&sheet.cost.total), sheet.cost.each.as_ref()];
    figures.chain(cost).flatten().map(|figure| figure.text().to_owned()).collect()
}

#[test]
fn plain_notes_read_like_this() {
    insta::assert_snapshot!("plain_english", plain(&Kitchen::default()));
    let incomplete = Kitchen { tag: "de-DE", language: "de", priced: false, ..Kitchen::default() };
    insta::assert_snapshot!("plain_german_with_a_price_missing", plain(&incomplete));
}

#[test]
fn markdown_notes_read_like_this() {
    let french = Kitchen { tag: "fr-FR", language: "fr", ..Kitchen::default() };
    let text = written(&french, Format::Markdown, &Overrides::new()).expect("the notes are written");
    insta::assert_snapshot!("markdown_french", text);
}

#[test]
fn what_an_author_writes_is_never_markup() {
    // The kitchen's mustard is noted "or less <b>", its peas "soaked & drained".
    let kitchen = Kitchen { title: "Cakes *with* [a] <script>".to_owned(), ..Kitchen::default() };
    let html = written(&kitchen, Format::Html, &Overrides::new()).expect("the notes are written");
    assert!(html.contains("or less &lt;b&gt;") && html.contains("soaked &amp; drained"), "{html}");
    assert!(html.contains("&lt;script&gt;") && !html.contains("<script"), "{html}");
    assert!(!html.contains("&amp;amp;") && !html.contains("&amp;#39;"), "nothing is escaped twice: {html}");
    assert!(html.contains("1/2 cup"), "a stroke needs no escape: {html}");
    let markdown = written(&kitchen, Format::Markdown, &Overrides::new()).expect("the notes are written");
    assert!(markdown.contains(r"# Cakes \*with\* \[a\] \<script\>"), "{markdown}");
}

#[test]
fn every_number_in_every_format_is_on_the_sheet() {
    for (tag, language) in [("en-IE", "en"), ("fr-FR", "fr"), ("de-DE", "de"), ("en-US", "en")] {
        let kitchen = Kitchen { tag, language, ..Kitchen::default() };
        let sheet = kitchen.sheet();
        for (name, format) in Format::ALL {
            let text = written(&kitchen, format, &Overrides::new()).expect("the notes are written");
            let text = if format == Format::Html { visible(&text) } else { text };
            assert!(numbers(&text).len() > 30, "{name} shows figures");
            assert_eq!(strange(&text, &sheet), Vec::<String>::new(), "{tag} {name}");
        }
    }
}

#[test]
fn every_format_shows_every_amount_and_percent() {
    let kitchen = Kitchen { tag: "de-AT", language: "de", ..Kitchen::default() };
    for (name, format) in Format::ALL {
        let text = written(&kitchen, format, &Overrides::new()).expect("the notes are written");
        for figure in due(&kitchen.sheet()) {
            assert!(text.contains(&figure), "{name} lacks {figure}");
        }
    }
}

#[test]
fn an_incomplete_total_is_marked_wherever_it_stands() {
    let kitchen = Kitchen { priced: false, ..Kitchen::default() };
    for (name, format) in Format::ALL {
        let text = written(&kitchen, format, &Overrides::new()).expect("the notes are written");
        assert!(text.contains("Incomplete: no price for mustard"), "{name}: {text}");
        assert!(!text.contains("The whole batch"), "{name}: {text}");
        assert!(text.contains("What is known so far"), "{name}: {text}");
    }
}

#[test]
fn what_does_not_fit_is_left_out_by_name() {
    let whole = plain(&Kitchen::default());
    assert!(!whole.contains("No room here for"));
    let many = (0..60)
        .map(|n| format!("dried sea herb {}", char::from(b'a' + n % 26).to_string().repeat(3 + usize::from(n) / 26)));
    let kitchen = Kitchen { more_lines: many.collect(), ..Kitchen::default() };
    let text = plain(&kitchen);
    assert!(text.len() <= MOST_BYTES);
    let last = text.lines().last().expect("a last line");
    assert_eq!(last, "No room here for: A word first and Cost by cost");
    assert!(!text.contains("COST BY COST") && text.contains("Hot oil"), "{text}");
}

#[test]
fn a_formula_that_can_not_fit_is_a_fault_with_its_size() {
    let endless =
        (0..120).map(|n| format!("an ingredient whose name takes a good part of a line, number {}", "i".repeat(n)));
    let kitchen = Kitchen { more_lines: endless.collect(), ..Kitchen::default() };
    let fault = written(&kitchen, Format::Plain, &Overrides::new()).expect_err("it can't fit");
    assert!(fault.message.contains("`split-pea-cakes`") && fault.message.contains("5000"), "{fault}");
}

#[test]
fn a_channel_may_write_its_own_templates() {
    let own = |text: &str| Overrides::from([("notes.txt".to_owned(), text.to_owned())]);
    let say = |text: &str| written(&Kitchen::default(), Format::Plain, &own(text));
    let text = say("{{ sheet.title }}: {{ say('makes', pieces=sheet.yields.pieces) }} <3\n").expect("a good template");
    assert_eq!(text, "Split-pea cakes with a sharp sauce: Makes 10–12 miner's cakes ‹3\n");
    let faults = [
        ("\n{{ sheet.titel }}", "undefined"),
        ("\n{{ say('no-such-key') }}", "there is no wording called `no-such-key`"),
        ("\n{{ say('makes') }}", "`makes` needs `pieces`"),
        ("\n{% for %}", ""),
    ];
    for (template, message) in faults {
        let fault = say(template).expect_err(template);
        assert_eq!((fault.template.as_str(), fault.line), ("notes.txt", Some(2)), "{template}: {fault}");
        assert!(fault.message.contains(message), "{template}: {fault}");
    }
    // Another format's template does not change this one.
    let markdown = Overrides::from([("notes.md".to_owned(), "other".to_owned())]);
    assert!(written(&Kitchen::default(), Format::Plain, &markdown).expect("notes").starts_with("Split-pea"));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_description_keeps_its_promises(
        names in prop::collection::btree_set("[a-zäöüßéèŁøα-ω]{2,8}( [a-z<>&]{1,6}){0,2}", 0..48),
        paragraphs in 0usize..40,
        place in prop::sample::select(vec![("en-IE", "en"), ("de-CH", "de"), ("fr-FR", "fr"), ("en-US", "en")]),
        currency in prop::sample::select(vec!["EUR", "JPY", "KWD", "HUF", "CLF"]),
        priced: bool,
    ) {
        let kitchen = Kitchen {
            tag: place.0,
            language: place.1,
            currency: iso_currency::Currency::from_code(currency).expect("a code"),
            more_lines: names.into_iter().collect(),
            paragraphs,
            priced,
            ..Kitchen::default()
        };
        let text = plain(&kitchen);
        prop_assert!(text.len() <= MOST_BYTES, "{} bytes", text.len());
        prop_assert!(!text.contains(['<', '>']));
        prop_assert!(!text.contains("  "), "no columns made of spaces");
        let sheet = kitchen.sheet();
        for figure in due(&sheet) {
            prop_assert!(text.contains(&figure), "{figure} is missing");
        }
        for line in sheet.parts.iter().flat_map(|part| &part.lines) {
            let shown = text.lines().any(|row| {
                row.contains(&line.name.replace('<', "‹").replace('>', "›"))
                    && row.contains(line.amount.text())
                    && line.percent.as_ref().is_none_or(|percent| row.contains(percent.text()))
            });
            prop_assert!(shown, "{} does not stand beside its amount and percent", line.name);
        }
    }
}
