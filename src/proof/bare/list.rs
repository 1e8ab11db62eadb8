//! Numbers whose unit is that of the list they stand in, or of what is being spoken of: "onion 120 grams, salt 5.4",
//! "eighty percent strong, twenty wholemeal", "the water is one ninety-six". Must not know what is true.

use super::{Bare, GRAM};
use crate::exact::{Exact, Measures, Unit};
use crate::proof::hear::{Fate, Heard};
use crate::proof::hint::Hint;
use crate::proof::lexicon::{Cue, Role, SaidUnit, Sense};
use crate::proof::token::{Gap, Token};
use crate::sheet::Kind;

/// Nobody says "126 teaspoons".
fn is_spoon(unit: SaidUnit) -> bool {
    matches!(unit, SaidUnit::Unit(Unit::Teaspoon | Unit::Tablespoon))
}

impl Bare<'_, '_> {
    /// The unit of the amounts before it, if they stand near: in a list units are said once. Spoons are small numbers.
    pub(super) fn listed_unit(&self, reach: usize) -> Option<SaidUnit> {
        let from = self.index.saturating_sub(3);
        let near = (from..self.index).rev().map(|index| &self.hearing.heard[index]);
        let small = self.quantity.high < Exact::from(10);
        let mut amounts = near.filter(|before| {
            let kind = before.quantity.unit.map(|unit| unit.kind(Kind::Weight));
            let suits = kind == Some(Kind::Weight) || small && kind == Some(Kind::Volume);
            suits && before.fate != Fate::Package && self.quantity.start.saturating_sub(before.quantity.end) <= reach
        });
        let unit = amounts.next()?.quantity.unit?;
        let large = unit == SaidUnit::Unit(Unit::Kilogram) && !small;
        Some(if large { GRAM } else { unit })
    }

    /// Whether the number before this one stood right behind its name: "flour 160, butter 176".
    pub(super) fn names_come_first(&self) -> bool {
        let near = (self.index.saturating_sub(3)..self.index).rev().map(|index| &self.hearing.heard[index]);
        let Some(before) = near.into_iter().find(|before| before.fate == Fate::Stands) else { return false };
        let named = before.quantity.start.checked_sub(1).and_then(|at| self.hearing.mention_at[at]);
        let grams = before.quantity.unit == Some(GRAM) || before.kind == Some(Kind::Count);
        let own = self.quantity.start.checked_sub(1).and_then(|at| self.hearing.mention_at[at]);
        before.fate == Fate::Stands && before.carried && grams && named.is_some() && named != own
    }

