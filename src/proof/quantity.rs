//! Numbers with their units as they are said: ranges, compounds, leeway. Must not know a recipe; whether a number
//! without a unit means anything is for others to say.

use super::lexicon::{Leeway, Lexicon, Role, SaidUnit, Sense, size};
use super::numeral::{Numeral, Tape, Wording};
use super::token::{Gap, Token};
use crate::exact::{Exact, Measures, Unit};
use crate::sheet::Kind;

/// A value said, in the unit it was said in.
#[derive(Clone, Debug)]
pub struct Quantity {
    /// First token.
    pub start: usize,
    /// One past the last token.
    pub end: usize,
    /// Lower end, in `unit`.
    pub low: Exact,
    /// Upper end, in `unit`; the same as the lower for one value.
    pub high: Exact,
    /// The step of the precision it was said at, in `unit`.
    pub step: Exact,
    /// The unit; `None` where it was left out.
    pub unit: Option<SaidUnit>,
    /// How exact it is meant.
    pub leeway: Leeway,
    /// Said to come on top of what was said before.
    pub more: bool,
    /// A fraction without a unit: "half" of something.
    pub fraction: bool,
    /// "one eighty": its parts, which are another value in money.
    pub short: Option<(i64, i64)>,
    /// Two numbers with nothing between: what may be a price of so many and so many hundredths.
    pub pair: Option<(i64, i64)>,
    /// The one word "one", or an article: a pronoun as often as a number.
    pub lone_one: bool,
}

impl Quantity {
    /// Whether it is a hundred or more, said as one number and no price such as "one eighty".
    pub fn is_hundreds(&self) -> bool {
        self.high >= Exact::from(100) && self.short.is_none() && self.pair.is_none()
    }
}

/// Reads quantities off tokens.
#[derive(Clone, Copy)]
pub struct Reader<'t> {
    /// The tokens.
    pub tape: Tape<'t>,
    /// The language.
    pub lexicon: &'static Lexicon,
    /// Whose spoons and cups.
    pub measures: Measures,
}

/// A number with or without a unit, before it is one end of a range.
pub(super) struct Simple {
    pub(super) numeral: Option<Numeral>,
    pub(super) low: Exact,
    pub(super) high: Exact,
    pub(super) step: Exact,
    pub(super) unit: Option<SaidUnit>,
    pub(super) start: usize,
    pub(super) end: usize,
    pub(super) more: bool,
    pub(super) fraction: bool,
}

impl<'t> Reader<'t> {
    /// Every quantity, in the order said; they don't overlap.
    pub fn all(self) -> Vec<Quantity> {
        let mut found = Vec::new();
        let mut at = 0;
        while at < self.tape.0.len() {
            match self.quantity(at) {
                Some(quantity) => {
                    found.extend(self.passed_over(at, &quantity));
                    at = quantity.end.max(at + 1);
                    found.push(quantity);
                }
                None => at += 1,
            }
        }
        found
    }

    /// A number that stands alone right before another: "on the bench fifteen | forty-five minutes".
    fn passed_over(self, from: usize, next: &Quantity) -> Option<Quantity> {
        let until = Reader { tape: Tape(self.tape.0.get(..next.start).filter(|_| next.start > from)?), ..self };
        let passed = until.quantity(from).filter(|passed| passed.end == next.start && passed.unit.is_none())?;
        // "forty, forty-five grams" only starts again.
        let ten = Exact::from(10);
        let result = passed.start > 0 && self.tape.is(passed.start - 1, Sense::Is);
        let again = if passed.high == next.low { !result } else { passed.high == (&next.low / &ten).floor() * &ten };
        (!again).then_some(passed)
    }

