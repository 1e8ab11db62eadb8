//! Whatever the bytes, reading ends soon, and writing back without a change gives the same bytes.

use proptest::prelude::*;
use std::time::{Duration, Instant};
use tallyspoon::diag::Findings;
use tallyspoon::source::script::{Edit, Script, read};
use tallyspoon::span::Texts;

const NAMES: [&str; 4] = ["a.vtt", "a.srt", "a.txt", "a.md"];

/// Reads, and holds what is always so.
fn hold(name: &str, bytes: &[u8]) -> Option<Script> {
    let (mut texts, mut findings) = (Texts::new(""), Findings::new());
    let Some(script) = read(name, bytes.to_vec(), &mut texts, &mut findings) else {
        assert!(findings.has_errors());
        return None;
    };
    assert!(!findings.has_errors());
    assert_eq!(script.rewrite(&[]).as_deref(), Ok(bytes));
    let text = &texts
        .get(script.words.first().map_or_else(|| script.cues.first().map(|c| c.text), |w| Some(w.span))?.source)?
        .content;
    for word in &script.words {
        assert!(!word.text.is_empty() && !word.text.contains(char::is_whitespace), "{word:?}");
        assert!(text.get(word.span.start..word.span.end).is_some_and(|written| !written.is_empty()), "{word:?}");
        assert!(word.start <= word.end && word.cue < script.cues.len(), "{word:?}");
        assert!(word.line >= 1 && word.column >= 1);
    }
    assert!(script.words.windows(2).all(|pair| pair[0].start <= pair[1].start || pair[0].cue != pair[1].cue));
    assert!(script.repeats.iter().all(|repeat| repeat.word < script.words.len()));
    Some(script)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn any_bytes_are_read_and_written_back(bytes in proptest::collection::vec(any::<u8>(), 0..400), name in 0..4_usize) {
        hold(NAMES[name], &bytes);
    }

    #[test]
    fn any_pieces_of_captions_are_read_and_written_back(
        pieces in proptest::collection::vec(proptest::sample::select(PIECES), 0..60),
        name in 0..4_usize,
        signature in any::<bool>(),
    ) {
        let text = format!("{}{}", if signature { "WEBVTT\n\n" } else { "" }, pieces.concat());
        if let Some(script) = hold(NAMES[name], text.as_bytes()) {
            // A word that is put in a word's place is read there again.
            let Some(word) = script.words.last() else { return Ok(()) };
            let edit = Edit { span: word.span, text: "x<&y".into() };
            let changed = script.rewrite(&[edit]).expect("one change");
            prop_assert!(changed.len() + (word.span.end - word.span.start) >= text.len());
            hold(NAMES[name], &changed);
        }
    }
}

/// What captions are made of.
const PIECES: &[&str] = &[
    "\n",
    "\r",
    "\r\n",
    "\n\n",
    " ",
    "\t",
    "\0",
    "\u{feff}",
    "1",
    "200",
    "two",
    "Salt.",
    "é",
    "🐀",
    "<b>",
    "</b>",
    "<",
    ">",
    "<v A>",
    "<00:01.500>",
    "<c>",
    "&",
    "&amp;",
    "&#",
    "&#x1f400;",
    "-->",
    "00:01.000 --> 00:02.000",
    "00:00:01,000 --> 00:00:02,000",
    "00:01.000 --> 00:02.000\nA b\n\n",
    "00:02.000 --> 00:02.010\nA b\n\n",
    "00:02.010 --> 00:04.000\nA b\nc\n\n",
    "NOTE",
    "STYLE",
    "REGION",
    "[",
    "]",
    "- ",
    "# ",
    "* ",
    "+++",
    "---",
    "`",
    "|",
    "~~",
    "{\\an8}",
    "<!--",
    "\\",
    "[a](b)",
    "> ",
    ">>",
];

/// A small generator with a seed: the same bytes on every run.
struct Dice(u64);

impl Dice {
    fn roll(&mut self, below: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 % below.max(1) as u64).expect("small")
    }
}

