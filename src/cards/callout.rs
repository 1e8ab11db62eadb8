//! Callouts: one line's amount, large, for the moment it is poured.

use super::Stack;
use super::desk::{Desk, Room, author, figure, joined};
use super::pile::{Corner, Pile, scene_in};
use super::weigh::remarks;
use crate::draw::DrawError;
use crate::locale::Key;
use crate::sheet::{LineFigures, Phrase};
use crate::theme::Plate;

pub(super) fn cards(desk: &Desk<'_>, stack: &mut Stack) {
    let parted = desk.sheet.parts.iter().any(|part| part.title.is_some());
    let lines = desk.sheet.parts.iter().flat_map(|part| part.lines.iter().map(move |line| (part, line)));
    let made: Vec<(String, Result<Pile, DrawError>)> = lines
        .map(|(part, line)| {
            let name =
                if parted { format!("callout-{}-{}", part.id, line.key) } else { format!("callout-{}", line.key) };
            (name, callout(desk, line))
        })
        .collect();
    // All of one size, so that they can follow each other on screen without a jump.
    let piles = || made.iter().filter_map(|(_, pile)| pile.as_ref().ok());
    let width = piles().map(|pile| pile.width).fold(0.0, f32::max);
    let height = piles().map(|pile| pile.height).fold(0.0, f32::max);
    let lines = desk.sheet.parts.iter().flat_map(|part| &part.lines);
    for ((name, pile), line) in made.into_iter().zip(lines) {
        let scene =
            pile.and_then(|pile| scene_in(Corner::UpperRight, desk, &name, Plate::Plain, &pile, (width, height)));
        stack.put(
            name,
            scene.map(|mut scene| {
                scene.title = format!("{} {}", line.amount.text(), line.name);
                scene
            }),
        );
    }
}

fn callout(desk: &Desk<'_>, line: &LineFigures) -> Result<Pile, DrawError> {
    let style = &desk.theme.tokens().style;
    let colours = desk.colours();
    let most = desk.most(Plate::Plain).0;
    let width = if desk.is_wide() { most.min(0.86 * desk.side as f32) } else { most };
    let mut pile = Pile::new();
    let amount = desk.set_large(&figure(&line.amount), &style.hero, colours.accent, Room::lines(width, 2).tight())?;
    pile.text(&amount, 0.0, 0.0);
    if let Some(percent) = &line.percent {
        let percent = desk.set(&figure(percent), desk.display(1.0).coloured(colours.soft), Room::LINE)?;
        if amount.block.line_count() == 1 && amount.width + desk.block() + percent.width <= width {
            pile.text(&percent, amount.width + desk.block(), amount.cap - percent.cap);
        } else {
            pile.text(&percent, 0.0, pile.height + desk.block());
        }
    }
    let words = author(&line.name);
    let name = desk.set_large(&words, &style.display, colours.ink, Room::lines(width, 3).tight())?;
    pile.text(&name, 0.0, pile.height + (desk.block() * 1.4).round());
    let mut quiet: Vec<Phrase> = Vec::new();
    quiet.extend(line.weight.as_ref().map(|weight| desk.say(Key::About, &[("amount", figure(weight))])));
    quiet.extend(remarks(line));
    if !quiet.is_empty() {
        let note = desk.set(&joined(&quiet, " · "), desk.note(), Room::lines(width, 3))?;
        pile.text(&note, 0.0, pile.height + desk.gap() * 1.5);
    }
    Ok(pile)
}
