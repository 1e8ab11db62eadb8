//! What a language's number words and phrases mean: the form in which a language is given to the grammar. Must not
//! know any language.

use super::hint::Hint;
use crate::exact::{Exact, Measures, Unit};
use crate::sheet::Kind;
use foldhash::HashMap;

/// A meaning that a word can have in a number or near one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sense {
    /// One to nine.
    Ones(i64),
    /// Ten to nineteen.
    Teens(i64),
    /// Twenty to ninety.
    Tens(i64),
    /// Nought as a digit.
    Oh,
    /// A hundred or a thousand.
    Power(i64),
    /// A number that is counted itself: a dozen, a couple.
    Group(i64),
    /// A half.
    Half,
    /// A part by its denominator: a third, a quarter, an eighth.
    Part(i64),
    /// "a", "an".
    Article,
    /// "the", "your", "those".
    Determiner,
    /// "of".
    Of,
    /// "and".
    And,
    /// "point".
    Point,
    /// "to": an upper end follows.
    To,
    /// "or": an upper end follows.
    Or,
    /// "maybe", "perhaps": an upper end may follow.
    Maybe,
    /// "between".
    Between,
    /// A dash between digits.
    Dash,
    /// "by": sides of a tin, or a product.
    By,
    /// A unit.
    Unit(SaidUnit),
    /// A word that may stand between a number and its unit or noun: "level", "large".
    Filling,
    /// A word that captions write for a number of the same sound: "to", "for", "ate".
    SoundsLike(i64),
    /// "for".
    For,
    /// "if".
    If,
    /// "at".
    At,
    /// "in", "into".
    Into,
    /// "until".
    Until,
    /// "another": one more.
    OneMore,
    /// "weight".
    Weight,
    /// "what".
    What,
    /// Before a temperature that is a bound: "over", "above".
    Above,
    /// What people are called together: "a crew of eleven".
    People,
    /// "back": to where it was.
    Back,
    /// Behind a number it is a time of the day: "ten past".
    ByTheClock,
    /// Behind a duration that "is", it tells how long something else takes: "the song is four minutes long".
    Long,
    /// A word of an operation that mostly is none: "over", "and".
    Hardly,
    /// Before what is the speaker's: "your sixteen", "got".
    Owns,
    /// Before a count of what there is: "there's eighteen here".
    Presents,
    /// An ordinal: "first".
    Ordinal,
    /// "more", "another", "extra": on top of what was said before.
    More,
    /// "remaining", "rest", "other": what was said before has left it.
    Left,
    /// "each", "apiece".
    Each,
    /// "per".
    Per,
    /// A container that a package size is of.
    Package,
    /// A verb or noun of heat.
    Heat,
    /// A verb or noun of cost.
    Cost,
    /// "costs": a price of what was named before it.
    Charges,
    /// A verb after which a count is what a batch makes.
    Makes,
    /// A verb of being: "is", "are", "was", "at".
    Is,
    /// What numbers of are not a dish's: "subscribers", "ago", "video".
    Alien,
    /// A word too common to tell one step from another.
    Common,
    /// "not".
    Not,
    /// "than".
    Than,
    /// "times": strokes.
    Times,
    /// A word that a number behind it numbers: "step", "part".
    Label,
    /// What has a number for its name, whatever stands behind: "on route 44".
    Address,
    /// "them", "these": several things named before.
    Them,
    /// "divide", "cut": into pieces.
    Divides,
    /// Before a duration it tells of the speaker's own time: "took", "holidays".
    Chat,
    /// A verb of adding: "need", "add".
    Needs,
    /// Pieces in general: "pieces", "balls".
    Pieces,
    /// A word that leads to a temperature: "hits", "reaches".
    Leads,
    /// A word that describes a thing without naming it: "dried", "red".
    Describes,
    /// "i", "we": behind "in two minutes" it is the talk of a video.
    Speaker,
    /// A unit only behind a number: "a mill" is where flour comes from.
    NotAlone,
    /// What a size tells apart: "the 750 mL kind".
    Sort,
    /// A verb of a thermometer: "hits", "reads".
    Reads,
    /// A verb of wanting: "they want three minutes".
    Wants,
    /// "it".
    Pronoun,
    /// A word that takes a number behind it away from the name before: "into", "i've".
    Apart,
    /// "be".
    Be,
    /// "for", "after": something lasts.
    During,
    /// "in", "at": a place follows.
    Inside,
    /// "from": a lower end, or what was before.
    From,
    /// Before "one" it makes a pronoun of it: "that one".
    This,
    /// A verb or word that leads up to a temperature: "get it to one eighty".
    Raises,
    /// A verb of what takes its time: "rest it thirty".
    Lasts,
    /// A piece of food that is counted: "clove", "stick".
    Portion,
    /// One of what is made, by another word: "a slice", "a go".
    OneOf,
    /// Stands before "one" where that is a pronoun: "the big one".
    Singles,
    /// A verb of containing: "a tin holds 340 grams".
    Holds,
    /// Somebody else who does something: "he", "she".
    Another,
    /// Words that may stand within a sum and mean nothing in it: "there", "then".
    Aside,
    /// The side that is done second: "the other", "flip".
    OtherSide,
    /// What shows the numbers of this dish: "the scale says".
    Shows,
    /// A verb of saying: what follows is somebody's word.
    Tells,
    /// Where others sell: a price there is none of the dish.
    Market,
    /// "since": a year follows.
    Since,
    /// A word that ends a scope: "but".
    But,
}

