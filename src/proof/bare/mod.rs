//! Numbers without a unit: what the words around give them for one, if anything. Must not know what is true.

mod count;
mod heat;
mod list;
mod price;

use super::hear::{Fate, Hearing, Noun};
use super::hint::Hint;
use super::lexicon::{Cue, Leeway, Role, SaidUnit, Sense};
use super::mention::Named;
use super::quantity::{Quantity, Reader};
use super::token::{Gap, Token};
use crate::exact::{Exact, Measures, Unit};
use crate::sheet::Kind;

/// Gives every standing number without a unit its kind, or finds that it has no meaning.
pub fn give_meaning(hearing: &mut Hearing<'_>, reader: Reader<'_>) {
    for index in 0..hearing.heard.len() {
        let heard = &hearing.heard[index];
        if heard.fate != Fate::Stands || heard.quantity.unit.is_some() {
            continue;
        }
        let bare = Bare { hearing, reader, index, quantity: &heard.quantity };
        let meaning = match bare.meaning() {
            // "the corn is 90 cents, chickpea flour 105": nobody counts a hundred cents.
            Meaning::Unit(SaidUnit::Minor(_)) if heard.quantity.is_hundreds() => {
                let weighed = bare.names_beside(index).0;
                if weighed { Meaning::Unit(GRAM) } else { Meaning::Not(Fate::Meaningless) }
            }
            other => other,
        };
        // "a couple of goes around" are no pieces.
        let couple = hearing.tape().is(heard.quantity.end - 1, Sense::Group(2));
        let meaning = match meaning {
            Meaning::Counts(Noun::Pieces) if couple => Meaning::Not(Fate::Idle),
            other => other,
        };
        let heard = &mut hearing.heard[index];
        match meaning {
            Meaning::Not(fate) => heard.fate = fate,
            Meaning::Counts(noun) => (heard.kind, heard.noun) = (Some(Kind::Count), noun),
            Meaning::Unit(unit) => {
                heard.kind = Some(unit.kind(Kind::Weight));
                heard.quantity.unit = Some(unit);
                // "up to a hundred and ninety" tells where heat goes and is no bound.
                if heard.kind == Some(Kind::Temperature) && heard.quantity.leeway == Leeway::AtMost {
                    heard.quantity.leeway = Leeway::None;
                }
            }
            Meaning::Price(value) => {
                let end = hearing.heard[index].quantity.end;
                let pack = hearing.tokens.get(end).is_some_and(|t| t.is(Sense::For) && t.gap == Gap::None);
                let next = hearing.heard.get(index + 1).is_some_and(|next| {
                    next.quantity.start == end + 1 && matches!(next.kind, Some(Kind::Weight | Kind::Volume))
                });
                if pack && next {
                    hearing.heard[index + 1].fate = Fate::Package;
                    hearing.heard[index].fate = Fate::Package;
                }
                let heard = &mut hearing.heard[index];
                heard.kind = Some(Kind::Money);
                heard.quantity.unit = None;
                (heard.quantity.low, heard.quantity.high) = (value.clone(), value);
                heard.quantity.step = Exact::ratio(1, 100);
            }
        }
    }
}

enum Meaning {
    Not(Fate),
    Counts(Noun),
    Unit(SaidUnit),
    /// Money of the channel, in its major unit.
    Price(Exact),
}

struct Bare<'h, 't> {
    hearing: &'h Hearing<'t>,
    reader: Reader<'h>,
    index: usize,
    quantity: &'h Quantity,
}

const GRAM: SaidUnit = SaidUnit::Unit(Unit::Gram);

impl Bare<'_, '_> {
    fn is(&self, at: usize, sense: Sense) -> bool {
        self.hearing.tape().is(at, sense)
    }

    fn hints(&self, at: usize, hint: Hint) -> bool {
        self.hearing.hints(at, hint)
    }

    /// Whether the token so many before the number hints at something.
    fn hinted(&self, back: usize, hint: Hint) -> bool {
        self.quantity.start.checked_sub(back).is_some_and(|at| self.hints(at, hint))
    }

