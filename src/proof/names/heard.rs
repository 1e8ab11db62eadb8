//! The words of a script made ready for comparison: letters without accents, and what stands before a name.
//! Must not know any name.

use super::super::lexicon::{Lexicon, SaidUnit, Sense};
use super::super::token::fold;
use crate::exact::{Dimension, Unit};
use crate::source::script::{Break, Word};
use foldhash::{HashMap, HashSet};

/// A word.
pub(super) struct Heard<'w> {
    /// Which of the script's.
    pub(super) word: usize,
    /// Without punctuation around it.
    pub(super) shown: &'w str,
    /// Small letters without accents, and nothing else.
    pub(super) letters: String,
    /// Small letters with accents.
    pub(super) small: String,
    /// Alike for forms of one word.
    pub(super) stem: String,
    /// The stem of each word that hyphens join; none where there is no hyphen.
    pub(super) joined: Vec<String>,
    /// Whether no name ends in it: "is", and "are" behind a plural.
    pub(super) ends_none: bool,
    /// Whether a sentence or a clause ends before it.
    pub(super) stops: bool,
    /// Whether it is a number, or a part of one.
    pub(super) number: bool,
    /// Whether it is a number that several are of.
    several: bool,
    /// Whether it may be the point of a number.
    point: bool,
    /// Whether it describes food without naming it: "fresh".
    pub(super) describes: bool,
    /// Whether it is "the", "a", "my", "of" or "or".
    pub(super) article: bool,
    /// Whether captions may have made it out of a part of a name.
    pub(super) may_be_within: bool,
    /// Whether it is a weight or a volume.
    measure: bool,
    /// Whether it is a percent.
    percent: bool,
    /// Whether it is a unit of money.
    money: bool,
    /// Whether a little is meant of what comes behind its "of".
    handful: bool,
    /// Whether it is a small word: "of", "the".
    pub(super) small_word: bool,
    /// Whether it is "of".
    pub(super) of: bool,
    /// Whether it is "and", which captions make of a part of a name too.
    pub(super) and: bool,
    /// Whether it is a kitchen verb.
    verb: bool,
    /// Whether it is one that tells what was done: "grated".
    handled: bool,
}

/// All words with letters or digits in them.
pub(super) struct Text<'w> {
    pub(super) words: &'w [Word],
    pub(super) heard: Vec<Heard<'w>>,
    /// How often each stem is heard.
    often: HashMap<String, usize>,
}

