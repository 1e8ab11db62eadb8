//! SubRip, plain text and Markdown, other encodings; and writing back.

use super::{Edit, Reading, Unwritable, vtt, words};
use tallyspoon::diag::Findings;
use tallyspoon::source::script::{Format, read};
use tallyspoon::span::Texts;

const SUBRIP: &str = "1\r\n00:00:01,000 --> 00:00:02,500\r\nTwo hundred grams\r\nof <i>salt</i>\r\n\r\n\
                      2\r\n00:00:03,000 --> 00:00:04,000 X1:1 Y1:2\r\n{\\an8}<font color=\"red\">5 < 6 &amp; 7</font>\r\n";

/// No standard describes SubRip; this is how its files are (common practice, no source).
#[test]
fn subrip_is_read() {
    let reading = Reading::of("take.srt", SUBRIP);
    assert_eq!(reading.script.format, Format::SubRip);
    let cues = reading.cues();
    assert_eq!((cues[0].0.as_str(), cues[0].1, cues[0].2), ("1", 1000, 2500));
    assert_eq!((cues[1].0.as_str(), cues[1].1, cues[1].2), ("2", 3000, 4000));
    assert_eq!(cues[0].3, "Two hundred grams\nof <i>salt</i>");
    assert_eq!(words(&reading.script), "Two hundred grams of salt 5 < 6 & 7");
    assert!(reading.told().is_empty());
    // The text decides, not the file's name.
    for name in ["take.txt", "take.md", "take"] {
        assert_eq!(Reading::of(name, SUBRIP).script.format, Format::SubRip);
    }
}

#[test]
fn subrip_of_any_make_is_read() {
    for (text, said) in [
        ("00:00:01,000 --> 00:00:02,000\nA\n00:00:02,000 --> 00:00:03,000\nB\n", "A B"),
        ("\u{feff}1\n00:00:01.000 --> 00:00:02.000\nA\n\nA2\n\n2\n0:00:02,5 --> 0:00:03\nB\n\n\n", "A A2 B"),
        // Counters between blank lines are told by their value; another number is a text.
        ("1\n\n00:00:01,000 --> 00:00:02,000\n\n200\n\n2\n\n00:00:02,000 --> 00:00:03,000\n\nB\n", "200 B"),
        ("1\n00:00:01,000 --> 00:00:02,000\n\n2\n00:00:02,000 --> 00:00:03,000\nB\\NC<br>D\n", "B C D"),
        ("1\n00:00:01,000 --> 00:00:02,000\n200\n\n00:00:02,000 --> 00:00:03,000\nB\n", "200 B"),
    ] {
        let reading = Reading::of("take.srt", text);
        assert_eq!(words(&reading.script), said, "{text:?}");
        assert_eq!(reading.script.cues.len(), 2, "{text:?}");
    }
    let reading = Reading::of("a.srt", "1\n00:00:01,000 --> 00:00:02,000\nA\n\n2\n00:00:02,000 -->\nB\n");
    assert!(reading.told()[0].starts_with("a.srt:6:1: warning[bad-times]: "), "{:?}", reading.told());
}

#[test]
fn plain_text_is_paragraphs() {
    let reading = Reading::of(
        "script.txt",
        "\u{feff}Soak them. Then drain!\nNow: 1.5 kg\n\n[music]\n0:42\n- two eggs\n- salt [laughs] and\n1. Stir\nwell\nANNA: Yes.\n",
    );
    assert_eq!(reading.script.format, Format::Plain);
    assert_eq!(
        reading.said(),
        "¶ Soak them. | Then drain! | Now: 1.5 kg ¶ two eggs ¶ salt and ¶ Stir well ANNA: » Yes.".trim_start()
    );
    assert!(reading.script.words.iter().all(|word| word.start.is_none() && word.end.is_none()));
    let places: Vec<_> = reading.script.words.iter().take(3).map(|word| (word.line, word.column)).collect();
    assert_eq!(places, [(1, 1), (1, 6), (1, 12)]);
}

#[test]
fn markdown_is_its_words() {
    let text = "+++\ntitle = \"200 g\"\n+++\n\n# Crisp *fritters*\n\n<!-- 5 minutes -->\nTake **two \\* cups** of\n[salt](http://x.y/9).\n\n\
                1. First\n2. Second ~~three~~\n\n> Quote `4 g`\n\n```\n7 g\n```\n\n| a | b |\n|---|---|\n| 1 &amp; | 2 |\n";
    let reading = Reading::of("script.txt", text);
    assert_eq!(reading.script.format, Format::Markdown);
    assert_eq!(
        reading.said(),
        "¶ Crisp fritters ¶ Take two * cups of salt. ¶ First ¶ Second ¶ Quote 4 g ¶ a ¦ b ¶ 1 & ¦ 2"
    );
    let heading = |at: usize| reading.script.cues[reading.script.words[at].cue].heading;
    assert_eq!((heading(0), heading(2)), (Some(1), None));
    assert_eq!(reading.texts.slice(reading.script.words[0].span), "Crisp");
    assert_eq!((reading.script.words[2].line, reading.script.words[2].column), (8, 1));
    assert_eq!(Reading::of("a.md", "two cups").script.format, Format::Markdown);
}