    fn flows(&self, at: usize) -> bool {
        self.hearing.tape().flows(at)
    }

    /// "145 grams is the 100", "I treat that as the hundred": what the shares are of.
    fn is_the_hundred(&self) -> bool {
        let start = self.quantity.start;
        let other = start.checked_sub(1).filter(|&at| self.is(at, Sense::Left)).unwrap_or(start);
        let Some(the) = other.checked_sub(1).filter(|&at| at > 0 && self.hints(at, Hint::The)) else { return false };
        let told = self.is(the - 1, Sense::Is) || self.hints(the - 1, Hint::As);
        let hundred = self.quantity.low == Exact::from(100) && self.quantity.high == Exact::from(100);
        hundred && told && !self.is(self.quantity.end, Sense::Of) && self.flows(start)
    }

    /// The token before the number, in the same clause.
    fn before(&self) -> Option<usize> {
        self.quantity.start.checked_sub(1).filter(|_| self.flows(self.quantity.start))
    }

    fn meaning(&self) -> Meaning {
        let end = self.quantity.end;
        // "on the gas, one sixty" is of heat.
        let mark = self.quantity.high < Exact::from(20);
        let labelled =
            self.before().is_some_and(|at| self.is(at, Sense::Label) && (mark || !self.hearing.tells(at, Cue::Flame)));
        let value = &self.quantity.high;
        if self.is_rate() {
            return Meaning::Not(Fate::Package);
        }
        // "for a crew of eleven"
        let people = self.before().is_some_and(|of| of > 0 && self.is(of, Sense::Of) && self.is(of - 1, Sense::People));
        if people {
            return Meaning::Not(Fate::Idle);
        }
        // "it leaves at ten past"
        if self.flows(end) && self.is(end, Sense::ByTheClock) && self.quantity.high < Exact::from(60) {
            return Meaning::Not(Fate::Idle);
        }
        // "there are twelve of us"
        if self.hints(end + 1, Hint::Us) && self.is(end, Sense::Of) && self.flows(end) {
            return Meaning::Not(Fate::Idle);
        }
        if let Some(noun) = self.strokes() {
            return noun;
        }
        if self.quantity.fraction {
            return self.fraction();
        }
        if let Some(unit) = self.sides() {
            return Meaning::Unit(unit);
        }
        if self.is_on_the_thermometer() {
            return Meaning::Unit(SaidUnit::Degrees);
        }
        // "I get mine at the stand on route 44, sugar is 24 percent", "back in 1994, red jalapeños"
        let address = self.before().is_some_and(|at| self.is(at, Sense::Address));
        let dated = self
            .before()
            .is_some_and(|at| [Sense::Into, Sense::Since, Sense::From].iter().any(|sense| self.is(at, *sense)));
        let dated = dated && *value >= Exact::from(1900) && *value < Exact::from(2050) && self.quantity.low == *value;
        if address || dated && self.quantity.short.is_none() || labelled && self.noun().is_none() {
            return Meaning::Not(Fate::Idle);
        }
        if self.is_the_hundred() {
            return Meaning::Unit(SaidUnit::Unit(Unit::Percent));
        }
        if self.at_a_time() {
            return Meaning::Counts(Noun::AtATime);
        }
        if let Some(unit) = self.corrected() {
            return Meaning::Unit(unit);
        }
        if let Some(unit) = self.across() {
            return Meaning::Unit(unit);
        }
        if let Some(unit) = self.result_again() {
            return Meaning::Unit(unit);
        }
        if let Some(unit) = self.share_with_weight() {
            return Meaning::Unit(unit);
        }
        let amount = self.quantity.high >= Exact::from(10);
        if amount && self.is_paid_for_behind() && self.noun().is_none() && self.names_beside(self.index).0 {
            return Meaning::Unit(self.listed_unit(30).unwrap_or(GRAM));
        }
        // "garlic, five cloves, 19 cents"
        let portions = self.flows(end) && self.is(end, Sense::Portion);
        let of_a_list = || {
            self.minor_list()
                .or_else(|| self.cents_restated())
                .or_else(|| self.run_of_prices())
                .or_else(|| self.percent_list())
        };
        if let Some(unit) = (!portions).then(of_a_list).flatten() {
            return Meaning::Unit(unit);
        }
        if let Some(unit) = self.announced().or_else(|| self.one_more_spoon()) {
            return Meaning::Unit(unit);
        }
        if let Some(price) = self.listed_price().or_else(|| self.price_restated()) {
            return Meaning::Price(price);
        }
        if let Some(unit) = self.left().or_else(|| self.share_told()).or_else(|| self.goes_in()) {
            return Meaning::Unit(unit);
        }
        // "the dough weighs three thousand seven hundred and seventy"
        let weighs = self.before().is_some_and(|at| self.hints(at, Hint::Weighs));
        // "on the scale it's seventy point five", "the card says three point six"
        let start = self.quantity.start;
        let reads = |at: usize| self.is(at, Sense::Is) || self.is(at, Sense::Tells) || self.is(at, Sense::Reads);
        let decimals = !self.quantity.low.is_whole() && !self.quantity.fraction;
        let shown = decimals && (start.saturating_sub(4)..start).any(|at| self.is(at, Sense::Shows));
        let shown = shown && self.before().is_some_and(reads) && self.ends_clause(end) && self.money_talk().is_none();
        let weighs = weighs || shown;
        if weighs && (self.quantity.high >= Exact::from(10) || !self.quantity.low.is_whole()) && self.noun().is_none() {
            return Meaning::Unit(self.listed_unit(14).unwrap_or(GRAM));
        }
        // "this makes a dozen, filling first"
        let dozen = (start..end).any(|at| self.is(at, Sense::Group(12)));
        if dozen && self.makes() {
            return Meaning::Counts(Noun::Pieces);
        }
        if let Some(price) = self.price_of_the_left() {
            return Meaning::Price(price);
        }
        if let Some(meaning) = self.named() {
            return meaning;
        }
        // "hydration comes out at seventy"
        let wet = self.hearing.cue(self.quantity, Cue::Hydration, 5, 0)
            && self.quantity.low >= Exact::from(30)
            && self.quantity.high <= Exact::from(120);
        let named = self.names_beside(self.index).0;
        // "so the whole dough is seventy point seven"
        let start = self.quantity.start;
        let dough = start > 1 && self.is(start - 1, Sense::Is) && self.hinted(2, Hint::Dough);
        let wet = wet || dough && self.quantity.step < Exact::one() && self.quantity.low >= Exact::from(40);
        let named = named && !dough;
        if wet && !named && self.ends_clause(end) && self.noun().is_none() {
            return Meaning::Unit(SaidUnit::Unit(Unit::Percent));
        }
        if let Some(mention) = self.of_heading() {
            return Meaning::Counts(Noun::Mention(mention));
        }
        if self.divides() || self.of_them() || self.fill_a_tin() {
            return Meaning::Counts(Noun::Pieces);
        }
        if self.is_temperature() {
            return Meaning::Unit(SaidUnit::Degrees);
        }
        if self.is_price_of_a_pack() {
            return Meaning::Not(Fate::Package);
        }
        if let Some(price) = self.price().or_else(|| self.price_in_digits()) {
            return Meaning::Price(price);
        }
        if let Some(unit) = self.lasting().or_else(|| self.carried()) {
            return Meaning::Unit(unit);
        }
        if self.makes() {
            return Meaning::Counts(Noun::Pieces);
        }
        if let Some(unit) = self.told() {
            return Meaning::Unit(unit);
        }
        let year = *value >= Exact::from(1900) && *value < Exact::from(2100);
        let plural = self.hearing.tokens.get(end).filter(|_| self.flows(end)).is_some_and(|token| {
            let odd = token.is(Sense::Common) || token.unit().is_some() || token.digits.is_some();
            !odd && (self.hearing.lexicon.language.plural)(&token.text)
        });
        let several = *value >= Exact::from(2) && self.quantity.low.is_whole();
        let the = self.before().is_some_and(|at| self.is(at, Sense::Determiner));
        if plural && several && !year && !labelled && !the && self.is_needed() && start < end {
            return Meaning::Counts(Noun::Things);
        }
        Meaning::Not(Fate::Meaningless)
    }

