//! `prices`: listing, adding, importing and exporting, and that nothing is written where anything is wrong.

use crate::kitchen::Kitchen;
use std::fs;

const BOOK: &str = "content/prices.csv";

fn book(kitchen: &Kitchen) -> String {
    fs::read_to_string(kitchen.path(BOOK)).expect("can be read")
}

#[test]
fn a_purchase_is_added_at_the_end_and_holds_from_then_on() {
    let kitchen = Kitchen::new();
    let before = book(&kitchen);
    let done =
        kitchen.run(&["prices", "add", "Salt", "2 x 500 g", "1.50", "--on", "2026-04-01", "--place", "hall, north"]);
    assert_eq!(done.code, 0, "{}", done.err);
    let line = "2026-04-01,salt,2 x 500 g,1.50,\"hall, north\",";
    assert!(done.out.contains(line), "{}", done.out);
    assert_eq!(book(&kitchen), format!("{before}{line}\n"));
    let listed = kitchen.run(&["prices"]).out;
    assert!(listed.contains("2 × 500 g") && listed.contains("€1.50/kg") && listed.contains("-15.7%"), "{listed}");
    let offer =
        kitchen.run(&["prices", "add", "salt", "1 kg", "1", "--on", "2026-04-02", "--offer", "--note", "big bag"]);
    assert_eq!(offer.code, 0, "{}", offer.err);
    assert!(book(&kitchen).ends_with("2026-04-02,salt,1 kg,1,,\"on offer, big bag\"\n"));
}

#[test]
fn a_book_is_begun_and_its_own_ending_is_kept() {
    let kitchen = Kitchen::new();
    fs::remove_file(kitchen.path(BOOK)).expect("removed");
    let add = ["prices", "add", "salt", "1 kg", "1.20", "--on", "2026-04-01"];
    assert_eq!(kitchen.run(&add).code, 0);
    assert_eq!(book(&kitchen), "date,item,pack,price,place,note\n2026-04-01,salt,1 kg,1.20,,\n");
    kitchen.write(BOOK, "date,item,pack,price,place,note\r\n2026-03-01,salt,1 kg,1,,");
    assert_eq!(kitchen.run(&add).code, 0);
    let expected = "date,item,pack,price,place,note\r\n2026-03-01,salt,1 kg,1,,\r\n2026-04-01,salt,1 kg,1.20,,";
    assert_eq!(book(&kitchen), expected);
    let left: Vec<_> =
        fs::read_dir(kitchen.path("content")).expect("listed").map(|e| e.expect("one").file_name()).collect();
    assert!(left.iter().all(|name| !name.to_string_lossy().starts_with(".tallyspoon")), "{left:?}");
}

#[cfg(unix)]
#[test]
fn permissions_stay_and_a_link_is_followed() {
    use std::os::unix::fs::{PermissionsExt as _, symlink};
    let kitchen = Kitchen::new();
    fs::rename(kitchen.path(BOOK), kitchen.path("content/kept.csv")).expect("moved");
    fs::set_permissions(kitchen.path("content/kept.csv"), fs::Permissions::from_mode(0o640)).expect("set");
    symlink("kept.csv", kitchen.path(BOOK)).expect("linked");
    let done = kitchen.run(&["prices", "add", "salt", "1 kg", "1.20", "--on", "2026-04-01"]);
    assert_eq!(done.code, 0, "{}", done.err);
    assert!(fs::symlink_metadata(kitchen.path(BOOK)).expect("there").is_symlink());
    let meta = fs::metadata(kitchen.path("content/kept.csv")).expect("there");
    assert_eq!(meta.permissions().mode() & 0o777, 0o640);
    assert!(book(&kitchen).ends_with("1.20,,\n"));
}