    /// The quantity that starts at `i`.
    fn quantity(self, i: usize) -> Option<Quantity> {
        let between = self.tape.is(i, Sense::Between);
        // "between your eighteen and twenty"
        let the = between && self.tape.next_is(i + 1, Sense::Determiner);
        let start = i + usize::from(between) + usize::from(the);
        let first = self.simple(start)?;
        if let Some(range) = self.range(&first, between) {
            return Some(self.finish(range));
        }
        if let Some(heat) = self.heat_before_range(start, &first) {
            return Some(self.finish(heat));
        }
        if between {
            return None;
        }
        Some(self.finish(first))
    }

    /// "at two hundred eighteen to twenty minutes": a heat, and a time from eighteen.
    fn heat_before_range(self, i: usize, first: &Simple) -> Option<Simple> {
        let round = self.tape.next_is(i + 1, Sense::Power(100)) && first.end > i + 2 && first.unit.is_none();
        let until = self.connector(first.end, false).filter(|_| round)?;
        let second = self.simple(until).filter(|second| second.unit == Some(SaidUnit::Unit(Unit::Minute)))?;
        let tail = self.tape.numeral(i + 2).filter(|tail| tail.end == first.end && tail.value < second.high)?;
        let hundreds = Reader { tape: Tape(self.tape.0.get(..i + 2)?), ..self };
        let heat = hundreds
            .tape
            .numeral(i)
            .filter(|heat| second.high < first.low && &heat.value + &tail.value == first.low)?;
        hundreds.bare(i, heat)
    }

    /// A range that starts with `first`.
    fn range(self, first: &Simple, between: bool) -> Option<Simple> {
        if first.low != first.high || first.fraction && first.unit.is_none() && !between {
            // "half to three quarters of a cup"
            let half = first.fraction && first.low == first.high;
            if !half {
                return None;
            }
        }
        let at = self.connector(first.end, between)?;
        let second = self.simple(at).filter(|second| second.low == second.high)?;
        // "half a cup or one stick" are two as well.
        let other = |sense| self.tape.next_is(second.end, sense) && second.unit.is_none() && first.unit.is_some();
        // "four euros twenty-eight, or 21 to 24 cents": the second is a range of its own.
        if first.unit.is_some() && self.connector(second.end, false).is_some_and(|to| self.simple(to).is_some()) {
            return None;
        }
        if self.tape.is(second.end, Sense::Times) && first.unit.is_some() || other(Sense::Portion) {
            return None;
        }
        let (unit, low, high) = match (first.unit, second.unit) {
            (Some(a), Some(b)) if a == b => (Some(a), first.low.clone(), second.low.clone()),
            // "they keep a week, or sixty days in the freezer" are two.
            (Some(_), Some(_)) if self.tape.at(first.end).is_some_and(|token| token.gap == Gap::Comma) => return None,
            (Some(a), Some(b)) if same_kind(a, b) => {
                let low = &first.low * size(a, self.measures) / size(b, self.measures);
                (Some(b), low, second.low.clone())
            }
            (Some(_), Some(_)) => return None,
            (Some(a), None) => (Some(a), first.low.clone(), second.low.clone()),
            (None, unit) => (unit, first.low.clone(), second.low.clone()),
        };
        let widest = match unit.map(|unit| unit.kind(Kind::Weight)) {
            Some(Kind::Weight | Kind::Volume) if first.unit.is_some() => 2,
            // "they keep two days or sixteen days in the freezer" are two.
            Some(Kind::Duration) if first.unit == second.unit && self.tape.is(first.end, Sense::Or) => 3,
            Some(Kind::Duration) => 15,
            _ => 6,
        };
        if high <= low || high > &low * Exact::from(widest) {
            return None;
        }
        let step = first.step.clone().min(second.step.clone());
        let fraction = second.fraction && unit.is_none();
        Some(Simple {
            numeral: None,
            low,
            high,
            step,
            unit,
            start: first.start,
            end: second.end,
            more: first.more,
            fraction,
        })
    }