    /// "half a lime" is half of one; "half the limes" is a share.
    fn fraction(&self) -> Meaning {
        let end = self.quantity.end;
        let article = self.flows(end) && self.is(end, Sense::Article);
        let from = if article { end + 1 } else { end };
        let mention = self.mention_within(from, 2);
        let counted = mention.is_some_and(|mention| self.can_count(mention));
        match mention {
            Some(mention) if article && counted => Meaning::Counts(Noun::Mention(mention)),
            _ => Meaning::Not(Fate::Share),
        }
    }

    /// "20 by 30 centimetres", "a 20 by 30 tin".
    fn sides(&self) -> Option<SaidUnit> {
        let end = self.quantity.end;
        let by = self.flows(end) && self.is(end, Sense::By);
        let after = self.hearing.heard.get(self.index + 1).map(|heard| &heard.quantity);
        let length = |unit: &SaidUnit| unit.kind(Kind::Weight) == Kind::Length;
        if let Some(after) = after.filter(|after| by && after.start == end + 1) {
            let start = self.quantity.start;
            let tin =
                (start.saturating_sub(3)..start).any(|at| self.is(at, Sense::Package) || self.hints(at, Hint::BakedOn));
            let pan = self.hearing.cue(after, Cue::Pan, 0, 3) || self.hearing.cue(self.quantity, Cue::Pan, 3, 0);
            let us = self.hearing.truth.measures == Measures::Us;
            let unit = SaidUnit::Unit(if us { Unit::Inch } else { Unit::Centimetre });
            return after.unit.filter(length).or((pan || tin).then_some(unit));
        }
        let before = self.index.checked_sub(1).map(|index| &self.hearing.heard[index].quantity)?;
        let second = before.end + 1 == self.quantity.start && self.is(before.end, Sense::By);
        before.unit.filter(|unit| second && length(unit))
    }

