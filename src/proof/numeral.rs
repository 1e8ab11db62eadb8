//! Reads a number out of tokens: in words, in digits, in both; with decimals and kitchen fractions. Must not know
//! units, or which words a language has for what.

use super::lexicon::Sense;
use super::token::{Gap, Token};
use crate::exact::Exact;
use crate::sheet::Kind;

/// What sort of wording a number came in, where that leaves more than one reading.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Wording {
    /// Only one way to read it.
    Plain,
    /// "one eighty": a hundred and eighty, or 1 and 80.
    Short(i64, i64),
    /// "ten fifteen", "2 5": two numbers with nothing between, and where the second starts.
    Pair(Exact, Exact, usize),
    /// A fraction alone: "half", "three quarters".
    Fraction,
    /// "a dozen", "a couple".
    Group,
}

/// A number as read.
#[derive(Clone, Debug)]
pub struct Numeral {
    /// Its value.
    pub value: Exact,
    /// The step of the precision it was said at.
    pub step: Exact,
    /// How it was worded.
    pub wording: Wording,
    /// One past its last token.
    pub end: usize,
    /// Whether it was the one word "one", which is a pronoun as often as a number.
    pub lone_one: bool,
}

impl Numeral {
    fn value_as_i64(&self) -> i64 {
        self.value.to_i64().unwrap_or(0)
    }
}

/// Tokens that numbers are read from.
#[derive(Clone, Copy)]
pub struct Tape<'t>(pub &'t [Token]);

/// A whole number and where it ends.
#[derive(Clone, Copy)]
struct Whole {
    value: i64,
    end: usize,
    short: Option<(i64, i64)>,
}