#[test]
fn a_slip_adds_nothing_and_every_fault_of_it_is_told() {
    let kitchen = Kitchen::new();
    let before = book(&kitchen);
    let slips: [(&[&str], &[&str]); 6] = [
        (&["salz", "500 grm", "€1,20"], &["`salz` is no item", "unknown unit `grm`", "`€1,20` is not a plain number"]),
        (&["salt", "500 g", "0.89", "--on", "2026-03-02", "--place", "Market"], &["in line 2 already"]),
        (&["salt", "500 g", "1", "--on", "2.3.2026"], &["is not a day"]),
        (&["salt", "500 g", "--price", "1"], &["unexpected argument"]),
        (&["salt", "500 g", "1", "--on", "2026-04-01", "--note", "=1+1"], &["would run `=1+1` as a formula"]),
        (&["salt", "500 g", "-1", "--on", "2026-04-01"], &["-1"]),
    ];
    for (arguments, told) in slips {
        let done = kitchen.run(&[&["prices", "add"], arguments].concat());
        assert_eq!((done.code, done.out.as_str()), (2, ""), "{arguments:?}: {}", done.err);
        told.iter().for_each(|text| assert!(done.err.contains(text), "{arguments:?} was answered\n{}", done.err));
    }
    assert_eq!(book(&kitchen), before);
    kitchen.edit("prices.csv", "0.89", "0,89");
    let broken = book(&kitchen);
    assert_eq!(kitchen.run(&["prices", "add", "salt", "1 kg", "1", "--on", "2026-04-01"]).code, 1);
    assert_eq!(book(&kitchen), broken, "a book at fault is not written to");
    kitchen.write(BOOK, "date,item,pack,price\n");
    let lost = kitchen.run(&["prices", "add", "salt", "1 kg", "1", "--on", "2026-04-01", "--place", "hall"]);
    assert_eq!(lost.code, 2);
    assert!(lost.err.contains("has no column `place`"), "{}", lost.err);
}

#[test]
fn a_recipe_at_fault_does_not_keep_prices_from_the_book() {
    let kitchen = Kitchen::new();
    kitchen.edit("soup/recipe.md", "salt = \"2 %\"", "salt = \"2 blobs\"");
    assert_eq!(kitchen.run(&["prices", "add", "salt", "1 kg", "1", "--on", "2026-04-01"]).code, 0);
    assert_eq!(kitchen.run(&["prices"]).code, 0);
}

#[test]
fn a_shops_list_is_taken_whole_or_not_at_all() {
    let kitchen = Kitchen::new();
    let before = book(&kitchen);
    kitchen
        .write("shop.csv", "Datum;Artikel;Menge;Preis\n02.04.2026;Meersalz;0,5 kg;1,19 €\n02.04.2026;Pfand;1;0,25\n");
    kitchen.write("names.csv", "name,item\nMeersalz,salt\n");
    let columns = "date=Datum,item=Artikel,pack=Menge,price=Preis";
    let import = [
        "prices",
        "import",
        "shop.csv",
        "--columns",
        columns,
        "--dates",
        "dmy",
        "--items",
        "names.csv",
        "--place",
        "hall",
    ];
    let refused = kitchen.run(&import);
    assert_eq!((refused.code, refused.out.as_str()), (1, ""), "{}", refused.err);
    assert!(refused.err.contains("shop.csv:3:12") && refused.err.contains("Pfand"), "{}", refused.err);
    assert_eq!(book(&kitchen), before);
    kitchen.write("names.csv", "name,item\nMeersalz,salt\nPfand,\n");
    let done = kitchen.run(&import);
    assert_eq!(done.code, 0, "{}", done.err);
    assert!(done.out.contains("1 purchase of 2026-04-02 added"), "{}", done.out);
    assert_eq!(book(&kitchen), format!("{before}2026-04-02,salt,0.5 kg,1.19,hall,\n"));
    let again = kitchen.run(&import);
    assert_eq!(again.code, 1, "the same list again is refused");
    assert!(again.err.contains("in line 4 already"), "{}", again.err);
    let slip = kitchen.run(&["prices", "import", "shop.csv", "--columns", "prize=Preis"]);
    assert_eq!(slip.code, 2, "{}", slip.err);
    assert_eq!(kitchen.run(&["prices", "import", "nowhere.csv"]).code, 2);
}

#[test]
fn what_is_exported_for_a_spreadsheet_imports_back_whole() {
    let kitchen = Kitchen::new();
    let more = "2026-03-09,salt,1.5 kg,2.125,\"a; b\",\"say \"\"so\"\"\"\n2026-03-09,water,.5 L,0,,\n";
    kitchen.write(BOOK, &(book(&kitchen) + more));
    let options = ["--separator", "semicolon", "--decimal", "comma"];
    let list = kitchen.run(&[&["prices", "export"], &options[..]].concat());
    assert_eq!(list.code, 0, "{}", list.err);
    assert!(list.out.contains("2026-03-09;salt;1,5 kg;2,125;\"a; b\";\"say \"\"so\"\"\""), "{}", list.out);
    kitchen.write("list.csv", &list.out);
    let whole = kitchen.run(&["prices", "export"]).out;
    fs::remove_file(kitchen.path(BOOK)).expect("removed");
    let done = kitchen.run(&[&["prices", "import", "list.csv"], &options[..]].concat());
    assert_eq!(done.code, 0, "{}", done.err);
    assert_eq!(kitchen.run(&["prices", "export"]).out.replace("0.5 L", ".5 L"), whole);
    assert_eq!(kitchen.run(&["prices", "export", "--decimal", "comma"]).code, 2);
}

