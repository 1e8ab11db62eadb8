//! How English words sound, as far as spelling tells: a key of consonants, and one with the vowels in it, coarse
//! enough that "queue cumber" and "cucumber" have the same. Must not know any name.

use crate::proof::lexicon::Sound;

/// The sound of small letters without accents, several words run together.
pub fn sound(letters: &str) -> Sound {
    let chars: Vec<char> = letters.chars().collect();
    let (mut consonants, mut full, mut fine) = (String::new(), String::new(), String::new());
    // The class that the last letter had, so that a double letter is one sound.
    let mut last = None;
    let mut at = 0;
    while at < chars.len() {
        let (class, length) = letters_at(&chars, at);
        match class {
            Class::Silent => {}
            Class::Vowel(vowel) => {
                if last != Some(VOWEL) {
                    full.push(vowel);
                    fine.push(vowel);
                }
                last = Some(VOWEL);
            }
            Class::Consonant(sounds) => {
                for sound in sounds.chars() {
                    let class = class_of(sound);
                    if last != Some(class) {
                        consonants.push(class);
                        full.push(class);
                        fine.push(sound);
                    }
                    last = Some(class);
                }
            }
        }
        at += length;
    }
    // "ginger" and "jinja", "polenta" and "pollenter": the end of a long word is no more than a breath.
    if consonants.len() > 3 && full.ends_with("er") && consonants.ends_with('r') {
        consonants.pop();
        full.pop();
    }
    if consonants.len() > 2 && full.ends_with('a') {
        full.pop();
        full.push('e');
    }
    Sound { consonants, full, fine }
}

/// What is heard of a word behind these letters: a first letter that is silent, or that would be read as one sound with the
/// letter before it, is left out.
pub fn spoken<'w>(before: &str, word: &'w str) -> &'w str {
    let silent = ["kn", "gn", "wr", "ps"].iter().any(|start| word.starts_with(start));
    let joined = word.starts_with('h') && before.ends_with(['c', 'p', 's', 't', 'g']);
    if !before.is_empty() && (silent || joined) { &word[1..] } else { word }
}

/// Captions take voiced consonants for voiceless ones.
fn class_of(sound: char) -> char {
    match sound {
        'b' => 'p',
        'd' => 't',
        'g' => 'k',
        'v' => 'f',
        'z' => 's',
        'c' => 'j',
        other => other,
    }
}

const VOWEL: char = 'a';

enum Class {
    Silent,
    Vowel(char),
    Consonant(&'static str),
}

/// What the letters at `at` sound like, and how many they are.
fn letters_at(chars: &[char], at: usize) -> (Class, usize) {
    use Class::{Consonant, Silent, Vowel};
    let c = |offset: usize| chars.get(at + offset).copied().unwrap_or(' ');
    let before = at.checked_sub(1).and_then(|at| chars.get(at)).copied().unwrap_or(' ');
    let (start, end) = (at == 0, at + 1 == chars.len());
    let soft = |c: char| matches!(c, 'e' | 'i' | 'y');
    match (c(0), c(1)) {
        ('k' | 'g', 'n') if start => (Silent, 1),
        ('w', 'r') if start => (Silent, 1),
        ('p', 's') if start => (Silent, 1),
        ('m', 'b') if at + 2 == chars.len() => (Consonant("m"), 2),
        ('p', 'h') => (Consonant("f"), 2),
        ('g', 'h') => (Silent, 2),
        ('t', 'h') => (Consonant("t"), 2),
        ('c', 'c') if c(2) == 'h' => (Consonant("k"), 3),
        ('t', 'c') if c(2) == 'h' => (Consonant("c"), 3),
        ('c' | 's', 'h') => (Consonant("c"), 2),
        ('s', 'c') if soft(c(2)) => (Consonant("s"), 2),
        ('c', 'k') => (Consonant("k"), 2),
        ('q', 'u') => (Consonant("k"), if matches!(c(2), 'e' | 'i') { 1 } else { 2 }),
        ('n', 'g') if !is_vowel(c(2)) => (Consonant("n"), 2),
        ('e', _) if end && !is_vowel(before) => (Silent, 1),
        ('w', 'h') if start => (Consonant("w"), 2),
        ('w' | 'y', next) if start && is_vowel(next) => (Consonant(if c(0) == 'w' { "w" } else { "y" }), 1),
        ('h', _) if start => (Consonant("h"), 1),
        ('w', next) if !is_vowel(before) && is_vowel(next) => (Silent, 1),
        ('h', _) => (Silent, 1),
        ('a', _) => (Vowel('a'), 1),
        ('e' | 'i' | 'y', _) => (Vowel('e'), 1),
        ('o' | 'u' | 'w', _) => (Vowel('o'), 1),
        ('c', next) => (Consonant(if soft(next) { "s" } else { "k" }), 1),
        ('b', _) => (Consonant("b"), 1),
        ('p', _) => (Consonant("p"), 1),
        ('g', next) if soft(next) => (Consonant("j"), 1),
        ('g', _) => (Consonant("g"), 1),
        ('k' | 'q', _) => (Consonant("k"), 1),
        ('d', _) => (Consonant("d"), 1),
        ('t', _) => (Consonant("t"), 1),
        ('v', _) => (Consonant("v"), 1),
        ('f', _) => (Consonant("f"), 1),
        ('z', _) => (Consonant("z"), 1),
        ('s', _) => (Consonant("s"), 1),
        ('x', _) => (Consonant("ks"), 1),
        ('j', _) => (Consonant("j"), 1),
        ('l', _) => (Consonant("l"), 1),
        ('m', _) => (Consonant("m"), 1),
        ('n', _) => (Consonant("n"), 1),
        ('r', _) => (Consonant("r"), 1),
        _ => (Silent, 1),
    }
}

fn is_vowel(c: char) -> bool {
    matches!(c, 'a' | 'e' | 'i' | 'o' | 'u' | 'y' | 'w')
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Pairs that sound alike in most English (common knowledge, no source).
    #[test]
    fn words_of_one_sound_have_one_key() {
        for (heard, meant) in [
            ("flower", "flour"),
            ("time", "thyme"),
            ("wry", "rye"),
            ("leak", "leek"),
            ("beats", "beets"),
            ("bred", "bread"),
            ("chilly", "chilli"),
            ("brian", "brine"),
            ("coming", "cumin"),
            ("corey ander", "coriander"),
            ("cory ander", "coriander"),
            ("queue cumber", "cucumber"),
            ("vinny gar", "vinegar"),
            ("lemon aid", "lemonade"),
            ("chick pee flower", "chickpea flour"),
            ("nutt megg", "nutmeg"),
            ("plumb", "plum"),
            ("zoo keeny", "zucchini"),
            ("me so", "miso"),
        ] {
            let (heard_as, meant_as) = (sound(&heard.replace(' ', "")), sound(&meant.replace(' ', "")));
            assert_eq!(heard_as.full, meant_as.full, "{heard}, {meant}");
            assert_eq!(heard_as.consonants, meant_as.consonants, "{heard}, {meant}");
        }
        for (one, other) in
            [("batter", "butter"), ("better", "butter"), ("salt", "salad"), ("pan", "pin"), ("weeks", "eggs")]
        {
            assert_ne!(sound(one).full, sound(other).full, "{one}, {other}");
        }
    }
}
