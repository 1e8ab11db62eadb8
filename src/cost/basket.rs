//! The basket: whole packs at the till, what is left of them, and how many more batches that makes.

use super::{Charge, Wanting, price_per_gram};
use crate::exact::Exact;
use crate::measure::eaten_of_pack;
use crate::model::{Pack, Pantry, PriceBook, Purchase};
use jiff::civil::Date;

/// Whole packs of one item.
#[derive(Clone, Debug)]
pub struct Packs {
    /// The pantry key.
    pub item: String,
    /// How many packs.
    pub count: Exact,
    /// The purchase whose pack and price hold.
    pub purchase: Purchase,
    /// What they cost together.
    pub amount: Exact,
    /// What stays in the packs, in grams as eaten; the oil in the pan is not in it.
    pub left: Exact,
    /// The same in pieces, where packs are sold by the piece and whole ones are left.
    pub left_pieces: Option<Exact>,
    /// How many more batches, whole ones, what is left makes; the oil in the pan serves the rest of its uses.
    pub more: Exact,
    /// What a batch needs.
    need: Need,
    /// What is eaten of one pack, in grams.
    eaten: Exact,
}

impl Packs {
    /// What the packs for so many batches cost; `uses` is how many a filling of the pan serves.
    pub(super) fn paid_for(&self, batches: &Exact, uses: &Exact) -> Exact {
        let fillings = (batches / uses).ceil();
        let grams = &self.need.lines * batches + &self.need.fill * &fillings;
        grams.over(&self.eaten).map_or_else(Exact::zero, |packs| packs.ceil()) * &self.purchase.price
    }
}

/// What a batch needs of one item, in grams as eaten.
#[derive(Clone, Debug)]
struct Need {
    /// Weighed in, in every batch.
    lines: Exact,
    /// Filled into the pan, once for all its uses.
    fill: Exact,
}

/// Whole packs of each item that has a price; `uses` is how many batches a filling of the pan serves.
pub(super) fn basket(
    wanted: &[Wanting<'_>],
    uses: &Exact,
    pantry: &Pantry,
    book: &PriceBook,
    day: Option<Date>,
) -> Vec<Packs> {
    let mut needs: Vec<(&str, Need)> = Vec::new();
    for Wanting { charge, item, bought, .. } in wanted {
        let at = needs.iter().position(|(known, _)| known == item).unwrap_or_else(|| {
            needs.push((item, Need { lines: Exact::zero(), fill: Exact::zero() }));
            needs.len() - 1
        });
        match charge {
            Charge::Line(_) => needs[at].1.lines += bought,
            Charge::Oil => needs[at].1.fill += bought,
        }
    }
    let packs = needs.into_iter().filter_map(|(item, need)| {
        let (_, purchase) = price_per_gram(item, pantry, book, day)?;
        let eaten = eaten_of_pack(pantry.get(item)?, &purchase.pack)?;
        let count = (&need.lines + &need.fill).over(&eaten)?.ceil();
        let held = &eaten * &count;
        let left = &held - (&need.lines + &need.fill);
        let pieces = match &purchase.pack {
            Pack::Count(pieces) => (&left * pieces).over(&eaten),
            Pack::Weight(_) | Pack::Volume(_) => None,
        };
        Some(Packs {
            item: item.to_owned(),
            amount: &count * &purchase.price,
            left,
            left_pieces: pieces.filter(Exact::is_whole),
            more: (batches(&held, &need, uses) - Exact::one()).max(Exact::zero()),
            purchase: purchase.clone(),
            count,
            need,
            eaten,
        })
    });
    packs.collect()
}

/// How many whole batches `held` grams make, with as many fillings of the pan as they need.
fn batches(held: &Exact, need: &Need, uses: &Exact) -> Exact {
    if !need.fill.is_positive() {
        return held.over(&need.lines).map_or_else(Exact::zero, |count| count.floor());
    }
    // `fillings` serve `fillings × uses` batches, if what is not filled in is enough for their lines: the first grows
    // with the fillings, the second falls, and the most is beside the point where they meet.
    let served = |fillings: &Exact| {
        let rest = held - fillings * &need.fill;
        if rest < Exact::zero() {
            return Exact::zero();
        }
        let by_pan = (fillings * uses).floor();
        match rest.over(&need.lines) {
            Some(by_lines) => by_lines.floor().min(by_pan),
            None => by_pan,
        }
    };
    let meeting = held.over(&(uses * &need.lines + &need.fill)).unwrap_or_else(Exact::zero);
    served(&meeting.floor()).max(served(&meeting.ceil()))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Batches counted one by one, as a cook would.
    fn counted(held: i64, lines: i64, fill: i64, uses: i64) -> i64 {
        let mut made = 0;
        while (made + 1) * lines + (made / uses + 1) * fill <= held && made < 10_000 {
            made += 1;
        }
        made
    }

    #[test]
    fn batches_are_as_many_as_a_cook_counts() {
        for held in [0, 1, 99, 100, 101, 250, 999, 1000, 3456] {
            for lines in [0, 1, 7, 100, 333] {
                for fill in [0, 50, 99, 900] {
                    for uses in 1..5 {
                        if lines + fill == 0 {
                            continue;
                        }
                        let need = Need { lines: Exact::from(lines), fill: Exact::from(fill) };
                        let found = batches(&Exact::from(held), &need, &Exact::from(uses));
                        assert_eq!(
                            found,
                            Exact::from(counted(held, lines, fill, uses)),
                            "{held} {lines} {fill} {uses}"
                        );
                    }
                }
            }
        }
    }
}
