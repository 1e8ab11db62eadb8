//! Callouts: one line's amount, large, for the moment it is poured.

use super::Stack;
use super::desk::{Desk, Room, Set, author, figure, is_misfit, joined};
use super::pile::{Corner, Pile, plate_size, scene_in};
use super::weigh::remarks;
use crate::draw::{Colour, DrawError};
use crate::locale::Key;
use crate::sheet::{LineFigures, Phrase};
use crate::theme::{Face, Plate};

/// The name of a callout's card, and what stands on it.
pub(super) type Callout = (String, Result<Pile, DrawError>);

/// The height of each of them: all are of one size.
pub(super) fn height(desk: &Desk<'_>) -> f32 {
    let made = callouts(desk);
    if made.is_empty() { 0.0 } else { plate_size(desk, Plate::Plain, size(made)).1 as f32 }
}

/// All of one size, so that they can follow each other on screen without a jump.
fn size(made: &[Callout]) -> (f32, f32) {
    let piles = || made.iter().filter_map(|(_, pile)| pile.as_ref().ok());
    (piles().map(|pile| pile.width).fold(0.0, f32::max), piles().map(|pile| pile.height).fold(0.0, f32::max))
}

/// All of them, laid out once for their deck.
fn callouts<'d>(desk: &'d Desk<'_>) -> &'d [Callout] {
    desk.shared.callouts.get_or_init(|| lay_out(desk))
}

fn lay_out(desk: &Desk<'_>) -> Vec<Callout> {
    let parted = desk.sheet.parts.iter().any(|part| part.title.is_some());
    let lines = desk.sheet.parts.iter().flat_map(|part| part.lines.iter().map(move |line| (part, line)));
    lines
        .map(|(part, line)| {
            let name =
                if parted { format!("callout-{}-{}", part.id, line.key) } else { format!("callout-{}", line.key) };
            (name, callout(desk, line))
        })
        .collect()
}

pub(super) fn cards(desk: &Desk<'_>, stack: &mut Stack) {
    let made = callouts(desk);
    let size = size(made);
    let lines = desk.sheet.parts.iter().flat_map(|part| &part.lines);
    for ((name, pile), line) in made.iter().zip(lines) {
        let pile = pile.as_ref().map_err(Clone::clone);
        let scene = pile.and_then(|pile| scene_in(Corner::UpperRight, desk, name, Plate::Plain, pile, size));
        stack.put(
            name.clone(),
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
    let amount = one_line_first(desk, &figure(&line.amount), (&style.hero, colours.accent), (width, 2))?;
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
    let name = one_line_first(desk, &words, (&style.display, colours.ink), (width, 3))?;
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

/// A text on one line, at any size of its face, before it is set on several: what stands below in the picture has the more
/// room.
fn one_line_first<'a>(
    desk: &Desk<'a>,
    words: &Phrase,
    (face, colour): (&'a Face, Colour),
    (width, lines): (f32, usize),
) -> Result<Set, DrawError> {
    let set = |lines: usize| desk.set_large(words, face, colour, Room::lines(width, lines).tight());
    let one = set(1);
    if is_misfit(&one) { set(lines) } else { one }
}
