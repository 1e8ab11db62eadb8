//! What the command line promises: exit codes, where results and findings go, and what a slip is answered with.

use crate::kitchen::Kitchen;
use std::fs;

#[test]
fn results_go_to_standard_output_and_nothing_else_does() {
    let kitchen = Kitchen::new();
    let done = kitchen.run(&["figures", "soup", "--json"]);
    assert_eq!((done.code, done.err.as_str()), (0, ""));
    let document: serde_json::Value = serde_json::from_str(&done.out).expect("JSON");
    assert_eq!(document["schema"], "figures/1");
    let checked = kitchen.run(&["check"]);
    assert_eq!((checked.code, checked.out.as_str()), (0, ""));
    assert!(checked.err.contains("2 recipes read, no errors"), "{}", checked.err);
}

#[test]
fn content_stands_before_or_after_the_command() {
    let kitchen = Kitchen::new();
    let dir = kitchen.content();
    let before = kitchen.run_bare(&["--content", &dir, "figures", "soup"]);
    let after = kitchen.run_bare(&["figures", "soup", "--content", &dir]);
    assert_eq!((before.code, &before.out), (0, &after.out));
    assert!(before.out.contains("Plain soup"), "{}", before.out);
    let within = kitchen.run_bare(&["prices", "--content", &dir, "export"]);
    assert_eq!((within.code, within.out), (0, kitchen.run(&["prices", "export"]).out));
    let add = kitchen.run_bare(&["prices", "--content", &dir, "add", "onion", "1 kg", "1.20"]);
    assert_eq!(add.code, 0, "{}", add.err);
}

#[test]
fn a_card_s_fault_is_told_where_it_can_be_mended() {
    let kitchen = Kitchen::small();
    kitchen.edit("soup/recipe.md", "> Stir, {2 min}", &format!("> Stir{}, {{2 min}}", "r".repeat(300)));
    let line = fs::read_to_string(kitchen.path("content/soup/recipe.md")).expect("there");
    let line = line.lines().position(|line| line == "## Stir").expect("a step") + 1;
    let done = kitchen.run(&["check"]);
    assert_eq!(done.code, 1);
    assert!(done.err.contains(&format!("soup/recipe.md:{line}:")), "{}", done.err);
    // A character is told once, however many cards it is on.
    let kitchen = Kitchen::new();
    kitchen.write("content/pantry.toml", "[salt]\nname = \"salt \u{13000}\"\n");
    let done = kitchen.run(&["check"]);
    assert_eq!(done.code, 1, "{}", done.err);
    assert!(done.err.contains("pantry.toml:2:14"), "{}", done.err);
    assert_eq!(done.err.matches("U+13000").count(), 1, "{}", done.err);
}

/// Command lines at fault, each with a part of what it is answered.
const SLIPS: &[(&[&str], &str)] = &[
    (&["figures", "soop"], "did you mean `soup`?"),
    (&["figures", "zebra"], "there is `soup`, `tray`"),
    (&["figures", "soup", "--variant", "spicey"], "did you mean `spicy`?"),
    (&["figures", "soup", "--have", "sald=3 g"], "did you mean `salt`?"),
    (&["figures", "soup", "--have", "salt"], "write an item and an amount"),
    (&["figures", "soup", "--have", "salt=3 cm"], "can't be turned into a weight"),
    (&["figures", "soup", "--have", "salt=3 blobs"], "there is no unit `blobs`"),
    (&["figures", "soup", "--on", "2026-02-30"], "is not a day such as `2026-05-01`"),
    (&["figures", "soup", "--on", "2026-06-31"], "June has 30 days"),
    (&["figures", "soup", "--batch", "500 gr"], "there is no unit `gr`: write `g`"),
    (&["publish", "--out", "content/channel.toml"], "`content/channel.toml` is a file: give a folder"),
    (&["figures", "soup", "--on", "1 May"], "is not a day"),
    (&["figures", "soup", "--on", "2026-05-01T10:00"], "is not a day"),
    (&["figures", "soup", "--makes", "0"], "is not a whole number above 0"),
    (&["figures", "soup", "--makes", "2.5"], "is not a whole number above 0"),
    (&["figures", "soup", "--makes=-3"], "is not a whole number above 0"),
    (&["figures", "soup", "--makes", "-3"], "is not a whole number above 0"),
    (&["figures", "soup", "--batch", "-5 g"], "--batch -5 g"),
    (&["prices", "salt", "export"], "leave them out, or the action"),
    (&["prices", "import", "nowhere.csv"], "there is no file `nowhere.csv`"),
    (&["workbook", "soup", "--out", "content/x.xlsx"], "`content` is among the sources"),
    (&["figures", "soup", "--makes", "99999999999999"], "is not a whole number above 0"),
    (&["figures", "tray", "--makes", "3"], "needs a recipe that says what it makes"),
    (&["figures", "tray", "--batch", "500 g"], "needs a recipe with a basis"),
    (&["figures", "soup", "--batch", "3 cm"], "is not a weight"),
    (&["figures", "soup", "--batch", "0 g"], "it must be above 0"),
    (&["figures", "soup", "--batch", "1e3 g"], "is not a number"),
    (&["figures", "soup", "--batch", ""], "there is no number in it"),
    (&["figures", "soup", "--times", "0"], "is not a number above 0"),
    (&["figures", "soup", "--times", "1/0"], "is not a number above 0"),
    (&["figures", "soup", "--times", "NaN"], "is not a number above 0"),
    (&["figures", "soup", "--times", "9999999999"], "more than a million batches"),
    (&["figures", "soup", "--makes", "3", "--times", "2"], "cannot be used with"),
    (&["figures", "soup", "--have", "salt=3 g", "--batch", "1 kg"], "cannot be used with"),
    (&["notes", "soup", "--format", "pdf"], "invalid value 'pdf'"),
    (&["cards", "soup", "--out", "OUT", "--frame", "wid"], "did you mean `wide`?"),
    (&["cards", "soup"], "--out"),
    (&["publish"], "--out"),
    (&["figures", "soup", "--language", "tlh"], "invalid value 'tlh'"),
    (&["publsh", "--out", "OUT"], "publish"),
    (&[], "Usage"),
];

