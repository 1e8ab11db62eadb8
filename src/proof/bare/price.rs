//! Numbers that are money without saying so: "it costs two forty", "1.20 each".

use super::Bare;
use crate::exact::Exact;
use crate::proof::hear::Heard;
use crate::proof::hint::Hint;
use crate::proof::lexicon::{Cue, Role, SaidUnit, Sense};
use crate::proof::token::Gap;
use crate::sheet::Kind;

/// "two forty" in units of money and hundredths.
fn price_of((head, tail): (i64, i64)) -> Exact {
    Exact::from(head) + Exact::from(tail) * Exact::ratio(1, 100)
}

impl Bare<'_, '_> {
    /// "it costs two forty", "1.20 each": money by the talk around it.
    pub(super) fn price(&self) -> Option<Exact> {
        let (start, end) = (self.quantity.start, self.quantity.end);
        let from = start.saturating_sub(8);
        let sentence = (from..start).rev().take_while(|&at| self.hearing.tokens[at + 1].gap != Gap::Sentence);
        // "total brine fourteen twenty-five" is weighed.
        let part = |at: usize| self.hearing.mention_at[at].is_some_and(|m| self.is_whole_thing(m) && !self.is_piece(m));
        let weighed = start.checked_sub(1).is_some_and(part);
        // "let it come back to one sixty" is of heat.
        let back = |at: usize| self.hints(at + 1, Hint::Away);
        let cost = !weighed && sentence.into_iter().any(|at| self.is(at, Sense::Cost) && !back(at));
        let year = self.quantity.low >= Exact::from(1900) && self.quantity.high < Exact::from(2100);
        if self.is_before_the_heat() || year && self.money_talk().is_none() {
            return None;
        }
        let after = self.hearing.heard.get(self.index + 1);
        let money_behind = after.is_some_and(|after| {
            let unit = after.quantity.unit.is_some() && after.kind == Some(Kind::Money);
            let named = (end..after.quantity.start).all(|at| self.hearing.mention_at[at].is_some());
            let named = named && after.quantity.start > end;
            unit && after.quantity.start - end <= 4 && (named || self.hearing.tokens[end].gap == Gap::Comma)
        });
        // "your share is 1 67, then eggs 52 p"
        let share = start > 1
            && self.is(start - 1, Sense::Is)
            && (start.saturating_sub(4)..start).any(|at| self.hearing.tells(at, Cue::Share));
        // "that batch is 4 82 so 43 cents each": what one costs of it stands right behind.
        let one_behind = after.filter(|after| (end..=end + 2).contains(&after.quantity.start)).is_some_and(|after| {
            let (from, to) = (after.quantity.start, after.quantity.end);
            let minor = matches!(after.quantity.unit, Some(SaidUnit::Minor(_)));
            let each = self.is(to, Sense::Each) || self.is(to, Sense::Per) || self.is(to, Sense::Article);
            // also "the tray comes to 3 51 and that's 17p a twist"
            let leads = |at: usize| self.hints(at, Hint::So) || self.hints(at, Hint::ItIs) || self.is(at, Sense::And);
            minor && each && (end..=from).all(|at| self.flows(at)) && (end..from).all(leads)
        });
        // "with the gas it's 4.26"
        let powered = self.quantity.step == Exact::ratio(1, 100) && self.hearing.counts_in_power(self.quantity, 9);
        // "So, eaten: six ninety-three. A round: one thirty-seven."
        let heading = start.checked_sub(1).is_some_and(|at| {
            let named = self.hearing.mention_at[at].is_some_and(|mention| self.is_piece(mention));
            let alone = at.checked_sub(1).is_some_and(|at| {
                self.is(at, Sense::Article) && self.hearing.tokens[at].gap == Gap::Sentence && self.flows(at + 1)
            });
            // "Sum: four sixty-six."
            let lot = self.hints(at, Hint::Lot) && self.hearing.tokens[at].gap == Gap::Sentence;
            (named && alone || lot) && self.ends_clause(end)
        });
        // "240 grams, sifted, price 1 73"
        let priced = self.before().is_some_and(|at| self.hints(at, Hint::Price) && self.flows(start));
        let cost = cost || (heading || priced) && self.quantity.short.is_some();
        let cost = cost || powered || one_behind && self.quantity.short.is_some() || self.is_priced_sum();
        let money_before = self.money_talk().is_some() || money_behind || share;
        let each =
            self.flows(end) && (self.is(end, Sense::Each) || self.is(end, Sense::Per) || self.is(end, Sense::Article));
        let short = self.quantity.short.is_some();
        let rate = self.flows(end)
            && self.is(end, Sense::Article)
            && self.hearing.mention_at.get(end + 1).copied().flatten().is_some_and(|mention| self.is_piece(mention));
        // "twenty a roll" behind other cents
        let before = self.index.checked_sub(1).map(|index| &self.hearing.heard[index]);
        let minor = before.and_then(|before| before.quantity.unit).is_some_and(|u| matches!(u, SaidUnit::Minor(_)));
        let plain = self.quantity.low == self.quantity.high && self.quantity.high.is_whole() && !short;
        let of_one = rate || each && !self.is(end, Sense::Article);
        if plain && minor && money_before && of_one && self.noun().is_none() {
            return Some(self.quantity.high.clone() * Exact::ratio(1, 100));
        }
        let whole = (end..end + 3)
            .take_while(|&at| self.flows(at))
            .any(|at| self.reader.phrase(at, |role| role == Role::Whole).is_some());
        // "all in, it's four oh five"
        let opened = (start.saturating_sub(6)..start)
            .rev()
            .take_while(|&at| self.hearing.tokens[at + 1].gap != Gap::Sentence && self.hearing.mention_at[at].is_none())
            .any(|at| self.reader.phrase(at, |role| role == Role::Whole).is_some());
        // "two twenty for seven fifty grams"
        let pack = self.flows(end)
            && self.is(end, Sense::For)
            && self.hearing.heard.get(self.index + 1).is_some_and(|next| {
                let pieces = self.hearing.mention_at.get(next.quantity.end).copied().flatten();
                let pieces = pieces.is_some_and(|mention| self.is_piece(mention));
                let amount = matches!(next.kind, Some(Kind::Weight | Kind::Volume));
                next.quantity.start == end + 1 && (amount || pieces)
            });
        // "starting from nothing it's thirteen forty-seven"
        let bought = self.hearing.cue(self.quantity, Cue::Basket, 8, 0) && self.ends_clause(end);
        let whole = whole || bought;
        // "all in 1.96", as captions write it
        let cents = short || self.quantity.step == Exact::ratio(1, 100);
        let rate = rate || (whole || opened || pack) && cents;
        if !(cost || rate || money_before && (each || cents)) || self.noun().is_some() && !money_behind {
            return None;
        }
        let hundredth = Exact::ratio(1, 100);
        let pair = self.quantity.pair.filter(|_| cost || whole);
        if let Some((head, tail)) = self.quantity.short.or(pair) {
            return Some(price_of((head, tail)));
        }
        let decimals = self.quantity.step == hundredth;
        decimals.then(|| self.quantity.high.clone())
    }

