//! WebVTT by value, after the W3C's specification (https://www.w3.org/TR/webvtt1/): section and step beside each check.
//! Where the environment or the folder beside the repository has the reference files, all of those too.

use super::{Reading, vtt, words};
use std::path::{Path, PathBuf};
use tallyspoon::source::script::Format;

fn cue(id: &str, start: u64, end: u64, text: &str) -> (String, u64, u64, String) {
    (id.into(), start, end, text.into())
}

/// The files that the W3C's web-platform-tests have for this, with the cues that each must give, where they are.
#[test]
fn the_reference_files_give_their_cues() {
    let beside = Path::new(env!("CARGO_MANIFEST_DIR")).join("../shared/reference/webvtt");
    let folder = std::env::var_os("WEBVTT_REFERENCE").map_or(beside, PathBuf::from);
    let Ok(expected) = std::fs::read_to_string(folder.join("cues.json")) else {
        println!("no reference files in {}", folder.display());
        return;
    };
    let expected: serde_json::Value = serde_json::from_str(&expected).expect("JSON");
    let files = expected.as_object().expect("files");
    assert!(files.len() >= 37);
    for (name, cues) in files {
        let millis = |value: &serde_json::Value| (value.as_f64().expect("seconds") * 1000.0).round() as u64;
        let text = |value: &serde_json::Value| value.as_str().expect("text").to_owned();
        let cues: Vec<_> = cues.as_array().expect("cues").iter().collect();
        let cues: Vec<_> =
            cues.iter().map(|c| (text(&c["id"]), millis(&c["start"]), millis(&c["end"]), text(&c["text"]))).collect();
        let reading = Reading::of(name, std::fs::read(folder.join(name)).expect("there"));
        assert_eq!(reading.script.format, Format::WebVtt, "{name}");
        assert_eq!(reading.cues(), cues, "{name}");
    }
}

/// Section 6.1, steps 1 to 6 of the parser: the signature is the first six characters behind a byte-order mark,
/// and then a space, a tab, a line's end or nothing.
#[test]
fn the_signature_decides() {
    for head in [
        "WEBVTT\n\n",
        "\u{feff}WEBVTT\n\n",
        "WEBVTT Bramble\n\n",
        "WEBVTT\t\n\n",
        "WEBVTT\r\r",
        "WEBVTT\nKind: captions\n\n",
    ] {
        let reading = Reading::of("take.txt", format!("{head}00:01.000 --> 00:02.000\nSalt.\n"));
        assert_eq!(reading.script.format, Format::WebVtt, "{head:?}");
        assert_eq!(reading.cues(), [cue("", 1000, 2000, "Salt.")], "{head:?}");
        assert!(reading.told().is_empty());
    }
    for head in ["WEBVTTx\n\n", "webvtt\n\n", " WEBVTT\n\n", "\nWEBVTT\n\n"] {
        let reading = Reading::of("take.vtt", format!("{head}00:01.000 --> 00:02.000\nSalt.\n"));
        assert_eq!(reading.script.format, Format::SubRip, "{head:?}");
        let told = reading.told();
        assert!(told[0].starts_with("take.vtt:1:1: warning[no-webvtt-line]: "), "{told:?}");
    }
}