impl<'t> Tape<'t> {
    /// The token at a place.
    pub fn at(self, i: usize) -> Option<&'t Token> {
        self.0.get(i)
    }

    /// Whether the token there can mean `sense`.
    pub fn is(self, i: usize, sense: Sense) -> bool {
        self.at(i).is_some_and(|token| token.is(sense))
    }

    /// Whether the token there follows the one before it without a mark between.
    pub fn flows(self, i: usize) -> bool {
        self.at(i).is_some_and(|token| token.gap == Gap::None)
    }

    /// The token there if it flows and can mean `sense`.
    pub fn next_is(self, i: usize, sense: Sense) -> bool {
        self.flows(i) && self.is(i, sense)
    }

    fn ones(self, i: usize) -> Option<i64> {
        let token = self.at(i)?;
        let single = token.digits.as_ref().filter(|d| d.places == Some(0) && d.value < Exact::from(10));
        let digit = single.and_then(|d| d.value.to_i64()).filter(|n| *n > 0);
        digit.or_else(|| token.senses.iter().find_map(|s| if let Sense::Ones(n) = s { Some(*n) } else { None }))
    }

    fn teens(self, i: usize) -> Option<i64> {
        self.at(i)?.senses.iter().find_map(|s| if let Sense::Teens(n) = s { Some(*n) } else { None })
    }

    fn tens(self, i: usize) -> Option<i64> {
        self.at(i)?.senses.iter().find_map(|s| if let Sense::Tens(n) = s { Some(*n) } else { None })
    }

    fn power(self, i: usize) -> Option<i64> {
        self.at(i)?.senses.iter().find_map(|s| if let Sense::Power(n) = s { Some(*n) } else { None })
    }

    fn part(self, i: usize) -> Option<i64> {
        self.at(i)?.senses.iter().find_map(|s| match s {
            Sense::Half => Some(2),
            Sense::Part(n) => Some(*n),
            _ => None,
        })
    }

    /// "oh five" behind the units of money: five, and where it ends.
    pub fn hundredths(self, i: usize) -> Option<(i64, usize)> {
        let ones = self.ones(i + 1).filter(|_| self.next_is(i, Sense::Oh) && self.flows(i + 1))?;
        Some((ones, i + 2))
    }

    /// A whole number in digits.
    fn written(self, i: usize) -> Option<i64> {
        let digits = self.at(i)?.digits.as_ref().filter(|d| d.places == Some(0))?;
        digits.value.to_i64()
    }

    /// Two digits, also "06".
    fn two_digits(self, i: usize) -> Option<i64> {
        let two = self.at(i).is_some_and(|token| token.text.len() == 2);
        self.written(i).filter(|value| (10..100).contains(value) || two && *value < 10)
    }

    /// A number below a hundred, in words or digits.
    fn small(self, i: usize) -> Option<(i64, usize)> {
        if let Some(tens) = self.tens(i) {
            let ones = self.ones(i + 1).filter(|_| self.flows(i + 1) && self.power(i + 2) != Some(100));
            return Some(ones.map_or((tens, i + 1), |ones| (tens + ones, i + 2)));
        }
        if let Some(teens) = self.teens(i) {
            return Some((teens, i + 1));
        }
        if let Some(written) = self.written(i).filter(|n| *n < 100 && *n > 0) {
            return Some((written, i + 1));
        }
        self.ones(i).map(|ones| (ones, i + 1))
    }

    /// A whole number: "twenty-five", "a hundred and twenty", "twelve hundred", "one eighty", "120", "100 and 20".
    fn whole(self, i: usize) -> Option<Whole> {
        let article = self.is(i, Sense::Article) && self.flows(i + 1) && self.power(i + 1).is_some();
        if let Some(value) = self.written(i) {
            if self.power(i + 1).is_some() && self.flows(i + 1) && value < 1000 {
                return self.powers(value, i + 1);
            }
            // "8 90": of a price, or of hundreds; but "3 10 minute rests" are two numbers.
            // "29 04" as well
            let zero = self.at(i + 1).is_some_and(|token| token.text.starts_with('0'));
            let head = (1..10).contains(&value) || zero && (10..100).contains(&value);
            let tail = self.two_digits(i + 1).filter(|_| head);
            let lasting =
                self.at(i + 2).and_then(Token::unit).is_some_and(|unit| unit.kind(Kind::Weight) == Kind::Duration);
            if let Some(tail) = tail.filter(|_| self.flows(i + 1) && !lasting) {
                return Some(Whole { value: value * 100 + tail, end: i + 2, short: Some((value, tail)) });
            }
            let round = value >= 100 && value % 100 == 0;
            let tail = self.small(i + 2).filter(|_| round && self.next_is(i + 1, Sense::And) && self.flows(i + 2));
            let tail = tail.filter(|(_, end)| self.tail_belongs(*end));
            return Some(match tail {
                Some((small, end)) => Whole { value: value + small, end, short: None },
                None => Whole { value, end: i + 1, short: None },
            });
        }
        if article || self.power(i).is_some() {
            return self.powers(1, if article { i + 1 } else { i });
        }
        // "twenty-five hundred"; behind "two hundred and" it would be "forty | two hundred".
        let tens =
            self.tens(i).zip(self.ones(i + 1)).filter(|_| self.flows(i + 1) && self.next_is(i + 2, Sense::Power(100)));
        if let Some((tens, ones)) = tens {
            return self.powers(tens + ones, i + 2);
        }
        let (small, end) = self.small(i)?;
        if self.flows(end) && self.power(end).is_some() {
            return self.powers(small, end);
        }
        if let Some(value) = self.spelled(i) {
            return Some(Whole { value, end: i + 3, short: None });
        }
        // "one eighty", "two oh five", "eleven oh three"
        let ones = self.ones(i) == Some(small) && end == i + 1;
        let in_words = self.at(i).is_some_and(|t| t.digits.is_none());
        if in_words
            && self.next_is(end, Sense::Oh)
            && let Some(ones) = self.ones(end + 1).filter(|_| self.flows(end + 1))
        {
            return Some(Whole { value: small * 100 + ones, end: end + 2, short: Some((small, ones)) });
        }
        // "roll each one eleven centimetres across", "your dear one, ninety cents"
        // "apple, a sharp one, eighteen percent"
        let some = |at: usize| self.is(at, Sense::Article);
        let pronoun = small == 1
            && self.flows(i)
            && i > 0
            && (self.is(i - 1, Sense::Singles)
                || i > 1 && some(i - 2) && self.at(i - 1).is_some_and(|t| t.unit().is_none() && !t.contracted));
        if ones
            && in_words
            && !pronoun
            && self.flows(end)
            && (self.tens(end).is_some() || self.teens(end).is_some() || self.written_behind(i))
            && let Some((tail, end)) = self.tail_of_short(end)
            && !(self.flows(end) && self.power(end).is_some())
        {
            return Some(Whole { value: small * 100 + tail, end, short: Some((small, tail)) });
        }
        Some(Whole { value: small, end, short: None })
    }

    /// The tail of "one eighty"; in "one fifty three fifty" the three begins the next.
    fn tail_of_short(self, i: usize) -> Option<(i64, usize)> {
        let tens = self.tens(i).filter(|_| self.flows(i + 1) && self.flows(i + 2) && self.ones(i + 1).is_some());
        let goes_on =
            self.flows(i + 3) && (self.ones(i + 3).is_some() || self.at(i + 3).is_some_and(|t| t.unit().is_some()));
        match tens.filter(|_| self.tens(i + 2).is_some() && !goes_on) {
            Some(tens) => Some((tens, i + 1)),
            None => self.small(i),
        }
    }

    /// "one 80", as captions write "one eighty"; "the other one 20 grams" and "two 15 minute rests" are two numbers.
    fn written_behind(self, i: usize) -> bool {
        let pronoun = self.is(i, Sense::Ones(1))
            && self.flows(i)
            && i.checked_sub(1).and_then(|before| self.at(before)).is_some_and(|before| {
                [Sense::Determiner, Sense::Singles, Sense::Left].iter().any(|sense| before.is(*sense))
            });
        let lasting =
            |at: usize| self.at(at).and_then(Token::unit).is_some_and(|unit| unit.kind(Kind::Weight) == Kind::Duration);
        // "I use two, 10 to 12 hours"
        let lasts = lasting(i + 2) || self.is(i + 2, Sense::To) && lasting(i + 4);
        self.two_digits(i + 1).is_some() && !pronoun && !lasts
    }

    /// "six three nine": a number told digit by digit, where the digits do not count.
    fn spelled(self, i: usize) -> Option<i64> {
        let digit = |at: usize| self.ones(at).filter(|_| self.at(at).is_some_and(|token| token.digits.is_none()));
        let (a, b, c) = (digit(i)?, digit(i + 1)?, digit(i + 2)?);
        let close = self.flows(i + 1) && self.flows(i + 2);
        let goes_on = self.flows(i + 3)
            && (self.ones(i + 3).is_some() || self.power(i + 3).is_some() || self.next_is(i + 3, Sense::Point));
        (close && !goes_on && b - a != c - b).then_some(a * 100 + b * 10 + c)
    }

    /// What follows "… hundred" or "… thousand", which stands at `i`.
    fn powers(self, head: i64, i: usize) -> Option<Whole> {
        let power = self.power(i)?;
        let mut value = head.checked_mul(power)?;
        let mut end = i + 1;
        if power == 100 && self.flows(end) && self.power(end) == Some(1000) {
            (value, end) = (value.checked_mul(1000)?, end + 1);
        }
        let and = self.next_is(end, Sense::And);
        let from = if and { end + 1 } else { end };
        if !self.flows(from) {
            return Some(Whole { value, end, short: None });
        }
        let rest = if value % 1000 == 0 && !and {
            self.whole(from).filter(|rest| rest.value < 1000 && rest.short.is_none()).map(|rest| (rest.value, rest.end))
        } else {
            let article = self.is(from, Sense::Article);
            self.small(from).filter(|_| !article).filter(|(_, tail)| self.tail_belongs(*tail))
        };
        if let Some((rest, tail)) = rest.filter(|(rest, _)| value % 1000 == 0 || *rest < 100) {
            (value, end) = (value + rest, tail);
            if self.flows(end) && self.power(end) == Some(1000) && value < 1000 {
                (value, end) = (value * 1000, end + 1);
            }
        }
        Some(Whole { value, end, short: None })
    }

    /// Whether a number behind "hundred and" is its tail: "a hundred and one hundred" has none.
    fn tail_belongs(self, end: usize) -> bool {
        !(self.flows(end) && self.power(end) == Some(100))
    }

    /// The decimals behind a point at `i`: their digits and where they end.
    fn decimals(self, i: usize) -> Option<(String, usize)> {
        let (mut digits, mut end) = (String::new(), i);
        while digits.len() < 6 && (end == i || self.flows(end)) {
            if self.is(end, Sense::Oh) {
                digits.push('0');
            } else if let Some(written) = self.written(end).filter(|n| *n < 10 || digits.is_empty()) {
                digits.push_str(&written.to_string());
            } else if let Some(ones) = self.ones(end) {
                digits.push_str(&ones.to_string());
            } else if let Some((small, after)) = self.small(end).filter(|_| digits.is_empty()) {
                digits.push_str(&small.to_string());
                end = after;
                break;
            } else {
                break;
            }
            end += 1;
        }
        (!digits.is_empty()).then_some((digits, end))
    }

    /// A kitchen fraction at `i`: "half", "a half", "three quarters", "1/2". Its value, denominator and end.
    fn fraction(self, i: usize) -> Option<(Exact, i64, usize)> {
        let digits = self.at(i)?.digits.as_ref();
        if let Some(digits) = digits.filter(|digits| digits.places.is_none() && digits.value < Exact::one()) {
            return Some((digits.value.clone(), digits.parts, i + 1));
        }
        let article = self.is(i, Sense::Article);
        let count = if article { Some(1) } else { self.ones(i) };
        if let (Some(count), true) = (count, self.flows(i + 1)) {
            let part = self.part(i + 1).filter(|part| count < *part);
            // "a second half", "one third" but not "a third one"
            return part.map(|part| (Exact::ratio(count, part), part, i + 2));
        }
        let bare = self.part(i).filter(|part| matches!(part, 2 | 4));
        bare.filter(|_| !article).map(|part| (Exact::ratio(1, part), part, i + 1))
    }

    /// The number that starts at `i`, as far as it goes.
    pub fn numeral(self, i: usize) -> Option<Numeral> {
        let first = self.at(i)?;
        // "the onion, the red one, twelve percent"
        let told = self.flows(i) && i > 1 && self.is(i - 1, Sense::Describes) && self.is(i - 2, Sense::Determiner);
        if told && self.is(i, Sense::Ones(1)) && first.digits.is_none() {
            return None;
        }
        // "that one and half in that one"
        let pronoun = self.flows(i) && i.checked_sub(1).is_some_and(|before| self.is(before, Sense::This));
        if pronoun && self.is(i, Sense::Ones(1)) && self.next_is(i + 1, Sense::And) {
            return None;
        }
        if let Some(digits) = first.digits.as_ref().filter(|d| d.places != Some(0)) {
            let step = match digits.places {
                Some(places) => Exact::power_of_ten(places),
                None => Exact::from(finer(digits.parts)),
            };
            let lone = digits.places.is_none() && digits.value < Exact::one();
            let wording = if lone { Wording::Fraction } else { Wording::Plain };
            let step = Exact::one() / step;
            return Some(Numeral { value: digits.value.clone(), step, wording, end: i + 1, lone_one: false });
        }
        if let Some((value, part, end)) = self.fraction(i) {
            let numeral = |value, end| {
                let step = Exact::ratio(1, finer(part));
                Numeral { value, step, wording: Wording::Fraction, end, lone_one: false }
            };
            // "half a dozen"
            let group = if self.is(end, Sense::Article) { end + 1 } else { end };
            if let Some(size) = self.group(group).filter(|_| self.flows(group)) {
                let value = value * Exact::from(size);
                let wording = Wording::Group;
                return Some(Numeral { value, step: Exact::one(), wording, end: group + 1, lone_one: false });
            }
            return Some(numeral(value, end));
        }
        // "in a point 5 cm long"
        let noun = i > 0 && self.is(i - 1, Sense::Article) && self.flows(i);
        if self.is(i, Sense::Point) && !noun
            || (self.is(i, Sense::Oh) || self.is(i, Sense::SoundsLike(0))) && self.next_is(i + 1, Sense::Point)
        {
            let from = if self.is(i, Sense::Point) { i + 1 } else { i + 2 };
            if !self.flows(from) {
                return None;
            }
            let (digits, end) = self.decimals(from)?;
            return decimal("0", &digits, end);
        }
        if let Some(size) = self.group(i + 1).filter(|_| self.flows(i + 1)) {
            let count = if self.is(i, Sense::Article) { Some(1) } else { self.ones(i) };
            if let Some(count) = count {
                let (value, wording) = (Exact::from(count * size), Wording::Group);
                return Some(Numeral { value, step: Exact::one(), wording, end: i + 2, lone_one: false });
            }
        }
        let whole = self.whole(i)?;
        self.tail(i, whole)
    }

    fn group(self, i: usize) -> Option<i64> {
        self.at(i)?.senses.iter().find_map(|s| if let Sense::Group(n) = s { Some(*n) } else { None })
    }

    /// What may follow a whole number: decimals, a fraction, or a second number with nothing between.
    fn tail(self, i: usize, whole: Whole) -> Option<Numeral> {
        let Whole { value, end, short } = whole;
        if self.next_is(end, Sense::Point)
            && self.flows(end + 1)
            && let Some((digits, end)) = self.decimals(end + 1)
        {
            // "three point three point six": begun anew.
            if self.next_is(end, Sense::Point) && digits.len() == 1 && end - 1 > i {
                return self.numeral(end - 1);
            }
            return decimal(&value.to_string(), &digits, end);
        }
        let and = self.next_is(end, Sense::And);
        let from = if and { end + 1 } else { end };
        let written = self.at(from).is_some_and(|t| t.digits.is_some());
        if self.flows(from)
            && (and || written)
            && let Some((part, parts, end)) = self.fraction(from)
            && (and || written)
            // "two and half the onion" is two, and half the onion.
            && !self.next_is(end, Sense::Determiner)
            // "water a hundred and fourteen and half a gram of yeast" are two.
            && !(and && value >= 10 && self.is(from, Sense::Half) && self.next_is(end, Sense::Article))
        {
            let step = Exact::ratio(1, finer(parts));
            let value = Exact::from(value) + part;
            return Some(Numeral { value, step, wording: Wording::Plain, end, lone_one: false });
        }
        let lone_one = value == 1 && end == i + 1;
        let mut numeral =
            Numeral { value: Exact::from(value), step: Exact::one(), wording: Wording::Plain, end, lone_one };
        if let Some((head, tail)) = short {
            numeral.wording = Wording::Short(head, tail);
            return Some(numeral);
        }
        if let Some(second) = self.second(i, &numeral) {
            // "for thirty | two seventy-eight the tray"
            let range = value < second.value_as_i64() && second.value_as_i64() <= value * 2;
            let leads = [Sense::For, Sense::Into, Sense::To];
            let led = i.checked_sub(1).is_some_and(|before| leads.iter().any(|sense| self.is(before, *sense)));
            if led && !range && value < 100 && self.tens(i).is_some() && end == i + 2 && self.short_at(i + 1) {
                let value = Exact::from(self.tens(i).unwrap_or(value));
                return Some(Numeral { value, end: i + 1, ..numeral });
            }
            let (value, end) = (second.value.clone(), second.end);
            numeral.wording = Wording::Pair(numeral.value.clone(), value.clone(), numeral.end);
            numeral.step = second.step;
            numeral.lone_one = false;
            (numeral.value, numeral.end) = (value, end);
        }
        Some(numeral)
    }

    /// Whether a number such as "two seventy-eight" starts there.
    fn short_at(self, i: usize) -> bool {
        self.whole(i).is_some_and(|whole| whole.short.is_some())
    }

    /// A second number right behind the first: "ten fifteen", "2 5", "20 25".
    fn second(self, i: usize, first: &Numeral) -> Option<Numeral> {
        let at = first.end;
        let number = self.flows(at) && (self.written(at).is_some() || self.small(at).is_some());
        let number = number && self.fraction(at).is_none();
        // "18 inches by 13, 14 to 16 minutes", "divide by two, 1 euro 31", "four by four, sixteen squares"
        let side = i > 0 && self.is(i - 1, Sense::By);
        if !number
            || side
            || self.at(at).is_some_and(|t| t.attached)
            || self.at(i).is_some_and(|t| t.is(Sense::Article))
        {
            return None;
        }
        let whole = self.whole(at)?;
        // "bowl number two 1 and a quarter cups": the fraction is of the second.
        if self.next_is(whole.end, Sense::And) && self.flows(whole.end + 1) && self.fraction(whole.end + 1).is_some() {
            return None;
        }
        // "twenty-six one fold": a one behind a number counts something else.
        if whole.value == 1 && self.written(at).is_none() {
            return None;
        }
        let plain = |end| Numeral {
            value: Exact::from(whole.value),
            step: Exact::one(),
            wording: Wording::Plain,
            end,
            lone_one: false,
        };
        // "one ninety-six | two point four grams": decimals are of the second alone.
        if whole.short.is_some() || self.next_is(whole.end, Sense::Point) {
            return None;
        }
        Some(plain(whole.end))
    }
}

/// The denominator of the precision of a fraction: halves are meant to the quarter.
fn finer(parts: i64) -> i64 {
    if parts == 2 { 4 } else { parts }
}

fn decimal(whole: &str, decimals: &str, end: usize) -> Option<Numeral> {
    let value = Exact::from_decimal(&format!("{whole}.{decimals}"))?;
    let places = u32::try_from(decimals.len()).ok()?;
    let step = Exact::one() / Exact::power_of_ten(places);
    Some(Numeral { value, step, wording: Wording::Plain, end, lone_one: false })
}
