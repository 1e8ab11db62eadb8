//! What keeping a take promises: it is never lost or overwritten, its cards come again byte for byte, what has become
//! untrue is told and nothing else, and a slate that someone changed says so.

use crate::kitchen::Kitchen;
use std::collections::BTreeMap;
use std::fs;

const FIRST: &str = "content/soup/slates/2026-03-05.toml";

fn small() -> Kitchen {
    let kitchen = Kitchen::new();
    kitchen.write(
        "content/channel.toml",
        "name = \"Test Kitchen\"\nlocale = \"en-IE\"\ncurrency = \"EUR\"\n[frame.small]\nsize = \"640x360\"\n\
         [frame.square]\nsize = \"400x400\"\n",
    );
    kitchen
}

fn slate(kitchen: &Kitchen, more: &[&str]) -> String {
    let done = kitchen.run(&[&["slate", "soup", "--day", "2026-03-05"], more].concat());
    assert_eq!(done.code, 0, "{}", done.err);
    done.out
}

fn cards(kitchen: &Kitchen, folder: &str) -> BTreeMap<String, Vec<u8>> {
    let frames = ["small", "square"].map(|frame| kitchen.path(&format!("{folder}/soup/{frame}")));
    let listed = frames.iter().flat_map(|frame| fs::read_dir(frame).expect("it was drawn"));
    let paths = listed.map(|entry| entry.expect("it can be listed").path());
    paths.map(|path| (path.display().to_string().replace(folder, ""), fs::read(&path).expect("there"))).collect()
}

#[test]
fn a_slate_is_dated_readable_and_never_overwritten() {
    let kitchen = small();
    assert!(slate(&kitchen, &[]).contains("2026-03-05.toml"));
    let text = fs::read_to_string(kitchen.path(FIRST)).expect("kept");
    for part in ["# What was filmed of `soup` on 2026-03-05", "digest = \"", "amount = \"20 g\"", "€0.04"] {
        assert!(text.contains(part), "{part} is not in {text}");
    }
    kitchen.edit("prices.csv", "0.89", "1.89");
    assert!(slate(&kitchen, &["--makes", "8"]).contains("2026-03-05-2.toml"));
    assert!(slate(&kitchen, &["--makes", "8"]).contains("2026-03-05-3.toml"));
    assert_eq!(fs::read_to_string(kitchen.path(FIRST)).expect("kept"), text);
    let check = kitchen.run(&["check"]);
    assert_eq!((check.code, check.err.contains("warning")), (0, false), "{}", check.err);
}

#[test]
fn the_clock_only_names_the_file() {
    let kitchen = small();
    assert_eq!(kitchen.run(&["slate", "soup"]).code, 0);
    let name = fs::read_dir(kitchen.path("content/soup/slates")).unwrap().next().unwrap().unwrap().file_name();
    let name = name.to_string_lossy().into_owned();
    assert!(name.len() == "2026-03-05.toml".len() && name.starts_with("20"), "{name}");
    for bad in ["2026-13-01", "yesterday", "5 March"] {
        assert_eq!(kitchen.run(&["slate", "soup", "--day", bad]).code, 2, "{bad}");
    }
    assert_eq!(fs::read_dir(kitchen.path("content/soup/slates")).unwrap().count(), 1);
}

#[test]
fn nothing_drifts_as_long_as_nothing_changes() {
    let kitchen = small();
    for more in [&[][..], &["--makes", "9"], &["--variant", "spicy"], &["--times", "1/3"], &["--have", "salt=7 g"]] {
        slate(&kitchen, more);
    }
    let done = kitchen.run(&["drift"]);
    assert_eq!(done.code, 0, "{}{}", done.out, done.err);
    assert_eq!(done.out.matches("all of it is still so").count(), 5, "{}", done.out);
    assert!(!done.out.contains('→') && !done.out.contains("Correction"), "{}", done.out);
}