/// Good files with bytes changed, left out, doubled and swapped, for three seconds at most.
#[test]
fn mutated_captions_are_read_and_written_back() {
    let seeds: [&[u8]; 4] = [
        b"WEBVTT - x\n\nNOTE y\n\n1\n00:01.000 --> 00:02.000 line:0\n<v Ada>Two &amp; <00:01.500><c> a half</c>\n\n00:02.000 --> 00:02.010\nTwo & a half\n\n00:02.010 --> 00:04.000\nTwo & a half\ncups\n",
        b"\xef\xbb\xbf1\r\n00:00:01,000 --> 00:00:02,000\r\n<i>Two</i> {\\an8}cups\r\n\r\n2\r\n00:00:02,000 --> 00:00:03,000\r\nof cr\xc3\xa8me\r\n",
        b"+++\na = 1\n+++\n# Two\n\n- *one* [b](c) &amp; `d`\n- ~~e~~\n\n| f | g |\n|---|---|\n| h | i |\n<!-- j -->\n",
        b"\xff\xfeT\0w\0o\0 \0c\0u\0p\0s\0\n\0\n\0[\0m\0]\0",
    ];
    let (mut dice, start, mut made) = (Dice(0x5eed), Instant::now(), 0);
    while made < 20_000 && start.elapsed() < Duration::from_secs(3) {
        let mut bytes = seeds[dice.roll(seeds.len())].to_vec();
        for _ in 0..=dice.roll(6) {
            let (at, to) = (dice.roll(bytes.len()), dice.roll(bytes.len()));
            let (low, high) = (at.min(to), at.max(to).min(at.min(to) + 40));
            match dice.roll(5) {
                0 => bytes[at] = u8::try_from(dice.roll(256)).expect("a byte"),
                1 => drop(bytes.drain(low..high)),
                2 => bytes.extend_from_within(low..high),
                3 => bytes.swap(at, to),
                _ => {
                    let piece = PIECES[dice.roll(PIECES.len())];
                    bytes.splice(at..at, piece.bytes());
                }
            }
            if bytes.is_empty() {
                bytes.push(b'a');
            }
        }
        hold(NAMES[dice.roll(4)], &bytes);
        made += 1;
    }
    assert!(made > 500, "only {made} files in three seconds");
}

/// Ten megabytes of what is slow for a careless reader. Twice the size may take four times as long at most (twice, and as
/// much again for a busy machine), and a file is read in ten seconds even without optimisation.
#[test]
fn large_files_are_read_in_time_that_grows_with_them() {
    let pieces = [
        ("a.vtt", "a "),
        ("a.vtt", "<"),
        ("a.vtt", "&"),
        ("a.vtt", "&a"),
        ("a.vtt", "-->\n"),
        ("a.vtt", "a\n"),
        ("a.vtt", "\n00:01.000 --> 00:02.000\nb c\n"),
        ("a.vtt", "<00:00.500> a"),
        ("a.vtt", "[a "),
        ("a.srt", "1\n00:00:01,000 --> 00:00:02,000\n{\\\n\n"),
        ("a.srt", "<a"),
        ("a.txt", "- a\n"),
        ("a.txt", "\r"),
        ("a.md", "*a "),
        ("a.md", "> "),
        ("a.md", "[a]("),
        ("a.txt", "\u{e9}"),
    ];
    let time = |name: &str, piece: &str, size: usize| {
        let head = match name {
            "a.vtt" => "WEBVTT\n\n00:00.000 --> 00:01.000\n",
            "a.srt" => "1\n00:00:00,000 --> 00:00:01,000\n",
            _ => "",
        };
        let text = head.to_owned() + &piece.repeat(size / piece.len());
        let (mut texts, mut findings) = (Texts::new(""), Findings::new());
        let start = Instant::now();
        let script = read(name, text.into_bytes(), &mut texts, &mut findings);
        (start.elapsed(), script.map_or(0, |script| script.words.len()))
    };
    for (name, piece) in pieces {
        let best = |size| (0..2).map(|_| time(name, piece, size).0).min().expect("two");
        let (small, large) = (best(200_000), best(800_000));
        assert!(large < small * 8 + Duration::from_millis(200), "{name} {piece:?}: {small:?}, then {large:?}");
    }
    let cue = |at: usize| {
        format!("00:{:02}:{:02}.000 --> 00:{:02}:{:02}.900\n{at} of\n\n", at / 60 % 60, at % 60, at / 60 % 60, at % 60)
    };
    let text = format!("WEBVTT\n\n{}", (0..270_000).map(cue).collect::<String>());
    assert!(text.len() > 10_000_000);
    let (mut texts, start) = (Texts::new(""), Instant::now());
    let script = read("a.vtt", text.into_bytes(), &mut texts, &mut Findings::new()).expect("read");
    assert!(start.elapsed() < Duration::from_secs(10), "{:?}", start.elapsed());
    assert_eq!(script.words.len(), 540_000);
}
