//! A shop's list into the price book: everything understood or nothing taken.

use crate::book::{book_with, read};
use proptest::prelude::*;
use tallyspoon::diag::Findings;
use tallyspoon::model::{Book, Decimal, Import, Imported, Order, import};
use tallyspoon::span::Texts;

const OWN: &str = "date,item,pack,price,place,note\n2026-01-01,salt,1 kg,0.90,mill,\n";

fn columns(list: &[(&str, &str)]) -> Vec<(String, String)> {
    list.iter().map(|(ours, theirs)| ((*ours).to_owned(), (*theirs).to_owned())).collect()
}

/// The lines of a shop's text, or `line:column code` of every finding.
fn take(settings: Import, text: &str, items: Option<&str>) -> Result<Vec<Imported>, Vec<String>> {
    let book: Book = book_with("", OWN);
    let mut texts = Texts::new("");
    let own = texts.add("prices.csv", OWN);
    let id = texts.add("shop.csv", text);
    let items = items.map(|items| texts.add("items.csv", items));
    let mut findings = Findings::new();
    let lines = import(id, &Import { items, ..settings }, &book, Some(own), &texts, &mut findings);
    let heads = findings.sorted().into_iter().map(|finding| {
        assert!(finding.hint.is_some(), "{}", finding.message);
        let place = texts.place(finding.span.expect("a place"));
        format!("{}:{} {}", place.line, place.column, finding.code)
    });
    let heads: Vec<String> = heads.collect();
    if heads.is_empty() { Ok(lines) } else { Err(heads) }
}

fn german() -> Import {
    Import {
        columns: columns(&[
            ("date", "Datum"),
            ("item", "Artikel"),
            ("pack", "Menge+Einheit"),
            ("price", "Preis"),
            ("note", "Bemerkung"),
        ]),
        order: Order::DayMonthYear,
        place: Some("market hall".to_owned()),
        ..Import::default()
    }
}

const LIST: &str = "Kasse;Datum;Artikel;Menge;Einheit;Preis;Bemerkung\r\n\
                    7;02.03.2026;Salz fein;0,5;kg;0,89 €;\r\n\
                    7;2.3.2026;Whole MILK;6x330;mL;€3,96;im Angebot\r\n\
                    7;02.03.2026;Tragetasche;1;;0,10 €;\r\n\
                    7;02.03.2026;odd-seed;250;g;1.234,50 EUR;\r\n";
const ITEMS: &str = "name,item\nSalz fein,sugar\nWhole milk,milk\nTragetasche,\n";

#[test]
fn a_list_with_semicolons_decimal_commas_and_names_of_its_own_is_read() {
    let lines = take(german(), LIST, Some(ITEMS)).expect("all of it is understood");
    let written: Vec<String> = lines.iter().map(|imported| imported.line.join("|")).collect();
    assert_eq!(
        written,
        [
            "2026-03-02|sugar|0.5 kg|0.89|market hall|",
            "2026-03-02|milk|6x330 mL|3.96|market hall|im Angebot",
            "2026-03-02|odd-seed|250 g|1234.50|market hall|",
        ]
    );
    assert!(lines[1].purchase.is_offer());
}

#[test]
fn items_go_by_key_name_plural_or_what_is_said_for_them() {
    let settings = || Import { day: Some("2026-03-02".parse().expect("a day")), ..Import::default() };
    for (name, key) in [("salt", "salt"), ("  Odd   Seed ", "odd-seed"), ("seeds", "odd-seed"), ("Egg", "egg")] {
        let lines = take(settings(), &format!("item,pack,price\n{name},500 g,1\n"), None).expect(name);
        assert_eq!(lines[0].purchase.item, key);
    }
    assert_eq!(take(settings(), "item,pack,price\nslat,500 g,1\n", None).unwrap_err(), ["2:1 unknown-item"]);
    assert_eq!(take(settings(), "item,pack,price\nMix,500 g,1\n", None).unwrap_err(), ["2:1 ambiguous-item"]);
    let mapped =
        take(settings(), "item,pack,price\nMix,500 g,1\n", Some("name,item\nmix,even-seed\n")).expect("mapped");
    assert_eq!(mapped[0].purchase.item, "even-seed");
}