impl<'w> Text<'w> {
    pub(super) fn new(words: &'w [Word], lexicon: &Lexicon) -> Self {
        let stem_of = lexicon.language.stem;
        let names = lexicon.language.names;
        let small: HashSet<&str> = names.small.split_whitespace().collect();
        let set = |list: &'static str| list.split_whitespace().map(stem_of).collect::<HashSet<_>>();
        let (verbs, handfuls) = (set(names.verbs), set(names.handfuls));
        let (mut heard, mut stops): (Vec<Heard<'_>>, bool) = (Vec::with_capacity(words.len()), true);
        for (at, word) in words.iter().enumerate() {
            let shown = word.text.trim_matches(|c: char| !c.is_alphanumeric());
            stops |= word.break_before >= Break::Cell || word.text.starts_with(['(', '"', '“']);
            let ends = word.text.ends_with(|c: char| ".,;:!?)…\"”—".contains(c));
            if shown.is_empty() {
                stops = true;
                continue;
            }
            let small_letters: String = shown.to_lowercase().chars().filter(|c| c.is_alphanumeric()).collect();
            let letters_of =
                |part: &str| part.chars().filter_map(fold).filter(|c| c.is_alphanumeric()).collect::<String>();
            let letters = letters_of(shown);
            let plain = letters.strip_suffix('s').filter(|_| shown.ends_with("'s") || shown.ends_with("’s"));
            let stem = stem_of(plain.unwrap_or(&letters));
            let senses = lexicon.senses(&letters);
            let number = letters.contains(|c: char| c.is_ascii_digit()) || senses.iter().any(is_number);
            let unit = senses.iter().any(|sense| matches!(sense, Sense::Unit(_)));
            // "butter mill" has no unit in it.
            // "buck wheat" has no money in it.
            let counted =
                heard.last().is_some_and(|before| before.number || before.article && !before.of || before.several);
            let spent = senses.iter().any(is_money);
            // "all months" no time.
            let lasting = senses.contains(&Sense::Unit(SaidUnit::Days(30)));
            let alone = (senses.contains(&Sense::NotAlone) || spent || lasting) && !counted;
            let measure = senses.iter().any(is_measure);
            let percent = senses.contains(&Sense::Unit(SaidUnit::Unit(Unit::Percent)));
            let money = senses.iter().any(is_money);
            // It belongs to what comes behind it.
            let article = senses
                .iter()
                .any(|sense| matches!(sense, Sense::Article | Sense::Determiner | Sense::Of | Sense::And | Sense::Or));
            let handful = handfuls.contains(&stem);
            let verb = verbs.contains(&stem);
            let hyphen = shown.contains('-');
            let joined = shown.split('-').filter(|_| hyphen).map(|part| stem_of(&letters_of(part))).collect();
            let small_word = small.contains(letters.as_str());
            let among = |list: &str| list.split_whitespace().any(|word| word == letters);
            let several = heard.last().is_some_and(|before| (lexicon.language.plural)(&before.letters));
            let ends_none = among(names.ends_none) || several && among(names.ends_no_plural);
            let itself = names.themselves.split_whitespace().any(|word| word == letters);
            heard.push(Heard {
                word: at,
                shown,
                stops: std::mem::replace(&mut stops, ends),
                joined,
                number,
                several: number && letters != "1" && !senses.contains(&Sense::Ones(1)),
                point: senses.contains(&Sense::Point),
                describes: senses.contains(&Sense::Describes),
                article: article && !senses.contains(&Sense::And),
                may_be_within: !number && (!unit || alone) && !handful && !article && !itself,
                measure,
                percent,
                money,
                handful,
                small_word,
                of: senses.contains(&Sense::Of),
                and: senses.contains(&Sense::And),
                verb,
                handled: verb && (lexicon.language.participle)(&letters),
                small: small_letters,
                ends_none,
                letters,
                stem,
            });
        }
        // "gin jar" is no jar, where "two jars" and "a jar of" are.
        for at in 0..heard.len() {
            let before = at.checked_sub(1).map(|before| &heard[before]).is_some_and(|word| word.number || word.article);
            let of = heard.get(at + 1).is_some_and(|word| word.of);
            heard[at].may_be_within |= heard[at].handful && !heard[at].number && !before && !of;
            // "eight point five" is one number.
            let numbers = at > 0 && heard[at - 1].number && heard.get(at + 1).is_some_and(|word| word.number);
            if heard[at].point && numbers {
                (heard[at].number, heard[at].may_be_within) = (true, false);
            }
        }
        let mut often = HashMap::default();
        for heard in &heard {
            *often.entry(heard.stem.clone()).or_default() += 1;
        }
        Self { words, heard, often }
    }

    /// Whether a word is heard more than once.
    pub(super) fn is_repeated(&self, at: usize) -> bool {
        self.often.get(&self.heard[at].stem).is_some_and(|count| *count > 1)
    }

    /// Whether a measure stands before a word: "grams of", "grams", "a pinch of fresh", "thirty of".
    pub(super) fn measured_before(&self, at: usize) -> bool {
        let mut of = false;
        for back in 1..=3 {
            let Some(before) = at.checked_sub(back).map(|before| &self.heard[before]) else { return false };
            if self.heard[at + 1 - back].stops {
                return false;
            }
            if before.measure && (of || self.counted_before(at - back)) || before.handful && of {
                return true;
            }
            if of && before.number {
                return true;
            }
            if !(before.of || before.describes || before.small_word && !before.may_be_within && back == 1 && !of) {
                return false;
            }
            of |= before.of;
        }
        false
    }

    /// Whether a number is told of words: right behind them, "is" between or not, or right before them.
    pub(super) fn told_of(&self, at: usize, end: usize) -> bool {
        let number = |at: usize| self.heard.get(at).is_some_and(|heard| heard.number);
        let goes_on = |at: usize| self.heard.get(at).is_some_and(|heard| !heard.stops);
        let is =
            goes_on(end) && self.heard[end].small_word && !self.heard[end].of && goes_on(end + 1) && number(end + 1);
        goes_on(end) && number(end) || is || self.counted_before(at)
    }

    /// Whether a weight, a volume or a percent is said of words: "grams of them", "two teaspoons them", "them four grams",
    /// "them is two percent".
    pub(super) fn amount_of(&self, at: usize, end: usize) -> bool {
        let behind = self.unit_behind(end).is_some_and(|unit| unit.measure || unit.percent);
        let before = at.checked_sub(1).is_some_and(|unit| self.heard[unit].measure && self.counted_before(unit));
        behind || self.measured_before(at) || before && !self.heard[at].stops
    }

    /// Whether a price is said of words: "them thirty cents".
    pub(super) fn price_of(&self, end: usize) -> bool {
        self.unit_behind(end).is_some_and(|unit| unit.money)
    }

    /// The unit of the number that goes on behind words: "is" or "chopped" may stand between.
    fn unit_behind(&self, end: usize) -> Option<&Heard<'w>> {
        let goes_on = |at: usize| self.heard.get(at).filter(|heard| !heard.stops);
        let light = |word: &Heard<'_>| (word.small_word && !word.of || word.handled) && !word.number;
        let from = if goes_on(end).is_some_and(light) { end + 1 } else { end };
        let number = (from..from + 5).take_while(|&at| goes_on(at).is_some_and(|word| word.number)).count();
        goes_on(from + number).filter(|_| number > 0)
    }

