//! The contact sheet: every card of a deck, small, over a plain picture. Must not know what is on them.

use crate::draw::{Colour, DrawError, Raster, Strip, over_colour, over_raster, plain, shrink};
use rayon::prelude::*;

/// A card reduced to its size on the contact sheet, over a plain mid grey.
///
/// # Errors
/// [`DrawError::BadSize`] for one too small to be reduced.
pub fn thumbnail(card: &Raster) -> Result<Raster, DrawError> {
    let (width, height) = reduced(card.width(), card.height());
    Ok(over_colour(&shrink(card, width, height)?, Colour::MID_GREY))
}

/// The size of a reduced card.
fn reduced(width: u32, height: u32) -> (u32, u32) {
    // A quarter of full HD either way up: large enough to read headings, small enough to open anywhere.
    let small_width = (if width > height { 480 } else { 270 }).min(width);
    (small_width, (small_width * height / width).max(1))
}

/// Pixels between reduced cards and around them.
const GAP: u32 = 12;

/// A contact sheet's width, and its strips: the gap above all, and each row of cards with the gap below it.
pub type Sheet = (u32, Vec<Strip>);

/// The contact sheet of cards of a size (width, height), in rows in the order given; `card` makes one of them, reduced. A
/// row that needs none of `known`, reduced cards where they are at hand, is taken from the sheet `before`, which showed
/// the same cards in the same places but for these.
///
/// # Errors
/// [`DrawError::BadSize`] for no cards at all, and whatever `card` finds wrong.
pub fn contact_sheet(
    (width, height): (u32, u32),
    known: &[Option<Raster>],
    before: Option<Sheet>,
    card: impl Fn(usize) -> Result<Raster, DrawError> + Sync,
) -> Result<Sheet, DrawError> {
    let (small_width, small_height) = reduced(width, height);
    let columns = (if small_width > small_height { 4 } else { 7 }).min(known.len());
    if columns == 0 {
        return Err(DrawError::BadSize { width: 0, height: 0 });
    }
    let width = GAP + columns as u32 * (small_width + GAP);
    let ground = Colour::rgb(58, 58, 58);
    let gap = plain(width, GAP, ground)?;
    let before = before.filter(|(before, _)| *before == width).map(|(_, strips)| strips).unwrap_or_default();
    let row = |(row, known): (usize, &[Option<Raster>])| {
        if let (true, Some(strip)) = (known.iter().all(Option::is_none), before.get(row + 1)) {
            return Ok(strip.clone());
        }
        let mut picture = plain(width, small_height + GAP, ground)?;
        for (column, small) in known.iter().enumerate() {
            let made = if small.is_none() { Some(card(row * columns + column)?) } else { None };
            let x = GAP + column as u32 * (small_width + GAP);
            small.iter().chain(&made).for_each(|small| over_raster(&mut picture, small, x as i32, 0));
        }
        Ok(Strip::new(&picture, Some(&gap)))
    };
    let rows = known.par_chunks(columns).enumerate().map(row).collect::<Result<Vec<_>, DrawError>>()?;
    Ok((width, [Strip::new(&gap, None)].into_iter().chain(rows).collect()))
}
