//! `cues`, `timeline` and `shoot`: from captions to what an editor opens, again after a change, and everything that can be
//! wrong on the way.

use crate::kitchen::Kitchen;
use std::fs;

/// A take of the soup; everything is said `by` seconds later.
fn take(by: u64) -> String {
    let time = |second: u64| format!("00:{:02}:{:02}.000", (second + by) / 60, (second + by) % 60);
    let lines = [
        (1, 4, "Today there is plain soup, and nothing but."),
        (12, 16, "Twenty grams of salt go first."),
        (17, 20, "Then a thousand grams of water."),
        (22, 26, "Stir it for two minutes."),
        (40, 44, "Let it rest for three hours."),
        (60, 66, "It came to four cents. Bye now."),
    ];
    let cues = lines.map(|(from, to, text)| format!("{} --> {}\n{text}\n", time(from), time(to)));
    format!("WEBVTT\n\n{}", cues.join("\n"))
}

fn kitchen() -> Kitchen {
    let kitchen = Kitchen::small();
    kitchen.write("content/soup/captions.vtt", &take(0));
    kitchen
}

fn cues(kitchen: &Kitchen) -> String {
    fs::read_to_string(kitchen.path("content/soup/cues.toml")).expect("there are cues")
}

#[test]
fn cues_follow_the_captions_and_pinned_ones_stay() {
    let kitchen = kitchen();
    let done = kitchen.run(&["cues", "soup"]);
    assert_eq!(done.code, 0, "{}", done.err);
    insta::assert_snapshot!("cues_for_people", done.out.replace('\\', "/"));
    let first = cues(&kitchen);
    insta::assert_snapshot!("cues_file", first);
    let done = kitchen.run(&["cues", "soup"]);
    assert!(done.out.contains("is up to date"), "{}", done.out);
    assert_eq!(cues(&kitchen), first, "the same captions change not a byte");

    let line = first.lines().find(|line| line.starts_with("step-1 = ")).expect("a cue of the step").to_owned();
    let pinned = "step-1 = { at = \"00:00:09:00\",  for = \"00:00:06:00\", pin = true } # mine";
    kitchen.edit("soup/cues.toml", &line, pinned);
    kitchen.edit("soup/cues.toml", "[ingredients]", "# what goes in\n[ingredients]");
    kitchen.write("content/soup/captions.vtt", &take(4));
    let done = kitchen.run(&["cues", "soup"]);
    assert_eq!(done.code, 0, "{}", done.err);
    assert!(
        done.out.contains("`step-1` stays pinned at 00:00:09:00, though it is now heard at 00:00:16:"),
        "{}",
        done.out
    );
    assert!(done.out.contains("00:00:12:00 → 00:00:16:00"), "{}", done.out);
    let after = cues(&kitchen);
    assert!(after.contains(pinned) && after.contains("# what goes in\n[ingredients]"), "{after}");
    assert!(after.contains("callout-salt = { at = \"00:00:16:00\""), "{after}");
}

#[test]
fn chapters_stand_in_the_notes_and_in_a_file() {
    let kitchen = kitchen();
    assert_eq!(kitchen.run(&["cues", "soup"]).code, 0);
    let notes = kitchen.run(&["notes", "soup"]).out;
    assert!(notes.contains("IN THIS VIDEO\n0:00 Plain soup\n0:12 Stir\n0:40 Rest\n"), "{notes}");
    assert!(kitchen.run(&["notes", "soup", "--format", "markdown"]).out.contains("- 0:12 Stir\n"));
    assert!(kitchen.run(&["notes", "soup", "--format", "html"]).out.contains("<li><b>0:12</b> Stir</li>"));
    let done = kitchen.run(&["timeline", "soup", "--out", "out"]);
    assert_eq!(done.code, 0, "{}", done.err);
    let chapters = fs::read_to_string(kitchen.path("out/soup/small/chapters.vtt")).expect("there");
    assert!(chapters.starts_with("WEBVTT\n\n00:00:00.000 --> 00:00:12.000\nPlain soup\n\n"), "{chapters}");
    // A moved step moves its chapter, and publishing sees it.
    assert_eq!(kitchen.run(&["publish", "--out", "pages"]).code, 0);
    kitchen.edit("soup/cues.toml", "step-2 = { at = \"00:00:40:00\"", "step-2 = { at = \"00:00:42:00\"");
    assert_eq!(kitchen.run(&["publish", "--out", "pages"]).code, 0);
    let notes = fs::read_to_string(kitchen.path("pages/soup/notes.txt")).expect("published");
    assert!(notes.contains("\n0:42 Rest\n"), "{notes}");
    // Without cues there are none, and the lists are made up from the captions all the same.
    fs::remove_file(kitchen.path("content/soup/cues.toml")).expect("removed");
    assert!(!kitchen.run(&["notes", "soup"]).out.contains("IN THIS VIDEO"));
    assert_eq!(kitchen.run(&["timeline", "soup", "--out", "out"]).code, 0);
    assert!(kitchen.path("out/soup/small/steps.edl").exists());
}

