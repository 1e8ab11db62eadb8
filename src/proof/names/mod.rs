//! Names that captions mangle: one word into two, a real word of another meaning, accents lost. A name is found by
//! its letters or its sound, and only where something speaks for it: the rest of the name beside it, a quantity, a
//! kitchen verb. Owns which words are wrong and what they should be; must not know how a file is changed.

mod apart;
mod dish;
mod heard;
mod targets;

use super::claim::{Place, said_until};
use super::lexicon::{Lexicon, NameWords, Sound};
use super::token::folded;
use crate::model::Pantry;
use crate::sheet::Truth;
use crate::source::script::{Script, Word};
use apart::apart;
use foldhash::HashSet;
use heard::{Heard, Text};
use rayon::prelude::*;
use std::cmp::Reverse;
use std::ops::Range;
use targets::{KnownName, Target, Targets};

/// A name that the words have wrong.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Slip {
    /// The fewest words that are wrong, and where they stand.
    pub place: Place,
    /// What they should be.
    pub written: String,
    /// Whether nothing else can be meant, so that they may be corrected unasked.
    pub certain: bool,
    /// What speaks for it.
    pub why: &'static str,
}

/// Every mangled name in the order said; each place once.
///
/// `names` are the recipe's own, `method` is its text; `foods` are names of other food, which people may well mean.
fn slips(words: &[Word], names: &[KnownName], foods: &[&str], method: &str, lexicon: &Lexicon) -> Vec<Slip> {
    let (text, targets) = (Text::new(words, lexicon), Targets::new(names, foods, lexicon));
    let unheard = targets.unheard(text.heard.iter().map(|heard| (lexicon.language.singular)(&heard.letters)));
    let method = folded(method).split_whitespace().map(lexicon.language.stem).collect();
    let finder = Finder { text, targets, unheard, method, words: lexicon.language.names };
    // Words are listened to by themselves, on all cores: it is the longest part of a proof.
    let best: Vec<Option<Found<'_>>> = (0..finder.text.heard.len()).into_par_iter().map(|at| finder.best(at)).collect();
    let mut found: Vec<Slip> = Vec::new();
    let mut at = 0;
    while at < best.len() {
        // "ask queue cumbers": what begins a word later may be liker.
        let liker =
            |found: &Found<'_>| best[at + 1..found.words.end].iter().flatten().any(|later| later.rank < found.rank);
        match best[at].as_ref().filter(|best| best.rank.far == 0 || !liker(best)) {
            Some(best) => {
                at = best.words.end;
                found.push(finder.slip(best));
            }
            None => at += 1,
        }
    }
    for name in names.iter().filter(|name| name.dish) {
        for (words, written) in dish::mangled(&finder.text, &name.text, lexicon) {
            let place = finder.place(&words);
            let (from, to) = (place.words.start, place.words.end);
            let crosses = |other: &Slip| other.place.words.start < to && from < other.place.words.end;
            // All of it tells more than a part of it that may be wrong.
            let within = |other: &Slip| from <= other.place.words.start && other.place.words.end <= to;
            if found.iter().filter(|other| crosses(other)).all(|other| !other.certain && within(other)) {
                found.retain(|other| !crosses(other));
                found.push(Slip { place, written, certain: false, why: "the whole of it sounds like the dish's name" });
            }
        }
    }
    found.sort_by_key(|slip| slip.place.words.start);
    found
}

/// Every mangled name of a recipe and of what its variants put in; `pantry` has the food that people may also mean.
pub fn mangled(script: &Script, truth: &Truth, pantry: &Pantry, lexicon: &Lexicon) -> Vec<Slip> {
    let mut names = vec![KnownName { dish: true, ..KnownName::title(&truth.title) }];
    names.extend(truth.parts.iter().filter_map(|part| part.title.as_deref()).map(KnownName::title));
    names.extend(truth.pieces.iter().map(|piece| KnownName::new(piece, true)));
    // Variants have their lines in one order, each by what it is there.
    let mut known: Vec<&[String]> = Vec::new();
    for thing in std::iter::once(truth).chain(&truth.others).flat_map(|truth| &truth.things) {
        let index = known.iter().position(|names| **names == *thing.names).unwrap_or(known.len());
        if index == known.len() {
            known.push(&thing.names);
        }
        let shown = thing.names.first().map(String::as_str).unwrap_or_default();
        names.extend(thing.names.iter().map(|name| {
            let stem = |word: &str| (lexicon.language.singular)(&word.to_lowercase());
            let shares =
                name.split_whitespace().any(|word| shown.split_whitespace().any(|own| stem(own) == stem(word)));
            KnownName { alias: !shares, thing: Some(index), ..KnownName::new(name, thing.counted) }
        }));
    }
    let items = pantry.items.values();
    let foods: Vec<&str> = items
        .flat_map(|item| {
            [item.name.as_str(), item.plural.as_str()].into_iter().chain(item.said_as.iter().map(String::as_str))
        })
        .collect();
    let method: String = truth.steps.iter().map(|step| format!("{} {} ", step.title, step.text)).collect();
    slips(&script.words, &names, &foods, &method, lexicon)
}