#[test]
fn what_changed_is_told_by_formula_method_and_price_with_texts_to_paste() {
    let kitchen = small();
    slate(&kitchen, &[]);
    kitchen.edit("soup/recipe.md", "salt = \"2 %\"", "salt = \"3 %\"");
    kitchen.edit("soup/recipe.md", "{2 min}", "{4 min}");
    kitchen.edit("prices.csv", "2026-03-02,water,1 L,0,,", "2026-03-02,water,1 L,0,,\n2026-06-06,salt,500 g,1.99,,");
    let done = kitchen.run(&["drift", "soup"]);
    assert_eq!(done.code, 1, "{}", done.err);
    let out = &done.out;
    let place = |part: &str| out.find(part).unwrap_or_else(|| panic!("`{part}` is not in {out}"));
    assert!(place("  formula\n") < place("main.salt: 20 g · 2%"));
    assert!(place("main.salt: 20 g · 2%") < place("  method\n"));
    assert!(place("  method\n") < place("step.stir: Stir, 2 min → Stir, 4 min"));
    assert!(place("step.stir: ") < place("  price\n"));
    assert!(place("  price\n") < place("cost.total: €0.04 → €0.12"));
    let block = &out[place("For the description")..place("For a pinned comment")];
    for line in [
        "Correction\nWhat has changed since this was filmed:\n",
        "• salt: 30 g · 3% · ",
        "• Stir: Stir, 4 min (in the video: Stir, 2 min)\n",
        "Prices as of 6 June 2026; the video has those of 2 March 2026\n",
        "• The whole batch: €0.12 (in the video: €0.04)\n",
    ] {
        assert!(block.contains(line), "{line} is not in {block}");
    }
    let pinned = out[place("For a pinned comment")..].lines().nth(2).expect("a line");
    assert!(pinned.starts_with("Correction – salt: 30 g") && pinned.contains("30 g"), "{pinned}");
    assert!(pinned.chars().count() < 400, "a comment is short: {pinned}");
    let french = kitchen.run(&["slate", "soup", "--day", "2026-06-06", "--language", "fr"]);
    assert_eq!(french.code, 0, "{}", french.err);
    kitchen.edit("soup/recipe.md", "salt = \"3 %\"", "salt = \"4 %\"");
    let out = kitchen.run(&["drift"]).out;
    assert!(
        out.contains("Rectificatif") && out.contains("dans la vidéo"),
        "a slate is told in its own language: {out}"
    );
}

#[test]
fn an_allergen_that_comes_in_is_the_first_word_of_the_comment() {
    let kitchen = small();
    slate(&kitchen, &[]);
    kitchen.edit("soup/recipe.md", "salt = \"2 %\"\n", "salt = \"2 %\"\ncelery = \"10 %\"\n");
    kitchen.edit("soup/recipe.md", "Stir {salt} into", "Stir {salt} and {celery} into");
    let done = kitchen.run(&["drift"]);
    assert_eq!(done.code, 1);
    assert!(done.out.contains("Correction – Allergens: Contains celery (in the video: Nothing"), "{}", done.out);
    assert!(done.out.contains("main.celery: 100 g · 10%"), "{}", done.out);
}

#[test]
fn the_cards_of_a_take_come_again_byte_for_byte() {
    let kitchen = small();
    slate(&kitchen, &["--makes", "8"]);
    assert_eq!(kitchen.run(&["cards", "soup", "--makes", "8", "--out", "first"]).code, 0);
    kitchen.edit("soup/recipe.md", "salt = \"2 %\"", "salt = \"3 %\"");
    kitchen.edit("prices.csv", "0.89", "1.89");
    kitchen.edit("channel.toml", "640x360", "800x360");
    let again = kitchen.run(&["cards", "soup", "--slate", "2026-03-05", "--out", "again"]);
    assert_eq!(again.code, 0, "{}", again.err);
    assert!(again.out.contains("byte for byte") && !again.out.contains("not byte for byte"), "{}", again.out);
    assert!(cards(&kitchen, "first") == cards(&kitchen, "again"));
    // Another look: the figures stay, and it is said that the pictures don't.
    kitchen.write("content/themes/harbour/theme.toml", "[colour]\naccent = \"#204060\"\n");
    let other = kitchen.run(&["cards", "soup", "--slate", "2026-03-05", "--out", "other"]);
    assert_eq!(other.code, 0, "{}", other.err);
    assert!(other.out.contains("not byte for byte: the theme `harbour` has changed"), "{}", other.out);
}