/// Section 6.1, "collect a WebVTT block": what a block is, and where it ends.
#[test]
fn blocks_end_at_blank_lines_and_arrows() {
    // A header directly below the signature is none of the cues; an arrow ends it.
    let reading = Reading::of("a.vtt", "WEBVTT\nRegion: x\n00:01.000 --> 00:02.000\nSalt.\n");
    assert_eq!(reading.cues(), [cue("", 1000, 2000, "Salt.")]);
    // Identifiers: any line without an arrow, a number too; only the line before the times is one.
    let reading = vtt("12\n00:01.000 --> 00:02.000\nA\n\nfoo bar\n00:02.000 --> 00:03.000\nB\n");
    assert_eq!(reading.cues(), [cue("12", 1000, 2000, "A"), cue("foo bar", 2000, 3000, "B")]);
    let reading = vtt("one\ntwo\n00:01.000 --> 00:02.000\nA\n");
    assert_eq!(reading.cues(), [cue("", 1000, 2000, "A")]);
    // Comments, styles and regions say nothing; a cue of no text is a cue; text may start with these words.
    let reading = vtt("NOTE 200 g of salt\nand more\n\nSTYLE\n::cue { color: red }\n\nREGION\nid:x\n\n\
         00:01.000 --> 00:02.000\n\n00:02.000 --> 00:03.000\nNOTE this\nSTYLE\n");
    assert_eq!(reading.cues(), [cue("", 1000, 2000, ""), cue("", 2000, 3000, "NOTE this\nSTYLE")]);
    // An arrow in a cue's text ends the cue, and starts a block.
    let reading = vtt("00:01.000 --> 00:02.000\nA\n00:02.000 --> 00:03.000\nB --> C\nD\n");
    assert_eq!(reading.cues(), [cue("", 1000, 2000, "A"), cue("", 2000, 3000, "")]);
    // Settings are skipped, whatever they are.
    let reading = vtt("00:01.000 --> 00:02.000align:end line:-1 nonsense\nA\n");
    assert_eq!(reading.cues(), [cue("", 1000, 2000, "A")]);
    // The last line needs no end.
    assert_eq!(vtt("00:01.000 --> 00:02.000\nA").cues(), [cue("", 1000, 2000, "A")]);
}

/// Section 6.1, steps of preprocessing: NUL becomes U+FFFD; CR and CRLF are LF.
#[test]
fn lines_end_with_any_ending() {
    let text = "WEBVTT\r\n\r\n1\r00:01.000 --> 00:02.000\rA\0\r\nB\r\r2\n00:02.000 --> 00:03.000\nC";
    let reading = Reading::of("a.vtt", text);
    assert_eq!(reading.cues(), [cue("1", 1000, 2000, "A\u{fffd}\nB"), cue("2", 2000, 3000, "C")]);
    assert_eq!(words(&reading.script), "A\u{fffd} B C");
    let places: Vec<_> = reading.script.words.iter().map(|word| (word.line, word.column)).collect();
    assert_eq!(places, [(5, 1), (6, 1), (10, 1)]);
}

/// Section 6.3: timestamps, and what becomes of a cue without good ones.
#[test]
fn bad_times_lose_their_cue_and_are_told() {
    let good = ["00:00.000 --> 59:59.999", "00:00:00.000-->100:00:00.000", "\t01:00.000\x0c-->\x0c01:00.000"];
    let ends = [3_599_999, 360_000_000, 60_000];
    for (line, end) in good.iter().zip(ends) {
        assert_eq!(vtt(&format!("{line}\nSalt.\n")).cues()[0].2, end, "{line:?}");
    }
    let bad = [
        "0:00.000 --> 00:01.000",
        "00:00,000 --> 00:01,000",
        "00:00.00 --> 00:01.00",
        "00:60.000 --> 00:61.000",
        "60:00.000 --> 61:00.000",
        "00:00:00:000 --> 00:00:01:000",
        "00:00.000 -> 00:01.000 -->",
        "00:00.000 --> ",
        "soon --> later",
    ];
    for line in bad {
        let reading = vtt(&format!("{line}\nPepper.\n\n00:01.000 --> 00:02.000\nSalt.\n"));
        assert_eq!(words(&reading.script), "Salt.", "{line:?}");
        assert!(reading.told()[0].starts_with("take.vtt:3:1: warning[bad-times]: "), "{:?}", reading.told());
    }
    // A cue may end before it starts; no time of a word does.
    let reading = vtt("00:02.000 --> 00:01.000\nSea salt\n");
    assert_eq!(reading.times(), [("Sea", 2000, 2000), ("salt", 2000, 2000)]);
    assert!(reading.told()[0].contains("warning[bad-times]"));
}