/// A unit as it is said.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SaidUnit {
    /// One of the source format's.
    Unit(Unit),
    /// Degrees without saying of what.
    Degrees,
    /// So many days: a week, a fortnight.
    Days(i64),
    /// A currency's major unit, by its code.
    Major(&'static str),
    /// A hundredth of the channel's own currency, or of one by its code.
    Minor(Option<&'static str>),
    /// Pounds: of weight, or of money where that is what prices are in.
    PoundOrMoney,
    /// Dollars: the channel's, where its currency is one.
    Dollar,
}

impl SaidUnit {
    /// What it measures; `pounds` is what pounds are of.
    pub fn kind(self, pounds: Kind) -> Kind {
        match self {
            Self::Unit(unit) => Kind::of(unit.dimension()),
            Self::Degrees => Kind::Temperature,
            Self::Days(_) => Kind::Duration,
            Self::Major(_) | Self::Minor(_) | Self::Dollar => Kind::Money,
            Self::PoundOrMoney => pounds,
        }
    }
}

/// How exact a value is meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Leeway {
    /// As said.
    #[default]
    None,
    /// "about": ten per cent either way.
    About,
    /// "just under", "nearly": ten per cent below.
    Under,
    /// "just over", "a good": ten per cent above.
    Over,
    /// "up to", "at most".
    AtMost,
    /// "at least".
    AtLeast,
}

/// What a run of words does to the numbers near it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// How exact the number behind it is.
    Before(Leeway),
    /// How exact the number before it is.
    After(Leeway),
    /// The number before it is taken back, the one behind it holds.
    Correction,
    /// Behind a number, it takes back the one before it: "rather".
    CorrectionBehind,
    /// What the speaker does, after what others do: "I use".
    Own,
    /// Behind a number, it was so at another time: "back then".
    ElsewhereBehind,
    /// All that was just said is taken back, and said anew: "let me say that again".
    Redo,
    /// The number behind it is denied.
    Denial,
    /// Behind a value it says that it is not the one: "won't do".
    DeniedBehind,
    /// A value behind it is asked after, and taken back by another that follows: "did I say".
    Doubt,
    /// "all of it": of money, everything.
    AllOfIt,
    /// "eight out of ten".
    OutOf,
    /// Before it was baked: "going in", "raw".
    Raw,
    /// What was said or written before: of the number right behind it.
    SaidBefore,
    /// What was once, for a few words.
    Formerly,
    /// What follows holds of a variant.
    Alternative,
    /// What follows is of food that takes another's place.
    Substitute,
    /// What follows is of more of it, or of less: "double it".
    Scaled,
    /// What is near is of more of it, or of less, where it is so many times its figure: "the big batch".
    Resized,
    /// What follows holds of the recipe again.
    Return,
    /// What follows is of something else.
    Elsewhere,
    /// What somebody takes for it: money behind it is a price and no cost.
    Sold,
    /// The words say no number, whatever they look like.
    Nothing,
    /// A product.
    Multiply,
    /// A quotient.
    Divide,
    /// A sum.
    Add,
    /// A difference.
    Subtract,
    /// What a sum comes to.
    Equals,
    /// So many at once.
    AtATime,
    /// A share of all of it, in words only.
    Whole,
}