/// The most words that one mangled name is heard as.
const WINDOW: usize = 4;

struct Finder<'w> {
    text: Text<'w>,
    targets: Targets,
    /// Ingredients that are nowhere called by a name that is right.
    unheard: HashSet<usize>,
    /// Stems of the method: what stands there is no mangled name.
    method: HashSet<String>,
    /// The language's.
    words: NameWords,
}

/// How alike words and a name are, the likest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Likeness {
    /// The same letters, in other words or without their accents.
    Letters,
    /// The same sound.
    Sound,
    /// The same consonants.
    Consonants,
    /// One sound away.
    Near,
}

/// What beside the words speaks for a name.
#[derive(Clone, Copy, Debug, Default)]
struct Evidence {
    /// Another word of the name stands there.
    beside: bool,
    /// That word says more than "fresh" or "ground".
    telling: bool,
    /// A weight or a volume of it is said, or a pinch.
    measured: bool,
    /// "of" stands right before it.
    of: bool,
    /// A number of them is said, and it is counted.
    counted: bool,
    /// A kitchen verb is said of it.
    handled: bool,
    /// A number without a unit stands beside it.
    told: bool,
    /// The same word is heard more than once.
    repeated: bool,
    /// A weight, a volume or a percent is said of it.
    amount: bool,
    /// A price is said of it.
    priced: bool,
    /// It is called by no name that is right.
    unheard: bool,
    /// "it" or "up" stands right behind it, and no "of" before it: then it is a verb.
    verb: bool,
    /// The word before has taken its first letter: "pumpkins eeds". That one is wrong as well.
    robbed: bool,
}

/// Words held against a name.
struct Compared<'c> {
    window: &'c [Heard<'c>],
    /// Their letters run together.
    letters: &'c str,
    sound: &'c Sound,
    target: &'c Target,
    likeness: Likeness,
    evidence: Evidence,
    /// Letters of the longer of both.
    length: usize,
    /// Whether a small word is among them.
    small: bool,
    /// Whether "and" is among them.
    and: bool,
}

impl<'c> Compared<'c> {
    fn new(
        window: &'c [Heard<'c>],
        letters: &'c str,
        sound: &'c Sound,
        target: &'c Target,
        likeness: Likeness,
        evidence: Evidence,
    ) -> Self {
        let length = letters.len().max(target.letters.len());
        let small = window.iter().any(|heard| heard.small_word);
        let and = window.iter().any(|heard| heard.and);
        Self { window, letters, sound, target, likeness, evidence, length, small, and }
    }

    /// How many letters are other.
    fn slips(&self) -> usize {
        strsim::damerau_levenshtein(self.letters, &self.target.letters)
    }
}

/// A reading of some words as a name.
#[derive(Clone, Copy)]
struct Reading {
    certain: bool,
    why: &'static str,
}

/// How good a reading is: the best first.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Rank {
    /// How far apart words and name sound, and one more, where only that speaks for it; else nothing.
    far: u32,
    /// Like sounds of more words are better than of fewer; looser likeness is not.
    loose: Likeness,
    letters: Reverse<usize>,
    alike: Likeness,
    /// "carry way" is liker than "carry" alone.
    slips: usize,
    words: usize,
}

/// The words of the text, by their place in it, and the name that they may be.
struct Found<'t> {
    rank: Rank,
    words: Range<usize>,
    target: &'t Target,
    reading: Reading,
}