/// Section 6.4, the tokenizer of cue text: tags are off, references decoded, times in the text are times.
#[test]
fn cue_text_is_read_as_it_is_displayed() {
    for (written, shown) in [
        ("<b>two</b> <i.loud>cups</i>", "two cups"),
        ("<c.yellow.bg_blue>a <u>b</u></c>c", "a bc"),
        ("<v Ada>salt</v>", "salt"),
        ("<lang en>salt</lang> <ruby>a<rt>b</rt></ruby>", "salt ab"),
        ("<nonsense>salt</nonsense> <>a</> <1>b", "salt a b"),
        ("a < b", "a"),
        ("a > b >", "a > b >"),
        ("salt <unclosed", "salt"),
        ("one<b\nclass>two", "onetwo"),
        ("salt &amp; pepper &lt;3 &gt; &quot;x&quot; &apos;", "salt & pepper <3 > \"x\" '"),
        ("a&nbsp;b &lrm;c&rlm; 2&frac12; caf&eacute; &#189; &#xbd;", "a b c 2½ café ½ ½"),
        ("a & b &; &bogus; &amp", "a & b &; &bogus; &"),
        ("a<br>b", "a b"),
        ("  two\t cups ", "two cups"),
        ("one\u{a0}two three", "one two three"),
        ("cro\u{ad}quette", "croquette"),
    ] {
        let reading = vtt(&format!("00:00.000 --> 00:01.000\n{written}\n"));
        assert_eq!(words(&reading.script), shown, "{written:?}");
    }
}

/// Spans hold what was written; a reference is in the span of its word, a tag before it is not.
#[test]
fn words_know_their_bytes() {
    let reading = vtt("00:00.000 --> 00:01.000\n<b>Cr&egrave;me</b> fra<i>\u{ee}</i>che&#33; <i>\nnow\n");
    let written: Vec<_> = reading.script.words.iter().map(|word| reading.texts.slice(word.span)).collect();
    assert_eq!(written, ["Cr&egrave;me", "fra<i>î</i>che&#33;", "now"]);
    let places: Vec<_> = reading.script.words.iter().map(|word| (word.line, word.column)).collect();
    assert_eq!(places, [(4, 4), (4, 21), (5, 1)]);
}

#[test]
fn words_have_times_by_characters_or_by_the_times_between_them() {
    // Ten characters and the spaces in a second: 2 + 1 + 4 + 1 + 1 + the place behind the last.
    let reading = vtt("00:10.000 --> 00:11.000\nab\ncdef g\n");
    assert_eq!(reading.times(), [("ab", 10_000, 10_200), ("cdef", 10_300, 10_700), ("g", 10_800, 10_900)]);
    let reading = vtt("00:10.000 --> 00:14.000\nab cd<00:12.000> ef<00:12.500><c> gh</c>\n");
    assert_eq!(
        reading.times(),
        [("ab", 10_000, 10_666), ("cd", 11_000, 11_666), ("ef", 12_000, 12_333), ("gh", 12_500, 13_500)]
    );
    // Times that run back, are outside the cue or are no times count for nothing.
    let reading = vtt("00:10.000 --> 00:12.000\nab<00:09.000> cd<00:13.000> ef<1:2> gh\n");
    assert_eq!(reading.times().iter().map(|word| word.1).collect::<Vec<_>>(), [10_000, 10_500, 11_000, 11_500]);
    // A first word that starts late.
    let reading = vtt("00:10.000 --> 00:12.000\n<00:11.000>ab <00:11.500>cd\n");
    assert_eq!(reading.times().iter().map(|word| word.1).collect::<Vec<_>>(), [11_000, 11_500]);
}

#[test]
fn cues_are_heard_in_the_order_of_their_times() {
    let reading = vtt("00:05.000 --> 00:06.000\nlater\n\n00:01.000 --> 00:02.000\nsooner\n");
    assert_eq!(words(&reading.script), "sooner later");
    assert_eq!(reading.script.words.iter().map(|word| word.cue).collect::<Vec<_>>(), [1, 0]);
}