    /// "the shopping is 31 92, but then you're sitting on 28 66 of flour": what is left of it, whatever that is of.
    pub(super) fn price_of_the_left(&self) -> Option<Exact> {
        let pair = self.quantity.short.or(self.quantity.pair)?;
        (self.has_two_digits_of_cents() && self.hearing.is_left_behind_the_shopping(self.index)).then(|| price_of(pair))
    }

    /// "4 26": whether it is two numbers in digits, the second of which may be cents.
    pub(super) fn has_two_digits_of_cents(&self) -> bool {
        self.hearing.is_two_numbers(self.quantity) && self.hearing.tokens[self.quantity.start + 1].text.len() == 2
    }

    /// "1200 grams, and that's 2 18", in digits: a weight stands together there.
    pub(super) fn price_restated(&self) -> Option<Exact> {
        let (head, tail) = self.quantity.short.or(self.quantity.pair)?;
        let thats = self.before().is_some_and(|at| self.hints(at, Hint::Thats));
        // "143 grams of cheese for 1 48"
        let weighed = self.index.checked_sub(1).map(|before| &self.hearing.heard[before]).is_some_and(|before| {
            let from = before.quantity.end;
            let named = (from..self.quantity.start).any(|at| self.hearing.mention_at[at].is_some());
            let one = (from..=self.quantity.start).all(|at| self.hearing.tokens[at].gap != Gap::Sentence);
            named && one && self.quantity.start - from <= 6 && matches!(before.kind, Some(Kind::Weight | Kind::Volume))
        });
        let paid = weighed && self.before().is_some_and(|at| self.is(at, Sense::For));
        // "dried apricots, 540 grams, 1 19"
        let beside = self.index.checked_sub(1).map(|before| &self.hearing.heard[before]).is_some_and(|before| {
            let unit = before.kind == Some(Kind::Weight) && before.quantity.unit.is_some();
            unit && before.quantity.end == self.quantity.start
                && self.hearing.tokens[before.quantity.end].gap != Gap::Sentence
        });
        let range = thats && (head <= tail && tail < 2 * head || head + tail == 100);
        let free = self.noun().is_none() && self.quantity.unit.is_none() && !self.is(self.quantity.end, Sense::By);
        (self.has_two_digits_of_cents() && (thats || paid || beside) && !range && free).then(|| price_of((head, tail)))
    }