/// Words of a topic, by which a fact is recognised.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cue {
    /// Hydration.
    Hydration,
    /// What baking takes off.
    Loss,
    /// Words that tell of a loss where nothing else is named.
    LossToo,
    /// Weighed when done.
    Finished,
    /// Everything together.
    Total,
    /// One piece.
    Each,
    /// Whole packs, shopping.
    Basket,
    /// What is left of them.
    Unused,
    /// Where one shops: whole packs may be meant, or the price of anything.
    Shop,
    /// Oil and how it is used.
    Oil,
    /// The pan.
    Pan,
    /// The depth of oil.
    Deep,
    /// How a dough feels that has much water.
    Wet,
    /// Pre-fermented.
    Preferment,
    /// What is 100 %.
    Basis,
    /// An oven with a fan, whose figure is another.
    OtherOven,
    /// How often a filling serves.
    Uses,
    /// A size from side to side.
    Across,
    /// As warm as a room.
    Warm,
    /// What food takes up.
    TakesUp,
    /// What tells a heat: "the probe says ninety".
    Probe,
    /// What a pan stands on.
    Flame,
    /// What one drinks from.
    Glass,
    /// Of what is not used yet: "held for the top".
    KeptBack,
    /// Of what does not spoil: "they keep".
    Keeps,
    /// A verb that moves an amount: "bump the salt up to".
    Moves,
    /// What one batch has of what serves several: "our share of the oil".
    Share,
    /// Words of what is kept for later.
    Stores,
    /// What pieces lie in: "a tray of sixteen".
    Tray,
    /// Words that hold one way of making it beside another: "the hager ones", "and it's cheaper".
    Compares,
}

/// A word's sound.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sound {
    /// Consonants by class.
    pub consonants: String,
    /// The same with a mark for each run of vowels: `a`, `e` (and i, y) or `o` (and u).
    pub full: String,
    /// The same with voiced consonants told from voiceless ones.
    pub fine: String,
}

/// By what mangled names are found, and what is let be.
#[derive(Clone, Copy, Debug)]
pub struct NameWords {
    /// Words that are no part of a name, whatever they sound like; a space between, as below.
    pub small: &'static str,
    /// Small words that no name ends in: what comes before them is all of it.
    pub ends_none: &'static str,
    /// The same behind a plural: "jalapenos are".
    pub ends_no_plural: &'static str,
    /// What stands in every kitchen, and in no name, alone or run together with words beside it.
    pub themselves: &'static str,
    /// What is done with food, or stands before a name: the name comes next, or behind a small word.
    pub verbs: &'static str,
    /// What stands behind a verb and behind no name: "bring it up".
    pub objects: &'static str,
    /// Measures that no scale has: what comes behind "of" is food.
    pub handfuls: &'static str,
    /// What the breath of a name's middle or end is heard as.
    pub breath: &'static str,
    /// Words that mean something else without their accent.
    pub other_without_accent: &'static [&'static str],
    /// Whether two words are forms or spellings of one.
    pub alike: fn(&str, &str) -> bool,
    /// What is heard of a word behind these letters: "pop he" has no "f" in it, and "hazel knots" no "k".
    pub spoken: for<'w> fn(&str, &'w str) -> &'w str,
    /// The sound of small letters without accents, several words run together.
    pub sound: fn(&str) -> Sound,
}

/// A language.
#[derive(Clone, Copy, Debug)]
pub struct Language {
    /// Words by meaning, a space between.
    pub words: &'static [(Sense, &'static str)],
    /// Runs of words by what they do, a semicolon between.
    pub phrases: &'static [(Role, &'static str)],
    /// Words by topic, a space between.
    pub cues: &'static [(Cue, &'static str)],
    /// Words by what they hint at, a space between, in every form they have.
    pub hints: &'static [(Hint, &'static str)],
    /// What is too short to be a unit anywhere but right behind a digit, and the word of that unit.
    pub behind_digits: &'static [(&'static str, &'static str)],
    /// Sounds that fill a pause.
    pub fillers: &'static [&'static str],
    /// Pairs of words that say nothing: "you know".
    pub asides: &'static [(&'static str, &'static str)],
    /// Words that end where a plural of a noun does.
    pub plural: fn(&str) -> bool,
    /// The singular of a noun, and any other word as it is.
    pub singular: fn(&str) -> String,
    /// The form by which forms of one word are alike: "frying" and "fry".
    pub stem: fn(&str) -> String,
    /// What the last part of a name in one word is called alone: "nuts" for "walnuts".
    pub heads: &'static [&'static str],
    /// Whether what is to come hangs on a word: "that'll".
    pub will: fn(&str) -> bool,
    /// Whether a word ends as what has been done to a thing does: "cracked".
    pub participle: fn(&str) -> bool,
    /// A key that is alike for words that sound alike.
    pub sound: fn(&str) -> String,
    /// Of mangled names.
    pub names: NameWords,
}

