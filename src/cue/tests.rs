//! The file of cues: read with everything wrong with it, written over what is there.

use super::*;
use crate::diag::{Findings, one_line};
use crate::source::script::Millis;
use crate::span::Texts;

fn card(name: &str, about: About) -> Card {
    Card { name: name.into(), about }
}

pub(super) fn deck() -> Vec<Card> {
    vec![
        card("title", About::Title),
        card("weigh-out", About::Part("main".into())),
        card("callout-flour", About::Line("main.flour".into())),
        card("callout-salt", About::Line("main.salt".into())),
        card("step-1", About::Step("mix".into())),
        card("wait-1", About::Wait("mix".into())),
        card("step-2", About::Step("bake".into())),
        card("cost", About::Cost),
        card("closing", About::Closing),
    ]
}

fn read_it(text: &str, video: Option<u64>, pins_alone: bool) -> (Option<CueSheet>, String) {
    let (mut texts, mut findings) = (Texts::new(""), Findings::new());
    let id = texts.add("cues.toml", text);
    let cards = deck();
    let sheet = read(id, text, Reading { cards: &cards, video: video.map(Millis), pins_alone }, &mut findings);
    let told: Vec<String> = findings.sorted().iter().map(|finding| one_line(finding, &texts)).collect();
    (sheet, told.join("\n"))
}

const GOOD: &str = r#"# mine
rate = 25  # the camera's
off = ["weigh-out"]

[ingredients]
# the bowl is in the picture from here
callout-flour = { at = "00:00:05:00", for = "00:00:02:00" } # slow
callout-salt = { at = "00:00:07:00", for = "00:00:02:00", pin = true }

[steps.step-1]
at = "00:00:04:00"
for = "00:00:03:00"
"#;

#[test]
fn a_good_file_is_read_and_written_back_byte_for_byte() {
    let (sheet, told) = read_it(GOOD, Some(20_000), false);
    assert_eq!(told, "");
    let sheet = sheet.expect("it is good");
    let names: Vec<(&str, u64, u64, bool)> =
        sheet.cues.iter().map(|cue| (cue.card.name.as_str(), cue.start, cue.length, cue.pinned)).collect();
    let expected = [("step-1", 100, 75, false), ("callout-flour", 125, 50, false), ("callout-salt", 175, 50, true)];
    assert_eq!(names, expected);
    assert_eq!(write(&sheet, Some(GOOD)), GOOD);
}

#[test]
fn what_changes_is_written_among_what_stays() {
    let mut sheet = read_it(GOOD, None, false).0.expect("it is good");
    sheet.cues.retain(|cue| cue.card.name != "step-1");
    sheet.cues[0].start = 250;
    let step = deck().remove(6);
    sheet.cues.push(Cue { card: step, start: 500, length: 100, pinned: false });
    sheet.sort();
    let text = write(&sheet, Some(GOOD));
    insta::assert_snapshot!(text);
    let (again, told) = read_it(&text, None, false);
    assert_eq!((again, told.as_str()), (Some(sheet), ""));
}

#[test]
fn a_new_file_tells_how_it_is_edited_and_reads_back() {
    let mut sheet = CueSheet::new(Rate::Fps2997Drop);
    sheet.off.insert(Lane::WeighOut);
    for (at, card) in deck().into_iter().enumerate() {
        sheet.cues.push(Cue { card, start: at as u64 * 1800, length: 120, pinned: at == 3 });
    }
    sheet.sort();
    let text = write(&sheet, None);
    insta::assert_snapshot!(text);
    assert_eq!(read_it(&text, None, false).0, Some(sheet.clone()));
    assert_eq!(write(&sheet, Some(&text)), text, "again changes nothing");
    let slow = sheet.at(Rate::Fps24);
    let (read, told) = read_it(&write(&slow, Some(&text)), None, false);
    assert_eq!((read, told.as_str()), (Some(slow), ""), "another rate moves every label, the pinned ones too");
}

#[test]
fn everything_wrong_is_told_at_once_with_its_place() {
    let bad = r#"rate = "29.97 DF"
lenght = "00:01:00;02"
off = ["stepz", 3]

[title]
title = { at = "00:01:00;00", for = "00:00:03;00" }
closing = "later"
cost = { at = "00:00:01;00", for = "00:00:02;00" }

[ingredients]
callout-flower = { at = "00:00:01;00", for = "00:00:02;00" }
callout-flour = { at = "00:00:01:00", for = "00:00:02;30" }
callout-salt = { at = 5, for = "00:00:00;00", pinned = true }

[steps]
step-1 = { at = "00:00:10;00", for = "00:00:05;00", pin = "yes" }
step-2 = { at = "00:00:12;00", for = "00:00:30;00" }

[waits]
wait-1 = { for = "00:00:02;00" }

[lane]
x = 1
"#;
    let (sheet, told) = read_it(bad, Some(40_000), false);
    assert!(sheet.is_none());
    insta::assert_snapshot!(told);
    for (text, code) in [
        ("", "missing-cue-key"),
        ("rate = \"48\"", "unsupported-rate"),
        (
            "rate = \"25\"\nlength = \"00:00:04:00\"\n[title]\ntitle = { at = \"00:00:05:00\", for = \"00:00:03:00\" }",
            "beyond-video",
        ),
        ("rate = \"25\"\n[title]\ntitle = 3", "wrong-cue-kind"),
        ("rate = \"25\"\n[title\n", "bad-toml"),
    ] {
        let (sheet, told) = read_it(text, None, false);
        assert!(sheet.is_none() && told.contains(code), "{text}: {told}");
    }
}

#[test]
fn only_pinned_cues_stand_in_each_others_way_where_all_others_are_placed_anew() {
    let steps = |pins: [bool; 2]| {
        format!(
            "rate = \"25\"\n[steps]\nstep-1 = {{ at = \"00:00:01:00\", for = \"00:00:05:00\", pin = {} }}\n\
             step-2 = {{ at = \"00:00:02:00\", for = \"00:00:05:00\", pin = {} }}\n",
            pins[0], pins[1]
        )
    };
    assert!(read_it(&steps([true, false]), Some(3000), true).1.contains("step-1` stays on"));
    assert_eq!(read_it(&steps([true, false]), None, true).1, "");
    assert!(read_it(&steps([true, false]), None, false).1.contains("overlapping-cues"));
    assert!(read_it(&steps([true, true]), None, true).1.contains("overlapping-cues"));
}
