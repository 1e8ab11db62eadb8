//! Names heard: ingredients, parts and pieces, by any of their names, in one word or several, a little misspelt or
//! misheard. Must not know what is said of them.

use super::lexicon::{Cue, Lexicon, Sense};
use super::token::{Gap, Token, folded};
use crate::sheet::Truth;
use foldhash::HashMap;

/// What a name is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Named {
    /// A thing of the recipe, an index.
    Thing(usize),
    /// A thing of another variant: which of the others, and the thing.
    Other(usize, usize),
    /// A piece of what is made.
    Piece,
    /// A part, an index.
    Part(usize),
}

/// A name heard.
#[derive(Clone, Debug)]
pub struct Mention {
    /// First token.
    pub start: usize,
    /// One past the last token.
    pub end: usize,
    /// What it may be of, with how loose the likeness is: 0 a full name, then a part of one, then a like sound.
    pub named: Vec<(Named, u8)>,
}

impl Mention {
    /// Whether it may be of a part.
    pub fn is_part(&self) -> bool {
        self.named.iter().any(|(named, _)| matches!(named, Named::Part(_)))
    }
}

/// Longest name in words.
const LONGEST: usize = 5;

/// Every name of a recipe, ready to be heard.
pub struct Names {
    lexicon: &'static Lexicon,
    /// Stems run together.
    joined: HashMap<String, Vec<(Named, u8)>>,
    /// Single words and runs of two, by sound.
    sounds: HashMap<String, Vec<(Named, u8)>>,
    /// Words that describe one thing only: "strong" where one flour is.
    described: HashMap<String, Vec<(Named, u8)>>,
    /// Long single words of names, for misspellings.
    long: Vec<(String, Vec<(Named, u8)>)>,
}

impl Names {
    /// The names of a recipe and of what its other variants put in.
    pub fn new(truth: &Truth, lexicon: &'static Lexicon) -> Self {
        let (joined, sounds, described) = (HashMap::default(), HashMap::default(), HashMap::default());
        let mut names = Self { lexicon, joined, sounds, described, long: Vec::new() };
        for (index, thing) in truth.things.iter().enumerate() {
            for name in &thing.names {
                names.add(name, Named::Thing(index));
            }
            // Of two lines of one name the author's remark tells one: "held back".
            let twin = |other: &&crate::sheet::Thing| other.id != thing.id && other.names.contains(&thing.names[0]);
            let named = thing.names.first().is_some_and(|_| truth.things.iter().any(|other| twin(&other)));
            if let Some(note) = thing.note.as_ref().filter(|_| named) {
                names.add_whole(note, Named::Thing(index));
            }
        }
        for (other, variant) in truth.others.iter().enumerate() {
            for (index, thing) in variant.things.iter().enumerate() {
                let same = truth.things.get(index).is_some_and(|own| own.names == thing.names);
                for name in thing.names.iter().filter(|_| !same) {
                    names.add(name, Named::Other(other, index));
                }
            }
        }
        for (index, part) in truth.parts.iter().enumerate().filter(|_| truth.parts.len() > 1) {
            names.add(&part.id.replace('-', " "), Named::Part(index));
            if let Some(title) = &part.title {
                names.add(title, Named::Part(index));
            }
        }
        for piece in &truth.pieces {
            names.add(piece, Named::Piece);
        }
        names
    }

