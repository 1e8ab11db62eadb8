//! What it costs: every line with its bar, share and money, the sum, one piece, the till; and what is not counted.

use super::Stack;
use super::closing::per_piece;
use super::desk::{Desk, Room, author, figure, joined};
use super::pile::scene;
use super::table::{Cell, Kind, Look, Row, State};
use super::weigh::{area, framed};
use crate::draw::{DrawError, Scene};
use crate::locale::Key;
use crate::sheet::{CostLineFigures, Figure, Phrase};
use crate::theme::Plate;

pub(super) fn cards(desk: &Desk<'_>, stack: &mut Stack) {
    stack.put_pages("cost", board(desk, &rows(desk), &desk.say(Key::Cost, &[]), &Phrase::new()));
}

/// A row for each thing that has no price: what is missing pages as what is there does.
pub(super) fn missing(desk: &Desk<'_>) -> impl Iterator<Item = Row> {
    desk.sheet.cost.missing.iter().map(|(_, name)| Row {
        there: false,
        aside: Some(desk.say(Key::CostNoPrice, &[])),
        ..Row::line(author(name), Vec::new())
    })
}

/// A table of costs below a heading with the day, and a quiet `foot` below it.
pub(super) fn board(desk: &Desk<'_>, rows: &[Row], words: &Phrase, foot: &Phrase) -> Result<Vec<Scene>, DrawError> {
    let remark = desk.sheet.day.as_ref().map(|day| desk.say(Key::CostOn, &[("day", figure(day))]));
    let quiet = |width: f32| desk.set(foot, desk.note(), Room::lines(width, 4));
    let below = |width: f32| Ok(if foot.is_empty() { 0.0 } else { desk.block() + quiet(width)?.height });
    let (table, head) = framed(desk, rows, None, (words, remark.as_ref()), area(desk, 0.0), &below)?;
    (0..table.pages.len())
        .map(|page| {
            let mut pile = head.clone();
            pile.below(&table.draw(desk, page, &|_| State::Shown)?, desk.block());
            if !foot.is_empty() {
                pile.text(&quiet(table.width())?, 0.0, pile.height + desk.block());
            }
            let mut scene = scene(desk, "", Plate::List, &pile, (0.0, 0.0))?;
            scene.title = format!("{}: {}", desk.say(total(desk), &[]).text(), desk.sheet.cost.total.text());
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
            aside: aside(desk, line),
            ..Row::line(
                author(&line.name),
                vec![Cell::new(figure(&line.share), Look::Beside), Cell::new(figure(&line.cost), Look::Amount)],
            )
        })
        .collect();
    let result = |kind: Kind, name: Phrase, value: &Figure, look: Look, aside: Option<Phrase>| Row {
        kind,
        aside,
        ..Row::line(name, vec![Cell::default(), Cell::counted(desk, value, look)])
    };
    rows.extend(missing(desk));
    rows.push(result(Kind::Total, desk.say(total(desk), &[]), &cost.total, Look::Accent, None));
    if let Some(each) = &cost.each {
        rows.push(result(Kind::Extra, per_piece(desk), each, Look::Amount, None));
    }
    if !cost.lines.is_empty() {
        let why = desk.say(Key::CostBasketWhy, &[]);
        rows.push(result(Kind::Extra, desk.say(Key::CostBasket, &[]), &cost.basket, Look::Amount, Some(why)));
    }
    rows
}

/// What the total is called: no sum that lacks a price goes by the name of the whole.
pub(super) fn total(desk: &Desk<'_>) -> Key {
    if desk.sheet.cost.complete { Key::CostTotal } else { Key::CostTotalKnown }
}

/// What tells a line from others of its name, and that it is free or on offer.
fn aside(desk: &Desk<'_>, line: &CostLineFigures) -> Option<Phrase> {
    let mark = |mark: Key, holds: bool| if holds { desk.say(mark, &[]) } else { Phrase::new() };
    let of = line.of.as_deref().map(author).unwrap_or_default();
    let aside = joined(&[of, mark(Key::CostFree, line.free), mark(Key::CostOffer, line.offer)], " · ");
    (!aside.is_empty()).then_some(aside)
}