    /// The unit of the number before it: in a list of names and amounts, or behind "or".
    pub(super) fn carried(&self) -> Option<SaidUnit> {
        let (start, end) = (self.quantity.start, self.quantity.end);
        // "eighty and twenty percent"
        let percent = SaidUnit::Unit(Unit::Percent);
        let next = self.hearing.heard.get(self.index + 1).map(|next| &next.quantity);
        let shared = next.is_some_and(|next| next.start == end + 1 && next.unit == Some(percent));
        if shared && self.is(end, Sense::And) && self.flows(end) {
            return Some(percent);
        }
        // "so that's sixty-five, thirty-five percent", "seventy to thirty percent": both are all of it.
        let hundred = next.is_some_and(|next| &next.low + &self.quantity.high == Exact::from(100));
        let right_behind = next.is_some_and(|next| next.start == end && next.unit == Some(percent));
        if hundred && (right_behind || shared && self.is(end, Sense::To)) {
            return Some(percent);
        }
        // "garlic, five cloves" behind percents
        if self.flows(end) && self.is(end, Sense::Portion) {
            return None;
        }
        let near = (self.index.saturating_sub(3)..self.index).rev().map(|index| &self.hearing.heard[index]);
        let before = near.into_iter().find(|before| matches!(before.fate, Fate::Stands | Fate::InSum));
        let Some((before, unit)) = before.and_then(|before| Some((before, before.quantity.unit?))) else {
            return self.beside_its_name(0).filter(|_| !self.quantity.lone_one);
        };
        let gap = start.checked_sub(before.quantity.end)?;
        let joins = |at: usize| self.is(at, Sense::Or) || self.is(at, Sense::Maybe) || self.is(at, Sense::To);
        let ends = self.ends_clause(end);
        // "cool for ten minutes, whisk for three", "anything from twenty-five to twenty-eight"
        let lasting = unit.kind(Kind::Weight) == Kind::Duration;
        let led = |sense: Sense| start.checked_sub(1).is_some_and(|at| self.is(at, sense));
        let range = self.quantity.low < self.quantity.high;
        // "long enough for three chapters of a book"
        let plain = |token: &Token| token.senses.is_empty() && !(self.hearing.lexicon.language.plural)(&token.text);
        let free = ends || self.hearing.tokens.get(end).is_some_and(plain);
        if lasting && gap <= 12 && free && self.noun().is_none() && (led(Sense::For) || led(Sense::From) && range) {
            return Some(unit);
        }
        // "stirring every ten"
        if lasting && gap <= 12 && self.hinted(1, Hint::Every) && free && self.noun().is_none() {
            // Nobody stirs every ten hours what simmers "an hour and fifty minutes".
            let short = unit == SaidUnit::Unit(Unit::Hour) && self.quantity.low >= Exact::from(5);
            return Some(if short { SaidUnit::Unit(Unit::Minute) } else { unit });
        }
        // "they come up at two minutes, but we want three to four"
        let near =
            before.quantity.low <= self.quantity.high && self.quantity.high <= &before.quantity.high * Exact::from(4);
        let wanted = self.hinted(1, Hint::TakesTime);
        let apart = self.noun().is_none_or(|name| self.hearing.is_numbered(name));
        if lasting && range && gap <= 9 && near && wanted && apart {
            return Some(unit);
        }
        // "this water is eight percent, the first was fifty"
        let contrast = |at: usize| self.is(at, Sense::Ordinal) || self.is(at, Sense::Left);
        let is = start.checked_sub(1).filter(|&at| self.is(at, Sense::Is));
        let contrasts = is.is_some_and(|at| (at.saturating_sub(2)..at).any(contrast));
        if contrasts && gap <= 12 && ends && self.noun().is_none() {
            return Some(unit);
        }
        // "ninety seconds on the first side and ninety on the other"
        let sides = (end..end + 4).take_while(|&at| self.flows(at)).any(contrast)
            && (lasting || (before.quantity.end..start).any(contrast))
            && gap <= 8;
        if sides && self.noun().is_none() {
            return Some(unit);
        }
        // "at one seventy for twenty-five to twenty-eight"
        let heat = before.kind == Some(Kind::Temperature) && gap <= 2;
        if heat && led(Sense::For) && self.noun().is_none() && self.quantity.high <= Exact::from(180) {
            return Some(SaidUnit::Unit(Unit::Minute));
        }
        // "a third of a gram, it's nought point three one", "it's not six, it's four"
        let said = self.index.checked_sub(1).map(|index| &self.hearing.heard[index]);
        let again = said.filter(|said| {
            let gap = start.saturating_sub(said.quantity.end);
            let light = |at: usize| [Sense::Is, Sense::Pronoun, Sense::But].iter().any(|sense| self.is(at, *sense));
            (1..=3).contains(&gap) && (said.quantity.end..start).all(light)
        });
        // "at ten percent, which comes to ninety-seven"
        let comes_to = said.is_some_and(|said| {
            let percent = said.quantity.unit == Some(SaidUnit::Unit(Unit::Percent));
            let equals = |at: usize| {
                let phrase = self.reader.phrase(at, |role| role == Role::Equals);
                phrase.is_some_and(|(_, length)| at + length == start)
            };
            let opens = said.quantity.end;
            percent && (1..=4).contains(&start.saturating_sub(opens)) && (opens..start.min(opens + 2)).any(equals)
        });
        // "forty-four percent, so you want a hundred and eighty-nine"
        let wanted = said.is_some_and(|said| {
            let percent = said.quantity.unit == Some(SaidUnit::Unit(Unit::Percent));
            let light = |at: usize| [Sense::But, Sense::Speaker, Sense::Wants].iter().any(|sense| self.is(at, *sense));
            let opens = said.quantity.end;
            percent && (2..=4).contains(&start.saturating_sub(opens)) && (opens..start).all(light)
        });
        let comes_to = comes_to || wanted;
        let amount = self.quantity.high >= Exact::from(10) || !self.quantity.low.is_whole();
        if comes_to && amount && (ends || self.noun().is_some()) {
            return Some(GRAM);
        }
        if let Some(unit) = again.filter(|_| ends).and_then(|said| said.quantity.unit) {
            // What is said again of a percent is what it comes to.
            let percent = unit == SaidUnit::Unit(Unit::Percent) && self.quantity.high >= Exact::from(10);
            return Some(if percent { GRAM } else { unit });
        }
        // "a hundred, and it's a hundred and twenty"
        let light = |at: usize| self.is(at, Sense::And) || self.is(at, Sense::Is);
        if before.carried
            && gap <= 3
            && self.quantity.low > before.quantity.high
            && (before.quantity.end..start).all(light)
        {
            return Some(unit);
        }
        if (1..=3).contains(&gap) && (before.quantity.end..start).all(joins) && ends && !self.quantity.lone_one {
            return Some(unit);
        }
        // "one-oh-eight in now and a hundred and eighteen for later"
        let joined = start.checked_sub(1).is_some_and(|at| self.is(at, Sense::And)) && (2..=5).contains(&gap);
        let plain = (before.quantity.end..start).all(|at| self.hearing.mention_at[at].is_none());
        let many = self.quantity.low >= Exact::from(10);
        if joined && plain && many && ends && before.carried && unit == GRAM && self.noun().is_none() {
            return Some(unit);
        }
        // "onion 120 grams, salt 5.4"
        let kind = unit.kind(Kind::Weight);
        let amount = matches!(kind, Kind::Weight | Kind::Percent | Kind::Volume | Kind::Money);
        // "2.2 percent of salt, baking powder 3.6": the list is of weights, the percent was said in passing.
        let unit = if kind == Kind::Percent { self.listed_unit(30).unwrap_or(GRAM) } else { unit };
        let beside = self.beside_its_name(before.quantity.end).filter(|_| !self.quantity.lone_one)?;
        // Nobody says "126 teaspoons".
        let spoons = kind == Kind::Volume && self.quantity.high >= Exact::from(10);
        Some(if amount && gap <= 12 && !spoons { unit } else { beside })
    }