    fn add(&mut self, name: &str, named: Named) {
        let folded = folded(name);
        let words: Vec<&str> = folded.split_whitespace().collect();
        let stems: Vec<String> = words.iter().map(|word| (self.lexicon.language.singular)(word)).collect();
        let Some((last, before)) = stems.split_last() else { return };
        insert(&mut self.joined, stems.concat(), named, 0);
        let sound = (self.lexicon.language.sound)(&words.concat());
        if sound.len() >= 2 {
            insert(&mut self.sounds, sound, named, 3);
        }
        if let [word] = words.as_slice() {
            self.long(word, named, 0);
            let heads = self.lexicon.language.heads.iter();
            let head = heads.copied().find(|head| stems[0].len() > head.len() && stems[0].ends_with(head));
            if let Some(head) = head.filter(|_| !matches!(named, Named::Part(_))) {
                insert(&mut self.joined, head.to_owned(), named, 3);
            }
        }
        let whole = !matches!(named, Named::Part(_));
        if !before.is_empty() && whole {
            // "walnut pieces" are told by no "pieces".
            if !words.last().is_some_and(|last| self.lexicon.senses(last).contains(&Sense::Pieces)) {
                insert(&mut self.joined, last.clone(), named, 2);
            }
            if before.len() > 1 {
                insert(&mut self.joined, before.concat(), named, 2);
            }
            for tail in 1..before.len() {
                insert(&mut self.joined, stems[tail..].concat(), named, 1);
            }
            // "bicarbonate", where "bicarbonate of soda" is no kind of soda.
            let of = words.get(1).is_some_and(|word| self.lexicon.senses(word).contains(&Sense::Of));
            if self.lexicon.senses(words[0]).contains(&Sense::Describes) && !of {
                insert(&mut self.described, stems[0].clone(), named, 4);
            } else {
                insert(&mut self.joined, stems[0].clone(), named, 3);
            }
            words.iter().for_each(|word| self.long(word, named, 2));
        }
    }

    /// A name that is heard as a whole only.
    fn add_whole(&mut self, name: &str, named: Named) {
        let folded = folded(name);
        let stems: Vec<String> = folded.split_whitespace().map(|word| (self.lexicon.language.singular)(word)).collect();
        if stems.len() > 1 {
            insert(&mut self.joined, stems.concat(), named, 1);
        }
    }

    fn long(&mut self, word: &str, named: Named, looseness: u8) {
        if word.len() < 5 || self.lexicon.senses(word).contains(&Sense::Describes) {
            return;
        }
        match self.long.iter_mut().find(|(known, _)| known == word) {
            Some((_, list)) => push(list, named, looseness + 2),
            None => self.long.push((word.to_owned(), vec![(named, looseness + 2)])),
        }
    }

    /// Every name in the order heard; the longest where several start at one token.
    pub fn all(&self, tokens: &[Token]) -> Vec<Mention> {
        let singulars: Vec<String> = tokens.iter().map(|token| (self.lexicon.language.singular)(&token.text)).collect();
        let stems = &singulars;
        let mut found = Vec::new();
        let mut misspelt: HashMap<&str, Option<usize>> = HashMap::default();
        let mut at = 0;
        while at < tokens.len() {
            let mention = self.at(tokens, stems, at).or_else(|| {
                let text = tokens[at].text.as_str();
                let known = misspelt.entry(text).or_insert_with(|| self.misspelt(&tokens[at]));
                known.map(|word| Mention { start: at, end: at + 1, named: self.long[word].1.clone() })
            });
            match mention {
                Some(mention) => {
                    at = mention.end;
                    found.push(mention);
                }
                None => at += 1,
            }
        }
        found
    }

    fn at(&self, tokens: &[Token], stems: &[String], at: usize) -> Option<Mention> {
        if tokens[at].digits.is_some() {
            return None;
        }
        let mut key = String::new();
        let mut best = None;
        for end in at + 1..=(at + LONGEST).min(tokens.len()) {
            let last = &tokens[end - 1];
            if last.digits.is_some() || end > at + 1 && last.gap != Gap::None {
                break;
            }
            key.push_str(&stems[end - 1]);
            // "grams" are no gram flour.
            let unit = end == at + 1 && last.unit().is_some();
            if let Some(named) = self.joined.get(&key).filter(|_| !unit) {
                best = Some(Mention { start: at, end, named: named.clone() });
            }
        }
        // "tap the bag" is no tap water.
        let verb = |mention: &Mention| {
            let loose = mention.named.iter().all(|(_, looseness)| *looseness >= 3);
            let next = tokens.get(mention.end).filter(|next| next.gap == Gap::None);
            loose && mention.end == at + 1 && next.is_some_and(|next| next.is(Sense::Determiner) && !next.is(Sense::Is))
        };
        best.filter(|mention| !verb(mention))
    }