#[test]
fn prices_are_listed_as_of_a_day_and_one_items_by_day() {
    let kitchen = Kitchen::new();
    kitchen.write(BOOK, &(book(&kitchen) + "2026-06-01,salt,500 g,0.99,market,on offer\n"));
    kitchen.edit("channel.toml", "currency", "stale-after = \"60 d\"\ncurrency");
    let now = kitchen.run(&["prices"]);
    assert_eq!((now.code, now.err.as_str()), (0, ""));
    assert!(now.out.contains("2 prices on 2026-06-01, old after 60 days; 1 old"), "{}", now.out);
    assert!(now.out.contains("91 days !") && now.out.contains("market, on offer"), "{}", now.out);
    let then = kitchen.run(&["prices", "--on", "2026-03-02"]).out;
    assert!(then.contains("€0.89") && !then.contains("€0.99"), "{then}");
    let salt = kitchen.run(&["prices", "salt"]).out;
    assert!(salt.contains("€0.89") && salt.contains("€0.99") && !salt.contains("free"), "{salt}");
    let slip = kitchen.run(&["prices", "slat"]);
    assert_eq!(slip.code, 2);
    assert!(slip.err.contains("did you mean `salt`?"), "{}", slip.err);
}

#[test]
fn a_day_before_all_purchases_is_answered_in_words() {
    let kitchen = Kitchen::new();
    let done = kitchen.run(&["prices", "--on", "2020-01-01"]);
    assert_eq!(done.out, "no price is as old as 2020-01-01: the first is of 2026-03-02\n", "{}", done.err);
}

#[test]
fn old_prices_are_warned_about_where_they_weigh_most() {
    let kitchen = Kitchen::new();
    let more = "2026-06-01,water,1 L,0.01,,\n";
    kitchen.write(BOOK, &(book(&kitchen) + more));
    kitchen.edit("channel.toml", "currency", "stale-after = \"60 d\"\ncurrency");
    let done = kitchen.run(&["check"]);
    assert_eq!(done.code, 0, "{}", done.err);
    assert!(done.err.contains("prices.csv:2:1"), "{}", done.err);
    assert!(
        done.err.contains("the price of `salt` is 91 days old and makes up 100% of what `tray` comes to"),
        "{}",
        done.err
    );
    kitchen.edit("channel.toml", "60 d", "91 d");
    assert!(!kitchen.run(&["check"]).err.contains("stale-price"), "the limit itself is not past it");
}

#[test]
fn an_item_known_by_offers_alone_is_missing_where_they_are_left_out() {
    let kitchen = Kitchen::new();
    kitchen.edit("prices.csv", "market,", "market,on offer");
    kitchen.edit("channel.toml", "currency", "offers = \"leave-out\"\ncurrency");
    let checked = kitchen.run(&["check"]);
    assert!(checked.err.contains("`salt` has only prices on offer"), "{}", checked.err);
    let figures: serde_json::Value =
        serde_json::from_str(&kitchen.run(&["figures", "soup", "--json"]).out).expect("JSON");
    assert_eq!(figures["cost"]["complete"], false);
    assert_eq!(figures["cost"]["missing"], serde_json::json!(["main.salt"]));
}

/// The lines that `publish` and `prices what-if` share.
fn lines(done: &str) -> Vec<String> {
    let kept = |line: &&str| !line.starts_with("nothing") && line.contains(" written");
    done.lines().filter(kept).map(|line| line.replace("would be ", "")).collect()
}

#[test]
fn what_if_tells_what_publishing_does_after_the_change() {
    for (change, pack, price) in [("+50%", "500 g", "1.34"), ("-10 %", "500 g", "0.80"), ("2.10", "1 kg", "2.10")] {
        let kitchen = Kitchen::new();
        kitchen.edit(
            "channel.toml",
            "currency",
            "[frame.small]\nsize = \"640x360\"\n[frame.other]\nsize=\"480x480\"\n#",
        );
        kitchen.edit("channel.toml", "name", "currency = \"EUR\"\nname");
        assert_eq!(kitchen.run(&["publish", "--out", "out"]).code, 0);
        let before = book(&kitchen);
        let on = if pack == "1 kg" { "2026-05-05" } else { "2026-03-02" };
        let told = kitchen.run(&["prices", "what-if", "salt", change, "--pack", pack, "--on", on]);
        assert_eq!(told.code, 0, "{}", told.err);
        assert!(told.out.starts_with("if salt cost €") && told.out.ends_with("nothing was written\n"), "{}", told.out);
        assert_eq!(book(&kitchen), before);
        let add = ["prices", "add", "salt", pack, price, "--on", on, "--place", "other"];
        assert_eq!(kitchen.run(&add).code, 0);
        let done = kitchen.run(&["publish", "--out", "out"]);
        assert_eq!(lines(&told.out), lines(&done.out));
        assert!(lines(&told.out).len() > 1, "{}", told.out);
    }
}