    /// The percent of a list: it is said once, and the numbers behind it stand to their names as it does to its own.
    /// A heading, "in percents", does the same.
    pub(super) fn percent_list(&self) -> Option<SaidUnit> {
        let (before, behind) = self.names_beside(self.index);
        let percent = SaidUnit::Unit(Unit::Percent);
        if !self.quantity.lone_one && self.quantity.high <= Exact::from(100) && self.follows_percents() {
            return Some(percent);
        }
        if self.quantity.lone_one || !before && !behind {
            return None;
        }
        // "carrot is twenty percent. Onion's twelve. Dill's two percent": percents before it and behind it.
        let beside = |index: usize| {
            let heard = self.hearing.heard.get(index).filter(|heard| heard.quantity.unit == Some(percent));
            heard.filter(|heard| matches!(heard.fate, Fate::Stands | Fate::InSum)).map(|heard| &heard.quantity)
        };
        let one = self.index.checked_sub(1).and_then(beside).filter(|one| self.quantity.start - one.end <= 16);
        let other = beside(self.index + 1).filter(|other| other.start - self.quantity.end <= 10);
        if before && one.is_some() && other.is_some() && self.ends_clause(self.quantity.end) {
            return Some(percent);
        }
        let last = (self.index.saturating_sub(3)..self.index).rev().find(|&index| {
            let heard = &self.hearing.heard[index];
            matches!(heard.fate, Fate::Stands | Fate::InSum) && heard.kind.is_some()
        });
        let from = last.map_or(0, |last| self.hearing.heard[last].quantity.end);
        let from = from.max(self.quantity.start.saturating_sub(12));
        let heading = (from..self.quantity.start)
            .any(|at| self.hearing.tokens[at].unit() == Some(percent) && self.hearing.quantity_at[at].is_none());
        if heading {
            return Some(percent);
        }
        let mut head = last.filter(|&last| self.hearing.heard[last].quantity.unit == Some(percent))?;
        let between = self.hearing.heard[head].quantity.end..=self.quantity.start;
        if between.clone().count() > 9 || between.into_iter().any(|at| self.hearing.tokens[at].gap == Gap::Sentence) {
            return None;
        }
        // Where the name stands at the one that says "percent" tells it for all of the list.
        for _ in 0..16 {
            if !self.hearing.heard[head].carried {
                break;
            }
            let said = |&index: &usize| self.hearing.heard[index].quantity.unit == Some(percent);
            match (head.saturating_sub(3)..head).rev().find(said) {
                Some(before) => head = before,
                None => break,
            }
        }
        // "sugar 79 grams, which is twenty-one percent, honey about 22": what was told in both is told by weight.
        let weight = head.checked_sub(1).map(|before| &self.hearing.heard[before]).is_some_and(|weight| {
            let apart = self.hearing.heard[head].quantity.start - weight.quantity.end;
            weight.kind == Some(Kind::Weight) && !weight.carried && (1..=3).contains(&apart)
        });
        if weight && self.names_beside(head - 1).0 {
            return None;
        }
        let (its_before, its_behind) = self.names_beside(head);
        // "and then eight percent the second time, salt two point eight": in the middle of a list of percents.
        let within = !its_before && !its_behind && head.checked_sub(1).and_then(beside).is_some();
        (if its_before || within { before } else { behind && its_behind }).then_some(percent)
    }