impl Finder<'_> {
    /// The best slip that starts at a word.
    fn best(&self, at: usize) -> Option<Found<'_>> {
        let heard = &self.text.heard;
        let mut best: Option<Found<'_>> = None;
        let (mut letters, mut spoken) = (String::new(), String::new());
        for end in at + 1..=(at + WINDOW).min(heard.len()) {
            let last = &heard[end - 1];
            // "cory and her"
            let and = last.and
                && end > at + 1
                && heard
                    .get(end)
                    .is_some_and(|next| (next.may_be_within || next.letters == self.words.breath) && !next.stops);
            // "nigel a": the breath of a name's middle or end is heard as an article.
            let breath = end > at + 1 && last.letters == self.words.breath;
            if !(last.may_be_within || and || breath || last.article) || end > at + 1 && last.stops {
                break;
            }
            spoken.push_str((self.words.spoken)(&letters, &last.letters));
            letters.push_str(&last.letters);
            let window = &heard[at..end];
            // "butter milk" is said so, and written in one word.
            let in_one = window.len() > 1 && self.targets.is_in_one_word(&letters);
            let right = !in_one && window.iter().all(|heard| self.targets.is_right(heard));
            if right || and || last.ends_none || window.len() == 1 && last.small_word || last.article && !breath {
                continue;
            }
            // "my lasses": the sound alone may tell such a word for a part of a name.
            let whole =
                !window[0].article && window.iter().all(|heard| !heard.article || heard.letters == self.words.breath);
            let sound = (self.words.sound)(&spoken);
            for target in self.targets.near(&sound.consonants) {
                if !whole && window.len() <= target.stems.len() {
                    continue;
                }
                if !in_one && self.targets.is_named_already(window, &letters, target) {
                    continue;
                }
                let Some(likeness) = self.likeness(window, &letters, &sound, target) else { continue };
                let evidence = self.evidence(at, end, target);
                let compared = Compared::new(window, &letters, &sound, target, likeness, evidence);
                let by_rule =
                    || self.reading(&compared).or_else(|| self.must_be(&compared)).map(|reading| (reading, 0));
                // "a lotment": so alike, the article is of the name.
                let ruled = whole || likeness <= Likeness::Sound;
                let Some((reading, far)) = ruled.then(by_rule).flatten().or_else(|| self.sounds_like(&compared)) else {
                    continue;
                };
                let rank = Rank {
                    far,
                    loose: likeness.max(Likeness::Sound),
                    letters: Reverse(target.letters.len()),
                    alike: likeness,
                    slips: compared.slips(),
                    words: end - at,
                };
                let found = Found { rank, words: at..end, target, reading };
                if best.as_ref().is_none_or(|best| found.rank < best.rank) {
                    best = Some(found);
                }
            }
        }
        best
    }

    /// Where words stand.
    fn place(&self, words: &Range<usize>) -> Place {
        let window = &self.text.heard[words.clone()];
        let range = window[0].word..window[window.len() - 1].word + 1;
        let words = &self.text.words[range.clone()];
        Place {
            words: range,
            start: words[0].start,
            end: said_until(words),
            line: words[0].line,
            column: words[0].column,
            text: window.iter().map(|heard| heard.shown).collect::<Vec<_>>().join(" "),
        }
    }

    fn slip(&self, found: &Found<'_>) -> Slip {
        let place = self.place(&found.words);
        let Reading { certain, why } = found.reading;
        // "10 frank further" are several.
        let several = Some(found.words.start).filter(|&at| found.target.counted && self.text.several_before(at));
        let written = several.and_then(|_| self.targets.several(found.target)).unwrap_or(found.target);
        Slip { place, written: written.shown.clone(), certain, why }
    }

    /// How alike they are; `None` where they are not, or where nothing is wrong.
    fn likeness(&self, window: &[Heard<'_>], letters: &str, sound: &Sound, target: &Target) -> Option<Likeness> {
        let (first, last) = (&window[0], &window[window.len() - 1]);
        // Only the words that are wrong count: an end that is right belongs to the words beside them.
        let more = window.len() > 1 || target.stems.len() > 1;
        let right = |heard: &Heard<'_>, stem: &str| heard.stem == stem && self.targets.is_right(heard);
        if more && (right(first, &target.stems[0]) || right(last, &target.stems[target.stems.len() - 1])) {
            let split = target.stems.len() == 1 && window.len() > 1;
            if !(split && letters == target.letters) {
                return None;
            }
        }
        if letters == target.letters {
            let accents: String = window.iter().map(|heard| heard.small.as_str()).collect();
            let joined = window.len() == target.stems.len();
            let hyphens = target.hyphen || window.iter().any(|heard| !heard.joined.is_empty());
            let lost = accents.is_ascii() && !target.small.is_ascii();
            return (lost || !joined && !hyphens && !target.alias).then_some(Likeness::Letters);
        }
        if window.len() == 1 && target.stems.len() == 1 && self.same_word(first, target) {
            return None;
        }
        let likeness = if sound.full == target.sound.full || self.sounds_word_for_word(window, target) {
            Likeness::Sound
        } else if sound.consonants == target.sound.consonants {
            Likeness::Consonants
        } else {
            Likeness::Near
        };
        Some(likeness)
    }

    /// "plane flower": whether each of several words has the sound of a name's, the end of each being silent as it is alone.
    fn sounds_word_for_word(&self, window: &[Heard<'_>], target: &Target) -> bool {
        let words = folded(&target.shown);
        let mut words = words.split_whitespace();
        let alike =
            |heard: &Heard<'_>, word: &str| (self.words.sound)(&heard.letters).full == (self.words.sound)(word).full;
        window.len() > 1
            && window.len() == target.stems.len()
            && window.iter().all(|heard| words.next().is_some_and(|word| alike(heard, word)))
    }

    /// Whether a word is a form or another spelling of a name's word.
    fn same_word(&self, heard: &Heard<'_>, target: &Target) -> bool {
        heard.stem == target.stems[0] || (self.words.alike)(&heard.letters, &target.letters)
    }

    fn evidence(&self, at: usize, end: usize, target: &Target) -> Evidence {
        let mut evidence = Evidence::default();
        let before = at.checked_sub(1).map(|before| &self.text.heard[before]).filter(|_| !self.text.heard[at].stops);
        let after = self.text.heard.get(end).filter(|after| !after.stops);
        // "by carbonate of soda"
        let past_of = after.filter(|after| after.of && target.of).and_then(|_| self.text.heard.get(end + 1));
        let behind = past_of.filter(|behind| !behind.stops).or(after);
        // What is said of a name is said of all its words: "30 grams of barley mall syrup".
        let (mut from, mut to) = (at, end);
        for (heard, stem, first) in [(before, &target.before, true), (behind, &target.after, false)] {
            if let (Some(heard), Some(stem)) = (heard, stem)
                && heard.stem == *stem
                && !heard.small_word
            {
                evidence.beside = true;
                evidence.telling |= !heard.describes;
                (from, to) = if first { (from - 1, to) } else { (from, to + 1 + usize::from(past_of.is_some())) };
            }
        }
        let rest = |first: char| target.letters.strip_prefix(first) == Some(self.text.heard[at].letters.as_str());
        let last = before.and_then(|before| before.letters.chars().last());
        evidence.robbed = end == at + 1 && last.is_some_and(rest);
        evidence.measured = self.text.measured_before(at);
        evidence.of = before.is_some_and(|before| before.of);
        evidence.counted = target.counted && self.text.counted_before(at);
        evidence.handled = self.text.handled_before(at) || self.text.handled_behind(end);
        evidence.told = self.text.told_of(at, end);
        (evidence.amount, evidence.priced) = (self.text.amount_of(from, to), self.text.price_of(to));
        let object = after.is_some_and(|after| self.is_object(after));
        evidence.verb = object && !evidence.of && end == at + 1;
        evidence.unheard = target.thing.is_some_and(|thing| self.unheard.contains(&thing));
        evidence.repeated = end == at + 1 && self.text.is_repeated(at);
        evidence
    }

    /// Whether a word is what is done something with: "it", "them".
    fn is_object(&self, word: &Heard<'_>) -> bool {
        self.words.objects.split_whitespace().any(|object| object == word.small)
    }

    /// Whether words must be a name because an amount is said of them, or the rest of the name stands beside them, and they are
    /// like it: the looser where it is called by no right name, as in "half a teaspoon of manila".
    fn must_be(&self, compared: &Compared<'_>) -> Option<Reading> {
        let Compared { window, letters, sound, target, likeness, length, small, and, .. } = *compared;
        let Evidence { beside, telling, amount, priced, unheard, verb, .. } = compared.evidence;
        let odd = small || and;
        let said = amount || telling || priced && !odd && likeness <= Likeness::Consonants;
        if !said || verb || target.describes || letters.len() < 4 {
            return None;
        }
        let split = window.len() > target.stems.len();
        let slips = compared.slips();
        // "butter mill" begins as buttermilk does, though butter is food.
        let begins = split && target.letters.starts_with(&window[0].letters) && slips * 3 <= length;
        let food = window.iter().skip(usize::from(begins));
        let food = food.into_iter().any(|heard| self.targets.is_food(heard) || self.targets.is_right(heard));
        // "batter" is no water.
        let known = !split && window.iter().all(|heard| self.method.contains(&heard.stem));
        let same_start = sound.full.chars().next() == target.sound.full.chars().next();
        let alike = likeness <= Likeness::Consonants && target.sound.consonants.len() >= 3;
        let near = match (split, odd) {
            // "mask a pony", where mascarpone is called by no right name
            (true, true) => {
                let close = alike && (window.len() == 2 || and) || unheard && target.sound.consonants.len() >= 4;
                // "carry way seeds"
                let spelled = slips <= 2 && target.letters.len() >= 7 && window.len() == 2;
                let spelled = spelled && !self.targets.is_right(&window[0]);
                (close || spelled) && same_start && slips * 2 <= length
            }
            (true, false) => alike && same_start || slips * 3 <= length || unheard && slips * 5 <= length * 3,
            (false, _) if telling && slips * 3 <= length && length >= 7 => true,
            // "baking power 16 grams"
            (false, _) if beside && amount && slips == 1 && length >= 6 => true,
            (false, _) if length < 6 => unheard && slips * 5 <= length * 2,
            (false, _) => unheard && slips * 2 <= length,
        };
        let whole = !target.part
            || !target.alias
                && (telling
                    || likeness <= Likeness::Consonants
                    || split && target.after.is_none()
                    // "baking power"
                    || beside && amount && slips == 1 && length >= 6
                    // "tamarin"
                    || unheard && slips == 1 && length >= 7);
        let within = letters.contains(target.letters.as_str());
        let likely = near && !known && !within && whole && !food;
        likely.then_some(Reading { certain: false, why: "an amount is said of it, and it is like no other name" })
    }

    /// Whether words sound so much like a name that they may be it, and one more than how far apart they are: the farther, the more must
    /// speak for it.
    fn sounds_like(&self, compared: &Compared<'_>) -> Option<(Reading, u32)> {
        let Compared { window, letters, sound, target, likeness, small, and, .. } = *compared;
        let Evidence { beside, amount, handled, told, repeated, unheard, verb, .. } = compared.evidence;
        let (split, odd, sounds) = (window.len() > target.stems.len(), small || and, target.sound.fine.len());
        if verb || target.describes || letters.len() < 4 {
            return None;
        }
        // "butter meal", where buttermilk is called by no right name
        let in_one = split && !odd && target.stems.len() == 1 && unheard && amount;
        let spoken_for = beside || amount || handled || told || unheard;
        let alone = !odd && !target.part;
        // What nothing speaks for is not listened to.
        let open = in_one
            || beside && sounds >= 4
            || split && (sounds >= 6 || spoken_for && sounds >= 5)
            || alone && if sounds < 5 { amount } else { handled || repeated || sounds >= 7 && window.len() == 1 };
        let right = || window.iter().any(|heard| self.targets.is_right(heard));
        // "batter a go" neither
        let in_method = || window.iter().all(|heard| self.method.contains(&heard.stem) || heard.article);
        if !open || !in_one && right() || in_method() {
            return None;
        }
        let far = apart(&sound.fine, &target.sound.fine);
        let food = window.iter().any(|heard| self.targets.is_food(heard));
        let alike = match () {
            _ if in_one && (food || right()) => far <= 24,
            // "wall nut", "but a milk"
            _ if food => split && sounds >= 5 && far <= 9 && spoken_for,
            _ if beside && sounds >= 4 => {
                let most = match (odd, amount) {
                    (true, _) => 12,
                    (false, true) => 32,
                    (false, false) => 23,
                };
                far <= most
            }
            // "into that goes rick otter", where ricotta is called by no right name
            // but "turn it" is no turnip
            _ if split && sounds >= 6 && unheard && window.len() == 2 && far <= 17 && !self.is_object(&window[1]) => {
                true
            }
            _ if split && sounds >= 6 => far == 0 || far <= 7 && (spoken_for || !odd) || far <= 24 && amount,
            _ if !alone => false,
            _ if sounds < 5 => amount && far <= 10 && letters.len() <= target.letters.len() + 1,
            _ if sounds < 7 => (handled || repeated) && far <= 11 && likeness == Likeness::Near,
            _ => window.len() == 1 && far <= 18,
        };
        alike.then_some((Reading { certain: false, why: "it sounds like no other name" }, far + 1))
    }

    /// Whether what speaks for it is enough, and whether it is beyond doubt.
    fn reading(&self, compared: &Compared<'_>) -> Option<Reading> {
        let Compared { window, letters, target, likeness, length, small, and, .. } = *compared;
        let Evidence { beside, telling, measured, of, counted, handled, told, repeated, verb, .. } = compared.evidence;
        let split = window.len() != target.stems.len();
        let quantity = measured || counted;
        let (full, consonants) = (target.sound.full.len(), target.sound.consonants.len());
        // Other food that people may mean is no mangled name, unless the rest of the name stands there.
        let food = window.len() == 1 && self.targets.is_food(&window[0]);
        if and {
            return None;
        }
        // "eighteen grams, bring it up": what is done, and not what there is so much of.
        if verb && !telling && likeness > Likeness::Letters {
            return None;
        }
        // One word of a longer name, without the rest, is too little.
        // "thirty-nine grams of wry": but for two that nobody says together, and what an amount is said of.
        let said = split && quantity && full >= 5 || measured && of && !target.describes && window.len() == 1 && !split;
        let lone = target.part && !beside && !(said && !small && likeness <= Likeness::Sound);
        if food && !telling || lone {
            return None;
        }
        // Small words are said all the time: the sound alone must be theirs together, and something must speak for it.
        if small && (likeness > Likeness::Sound || full < 4 || !(measured || telling)) {
            return None;
        }
        // Most words are near some name by chance: what nothing speaks for is not counted letter by letter.
        if likeness == Likeness::Near && !(beside || quantity || told || split) {
            return None;
        }
        let slips = compared.slips();
        let same_start = letters.chars().next() == target.letters.chars().next();
        let why = match (beside, quantity, handled) {
            (true, ..) => "the rest of the name is beside it",
            (_, true, _) => "an amount of it is said",
            (.., true) => "something is done with it",
            _ => "it is like no other word",
        };
        let certain = match likeness {
            Likeness::Letters => {
                let ambiguous = window.len() == 1 && self.words.other_without_accent.contains(&letters);
                if ambiguous && !(beside || quantity) {
                    return None;
                }
                true
            }
            Likeness::Sound | Likeness::Consonants if slips == 1 && length >= 8 && same_start && !food => true,
            // "plane flower is 8 percent"
            Likeness::Sound if window.len() > 1 && !split && !small && full >= 6 => true,
            Likeness::Sound if small => false,
            Likeness::Sound if beside || quantity => telling || measured || beside && full >= 5,
            Likeness::Sound if handled && full >= 4 || split && full >= 7 => false,
            Likeness::Sound if told && full >= 4 && !food => false,
            Likeness::Sound if repeated && slips == 1 && length >= 6 && same_start && !food => false,
            Likeness::Consonants if told && split && !small && consonants >= 4 && slips * 5 <= length * 2 => false,
            Likeness::Near if told && slips == 1 && length >= 7 && same_start => false,
            Likeness::Consonants if telling && slips * 5 <= length * 3 => slips * 2 <= length && consonants >= 3,
            Likeness::Consonants if beside && slips * 5 <= length * 2 => false,
            Likeness::Consonants if quantity && consonants >= 4 && slips * 2 <= length => slips * 4 <= length,
            Likeness::Consonants if quantity && split && consonants >= 4 && slips * 5 <= length * 3 => false,
            Likeness::Consonants if handled && split && consonants >= 4 && slips * 2 <= length => false,
            Likeness::Near if telling && slips == 1 && length >= 5 && letters.len() >= 4 => !food,
            Likeness::Near if beside && measured && slips <= 2 && slips * 5 <= length * 2 && length >= 5 => false,
            Likeness::Near if split && (handled || quantity) && full >= 5 && slips <= 2 && slips * 3 <= length => false,
            Likeness::Consonants | Likeness::Near if split && !small && !target.part && slips == 1 && length >= 7 => {
                false
            }
            Likeness::Near if quantity && slips == 1 && length >= 7 && (same_start || counted) => false,
            Likeness::Sound | Likeness::Consonants | Likeness::Near => return None,
        };
        // A word that other food is called by, or that everybody says, may be meant.
        let open = self.targets.is_food_word(window) && !quantity || target.describes && target.letters.len() < 6;
        let alone = target.part && !beside && !split;
        let certain = certain && !alone && !compared.evidence.robbed && (likeness == Likeness::Letters || !open);
        Some(Reading { certain, why })
    }
}

#[cfg(test)]
mod tests;
