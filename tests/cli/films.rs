//! `motion` and `reel` as their users run them, without ffmpeg: what they make, and what they refuse.

use crate::kitchen::{Done, Kitchen, PROGRAM};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::process::{Command, Stdio};

/// Runs the program where there is no ffmpeg.
fn alone(kitchen: &Kitchen, arguments: &[&str]) -> Done {
    let done = Command::new(PROGRAM)
        .args(arguments)
        .current_dir(kitchen.path("."))
        .env("PATH", kitchen.path("nowhere"))
        .stdin(Stdio::null())
        .output()
        .expect("it runs");
    Done {
        code: done.status.code().expect("it ends by itself"),
        out: String::from_utf8(done.stdout).expect("text"),
        err: String::from_utf8(done.stderr).expect("text"),
    }
}

#[test]
fn films_stand_where_cards_do_and_both_stay() {
    let kitchen = Kitchen::small();
    assert_eq!(kitchen.run(&["cards", "soup", "--out", "edit"]).code, 0);
    let done = alone(&kitchen, &["motion", "soup", "--out", "edit"]);
    assert_eq!(done.code, 0, "{}", done.err);
    let names = |ending: &str| {
        let files = fs::read_dir(kitchen.path("edit/soup/small")).expect("a folder");
        let names = files.map(|file| file.expect("a file").file_name().into_string().expect("text"));
        let mut stems: Vec<String> = names.filter_map(|name| name.strip_suffix(ending).map(str::to_owned)).collect();
        stems.sort();
        stems
    };
    let (films, cards) = (names(".mov"), names(".svg"));
    assert_eq!(films, cards, "a film a card, of its name");
    let bytes = || fs::read(kitchen.path("edit/soup/small/01-title.mov")).expect("a film");
    let before = bytes();
    let again = alone(&kitchen, &["motion", "soup", "--out", "edit"]);
    assert!(again.out.contains("nothing to do"), "{}", again.out);
    assert_eq!(bytes(), before, "the same sources give the same bytes");
    // Neither command removes what the other made.
    assert_eq!(kitchen.run(&["cards", "soup", "--out", "edit"]).code, 0);
    assert_eq!(kitchen.run(&["publish", "--out", "edit"]).code, 0);
    assert_eq!((names(".mov"), names(".svg")), (films.clone(), cards));
    // A film of a card that is no more goes, and so do those of a recipe that is.
    kitchen.edit("soup/recipe.md", "{3 h}", "{3 min}");
    assert_eq!(alone(&kitchen, &["motion", "soup", "--out", "edit"]).code, 0);
    assert_eq!(kitchen.run(&["cards", "soup", "--out", "edit"]).code, 0);
    assert_eq!(names(".mov"), names(".svg"));
    assert!(names(".mov").len() < films.len());
    fs::remove_dir_all(kitchen.path("content/soup")).expect("removed");
    assert_eq!(kitchen.run(&["publish", "--out", "edit"]).code, 0);
    assert!(!kitchen.path("edit/soup").exists());
}

#[test]
fn one_card_alone_and_a_misspelt_one() {
    let kitchen = Kitchen::small();
    // There is no card of which `step-1` and `step-2` were pages.
    assert_eq!(alone(&kitchen, &["motion", "soup", "--out", "edit", "--card", "step"]).code, 2);
    let done = alone(&kitchen, &["motion", "soup", "--out", "edit", "--card", "wait-2", "--as", "frames"]);
    assert_eq!(done.code, 0, "{}", done.err);
    let folder: Vec<_> = fs::read_dir(kitchen.path("edit/soup/small")).expect("a folder").collect();
    assert_eq!(folder.len(), 1);
    let pictures = fs::read_dir(folder[0].as_ref().expect("a folder").path()).expect("pictures").count();
    assert!(pictures > 60, "{pictures}");
    let typo = alone(&kitchen, &["motion", "soup", "--out", "edit", "--card", "wiat-2"]);
    assert_eq!(typo.code, 2);
    assert!(typo.err.contains("there is no card `wiat-2`: did you mean `wait-2`?"), "{}", typo.err);
    let frame = alone(&kitchen, &["motion", "soup", "--out", "edit", "--frame", "smal"]);
    assert!(frame.code == 2 && frame.err.contains("did you mean `small`?"), "{}", frame.err);
}

