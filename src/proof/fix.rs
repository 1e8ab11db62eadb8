//! Words of a script changed in its file: which bytes become which, wherever captions show the words. Times, tags and
//! line breaks stay. Must not know why a word is changed, or the disk.

use crate::source::script::{Edit, Script, Unwritable};
use crate::span::{Span, Texts};
use std::ops::Range;

/// Words that are to be others.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// Indices into the script's words; not empty.
    pub words: Range<usize>,
    /// What is to stand there, without the punctuation around it.
    pub text: String,
}

/// A file with its words changed.
#[derive(Clone, Debug)]
pub struct Fixed {
    /// The whole file.
    pub bytes: Vec<u8>,
    /// Which of the changes are made, in order.
    pub made: Vec<usize>,
    /// Which are not: they share a word with another, or would leave a line without any.
    pub left: Vec<usize>,
}

/// Makes `changes` in the file that `script` was read from; `texts` has its text.
///
/// # Errors
/// [`Unwritable`] where the file's encoding has no such character.
pub fn fix(script: &Script, texts: &Texts, changes: &[Change]) -> Result<Fixed, Unwritable> {
    let mut fixed = Fixed { bytes: Vec::new(), made: Vec::new(), left: Vec::new() };
    let (mut edits, mut taken) = (Vec::new(), vec![false; script.words.len()]);
    for (index, change) in changes.iter().enumerate() {
        let free = !taken[change.words.clone()].contains(&true);
        match settle(script, texts, change).filter(|_| free) {
            Some(made) => {
                edits.extend(made);
                taken[change.words.clone()].fill(true);
                fixed.made.push(index);
            }
            None => fixed.left.push(index),
        }
    }
    fixed.bytes = script.rewrite(&edits)?;
    Ok(fixed)
}

/// The edits of a change, in each place that shows the words; `None` where they would leave a line empty.
fn settle(script: &Script, texts: &Texts, change: &Change) -> Option<Vec<Edit>> {
    let words = &script.words[change.words.clone()];
    let shown: Vec<&str> = words.iter().map(|word| word.text.as_str()).collect();
    let copies = copies(script, change);
    let text = texts.get(words[0].span.source).map_or("", |text| text.content.as_str());
    shares(&shown, &change.text).into_iter().find_map(|shares| {
        let mut edits = Vec::new();
        for copy in &copies {
            edits.extend(copy_edits(text, copy, &shares)?);
        }
        Some(edits)
    })
}

/// A run of the change's words as it stands in one place: which word, and where.
type Copy = Vec<(usize, Span)>;

/// Every place that shows the words, or some of them.
fn copies(script: &Script, change: &Change) -> Vec<Copy> {
    let first = change.words.clone().map(|word| (word - change.words.start, script.words[word].span)).collect();
    let mut copies: Vec<Copy> = vec![first];
    let repeats = script.repeats.iter().filter(|repeat| change.words.contains(&repeat.word));
    for repeat in repeats {
        let word = repeat.word - change.words.start;
        match copies.last_mut().filter(|copy| copies_on(copy, word)) {
            Some(copy) => copy.push((word, repeat.span)),
            None => copies.push(vec![(word, repeat.span)]),
        }
    }
    copies
}

/// Whether `word` goes on where a copy ends; the first copy is whole.
fn copies_on(copy: &Copy, word: usize) -> bool {
    copy.last().is_some_and(|(last, _)| last + 1 == word)
}