    /// "strong 75 736 grams, wholemeal 15 147": a percent right before the weight that it comes to, and the weight.
    pub(super) fn share_with_weight(&self) -> Option<SaidUnit> {
        let percent = SaidUnit::Unit(Unit::Percent);
        let unit_of = |index: usize| self.hearing.heard[index].quantity.unit;
        let quantity = |index: usize| &self.hearing.heard[index].quantity;
        let joins =
            |first: usize| quantity(first).end == quantity(first + 1).start && self.flows(quantity(first + 1).start);
        let pair = |first: usize| joins(first) && unit_of(first) == Some(percent) && unit_of(first + 1) == Some(GRAM);
        let index = self.index;
        let goes_on =
            |first: usize| first >= 2 && pair(first - 2) && quantity(first).start - quantity(first - 1).end <= 4;
        // The weight of a pair
        let before = index.checked_sub(1).filter(|&first| joins(first) && unit_of(first) == Some(percent));
        if before.is_some_and(|first| self.hearing.heard[first].carried && self.names_beside(first).0)
            && self.quantity.high >= Exact::from(10)
        {
            return Some(GRAM);
        }
        // Its share
        let next = index + 1;
        if next >= self.hearing.heard.len() || !joins(index) || self.quantity.high > Exact::from(100) {
            return None;
        }
        let weighed = unit_of(next) == Some(GRAM);
        let bare = unit_of(next).is_none() && goes_on(index) && quantity(next).high > self.quantity.high;
        let named = self.names_beside(index).0 && self.quantity.low == self.quantity.high;
        (named && (weighed || bare)).then_some(percent)
    }

    /// "if you think in percents that's seventy-five, fifteen and ten": right behind the word, or behind a number that is.
    fn follows_percents(&self) -> bool {
        let percent = SaidUnit::Unit(Unit::Percent);
        let start = self.quantity.start;
        let word = (start.saturating_sub(4)..start)
            .rev()
            .take_while(|&at| self.flows(at + 1))
            .any(|at| self.hints(at, Hint::InPercents) && self.hearing.quantity_at[at].is_none());
        let before = self.index.checked_sub(1).map(|index| &self.hearing.heard[index]);
        let goes_on = before.is_some_and(|before| {
            let and = (before.quantity.end..start).all(|at| self.is(at, Sense::And));
            before.carried && before.quantity.unit == Some(percent) && start - before.quantity.end <= 1 && and
        });
        (word || goes_on) && self.ends_clause(self.quantity.end) && self.noun().is_none()
    }

    /// "two teaspoons of mustard seeds, one of coriander": one of the spoons just spoken of.
    pub(super) fn one_more_spoon(&self) -> Option<SaidUnit> {
        let of = self.hearing.after_of(self.quantity.end).filter(|after| *after == self.quantity.end + 1)?;
        let named =
            self.mention_within(of, 2).is_some_and(|mention| !self.is_counted(mention) && !self.is_piece(mention));
        let before = self.index.checked_sub(1).map(|index| &self.hearing.heard[index].quantity)?;
        let close = self.quantity.lone_one && named && self.quantity.start - before.end <= 10;
        before.unit.filter(|unit| close && is_spoon(*unit))
    }