    /// "that batch is 10 85", "you're at 10 42": in digits nothing but a price stands in two such numbers behind a verb.
    pub(super) fn price_in_digits(&self) -> Option<Exact> {
        let (start, end) = (self.quantity.start, self.quantity.end);
        let (head, tail) = self.quantity.short.or(self.quantity.pair)?;
        let digits = self.hearing.is_two_numbers(self.quantity);
        // "you'd still have 22 86 of it", "that batch is ten fifty eight"
        let has = self.before().is_some_and(|at| self.is(at, Sense::Is) || self.hints(at, Hint::Have));
        let whole = |at: usize| self.hints(at, Hint::Batch) || at > 0 && self.hints(at - 1, Hint::Whole);
        let batch = has && self.before().and_then(|at| at.checked_sub(1)).is_some_and(whole);
        // but "what you charge to this batch is 2 60"
        let led = [Sense::To, Sense::For, Sense::Of].iter().any(|sense| start > 3 && self.is(start - 4, *sense));
        let batch = batch && !led;
        let cents = self.has_two_digits_of_cents() || batch && tail >= 10;
        // "you land on 8 43"
        let comes = self.before().filter(|&at| at > 0 && (self.is(at, Sense::To) || self.hints(at, Hint::On)));
        let comes = comes.is_some_and(|at| self.hints(at - 1, Hint::Comes) || self.hints(at - 1, Hint::Up));
        let named = self.before().is_some_and(|at| self.hearing.mention_at[at].is_some());
        // "you'd spend 19 05"
        let spent = self.before().is_some_and(|at| self.is(at, Sense::Cost) && !self.is(at, Sense::Is));
        // "you leave 25 20 at the store", where money is spoken of and it is no range
        let range = head <= tail && tail < 2 * head;
        let shop = |reach: usize| self.hearing.cue(self.quantity, Cue::Basket, reach, 0);
        let money = !range && (self.hearing.talk_of_money(self.index) || shop(10));
        let plain = digits && (10..100).contains(&head) && (money || shop(3));
        // "you're using 1 14 of it": in digits an amount stands together.
        let of_it = digits && head < 10 && self.is(end, Sense::Of) && self.hints(end + 1, Hint::It);
        // "358 grams and they're 4 96"
        let weighed = self.index.checked_sub(1).map(|before| &self.hearing.heard[before]).is_some_and(|before| {
            let near = before.kind == Some(Kind::Weight) && start - before.quantity.end <= 3;
            digits && near && self.before().is_some_and(|at| self.hints(at, Hint::ItIs))
        });
        let told = has || comes || named || spent || plain || of_it;
        // "so that's 80 20" is of shares.
        let shares = head + tail == 100;
        let sure = batch
            || of_it
            || weighed
            || !shares && !named && ((10..100).contains(&head) || comes)
            || self.hearing.talk_of_money(self.index);
        let free = (self.noun().is_none() || self.is(end, Sense::Of)) && !self.is(end, Sense::By);
        (cents && told && sure && free).then(|| price_of((head, tail)))
    }

