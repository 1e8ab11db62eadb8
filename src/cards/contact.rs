//! The contact sheet: every card of a deck, small, over a plain picture. Must not know what is on them.

use crate::draw::{Colour, DrawError, Raster, over_colour, over_raster, shrink};

/// A card reduced to its size on the contact sheet, over a plain mid grey.
///
/// # Errors
/// [`DrawError::BadSize`] for one too small to be reduced.
pub fn thumbnail(card: &Raster) -> Result<Raster, DrawError> {
    let (width, height) = (card.width(), card.height());
    // As wide as two full-HD pictures' quarter: large enough to read headings, small enough to open anywhere.
    let small_width = (if width > height { 480 } else { 240 }).min(width);
    let small_height = (small_width * height / width).max(1);
    Ok(over_colour(&shrink(card, small_width, small_height)?, Colour::MID_GREY))
}

/// Reduced cards of one size, laid out in rows in the order given. A card that is `None` is the one in its place on the
/// sheet `before`.
///
/// # Errors
/// [`DrawError::BadSize`] for no cards at all, or where `before` has another layout or is not there for those it is to show:
/// they have to be drawn.
pub fn contact_sheet(before: Option<Raster>, cards: &[Option<Raster>]) -> Result<Raster, DrawError> {
    let first = cards.iter().flatten().next().ok_or(DrawError::BadSize { width: 0, height: 0 })?;
    let (small_width, small_height) = (first.width(), first.height());
    let columns = if small_width > small_height { 4 } else { 8 }.min(cards.len() as u32);
    let gap = 12;
    let rows = (cards.len() as u32).div_ceil(columns);
    let (width, height) = (gap + columns * (small_width + gap), gap + rows * (small_height + gap));
    let mut sheet = match before {
        Some(before) if (before.width(), before.height()) == (width, height) => before,
        None if cards.iter().all(Option::is_some) => over_colour(&Raster::new(width, height)?, Colour::rgb(58, 58, 58)),
        Some(_) | None => return Err(DrawError::BadSize { width, height }),
    };
    for (index, small) in cards.iter().enumerate() {
        let (column, row) = (index as u32 % columns, index as u32 / columns);
        let (x, y) = (gap + column * (small_width + gap), gap + row * (small_height + gap));
        if let Some(small) = small {
            over_raster(&mut sheet, small, x as i32, y as i32);
        }
    }
    Ok(sheet)
}
