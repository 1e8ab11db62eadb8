//! The title's lower third: what it is, whose it is, how much it makes.

use super::Stack;
use super::desk::{Desk, Room, author, figure, is_misfit};
use super::pile::{Pile, scene};
use crate::draw::{DrawError, Scene};
use crate::locale::Key;
use crate::theme::{Ink, Plate};

pub(super) fn cards(desk: &Desk<'_>, stack: &mut Stack) {
    stack.put("title".to_owned(), desk.fitted(|step| title(desk, step)));
}

fn title(desk: &Desk<'_>, step: f32) -> Result<Scene, DrawError> {
    let sheet = desk.sheet;
    let plate = if desk.is_wide() { Plate::Title } else { Plate::TitleTall };
    let width = desk.most(plate).0.min(if desk.is_wide() { desk.side as f32 } else { f32::INFINITY });
    let face = &desk.theme.tokens().style.display;
    let mut pile = Pile::new();
    let channel =
        desk.set(&author(&sheet.channel), desk.label().coloured(desk.colours().accent), Room::lines(width, 2))?;
    pile.text(&channel, 0.0, 0.0);
    let lines = if step > 0.0 {
        5
    } else if desk.is_wide() {
        2
    } else {
        3
    };
    let words = author(&sheet.title);
    let room = Room::lines(width, lines).tight();
    let large = desk.set(&words, Ink { cap: desk.hero(1.0).cap, ..desk.display(0.0) }, room);
    let title = if step > 0.0 || is_misfit(&large) {
        desk.set_from(&words, face, step, desk.colours().ink, room)?
    } else {
        large?
    };
    pile.text(&title, 0.0, pile.height + desk.gap() * 1.6);
    let mut quiet = Vec::new();
    if let Some(variant) = &sheet.variant {
        quiet.push(author(&variant.title));
    }
    if let Some(pieces) = &sheet.yields.pieces {
        quiet.push(desk.say(Key::Makes, &[("pieces", figure(pieces))]));
    }
    for phrase in quiet {
        let set = desk.set(&phrase, desk.note(), Room::lines(width, 2))?;
        pile.text(&set, 0.0, pile.height + desk.block());
    }
    scene(desk, "title", plate, &pile, (0.0, 0.0)).map(|mut scene| {
        scene.title = format!("{}, {}", sheet.title, sheet.channel);
        scene
    })
}
