//! Words of a script as tokens: folded to plain small letters, numbers read, punctuation kept as the gap before a
//! token. Must not know a language's grammar or a recipe.

use super::hint::Hint;
use super::lexicon::{Lexicon, SaidUnit, Sense};
use crate::exact::Exact;

/// What stands between a token and the one before it, weakest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Gap {
    /// A space or nothing.
    None,
    /// A comma, a bracket, a dash.
    Comma,
    /// The end of a sentence or of a paragraph.
    Sentence,
}

/// A number in digits.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Digits {
    /// Its value.
    pub value: Exact,
    /// Decimal places written; `None` for a fraction such as 1/2.
    pub places: Option<u32>,
    /// The denominator of a fraction, or one.
    pub parts: i64,
}

/// A piece of a word.
#[derive(Clone, Debug)]
pub struct Token {
    /// Folded: small letters, no accents, no apostrophes.
    pub text: String,
    /// The word it is of, an index.
    pub word: usize,
    /// Characters of the word before it.
    pub offset: usize,
    /// What stands before it.
    pub gap: Gap,
    /// The number it is, in digits.
    pub digits: Option<Digits>,
    /// What it can mean.
    pub senses: &'static [Sense],
    /// What it tells of beside others.
    hints: &'static [Hint],
    /// Whether "is" may hang on it: "water's".
    pub contracted: bool,
    /// Whether it stands right behind the token before it, in the same word.
    pub attached: bool,
    /// Whether a minus sign stands right before it: "-18".
    pub below: bool,
    /// Whether it is the end of an aside that the next token takes the place of.
    aside: bool,
}

impl Token {
    /// Whether it can mean `sense`.
    pub fn is(&self, sense: Sense) -> bool {
        self.senses.contains(&sense)
    }

    /// Whether it hints at something beside other words.
    pub fn hints(&self, hint: Hint) -> bool {
        self.hints.contains(&hint)
    }

    /// The unit it can mean.
    pub fn unit(&self) -> Option<SaidUnit> {
        self.senses.iter().find_map(|sense| if let Sense::Unit(unit) = sense { Some(*unit) } else { None })
    }
}

/// Letters without accents, small. Latin letters of the European languages; others stay as they are.
pub fn fold(c: char) -> Option<char> {
    let small = c.to_lowercase().next().unwrap_or(c);
    Some(match small {
        'à' | 'á' | 'â' | 'ã' | 'ä' | 'å' | 'ā' => 'a',
        'ç' | 'č' | 'ć' => 'c',
        'è' | 'é' | 'ê' | 'ë' | 'ē' | 'ę' => 'e',
        'ì' | 'í' | 'î' | 'ï' | 'ı' => 'i',
        'ñ' | 'ń' => 'n',
        'ò' | 'ó' | 'ô' | 'õ' | 'ö' | 'ø' => 'o',
        'š' | 'ś' | 'ş' => 's',
        'ù' | 'ú' | 'û' | 'ü' => 'u',
        'ý' | 'ÿ' => 'y',
        'ž' | 'ź' | 'ż' => 'z',
        '\'' | '’' | '‘' | 'ʼ' => return None,
        _ => small,
    })
}

/// Folds a text: for names that are held against tokens.
pub fn folded(text: &str) -> String {
    text.chars().filter_map(fold).map(|c| if c.is_alphanumeric() { c } else { ' ' }).collect()
}

/// The tokens of words, each given with the gap before it. Fillers and sounds in square brackets
/// are left out.
pub fn tokens<'w>(words: impl IntoIterator<Item = (&'w str, Gap)>, lexicon: &'static Lexicon) -> Vec<Token> {
    let mut lexer = Lexer { lexicon, tokens: Vec::new(), gap: Gap::None, in_brackets: false, paused: false };
    for (word, (text, gap)) in words.into_iter().enumerate() {
        lexer.gap = lexer.gap.max(gap);
        lexer.in_brackets &= gap != Gap::Sentence;
        lexer.word(word, text);
    }
    lexer.without_asides()
}

struct Lexer {
    lexicon: &'static Lexicon,
    tokens: Vec<Token>,
    gap: Gap,
    in_brackets: bool,
    /// Whether the last word was a pause.
    paused: bool,
}