    /// Words between the ends of a range; answers where the upper end starts.
    fn connector(self, i: usize, between: bool) -> Option<usize> {
        let (mut at, mut joined) = (i, false);
        while at < i + 4 {
            let token = self.tape.at(at)?;
            let loose = token.is(Sense::Or) || token.is(Sense::Maybe);
            if token.gap == Gap::Sentence || token.gap == Gap::Comma && !loose {
                return None;
            }
            let is = |sense| token.is(sense);
            let joins = is(Sense::To) || is(Sense::Or) || is(Sense::Dash) || is(Sense::Maybe);
            if !(joins || between && !joined && is(Sense::And)) {
                break;
            }
            (at, joined) = (at + 1, true);
        }
        if !joined {
            return None;
        }
        let about = self.phrase(at, |role| matches!(role, Role::Before(_)));
        let at = at + about.map_or(0, |(_, length)| length);
        self.tape.at(at).filter(|token| token.gap == Gap::None).map(|_| at)
    }

    /// A phrase of a role that starts at `i` and holds together.
    pub fn phrase(self, i: usize, wanted: impl Fn(Role) -> bool) -> Option<(Role, usize)> {
        self.lexicon.phrase(
            |k| {
                let token = self.tape.at(i + k)?;
                (k == 0 || token.gap != Gap::Sentence).then_some(token.text.as_str())
            },
            wanted,
        )
    }

    /// The same where "is" may hang on its nouns: "the bowl's four euro five".
    pub fn phrase_of_subject(self, i: usize, wanted: impl Fn(Role) -> bool) -> Option<(Role, usize)> {
        self.lexicon.phrase(
            |k| {
                let token = self.tape.at(i + k).filter(|token| k == 0 || token.gap != Gap::Sentence)?;
                let noun = token.text.strip_suffix('s').filter(|_| token.contracted && token.senses.is_empty());
                Some(noun.unwrap_or(token.text.as_str()))
            },
            wanted,
        )
    }

    /// A number with its unit, or without one, at `i`.
    pub(super) fn simple(self, i: usize) -> Option<Simple> {
        if let Some(prefixed) = self.prefixed(i) {
            return Some(prefixed);
        }
        if let Some(one) = self.article(i) {
            return Some(one);
        }
        if let Some(heard) = self.heard(i) {
            return Some(heard);
        }
        // "freeze it at zero degrees": nothing else is nought of anything.
        let nought = self.tape.is(i, Sense::Oh).then(|| self.unit(i + 1, false)).flatten();
        if let Some((unit, end, _)) = nought.filter(|(unit, _, _)| unit.kind(Kind::Weight) == Kind::Temperature) {
            return Some(self.heard_as(i, 0, end, Some(unit)));
        }
        let numeral = self.tape.numeral(i)?;
        let fraction = numeral.wording == Wording::Fraction;
        // "1.25 a kilo" is a price, "one and a half of a cup" is not.
        let decimal = numeral.step.to_fraction().is_some_and(|(_, parts)| parts % 10 == 0);
        let of = self.tape.next_is(numeral.end, Sense::Of);
        let part = fraction || numeral.wording == Wording::Group || !numeral.value.is_whole() && (!decimal || of);
        let unit = self.unit(numeral.end, part);
        let Some((unit, end, more)) = unit else { return self.bare(i, numeral) };
        // "four hundred thirty-five minutes" of an oven are a heat and a time.
        let round = self.tape.is(i + 1, Sense::Power(100)) && self.tape.flows(i + 1) && numeral.end > i + 2;
        if round && unit == SaidUnit::Unit(Unit::Minute) && numeral.value >= Exact::from(200) {
            let until = Reader { tape: Tape(self.tape.0.get(..i + 2)?), ..self };
            return until.tape.numeral(i).and_then(|numeral| until.bare(i, numeral));
        }
        let (low, high, step, start) = self.resolved(&numeral, Some(unit), i);
        let simple =
            Simple { numeral: Some(numeral), low, high, step, unit: Some(unit), start, end, more, fraction: false };
        Some(self.compound(simple))
    }

