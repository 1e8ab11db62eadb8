//! What it costs: every line with its bar, share and money, the sum, one piece, the till; and what is not counted.

use super::Stack;
use super::closing::per_piece;
use super::desk::{Desk, Room, author, figure, joined};
use super::pile::{Pile, scene};
use super::table::{Cell, Kind, Look, Row, State};
use super::weigh::{area, framed};
use crate::draw::{DrawError, Scene};
use crate::locale::Key;
use crate::sheet::{CostLineFigures, Figure, Phrase};
use crate::theme::Plate;

pub(super) fn cards(desk: &Desk<'_>, stack: &mut Stack) {
    stack.put_pages("cost", board(desk, &rows(desk), &desk.say(Key::Cost, &[])));
}

/// What has no price, in full size: it must be read.
pub(super) fn missing(desk: &Desk<'_>, width: f32) -> Result<Option<Pile>, DrawError> {
    let cost = &desk.sheet.cost;
    if cost.complete {
        return Ok(None);
    }
    let names: Vec<&str> = cost.missing.iter().map(|(_, name)| name.as_str()).collect();
    let phrase = desk.say(Key::CostIncomplete, &[("names", author(&desk.locale.list(&names)))]);
    let set = desk.set(&phrase, desk.amount(1.0).coloured(desk.colours().accent), Room::lines(width, 6))?;
    let mut pile = Pile::new();
    pile.text(&set, 0.0, 0.0);
    Ok(Some(pile))
}

/// A table of costs below a heading with the day, and what is missing below it.
pub(super) fn board(desk: &Desk<'_>, rows: &[Row], words: &Phrase) -> Result<Vec<Scene>, DrawError> {
    let remark = desk.sheet.day.as_ref().map(|day| desk.say(Key::CostOn, &[("day", figure(day))]));
    let foot = |width: f32| Ok(missing(desk, width)?.map_or(0.0, |pile| pile.height + desk.gap()));
    let (table, head) = framed(desk, rows, None, (words, remark.as_ref()), area(desk, 0.0), &foot)?;
    (0..table.pages.len())
        .map(|page| {
            let mut pile = head.clone();
            pile.below(&table.draw(desk, page, &|_| State::Shown)?, desk.block());
            if let Some(missing) = missing(desk, table.width())? {
                pile.below(&missing, desk.gap());
            }
            let mut scene = scene(desk, "", Plate::List, &pile, (0.0, 0.0))?;
            scene.title = format!("{}: {}", words.text(), desk.sheet.cost.total.text());
            Ok(scene)
        })
        .collect()
}

fn rows(desk: &Desk<'_>) -> Vec<Row> {
    let cost = &desk.sheet.cost;
    let mut rows: Vec<Row> = cost
        .lines
        .iter()
        .map(|line| Row {
            bar: Some(line.bar),
            ..Row::line(
                named(desk, line),
                vec![Cell::new(figure(&line.share), Look::Beside), Cell::new(figure(&line.cost), Look::Amount)],
            )
        })
        .collect();
    let result = |kind: Kind, name: Phrase, value: &Figure, look: Look, aside: Option<Phrase>| Row {
        kind,
        aside,
        ..Row::line(name, vec![Cell::default(), Cell::counted(desk, value, look)])
    };
    let total = if cost.complete { Key::CostTotal } else { Key::CostTotalKnown };
    rows.push(result(Kind::Total, desk.say(total, &[]), &cost.total, Look::Accent, None));
    if let Some(each) = &cost.each {
        rows.push(result(Kind::Extra, per_piece(desk), each, Look::Amount, None));
    }
    let why = desk.say(Key::CostBasketWhy, &[]);
    rows.push(result(Kind::Extra, desk.say(Key::CostBasket, &[]), &cost.basket, Look::Amount, Some(why)));
    rows
}

/// A line's name, and that it is free or on offer.
fn named(desk: &Desk<'_>, line: &CostLineFigures) -> Phrase {
    let mark = |mark: Key, holds: bool| if holds { desk.say(mark, &[]) } else { Phrase::new() };
    joined(&[author(&line.name), mark(Key::CostFree, line.free), mark(Key::CostOffer, line.offer)], " · ")
}
