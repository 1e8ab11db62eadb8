//! Amounts said in pieces: "a hundred grams now, and another thirty later" are right if they come to the whole.

use super::hear::Hearing;
use super::lexicon::Sense;
use super::link::Linked;
use crate::exact::Exact;
use crate::sheet::{Kind, Topic, Truth};
use foldhash::HashMap;
use std::collections::BTreeSet;

/// Claims, by their index among the linked, that are right together though each alone is not.
pub fn together(hearing: &Hearing<'_>, truth: &Truth, linked: &[Linked]) -> BTreeSet<usize> {
    let mut right = BTreeSet::new();
    let mut open: HashMap<(&str, Kind), (Exact, Vec<usize>)> = HashMap::default();
    for (index, link) in linked.iter().enumerate() {
        let heard = &hearing.heard[link.heard];
        let candidate = &link.tried[link.chosen];
        let Some(fact) = candidate.fact(truth).filter(|fact| fact.topic == Topic::Line) else { continue };
        let quantity = &heard.quantity;
        let start = quantity.start;
        let left = (start.saturating_sub(3)..start).any(|at| hearing.tokens[at].is(Sense::Left));
        let single = quantity.low == quantity.high;
        let unit = quantity.unit.map_or_else(Exact::one, |unit| super::lexicon::size(unit, truth.measures));
        let amount = &quantity.high * &unit;
        let key = (fact.about.as_str(), fact.kind);
        if !(quantity.more || left) || !single {
            open.insert(key, (amount, vec![index]));
            continue;
        }
        let Some((sum, parts)) = open.get_mut(&key) else { continue };
        *sum += &amount;
        parts.push(index);
        let whole = fact.values.first().filter(|value| value.low() == value.high());
        let step = &quantity.step * &unit;
        let comes_to = |value: &Exact| value.round_to(&step) == sum.round_to(&step);
        if whole.is_some_and(|value| comes_to(value.high())) {
            right.extend(parts.iter().copied());
        }
    }
    right
}