    /// "in grams that makes 1,110": the unit is said before the number.
    pub(super) fn announced(&self) -> Option<SaidUnit> {
        let start = self.quantity.start;
        let at = (start.saturating_sub(5)..start)
            .rev()
            .take_while(|&at| self.flows(at + 1) && self.hearing.quantity_at[at].is_none())
            .find(|&at| self.hearing.tokens[at].unit().is_some() && at > 0 && self.is(at - 1, Sense::Inside))?;
        let unit = self.hearing.tokens[at].unit()?;
        let plural = (self.hearing.lexicon.language.plural)(&self.hearing.tokens[at].text);
        let amount = matches!(unit.kind(Kind::Weight), Kind::Weight | Kind::Volume);
        (plural && amount && self.ends_clause(self.quantity.end)).then_some(unit)
    }

    /// Whether a name of its own stands right before a number, and right behind it.
    pub(super) fn names_beside(&self, index: usize) -> (bool, bool) {
        let quantity = &self.hearing.heard[index].quantity;
        let thing = |mention: &usize| !self.is_whole_thing(*mention);
        let from = index.checked_sub(1).map_or(0, |before| self.hearing.heard[before].quantity.end);
        let light = |at: usize| {
            self.is(at, Sense::Is) || self.reader.phrase(at, |role| matches!(role, Role::Before(_))).is_some()
        };
        let mut at = quantity.start;
        while at > from && self.flows(at) && light(at - 1) {
            at -= 1;
        }
        let before = at.checked_sub(1).filter(|&at| at >= from && self.hearing.tokens[at + 1].gap != Gap::Sentence);
        let before = before.and_then(|at| self.hearing.mention_at[at]).filter(thing);
        let behind = self.hearing.after_of(quantity.end).unwrap_or(quantity.end);
        let behind = self.mention_within(behind, 1).or_else(|| {
            let told = self.flows(behind) && self.is(behind, Sense::Describes);
            told.then(|| self.hearing.mention_at.get(behind + 1).copied().flatten()).flatten()
        });
        (before.is_some(), behind.filter(thing).is_some())
    }

    /// "the water for this bit is one ninety-six", "walnuts, they're toasted, 96": grams of the name last spoken of,
    /// where the number ends its clause and nothing else has been said since.
    pub(super) fn told(&self) -> Option<SaidUnit> {
        let (start, end) = (self.quantity.start, self.quantity.end);
        let amount = self.quantity.high >= Exact::from(10) || !self.quantity.low.is_whole();
        if amount && self.is_before_the_heat() {
            return Some(GRAM);
        }
        let apart = start.checked_sub(1).is_some_and(|at| self.is(at, Sense::Apart));
        let to = start.checked_sub(1).is_some_and(|at| {
            self.is(at, Sense::To)
                || self.is(at, Sense::Label)
                || self.is(at, Sense::Leads)
                || self.is(at, Sense::Needs) && !self.is(at, Sense::Wants)
        });
        // "there's fifty-two, spread that out"
        let verb = self.hearing.tokens.get(end).is_some_and(|token| {
            let plural = (self.hearing.lexicon.language.plural)(&token.text);
            token.senses.is_empty() && !plural && self.hearing.is_of_the_method(end)
        });
        if !amount || apart || to || !(verb || self.ends_clause(end)) {
            return None;
        }
        let since = (0..self.index).rev().take(12).map(|index| &self.hearing.heard[index]);
        let since = since.into_iter().find(|before| before.kind.is_some()).map_or(0, |before| before.quantity.end);
        let minor = self.money_talk().filter(|unit| matches!(unit, SaidUnit::Minor(_)));
        let unit = match self.money_talk() {
            Some(_) => minor.filter(|_| self.quantity.high.is_whole() && self.quantity.high < Exact::from(100))?,
            None => GRAM,
        };
        let from = since.max(start.saturating_sub(14));
        let alone = self.hearing.tokens.get(end).is_none_or(|token| token.gap == Gap::Sentence);
        let mut commas = 0;
        for at in (from..start).rev() {
            match self.hearing.tokens[at + 1].gap {
                // "So that's the flour. A hundred and sixty."
                Gap::Sentence if at + 1 == start && (alone || self.is_heading(at)) => {}
                Gap::Sentence => return None,
                Gap::Comma => commas += 1,
                Gap::None => {}
            }
            let odd = self.hearing.tokens[at].unit().is_some() || self.is(at, Sense::Heat) || self.is(at, Sense::Cost);
            if odd || commas > 2 {
                return None;
            }
            if let Some(mention) = self.hearing.mention_at[at] {
                let weighed = !self.is_piece(mention) && !self.is_counted(mention);
                return weighed.then_some(unit);
            }
        }
        None
    }