impl Lexer {
    /// The tokens without "you know" and its like.
    fn without_asides(self) -> Vec<Token> {
        let asides = self.lexicon.language.asides;
        let mut kept: Vec<Token> = Vec::with_capacity(self.tokens.len());
        for mut token in self.tokens {
            let pair = kept.last().is_some_and(|last| {
                token.gap == Gap::None && asides.contains(&(last.text.as_str(), token.text.as_str()))
            });
            if pair && let Some(last) = kept.pop() {
                token.gap = last.gap;
                kept.push(token);
                // What follows takes its place and its gap.
                kept.last_mut().into_iter().for_each(|aside| aside.aside = true);
                continue;
            }
            if kept.last().is_some_and(|last| last.aside)
                && let Some(last) = kept.pop()
            {
                token.gap = token.gap.max(last.gap);
            }
            kept.push(token);
        }
        kept
    }

    fn word(&mut self, word: usize, text: &str) {
        let chars: Vec<char> = text.chars().collect();
        let mut at = 0;
        let first = self.tokens.len();
        while at < chars.len() {
            let c = chars[at];
            if self.in_brackets {
                self.in_brackets = c != ']';
                at += 1;
                continue;
            }
            let next = chars.get(at + 1).copied().unwrap_or(' ');
            let start = at;
            let attached = self.tokens.len() > first && self.gap == Gap::None;
            if c.is_ascii_digit() || (c == '.' && next.is_ascii_digit()) || vulgar(c).is_some() {
                let count = self.tokens.len();
                at = self.digits(word, &chars, at, attached);
                if let Some(token) = self.tokens.get_mut(count) {
                    token.below = start == 1 && matches!(chars[0], '-' | '−' | '–');
                }
            } else if c.is_alphabetic() || c == '°' {
                while at < chars.len() && (chars[at].is_alphanumeric() || "'’‘ʼ°".contains(chars[at])) {
                    at += 1;
                }
                let folded: String = chars[start..at].iter().filter_map(|&c| fold(c)).collect();
                let contracted = at >= start + 3 && chars[at - 1] == 's' && "'’ʼ".contains(chars[at - 2]);
                let count = self.tokens.len();
                self.push(word, start, folded, None, attached);
                if let Some(token) = self.tokens.get_mut(count) {
                    token.contracted = contracted;
                }
            } else {
                self.mark(word, c, at, next, attached);
                at += 1;
            }
        }
    }

    /// Punctuation: a gap, a symbol that is a token, or nothing.
    fn mark(&mut self, word: usize, c: char, at: usize, next: char, attached: bool) {
        match c {
            '[' => self.in_brackets = true,
            '%' | '€' | '$' | '£' | '¢' => self.push(word, at, c.to_string(), None, attached),
            '℃' => self.push(word, at, "°c".into(), None, attached),
            '℉' => self.push(word, at, "°f".into(), None, attached),
            '/' if at == 0 && next == ' ' => self.push(word, at, "/".into(), None, false),
            '+' | '=' | '÷' | '×' => self.push(word, at, c.to_string(), None, attached),
            '-' | '–' | '‑' | '—' | '−' => {
                let number_before = self.tokens.last().is_some_and(|t| t.word == word && t.digits.is_some());
                let alone = at == 0 && next == ' ';
                if number_before && (next.is_ascii_digit() || vulgar(next).is_some()) {
                    self.push(word, at, "-".into(), None, attached);
                } else if alone && self.gap == Gap::None && self.tokens.last().is_some_and(|t| t.digits.is_some()) {
                    self.push(word, at, "-".into(), None, false);
                } else if c == '—' || alone {
                    self.gap = self.gap.max(Gap::Comma);
                }
            }
            '.' | '!' | '?' | '…' => self.gap = Gap::Sentence,
            ',' | ';' | ':' | '(' | ')' | '"' | '“' | '”' => self.gap = self.gap.max(Gap::Comma),
            _ => {}
        }
    }