    /// A number without a unit.
    fn bare(self, i: usize, numeral: Numeral) -> Option<Simple> {
        let fraction = numeral.wording == Wording::Fraction;
        let (low, high, step, start) = self.resolved(&numeral, None, i);
        let end = numeral.end;
        let more = self.tape.next_is(end, Sense::More);
        Some(Simple { numeral: Some(numeral), low, high, step, unit: None, start, end, more, fraction })
    }

    /// "€1.20", "$ 5".
    fn prefixed(self, i: usize) -> Option<Simple> {
        let token = self.tape.at(i)?;
        let symbol = matches!(token.text.as_str(), "€" | "$" | "£").then(|| token.unit()).flatten()?;
        let next = self.tape.at(i + 1).filter(|next| next.gap == Gap::None && next.digits.is_some())?;
        let digits = next.digits.as_ref()?;
        let places = digits.places?;
        let step = Exact::one() / Exact::power_of_ten(places);
        let (low, high) = (digits.value.clone(), digits.value.clone());
        let symbol = if token.text == "£" { SaidUnit::Major("GBP") } else { symbol };
        // "€1.20 euros" is said once.
        let said_twice = self.unit(i + 2, false).filter(|(unit, _, _)| unit.kind(Kind::Money) == Kind::Money);
        let end = said_twice.map_or(i + 2, |(_, end, _)| end);
        Some(Simple { numeral: None, low, high, step, unit: Some(symbol), start: i, end, more: false, fraction: false })
    }

    /// "a teaspoon", "an hour", "a minute and a half".
    fn article(self, i: usize) -> Option<Simple> {
        let article = self.tape.is(i, Sense::Article);
        let another = self.tape.is(i, Sense::OneMore);
        // "hour and a half" needs no article.
        let and_a_half = self.tape.next_is(i + 1, Sense::And)
            && self.tape.is(i + 2, Sense::Article)
            && self.tape.is(i + 3, Sense::Half)
            && i.checked_sub(1).and_then(|b| self.tape.numeral(b)).is_none();
        let from = if article || another { i + 1 } else { i };
        let alone = self.alone(i);
        if !(article || another || and_a_half || alone) {
            return None;
        }
        let (unit, end, _) = match (from == i, self.tape.at(i)?.unit()) {
            (true, Some(unit)) => (unit, i + 1, false),
            (true, None) => return None,
            (false, _) => self.unit(from, false)?,
        };
        let last = self.tape.at(end - 1);
        let short = last.is_some_and(|token| token.text.len() < 3 || token.is(Sense::NotAlone));
        if short || matches!(unit, SaidUnit::Degrees) {
            return None;
        }
        let simple = Simple {
            numeral: None,
            low: Exact::one(),
            high: Exact::one(),
            step: Exact::one(),
            unit: Some(unit),
            start: i,
            end,
            more: another,
            fraction: false,
        };
        Some(self.compound(simple))
    }