#[test]
fn lists_and_pictures_in_one_folder_leave_each_other_alone() {
    let kitchen = kitchen();
    assert_eq!(kitchen.run(&["timeline", "soup", "--out", "out"]).code, 0);
    let list = fs::read_to_string(kitchen.path("out/soup/small/timeline.otio")).expect("there");
    assert_eq!(kitchen.run(&["cards", "soup", "--out", "out"]).code, 0);
    assert_eq!(kitchen.run(&["publish", "--out", "out"]).code, 0);
    assert_eq!(fs::read_to_string(kitchen.path("out/soup/small/timeline.otio")).expect("still there"), list);
    let again = kitchen.run(&["timeline", "soup", "--out", "out"]);
    assert!(again.out.contains("nothing to do"), "{}", again.out);
    assert!(kitchen.path("out/soup/small/01-title.png").exists());
    for film in list.lines().filter_map(|line| line.trim().strip_prefix("\"target_url\": \"")) {
        let picture = film.trim_end_matches(['"', ',']).replace(".mov", ".png");
        assert!(kitchen.path(&format!("out/soup/small/{picture}")).exists(), "{picture}");
    }
}

#[test]
fn everything_wrong_with_cues_is_told_at_once_and_nothing_is_written() {
    let kitchen = kitchen();
    let bad = "rate = \"25\"\n[steps]\nstep-1 = { at = \"00:00:10:00\", for = \"00:00:05:00\", pin = true }\n\
               step-2 = { at = \"00:00:12:00\", for = \"00:00:05:00\", pin = true }\nstep-9 = { at = \"00:00:20:00\", for = \"00:00:01:00\" }\n\
               [title]\nclosing = { at = \"00:01:30:00\", for = \"00:00:04:00\", pin = true }\ntitle = { at = \"00:00:01:25\", for = \"00:00:00:00\" }\n";
    kitchen.write("content/soup/cues.toml", bad);
    let mut all = String::new();
    for arguments in
        [&["cues", "soup"][..], &["timeline", "soup", "--out", "out"], &["check"], &["publish", "--out", "out"]]
    {
        let done = kitchen.run(arguments);
        assert_eq!(done.code, 1, "{arguments:?}: {}", done.err);
        all.push_str(&format!("## {}\n\n{}\n", arguments.join(" "), done.err));
    }
    insta::assert_snapshot!("bad_cues", all);
    assert_eq!(cues(&kitchen), bad);
    assert!(!kitchen.path("out").exists());
}

#[test]
fn captions_that_can_t_be_used_are_refused_with_what_to_do() {
    let kitchen = kitchen();
    let refused = |arguments: &[&str], code: i32, why: &str| {
        let done = kitchen.run(arguments);
        assert!(done.code == code && done.err.contains(why), "{arguments:?} ended with {}: {}", done.code, done.err);
        assert!(!kitchen.path("content/soup/cues.toml").exists() && !kitchen.path("out").exists(), "{arguments:?}");
    };
    let other = "WEBVTT\n\n00:01.000 --> 00:09.000\nTwo hundred grams of peas, forty of mint, twelve minutes at ninety degrees.\n";
    kitchen.write("other.vtt", other);
    kitchen.write("script.txt", "Twenty grams of salt, a thousand grams of water.\n");
    refused(&["cues", "soup", "other.vtt"], 1, "numbers said agree with its figures");
    refused(&["cues", "soup", "script.txt"], 1, "has no times");
    refused(&["cues", "soup", "nowhere.vtt"], 2, "there is no file");
    refused(&["cues", "tray"], 2, "tallyspoon shoot tray");
    refused(&["timeline", "tray", "--out", "out"], 2, "has no cues yet");
    refused(&["cues", "soup", "--rate", "48"], 2, "choose one of `23.976`, `24`, `25`");
    refused(
        &["cues", "soup", "--rate", "29.97", "--length", "00:02:00;00"],
        2,
        "the first frame of that minute is `00:02:00;02`",
    );
    refused(&["cues", "soup", "--length", "00:00:30:00"], 2, "is too short: the captions go on until `00:01:06:00`");
    refused(&["timeline", "soup", "--out", "out", "--start", "23:59:30:00"], 2, "would pass midnight");
    refused(&["timeline", "soup", "--out", "out", "--start", "01:00:00;00"], 2, "drops no labels");
    let start = |rate: &str, start: &str, why: &str| {
        refused(&["timeline", "soup", "--out", "out", "--rate", rate, "--start", start], 2, why);
    };
    // What a rate means is said by the rate alone.
    start("29.97", "00:59:58:00", "or choose the rate `29.97 NDF`");
    start("29.97", "01:00:00:00", "or choose the rate `29.97 NDF`");
    start("29.97 NDF", "01:00:00;00", "drops no labels");
    kitchen.edit("channel.toml", "size = \"640x360\"", "size = \"640x360\"\nrate = \"12\"");
    refused(&["check"], 1, "channel.toml:6:8");
    refused(&["cues", "soup"], 1, "channel.toml:6:8");
    refused(&["timeline", "soup", "--out", "out"], 1, "frames can't be counted at the rate `12`");
}