    /// A number in digits, and the letters right behind it. Answers where it ends.
    fn digits(&mut self, word: usize, chars: &[char], start: usize, attached: bool) -> usize {
        let is_digit = |i: usize| chars.get(i).is_some_and(char::is_ascii_digit);
        let mut at = start;
        while is_digit(at) || (matches!(chars.get(at), Some('.' | ',' | '/' | ':')) && is_digit(at + 1)) {
            at += 1;
        }
        let text: String = chars[start..at].iter().collect();
        let mut value = if text.is_empty() { None } else { read(&text) };
        if let Some((top, bottom)) = chars.get(at).and_then(|&c| vulgar(c)) {
            let whole = value.as_ref().map_or_else(Exact::zero, |digits| digits.value.clone());
            value = (text.is_empty() || value.is_some()).then(|| Digits {
                value: whole + Exact::ratio(top, bottom),
                places: None,
                parts: bottom,
            });
            at += 1;
        }
        let letters = chars[at..].iter().take_while(|c| c.is_alphabetic() || **c == '°').count();
        let suffix: String = chars[at..at + letters].iter().filter_map(|&c| fold(c)).collect();
        // "the 1990s" are no seconds.
        let year = value.as_ref().is_some_and(|v| v.value >= Exact::from(1000));
        let spelled = self.lexicon.language.behind_digits.iter().find(|(short, _)| *short == suffix && !year);
        let spelled = spelled.map(|(_, unit)| *unit);
        let known = suffix.is_empty() || spelled.is_some() || self.lexicon.senses(&suffix).iter().any(is_unit);
        if !known || value.is_none() {
            let whole: String = chars[start..at + letters].iter().filter_map(|&c| fold(c)).collect();
            self.push(word, start, whole, None, attached);
            return at + letters;
        }
        let text = chars[start..at].iter().collect();
        self.push(word, start, text, value, attached);
        if !suffix.is_empty() {
            let suffix = spelled.map_or(suffix, str::to_owned);
            self.push(word, at, suffix, None, true);
        }
        at + letters
    }

    fn push(&mut self, word: usize, offset: usize, text: String, digits: Option<Digits>, attached: bool) {
        if digits.is_none() && self.lexicon.language.fillers.contains(&text.as_str()) {
            // "a hundred and, um, eighty": commas around a pause are no marks.
            self.paused = self.gap != Gap::Sentence;
            if self.paused {
                self.gap = Gap::None;
            }
            return;
        }
        let known = self.lexicon.word(&text);
        let (senses, hints): (&[_], &[_]) = if digits.is_some() { (&[], &[]) } else { (&known.senses, &known.hints) };
        let mut gap = std::mem::replace(&mut self.gap, Gap::None);
        if std::mem::take(&mut self.paused) && gap == Gap::Comma {
            gap = Gap::None;
        }
        // "and and twenty" is said once; a number twice may be two.
        let light = [Sense::And, Sense::Article, Sense::Of, Sense::Or, Sense::Point, Sense::Determiner];
        let again = self.tokens.last().is_some_and(|last| last.text == text && gap != Gap::Sentence);
        if again && light.iter().any(|sense| senses.contains(sense)) {
            return;
        }
        let (contracted, below, aside) = (false, false, false);
        self.tokens.push(Token { text, word, offset, gap, digits, senses, hints, attached, contracted, below, aside });
    }
}

fn is_unit(sense: &Sense) -> bool {
    matches!(sense, Sense::Unit(_) | Sense::By)
}

/// Digits with points, commas and a stroke; `None` for what is no plain number ("24/7", "1:30", "1.2.3").
fn read(text: &str) -> Option<Digits> {
    if text.contains(':') {
        return None;
    }
    if let Some((top, bottom)) = text.split_once('/') {
        let (top, bottom): (i64, i64) = (top.parse().ok()?, bottom.parse().ok()?);
        let kitchen = matches!(bottom, 2 | 3 | 4 | 5 | 6 | 8 | 16) && top < bottom && top > 0;
        return kitchen.then(|| Digits { value: Exact::ratio(top, bottom), places: None, parts: bottom });
    }
    let groups: Vec<&str> = text.split(',').collect();
    let grouped = groups.len() > 1
        && groups[0].len() <= 3
        && groups[1..].iter().all(|g| g.split('.').next().is_some_and(|whole| whole.len() == 3));
    let plain = if grouped { text.replace(',', "") } else { text.replacen(',', ".", 1) };
    let value = Exact::from_decimal(plain.trim_start_matches('0')).or_else(|| Exact::from_decimal(&plain))?;
    let places = plain.split_once('.').map_or(0, |(_, decimals)| u32::try_from(decimals.len()).unwrap_or(0));
    (plain.len() <= 12).then_some(Digits { value, places: Some(places), parts: 1 })
}

fn vulgar(c: char) -> Option<(i64, i64)> {
    Some(match c {
        '½' => (1, 2),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        '⅕' => (1, 5),
        '⅙' => (1, 6),
        _ => return None,
    })
}