    /// "Seeds. Two hundred and forty, toasted.": a name that is all of its sentence, which ends at a token.
    fn is_heading(&self, at: usize) -> bool {
        self.hearing.mention_at[at].is_some_and(|mention| {
            let mention = &self.hearing.mentions[mention];
            mention.end == at + 1 && self.hearing.tokens[mention.start].gap == Gap::Sentence
        })
    }

    /// The unit of the money spoken of just before it, sums passed over.
    pub(super) fn money_talk(&self) -> Option<SaidUnit> {
        let mut start = self.quantity.start;
        for heard in self.hearing.heard[..self.index].iter().rev().take(8) {
            if start.saturating_sub(heard.quantity.end) > 20 {
                return None;
            }
            match heard.kind {
                Some(Kind::Money) => return heard.quantity.unit.or(Some(SaidUnit::Major(""))),
                Some(_) if heard.fate != Fate::InSum => return None,
                Some(_) | None => start = heard.quantity.start,
            }
        }
        None
    }

    /// "half of that goes in, so that's one fifty"
    pub(super) fn share_told(&self) -> Option<SaidUnit> {
        let start = self.quantity.start;
        let share = self.index.checked_sub(1).map(|index| &self.hearing.heard[index]);
        let share = share.filter(|said| said.fate == Fate::Share && said.quantity.fraction)?;
        let is = start.checked_sub(1).is_some_and(|at| self.is(at, Sense::Is) || self.is(at, Sense::But));
        let amount = self.quantity.high >= Exact::from(10) || !self.quantity.low.is_whole();
        let near = start - share.quantity.end <= 10 && self.hearing.tokens[start].gap != Gap::Sentence;
        let near = near && !(share.quantity.end..start).any(|at| self.is(at, Sense::Heat));
        (is && amount && near && self.ends_clause(self.quantity.end) && self.noun().is_none())
            .then(|| self.listed_unit(30).unwrap_or(GRAM))
    }

    /// "flour twenty-three cents, the lime thirty-five": in a list of prices.
    pub(super) fn minor_list(&self) -> Option<SaidUnit> {
        let before = self.index.checked_sub(1).map(|index| &self.hearing.heard[index]);
        let close = before
            .is_some_and(|before| before.kind == Some(Kind::Money) && self.quantity.start - before.quantity.end <= 6);
        let few = self.quantity.high.is_whole()
            && self.quantity.high < Exact::from(100)
            && self.quantity.low >= Exact::from(5)
            && !self.is_paid_for_behind();
        let (named, noun) = self.names_beside(self.index);
        // "eggs eighty-six cents, the nuts one sixty-eight, sugar fifty-nine": cents are told once in a list.
        let mut prices = self.hearing.heard[..self.index].iter().rev().take(4);
        let told = prices.find_map(|heard| heard.quantity.unit.filter(|unit| matches!(unit, SaidUnit::Minor(_))));
        // "a dollar nine, sugar forty-six": behind a price of a few dollars a number alone is of cents.
        let few_of_them = before.is_some_and(|before| {
            let value = &before.quantity.high;
            before.kind == Some(Kind::Money) && *value < Exact::from(10) && before.quantity.step == Exact::ratio(1, 100)
        });
        let told = told.or(few_of_them.then_some(SaidUnit::Minor(None)));
        let unit = self.money_talk().and(told);
        let listed = self.index.checked_sub(1).is_some_and(|before| {
            let (named, behind) = self.names_beside(before);
            let end = self.hearing.heard[before].quantity.end;
            // "fifty-four for the milk"
            let name = |at: usize| self.hearing.mention_at.get(at).copied().flatten().is_some();
            let paid = self.is(end, Sense::For) && (name(end + 1) || name(end + 2));
            named || behind || paid
        });
        // "fifty-four for the milk", behind other cents
        let end = self.quantity.end;
        let paid = self.flows(end) && self.is(end, Sense::For) && self.is(end + 1, Sense::Determiner);
        // "the money: walnuts ninety, the onions thirty-eight cents": the first of a list
        let next = self.hearing.heard.get(self.index + 1).filter(|next| {
            let cents = matches!(next.quantity.unit, Some(SaidUnit::Minor(_)));
            cents && next.quantity.start - end <= 4 && self.names_beside(self.index + 1).0
        });
        if let Some(next) = next.filter(|_| few && named && self.hearing.talk_of_money(self.index)) {
            return next.quantity.unit;
        }
        if close && few && paid && unit.is_some() {
            return unit;
        }
        // "white sugar 57 pence, brown 50, cream 1 41"
        let described = before.is_some_and(|before| before.quantity.end + 1 == self.quantity.start)
            && self.before().is_some_and(|at| self.is(at, Sense::Describes))
            && self.hearing.heard.get(self.index + 1).is_some_and(|next| next.quantity.short.is_some());
        let named = named || described;
        unit.filter(|_| close && few && named && (listed || !noun && self.ends_clause(self.quantity.end)))
    }