    /// The unit of a neighbour that this number corrects, or is corrected by.
    fn corrected(&self) -> Option<SaidUnit> {
        let joined = |from: usize, to: usize| {
            let is = to > 0 && self.is(to - 1, Sense::Is);
            let near = to > from && to - from <= if is { 12 } else { 6 };
            // "eleven as well of the olive oil, sorry, make that twelve"
            let right_before = |at: usize| {
                let phrase = self.reader.phrase(at, |role| role == Role::Correction);
                phrase.is_some_and(|(_, n)| n > 1 && at + n == to)
            };
            let near_phrase = |at: usize| {
                self.reader
                    .phrase(at, |role| matches!(role, Role::Correction | Role::Denial))
                    .is_some_and(|(_, n)| at + n <= to && (n > 1 || to - from <= 6))
            };
            near && (from..to).any(near_phrase) || to > from && to - from <= 9 && (from..to).any(right_before)
        };
        let neighbour = |index: usize| self.hearing.heard.get(index).map(|heard| &heard.quantity);
        let before = self.index.checked_sub(1).and_then(neighbour);
        let before = before.filter(|before| joined(before.end, self.quantity.start)).and_then(|before| before.unit);
        let after = neighbour(self.index + 1);
        let after = after.filter(|after| joined(self.quantity.end, after.start)).and_then(|after| after.unit);
        // "fifty, forty-five rather"
        let instead = self.reader.phrase(self.quantity.end, |role| role == Role::CorrectionBehind).is_some();
        let first = self.index.checked_sub(1).and_then(neighbour).filter(|first| self.quantity.start <= first.end + 1);
        let before = before.or_else(|| first.filter(|_| instead && self.flows(self.quantity.end))?.unit);
        // "two teaspoons, no, wait, one."
        let start = self.quantity.start;
        let one = (1..=4.min(start)).any(|back| {
            let phrase = self.reader.phrase(start - back, |role| role == Role::Correction);
            phrase.is_some_and(|(_, length)| length == back)
        });
        let one = one && self.ends_clause(self.quantity.end);
        let noun = self.noun().is_some();
        before.or(after).filter(|_| !noun && (!self.quantity.lone_one || one))
    }