#[test]
fn without_ffmpeg_it_says_what_to_do() {
    let kitchen = Kitchen::small();
    for form in ["prores", "webm"] {
        let done = alone(&kitchen, &["motion", "soup", "--out", "edit", "--as", form]);
        assert_eq!(done.code, 2);
        for part in ["`ffmpeg` is not installed", "apt install ffmpeg", "`mov`, `apng` or `frames`"] {
            assert!(done.err.contains(part), "{}", done.err);
        }
        assert!(!kitchen.path("edit").exists());
    }
}

#[test]
fn a_rate_that_no_editor_has_is_refused() {
    let kitchen = Kitchen::small();
    kitchen.edit("channel.toml", "size = \"640x360\"", "size = \"640x360\"\nrate = \"12\"");
    let done = alone(&kitchen, &["motion", "soup", "--out", "edit"]);
    assert_eq!(done.code, 1);
    assert!(
        done.err.contains("channel.toml:6:8") && done.err.contains("`12`") && done.err.contains("`23.976`"),
        "{}",
        done.err
    );
    assert!(!kitchen.path("edit").exists());
}

#[test]
fn lines_and_lengths_follow_cues() {
    let kitchen = Kitchen::small();
    let cues = "rate = \"25\"\n[title]\ntitle = { at = \"00:00:00:00\", for = \"00:00:01:16\" }\n";
    kitchen.write("content/soup/cues.toml", cues);
    let done = alone(&kitchen, &["motion", "soup", "--out", "edit", "--card", "title", "--as", "frames"]);
    assert_eq!(done.code, 0, "{}", done.err);
    let pictures = fs::read_dir(kitchen.path("edit/soup/small/01-title")).expect("pictures").count();
    assert_eq!(pictures, 41);
    kitchen.write(
        "content/soup/cues.toml",
        "rate = \"25\"\n[title]\ntitel = { at = \"00:00:00:00\", for = \"00:00:01:16\" }\n",
    );
    let bad = alone(&kitchen, &["motion", "soup", "--out", "edit", "--card", "title"]);
    assert_eq!(bad.code, 1);
    assert!(bad.err.contains("cues.toml:3:1"), "{}", bad.err);
}

#[test]
fn a_strip_of_stills_where_there_is_no_ffmpeg() {
    let kitchen = Kitchen::small();
    let done = alone(&kitchen, &["reel", "soup", "--out", "look.mp4", "--guides"]);
    assert_eq!(done.code, 0, "{}", done.err);
    assert!(done.err.contains("`ffmpeg` is not installed: a strip of stills"), "{}", done.err);
    let strip = image::open(kitchen.path("look.png")).expect("a PNG").into_rgba8();
    assert!(strip.width() > 640 && strip.pixels().all(|pixel| pixel.0[3] == 255));
    // Captions beside the recipe speak of the recipe as it is written.
    kitchen.write("content/soup/captions.vtt", "WEBVTT\n\n00:01.000 --> 00:02.000\nTwenty grams of salt.\n");
    let other = alone(&kitchen, &["reel", "soup", "--makes", "8", "--out", "other.png"]);
    assert!(other.code == 0 && other.err.contains("captions speak of the recipe as written"), "{}", other.err);
    fs::remove_file(kitchen.path("content/soup/captions.vtt")).expect("removed");
    // Over a picture of one's own it looks different.
    let picture = image::RgbImage::from_pixel(64, 64, image::Rgb([0, 255, 0]));
    picture.save(kitchen.path("green.png")).expect("written");
    let over = alone(&kitchen, &["reel", "soup", "--out", "over.png", "--over", "green.png"]);
    assert_eq!(over.code, 0, "{}", over.err);
    let green = image::open(kitchen.path("over.png")).expect("a PNG").into_rgba8();
    assert!(green.pixels().any(|pixel| pixel.0 == [0, 255, 0, 255]));
    for (arguments, why) in [
        (&["--out", "look.png"][..], "is there already"),
        (&["--out", "look.avi"], "ends with .mp4 (a film) or .png"),
        (&["--out", "new.png", "--over", "channel.toml"], "there is no file `channel.toml`"),
        (&["--out", "new.png", "--over", "content/channel.toml"], "is no PNG"),
        (&["--out", "content/new.png"], "among the sources"),
        (&["--out", "nowhere/new.png"], "there is no folder `nowhere`: make it"),
    ] {
        let refused = alone(&kitchen, &[&["reel", "soup"], arguments].concat());
        assert_eq!(refused.code, 2, "{arguments:?}");
        assert!(refused.err.contains(why), "{arguments:?}: {}", refused.err);
    }
    assert!(!kitchen.path("new.png").exists());
}