#[test]
fn a_timeline_starts_at_an_hour_or_where_it_is_told() {
    let kitchen = kitchen();
    for (rate, start, frames) in [
        ("29.97", None, "FCM: DROP FRAME"),
        ("29.97 NDF", None, "FCM: NON-DROP FRAME"),
        ("29.97", Some("00:59:58;00"), "FCM: DROP FRAME"),
        ("29.97 NDF", Some("00:59:58:00"), "FCM: NON-DROP FRAME"),
    ] {
        let mut arguments = vec!["timeline", "soup", "--out", "out", "--rate", rate];
        arguments.extend(start.iter().flat_map(|start| ["--start", start]));
        let done = kitchen.run(&arguments);
        assert_eq!(done.code, 0, "{arguments:?}: {}", done.err);
        let list = fs::read_to_string(kitchen.path("out/soup/small/title.edl")).expect("there");
        assert!(list.contains(frames), "{arguments:?}: {list}");
    }
}

#[test]
fn a_video_ends_where_its_recipe_says_so() {
    let kitchen = kitchen();
    let pin = "rate = \"25\"\n[title]\nclosing = { at = \"00:01:30:00\", for = \"00:00:04:00\", pin = true }\n";
    kitchen.write("content/soup/cues.toml", pin);
    let commands = [&["check"][..], &["notes", "soup"], &["timeline", "soup", "--out", "out"]];
    for command in commands {
        let done = kitchen.run(command);
        assert!(done.code == 1 && done.err.contains("beyond-video"), "{command:?}: {}", done.err);
    }
    let video = "[video]\nurl = \"https://kitchen.example/watch\"\npublished = 2026-03-03\nlength = \"1 min 40 s\"\n\n";
    kitchen.edit("soup/recipe.md", "[variant.spicy]", &format!("{video}[variant.spicy]"));
    for command in commands {
        let done = kitchen.run(command);
        assert_eq!(done.code, 0, "{command:?}: {}", done.err);
    }
    fs::remove_file(kitchen.path("content/soup/cues.toml")).expect("removed");
    let done = kitchen.run(&["cues", "soup"]);
    assert_eq!(done.code, 0, "{}", done.err);
    let made = cues(&kitchen);
    assert!(made.contains("closing = ") && !made.contains("\nlength"), "{made}");
    assert!(!done.out.contains("the video ends"), "{}", done.out);
    // Captions from elsewhere may go on for longer than all that is known: then the file says so, and all believe it.
    kitchen.write("later.vtt", &take(50));
    assert_eq!(kitchen.run(&["cues", "soup", "later.vtt"]).code, 0);
    assert!(cues(&kitchen).contains("\nlength = \"00:01:56:00\""), "{}", cues(&kitchen));
    assert_eq!(kitchen.run(&["check"]).code, 0);
}

#[test]
fn a_byte_order_mark_of_a_cue_sheet_stays() {
    let kitchen = kitchen();
    assert_eq!(kitchen.run(&["cues", "soup"]).code, 0);
    let marked = format!("\u{feff}{}", cues(&kitchen));
    kitchen.write("content/soup/cues.toml", &marked);
    let done = kitchen.run(&["cues", "soup"]);
    assert!(done.code == 0 && done.out.contains("is up to date"), "{}{}", done.out, done.err);
    assert_eq!(cues(&kitchen), marked);
}

#[test]
fn a_take_is_planned_without_captions() {
    let kitchen = Kitchen::small();
    let done = kitchen.run(&["shoot", "soup", "--html", "plan.html"]);
    assert_eq!(done.code, 0, "{}", done.err);
    insta::assert_snapshot!("shooting_order", done.out);
    let page = fs::read_to_string(kitchen.path("plan.html")).expect("written");
    assert!(page.contains("<td class=\"card\">callout-salt</td>") && page.contains("Wait, camera off"), "{page}");
    assert!(!page.contains("<script") && !page.contains("http") && !page.contains("src="), "it is one file");
    let french = kitchen.run(&["shoot", "soup", "--language", "fr"]);
    assert!(french.out.starts_with("Ordre de tournage: Plain soup\n"), "{}", french.out);
    assert_eq!(kitchen.run(&["shoot", "soup", "--html", "content/soup/recipe.md"]).code, 2);
    assert!(!page.contains("What is known so far"), "every price is there");
    kitchen.edit("prices.csv", "2026-03-02,salt,500 g,0.89,market,\n", "");
    let told = kitchen.run(&["shoot", "soup"]).out;
    assert!(told.contains("What is known so far: €0.00 · Per bowl"), "{told}");
}