    /// The mention that starts within so many tokens, with nothing but describing words before it.
    fn mention_within(&self, from: usize, reach: usize) -> Option<usize> {
        for at in from..=from + reach {
            if !self.flows(at) {
                return None;
            }
            if let Some(mention) = self.hearing.mention_at[at] {
                return Some(mention);
            }
            let token = &self.hearing.tokens[at];
            let odd = token.unit().is_some() || token.digits.is_some() || token.is(Sense::And) || token.is(Sense::Is);
            if odd || token.is(Sense::Common) && !token.is(Sense::Filling) && !token.is(Sense::Describes) {
                return None;
            }
        }
        None
    }

    /// The name right behind the number; of a run of names the last: "chickpea fritters" are fritters.
    fn noun(&self) -> Option<usize> {
        // "eleven marches, meanwhile lemons"
        if self.hearing.counts_else(self.quantity.end) {
            return None;
        }
        let mut mention = self.mention_within(self.quantity.end, 2)?;
        while let Some(next) = self.hearing.mention_at.get(self.hearing.mentions[mention].end).copied().flatten() {
            // "squeeze in two limes, bottles …"
            let last = &self.hearing.tokens[self.hearing.mentions[mention].end - 1].text;
            let counted = self.is_counted(mention) && (self.hearing.lexicon.language.plural)(last);
            if !self.flows(self.hearing.mentions[next].start) || !self.is_piece(next) || counted {
                break;
            }
            mention = next;
        }
        Some(mention)
    }

    fn is_piece(&self, mention: usize) -> bool {
        self.hearing.mentions[mention].named.iter().any(|(named, looseness)| *named == Named::Piece && *looseness == 0)
    }

    /// Whether a name is of something that is counted, or has a weight of one to be counted by.
    fn can_count(&self, mention: usize) -> bool {
        let named = &self.hearing.mentions[mention].named;
        named.iter().any(|(named, _)| match named {
            Named::Thing(thing) => self.has_count(&self.hearing.truth.facts, *thing),
            Named::Other(other, thing) => {
                self.hearing.truth.others.get(*other).is_some_and(|truth| self.has_count(&truth.facts, *thing))
            }
            Named::Piece | Named::Part(_) => false,
        })
    }

    fn has_count(&self, facts: &[crate::sheet::Fact], thing: usize) -> bool {
        facts.iter().any(|fact| fact.kind == Kind::Count && fact.thing == Some(thing))
    }

    fn is_counted(&self, mention: usize) -> bool {
        self.hearing.is_counted(mention)
    }

