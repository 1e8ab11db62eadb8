//! Cautions: a sign, what to mind, and that it is general information.

use super::Stack;
use super::desk::{Desk, Room, author};
use super::pile::{Pile, scene};
use crate::draw::{DrawError, Rect, Scene};
use crate::sheet::CautionText;
use crate::theme::{Drawing, Plate};

pub(super) fn cards(desk: &Desk<'_>, stack: &mut Stack) {
    for caution in &desk.sheet.cautions {
        let narrow = desk.column(Plate::Plain) * if desk.is_wide() { 1.18 } else { 1.0 };
        let made = desk.fitted_below(|step| card(desk, caution, narrow, step));
        // Over the whole width where it would be too high beside the picture.
        let is_low = made.as_ref().is_ok_and(|scene| desk.is_clear(scene));
        let wide = || card(desk, caution, desk.most(Plate::Plain).0, 0.0);
        let made = if is_low { made } else { wide().ok().filter(|scene| desk.is_clear(scene)).map_or(made, Ok) };
        stack.put(format!("caution-{}", caution.id), made);
    }
}

fn card(desk: &Desk<'_>, caution: &CautionText, full: f32, step: f32) -> Result<Scene, DrawError> {
    let colours = desk.colours();
    let sign = (0.125 * desk.side as f32).round();
    let beside = sign + desk.block();
    let width = (full - beside).floor();
    let mut pile = Pile::new();
    let face = &desk.theme.tokens().style.display;
    let title = desk.set_from(&author(&caution.title), face, step, colours.accent, Room::lines(width, 2).tight())?;
    // The sentences take the whole width where there is little of it.
    let (left, top, room) = if desk.is_wide() {
        pile.text(&title, beside, 0.0);
        (beside, pile.height + desk.block(), width)
    } else {
        pile.text(&title, beside, ((sign - title.height) / 2.0).max(0.0).round());
        (0.0, pile.height.max(sign) + desk.block(), full)
    };
    pile.drawing(desk.theme.drawing(Drawing::Sign), Rect::new(0.0, 0.0, sign, sign));
    let text = desk.set(&author(&caution.text), desk.name(step), Room::lines(room, 14))?;
    pile.text(&text, left, top);
    let general = desk.set(&author(&caution.general), desk.note(), Room::lines(room, 4))?;
    pile.text(&general, left, pile.height + desk.block());
    pile.height = pile.height.max(sign);
    let mut scene = scene(desk, "", Plate::Plain, &pile, (0.0, 0.0))?;
    scene.title = format!("{}: {}", caution.title, caution.text);
    Ok(scene)
}
