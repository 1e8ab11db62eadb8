//! The dish's own name where captions mangled more of it than one word tells: "frog bank creams". It is long, so that nothing
//! else sounds like all of it. Must not know what else is wrong.

use super::super::lexicon::Lexicon;
use super::apart::apart;
use super::heard::{Heard, Text};
use super::targets::{NameWord, spelled, words_of};
use std::ops::Range;

/// What a video is of is told within so many words; there not every word of it must be right.
const OPENING: usize = 80;
/// The fewest sounds of a name that nothing else sounds like.
const SOUNDS: usize = 8;
/// How far apart both may sound, in hundredths of the longer.
const FAR: u32 = 20;
/// The same where no word of it is right.
const FAR_IN_ALL: u32 = 17;
/// How many words more or fewer than it has it may be heard as.
const SPLIT: usize = 2;

/// Words that are wrong in a dish's name, by their place, and what they should be.
pub(super) fn mangled(text: &Text<'_>, name: &str, lexicon: &Lexicon) -> Vec<(Range<usize>, String)> {
    let dish = Dish::new(name, lexicon);
    let mut found = Vec::new();
    let mut at = 0;
    while at < text.heard.len() {
        let here = dish.at(&text.heard, at);
        // "the frog bank creams": what begins a word later is liker.
        let later = here.filter(|_| at + 1 < text.heard.len()).and_then(|_| dish.at(&text.heard, at + 1));
        let best = here.filter(|(far, _)| later.is_none_or(|(later, _)| later > *far));
        match best {
            Some((_, length)) => {
                found.extend(dish.wrong(&text.heard, at..at + length));
                at += length;
            }
            None => at += 1,
        }
    }
    found
}

struct Dish<'l> {
    words: Vec<NameWord>,
    sounds: String,
    lexicon: &'l Lexicon,
}

impl<'l> Dish<'l> {
    fn new(name: &str, lexicon: &'l Lexicon) -> Self {
        let words = words_of(name, lexicon);
        let letters: String = words.iter().map(|word| word.letters.as_str()).collect();
        let sounds = (lexicon.language.names.sound)(&letters).fine;
        Self { words, sounds, lexicon }
    }

    /// How far the likest words that start at one are from the name, and how many they are.
    fn at(&self, heard: &[Heard<'_>], at: usize) -> Option<(u32, usize)> {
        let count = self.words.len();
        if count < 2 || self.sounds.len() < SOUNDS {
            return None;
        }
        let most = heard[at..].iter().take(count + SPLIT);
        let reach = most.skip(1).take_while(|word| !word.stops && !word.number).count() + 1;
        let lengths = count.saturating_sub(SPLIT).max(1)..=reach;
        let far = |length: usize| {
            let window = &heard[at..at + length];
            // A word of it is right, and says more than "fresh".
            let right =
                window.iter().any(|word| !word.small_word && self.words.iter().any(|own| own.stem == word.stem));
            if heard[at].number || !right && at > OPENING {
                return None;
            }
            let letters: String = window.iter().map(|word| word.letters.as_str()).collect();
            let far = apart(&(self.lexicon.language.names.sound)(&letters).fine, &self.sounds);
            (far <= if right { FAR } else { FAR_IN_ALL }).then_some((far, length))
        };
        lengths.filter_map(far).min()
    }

    /// What of these words is wrong, if any is.
    fn wrong(&self, heard: &[Heard<'_>], words: Range<usize>) -> Option<(Range<usize>, String)> {
        let same = |word: &Heard<'_>, own: &NameWord| word.stem == own.stem;
        let run = |own: &[NameWord]| own.iter().map(|word| word.letters.as_str()).collect::<String>();
        // "Swing-gate" is one word of the captions and two of the name.
        let covers =
            |word: &Heard<'_>, own: &[NameWord]| same(word, &own[0]) && own.len() == 1 || word.letters == run(own);
        let (mut said, mut own) = (words, &self.words[..]);
        while let Some(count) = (1..=own.len()).find(|&to| !said.is_empty() && covers(&heard[said.start], &own[..to])) {
            (said.start, own) = (said.start + 1, &own[count..]);
        }
        while let Some(from) =
            (0..own.len()).rev().find(|&at| !said.is_empty() && covers(&heard[said.end - 1], &own[at..]))
        {
            (said.end, own) = (said.end - 1, &own[..from]);
        }
        if said.is_empty() || own.is_empty() {
            return None;
        }
        let letters = |words: &[Heard<'_>]| words.iter().map(|word| word.letters.as_str()).collect::<String>();
        let meant = run(own);
        let alike = |(word, own): (&Heard<'_>, &NameWord)| {
            same(word, own) || (self.lexicon.language.names.alike)(&word.letters, &own.letters)
        };
        // "pump house" wants no more than its hyphen, and "pickled" is a form of the word.
        let forms = said.len() == own.len() && heard[said.clone()].iter().zip(own).all(alike);
        (letters(&heard[said.clone()]) != meant && !forms).then(|| (said, spelled(own)))
    }
}