    /// "the chocolate's two twenty-seven, butter one forty-seven": in a list of prices, each behind its name.
    pub(super) fn listed_price(&self) -> Option<Exact> {
        let cent = Exact::ratio(1, 100);
        let decimals = (self.quantity.step == cent).then(|| self.quantity.high.clone());
        let short = self.quantity.short.map(price_of);
        let price = short.or(decimals)?;
        let before = self.index.checked_sub(1).map(|index| &self.hearing.heard[index]);
        let close = before
            .is_some_and(|before| before.kind == Some(Kind::Money) && self.quantity.start - before.quantity.end <= 4);
        // "the lemons were six ninety and the sugar was a dollar nine": the first of a list
        let first = self.hearing.heard.get(self.index + 1).is_some_and(|next| {
            let named = next.quantity.start - self.quantity.end <= 10 && self.names_beside(self.index + 1).0;
            let priced = next.quantity.unit.is_some() && next.kind == Some(Kind::Money);
            // "the eggs were five 20 the vinegar two 38 the beetroot is 33 cent"
            let behind = self.hearing.heard.get(self.index + 2);
            let then = next.quantity.short.is_some()
                && behind.is_some_and(|behind| {
                    let near = behind.quantity.start - next.quantity.end <= 6;
                    let priced = |heard: &Heard| heard.quantity.unit.is_some() && heard.kind == Some(Kind::Money);
                    // "beans 2 39, pork 3 10, molasses 1 13, onion 70 cents"
                    let third = self.hearing.heard.get(self.index + 3);
                    let later = behind.quantity.short.is_some()
                        && third.is_some_and(|third| priced(third) && third.quantity.start - behind.quantity.end <= 6);
                    near && (priced(behind) || later)
                });
            (priced || then) && named
        });
        // "they're ten fifty-seven, peanuts a dollar sixty": the first of a list, by a pronoun
        let start = self.quantity.start;
        let pronoun = start.checked_sub(1).filter(|_| first && self.flows(start)).is_some_and(|at| {
            let they = self.hints(at, Hint::ItIs) || self.hints(at, Hint::Are);
            let own =
                self.hearing.heard.get(self.index + 1).is_some_and(|next| next.quantity.start - self.quantity.end <= 4);
            they && own && self.hearing.mention_at.get(self.quantity.end).copied().flatten().is_some()
        });
        // "what it costs: peaches eight ninety-eight, lemons three ninety"
        let told = (start.saturating_sub(3)..start).any(|at| self.is(at, Sense::Cost))
            && self
                .hearing
                .heard
                .get(self.index + 1)
                .is_some_and(|next| next.quantity.short.is_some() && next.quantity.start - self.quantity.end <= 3);
        // "because it does three fryings, that's all of it 4 74"
        let all = self.hearing.talk_of_money(self.index)
            && (1..=4).filter_map(|back| start.checked_sub(back)).any(|at| {
                let phrase = self.reader.phrase(at, |role| matches!(role, Role::Whole | Role::AllOfIt));
                phrase.is_some_and(|(_, length)| at + length == start)
            });
        // "the ricotta is 5 10": in digits a weight stands together
        let written =
            self.quantity.short.is_some_and(|(head, _)| head < 10) && self.hearing.is_in_digits(self.quantity);
        let listed = (close || first || told || written) && self.names_beside(self.index).0 || pronoun || all;
        listed.then_some(price)
    }

