//! Captions that roll, grow or hold show words again: each counts where it first appears.

use super::{Reading, vtt, words};

/// Cues of a second each with these texts.
fn cues(texts: &[&str]) -> Reading {
    let cue = |(at, text): (usize, &&str)| format!("00:{at:02}.000 --> 00:{:02}.000\n{text}\n\n", at + 1);
    vtt(&texts.iter().enumerate().map(cue).collect::<String>())
}

fn starts(reading: &Reading) -> Vec<u64> {
    reading.times().iter().map(|word| word.1).collect()
}

#[test]
fn two_rows_that_roll_up() {
    let reading = cues(&["take two", "take two\nhundred grams", "hundred grams\nof salt", "of salt\nand"]);
    assert_eq!(words(&reading.script), "take two hundred grams of salt and");
    assert_eq!(starts(&reading), [0, 555, 1000, 1571, 2000, 2375, 3000]);
    assert_eq!(reading.script.words.iter().map(|word| word.cue).collect::<Vec<_>>(), [0, 0, 1, 1, 2, 2, 3]);
    let again: Vec<_> = reading.script.repeats.iter().map(|r| (r.word, reading.texts.slice(r.span))).collect();
    assert_eq!(again, [(0, "take"), (1, "two"), (2, "hundred"), (3, "grams"), (4, "of"), (5, "salt")]);
}

#[test]
fn three_rows_that_roll_up() {
    let reading = cues(&["a one", "a one\nb two", "a one\nb two\nc", "b two\nc\nd", "c\nd\ne"]);
    assert_eq!(words(&reading.script), "a one b two c d e");
}

#[test]
fn rows_held_for_an_instant_with_times_between_words() {
    let reading = vtt("00:00.000 --> 00:02.000 align:start position:0%\n \ntake<00:00.500><c> two</c>\n\n\
         00:02.000 --> 00:02.010 align:start position:0%\ntake two\n \n\n\
         00:02.010 --> 00:04.000 align:start position:0%\ntake two\nhundred<00:03.000><c> grams</c>\n\n\
         00:04.000 --> 00:04.010 align:start position:0%\nhundred grams\n \n");
    assert_eq!(words(&reading.script), "take two hundred grams");
    assert_eq!(starts(&reading), [0, 500, 2010, 3000]);
    assert_eq!(reading.script.repeats.len(), 6);
}

/// A row stays while nobody speaks, and is shown above the next one.
#[test]
fn a_pause_between_rows() {
    let text = "00:00.000 --> 00:02.000\ntake two\n\n00:02.000 --> 00:04.000\ntake two\nhundred\n\n\
                00:20.000 --> 00:22.000\nhundred\ngrams of\n\n00:22.000 --> 00:24.000\ngrams of\nsalt\n";
    assert_eq!(words(&vtt(text).script), "take two hundred grams of salt");
}

#[test]
fn a_row_that_grows_word_by_word() {
    let reading = cues(&["take", "take two", "take two hundred", "take two\nhundred grams", "of", "of salt"]);
    assert_eq!(words(&reading.script), "take two hundred grams of salt");
    assert_eq!(starts(&reading), [0, 1000, 2000, 3000, 4000, 5000]);
}

#[test]
fn one_text_in_cue_after_cue_or_twice_at_once() {
    assert_eq!(words(&cues(&["two cups", "two cups", "two cups", "of salt"]).script), "two cups of salt");
    let twice = "00:01.000 --> 00:03.000\ntwo cups\n\n00:01.000 --> 00:03.000\ntwo cups\n";
    assert_eq!(words(&vtt(twice).script), "two cups");
}

#[test]
fn what_people_say_twice_counts_twice() {
    for texts in [
        ["stir", "stir", "then rest", "and fry"],
        ["one cup", "two cups", "two cups\nof flour", "done"],
        ["salt\nand", "and oil", "one", "two"],
    ] {
        let said = words(&cues(&[&texts[..], &["a", "b", "c", "d", "e"]].concat()).script);
        assert_eq!(said, texts.join(" ").replace('\n', " ") + " a b c d e");
    }
    // Not after a pause, in a file that doesn't roll.
    let pause = "00:01.000 --> 00:02.000\ntwo cups\n\n00:09.000 --> 00:10.000\ntwo cups\nmore\n";
    assert_eq!(words(&vtt(pause).script), "two cups two cups more");
}
