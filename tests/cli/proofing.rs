//! `proof` and what it writes: captions with names corrected, and the page that plays along.

use crate::kitchen::Kitchen;
use std::fs;

const TAKE: &str = "WEBVTT\n\nNOTE 1\n\n1\n00:01.000 --> 00:02.000 align:start\ntwenty grams of <b>sault</b>\n\n\
                    00:02.000 --> 00:04.000\nand a thousand<00:03.000><c> grams of water</c>\nstir it for two minutes\n";

#[test]
fn names_are_corrected_in_another_file() {
    let kitchen = Kitchen::new();
    kitchen.write("take.vtt", TAKE);
    let done = kitchen.run(&["proof", "soup", "take.vtt", "--fix", "new.vtt", "--json"]);
    assert_eq!(done.code, 0, "{}", done.err);
    let document: serde_json::Value = serde_json::from_str(&done.out).expect("JSON alone");
    let name = &document["names"][0];
    assert_eq!(
        (&name["start"], &name["said"], &name["written"]),
        (&"00:00:01.727".into(), &"sault".into(), &"salt".into())
    );
    assert!(done.err.contains("00:00:01.727  sault → salt\n1 change, written to new.vtt"), "{}", done.err);
    let read = |name: &str| fs::read_to_string(kitchen.path(name)).expect("there");
    assert_eq!(read("new.vtt"), TAKE.replace("sault", "salt"));
    assert_eq!(read("take.vtt"), TAKE);
    // A second time there is nothing to do, and not a byte changes.
    let done = kitchen.run(&["proof", "soup", "new.vtt", "--fix", "newer.vtt"]);
    assert!(done.code == 0 && done.err.contains("nothing to change"), "{}", done.err);
    assert_eq!(read("newer.vtt"), read("new.vtt"));
}

#[test]
fn numbers_are_set_in_digits_only_where_that_is_asked_for() {
    let kitchen = Kitchen::new();
    kitchen.write("take.vtt", TAKE);
    let done = kitchen.run(&["proof", "soup", "take.vtt", "--fix", "new.vtt", "--numbers"]);
    assert_eq!(done.code, 0, "{}", done.err);
    let new = fs::read_to_string(kitchen.path("new.vtt")).expect("there");
    assert_eq!(
        new,
        TAKE.replace("sault", "salt")
            .replace("twenty grams", "20 g")
            .replace("a thousand<00:03.000><c> grams", "1000<00:03.000><c> g")
            .replace("two minutes", "2 min")
    );
    let refused = kitchen.run(&["proof", "soup", "take.vtt", "--numbers"]);
    assert_eq!(refused.code, 2);
}

/// A script that stops an upload is stopped by a sum that does not come out too, and told what it makes.
#[test]
fn a_wrong_sum_stops_an_upload_and_a_right_one_does_not() {
    let kitchen = Kitchen::new();
    kitchen.write("script.txt", "Eight times forty grams is three hundred grams.\n");
    let done = kitchen.run(&["proof", "soup", "script.txt"]);
    assert!(done.code == 1 && done.out.contains("does not come out: it makes 320 grams"), "{}", done.out);
    assert!(done.out.ends_with("0 have no figure; 1 sum is wrong\n"), "{}", done.out);
    kitchen.write("script.txt", "Eight times forty grams is three hundred and twenty grams.\n");
    let done = kitchen.run(&["proof", "soup", "script.txt"]);
    assert!(done.code == 0 && done.out.ends_with("0 have no figure\n"), "{}", done.out);
    // What is of another size says so, and stops nothing.
    kitchen.write("script.txt", "If you want more, double it, that's two thousand grams of water.\n");
    let done = kitchen.run(&["proof", "soup", "script.txt"]);
    assert!(done.code == 0 && done.out.contains("grams of water: it is of a batch of another size"), "{}", done.out);
}