    /// Whether a number stands right before a word.
    pub(super) fn counted_before(&self, at: usize) -> bool {
        !self.heard[at].stops && at.checked_sub(1).is_some_and(|before| self.heard[before].number)
    }

    /// Whether a number of several stands right before a word.
    pub(super) fn several_before(&self, at: usize) -> bool {
        self.counted_before(at) && self.heard[at - 1].several
    }

    /// "ginja grated": whether what was done to it stands right behind.
    pub(super) fn handled_behind(&self, end: usize) -> bool {
        self.heard.get(end).is_some_and(|after| !after.stops && after.handled)
    }

    /// Whether a kitchen verb stands before a word, or before one or two small words that do.
    pub(super) fn handled_before(&self, at: usize) -> bool {
        for back in 1..=3 {
            let Some(before) = at.checked_sub(back).map(|before| &self.heard[before]) else { return false };
            if self.heard[at + 1 - back].stops {
                return false;
            }
            if before.verb {
                return true;
            }
            if !(before.small_word || before.describes) {
                return false;
            }
        }
        false
    }
}

fn is_number(sense: &Sense) -> bool {
    matches!(
        sense,
        Sense::Ones(_)
            | Sense::Teens(_)
            | Sense::Tens(_)
            | Sense::Power(_)
            | Sense::Group(_)
            | Sense::Half
            | Sense::Part(_)
            | Sense::Ordinal
    )
}

/// Units of money.
fn is_money(sense: &Sense) -> bool {
    matches!(sense, Sense::Unit(SaidUnit::Major(_) | SaidUnit::Minor(_) | SaidUnit::Dollar))
}

/// Weights and volumes; not minutes, degrees or euros.
fn is_measure(sense: &Sense) -> bool {
    match sense {
        Sense::Unit(SaidUnit::Unit(unit)) => matches!(unit.dimension(), Dimension::Weight | Dimension::Volume),
        Sense::Unit(SaidUnit::PoundOrMoney) => true,
        _ => false,
    }
}
