//! The closing card: what came out, what it cost, what one costs.

use super::Stack;
use super::desk::{Desk, Room, Set, author, figure};
use super::pile::{Pile, scene};
use crate::draw::{DrawError, Scene};
use crate::locale::Key;
use crate::sheet::Phrase;
use crate::theme::{Ink, Plate};

pub(super) fn cards(desk: &Desk<'_>, stack: &mut Stack) {
    stack.put("closing".to_owned(), closing(desk));
}

fn closing(desk: &Desk<'_>) -> Result<Scene, DrawError> {
    let (sheet, colours) = (desk.sheet, desk.colours());
    let style = &desk.theme.tokens().style;
    let width = desk.column(Plate::Closing) * if desk.is_wide() { 1.1 } else { 1.0 };
    let mut pile = Pile::new();
    let channel = desk.set(&author(&sheet.channel), desk.label().coloured(colours.accent), Room::lines(width, 2))?;
    pile.text(&channel, 0.0, 0.0);
    let title = desk.set_large(&author(&sheet.title), &style.display, colours.ink, Room::lines(width, 3).tight())?;
    pile.text(&title, 0.0, pile.height + desk.gap() * 1.6);
    let stats = stats(desk, width)?;
    pile.below(&stats, desk.block() * 1.5);
    let mut quiet = Vec::new();
    if !sheet.cost.complete {
        let names: Vec<&str> = sheet.cost.missing.iter().map(|(_, name)| name.as_str()).collect();
        quiet.push(desk.say(Key::CostIncomplete, &[("names", author(&desk.locale.list(&names)))]));
    }
    quiet.push(desk.say(Key::ClosingMore, &[]));
    for phrase in quiet {
        let set = desk.set(&phrase, desk.note(), Room::lines(width, 3))?;
        pile.text(&set, 0.0, pile.height + desk.block());
    }
    let mut scene = scene(desk, "", Plate::Closing, &pile, (0.0, 0.0))?;
    scene.title = sheet.title.clone();
    Ok(scene)
}

/// A label over its figure.
struct Stat {
    label: Set,
    value: Set,
}

fn stats(desk: &Desk<'_>, width: f32) -> Result<Pile, DrawError> {
    let sheet = desk.sheet;
    let mut list: Vec<(Phrase, Phrase)> = Vec::new();
    if let (Some(count), Some(name)) = (&sheet.yields.count, &sheet.yields.piece_name) {
        list.push((author(name), figure(count)));
    }
    let total = if sheet.cost.complete { Key::CostTotal } else { Key::CostTotalKnown };
    list.push((desk.say(total, &[]), figure(&sheet.cost.total)));
    if let Some(each) = &sheet.cost.each {
        list.push((per_piece(desk), figure(each)));
    }
    let inks = [desk.hero(1.0), desk.display(0.0), desk.display(0.5), desk.display(1.0)];
    let at = |ink: Ink<'_>| -> Result<Vec<Stat>, DrawError> {
        list.iter()
            .map(|(label, value)| {
                Ok(Stat { label: desk.set(label, desk.label(), Room::LINE)?, value: desk.set(value, ink, Room::LINE)? })
            })
            .collect()
    };
    for ink in inks {
        let stats = at(ink)?;
        let gaps = desk.block() * 1.5 * stats.len().saturating_sub(1) as f32;
        if stats.iter().map(Stat::width).sum::<f32>() + gaps <= width {
            return Ok(side_by_side(desk, &stats));
        }
    }
    // Too much for one line: below each other, large.
    Ok(stacked(desk, &at(desk.display(0.0))?))
}

impl Stat {
    fn width(&self) -> f32 {
        self.label.width.max(self.value.width)
    }
}

fn side_by_side(desk: &Desk<'_>, stats: &[Stat]) -> Pile {
    let mut pile = Pile::new();
    let mut x = 0.0;
    for stat in stats {
        pile.text(&stat.label, x, 0.0);
        pile.text(&stat.value, x, stat.label.height + desk.gap());
        x += stat.width() + desk.block() * 1.5;
    }
    pile
}

fn stacked(desk: &Desk<'_>, stats: &[Stat]) -> Pile {
    let mut pile = Pile::new();
    for stat in stats {
        let mut one = Pile::new();
        one.text(&stat.label, 0.0, 0.0);
        one.text(&stat.value, 0.0, stat.label.height + desk.gap());
        pile.below(&one, desk.block());
    }
    pile
}

/// "Per puff", or the like where pieces have no name.
pub(super) fn per_piece(desk: &Desk<'_>) -> Phrase {
    match &desk.sheet.yields.piece_one {
        Some(piece) => desk.say(Key::CostPer, &[("piece", author(piece))]),
        None => desk.say(Key::CostApiece, &[]),
    }
}
