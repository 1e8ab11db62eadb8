//! The price book: which price holds, packs, offers, and lines added at its end.

use proptest::prelude::*;
use tallyspoon::exact::Exact;
use tallyspoon::locale::Locale;
use tallyspoon::model::{Book, Options, Pack, Purchase, Written, append, load_book};
use tallyspoon::sheet::{Shelf, history, price_list};
use tallyspoon::source::Sources;

/// Two items that one word is said for.
const PANTRY: &str =
    "[odd-seed]\nname = \"odd seed\"\nsaid-as = [\"seeds\", \"mix\"]\n[even-seed]\nsaid-as = [\"mix\"]\n";

/// A book of these lines, and a pantry that knows every item in it.
pub fn book_with(channel: &str, text: &str) -> Book {
    read(channel, text).unwrap_or_else(|codes| panic!("{codes:?} in {text}"))
}

pub fn read(channel: &str, text: &str) -> Result<Book, Vec<String>> {
    let channel = format!("name = \"Test kitchen\"\nlocale = \"en-IE\"\ncurrency = \"EUR\"\n{channel}");
    let files = [
        ("channel.toml", channel.into_bytes()),
        ("pantry.toml", PANTRY.as_bytes().to_vec()),
        ("prices.csv", text.as_bytes().to_vec()),
    ];
    let (book, findings) = load_book(&Sources::from_memory("content", files), &Options::default());
    book.ok_or_else(|| findings.sorted().iter().map(|finding| finding.code.to_owned()).collect())
}

const HEADER: &str = "date,item,pack,price,place,note\n";

fn latest<'b>(book: &'b Book, item: &str, day: &str) -> Option<&'b Purchase> {
    book.prices.latest(item, day.parse().expect("a day"))
}

#[test]
fn the_latest_purchase_holds_at_whatever_place_and_of_one_day_the_line_further_down() {
    let lines =
        "2026-03-09,salt,1 kg,0.95,mill,\n2026-03-02,salt,1 kg,0.80,corner,\n2026-03-09,salt,1 kg,0.90,corner,\n";
    let book = book_with("", &format!("{HEADER}{lines}"));
    assert_eq!(latest(&book, "salt", "2026-03-08").expect("a price").price.decimal(), "0.8");
    assert_eq!(latest(&book, "salt", "2026-03-09").expect("a price").price.decimal(), "0.9");
    assert!(latest(&book, "salt", "2026-03-01").is_none());
}

#[test]
fn offers_hold_unless_the_channel_leaves_them_out() {
    let lines = "2026-03-02,salt,1 kg,0.90,,\n2026-03-09,salt,1 kg,0.50,,on offer\n2026-03-09,sugar,1 kg,1,,\"two, on offer\"\n";
    let counted = book_with("", &format!("{HEADER}{lines}"));
    assert_eq!(latest(&counted, "salt", "2026-03-10").expect("a price").price.decimal(), "0.5");
    let left_out = book_with("offers = \"leave-out\"\n", &format!("{HEADER}{lines}"));
    assert_eq!(latest(&left_out, "salt", "2026-03-10").expect("a price").price.decimal(), "0.9");
    assert!(latest(&left_out, "sugar", "2026-03-10").is_none(), "an offer alone is no price then: it is missing");
}

#[test]
fn a_multipack_holds_all_of_its_packs() {
    let lines = "2026-03-02,milk,6 x 330 mL,3.96,,\n2026-03-02,egg,2 × 6,4,,\n2026-03-02,salt,3X500g,2,,\n";
    let book = book_with("", &format!("{HEADER}{lines}"));
    let pack = |item| latest(&book, item, "2026-03-02").expect("a price").pack.clone();
    assert_eq!(pack("milk"), Pack::Volume(Exact::from(1980)));
    assert_eq!(pack("egg"), Pack::Count(Exact::from(12)));
    assert_eq!(pack("salt"), Pack::Weight(Exact::from(1500)));
    for odd in ["1.5 x 330 mL", "0 x 1 L", "6 x", "x 6"] {
        assert!(read("", &format!("{HEADER}2026-03-02,milk,{odd},1,,\n")).is_err(), "{odd}");
    }
}