    /// The long word of a name that a token is a slip or two away from.
    fn misspelt(&self, token: &Token) -> Option<usize> {
        let length = token.text.chars().count();
        // "batter" is no butter.
        let other = !token.senses.is_empty() || !self.lexicon.cues(&token.text).is_empty();
        if length < 5 || token.digits.is_some() || other {
            return None;
        }
        let near = |word: &str| {
            let allowed = if word.len() >= 8 && length >= 7 { 2 } else { 1 };
            word.chars().next() == token.text.chars().next()
                && word.len().abs_diff(token.text.len()) <= allowed
                && length >= 6
                && strsim::damerau_levenshtein(word, &token.text) <= allowed
        };
        self.long.iter().position(|(word, _)| near(word))
    }

    /// A name that sounds like the words at `at`: asked only where a name must stand, behind "grams of".
    pub fn sounding(&self, tokens: &[Token], at: usize) -> Option<Mention> {
        let mut text = String::new();
        let mut best = None;
        for end in at + 1..=(at + 4).min(tokens.len()) {
            let token = &tokens[end - 1];
            // "grams of batter" are of the whole.
            let whole = self.lexicon.cues(&token.text).contains(&Cue::Total);
            let odd = token.digits.is_some() || token.unit().is_some() || token.is(Sense::Common) || whole;
            if odd || end > at + 1 && token.gap != Gap::None {
                break;
            }
            text.push_str(&token.text);
            let key = (self.lexicon.language.sound)(&text);
            let found = self.sounds.get(&key).filter(|_| key.len() >= 3).or_else(|| self.nearly(&key));
            if let Some(named) = found {
                best = Some(Mention { start: at, end, named: named.clone() });
            }
        }
        best
    }

    /// The name whose sound is one letter away from a key, if there is just one.
    fn nearly(&self, key: &str) -> Option<&Vec<(Named, u8)>> {
        if key.len() < 5 {
            return None;
        }
        let near = |known: &str| known.len().abs_diff(key.len()) <= 1 && strsim::levenshtein(known, key) <= 1;
        let mut found = self.sounds.iter().filter(|(known, _)| known.len() >= 5 && near(known));
        let (_, named) = found.next()?;
        found.all(|(_, other)| other[0].0 == named[0].0).then_some(named)
    }

    /// A thing told by a describing word right before its number, in a row of names: "wholemeal 44, plain 17".
    pub fn listed(&self, tokens: &[Token], at: usize) -> Option<Mention> {
        let token = tokens.get(at).filter(|token| token.is(Sense::Describes))?;
        let named = self.described.get(&(self.lexicon.language.singular)(&token.text))?;
        Some(Mention { start: at, end: at + 1, named: named.clone() })
    }

    /// A thing told by a describing word alone: "589 of strong", "the strong one".
    pub fn described(&self, tokens: &[Token], at: usize, of: bool) -> Option<Mention> {
        let token = tokens.get(at).filter(|token| token.gap == Gap::None && token.is(Sense::Describes))?;
        let named = self.described.get(&(self.lexicon.language.singular)(&token.text))?;
        let one = tokens.get(at + 1).is_some_and(|next| next.is(Sense::Ones(1)));
        let names = tokens
            .get(at + 1)
            .is_some_and(|next| next.gap == Gap::None && next.senses.is_empty() && next.digits.is_none());
        // "the strong is sixty-five percent of it"
        let before = at.checked_sub(1).filter(|_| token.gap == Gap::None).map(|before| &tokens[before]);
        let next = tokens.get(at + 1).filter(|next| next.gap == Gap::None);
        let alone =
            before.is_some_and(|before| before.is(Sense::Determiner)) && next.is_some_and(|next| next.is(Sense::Is));
        let end = if one { at + 2 } else { at + 1 };
        (of && !names || one || alone).then(|| Mention { start: at, end, named: named.clone() })
    }
}

fn insert(map: &mut HashMap<String, Vec<(Named, u8)>>, key: String, named: Named, looseness: u8) {
    push(map.entry(key).or_default(), named, looseness);
}

/// Adds a meaning, or keeps the better of two.
fn push(list: &mut Vec<(Named, u8)>, named: Named, looseness: u8) {
    match list.iter_mut().find(|(known, _)| *known == named) {
        Some((_, known)) => *known = looseness.min(*known),
        None => list.push((named, looseness)),
    }
}