#[test]
fn everything_that_is_not_understood_is_told_at_once_with_its_place() {
    let text = "date,item,pack,price,place,note\n\
                02/03/2026,slat,500 grm,\"$1,35\",mill,\n\
                2026-03-02,salt,20 cm,free,=1+1,\n\
                2026-03-02,salt,\"1,500 g\",\"1,234\",,\n\
                2026-01-01,salt,1 kg,1.00,Mill,\n\
                2026-03-03,sugar,1 kg,1.00,,\n\
                2026-03-03,sugar,2 kg,1.80,,\n\
                2026-03-04,sugar,1 kg\n\
                2026-03-05,odd-seed,6,-1.00,,@note\n";
    assert_eq!(
        take(Import::default(), text, None).unwrap_err(),
        [
            "2:1 bad-date",
            "2:12 unknown-item",
            "2:17 unknown-unit",
            "2:25 bad-price",
            "3:17 bad-pack",
            "3:23 bad-price",
            "3:28 runs-as-formula",
            "4:17 ambiguous-number",
            "4:27 ambiguous-number",
            "5:1 duplicate-price",
            "7:1 duplicate-price",
            "8:1 field-count",
            "9:21 no-each",
            "9:23 bad-price",
            "9:30 runs-as-formula",
        ]
    );
}

#[test]
fn what_may_mean_two_things_is_read_as_the_file_is_said_to_write_it() {
    let text = "date;item;pack;price\n2026-03-02;salt;1,500 kg;1,234\n";
    let with = |decimal| take(Import { decimal: Some(decimal), ..Import::default() }, text, None).expect("it is said");
    let (comma, point) = (with(Decimal::Comma), with(Decimal::Point));
    assert_eq!((comma[0].line[2].as_str(), comma[0].line[3].as_str()), ("1.500 kg", "1.234"));
    assert_eq!((point[0].line[2].as_str(), point[0].line[3].as_str()), ("1500 kg", "1234"));
}

#[test]
fn days_are_read_in_the_order_they_are_said_to_have() {
    let day = |order, text: &str| {
        let list = format!("date;item;pack;price\n{text};salt;1 kg;1\n");
        take(Import { order, ..Import::default() }, &list, None).map(|lines| lines[0].line[0].clone())
    };
    assert_eq!(day(Order::DayMonthYear, "3/2/2026").expect("a day"), "2026-02-03");
    assert_eq!(day(Order::MonthDayYear, "3/2/2026").expect("a day"), "2026-03-02");
    for (order, text) in [
        (Order::MonthDayYear, "13/2/2026"),
        (Order::DayMonthYear, "30.2.2026"),
        (Order::DayMonthYear, "2.3.26"),
        (Order::YearMonthDay, "2/3/2026"),
        (Order::DayMonthYear, "2026-03-02"),
    ] {
        assert_eq!(day(order, text).unwrap_err(), ["2:1 bad-date"], "{text}");
    }
}

#[test]
fn columns_and_the_list_of_names_must_be_what_they_are_said_to_be() {
    let odd = Import { columns: columns(&[("price", "Pries"), ("item", "Artikel")]), ..Import::default() };
    assert_eq!(take(odd, "Artikel;Preis\nsalt;1\n", None).unwrap_err(), ["1:1 bad-columns"; 3]);
    let items = "name,item\nsalt,slat\nsalt,salt\nx\n";
    let found = take(Import::default(), "date,item,pack,price\n2026-03-02,salt,1 kg,1\n", Some(items)).unwrap_err();
    assert_eq!(found, ["2:6 unknown-item", "3:1 given-twice", "4:1 field-count"]);
    assert_eq!(take(Import::default(), "", None).unwrap_err(), ["1:1 empty-file"]);
    assert!(read("", "date,item,pack,price\n").is_ok(), "place and note may be left out of the book");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 128, failure_persistence: None, ..ProptestConfig::default() })]

    /// What a spreadsheet was given with commas and semicolons comes back as it was.
    #[test]
    fn a_list_comes_back_whole(
        rows in prop::collection::btree_map((1_i8..28, "[a-z]{1,5}"), (1_u32..5_000, 0_u32..1_000_000, "[a-z;\" ]{0,6}"), 1..12),
    ) {
        let quoted = |text: &str| format!("\"{}\"", text.replace('"', "\"\""));
        let mut text = "date;item;pack;price;place;note\r\n".to_owned();
        let mut expected = Vec::new();
        for ((day, place), (grams, cents, note)) in &rows {
            let (price, note) = (format!("{}.{:02}", cents / 100, cents % 100), note.trim());
            let pack = format!("{}.{} g", grams / 10, grams % 10);
            let (comma, grams) = (price.replace('.', ","), pack.replace('.', ","));
            text.push_str(&format!("2026-03-{day:02};salt;{grams};{comma};{place};{}\r\n", quoted(note)));
            let row = [&format!("2026-03-{day:02}"), "salt", &pack, &price, place, note].map(str::to_owned);
            expected.push(row);
        }
        let lines = take(Import { decimal: Some(Decimal::Comma), ..Import::default() }, &text, None).expect("all is plain");
        let lines: Vec<_> = lines.into_iter().map(|imported| imported.line).collect();
        prop_assert_eq!(lines, expected);
    }
}
