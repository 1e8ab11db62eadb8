//! The names of a recipe and runs of their words, found again by letters or by sound. Must not know a script.

use super::super::lexicon::{Lexicon, Sense, Sound};
use super::super::token::fold;
use super::heard::Heard;
use foldhash::{HashMap, HashSet};

/// A name that is right.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KnownName {
    /// As it is written.
    pub text: String,
    /// Whether one counts them rather than weighs it.
    pub counted: bool,
    /// Whether it is the dish's own.
    pub dish: bool,
    /// Whether it is only said for what is called otherwise.
    pub alias: bool,
    /// Which ingredient it is of, if it is of one.
    pub thing: Option<usize>,
}

impl KnownName {
    /// A name as it stands in a sentence.
    pub fn new(text: &str, counted: bool) -> Self {
        Self { text: text.to_owned(), counted, dish: false, alias: false, thing: None }
    }

    /// A title: where only its first letter is a capital, that is because it is a title.
    pub fn title(text: &str) -> Self {
        let rest_is_small = text.chars().skip(1).all(|c| !c.is_uppercase());
        let text = if rest_is_small { text.to_lowercase() } else { text.to_owned() };
        Self { text, ..Self::new("", false) }
    }
}

/// A run of a name's words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Target {
    /// As written.
    pub(super) shown: String,
    /// Small letters without accents, run together.
    pub(super) letters: String,
    /// Small letters with accents, run together.
    pub(super) small: String,
    pub(super) sound: Sound,
    /// The stem of each word.
    pub(super) stems: Vec<String>,
    /// The stem of the name's word before it.
    pub(super) before: Option<String>,
    /// The stem of the name's word behind it.
    pub(super) after: Option<String>,
    /// Whether "of" stands between the name and what comes behind it.
    pub(super) of: bool,
    /// Whether it is not the whole of a name.
    pub(super) part: bool,
    /// Whether its words only describe: "plain", "strong white".
    pub(super) describes: bool,
    /// Whether the name has a hyphen in it.
    pub(super) hyphen: bool,
    pub(super) counted: bool,
    /// Whether it is only said for what is called otherwise: how it is spelled is nobody's mistake.
    pub(super) alias: bool,
    /// Which ingredient it is of.
    pub(super) thing: Option<usize>,
}

/// The longest run of a name's words that is looked for.
const LONGEST: usize = 3;
/// The fewest letters that a run has.
const SHORTEST: usize = 3;

/// All of them, by their sound.
pub(super) struct Targets {
    list: Vec<Target>,
    /// By consonants, and by those with one left out.
    keys: HashMap<String, Vec<usize>>,
    right: HashSet<String>,
    /// Words that have accents, without and with them.
    accented: HashMap<String, String>,
    foods: HashSet<String>,
    food_words: HashSet<String>,
    /// Letters of names that are one word.
    in_one_word: HashSet<String>,
    /// For each ingredient the words that tell it from all others, one of each.
    own: HashMap<usize, HashSet<String>>,
}

/// A word of a name.
pub(super) struct NameWord {
    shown: String,
    pub(super) letters: String,
    small: String,
    pub(super) stem: String,
    describes: bool,
    /// Whether it is "of".
    of: bool,
    /// Whether a hyphen ties it to the word before it.
    tied: bool,
}

/// The words of a name. "Lock-house squares" are three, for a hyphen is not heard.
pub(super) fn words_of(name: &str, lexicon: &Lexicon) -> Vec<NameWord> {
    let word = |shown: &str, tied: bool| {
        let letters: String = shown.chars().filter_map(fold).filter(|c| c.is_alphanumeric()).collect();
        let small = shown.to_lowercase().chars().filter(|c| c.is_alphanumeric()).collect();
        let senses = lexicon.senses(&letters);
        let (describes, of) = (senses.contains(&Sense::Describes), senses.contains(&Sense::Of));
        let stem = (lexicon.language.stem)(&letters);
        NameWord { shown: shown.to_owned(), stem, letters, small, describes, of, tied }
    };
    let one = |shown: &str| -> Vec<NameWord> {
        shown.split('-').enumerate().map(|(at, piece)| word(piece, at > 0)).collect()
    };
    name.split_whitespace().flat_map(one).filter(|word| !word.letters.is_empty()).collect()
}