#[test]
fn a_slip_on_the_command_line_is_exit_2_and_says_what_to_write() {
    let kitchen = Kitchen::new();
    for (arguments, told) in SLIPS {
        let done = kitchen.run(arguments);
        assert_eq!((done.code, done.out.as_str()), (2, ""), "{arguments:?}: {}", done.err);
        assert!(done.err.contains(told), "{arguments:?} was answered\n{}", done.err);
        assert!(!done.err.contains("panicked"), "{}", done.err);
    }
    assert!(!kitchen.path("OUT").exists(), "nothing was written");
}

#[test]
fn every_kind_of_yield_is_understood() {
    let kitchen = Kitchen::new();
    let grams = |arguments: &[&str]| {
        let done = kitchen.run(&[&["figures", "soup", "--json"], arguments].concat());
        assert_eq!(done.code, 0, "{arguments:?}: {}", done.err);
        let document: serde_json::Value = serde_json::from_str(&done.out).expect("JSON");
        document["lines"][0]["grams"].as_str().expect("a weight").to_owned()
    };
    assert_eq!(grams(&[]), "1000");
    assert_eq!(grams(&["--makes", "8"]), "2000");
    assert_eq!(grams(&["--batch", "500 g"]), "500");
    assert_eq!(grams(&["--batch", "1 lb"]), "453.59237");
    assert_eq!(grams(&["--times", "3/4"]), "750");
    assert_eq!(grams(&["--times", "1 1/2"]), "1500");
    assert_eq!(grams(&["--times", "0.25"]), "250");
    assert_eq!(grams(&["--have", "salt=5 g"]), "250");
    assert_eq!(grams(&["--have", "salt=5 g", "--have", "water=100 g"]), "100");
    assert_eq!(grams(&["--have", "water=2 L", "--have", "salt=1 kg"]), "2000");
}

#[test]
fn sources_at_fault_are_exit_1_and_every_fault_is_told_with_its_place() {
    let kitchen = Kitchen::new();
    kitchen.edit("soup/recipe.md", "salt = \"2 %\"", "salt = \"2 blobs\"");
    kitchen.edit("tray/recipe.md", "title =", "titel =");
    let wrong: [&[&str]; 5] = [
        &["check"],
        &["figures", "soup"],
        &["notes", "tray"],
        &["cards", "soup", "--out", "OUT"],
        &["publish", "--out", "OUT"],
    ];
    for arguments in wrong {
        let done = kitchen.run(arguments);
        assert_eq!((done.code, done.out.as_str()), (1, ""), "{arguments:?}: {}", done.err);
        assert!(done.err.contains("soup/recipe.md:8:") && done.err.contains("tray/recipe.md:2:"), "{}", done.err);
    }
    assert!(!kitchen.path("OUT").exists(), "nothing was written");
    assert_eq!(kitchen.run(&["figures", "soop"]).code, 2, "a misspelt recipe is still the command line's fault");
}