    /// "accounts: wholemeal 88, plain 33, oats 41, buttermilk one forty-four": cents, in a row of names with a number each that
    /// is told by a word of money before it and by a price in it.
    pub(super) fn run_of_prices(&self) -> Option<SaidUnit> {
        let all = &self.hearing.heard;
        let goes_on = |index: usize| {
            let gap = all[index].quantity.start.saturating_sub(all[index - 1].quantity.end);
            let plain = |heard: &Heard| heard.quantity.unit.is_none() || heard.kind == Some(Kind::Money);
            (1..=4).contains(&gap) && plain(&all[index - 1]) && plain(&all[index])
        };
        let price = |index: usize| {
            let quantity = &all[index].quantity;
            quantity.short.is_some() || all[index].kind == Some(Kind::Money) && quantity.unit.is_some()
        };
        let few = !self.is_paid_for_behind()
            && !self.quantity.lone_one
            && self.quantity.high.is_whole()
            && self.quantity.high < Exact::from(100)
            && self.quantity.low.is_positive();
        let first = (0..=self.index).rev().take(12).find(|&index| index == 0 || !goes_on(index))?;
        let from = all[first].quantity.start;
        let headed = (from.saturating_sub(5)..from).any(|at| self.is(at, Sense::Cost));
        let told = (self.index + 1..all.len()).take(10).take_while(|&index| goes_on(index)).any(price)
            || (first..self.index).any(price);
        let named = self.names_beside(self.index).0 || self.before().is_some_and(|at| self.is(at, Sense::Describes));
        (few && headed && told && named).then_some(SaidUnit::Minor(None))
    }

    /// "that's 90 cents, chickpea flour 105 and that's 32": behind what was weighed, where cents are told.
    pub(super) fn cents_restated(&self) -> Option<SaidUnit> {
        let before = self.index.checked_sub(1).map(|before| &self.hearing.heard[before])?;
        let thats = self.before().is_some_and(|at| self.hints(at, Hint::Thats));
        let near = before.kind == Some(Kind::Weight) && self.quantity.start - before.quantity.end <= 2;
        let few = self.quantity.high.is_whole() && self.quantity.high < Exact::from(100);
        let few = few && self.quantity.low >= Exact::from(5) && self.quantity.low == self.quantity.high;
        let end = self.quantity.end;
        let next = self.hearing.name_at(end).filter(|_| self.flows(end));
        let own = next.is_none_or(|name| self.hearing.is_numbered(name));
        let mut prices = self.hearing.heard[..self.index].iter().rev().take(3);
        let told = prices.find(|heard| heard.kind == Some(Kind::Money)).and_then(|heard| heard.quantity.unit);
        told.filter(|unit| matches!(unit, SaidUnit::Minor(_)) && thats && near && few && own)
    }

    /// "honey 25 for 23p": so much for so much.
    pub(super) fn is_paid_for_behind(&self) -> bool {
        let end = self.quantity.end;
        let next = self.hearing.heard.get(self.index + 1).filter(|next| next.quantity.start == end + 1);
        self.flows(end) && self.is(end, Sense::For) && next.is_some_and(|next| next.kind == Some(Kind::Money))
    }