    /// A number with a name behind it, or behind "of".
    fn named(&self) -> Option<Meaning> {
        let end = self.quantity.end;
        let ten = Exact::from(10);
        let amount = self.quantity.high >= ten || !self.quantity.high.is_whole();
        if let Some(after) = self.hearing.after_of(end) {
            let definite = self.is(after - 1, Sense::Determiner);
            let mention = self.mention_within(after, 2);
            if mention.is_none() && self.is(after - 1, Sense::Them) {
                // "we're making ten of them"
                if self.before().is_some_and(|at| self.is(at, Sense::Makes)) && self.quantity.low.is_whole() {
                    return Some(Meaning::Counts(Noun::Pieces));
                }
                // "eggs, three of them"
                let start = self.quantity.start;
                let before = (start.saturating_sub(12)..start).rev().find_map(|at| self.hearing.mention_at[at]);
                let directly = before.is_some_and(|mention| self.hearing.mentions[mention].end == start);
                let counts = |mention: usize| self.is_counted(mention) || directly && self.can_count(mention);
                let few = self.quantity.high <= Exact::from(40);
                let counted = before.filter(|&mention| counts(mention) && !self.is_piece(mention));
                if let Some(mention) = counted {
                    let unit = Meaning::Unit(self.listed_unit(14).unwrap_or(GRAM));
                    return Some(if few { Meaning::Counts(Noun::Mention(mention)) } else { unit });
                }
                // "onions, done already, two eighty-eight of them"
                // "forty-two grams, that's four or five of them"
                let weighed = self
                    .index
                    .checked_sub(1)
                    .map(|index| &self.hearing.heard[index])
                    .is_some_and(|before| before.kind == Some(Kind::Weight) && start - before.quantity.end <= 4);
                if weighed && self.quantity.high < Exact::from(6) && !self.of_them() {
                    return Some(Meaning::Not(Fate::Share));
                }
                let near = |mention: usize| {
                    start.saturating_sub(self.hearing.mentions[mention].end) <= 4 && !self.is_piece(mention)
                };
                let weighed = before.filter(|&mention| near(mention) && !few);
                return weighed.map(|_| Meaning::Unit(self.listed_unit(14).unwrap_or(GRAM)));
            }
            let Some(mention) = mention else {
                // "three hundred of it", and of what captions made of a name.
                let pronoun = self.hearing.tokens.get(after).is_none_or(|token| token.is(Sense::Common)) || definite;
                // "two sixty of that", where prices are spoken of
                if self.quantity.short.is_some() && self.money_talk().is_some() {
                    return None;
                }
                let unit = self.listed_unit(if pronoun { 20 } else { 14 });
                return unit.filter(|_| amount || !pronoun).map(Meaning::Unit);
            };
            if self.is_piece(mention) {
                // "we are making forty-two of the diamonds" tells how many.
                let start = self.quantity.start;
                let made = self.before().is_some_and(|at| self.is(at, Sense::Makes)) && self.quantity.low >= ten;
                let made = made && (start.saturating_sub(4)..start).any(|at| self.is(at, Sense::Speaker));
                return Some(if made { Meaning::Counts(Noun::Pieces) } else { Meaning::Not(Fate::Share) });
            }
            let listed = self.listed_unit(14);
            return Some(match () {
                () if self.is_counted(mention) && !definite => Meaning::Counts(Noun::Mention(mention)),
                () if amount && !self.is_counted(mention) => Meaning::Unit(listed.unwrap_or(GRAM)),
                () => match listed.filter(|_| !self.is_counted(mention) && !definite && !self.quantity.lone_one) {
                    Some(unit) => Meaning::Unit(unit),
                    None => Meaning::Not(Fate::Share),
                },
            });
        }
        if let Some(mention) = self.portioned() {
            return Some(Meaning::Counts(Noun::Mention(mention)));
        }
        if self.generic_piece(end) {
            // "the eggs, three pieces": of what is counted and has just been named.
            let named = self
                .quantity
                .start
                .checked_sub(1)
                .filter(|_| self.hearing.tokens[self.quantity.start].gap != Gap::Sentence);
            let named = named.and_then(|at| self.hearing.mention_at[at]).filter(|&mention| self.is_counted(mention));
            return Some(Meaning::Counts(named.map_or(Noun::Pieces, Noun::Mention)));
        }
        // "eggs three", and in a list of names with amounts behind them each name has its own.
        let close = self.hearing.tokens[self.quantity.start].gap != Gap::Sentence;
        let own = self
            .quantity
            .start
            .checked_sub(1)
            .filter(|_| close && (self.flows(self.quantity.start) || self.ends_clause(end)));
        let own = own.and_then(|at| self.hearing.mention_at[at]).filter(|&mention| !self.is_piece(mention));
        // "Eggs: one."
        let alone = |at: usize| self.hearing.tokens.get(at).is_none_or(|token| token.gap == Gap::Sentence);
        let lone = self.quantity.lone_one && self.hearing.tokens[self.quantity.start].gap == Gap::Comma && alone(end);
        if let Some(own) = own.filter(|_| !self.quantity.lone_one || lone) {
            let few = self.quantity.high <= Exact::from(40);
            let noun = self.noun();
            if self.is_counted(own) && few && noun.is_none_or(|noun| !self.is_counted(noun)) {
                return Some(Meaning::Counts(Noun::Mention(own)));
            }
            if !self.is_counted(own) && self.names_come_first() {
                return Some(Meaning::Unit(self.listed_unit(14).unwrap_or(GRAM)));
            }
        }
        if let Some(mention) = self.counted_before() {
            return Some(Meaning::Counts(Noun::Mention(mention)));
        }
        let mention = self.noun()?;
        // "twenty cents for one puff"
        let paid = || {
            let before = self.index.checked_sub(1).map(|index| &self.hearing.heard[index]);
            before.is_some_and(|before| {
                before.kind == Some(Kind::Money) && self.quantity.start - before.quantity.end <= 2
            })
        };
        // "two in one jar": one of them, unless it is all that is made.
        let made = || (self.quantity.start.saturating_sub(5)..self.quantity.start).any(|at| self.is(at, Sense::Makes));
        if self.is_piece(mention) && self.quantity.lone_one && (paid() || !made()) {
            return Some(Meaning::Not(Fate::Share));
        }
        if self.is_piece(mention) {
            // "two seven-fifty jars": the second is their size.
            let first = self.index.checked_sub(1).map(|index| &self.hearing.heard[index]);
            let size =
                first.is_some_and(|first| first.quantity.end == self.quantity.start && first.quantity.unit.is_none());
            return Some(if size { Meaning::Not(Fate::Package) } else { Meaning::Counts(Noun::Pieces) });
        }
        let last = &self.hearing.tokens[self.hearing.mentions[mention].end - 1].text;
        let plural = (self.hearing.lexicon.language.plural)(last);
        let few = self.quantity.high <= Exact::from(40);
        Some(match () {
            () if self.is_counted(mention) && self.quantity.high < Exact::from(200) => {
                Meaning::Counts(Noun::Mention(mention))
            }
            () if few && self.can_count(mention) && (plural || self.quantity.lone_one) => {
                Meaning::Counts(Noun::Mention(mention))
            }
            () if self.quantity.high >= ten && !(plural && few) => Meaning::Unit(self.listed_unit(14).unwrap_or(GRAM)),
            () if plural && few && self.quantity.high > Exact::one() && self.is_needed() => {
                Meaning::Counts(Noun::Things)
            }
            () => return None,
        })
    }

