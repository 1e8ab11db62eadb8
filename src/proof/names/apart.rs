//! How far apart two words sound, sound by sound: captions swap sounds that are made alike, lose vowels and the ends of
//! syllables, and hear a breath as a word. Must not know any name.

/// What a consonant lost or put in costs; a vowel costs less, and a breath least.
const CONSONANT: u32 = 90;
const VOWEL: u32 = 40;
const BREATH: u32 = 20;

/// Consonants that one may take for each other, and what that costs: made in the same place, or in the same way.
/// (Common knowledge of English sounds, no source.)
const ALIKE: &[(char, char, u32)] = &[
    ('b', 'p', 20),
    ('d', 't', 20),
    ('g', 'k', 20),
    ('v', 'f', 20),
    ('z', 's', 20),
    ('j', 'c', 20),
    ('j', 'z', 40),
    ('j', 's', 50),
    ('c', 's', 40),
    ('c', 't', 45),
    ('j', 'd', 45),
    ('c', 'z', 50),
    ('m', 'n', 40),
    ('l', 'r', 50),
    ('w', 'r', 50),
    ('w', 'v', 40),
    ('b', 'v', 45),
    ('p', 'f', 50),
    ('b', 'm', 60),
    ('p', 'k', 60),
    ('p', 't', 60),
    ('t', 'k', 60),
    ('d', 'g', 60),
    ('b', 'd', 60),
    ('b', 'g', 60),
    ('s', 't', 60),
    ('f', 's', 60),
    ('f', 't', 55),
    ('d', 'n', 60),
    ('d', 'l', 65),
    ('n', 'l', 65),
];

/// What it costs to make one of the other, in hundredths of the longer: 0 for one sound, 100 and more for nothing alike.
pub(super) fn apart(heard: &str, meant: &str) -> u32 {
    let (heard, meant): (Vec<char>, Vec<char>) = (heard.chars().collect(), meant.chars().collect());
    let mut row: Vec<u32> = Vec::with_capacity(meant.len() + 1);
    row.push(0);
    for at in 0..meant.len() {
        row.push(row[at] + alone(&meant, at));
    }
    let whole = row[meant.len()].max((0..heard.len()).map(|at| alone(&heard, at)).sum());
    for at in 0..heard.len() {
        let lost = alone(&heard, at);
        let mut corner = row[0];
        row[0] += lost;
        for other in 0..meant.len() {
            let swapped = corner + instead(heard[at], meant[other]);
            corner = row[other + 1];
            row[other + 1] = swapped.min(row[other + 1] + lost).min(row[other] + alone(&meant, other));
        }
    }
    row[meant.len()] * 100 / whole.max(1)
}

/// What a sound costs that only one of both has.
fn alone(sounds: &[char], at: usize) -> u32 {
    let vowel = |at: usize| sounds.get(at).is_some_and(|c| is_vowel(*c));
    match sounds[at] {
        'h' | 'w' | 'y' => BREATH,
        // "ginger", "ginja"
        'r' if !vowel(at + 1) => BREATH,
        // The last breath of a word.
        c if is_vowel(c) && at + 1 == sounds.len() => BREATH,
        c if is_vowel(c) => VOWEL,
        _ => CONSONANT,
    }
}

fn instead(one: char, other: char) -> u32 {
    match (is_vowel(one), is_vowel(other)) {
        _ if one == other => 0,
        (true, true) => 20,
        (false, false) => {
            let same = |(a, b, _): &&(char, char, u32)| (*a, *b) == (one, other) || (*b, *a) == (one, other);
            ALIKE.iter().find(same).map_or(CONSONANT, |(.., cost)| *cost)
        }
        _ => CONSONANT + BREATH,
    }
}

fn is_vowel(c: char) -> bool {
    matches!(c, 'a' | 'e' | 'o')
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::proof::english::english;

    fn far(heard: &str, meant: &str) -> u32 {
        let sound = english().language.names.sound;
        apart(&sound(&heard.replace(' ', "")).fine, &sound(meant).fine)
    }

    #[test]
    fn words_are_the_farther_the_more_of_their_sounds_are_made_otherwise() {
        assert_eq!(far("flower", "flour"), 0);
        // A voiced consonant, a consonant of the same place, one of another.
        let all = [far("pit", "pit"), far("bit", "pit"), far("fit", "pit"), far("sit", "pit"), far("moss", "pit")];
        assert!(all.is_sorted() && all[1] < all[3], "{all:?}");
        // A vowel lost is less than a consonant lost, and a breath less still.
        assert!(far("corander", "coriander") < far("corianer", "coriander"));
        assert!(far("gin jar", "ginger") < far("gin mar", "ginger"));
        for (heard, meant) in [("jealous in", "gelatine"), ("vinny guard", "vinegar"), ("police", "poolish")] {
            assert!(far(heard, meant) < 25, "{heard}, {meant}: {}", far(heard, meant));
            assert_eq!(far(heard, meant), far(meant, heard));
        }
        assert_eq!(far("", "pit"), 100);
    }
}