/// Expected sums by hand from the demo's totals: 18.85 at the till less 4.05 used.
#[test]
fn what_is_left_of_the_shopping_has_its_figure() {
    let kitchen = Kitchen::new();
    let content = concat!(env!("CARGO_MANIFEST_DIR"), "/content");
    let proof = |text: &str| {
        kitchen.write("script.txt", text);
        let done = kitchen.run(&["--content", content, "proof", "sweetcorn-puffs", "script.txt", "--json"]);
        let document: serde_json::Value = serde_json::from_str(&done.out).expect("JSON alone");
        let claims = document["claims"].as_array().expect("a list").clone();
        claims.into_iter().map(|claim| (claim["about"].to_string(), claim["verdict"].to_string())).collect::<Vec<_>>()
    };
    let claim = |verdict: &str| ("\"cost.basket\"".to_owned(), format!("\"{verdict}\""));
    for (left, verdict) in [
        ("€14.80 of that is still on your shelf", "agrees"),
        ("of that, €14.80 stays yours for next time", "agrees"),
        ("€14.80 worth is left over", "agrees"),
        ("€15.80 of it goes back in the cupboard", "differs"),
    ] {
        let said = format!("In whole packs the shopping is €18.85, and {left}.");
        assert_eq!(proof(&said), [claim("agrees"), claim(verdict)], "{said}");
    }
}

#[test]
fn a_name_that_hyphens_join_is_right_as_it_is_written() {
    let kitchen = Kitchen::new();
    let content = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/narrations/mill-channel");
    kitchen.write("script.txt", "Signal-box rye, read to the camera: 370 grams of spelt.");
    let done = kitchen.run(&["--content", content, "proof", "signal-box-rye", "script.txt", "--json"]);
    let document: serde_json::Value = serde_json::from_str(&done.out).expect("JSON alone");
    assert_eq!(document["names"].as_array().map(Vec::len), Some(0), "{}", document["names"]);
}

#[test]
fn what_is_below_zero_is_heard_so() {
    let kitchen = Kitchen::new();
    let recipe = fs::read_to_string(kitchen.path("content/soup/recipe.md")).expect("there");
    kitchen.write("content/soup/recipe.md", &recipe.replace("rest for {3 h}.", "freeze at {-18 °C} for {3 h}."));
    let proof = |text: &str| {
        kitchen.write("script.txt", text);
        let done = kitchen.run(&["proof", "soup", "script.txt", "--json"]);
        let document: serde_json::Value = serde_json::from_str(&done.out).expect("JSON alone");
        let claims = document["claims"].as_array().expect("a list").clone();
        claims.into_iter().find(|claim| claim["kind"] == "temperature").expect("a temperature")
    };
    for right in [
        "Into the freezer at minus eighteen degrees for three hours.",
        "into the freezer at minus 18 for three hours",
        "Into the freezer, -18 °C, for three hours.",
        "Into the freezer at −18°C for three hours.",
    ] {
        assert_eq!(proof(right)["verdict"], "agrees", "{right}");
    }
    for (wrong, low) in [
        ("Into the freezer at minus eight degrees for three hours.", "-8"),
        ("Into the freezer at eighteen degrees for three hours.", "18"),
    ] {
        let claim = proof(wrong);
        assert_eq!(
            (&claim["verdict"], &claim["low"], &claim["expected_low"], &claim["expected_said"]),
            (&"differs".into(), &low.into(), &"-18".into(), &"minus eighteen degrees".into()),
            "{wrong}"
        );
    }
}

#[test]
fn no_source_is_written_over() {
    let kitchen = Kitchen::new();
    kitchen.write("take.vtt", TAKE);
    kitchen.write("content/soup/captions.vtt", TAKE);
    for (out, why) in [
        ("take.vtt", "is the file that is read"),
        ("./take.vtt", "is the file that is read"),
        ("content/soup/recipe.md", "is one of the channel's own files"),
        ("content/soup/captions.vtt", "is one of the channel's own files"),
        ("content", "is a folder"),
    ] {
        for option in ["--fix", "--html"] {
            let done = kitchen.run(&["proof", "soup", "take.vtt", option, out]);
            assert!(
                done.code > 0 && done.err.contains(why) && done.out.is_empty(),
                "{out}: {} {}",
                done.code,
                done.err
            );
        }
    }
    assert_eq!(fs::read_to_string(kitchen.path("take.vtt")).expect("there"), TAKE);
    assert_eq!(fs::read_to_string(kitchen.path("content/soup/captions.vtt")).expect("there"), TAKE);
}