    /// "twenty across", "four deep": in the unit that such sizes have where the channel is.
    pub(super) fn across(&self) -> Option<SaidUnit> {
        let end = self.quantity.end;
        let cues = self.hearing.tokens.get(end).map_or(&[][..], |token| self.hearing.lexicon.cues(&token.text));
        let size = self.flows(end) && (cues.contains(&Cue::Across) || cues.contains(&Cue::Deep));
        // Whoever has spoken of millimetres does not turn to inches.
        let before =
            self.hearing.heard[..self.index].iter().rev().take(12).find(|heard| heard.kind == Some(Kind::Length));
        let inches = match before.and_then(|before| before.quantity.unit) {
            Some(unit) => unit == SaidUnit::Unit(Unit::Inch),
            None => self.hearing.truth.measures == Measures::Us,
        };
        let unit = SaidUnit::Unit(if inches { Unit::Inch } else { Unit::Centimetre });
        // "twenty-two forty-five across the counter" is no size.
        let place = self.is(end + 1, Sense::Determiner) && self.flows(end + 1);
        (size && !place && !self.quantity.lone_one).then_some(unit)
    }

    /// "rest it thirty": minutes.
    pub(super) fn lasting(&self) -> Option<SaidUnit> {
        let start = self.quantity.start;
        let verb =
            (start.saturating_sub(3)..start).rev().take_while(|&at| self.hearing.tokens[at + 1].gap == Gap::None);
        let between = |at: usize| {
            (at + 1..start).all(|at| {
                [Sense::Determiner, Sense::Pronoun].iter().any(|sense| self.is(at, *sense)) || self.is(at, Sense::For)
            })
        };
        let verb = verb.into_iter().any(|at| self.is(at, Sense::Lasts) && between(at));
        // "let it sit there for ten"
        let led = self.before().is_some_and(|at| self.is(at, Sense::For));
        let clause =
            (start.saturating_sub(7)..start).rev().take_while(|&at| self.hearing.tokens[at + 1].gap != Gap::Sentence);
        let verb = verb || led && clause.into_iter().any(|at| self.is(at, Sense::Lasts));
        // "it churns twenty-eight minutes, and in the last two …": of the time just told
        let last = start > 1 && self.hinted(1, Hint::Last) && self.is(start - 2, Sense::Determiner);
        let of_a_time = self.hearing.heard[..self.index].iter().rev().take(4).any(|before| {
            before.kind == Some(Kind::Duration)
                && start - before.quantity.end <= 24
                && before.quantity.high > self.quantity.high
        });
        let verb = verb || last && self.flows(start) && of_a_time;
        let some = self.quantity.high <= Exact::from(120) && self.quantity.low.is_whole() && !self.quantity.lone_one;
        (verb && some && self.ends_clause(self.quantity.end) && self.noun().is_none())
            .then_some(SaidUnit::Unit(Unit::Minute))
    }

    /// "1,200 times 0.2 is 240. So, two hundred and forty.": what a share of a weight came to is said again.
    pub(super) fn result_again(&self) -> Option<SaidUnit> {
        let sums = &self.hearing.sums;
        let last = sums.partition_point(|sum| sum.end <= self.quantity.start).checked_sub(1)?;
        let sum = sums.get(last).filter(|sum| self.quantity.start - sum.end <= 4)?;
        let result = &self.hearing.heard[sum.result()?].quantity;
        let share = |term: &usize| {
            let term = &self.hearing.heard[*term].quantity;
            term.unit == Some(SaidUnit::Unit(Unit::Percent)) || term.high < Exact::one()
        };
        let again = result.low == self.quantity.low || result.low.round_to(&self.quantity.step) == self.quantity.low;
        let grams = result.unit.is_none() || result.unit == Some(GRAM);
        (again && grams && sum.terms.iter().any(share) && self.noun().is_none()).then_some(GRAM)
    }