#[test]
fn a_take_speaks_its_own_language() {
    let kitchen = small();
    slate(&kitchen, &[]);
    let cards = ["cards", "soup", "--slate", "2026-03-05", "--out", "out"];
    for arguments in [[&["--language", "de"][..], &cards].concat(), [&cards[..], &["--language", "de"]].concat()] {
        let done = kitchen.run(&arguments);
        assert!(done.code == 2 && done.err.contains("speaks its own language"), "{arguments:?}: {}", done.err);
        assert!(!kitchen.path("out").exists());
    }
}

#[test]
fn a_slate_that_was_changed_or_is_none_is_refused_with_its_place() {
    let kitchen = small();
    slate(&kitchen, &[]);
    let whole = fs::read_to_string(kitchen.path(FIRST)).expect("kept");
    // Remarks and spaces are nobody's figures.
    kitchen.write(FIRST, &format!("# mine\n{}", whole.replace(" = ", "  =  ")));
    assert_eq!(kitchen.run(&["drift"]).code, 0);
    kitchen.write(FIRST, &whole.replacen("20 g", "25 g", 1));
    let done = kitchen.run(&["drift"]);
    assert_eq!(done.code, 1);
    for part in ["slate-changed", "soup/slates/2026-03-05.toml:3:", "it was changed after it was taken"] {
        assert!(done.err.contains(part), "{part}: {}", done.err);
    }
    let cards = kitchen.run(&["cards", "soup", "--slate", "2026-03-05", "--out", "out"]);
    assert!(cards.code == 1 && !kitchen.path("out").exists(), "{}", cards.out);
    let half = &whole[..whole.len() / 2];
    for (text, code) in [
        (half, 1),
        ("not toml at all [", 1),
        ("a = 1", 1),
        (&whole.replace("slate/1", "slate/9"), 1),
        ("", 1),
        ("\u{0}\u{1}", 1),
    ] {
        kitchen.write(FIRST, text);
        let done = kitchen.run(&["drift"]);
        assert_eq!(done.code, code, "{text}: {}", done.err);
        assert!(done.err.contains("2026-03-05.toml"), "{}", done.err);
    }
}

#[test]
fn what_can_not_be_asked_any_more_is_told_and_what_there_is_not_is_refused() {
    let kitchen = small();
    assert_eq!(kitchen.run(&["drift"]).code, 0);
    for (arguments, word) in [
        (&["drift", "soup"][..], "no slate of `soup`"),
        (&["drift", "soop"], "did you mean `soup`"),
        (&["cards", "soup", "--slate", "2026-01-01", "--out", "out"], "no slate `2026-01-01`"),
        (&["cards", "soup", "--slate", "x", "--makes", "3", "--out", "out"], "cannot be used with"),
    ] {
        let done = kitchen.run(arguments);
        assert_eq!(done.code, 2, "{arguments:?}: {}", done.err);
        assert!(done.err.contains(word), "{arguments:?}: {}", done.err);
    }
    slate(&kitchen, &["--variant", "spicy"]);
    kitchen.edit("soup/recipe.md", "[variant.spicy]", "[variant.hot]");
    let done = kitchen.run(&["drift"]);
    assert_eq!(done.code, 1);
    assert!(done.out.contains("can't be made any more") && done.out.contains("`spicy`"), "{}", done.out);
}