    /// Whether a name is of what is divided: a part, or pieces.
    fn is_whole_thing(&self, mention: usize) -> bool {
        // Onions are the ingredient, though rolls and a filling be called by them.
        let named = &self.hearing.mentions[mention].named;
        let best = named.iter().map(|(_, looseness)| *looseness).min();
        let best = named.iter().filter(|(_, looseness)| Some(*looseness) == best);
        best.into_iter().any(|(named, _)| matches!(named, Named::Piece | Named::Part(_)))
    }

    fn ends_clause(&self, end: usize) -> bool {
        let number = self.hearing.quantity_at.get(end).copied().flatten().is_some();
        let takes_back = |role| matches!(role, Role::Correction | Role::CorrectionBehind);
        let takes_back = self.reader.phrase(end, takes_back).is_some();
        let verbs = [
            Sense::Is,
            Sense::Needs,
            Sense::Lasts,
            Sense::Makes,
            Sense::Raises,
            Sense::Divides,
            // "you buy the packages, then 24 72 she paid"
            Sense::Speaker,
            Sense::Another,
            Sense::Pronoun,
        ];
        let ends = |token: &Token| {
            // "plain flour 331, ellie's doing the pouring"
            token.gap != Gap::None
                || token.contracted
                || token.is(Sense::Common)
                || verbs.iter().any(|verb| token.is(*verb))
        };
        number || takes_back || self.hearing.tokens.get(end).is_none_or(ends)
    }
}