#[test]
fn what_if_counts_pages_and_feed_as_publishing_does() {
    let kitchen = Kitchen::small();
    kitchen.edit("channel.toml", "currency", "site = \"https://kitchen.example/\"\ncurrency");
    let video = "[video]\nurl = \"https://kitchen.example/watch\"\npublished = 2026-03-03\n\n[variant.spicy]";
    kitchen.edit("soup/recipe.md", "[variant.spicy]", video);
    assert_eq!(kitchen.run(&["slate", "soup", "--day", "2026-03-02"]).code, 0);
    assert_eq!(kitchen.run(&["publish", "--out", "out"]).code, 0);
    let on = ["--on", "2026-03-04"];
    let told = kitchen.run(&[&["prices", "what-if", "salt", "8.90"], &on[..]].concat());
    assert_eq!(told.code, 0, "{}", told.err);
    assert_eq!(kitchen.run(&[&["prices", "add", "salt", "500 g", "8.90"], &on[..]].concat()).code, 0);
    let done = kitchen.run(&["publish", "--out", "out"]);
    assert_eq!(lines(&told.out), lines(&done.out));
    let feed = fs::read_to_string(kitchen.path("out/feed.xml")).expect("published");
    assert!(feed.contains("2026-03-04"), "the page has a correction: {feed}");
}

#[test]
fn what_if_answers_slips_with_what_to_write() {
    let kitchen = Kitchen::new();
    let slips: [(&[&str], &str); 7] = [
        (&["zebra", "+15%"], "`sugar`"),
        (&["slat", "+15%"], "did you mean `salt`?"),
        (&["salt", "+x%"], "is no change of price"),
        (&["salt", "-200%"], "is no change of price"),
        (&["salt", "dear"], "`dear` is no price"),
        (&["sugar", "+15%"], "has no price that could change"),
        (&["sugar", "1.20"], "give its pack too"),
    ];
    for (arguments, told) in slips {
        let done = kitchen.run(&[&["prices", "what-if"], arguments].concat());
        assert_eq!((done.code, done.out.as_str()), (2, ""), "{arguments:?}: {}", done.err);
        assert!(done.err.contains(told), "{arguments:?} was answered\n{}", done.err);
    }
    let nothing = kitchen.run(&["prices", "what-if", "sugar", "1.20", "--pack", "1 kg"]);
    assert_eq!(nothing.code, 0, "{}", nothing.err);
    assert!(nothing.out.contains("nothing would change"), "{}", nothing.out);
}

#[test]
fn a_recipe_is_set_beside_its_variants_yields_and_places() {
    let kitchen = Kitchen::new();
    kitchen.write(BOOK, &(book(&kitchen) + "2026-03-01,salt,1 kg,0.89,mill,\n"));
    kitchen.edit(
        "soup/recipe.md",
        "basis = ",
        "compare = { price = 1, size = \"4 bowls\", bought = 2026-03-01 }\nbasis = ",
    );
    let variants = kitchen.run(&["cost", "soup", "--by", "variant"]);
    assert_eq!((variants.code, variants.err.as_str()), (0, ""));
    assert!(variants.out.contains("With more salt") && variants.out.contains("+€0.02"), "{}", variants.out);
    assert!(variants.out.contains("paid off from batch 1 on"), "{}", variants.out);
    let yields = kitchen.run(&["cost", "soup", "--by", "yield"]).out;
    assert!(yields.contains("(1) 1000 g") || yields.contains("(1) 1,000 g"), "{yields}");
    let places = kitchen.run(&["cost", "soup", "--by", "place"]).out;
    assert!(places.contains("mill") && places.contains("1 of 2") && places.contains("-€0.02"), "{places}");
    let alone = kitchen.run(&["cost", "soup", "--times", "2", "--variant", "spicy"]).out;
    assert!(alone.contains("€0.11") && alone.contains("6–8 bowls"), "{alone}");
    // Before there was any price there is no sum, and nothing that could be dearer.
    let early = kitchen.run(&["cost", "soup", "--on", "2000-01-01"]).out;
    assert!(early.contains("— !") && !early.contains("dearer") && !early.contains("0.00"), "{early}");
    assert_eq!(kitchen.run(&["cost", "soup", "--by", "variant", "--variant", "spicy"]).code, 2);
    assert_eq!(kitchen.run(&["cost", "soop"]).code, 2);
}