/// Every file of the soup's films below a folder, by its path in there.
fn files(kitchen: &Kitchen, folder: &str) -> BTreeMap<String, Vec<u8>> {
    let mut found = BTreeMap::new();
    let mut folders = vec![kitchen.path(&format!("{folder}/soup"))];
    while let Some(here) = folders.pop() {
        for path in fs::read_dir(here).expect("it was filmed").map(|entry| entry.expect("it can be listed").path()) {
            if path.is_dir() {
                folders.push(path);
            } else {
                found.insert(path.display().to_string().replace(folder, ""), fs::read(&path).expect("there"));
            }
        }
    }
    found
}

const CUES: &str = "rate = \"25\"\n[title]\ntitle = { at = \"00:00:00:00\", for = \"00:00:01:16\" }\n\
                    [waits]\nwait-2 = { at = \"00:00:02:00\", for = \"00:00:02:12\" }\n\
                    [cost]\ncost = { at = \"00:00:05:00\", for = \"00:00:02:00\" }\n";

#[test]
fn the_films_of_a_take_are_those_of_the_recipe_and_stay_so() {
    let kitchen = Kitchen::small();
    kitchen.write("content/soup/cues.toml", CUES);
    let film = |out: &str, more: &[&str]| {
        let done = alone(&kitchen, &[&["motion", "soup", "--out", out, "--as", "frames"], more].concat());
        assert_eq!(done.code, 0, "{}", done.err);
        (files(&kitchen, out), done.err)
    };
    let reel = |out: &str, more: &[&str]| {
        let done = alone(&kitchen, &[&["reel", "soup", "--out", out], more].concat());
        assert_eq!(done.code, 0, "{}", done.err);
        fs::read(kitchen.path(out)).expect("a strip")
    };
    let (first, strip) = (film("first", &["--makes", "8"]).0, reel("first.png", &["--makes", "8"]));
    assert_eq!(kitchen.run(&["slate", "soup", "--makes", "8", "--day", "2026-03-05"]).code, 0);
    let (taken, told) = film("taken", &["--slate", "2026-03-05"]);
    assert!(taken == first && reel("taken.png", &["--slate", "2026-03-05"]) == strip);
    assert_eq!(told, "the figures are those of slate `2026-03-05`\n");
    // A dearer salt, and another frame: the take has its own.
    kitchen.edit("prices.csv", "2026-03-02,water,1 L,0,,", "2026-03-02,water,1 L,0,,\n2026-06-06,salt,500 g,8.99,,");
    kitchen.edit("channel.toml", "640x360", "800x360");
    let now = film("now", &["--makes", "8"]).0;
    assert!(now != first, "the recipe's own films have the new price");
    assert!(film("later", &["--slate", "2026-03-05"]).0 == first);
    assert!(reel("later.png", &["--slate", "2026-03-05.toml"]) == strip);
    // With another look the figures stay, and that it is another is told.
    kitchen.write("content/themes/harbour/theme.toml", "[motion]\nenter-time = 900\n");
    let told = film("other", &["--slate", "2026-03-05"]).1;
    assert!(told.contains("the cards may look otherwise: the theme `harbour` has changed since"), "{told}");
}