    /// A word that captions write for a number of the same sound: "for minutes", "to teaspoons of".
    fn heard(self, i: usize) -> Option<Simple> {
        let token = self.tape.at(i)?;
        let value = token.senses.iter().find_map(|s| if let Sense::SoundsLike(n) = s { Some(*n) } else { None })?;
        let before = i.checked_sub(1).and_then(|b| self.tape.at(b)).filter(|_| token.gap == Gap::None);
        let leads = |t: &Token| {
            t.is(Sense::For)
                || t.is(Sense::More)
                || self
                    .lexicon
                    .phrase(|k| (k == 0).then_some(t.text.as_str()), |r| matches!(r, Role::Before(_)))
                    .is_some()
        };
        // "for to five minutes"
        let joins = self.tape.next_is(i + 1, Sense::To) || self.tape.next_is(i + 1, Sense::Or);
        if joins && self.tape.flows(i + 2) && before.is_some_and(leads) {
            let next = self.tape.numeral(i + 2)?;
            if next.value == Exact::from(value + 1) && self.unit(next.end, false).is_some() {
                return Some(self.heard_as(i, value, i + 1, None));
            }
        }
        // "for at a time"
        let one_by_one = self.tape.flows(i + 1) && self.phrase(i + 1, |role| role == Role::AtATime).is_some();
        if one_by_one && value == 4 && before.is_none_or(|token| token.unit().is_none()) {
            return Some(self.heard_as(i, value, i + 1, None));
        }
        // "to hundred grams of flour"
        if let Some(Sense::Power(power)) = self.tape.at(i + 1).and_then(|next| next.senses.first().copied())
            && self.tape.flows(i + 1)
            && let Some((unit, end, _)) = self.unit(i + 2, false)
            && matches!(unit.kind(Kind::Weight), Kind::Weight | Kind::Volume)
        {
            return Some(self.heard_as(i, value * power, end, Some(unit)));
        }
        let (unit, end, _) = self.unit(i + 1, false)?;
        let plural = self.tape.at(end - 1).is_some_and(|t| t.text.len() > 2 && (self.lexicon.language.plural)(&t.text));
        let after_unit = before.is_some_and(|t| t.unit().is_some());
        let of = self.tape.is(end, Sense::Of);
        (plural && !after_unit && (of || before.is_some_and(leads))).then(|| self.heard_as(i, value, end, Some(unit)))
    }

    fn heard_as(self, start: usize, value: i64, end: usize, unit: Option<SaidUnit>) -> Simple {
        let (low, high, step) = (Exact::from(value), Exact::from(value), Exact::one());
        Simple { numeral: None, low, high, step, unit, start, end, more: false, fraction: false }
    }

    /// The unit at `i`, where it ends, and whether "more" stands before it. A fraction may be "of a" unit.
    pub fn unit(self, i: usize, fraction: bool) -> Option<(SaidUnit, usize, bool)> {
        let mut at = i;
        let mut more = false;
        if fraction {
            if self.tape.next_is(at, Sense::Of) {
                at += 1;
            }
            if self.tape.next_is(at, Sense::Article) {
                at += 1;
            }
        }
        for _ in 0..2 {
            if self.tape.next_is(at, Sense::Filling) {
                more |= self.tape.is(at, Sense::More);
                at += 1;
            }
        }
        let token = self.tape.at(at).filter(|token| token.gap == Gap::None)?;
        let next = self.tape.at(at + 1).filter(|next| next.gap == Gap::None);
        let next_unit = next.and_then(Token::unit);
        if token.is(Sense::Per) && matches!(next_unit, Some(SaidUnit::Minor(_))) {
            return Some((SaidUnit::Unit(Unit::Percent), at + 2, more));
        }
        if let Some(next) = next
            && let Some(unit @ SaidUnit::Unit(Unit::Teaspoon | Unit::Tablespoon | Unit::FluidOunce)) =
                self.lexicon.senses(&format!("{}{}", token.text, next.text)).iter().find_map(unit_of)
        {
            return Some((unit, at + 2, more));
        }
        let unit = token.unit()?;
        // One letter is a unit only right behind digits, and that of pence, which people say, behind any number.
        let letter = token.text.chars().count() == 1 && token.text.chars().all(char::is_alphabetic);
        let digits = i.checked_sub(1).and_then(|before| self.tape.at(before)).is_some_and(|t| t.digits.is_some());
        if letter && (at != i || !digits && !matches!(unit, SaidUnit::Minor(_))) {
            return None;
        }
        if unit == SaidUnit::Degrees
            && let Some(scale @ SaidUnit::Unit(Unit::Celsius | Unit::Fahrenheit)) = next_unit
        {
            return Some((scale, at + 2, more));
        }
        Some((unit, at + 1, more))
    }