#[test]
fn a_channel_that_is_not_there_is_exit_1() {
    let kitchen = Kitchen::new();
    for command in ["check", "figures"] {
        let recipe: &[&str] = if command == "figures" { &["soup"] } else { &[] };
        let done = kitchen.run_bare(&[&[command], recipe, &["--content", "/nowhere/at/all"]].concat());
        assert_eq!(done.code, 1, "{}", done.err);
        assert!(done.err.contains("/nowhere/at/all"), "{}", done.err);
    }
}

#[test]
fn a_reader_that_goes_away_is_no_error() {
    let kitchen = Kitchen::new();
    let (code, err) = kitchen.run_with_closed_output(&["figures", "soup"]);
    assert_eq!((code, err.as_str()), (0, ""));
}

#[test]
fn figures_for_people_fit_any_terminal() {
    let kitchen = Kitchen::new();
    let text = kitchen.run(&["figures", "soup"]).out;
    insta::assert_snapshot!("figures_for_people", text);
    assert!(!text.contains('\u{1b}'), "no colour where there is no terminal");
}

#[test]
fn help_manual_and_completions_name_every_command() {
    let kitchen = Kitchen::new();
    let help = kitchen.run_bare(&["--help"]);
    let manual = kitchen.run_bare(&["man"]);
    let script = kitchen.run_bare(&["completions", "bash"]);
    for command in ["check", "figures", "cards", "notes", "publish", "cost", "prices", "completions", "man"] {
        for text in [&help, &manual, &script] {
            assert_eq!(text.code, 0);
            assert!(text.out.contains(command), "{command} is missing");
        }
    }
}

#[test]
fn the_version_says_what_it_was_built_from() {
    let kitchen = Kitchen::new();
    let version = env!("CARGO_PKG_VERSION");
    assert_eq!(kitchen.run_bare(&["-V"]).out, format!("tallyspoon {version}\n"));
    let told = kitchen.run_bare(&["--version"]).out;
    let lines: Vec<&str> = told.lines().collect();
    assert_eq!((lines.len(), lines[0]), (2, format!("tallyspoon {version}").as_str()), "{told}");
    for part in ["from ", ", by rustc 1.", ", for ", std::env::consts::ARCH] {
        assert!(lines[1].contains(part), "{told}");
    }
}

#[test]
fn an_upgrade_says_the_form_of_the_sources_and_keeps_what_it_replaced() {
    let kitchen = Kitchen::new();
    let path = kitchen.path("content/channel.toml");
    let before = fs::read_to_string(&path).expect("a channel");
    let first = kitchen.run(&["check", "--upgrade"]);
    assert_eq!((first.code, first.out.as_str()), (0, ""), "{}", first.err);
    assert!(first.err.contains("`channel.toml` says now that its form is 1"), "{}", first.err);
    assert_eq!(fs::read_to_string(&path).expect("a channel"), format!("schema = 1\n{before}"));
    let kept = fs::read_dir(kitchen.path("content/.tallyspoon.kept")).expect("copies");
    let kept: Vec<_> = kept.map(|entry| entry.expect("a copy").path()).filter(|p| !p.ends_with(".gitignore")).collect();
    assert_eq!(kept.iter().map(|p| fs::read_to_string(p).expect("a copy")).collect::<Vec<_>>(), [before]);
    let again = kitchen.run(&["check", "--upgrade"]);
    assert!(again.code == 0 && again.err.contains("nothing to upgrade"), "{}", again.err);
    kitchen.edit("channel.toml", "schema = 1", "schema = 2");
    let newer = kitchen.run(&["check", "--upgrade"]);
    assert!(newer.code == 1 && newer.err.contains("newer-schema"), "{}", newer.err);
}

#[test]
fn a_long_method_has_a_card_for_each_step() {
    let kitchen = Kitchen::new();
    let steps: String =
        (1..=60).map(|at| format!("\n## Fold {at}\n> Fold, {{2 min}}\nFold {{salt}} for {{2 min}}.\n")).collect();
    kitchen.write(
        "content/tray/recipe.md",
        &format!("+++\ntitle = \"Salt tray\"\n[formula]\nsalt = \"50 g\"\n+++\n{steps}"),
    );
    let done = kitchen.run(&["check"]);
    assert_eq!(done.code, 0, "{}", done.err);
    assert!(done.err.contains("2 recipes read, no errors"), "{}", done.err);
}

/// A time that only looks as if the card had it is told beside it.
#[test]
fn notes_tell_every_time_of_a_step_that_its_card_lacks() {
    let kitchen = Kitchen::small();
    kitchen.edit("soup/recipe.md", "> Stir, {2 min}", "> Stir, {12 min}");
    let notes = kitchen.run(&["notes", "soup"]).out;
    assert!(notes.contains("1. Stir: Stir, 12 min · 2 min\n"), "{notes}");
}