    /// "a five pound bag of bread flour is five forty-nine"
    pub(super) fn is_price_of_a_pack(&self) -> bool {
        let start = self.quantity.start;
        let price = self.quantity.short.is_some() || self.quantity.step == Exact::ratio(1, 100);
        let is = start.checked_sub(1).is_some_and(|at| self.is(at, Sense::Is) || self.is(at, Sense::Cost));
        let clause = (start.saturating_sub(7)..start)
            .rev()
            .take_while(|&at| self.hearing.tokens[at + 1].gap == Gap::None && !self.hearing.stops(at));
        // "the 340 gram squeezy is 3 06", "a bag of 200 grams is 3 49"
        let sized = self.index.checked_sub(1).map(|before| &self.hearing.heard[before]).is_some_and(|pack| {
            let (from, to) = (pack.quantity.start, pack.quantity.end);
            let led = from.checked_sub(1).filter(|_| self.flows(from)).is_some_and(|at| {
                let of = self.is(at, Sense::Of) && at > 0 && self.is(at - 1, Sense::Package);
                of || self.is(at, Sense::Determiner) || self.is(at, Sense::Article)
            });
            let noun = to + 2 == start && self.hearing.mention_at[to].is_none() || to + 1 == start;
            // "a litre is 2.49"
            let one = self.is(from, Sense::Article) && to == from + 2 && to + 1 == start;
            // "the bag of 6 was 4 29"
            let six = from > 1 && self.is(from - 1, Sense::Of) && self.is(from - 2, Sense::Package) && to + 1 == start;
            if six && pack.quantity.unit.is_none() && !self.hearing.is_of_the_method(from - 2) {
                return self.flows(to);
            }
            (led && noun || one)
                && pack.quantity.unit.is_some()
                && (matches!(pack.kind, Some(Kind::Weight | Kind::Volume))
                    || pack.quantity.unit == Some(SaidUnit::PoundOrMoney))
                && (to..=start).all(|at| self.flows(at))
        });
        // "at the till, with whole bags, it was fifteen thirty-three" is of all of them.
        let whole = |at: usize| {
            // "the grand total for the jar is 4 74"
            let total = (at.saturating_sub(5)..at).any(|at| self.hints(at, Hint::Lot));
            at.checked_sub(1).is_some_and(|at| self.hints(at, Hint::All)) || total
        };
        let told = |at: usize| self.hearing.price_is_told(at);
        let package =
            |at: usize| self.is(at, Sense::Package) && !self.hearing.is_of_the_method(at) && !whole(at) && !told(at);
        // "the mushrooms are 2 boxes for 5 58"
        let boxes = start > 1 && self.is(start - 1, Sense::For) && self.is(start - 2, Sense::Package);
        price && (boxes || is && (sized || clause.into_iter().any(package)))
    }

    /// "each one is nine forty-three before you bake it": weighed, whatever else is spoken of.
    pub(super) fn is_before_the_heat(&self) -> bool {
        let end = self.quantity.end;
        let raw = |at: usize| self.reader.phrase(at, |role| role == Role::Raw).is_some();
        (end..end + 3).take_while(|&at| self.flows(at)).any(raw)
    }

    /// "1.25 a kilo": a price that is of no dish.
    pub(super) fn is_rate(&self) -> bool {
        let end = self.quantity.end;
        let decimals = !self.quantity.low.is_whole() && !self.quantity.fraction || self.quantity.short.is_some();
        let leads = self.hearing.leads_to_a_rate(end);
        let unit = self.hearing.tokens.get(end + 1).and_then(|token| token.unit());
        let measured = unit.is_some_and(|unit| matches!(unit.kind(Kind::Weight), Kind::Weight | Kind::Volume));
        // "one thirty-five a bottle"
        let pack = self.is(end + 1, Sense::Package) && !self.hearing.is_of_the_method(end + 1);
        // "one forty-nine a pound" is nothing but a price.
        let priced = self.quantity.short.is_some() && (measured || pack) || self.hearing.talk_of_money(self.index);
        // "I get one eighty-five a head for the whole plate"
        if decimals && leads && self.hints(end + 1, Hint::Head) && self.flows(end) {
            return true;
        }
        let bag = self.hearing.is_for_a_pack(end);
        decimals && self.flows(end) && (bag || leads && (measured || pack) && priced)
    }

    /// "it all adds up to 6 95"
    pub(super) fn is_priced_sum(&self) -> bool {
        self.quantity.short.is_some() && self.hearing.is_summed_up_at(self.quantity.start)
    }
}