    /// What a number means with its unit: its ends, its precision, where it starts.
    fn resolved(self, numeral: &Numeral, unit: Option<SaidUnit>, i: usize) -> (Exact, Exact, Exact, usize) {
        let kind = unit.map(|unit| unit.kind(Kind::Weight));
        let spans = matches!(kind, None | Some(Kind::Duration | Kind::Count | Kind::Temperature | Kind::Length));
        let one = |value: &Exact, step: &Exact| (value.clone(), value.clone(), step.clone(), i);
        match &numeral.wording {
            Wording::Plain | Wording::Fraction | Wording::Group => one(&numeral.value, &numeral.step),
            Wording::Short(head, tail) => {
                let range = matches!(kind, Some(Kind::Duration)) && head < tail && *tail <= 3 * head;
                if range {
                    (Exact::from(*head), Exact::from(*tail), Exact::one(), i)
                } else {
                    one(&numeral.value, &numeral.step)
                }
            }
            Wording::Pair(a, b, second) => {
                let ten = Exact::from(10);
                let hundreds = *a >= Exact::from(100) && (a / Exact::from(100)).is_whole() && *b < Exact::from(100);
                let digits = *a < ten && *b < ten;
                let next = *b == a + Exact::one();
                // "6 6 grams" is a lost point; "fifty fifty minutes" and "6 six grams" are said twice.
                let both = [i, *second].iter().all(|&at| self.tape.0[at].digits.is_some());
                let written = both && digits && matches!(kind, Some(Kind::Weight | Kind::Percent));
                // "is 460, 460 grams" is said twice, and the second has the unit.
                if a == b && !written {
                    let from = if kind.is_some() && i > 0 && self.tape.is(i - 1, Sense::Is) { *second } else { i };
                    return (b.clone(), b.clone(), Exact::one(), from);
                }
                if hundreds {
                    return one(&(a + b), &Exact::one());
                }
                // "forty, forty-five grams" starts again; "twenty, twenty-five minutes" is a range.
                let again = *a >= ten && (b / &ten).floor() * &ten == *a;
                if again && kind != Some(Kind::Duration) && kind != Some(Kind::Temperature) {
                    return (b.clone(), b.clone(), Exact::one(), *second);
                }
                // "baking powder 3 6": of a range the ends follow each other, or its unit is told.
                let lost = both && kind.is_none() && !next;
                if digits && (lost || !(spans || next && kind != Some(Kind::Percent))) {
                    let value = a + b / &ten;
                    return (value.clone(), value, Exact::ratio(1, 10), i);
                }
                // "15 6 grams", in digits
                let lost = both && *a > ten && *a < Exact::from(100) && *b < ten && !(a / &ten).is_whole();
                let weighed = matches!(kind, Some(Kind::Weight | Kind::Percent));
                if lost && (weighed || kind.is_none() && self.tape.at(*second + 1).is_none_or(|t| t.digits.is_none())) {
                    return one(&(a + b / &ten), &Exact::ratio(1, 10));
                }
                // "fourteen seventy", "seventeen fifty grams": money, or so many hundred.
                let tens = (a / &ten).is_whole();
                let apart = b > &(a * Exact::from(2)) || tens && b < a;
                // "27 15", in digits
                let listed = self.tape.next_is(*second + 1, Sense::And)
                    && self.tape.at(*second + 2).is_some_and(|token| token.digits.is_some());
                let apart = apart || both && kind.is_none() && b < a && !listed;
                // "fourteen, forty-one grams" begins anew.
                let told = if matches!(kind, None | Some(Kind::Money)) { true } else { !tens && (b / &ten).is_whole() };
                let spoken = *a >= ten && *b >= ten && *b < Exact::from(100) && *a < Exact::from(100) && apart && told;
                let large = matches!(kind, None | Some(Kind::Money | Kind::Weight | Kind::Volume));
                // "15 94" in digits is a price that lost its point; "30 18 grams" are two.
                if spoken && large && (kind.is_none() || self.tape.0[i].digits.is_none()) {
                    return one(&(a * Exact::from(100) + b), &Exact::one());
                }
                let widest = if spans { Exact::from(2) } else { Exact::ratio(3, 2) };
                if a < b && *b <= a * widest {
                    return (a.clone(), b.clone(), Exact::one(), i);
                }
                // "twenty-two forty-three grams": so many hundred.
                let hundred = Exact::from(100);
                let two = |n: &Exact| *n > Exact::from(20) && *n < hundred && n.is_whole();
                if kind == Some(Kind::Weight) && two(a) && two(b) && !(a / &ten).is_whole() {
                    return one(&(a * &hundred + b), &Exact::one());
                }
                (b.clone(), b.clone(), Exact::one(), *second)
            }
        }
    }