impl Targets {
    pub(super) fn new(names: &[KnownName], foods: &[&str], lexicon: &Lexicon) -> Self {
        let words = |name: &str| words_of(name, lexicon);
        let sound = lexicon.language.names.sound;
        let mut targets = Self {
            list: Vec::new(),
            keys: HashMap::default(),
            right: HashSet::default(),
            accented: HashMap::default(),
            foods: HashSet::default(),
            food_words: HashSet::default(),
            in_one_word: HashSet::default(),
            own: HashMap::default(),
        };
        for name in names {
            let words = words(&name.text);
            if let Some(thing) = name.thing {
                // "leave" is no leaf, though they have one stem.
                let singular = |word: &NameWord| (lexicon.language.singular)(&word.letters);
                let telling = words.iter().filter(|word| !word.describes).map(singular);
                targets.own.entry(thing).or_default().extend(telling);
            }
            targets.right.extend(words.iter().map(|word| word.stem.clone()));
            for word in words.iter().filter(|word| word.small != word.letters) {
                targets.accented.insert(word.letters.clone(), word.small.clone());
            }
            for from in 0..words.len() {
                for to in from + 1..=(from + LONGEST).min(words.len()) {
                    targets.add(&words, from..to, name, sound);
                }
            }
        }
        let all = targets.own.clone();
        for (thing, stems) in &mut targets.own {
            stems.retain(|stem| all.iter().all(|(other, theirs)| other == thing || !theirs.contains(stem)));
        }
        for food in foods {
            // The word that says what it is: the last one.
            let mut words = words(food);
            targets.food_words.extend(words.iter().map(|word| word.stem.clone()));
            targets.foods.extend(words.pop().map(|word| word.stem));
        }
        targets
    }

    /// The form of a counted name that is said of several: the longer one.
    pub(super) fn several(&self, one: &Target) -> Option<&Target> {
        let form = |other: &&Target| other.thing == one.thing && other.stems == one.stems && !other.alias;
        self.list.iter().filter(form).max_by_key(|form| form.letters.len())
    }

    fn add(&mut self, words: &[NameWord], run: std::ops::Range<usize>, name: &KnownName, sound: fn(&str) -> Sound) {
        let part = run.len() < words.len();
        let target = Target {
            shown: spelled(&words[run.clone()]),
            letters: words[run.clone()].iter().map(|word| word.letters.as_str()).collect(),
            small: words[run.clone()].iter().map(|word| word.small.as_str()).collect(),
            sound: Sound { consonants: String::new(), full: String::new(), fine: String::new() },
            stems: words[run.clone()].iter().map(|word| word.stem.clone()).collect(),
            before: run.start.checked_sub(1).map(|before| words[before].stem.clone()),
            after: words[run.end..].iter().find(|after| !after.of).map(|after| after.stem.clone()),
            of: words.get(run.end).is_some_and(|after| after.of),
            describes: words[run.clone()].iter().all(|word| word.describes),
            part: part || words[run.clone()].iter().all(|word| word.describes),
            hyphen: words[run].iter().skip(1).any(|word| word.tied),
            counted: name.counted,
            alias: name.alias,
            thing: name.thing,
        };
        if target.letters.len() < SHORTEST || !target.letters.is_ascii() {
            return;
        }
        let target = Target { sound: sound(&target.letters), ..target };
        // A word of a name is none of an alias alone.
        let known = |other: &Target| Target { alias: target.alias, ..other.clone() } == target && !other.alias;
        if self.list.contains(&target) || target.alias && self.list.iter().any(known) {
            return;
        }
        if !target.alias && !target.part && target.stems.len() == 1 {
            self.in_one_word.insert(target.letters.clone());
        }
        for key in variants(&target.sound.consonants) {
            self.keys.entry(key).or_default().push(self.list.len());
        }
        self.list.push(target);
    }