#[test]
fn the_list_shows_age_price_by_weight_and_what_changed() {
    let lines = "2026-03-02,salt,1 kg,0.80,corner,\n2026-04-01,salt,500 g,0.50,corner,\n2026-04-01,water,1 L,0,tap,\n\
                 2026-05-01,milk,6 x 330 mL,3.96,mill,on offer\n";
    let book = book_with("stale-after = \"20 d\"\n", &format!("{HEADER}{lines}"));
    let locale = Locale::new("en-IE", "en").expect("a locale");
    let shelf = Shelf { book: &book, locale: &locale, day: "2026-05-01".parse().expect("a day") };
    let list = price_list(shelf);
    let (milk, salt, water) = (&list[0], &list[1], &list[2]);
    assert_eq!((salt.age.text(), salt.stale), ("30 days", true));
    assert_eq!(salt.per_unit.as_ref().expect("by weight").text(), "€1.00/kg");
    // 1.00 a kilogram after 0.80 is a quarter more.
    assert_eq!(salt.change.as_ref().expect("an earlier price").text(), "+25%");
    assert_eq!((milk.pack.text(), milk.stale, milk.offer), ("6 × 330 mL", false, true));
    assert_eq!(milk.per_unit.as_ref().expect("by volume").text(), "€2.00/L");
    assert!(water.free && !salt.free);
    let all = history(shelf, "salt");
    assert_eq!(all.iter().map(|row| row.price.text()).collect::<Vec<_>>(), ["€0.50", "€0.80"]);
    assert!(all[1].change.is_none(), "nothing came before it");
}

#[test]
fn a_price_is_old_from_the_day_after_the_limit_and_one_piece_needs_no_price_each() {
    let lines = "2026-04-11,salt,1 kg,0.80,,\n2026-04-10,sugar,1 kg,1.00,,\n2026-05-01,egg,6,2.10,,\n2026-05-01,onion,1,0.30,,\n";
    let book = book_with("stale-after = \"20 d\"\n", &format!("{HEADER}{lines}"));
    let locale = Locale::new("en-IE", "en").expect("a locale");
    let list = price_list(Shelf { book: &book, locale: &locale, day: "2026-05-01".parse().expect("a day") });
    let told: Vec<_> = list.iter().map(|row| (row.item.as_str(), row.age.text(), row.stale)).collect();
    assert_eq!(
        told,
        [("egg", "0 days", false), ("onion", "0 days", false), ("salt", "20 days", false), ("sugar", "21 days", true)]
    );
    assert_eq!(list[0].per_unit.as_ref().expect("six eggs").text(), "€0.35");
    assert!(list[1].per_unit.is_none(), "one onion costs what it costs");
}

fn line(fields: [&str; 6]) -> Written {
    fields.map(str::to_owned)
}

/// RFC 4180 sections 2.2 (the last line may or may not end), 2.6 and 2.7 (quotes).
#[test]
fn a_line_is_added_after_every_byte_that_was_there() {
    let salt = line(["2026-05-01", "salt", "1 kg", "0.90", "hall, \"north\"", ""]);
    let written = "2026-05-01,salt,1 kg,0.90,\"hall, \"\"north\"\"\",";
    for (before, after) in [
        ("date,item,pack,price,place,note\n", format!("{written}\n")),
        ("date,item,pack,price,place,note\r\n2026-01-01,salt,1 kg,1,,\r\n", format!("{written}\r\n")),
        ("date,item,pack,price,place,note\n2026-01-01,salt,1 kg,1,,", format!("\n{written}")),
        ("date,item,pack,price,place,note", format!("\n{written}")),
        ("\u{feff}date,item,pack,price,place,note\r\n2026-01-01,salt,1 kg,1,,", format!("\r\n{written}")),
        ("price,place,date,note,item,pack\n", "0.90,\"hall, \"\"north\"\"\",2026-05-01,,salt,1 kg\n".to_owned()),
    ] {
        assert_eq!(append(Some(before), std::slice::from_ref(&salt)), Ok(format!("{before}{after}")));
    }
    assert_eq!(append(None, std::slice::from_ref(&salt)), Ok(format!("date,item,pack,price,place,note\n{written}\n")));
    assert_eq!(append(Some("date,item,pack,price\n"), &[salt]), Err("place"), "no word is lost");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 128, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn what_is_added_reads_back_and_nothing_else_moves(
        place in "[a-zA-Z \",;'é€.]{0,12}",
        note in "[a-zA-Z \",;'é€.]{0,12}",
        cents in 0_u32..100_000,
        crlf in any::<bool>(),
        closed in any::<bool>(),
    ) {
        let ending = if crlf { "\r\n" } else { "\n" };
        let mut before = format!("date,item,pack,price,place,note{ending}2026-01-01,salt,1 kg,1,\"a, b\",");
        if closed {
            before.push_str(ending);
        }
        let price = format!("{}.{:02}", cents / 100, cents % 100);
        let added = line(["2026-05-01", "sugar", "6 x 330 g", &price, place.trim(), note.trim()]);
        let after = append(Some(&before), std::slice::from_ref(&added)).expect("every column is there");
        prop_assert!(after.starts_with(&before));
        prop_assert_eq!(after.ends_with('\n'), closed);
        prop_assert_eq!(after.contains("\r\n"), crlf);
        let book = book_with("", &after);
        let read = &book.prices.by_item["sugar"][0];
        prop_assert_eq!((&read.place, &read.note, read.price.fixed(2)), (&added[4], &added[5], price));
        prop_assert_eq!(book.prices.by_item["salt"].len(), 1);
    }
}