/// A language's tables, ready to be looked up.
#[derive(Debug)]
pub struct Lexicon {
    /// The language.
    pub language: Language,
    words: HashMap<&'static str, Word>,
    phrases: HashMap<&'static str, Vec<(Vec<&'static str>, Role)>>,
}

/// All that a word can mean.
#[derive(Debug, Default)]
pub struct Word {
    /// In a number or near one.
    pub senses: Vec<Sense>,
    /// By its topic.
    pub cues: Vec<Cue>,
    /// Beside other words.
    pub hints: Vec<Hint>,
}

/// A word that means nothing.
static UNKNOWN: Word = Word { senses: Vec::new(), cues: Vec::new(), hints: Vec::new() };

/// Puts rows of words by meaning into a table of words.
fn insert<T: Copy>(
    words: &mut HashMap<&'static str, Word>,
    rows: &[(T, &'static str)],
    meanings: impl Fn(&mut Word) -> &mut Vec<T>,
) {
    for (meaning, list) in rows {
        for text in list.split_whitespace() {
            meanings(words.entry(text).or_default()).push(*meaning);
        }
    }
}

impl Lexicon {
    /// Puts the tables of `language` in order.
    pub fn new(language: &Language) -> Self {
        let mut words = HashMap::default();
        insert(&mut words, language.words, |word| &mut word.senses);
        insert(&mut words, language.cues, |word| &mut word.cues);
        insert(&mut words, language.hints, |word| &mut word.hints);
        let mut phrases: HashMap<_, Vec<(Vec<&str>, Role)>> = HashMap::default();
        for (role, list) in language.phrases {
            for phrase in list.split(';') {
                let words: Vec<&str> = phrase.split_whitespace().collect();
                phrases.entry(words[0]).or_default().push((words, *role));
            }
        }
        // The longest first: "more or less than" is no "more or less".
        phrases.values_mut().for_each(|list| list.sort_by_key(|(words, _)| std::cmp::Reverse(words.len())));
        Self { language: *language, words, phrases }
    }

    /// All that a word can mean.
    pub fn word(&self, text: &str) -> &Word {
        self.words.get(text).unwrap_or(&UNKNOWN)
    }

    /// What a word can mean in a number or near one.
    pub fn senses(&self, text: &str) -> &[Sense] {
        &self.word(text).senses
    }

    /// Topics that a word tells of.
    pub fn cues(&self, text: &str) -> &[Cue] {
        &self.word(text).cues
    }

    /// The longest phrase that begins a run of words, its role and its length; phrases of another role than
    /// `wanted` are passed over.
    pub fn phrase<'t>(
        &self,
        mut at: impl FnMut(usize) -> Option<&'t str>,
        wanted: impl Fn(Role) -> bool,
    ) -> Option<(Role, usize)> {
        let list = self.phrases.get(at(0)?)?;
        let fits = |words: &[&str], at: &mut dyn FnMut(usize) -> Option<&'t str>| {
            words.iter().enumerate().all(|(i, word)| at(i) == Some(word))
        };
        let found = list.iter().find(|(words, role)| wanted(*role) && fits(words, &mut at))?;
        Some((found.1, found.0.len()))
    }
}

/// A unit's size in the base unit of its kind; temperatures are turned by [`in_base`].
pub fn size(unit: SaidUnit, measures: Measures) -> Exact {
    match unit {
        SaidUnit::Unit(unit) => unit.size(measures),
        SaidUnit::Degrees | SaidUnit::Major(_) | SaidUnit::Dollar => Exact::one(),
        SaidUnit::Days(days) => Exact::from(days * 86_400),
        SaidUnit::Minor(_) => Exact::ratio(1, 100),
        SaidUnit::PoundOrMoney => Unit::Pound.size(measures),
    }
}