#[test]
fn speakers_are_told_apart() {
    let reading =
        vtt("00:01.000 --> 00:02.000\n<v Ada>Salt?</v> <v Ben>Yes.\n\n00:02.000 --> 00:03.000\n<v Ben>Two.\n\n\
         00:03.000 --> 00:04.000\n- Two?\n-Two.\n\n00:04.000 --> 00:05.000\n&gt;&gt; Yes, 3 - 4.\n-4 degrees\n");
    assert_eq!(reading.said(), "» Salt? » Yes. | Two. » Two? » Two. » Yes, 3 - 4. | -4 degrees");
}

#[test]
fn other_encodings_are_read_with_a_warning() {
    let latin = Reading::of("a.txt", b"2\xbd cups of cr\xe8me");
    assert_eq!(words(&latin.script), "2½ cups of crème");
    let wide: Vec<u8> = "\u{feff}crème 5".encode_utf16().flat_map(u16::to_le_bytes).collect();
    let wide = Reading::of("a.txt", wide);
    assert_eq!(words(&wide.script), "crème 5");
    let torn = Reading::of("a.txt", b"cr\xc3\xa8me br\xc3\xbbl\xc3\xa9e \xff");
    assert_eq!(words(&torn.script), "crème brûlée \u{fffd}");
    for reading in [latin, wide, torn] {
        let told = reading.told();
        assert!(told.len() == 1 && told[0].starts_with("a.txt:1:1: warning[other-encoding]: "), "{told:?}");
    }
}

#[test]
fn a_file_that_holds_no_text_is_refused() {
    let (mut texts, mut findings) = (Texts::new(""), Findings::new());
    let film = b"\x00\x00\x00\x20ftypisom\xff\xfe 300 g of \xe9".to_vec();
    assert!(read("take.mp4", film, &mut texts, &mut findings).is_none());
    let told: Vec<&str> = findings.sorted().iter().map(|finding| finding.code).collect();
    assert_eq!(told, ["no-text"]);
    // A zero byte alone is a character that captions may hold.
    let held = Reading::of("a.txt", b"300 g\x00 of flour".as_slice());
    assert!(held.told().is_empty(), "{:?}", held.told());
}

#[test]
fn nothing_said_is_told() {
    let silent = Reading::of("a.vtt", "WEBVTT\n\n00:01.000 --> 00:02.000\n[music]\n");
    assert!(silent.told()[0].starts_with("a.vtt:1:1: warning[nothing-said]: "), "{:?}", silent.told());
}

/// Replaces the first words that are displayed so.
fn replaced(name: &str, bytes: &[u8], changes: &[(&str, &str)]) -> Result<Vec<u8>, Unwritable> {
    let reading = Reading::of(name, bytes);
    let edit = |(old, new): &(&str, &str)| {
        let word = reading.script.words.iter().find(|word| word.text == *old).expect("displayed");
        Edit { span: word.span, text: (*new).to_owned() }
    };
    reading.script.rewrite(&changes.iter().map(edit).collect::<Vec<_>>())
}

#[test]
fn writing_back_changes_what_was_asked_and_nothing_else() {
    let text = "\u{feff}WEBVTT\r\n\r\nNOTE x\r\n\r\n00:01.000-->00:02.000 align:end\r\n<b>Cr&egrave;me</b>\0 a\r\n";
    let new = replaced("a.vtt", text.as_bytes(), &[("Crème\u{fffd}", "salt & <lime>")]).expect("written");
    let expected = text.replace("Cr&egrave;me</b>\0", "salt &amp; &lt;lime&gt;");
    assert_eq!(String::from_utf8(new).expect("UTF-8"), expected);
    let new = replaced("a.srt", SUBRIP.as_bytes(), &[("salt", "fish & chips"), ("5", "six")]).expect("written");
    assert_eq!(String::from_utf8(new).expect("UTF-8"), SUBRIP.replace("salt", "fish & chips").replace(">5 ", ">six "));
    // In the file's own encoding, byte by byte; or not at all.
    let new = replaced("a.txt", b"2\xbd cups of creme \x81", &[("creme", "crème")]).expect("written");
    assert_eq!(new, b"2\xbd cups of cr\xe8me \x81");
    let refused = replaced("a.txt", b"2\xbd cups of creme", &[("creme", "tőke")]).expect_err("no such letter");
    assert_eq!(refused.to_string(), "the file's encoding has no `ő`; save it as UTF-8");
    let wide = |text: &str| text.encode_utf16().flat_map(u16::to_be_bytes).chain([9]).collect::<Vec<u8>>();
    let new = replaced("a.txt", &wide("\u{feff}a 🐀 creme b"), &[("creme", "🐀è")]).expect("written");
    assert_eq!(new, wide("\u{feff}a 🐀 🐀è b"));
    let torn = b"cr\xc3\xa8me br\xc3\xbbl\xc3\xa9e \xff\xfe a \xe2\x82";
    let new = replaced("a.txt", torn, &[("a", "b")]).expect("written");
    assert_eq!(new, b"cr\xc3\xa8me br\xc3\xbbl\xc3\xa9e \xff\xfe b \xe2\x82");
    assert!(matches!(replaced("a.txt", b"a b", &[("a", "x"), ("a", "y")]), Err(Unwritable::Overlap(_))));
}