    /// Adds what stands around: leeway before and behind.
    fn finish(self, simple: Simple) -> Quantity {
        let mut start = simple.start;
        let mut end = simple.end;
        let mut leeway = Leeway::None;
        for back in 1..=4 {
            let Some(from) = start.checked_sub(back) else { break };
            if self.tape.at(from + 1).is_none_or(|token| token.gap == Gap::Sentence) {
                break;
            }
            if let Some((Role::Before(found), length)) = self.phrase(from, |role| matches!(role, Role::Before(_)))
                && length == back
            {
                leeway = found;
            }
        }
        // "up to a hundred and ninety" tells where heat goes and is no bound.
        let heat = matches!(simple.unit, Some(SaidUnit::Degrees | SaidUnit::Unit(Unit::Celsius | Unit::Fahrenheit)));
        if leeway == Leeway::AtMost && heat && start > 1 && self.tape.is(start - 1, Sense::To) {
            leeway = Leeway::None;
        }
        if let Some((Role::After(found), length)) = self.phrase(end, |role| matches!(role, Role::After(_))) {
            leeway = found;
            end += length;
        }
        let more = simple.more || start.checked_sub(1).is_some_and(|b| self.tape.is(b, Sense::More));
        let (lone_one, short) = match &simple.numeral {
            Some(numeral) => (numeral.lone_one && simple.unit.is_none(), short(numeral, &simple)),
            None => (false, None),
        };
        if start > 0 && self.tape.is(start - 1, Sense::Between) {
            start -= 1;
        }
        Quantity {
            start,
            end,
            low: simple.low,
            high: simple.high,
            step: simple.step,
            unit: simple.unit,
            leeway,
            more,
            fraction: simple.fraction,
            short,
            pair: simple.numeral.as_ref().and_then(pair),
            lone_one,
        }
    }
}

/// The parts of "seventeen eleven".
fn pair(numeral: &Numeral) -> Option<(i64, i64)> {
    let Wording::Pair(head, tail, _) = &numeral.wording else { return None };
    head.to_i64().zip(tail.to_i64()).filter(|(head, tail)| *head < 100 && (10..100).contains(tail))
}

/// The parts of "one eighty" and of "fourteen seventy", which in money are units and hundredths.
fn short(numeral: &Numeral, simple: &Simple) -> Option<(i64, i64)> {
    match &numeral.wording {
        Wording::Short(head, tail) => Some((*head, *tail)),
        Wording::Pair(head, tail, _) => {
            let whole = head * Exact::from(100) + tail;
            (simple.low == whole && simple.unit.is_none()).then(|| head.to_i64().zip(tail.to_i64())).flatten()
        }
        Wording::Plain | Wording::Fraction | Wording::Group => None,
    }
}

fn unit_of(sense: &Sense) -> Option<SaidUnit> {
    if let Sense::Unit(unit) = sense { Some(*unit) } else { None }
}

fn same_kind(a: SaidUnit, b: SaidUnit) -> bool {
    let kind = a.kind(Kind::Weight);
    kind == b.kind(Kind::Weight) && kind != Kind::Temperature && kind != Kind::Money
}
