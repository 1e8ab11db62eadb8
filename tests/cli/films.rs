//! `motion` and `reel` as their users run them, without ffmpeg: what they make, and what they refuse.

use crate::kitchen::{Done, Kitchen, PROGRAM};
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
        (&["--out", "new.png", "--over", "channel.toml"], "can't be read"),
        (&["--out", "new.png", "--over", "content/channel.toml"], "is no PNG"),
        (&["--out", "content/new.png"], "among the sources"),
        (&["--out", "nowhere/new.png"], "can't be written to"),
    ] {
        let refused = alone(&kitchen, &[&["reel", "soup"], arguments].concat());
        assert_eq!(refused.code, 2, "{arguments:?}");
        assert!(refused.err.contains(why), "{arguments:?}: {}", refused.err);
    }
    assert!(!kitchen.path("new.png").exists());
}
