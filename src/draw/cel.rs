//! Cels: parts of a picture painted once, laid over each other again and again in the rectangles that change.
//! Must not know what moves or why.

use rayon::prelude::*;

use super::colour::div255;
use super::composite::blend;
use super::paint::paint_nodes;
use super::raster::{PixelBox, straighten};
use super::{DrawError, Node, Raster};

/// A part of a picture, only as large as its ink.
#[derive(Debug, Clone, Default)]
pub struct Cel {
    area: PixelBox,
    /// Premultiplied.
    pixels: Vec<u8>,
}

impl Cel {
    /// Paints nodes of a frame; `scratch` is a raster of the frame's size, clear but for what it was used for here.
    ///
    /// # Errors
    /// [`DrawError::BadSize`] for artwork of an impossible size.
    pub fn paint(nodes: &[Node], scratch: &mut Raster) -> Result<Self, DrawError> {
        scratch.clear(scratch.width(), scratch.height())?;
        let area = paint_nodes(nodes, scratch)?;
        let mut pixels = Vec::with_capacity(area.width() * area.height() * 4);
        (area.top..area.bottom).for_each(|y| pixels.extend_from_slice(scratch.row(&area, y)));
        Ok(Self { area, pixels })
    }

    /// Where its ink is.
    pub fn area(&self) -> PixelBox {
        self.area
    }

    /// Its pixels in a row of the frame.
    fn row(&self, y: usize) -> &[u8] {
        let width = self.area.width() * 4;
        &self.pixels[(y - self.area.top) * width..][..width]
    }
}

/// How a cel lies.
#[derive(Debug, Clone, Copy)]
pub struct Laid<'a> {
    /// The cel.
    pub cel: &'a Cel,
    /// How far right and down of its place, in pixels.
    pub moved: (i32, i32),
    /// How much of it is seen, 0 to 255.
    pub opacity: u8,
}

impl Laid<'_> {
    /// Where it lies, as far as that is on a frame of any size.
    pub fn area(&self) -> PixelBox {
        moved(&self.cel.area, self.moved)
    }
}

/// A box moved; what would be left of or above the frame is cut off.
fn moved(area: &PixelBox, (dx, dy): (i32, i32)) -> PixelBox {
    let by = |at: usize, by: i32| at.saturating_add_signed(by as isize);
    PixelBox { left: by(area.left, dx), top: by(area.top, dy), right: by(area.right, dx), bottom: by(area.bottom, dy) }
}

/// Draws a rectangle of a picture anew: cels over each other, the first lowest, on a clear ground.
pub fn lay(picture: &mut Raster, area: &PixelBox, cels: &[Laid<'_>]) {
    let area = area.intersection(&picture.whole());
    picture.rows_mut(&area).for_each(|(y, line)| {
        line.fill(0);
        let mut clear = true;
        for laid in cels.iter().filter(|laid| laid.opacity > 0) {
            let from = y as i64 - i64::from(laid.moved.1);
            let Ok(from) = usize::try_from(from) else { continue };
            if !(laid.cel.area.top..laid.cel.area.bottom).contains(&from) {
                continue;
            }
            let start = laid.cel.area.left as i64 + i64::from(laid.moved.0);
            let end = start + laid.cel.area.width() as i64;
            let (left, right) = (start.max(area.left as i64), end.min(area.right as i64));
            if left >= right {
                continue;
            }
            let ink = &laid.cel.row(from)[(left - start) as usize * 4..(right - start) as usize * 4];
            let ground = &mut line[(left - area.left as i64) as usize * 4..(right - area.left as i64) as usize * 4];
            match (clear, laid.opacity) {
                // What is laid on nothing stays as it is.
                (true, 255) => ground.copy_from_slice(ink),
                (_, opacity) => over(ground, ink, opacity),
            }
            clear = false;
        }
        straighten(line);
    });
}

/// Lays premultiplied pixels over others.
fn over(ground: &mut [u8], ink: &[u8], opacity: u8) {
    /// Most of a line is not inked: so many bytes of nothing are passed over at once.
    const STRIDE: usize = 32;
    for (ground, ink) in ground.chunks_mut(STRIDE).zip(ink.chunks(STRIDE)) {
        if *ink == [0; STRIDE] {
            continue;
        }
        for (below, ink) in ground.as_chunks_mut::<4>().0.iter_mut().zip(ink.as_chunks::<4>().0) {
            match (ink[3], opacity) {
                (0, _) => {}
                (255, 255) => *below = *ink,
                (_, 255) => blend(below, ink),
                (_, opacity) => blend(below, &ink.map(|channel| div255(u32::from(channel) * u32::from(opacity)) as u8)),
            }
        }
    }
}

/// Copies a rectangle of a picture to the same place of another of its size.
pub fn copy(to: &mut Raster, from: &Raster, area: &PixelBox) {
    let area = area.intersection(&to.whole()).intersection(&from.whole());
    if area.is_empty() {
        return;
    }
    for y in area.top..area.bottom {
        to.row_mut(&area, y).copy_from_slice(from.row(&area, y));
    }
}

/// Draws a rectangle of a picture anew from another picture of its size, moved right and down, with its opacity lowered;
/// only what falls in `window` is seen, whose last `soft` columns fade to its right edge.
pub fn pose(
    to: &mut Raster,
    from: &Raster,
    area: &PixelBox,
    by: (i32, i32),
    opacity: u8,
    (window, soft): (&PixelBox, usize),
) {
    let area = area.intersection(&to.whole());
    let seen = moved(&from.whole(), by).intersection(window).intersection(&area);
    to.rows_mut(&area).for_each(|(y, line)| {
        if !(seen.top..seen.bottom).contains(&y) || seen.is_empty() {
            return line.fill(0);
        }
        let (left, right) = ((seen.left - area.left) * 4, (seen.right - area.left) * 4);
        line[..left].fill(0);
        line[right..].fill(0);
        // Both stay inside the picture: what is seen was cut to it where it lies now.
        let row = (y as i64 - i64::from(by.1)) as usize;
        let first = (seen.left as i64 - i64::from(by.0)) as usize;
        let source = PixelBox { left: first, right: first + seen.width(), top: row, bottom: row + 1 };
        let (line, source) = (&mut line[left..right], from.row(&source, row));
        if opacity == 255 && soft == 0 {
            return line.copy_from_slice(source);
        }
        // The columns that fade begin where the window's last `soft` ones do.
        let even = (window.right - seen.left).saturating_sub(soft).min(seen.width()) * 4;
        faded(&mut line[..even], &source[..even], |_| opacity);
        let fading = window.right - seen.left - even / 4;
        let at = |column: usize| (u32::from(opacity) * (fading - column) as u32 / soft.max(1) as u32) as u8;
        faded(&mut line[even..], &source[even..], at);
    });
}

/// Copies straight pixels with their opacity lowered, column by column; what becomes clear has no colour.
fn faded(to: &mut [u8], from: &[u8], opacity: impl Fn(usize) -> u8) {
    for (at, (to, from)) in to.as_chunks_mut::<4>().0.iter_mut().zip(from.as_chunks::<4>().0).enumerate() {
        let pixel = u32::from_le_bytes(*from);
        let alpha = div255((pixel >> 24) * u32::from(opacity(at)));
        let kept = if alpha == 0 { 0 } else { pixel & 0x00ff_ffff | alpha << 24 };
        *to = kept.to_le_bytes();
    }
}