    /// "the other three hundred": of what has just been said.
    pub(super) fn left(&self) -> Option<SaidUnit> {
        let left = self.before().is_some_and(|at| self.is(at, Sense::Left));
        let before = self.hearing.heard[..self.index].iter().rev().take(4);
        let amount = |heard: &&Heard| {
            matches!(heard.kind, Some(Kind::Weight | Kind::Volume))
                && matches!(heard.fate, Fate::Stands | Fate::InSum)
                && self.quantity.start - heard.quantity.end <= 60
        };
        let many = self.quantity.high >= Exact::from(10);
        // "fourteen percent of it, and the strong is the other eighty-six"
        let hundred = Exact::from(100);
        let share = self.index.checked_sub(1).map(|index| &self.hearing.heard[index].quantity).filter(|share| {
            let near = self.quantity.start - share.end <= 12 && self.quantity.high <= hundred;
            near && share.unit == Some(SaidUnit::Unit(Unit::Percent))
        });
        if let Some(share) = share.filter(|_| left && self.noun().is_none() && self.ends_clause(self.quantity.end)) {
            return share.unit;
        }
        let fits = |heard: &&Heard| !(many && heard.quantity.unit.is_some_and(is_spoon));
        let unit = before.into_iter().filter(amount).find(fits).and_then(|heard| heard.quantity.unit);
        let large = self.quantity.high >= Exact::from(50) && self.ends_clause(self.quantity.end);
        let unit = unit.or(large.then_some(GRAM));
        unit.filter(|_| left && many && self.noun().is_none())
    }

    /// "ninety-six grams of them, so sixty-four in here", "ninety in the mix": what goes in of an amount just said.
    pub(super) fn goes_in(&self) -> Option<SaidUnit> {
        let end = self.quantity.end;
        let place = self.hints(end + 1, Hint::Here) && self.flows(end + 1);
        let inside = self.is(end, Sense::Into) && self.flows(end) && place;
        let before = self.hearing.heard[..self.index].iter().rev().take(2).find(|before| {
            let weighed = before.kind == Some(Kind::Weight) && before.quantity.high > self.quantity.high;
            weighed && before.fate == Fate::Stands && self.quantity.start - before.quantity.end <= 8
        });
        let led = self.before().is_some_and(|at| self.is(at, Sense::But) || self.is(at, Sense::Is));
        let amount = self.quantity.high >= Exact::from(10) && !self.quantity.lone_one;
        before.filter(|_| inside && led && amount).and_then(|before| before.quantity.unit)
    }

    /// Grams, for a number right behind a name that is weighed, said after the token `from`.
    pub(super) fn beside_its_name(&self, from: usize) -> Option<SaidUnit> {
        let (start, end) = (self.quantity.start, self.quantity.end);
        // "the salt goes up to four point two"
        let leads = |between: usize| {
            let before = self.reader.phrase(between, |role| matches!(role, Role::Before(_))).is_some();
            self.is(between, Sense::Is) || before || self.hints(between, Hint::Goes)
        };
        let mention = (start.saturating_sub(5)..start).rev().find_map(|at| {
            let mention = self.hearing.mention_at[at]?;
            (self.hearing.mentions[mention].end..start).all(leads).then_some(mention)
        })?;
        let fresh = self.hearing.mentions[mention].start >= from && !self.is_piece(mention);
        let sentence = self.hearing.tokens[start].gap == Gap::Sentence;
        let counts = self.hearing.tokens.get(end).is_some_and(|token| {
            let noun = token.senses.is_empty() && (self.hearing.lexicon.language.plural)(&token.text);
            noun || token.is(Sense::Times) || token.is(Sense::Package)
        });
        let listed = self.ends_clause(end)
            || !self.quantity.low.is_whole()
            || self.quantity.high >= Exact::from(10) && !counts
            || self.hearing.mention_at.get(end).copied().flatten().is_some();
        (fresh && listed && !sentence && !self.is_counted(mention)).then_some(GRAM)
    }
}
