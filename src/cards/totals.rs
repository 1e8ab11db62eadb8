//! The totals side by side, each with its bar and a sentence on what it counts: used, with energy, at the till, ready-made.

use super::Stack;
use super::closing::per_piece;
use super::cost::{board, missing, total};
use super::desk::{Desk, author, figure};
use super::table::{Cell, Look, Row};
use crate::locale::Key;
use crate::sheet::{Figure, Phrase};

pub(super) fn cards(desk: &Desk<'_>, stack: &mut Stack) {
    if !desk.sheet.cost.lines.is_empty() {
        stack.put_pages("totals", board(desk, &rows(desk), &desk.say(Key::Totals, &[]), &oil(desk)));
    }
}

/// One total: what it is called, what it counts, what it comes to, apiece and in all.
struct Total<'a> {
    name: Phrase,
    why: Phrase,
    each: Option<&'a Figure>,
    amount: &'a Figure,
    look: Look,
    bar: u16,
}

fn rows(desk: &Desk<'_>) -> Vec<Row> {
    let cost = &desk.sheet.cost;
    let say = |key: Key| desk.say(key, &[]);
    let mut totals = vec![Total {
        name: say(total(desk)),
        why: say(Key::TotalsUsedWhy),
        each: cost.each.as_ref(),
        amount: &cost.total,
        look: Look::Accent,
        bar: cost.bars.used,
    }];
    if let (Some(full), Some(energy)) = (&cost.with_energy, &cost.energy) {
        let tariff = energy.tariff.as_ref().map(figure).unwrap_or_default();
        totals.push(Total {
            name: say(Key::TotalsEnergy),
            why: desk.say(Key::TotalsEnergyWhy, &[("kwh", figure(&energy.kwh)), ("tariff", tariff)]),
            each: cost.with_energy_each.as_ref(),
            amount: full,
            look: Look::Amount,
            bar: cost.bars.with_energy,
        });
    }
    totals.push(Total {
        name: say(Key::CostBasket),
        why: match &cost.more {
            Some(more) => desk.say(Key::TotalsBasketMore, &[("left", figure(&cost.left)), ("more", figure(more))]),
            None => desk.say(Key::TotalsBasketLeft, &[("left", figure(&cost.left))]),
        },
        each: None,
        amount: &cost.basket,
        look: Look::Amount,
        bar: cost.bars.basket,
    });
    if let Some(compare) = &cost.compare {
        totals.push(Total {
            name: say(Key::TotalsCompare),
            why: compared(desk),
            each: compare.each.as_ref(),
            amount: &compare.same,
            look: Look::Amount,
            bar: cost.bars.compare,
        });
    }
    totals.into_iter().map(|total| row(desk, total)).chain(missing(desk)).collect()
}

/// What the oil to fry in costs, and how much of it that is: a part of the totals and none of them, so it stands below.
fn oil(desk: &Desk<'_>) -> Phrase {
    let Some(fry) = &desk.sheet.fry else { return Phrase::new() };
    let labelled = |label: Phrase, text: Phrase| desk.say(Key::Labelled, &[("label", label), ("text", text)]);
    let name = desk.say(Key::FryOil, &[("oil", author(&fry.oil))]);
    let priced = desk.sheet.cost.lines.iter().find(|line| line.id == "fry.oil");
    let named = match priced {
        Some(line) => labelled(name, figure(&line.cost)),
        None => name,
    };
    let slots = [("taken", figure(&fry.taken_up)), ("fill", figure(&fry.fill)), ("uses", figure(&fry.uses))];
    told_both(desk, named, labelled(figure(&fry.used), desk.say(Key::TotalsOilWhy, &slots)))
}

fn row(desk: &Desk<'_>, total: Total<'_>) -> Row {
    let slots = |each| [("label", per_piece(desk)), ("text", figure(each))];
    let aside = match total.each {
        Some(each) => told_both(desk, desk.say(Key::Labelled, &slots(each)), total.why),
        None => total.why,
    };
    let cells = vec![Cell::counted(desk, total.amount, total.look)];
    Row { bar: Some(total.bar), aside: Some(aside), ..Row::line(total.name, cells) }
}

fn told_both(desk: &Desk<'_>, first: Phrase, second: Phrase) -> Phrase {
    desk.say(Key::ToldBoth, &[("first", first), ("second", second)])
}

/// What the ready-made one is, and how far the batch is from it.
fn compared(desk: &Desk<'_>) -> Phrase {
    let Some(compare) = &desk.sheet.cost.compare else { return Phrase::new() };
    let slots = [("size", figure(&compare.size)), ("price", figure(&compare.price)), ("day", figure(&compare.bought))];
    let seen = desk.say(Key::TotalsCompareWhy, &slots);
    let key = if compare.cheaper { Key::TotalsCheaper } else { Key::TotalsDearer };
    let Some(gap) = &compare.gap else { return seen };
    told_both(desk, seen, desk.say(key, &[("gap", figure(gap))]))
}