#[test]
fn what_the_recipe_no_longer_has_of_a_take_is_told() {
    let kitchen = Kitchen::small();
    kitchen.write("content/soup/cues.toml", CUES);
    assert_eq!(kitchen.run(&["slate", "soup", "--day", "2026-03-05"]).code, 0);
    let film = |out: &str, card: &str| {
        let arguments = ["motion", "soup", "--out", out, "--as", "frames", "--card", card, "--slate", "2026-03-05"];
        let done = alone(&kitchen, &arguments);
        assert_eq!(done.code, 0, "{}", done.err);
        (files(&kitchen, out), done.err)
    };
    let kinds = |films: &BTreeMap<String, Vec<u8>>| films.values().collect::<BTreeSet<_>>().len();
    let (running, told) = film("running", "wait-2");
    assert!(!told.contains("run down"), "{told}");
    kitchen.edit("soup/recipe.md", "rest for {3 h}", "rest for {4 h}");
    kitchen.edit("soup/recipe.md", "salt = \"2 %\"\n", "salt = \"2 %\"\ncelery = \"10 %\"\n");
    kitchen.edit("soup/recipe.md", "Stir {salt} into", "Stir {salt} and {celery} into");
    kitchen.write(
        "content/soup/cues.toml",
        &format!("{CUES}[ingredients]\ncallout-celery = {{ at = \"00:00:08:00\", for = \"00:00:01:00\" }}\n"),
    );
    let (standing, told) = film("standing", "wait-2");
    assert!(told.contains("the step `rest` has no wait of 3 h any more: on its card it does not run down"), "{told}");
    assert!(told.contains("cues of cards that the take has not, left out: `callout-celery`"), "{told}");
    // As long as its cue says in any case; the time stands still, and so there are fewer different frames.
    assert_eq!((running.len(), standing.len()), (62, 62));
    assert!(kinds(&standing) < kinds(&running), "{} of {}", kinds(&standing), kinds(&running));
    let strip = alone(&kitchen, &["reel", "soup", "--out", "look.png", "--slate", "2026-03-05"]);
    assert!(strip.code == 0 && strip.err.contains("left out: `callout-celery`"), "{}", strip.err);
}

#[test]
fn a_slate_that_can_not_be_relied_on_is_not_filmed() {
    let kitchen = Kitchen::small();
    assert_eq!(kitchen.run(&["slate", "soup", "--day", "2026-03-05"]).code, 0);
    let slate = "content/soup/slates/2026-03-05.toml";
    let whole = fs::read_to_string(kitchen.path(slate)).expect("kept");
    kitchen.write(slate, &whole.replacen("20 g", "25 g", 1));
    for command in [["motion", "soup", "--out", "edit"], ["reel", "soup", "--out", "look.png"]] {
        let refused = |more: &[&str]| alone(&kitchen, &[&command[..], more].concat());
        let changed = refused(&["--slate", "2026-03-05"]);
        assert_eq!(changed.code, 1);
        for part in ["slate-changed", "soup/slates/2026-03-05.toml:3:", "it was changed after it was taken"] {
            assert!(changed.err.contains(part), "{part}: {}", changed.err);
        }
        for (more, why) in [
            (&["--slate", "2026-03-05", "--makes", "3"][..], "cannot be used with"),
            (&["--slate", "2026-03-05", "--on", "2026-03-02"], "cannot be used with"),
            (&["--slate", "2026-03-05", "--language", "fr"], "speaks its own language"),
        ] {
            let refused = refused(more);
            assert!(refused.code == 2 && refused.err.contains(why), "{more:?}: {}", refused.err);
        }
        fs::rename(kitchen.path(slate), kitchen.path("aside.toml")).expect("moved");
        let gone = refused(&["--slate", "2026-03-05"]);
        assert!(gone.code == 2 && gone.err.contains("there is no slate `2026-03-05`"), "{}", gone.err);
        fs::rename(kitchen.path("aside.toml"), kitchen.path(slate)).expect("moved");
        assert!(!kitchen.path(command[3]).exists());
    }
}
