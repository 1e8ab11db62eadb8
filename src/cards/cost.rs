//! What it costs: every line with its bar, share and money, the sum, one piece, the till; and what is not counted.

use super::Stack;
use super::closing::per_piece;
use super::desk::{Desk, Room, author, figure, joined};
use super::pile::{Pile, scene};
use super::table::{Cell, Kind, Look, Row, State};
use super::weigh::{area, framed};
use crate::draw::{DrawError, Scene};
use crate::locale::Key;
use crate::sheet::Phrase;
use crate::theme::Plate;

pub(super) fn cards(desk: &Desk<'_>, stack: &mut Stack) {
    stack.put_pages("cost", pages(desk));
}

fn pages(desk: &Desk<'_>) -> Result<Vec<Scene>, DrawError> {
    let rows = rows(desk);
    let cost = &desk.sheet.cost;
    let words = desk.say(Key::Cost, &[]);
    let remark = desk.sheet.day.as_ref().map(|day| desk.say(Key::CostOn, &[("day", figure(day))]));
    // What is missing must be read: it stands below the table in full size.
    let missing = |width: f32| -> Result<Option<Pile>, DrawError> {
        if cost.complete {
            return Ok(None);
        }
        let names: Vec<&str> = cost.missing.iter().map(|(_, name)| name.as_str()).collect();
        let phrase = desk.say(Key::CostIncomplete, &[("names", author(&desk.locale.list(&names)))]);
        let set = desk.set(&phrase, desk.amount(1.0).coloured(desk.colours().accent), Room::lines(width, 6))?;
        let mut pile = Pile::new();
        pile.text(&set, 0.0, 0.0);
        Ok(Some(pile))
    };
    let foot = |width: f32| Ok(missing(width)?.map_or(0.0, |pile| pile.height + desk.gap()));
    let (table, head) = framed(desk, &rows, None, (&words, remark.as_ref()), area(desk, 0.0), &foot)?;
    (0..table.pages.len())
        .map(|page| {
            let mut pile = head.clone();
            pile.below(&table.draw(desk, page, &|_| State::Shown)?, desk.block());
            if let Some(missing) = missing(table.width())? {
                pile.below(&missing, desk.gap());
            }
            let mut scene = scene(desk, "", Plate::List, &pile, (0.0, 0.0))?;
            scene.title = format!("{}: {}", words.text(), cost.total.text());
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
                joined(&[author(&line.name)], ""),
                vec![Cell::new(figure(&line.share), Look::Beside), Cell::new(figure(&line.cost), Look::Amount)],
            )
        })
        .collect();
    let result = |kind: Kind, name: Phrase, value: Phrase, look: Look, aside: Option<Phrase>| Row {
        kind,
        aside,
        ..Row::line(name, vec![Cell::default(), Cell::new(value, look)])
    };
    let total = if cost.complete { Key::CostTotal } else { Key::CostTotalKnown };
    rows.push(result(Kind::Total, desk.say(total, &[]), figure(&cost.total), Look::Accent, None));
    if let Some(each) = &cost.each {
        rows.push(result(Kind::Extra, per_piece(desk), figure(each), Look::Amount, None));
    }
    let why = desk.say(Key::CostBasketWhy, &[]);
    rows.push(result(Kind::Extra, desk.say(Key::CostBasket, &[]), figure(&cost.basket), Look::Amount, Some(why)));
    rows
}