/// What each word becomes, the best way first: by the letters, all in the place of the first word, or of the last.
fn shares(shown: &[&str], text: &str) -> Vec<Vec<String>> {
    let count = shown.len();
    let core: Vec<&str> = shown.iter().map(|word| word.trim_matches(|c: char| !c.is_alphanumeric())).collect();
    let text = in_the_case_of(&core, text);
    let lead = &shown[0][..shown[0].len() - shown[0].trim_start_matches(|c: char| !c.is_alphanumeric()).len()];
    let trail = &shown[count - 1][shown[count - 1].trim_end_matches(|c: char| !c.is_alphanumeric()).len()..];
    let news: Vec<&str> = text.split_whitespace().collect();
    let length = |words: &[&str]| words.iter().map(|word| word.chars().count()).sum::<usize>();
    let (old_length, new_length) = (length(&core), length(&news).max(1));
    // Twice the middle of each new word, measured in the old letters, falls in the old word whose place it takes.
    let place = |new: usize| {
        let middle = 2 * length(&news[..new]) + news[new].chars().count();
        let at = middle * old_length / new_length;
        (1..count).find(|&old| at < 2 * length(&core[..old])).unwrap_or(count) - 1
    };
    let all = |at: usize| (0..news.len()).map(|_| at).collect::<Vec<_>>();
    let mut ways = vec![(0..news.len()).map(place).collect(), all(0), all(count - 1)];
    ways.dedup();
    let spell = |places: Vec<usize>| {
        let mut shares = vec![String::new(); count];
        for (new, place) in news.iter().zip(&places) {
            let gap = if shares[*place].is_empty() { "" } else { " " };
            shares[*place] += &format!("{gap}{new}");
        }
        let (first, last) = (places.first().copied().unwrap_or(0), places.last().copied().unwrap_or(0));
        shares[first].insert_str(0, lead);
        shares[last].push_str(trail);
        shares
    };
    ways.into_iter().map(spell).collect()
}

/// A text with a capital where the words that it replaces have one, or in capitals where they are.
fn in_the_case_of(words: &[&str], text: &str) -> String {
    let letters = || words.iter().flat_map(|word| word.chars()).filter(|c| c.is_alphabetic());
    let mut chars = text.chars();
    if letters().count() > 1 && letters().all(char::is_uppercase) {
        return text.to_uppercase();
    }
    match chars.next().filter(|_| words[0].starts_with(char::is_uppercase)) {
        Some(first) => first.to_uppercase().chain(chars).collect(),
        None => text.to_owned(),
    }
}

/// The edits of one place; `None` where a line would be left with nothing on it, which would end the cue.
fn copy_edits(text: &str, copy: &Copy, shares: &[String]) -> Option<Vec<Edit>> {
    let mut edits: Vec<Edit> = Vec::new();
    let written = shares.iter().position(|share| !share.is_empty()).unwrap_or(0);
    for (word, span) in copy {
        let share = &shares[*word];
        let mut span = *span;
        if share.is_empty() {
            // With the word goes one of the spaces around it.
            let before = text[..span.start].len() - text[..span.start].trim_end_matches([' ', '\t']).len();
            let after = text[span.end..].len() - text[span.end..].trim_start_matches([' ', '\t']).len();
            let line_starts =
                text[..span.start - before].is_empty() || text[..span.start - before].ends_with(['\n', '\r']);
            if before > 0 && !line_starts && (*word > written || after == 0) {
                span.start -= before;
            } else {
                span.end += after;
            }
            span.start = span.start.max(edits.last().map_or(0, |edit| edit.span.end));
        }
        edits.push(Edit { span, text: share.clone() });
    }
    (!leaves_a_line_empty(text, &edits)).then_some(edits)
}

