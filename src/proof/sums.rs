//! Sums said aloud: "300 by 0.4 is 120", "forty percent of three hundred". Checks the arithmetic; must not know the
//! recipe.

use super::hear::{Fate, Hearing};
use super::lexicon::{Role, SaidUnit, Sense, size};
use super::quantity::{Quantity, Reader};
use super::token::Gap;
use crate::exact::{Exact, Measures, Unit};
use crate::sheet::Kind;

/// A sum said aloud.
#[derive(Clone, Debug)]
pub struct Sum {
    /// First token.
    pub start: usize,
    /// One past the last token.
    pub end: usize,
    /// Whether the result said is what comes out, at the precision it was said at.
    pub holds: bool,
    /// What comes out, in the unit of the result, rounded as that was said.
    pub comes_to: Exact,
    /// The indices of its quantities, the result last.
    pub terms: Vec<usize>,
    /// "is eight eighty grams": how many tokens of the number behind the terms are the result; the rest is none of the sum.
    split: usize,
}

impl Sum {
    /// The quantity that is its result and nothing else.
    pub fn result(&self) -> Option<usize> {
        self.terms.last().copied().filter(|_| self.split == 0)
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Operation {
    Multiply,
    Divide,
    Add,
    Subtract,
    /// "of": a share.
    Of,
}

/// Finds sums, and takes their terms out of what may be a claim.
pub fn sums(hearing: &mut Hearing<'_>, reader: Reader<'_>) -> Vec<Sum> {
    let mut found = Vec::new();
    let mut at = 0;
    while at + 2 < hearing.heard.len() {
        match sum(hearing, reader, at) {
            Some(sum) => {
                at += sum.terms.len();
                for &term in &sum.terms {
                    hearing.heard[term].fate = Fate::InSum;
                }
                told_before(hearing, &sum);
                if sum.split > 0 {
                    let quantity = &mut hearing.heard[at].quantity;
                    let result = quantity.start..quantity.start + sum.split;
                    behind_result(quantity, sum.split);
                    hearing.quantity_at[result].fill(None);
                }
                found.push(sum);
            }
            None => at += 1,
        }
    }
    found
}

/// "tomato paste 29, mustard 28, so 29 and 28 is 57 cents": what is said again in a sum of money was money before.
fn told_before(hearing: &mut Hearing<'_>, sum: &Sum) {
    let Some(&result) = sum.terms.last().filter(|_| sum.split == 0) else { return };
    let (unit, kind) = (hearing.heard[result].quantity.unit, hearing.heard[result].kind);
    let added = &sum.terms[..sum.terms.len() - 1];
    let together: Exact = added.iter().fold(Exact::zero(), |all, &term| all + &hearing.heard[term].quantity.low);
    if kind != Some(Kind::Money) || together != hearing.heard[result].quantity.low {
        return;
    }
    let first = sum.terms[0];
    for &term in added {
        let value = hearing.heard[term].quantity.low.clone();
        for before in first.saturating_sub(sum.terms.len())..first {
            let heard = &mut hearing.heard[before];
            if heard.quantity.unit.is_none() && heard.quantity.low == value {
                (heard.quantity.unit, heard.kind) = (unit, kind);
            }
        }
    }
}

/// What is left of a number whose first words were a sum's result.
fn behind_result(quantity: &mut Quantity, words: usize) {
    if let Some((_, tail)) = quantity.short.or(quantity.pair) {
        (quantity.low, quantity.high) = (Exact::from(tail), Exact::from(tail));
        (quantity.step, quantity.short, quantity.pair) = (Exact::one(), None, None);
        quantity.start += words;
    }
}

/// The head of two numbers that stand with nothing between, as a result of its own, and how many tokens it has.
fn head_alone(quantity: &Quantity) -> Option<(Exact, usize)> {
    let (head, tail) = quantity.short.or(quantity.pair)?;
    let words = if head <= 20 || head % 10 == 0 { 1 } else { 2 };
    (tail >= 10 && quantity.end - quantity.start > words).then(|| (Exact::from(head), words))
}

/// The sum that starts with a quantity.
fn sum(hearing: &Hearing<'_>, reader: Reader<'_>, first: usize) -> Option<Sum> {
    let quantity = |index: usize| hearing.heard.get(index).map(|heard| &heard.quantity);
    let mut terms = vec![first];
    let mut operations = Vec::new();
    let mut last = first;
    let (mut spoken_operation, mut listed) = (false, false);
    loop {
        let (from, to) = (quantity(last)?, quantity(last + 1)?);
        if let Some((operation, weak)) = operation(hearing, reader, from, to) {
            operations.push(operation);
            spoken_operation |= !weak && operation != Operation::Of;
            // So is "oil at six percent comes to seventeen" behind another number.
            listed |= weak
                && (operation == Operation::Add
                    || hearing.tokens[from.end..to.start].iter().any(|t| t.is(Sense::At) || t.is(Sense::Into)));
            last += 1;
            terms.push(last);
            if terms.len() > 12 {
                return None;
            }
            continue;
        }
        let certain = spoken_operation && terms.len() > 1;
        // "a dollar three and a dollar twenty is two twenty-three": the result may leave out its unit.
        let result = &hearing.heard[last + 1];
        // So may a term: "247 and 133 make 380 grams".
        let alike = |term: &usize| {
            let term = &hearing.heard[*term];
            result.kind.is_none() || term.kind == result.kind || term.quantity.unit.is_none()
        };
        let told = equals(hearing, reader, from, to, certain);
        // "340 and 60, four hundred.": where only a comma says it, the arithmetic must.
        listed |= !told;
        if terms.len() < 2 || listed && !terms.iter().all(alike) || !equals(hearing, reader, from, to, true) {
            return None;
        }
        break;
    }
    let result = quantity(last + 1)?;
    terms.push(last + 1);
    // "75 grams of oil over two minutes, the oil is 18p" reckons nothing.
    let timed = |term: &usize| matches!(hearing.heard[*term].kind, Some(Kind::Duration | Kind::Temperature));
    let amount = |term: &usize| matches!(hearing.heard[*term].kind, Some(Kind::Weight | Kind::Volume | Kind::Money));
    if terms.iter().any(timed) && terms.iter().any(amount) {
        return None;
    }
    // A result without a unit is in the unit of the first term that has one.
    let unit = result.unit.or_else(|| terms.iter().filter_map(|&t| quantity(t)).find_map(money_or_weight));
    let percent = result.unit == Some(SaidUnit::Unit(Unit::Percent));
    let scale = unit.map_or_else(Exact::one, |unit| size(unit, reader.measures));
    let scale = if percent { Exact::ratio(1, 100) } else { scale };
    let rounds_to = |came_out: &Exact, low: &Exact, high: &Exact, step: &Exact| {
        let rounded = came_out.round_to(step);
        let near = result.leeway != super::lexicon::Leeway::None
            && (came_out - high).abs() <= high.abs() * Exact::ratio(1, 10);
        rounded >= *low && rounded <= *high || near
    };
    let said: Vec<&Quantity> = terms.iter().filter_map(|&term| quantity(term)).collect();
    let plain = value(&said, &operations, |quantity| term(quantity, reader))?.over(&scale)?;
    // What was money where it was said first is money in the sum, in whatever words.
    let again = said_again(hearing, &terms);
    let added = operations.iter().all(|operation| *operation == Operation::Add);
    let again = again.or_else(|| (added && are_cents(hearing, &terms)).then_some(Again::InMoney));
    let money_of = |quantity: &Quantity| match again {
        Some(Again::InMoney) => Some(in_money(quantity, reader.measures)),
        _ => priced(quantity),
    };
    // "seven thirty-five divided by six" may be said of money.
    let came_out_in_money =
        || value(&said, &operations, |quantity| money_of(quantity).unwrap_or_else(|| term(quantity, reader)));
    let comes_out_in_money = || {
        let came_out = came_out_in_money()?;
        match money_of(result) {
            Some(price) => Some(rounds_to(&came_out, &price, &price, &Exact::ratio(1, 100))),
            None => Some(rounds_to(&came_out.over(&scale)?, &result.low, &result.high, &result.step)),
        }
    };
    // "twelve over three is four cups": of numbers without a unit.
    let counted = || {
        let bare = said[..said.len() - 1].iter().all(|term| term.unit.is_none());
        let came_out = value(&said, &operations, |quantity| term(quantity, reader))?;
        Some(bare && rounds_to(&came_out, &result.low, &result.high, &result.step))
    };
    let holds = rounds_to(&plain, &result.low, &result.high, &result.step)
        || comes_out_in_money().unwrap_or(false)
        || counted().unwrap_or(false);
    // "fifteen seventy-nine by thirty-two" divides as well as it multiplies.
    let by = |pair: &[&Quantity]| hearing.tokens[pair[0].end..pair[1].start].iter().any(|token| token.is(Sense::By));
    let divided: Vec<Operation> = said
        .windows(2)
        .zip(&operations)
        .map(|(pair, operation)| if by(pair) { Operation::Divide } else { *operation })
        .collect();
    let divides = || {
        let of = |quantity: &Quantity| priced(quantity).unwrap_or_else(|| term(quantity, reader));
        let came_out = value(&said, &divided, of)?.over(&scale)?;
        Some(rounds_to(&came_out, &result.low, &result.high, &result.step))
    };
    let holds = holds || divided != operations && divides().unwrap_or(false);
    if let Some((head, words)) = head_alone(result).filter(|_| !holds) {
        let came_out = value(&said, &operations, |quantity| term(quantity, reader))?;
        if rounds_to(&came_out, &head, &head, &Exact::one()) {
            terms.pop();
            let start = quantity(first)?.start;
            return Some(Sum { start, end: result.start + words, holds: true, comes_to: head, terms, split: words });
        }
    }
    // Two numbers with nothing between leave open where the first term starts: then nothing is said to be wrong.
    let open = first.checked_sub(1).and_then(quantity).is_some_and(|before| {
        let term = &said[0];
        before.end == term.start
            && before.low != term.low
            && before.unit.is_none()
            && term.unit.is_none()
            && reader.tape.flows(term.start)
    });
    // What "and" joins is a list as often as a sum: then only the arithmetic tells.
    if listed && !holds && again.is_none() {
        return None;
    }
    let holds = holds || open;
    let cent = Exact::ratio(1, 100);
    let money = said.iter().any(|term| money_of(term).is_some() || term.unit.is_some_and(is_money));
    // "94 cents" is told in cents, "2 13" as the price that it is.
    let price = money_of(result).filter(|_| result.unit.is_none());
    let comes_to = match (money, price) {
        (true, Some(_)) => came_out_in_money()?.round_to(&cent),
        (true, None) => came_out_in_money()?.over(&scale)?.round_to(&result.step),
        (false, _) => plain.round_to(&result.step),
    };
    Some(Sum { start: quantity(first)?.start, end: result.end, holds, comes_to, terms, split: 0 })
}

/// How the terms of a sum are what was said right before it.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Again {
    /// In the same words.
    Alike,
    /// The same money in other words: "a dollar 93, wholemeal 53 cents, so 1 93 and 53".
    InMoney,
}

/// "lemons 1.95, so 4.49 and 1.95 is 6.54": whether the terms are said again right behind where they were said first.
fn said_again(hearing: &Hearing<'_>, terms: &[usize]) -> Option<Again> {
    let (_, added) = terms.split_last().filter(|(_, added)| added.len() > 1)?;
    let first = added[0].checked_sub(added.len())?;
    let measures = hearing.reader().measures;
    let all = |same: &dyn Fn(&Quantity, &Quantity) -> bool| {
        let pairs = added.iter().zip(first..);
        pairs.into_iter().all(|(&term, before)| same(&hearing.heard[term].quantity, &hearing.heard[before].quantity))
    };
    let alike = |term: &Quantity, before: &Quantity| {
        term.low == before.low && term.high == before.high && term.unit == before.unit
    };
    let money = |term: &Quantity, before: &Quantity| {
        alike(term, before)
            || before.unit.is_some_and(is_money) && in_money(term, measures) == in_money(before, measures)
    };
    match () {
        () if all(&alike) => Some(Again::Alike),
        () if all(&money) => Some(Again::InMoney),
        () => None,
    }
}

/// "72 and 12 is 94p", "milk, honey and butter: one fifteen, eleven and nine is one pound thirty-five": whether plain numbers stand side by
/// side as the cents, and what they come to is money.
fn are_cents(hearing: &Hearing<'_>, terms: &[usize]) -> bool {
    let Some((&result, added)) = terms.split_last().filter(|(_, added)| added.len() > 1) else { return false };
    let heard = |term: usize| &hearing.heard[term];
    let plain =
        |term: &usize| heard(*term).quantity.unit.is_none() && heard(*term).quantity.low == heard(*term).quantity.high;
    let joined = added.windows(2).all(|pair| {
        let (from, to) = (&heard(pair[0]).quantity, &heard(pair[1]).quantity);
        to.start == from.end || are_joined(hearing, from, to)
    });
    let hundred = Exact::from(100);
    let few = added.iter().any(|&term| heard(term).quantity.low < hundred && heard(term).quantity.low.is_whole());
    heard(result).quantity.unit.is_some_and(is_money) && joined && few && added.iter().all(plain)
}

/// What a term is as money: "1 93", "53" behind other prices, "53 cents", "a dollar 93".
fn in_money(quantity: &Quantity, measures: Measures) -> Exact {
    match quantity.unit {
        Some(unit) => &quantity.low * size(unit, measures),
        None if quantity.low.is_whole() => priced(quantity).unwrap_or_else(|| &quantity.low * Exact::ratio(1, 100)),
        None => quantity.low.clone(),
    }
}

/// The unit of a term that a result takes over: not a percent, not a plain number.
fn money_or_weight(quantity: &Quantity) -> Option<SaidUnit> {
    quantity.unit.filter(|unit| *unit != SaidUnit::Unit(Unit::Percent))
}

fn is_money(unit: SaidUnit) -> bool {
    unit.kind(Kind::Weight) == Kind::Money
}

/// "seven thirty-five" as money.
fn priced(quantity: &Quantity) -> Option<Exact> {
    let (head, tail) = quantity.short.or(quantity.pair).filter(|_| quantity.unit.is_none())?;
    Some(Exact::from(head) + Exact::ratio(tail, 100))
}

/// What all terms but the last come to.
fn value(said: &[&Quantity], operations: &[Operation], of: impl Fn(&Quantity) -> Exact) -> Option<Exact> {
    let mut value = of(said.first()?);
    for (pair, operation) in said.windows(2).zip(operations) {
        value = apply(*operation, &value, &of(pair[1]), pair[0], pair[1])?;
    }
    Some(value)
}

/// A term's value in base units; a percent is a share of one.
fn term(quantity: &Quantity, reader: Reader<'_>) -> Exact {
    match quantity.unit {
        Some(SaidUnit::Unit(Unit::Percent)) => &quantity.high / Exact::from(100),
        Some(unit) => &quantity.high * size(unit, reader.measures),
        None => quantity.high.clone(),
    }
}

fn apply(operation: Operation, a: &Exact, b: &Exact, from: &Quantity, to: &Quantity) -> Option<Exact> {
    let of_percent = |q: &Quantity| q.unit == Some(SaidUnit::Unit(Unit::Percent)) || q.fraction;
    match operation {
        Operation::Multiply => Some(a * b),
        Operation::Of => of_percent(from).then(|| a * b),
        Operation::Divide => a.over(b),
        // "200 plus 10 percent" adds a share of what is there.
        Operation::Add if of_percent(to) && !of_percent(from) => Some(a + a * b),
        Operation::Subtract if of_percent(to) && !of_percent(from) => Some(a - a * b),
        Operation::Add => Some(a + b),
        Operation::Subtract => Some(a - b),
    }
}

/// Skips a name or a noun or two behind a term: "twelve fritters", "grams of flour".
fn past_nouns(hearing: &Hearing<'_>, from: usize, to: usize) -> Vec<usize> {
    let mut places = vec![from];
    let mut at = from;
    while at < to && at < from + 5 {
        let token = &hearing.tokens[at];
        let noun = hearing.mention_at[at].is_some()
            || token.is(Sense::Of)
            || token.is(Sense::Determiner)
            || token.is(Sense::Each)
            || token.senses.is_empty()
            || token.is(Sense::Aside)
            || token.is(Sense::For) && hearing.reader().phrase(at + 1, |role| role == Role::Whole).is_some();
        if !noun || token.gap == Gap::Sentence {
            break;
        }
        at += 1;
        places.push(at);
    }
    places
}

/// The operation between two quantities, if the words between them are one; and whether they mostly are none.
fn operation(hearing: &Hearing<'_>, reader: Reader<'_>, from: &Quantity, to: &Quantity) -> Option<(Operation, bool)> {
    let (start, end) = (from.end, to.start);
    // A new sentence, or a paragraph of a script, is a new sum.
    if end < start || end - start > 9 || (start..=end).any(|at| hearing.tokens[at].gap == Gap::Sentence) {
        return None;
    }
    if end == start + 1 && reader.tape.is(start, Sense::Of) {
        return Some((Operation::Of, false));
    }
    // "a hundred, I need another thirty-eight"
    let speaks = |at: usize| {
        let more = reader.tape.is(at, Sense::OneMore);
        more || reader.tape.is(at, Sense::Speaker) || reader.tape.is(at, Sense::Needs)
    };
    if to.more && end > start && end - start <= 3 && (start..end).all(speaks) {
        return Some((Operation::Add, true));
    }
    // "one fifteen, eleven and nine is …": a list goes on to what it comes to.
    if end == start && from.unit.is_none() && to.unit.is_none() && ends_a_list(hearing, to) {
        return Some((Operation::Add, true));
    }
    let wanted = |role| matches!(role, Role::Multiply | Role::Divide | Role::Add | Role::Subtract);
    for at in past_nouns(hearing, start, end) {
        if at >= end {
            break;
        }
        // "three sixty-two in two is one eighty-one a jar"
        let parted = reader.tape.is(at, Sense::Into) && at + 1 == end && priced(from).is_some() && to.unit.is_none();
        if parted {
            return Some((Operation::Divide, true));
        }
        let Some((role, length)) = reader.phrase(at, wanted) else { continue };
        let mut after = at + length;
        let light = [Sense::Determiner, Sense::Article, Sense::Aside];
        while after < end && light.iter().any(|sense| reader.tape.is(after, *sense)) {
            after += 1;
        }
        let weak = length == 1 && reader.tape.is(at, Sense::Hardly);
        // "cut in sixteen, and 7.90 over 16" begins anew.
        let comma = weak && (start..=end).any(|at| hearing.tokens[at].gap == Gap::Comma);
        let sides =
            comma || weak && [from, to].iter().any(|q| q.unit.is_some_and(|u| u.kind(Kind::Weight) == Kind::Length));
        // "300 at 35 percent" takes a share; "20 minutes at 180" doesn't.
        let percent = to.unit == Some(SaidUnit::Unit(Unit::Percent));
        // "3 eggs at 50 grams is 150 grams"
        let so_many =
            from.unit.is_none() && to.unit.is_some_and(|u| matches!(u.kind(Kind::Money), Kind::Weight | Kind::Volume));
        let no_share = reader.tape.is(at, Sense::At) && !percent && !so_many;
        if after == end && !sides && !no_share {
            let operation = match role {
                Role::Multiply => Operation::Multiply,
                Role::Divide => Operation::Divide,
                Role::Add => Operation::Add,
                _ => Operation::Subtract,
            };
            return Some((operation, weak));
        }
    }
    None
}

/// "eleven and nine": whether nothing but "and" stands between two quantities.
fn are_joined(hearing: &Hearing<'_>, from: &Quantity, to: &Quantity) -> bool {
    to.start == from.end + 1 && hearing.tokens[from.end].is(Sense::And)
}

/// Whether plain numbers go on side by side from one, the last of them behind "and".
fn ends_a_list(hearing: &Hearing<'_>, from: &Quantity) -> bool {
    let first = hearing.heard.partition_point(|heard| heard.quantity.start < from.start);
    let (mut last, plain) = (from, |quantity: &Quantity| quantity.unit.is_none());
    for heard in hearing.heard[first + 1..].iter().take(8).take_while(|heard| plain(&heard.quantity)) {
        let next = &heard.quantity;
        if are_joined(hearing, last, next) {
            return true;
        }
        if next.start != last.end {
            return false;
        }
        last = next;
    }
    false
}

/// Whether the words between two quantities say that the second is what the first terms come to. Where an
/// operation was said, a comma and "so" are enough.
fn equals(hearing: &Hearing<'_>, reader: Reader<'_>, from: &Quantity, to: &Quantity, certain: bool) -> bool {
    let (start, end) = (from.end, to.start);
    if end < start || end - start > 9 {
        return false;
    }
    for at in past_nouns(hearing, start, end) {
        let mut after = at;
        let mut said = false;
        while after < end {
            let equal = reader.phrase(after, |role| role == Role::Equals);
            let leeway = reader.phrase(after, |role| matches!(role, Role::Before(_)));
            let Some((role, length)) = equal.or(leeway) else { break };
            said |= role == Role::Equals;
            after += length;
        }
        let comma = certain && reader.tape.at(end).is_some_and(|token| token.gap == Gap::Comma) && after == end;
        if after == end && (said || comma) {
            return true;
        }
    }
    false
}
