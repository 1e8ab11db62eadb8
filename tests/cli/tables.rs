//! The channel's table, as text, as CSV that no spreadsheet runs and as cards; and the workbook of one recipe.

use crate::kitchen::Kitchen;
use std::fs;

#[test]
fn the_table_is_sorted_and_says_what_changed_since_the_last_take() {
    let kitchen = Kitchen::small();
    for (day, makes) in [("2026-03-05", "4"), ("2026-04-01", "8")] {
        assert_eq!(kitchen.run(&["slate", "soup", "--day", day, "--makes", makes]).code, 0);
    }
    kitchen.edit("prices.csv", "salt,500 g,0.89", "salt,500 g,0.979");
    let done = kitchen.run(&["table"]);
    assert_eq!(done.code, 0, "{}", done.err);
    let soup = done.out.lines().find(|line| line.starts_with("Plain soup")).expect("a line");
    for part in ["3–4 bowls", "€0.01", "€0.04", "+10%", "1 April 2026"] {
        assert!(soup.contains(part), "{part} is not in {soup}");
    }
    let first = |sort: &str| kitchen.run(&["table", "--sort", sort]).out.lines().nth(2).expect("a line").to_owned();
    assert!(first("total").starts_with("Plain soup") && first("each").starts_with("Plain soup"));
    assert!(first("change").starts_with("Plain soup") && first("name").starts_with("Plain soup"));
    kitchen.edit("soup/recipe.md", "batch = \"1000 g\"", "batch = \"9000 g\"");
    assert!(first("total").starts_with("Salt tray"), "{}", first("total"));
    kitchen.edit("soup/recipe.md", "basis = \"water\"", "basis = \"water\"\n");
    assert_eq!(kitchen.run(&["table", "--sort", "taste"]).code, 2);
}

#[test]
fn what_is_reckoned_of_an_incomplete_recipe_is_marked_everywhere() {
    let kitchen = Kitchen::small();
    kitchen.edit("prices.csv", "2026-03-02,water,1 L,0,,\n", "");
    let table = kitchen.run(&["table"]).out;
    let soup = table.lines().find(|line| line.starts_with("Plain soup")).expect("a line");
    assert!(soup.contains("€0.01 !") && soup.contains("€0.04 of what is known"), "{soup}");
    let cost = kitchen.run(&["cost", "soup"]).out;
    assert!(cost.contains("€0.04 !") && cost.contains("€0.01 !"), "{cost}");
}

#[test]
fn no_cell_of_the_csv_is_run_as_a_formula() {
    let kitchen = Kitchen::small();
    for (n, title) in ["=1+1", "+1", "-1", "@SUM(A1)", "plain, with a comma"].into_iter().enumerate() {
        kitchen.write(
            &format!("content/evil-{n}/recipe.md"),
            &format!("+++\ntitle = \"{title}\"\n[formula]\nsalt = \"5 g\"\n+++\n\n## Spread\nSpread {{salt}}.\n"),
        );
    }
    let done = kitchen.run(&["table", "--csv", "--sort", "name"]);
    assert_eq!(done.code, 0, "{}", done.err);
    let mut reader = csv::Reader::from_reader(done.out.as_bytes());
    let mut titles = Vec::new();
    for record in reader.records() {
        let record = record.expect("RFC 4180");
        assert!(record.iter().all(|cell| !cell.starts_with(['=', '+', '-', '@', '\t', '\r'])), "{record:?}");
        titles.push(record[1].to_owned());
    }
    assert!(titles.contains(&"'=1+1".to_owned()) && titles.contains(&"plain, with a comma".to_owned()), "{titles:?}");
}

#[test]
fn the_table_is_published_as_cards_and_stale_knows_them() {
    let kitchen = Kitchen::small();
    assert_eq!(kitchen.run(&["publish", "--out", "edit"]).code, 0);
    let png = fs::read(kitchen.path("edit/_channel/small/table.png")).expect("a card");
    let size = image::load_from_memory(&png).expect("a PNG").into_rgba8();
    assert_eq!((size.width(), size.height()), (640, 360));
    let svg = fs::read_to_string(kitchen.path("edit/_channel/small/table.svg")).expect("a card");
    assert!(svg.contains("Plain soup") && svg.contains("€0.04"), "the stamp says all that stands on it");
    let again = kitchen.run(&["publish", "--out", "edit"]);
    assert!(again.out.contains("nothing to do"), "{}", again.out);
    assert_eq!(kitchen.run(&["stale", "edit"]).code, 0);
    kitchen.edit("prices.csv", "salt,500 g,0.89", "salt,500 g,1.89");
    let done = kitchen.run(&["stale", "edit/_channel"]);
    assert!(done.code == 1 && done.out.contains("€0.04 → €0.08"), "{}{}", done.out, done.err);
}

#[test]
fn a_slate_that_was_changed_is_a_warning_where_only_the_table_needs_it() {
    let kitchen = Kitchen::small();
    assert_eq!(kitchen.run(&["slate", "soup", "--day", "2026-03-05"]).code, 0);
    let path = "content/soup/slates/2026-03-05.toml";
    let text = fs::read_to_string(kitchen.path(path)).expect("kept");
    kitchen.write(path, &text.replace("20 g", "25 g"));
    // A take before it does not stand in for it.
    assert_eq!(kitchen.run(&["slate", "soup", "--day", "2026-02-01"]).code, 0);
    assert!(!kitchen.run(&["table"]).out.contains("February"));
    for command in [&["check"][..], &["publish", "--out", "out"], &["table"]] {
        let done = kitchen.run(command);
        assert_eq!(done.code, 0, "{command:?}: {}", done.err);
        assert!(done.err.contains("warning[slate-changed]"), "{command:?}: {}", done.err);
    }
}

#[test]
fn a_workbook_is_the_same_bytes_again_and_overwrites_nothing() {
    let kitchen = Kitchen::small();
    for file in ["a.xlsx", "b.xlsx"] {
        let done = kitchen.run(&["workbook", "soup", "--makes", "7", "--out", file]);
        assert_eq!(done.code, 0, "{}", done.err);
    }
    let bytes = fs::read(kitchen.path("a.xlsx")).expect("made");
    assert!(bytes.starts_with(b"PK\x03\x04") && bytes == fs::read(kitchen.path("b.xlsx")).expect("made"));
    kitchen.write("mine.xlsx", "mine");
    for (out, word) in [
        ("mine.xlsx", "there already"),
        ("nowhere/x.xlsx", "there is no folder `nowhere`"),
        ("x.csv", "a workbook ends with .xlsx"),
        ("content/x.xlsx", "among the sources"),
    ] {
        let done = kitchen.run(&["workbook", "soup", "--out", out]);
        assert!(done.code == 2 && done.err.contains(word), "{out}: {}", done.err);
    }
    assert_eq!(fs::read_to_string(kitchen.path("mine.xlsx")).expect("mine"), "mine");
}