fn leaves_a_line_empty(text: &str, edits: &[Edit]) -> bool {
    edits.iter().filter(|edit| edit.text.is_empty()).any(|edit| {
        let start = text[..edit.span.start].rfind(['\n', '\r']).map_or(0, |at| at + 1);
        let end = text[edit.span.end..].find(['\n', '\r']).map_or(text.len(), |at| edit.span.end + at);
        let mut at = start;
        let on_the_line = edits.iter().filter(|edit| edit.span.start < end && edit.span.end > start);
        for edit in on_the_line {
            if !edit.text.is_empty() || text.get(at..edit.span.start).is_some_and(|kept| !kept.trim().is_empty()) {
                return false;
            }
            at = edit.span.end;
        }
        text.get(at..end).is_none_or(|kept| kept.trim().is_empty())
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diag::Findings;
    use crate::source::script::read;

    /// The file with the words that read `old` changed to `new`; `None` where that can't be done.
    fn fixed(name: &str, text: &str, old: &str, new: &str) -> Option<String> {
        let (mut texts, mut findings) = (Texts::new(""), Findings::new());
        let script = read(name, text.into(), &mut texts, &mut findings).expect("a script");
        let old: Vec<&str> = old.split(' ').collect();
        let bare = |at: usize| script.words[at].text.trim_matches(|c: char| !c.is_alphanumeric());
        let start = (0..script.words.len())
            .find(|&at| (0..old.len()).all(|i| at + i < script.words.len() && bare(at + i) == old[i]));
        let start = start.expect("the words are there");
        let change = Change { words: start..start + old.len(), text: new.to_owned() };
        let done = fix(&script, &texts, &[change]).expect("written");
        (done.made == [0]).then(|| String::from_utf8(done.bytes).expect("UTF-8"))
    }

    fn vtt(text: &str) -> String {
        format!("WEBVTT\n\n00:01.000 --> 00:02.000\n{text}\n")
    }

    #[test]
    fn words_change_and_nothing_else() {
        for (before, old, new, after) in [
            ("a chick pees, now", "chick pees", "chickpeas", "a chickpeas, now"),
            ("a (Bailiffs) now", "Bailiffs", "bay leaves", "a (Bay leaves) now"),
            ("CHICK PEES", "CHICK PEES", "chickpeas", "CHICKPEAS"),
            ("of chick pee flower and", "chick pee flower", "chickpea flour", "of chickpea flour and"),
            ("of chick\npee flower and", "chick pee flower", "chickpea flour", "of chickpea\nflour and"),
            ("of chick\npees and", "chick pees", "chickpeas", "of chickpeas\nand"),
            ("of chick\npees", "chick pees", "chickpeas", "of\nchickpeas"),
            ("a chick<00:01.500><c> pees</c> b", "chick pees", "chickpeas", "a chickpeas<00:01.500><c></c> b"),
            ("a <b>fl&#111;wer</b>", "flower", "flour & <co>", "a <b>flour &amp; &lt;co&gt;</b>"),
            ("two hundred grams of salt", "two hundred grams", "200 g", "200 g of salt"),
        ] {
            assert_eq!(fixed("a.vtt", &vtt(before), old, new).as_deref(), Some(vtt(after).as_str()), "{before:?}");
        }
        // Neither line may be left empty.
        assert_eq!(fixed("a.vtt", &vtt("chick\npees"), "chick pees", "chickpeas"), None);
    }

    #[test]
    fn words_change_wherever_they_are_shown() {
        let rolls = "WEBVTT\n\n00:00.000 --> 00:01.000\nof chick\n\n00:01.000 --> 00:02.000\nof chick\npees and\n\n\
                     00:02.000 --> 00:03.000\npees and\nsalt\n";
        let after = "WEBVTT\n\n00:00.000 --> 00:01.000\nof chickpeas\n\n00:01.000 --> 00:02.000\nof chickpeas\nand\n\n\
                     00:02.000 --> 00:03.000\nand\nsalt\n";
        assert_eq!(fixed("a.vtt", rolls, "chick pees", "chickpeas").as_deref(), Some(after));
    }

    #[test]
    fn changes_that_share_a_word_are_not_both_made() {
        let (mut texts, mut findings) = (Texts::new(""), Findings::new());
        let script = read("a.txt", "one two three".into(), &mut texts, &mut findings).expect("a script");
        let change = |words, text: &str| Change { words, text: text.to_owned() };
        let done = fix(&script, &texts, &[change(0..2, "a"), change(1..3, "b"), change(2..3, "c")]).expect("written");
        assert_eq!((done.bytes.as_slice(), done.made, done.left), (b"a c".as_slice(), vec![0, 2], vec![1]));
    }
}