#[test]
fn what_is_no_file_of_its_kind_is_left_alone() {
    let kitchen = Kitchen::new();
    kitchen.write("take.vtt", TAKE);
    kitchen.write("notes.txt", "precious");
    let refused = |arguments: &[&str], why: &str| {
        let done = kitchen.run(arguments);
        assert!(done.code == 2 && done.out.is_empty() && done.err.contains(why), "{arguments:?}: {}", done.err);
    };
    refused(&["proof", "soup", "take.vtt", "--html", "notes.txt"], "does not end with `.html`");
    refused(&["proof", "soup", "take.vtt", "--fix", "notes.txt"], "does not end with `.vtt`");
    refused(&["shoot", "soup", "--html", "notes.txt"], "does not end with `.html`");
    #[cfg(unix)]
    {
        // Whoever reads a pipe that nobody writes to waits for ever.
        let made = std::process::Command::new("mkfifo").arg(kitchen.path("pipe.html")).status();
        assert!(made.expect("it is there").success());
        std::os::unix::fs::symlink("notes.txt", kitchen.path("page.html")).expect("a link");
        for command in [&["proof", "soup", "take.vtt"][..], &["shoot", "soup"]] {
            refused(&[command, &["--html", "pipe.html"]].concat(), "is no plain file");
            refused(&[command, &["--html", "page.html"]].concat(), "does not end with `.html`");
        }
        assert!(!kitchen.path("pipe.html").is_file(), "a pipe stays a pipe");
    }
    assert_eq!(fs::read_to_string(kitchen.path("notes.txt")).expect("there"), "precious");
    let done = kitchen.run(&["proof", "soup", "take.vtt", "--fix", "nowhere/new.vtt"]);
    assert!(done.code == 1 && done.err.contains("cannot write"), "{}", done.err);
}

#[test]
fn nothing_is_written_where_anything_is_refused() {
    let kitchen = Kitchen::new();
    kitchen.write("take.vtt", TAKE);
    let done = kitchen.run(&["proof", "soup", "take.vtt", "--html", "left.html", "--fix", "take.vtt"]);
    assert!(done.code == 2 && !kitchen.path("left.html").exists(), "{}", done.err);
    kitchen.write("take", TAKE);
    let done = kitchen.run(&["proof", "soup", "take", "--html", "one.html", "--fix", "one.html"]);
    assert!(done.code == 2 && !kitchen.path("one.html").exists(), "{}", done.err);
}

#[test]
fn the_page_stands_alone_and_says_what_differs() {
    let kitchen = Kitchen::new();
    kitchen.write("take.vtt", &TAKE.replace("twenty", "thirty <i>&lt;script&gt;</i>"));
    kitchen.write("take.txt", "Thirty grams of salt.\n");
    let done = kitchen.run(&["proof", "soup", "take.vtt", "--html", "page.html"]);
    assert_eq!(done.code, 0, "{}", done.err);
    kitchen.write("take.vtt", &TAKE.replace("twenty grams of <b>sault", "thirty grams of <b>salt"));
    let done = kitchen.run(&["proof", "soup", "take.vtt", "--html", "page.html"]);
    assert_eq!(done.code, 1, "{}", done.err);
    let page = fs::read_to_string(kitchen.path("page.html")).expect("there");
    assert!(page.contains("<mark>thirty grams of salt</mark>") && page.contains("should be twenty grams"), "{page}");
    assert!(page.contains("data-start=\"1000\"") && page.contains("type=\"file\""), "{page}");
    for outside in ["http:", "https:", "src=", "url(", "@import", "<link", "fetch("] {
        assert!(!page.contains(outside), "{outside}");
    }
    let done = kitchen.run(&["proof", "soup", "take.txt", "--html", "page.html"]);
    let page = fs::read_to_string(kitchen.path("page.html")).expect("there");
    assert!(done.code == 1 && !page.contains("<script") && page.contains("1:1"), "{page}");
}