    /// What has these consonants, or one more, less or other.
    pub(super) fn near(&self, consonants: &str) -> impl Iterator<Item = &Target> {
        let mut found: Vec<usize> = Vec::new();
        let mut key = String::with_capacity(consonants.len());
        for left_out in 0..=consonants.len() {
            key.clear();
            key.extend(consonants.chars().enumerate().filter(|(at, _)| *at != left_out).map(|(_, c)| c));
            found.extend(self.keys.get(&key).into_iter().flatten());
        }
        found.sort_unstable();
        found.dedup();
        found.into_iter().map(|at| &self.list[at])
    }

    /// The ingredients that none of these words tells; of more than one, one of each.
    pub(super) fn unheard(&self, words: impl Iterator<Item = String>) -> HashSet<usize> {
        let said: HashSet<String> = words.collect();
        let silent = self.own.iter().filter(|(_, own)| !own.is_empty() && own.is_disjoint(&said));
        silent.map(|(thing, _)| *thing).collect()
    }

    /// Whether a word stands in a name, with the accents that it has there.
    pub(super) fn is_right(&self, heard: &Heard<'_>) -> bool {
        let joined = !heard.joined.is_empty() && heard.joined.iter().all(|stem| self.right.contains(stem));
        joined
            || self.right.contains(&heard.stem)
                && self.accented.get(&heard.letters).is_none_or(|small| *small == heard.small)
    }

    /// Whether words have a name in them that is right, and that is no piece of the one they are held against: "172 grams of
    /// butter, right" is no powdered sugar, and "85 grams of butter, in it goes" no butternut. "salt anas" may be sultanas,
    /// whose letters are as near.
    pub(super) fn is_named_already(&self, window: &[Heard<'_>], letters: &str, target: &Target) -> bool {
        let light = |heard: &Heard<'_>| heard.small_word || heard.article || heard.and;
        let alone = self.is_right(&window[0]) && window[1..].iter().all(light);
        let lost = |heard: &Heard<'_>| self.is_right(heard) && !target.letters.contains(&heard.stem);
        let longer = letters.len().max(target.letters.len());
        let far = || strsim::damerau_levenshtein(letters, &target.letters) * 10 > longer * 6;
        window.len() > 1 && (alone || window.iter().any(lost) && far())
    }

    /// Whether letters are those of a name that is written in one word.
    pub(super) fn is_in_one_word(&self, letters: &str) -> bool {
        self.in_one_word.contains(letters)
    }

    /// Whether one word alone is any word of a name of other food.
    pub(super) fn is_food_word(&self, window: &[Heard<'_>]) -> bool {
        matches!(window, [heard] if self.food_words.contains(&heard.stem) && !self.right.contains(&heard.stem))
    }

    /// Whether a word is of a name of other food.
    pub(super) fn is_food(&self, heard: &Heard<'_>) -> bool {
        self.foods.contains(&heard.stem)
    }
}

/// Words of a name as they are written.
pub(super) fn spelled(words: &[NameWord]) -> String {
    let mut text = String::new();
    for (at, word) in words.iter().enumerate() {
        let gap = match (at, word.tied) {
            (0, _) => "",
            (_, true) => "-",
            (_, false) => " ",
        };
        text.push_str(gap);
        text.push_str(&word.shown);
    }
    text
}

/// A key and those with one letter left out: two keys at most one change apart have one in common.
fn variants(key: &str) -> Vec<String> {
    let mut all: Vec<String> = (0..key.len()).map(|at| format!("{}{}", &key[..at], &key[at + 1..])).collect();
    all.retain(|key| !key.is_empty());
    all.push(key.to_owned());
    all
}
