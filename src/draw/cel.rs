//! Cels: parts of a picture painted once, laid over each other again and again where something changes.
//! Must not know what moves or why.

use rayon::prelude::*;

use super::colour::div255;
use super::composite::over;
use super::paint::paint_nodes;
use super::raster::{PixelBox, straighten};
use super::spans::{Span, Spans, both};
use super::{DrawError, Node, Raster};

/// A part of a picture, only as large as its ink.
#[derive(Debug, Clone, Default)]
pub struct Cel {
    area: PixelBox,
    /// Premultiplied, row after row.
    pixels: Vec<u8>,
    /// Where its ink is, row after row, from the area's left edge.
    spans: Vec<Span>,
    /// How many of the spans are those of the rows up to each.
    ends: Vec<u32>,
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
        let mut cel = Self { area, pixels, spans: Vec::new(), ends: Vec::new() };
        let mut spans = Vec::new();
        for y in area.top..area.bottom {
            inked(cel.row(y), &mut spans);
            cel.ends.push(spans.len() as u32);
        }
        cel.spans = spans;
        Ok(cel)
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

    /// Where its ink is in a row of its own, from 0.
    fn spans(&self, row: usize) -> &[Span] {
        let start = row.checked_sub(1).map_or(0, |before| self.ends[before]);
        &self.spans[start as usize..self.ends[row] as usize]
    }
}

/// Adds the spans of a row's ink; a gap of a few clear pixels is none.
fn inked(row: &[u8], spans: &mut Vec<Span>) {
    /// So many pixels are looked at together.
    const STEP: usize = 16;
    let first = spans.len();
    for (at, step) in row.chunks(STEP * 4).enumerate() {
        if step.iter().all(|&byte| byte == 0) {
            continue;
        }
        let (left, right) = ((at * STEP) as u32, (at * STEP + step.len() / 4) as u32);
        match spans[first..].last_mut() {
            Some(last) if last.1 == left => last.1 = right,
            _ => spans.push((left, right)),
        }
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

    /// Whether it may have ink in a row of the frame.
    fn crosses(&self, y: usize) -> bool {
        let area = self.area();
        (area.top..area.bottom).contains(&y)
    }

    /// Adds where its ink is to `all`, as far as that lies in `bounds`.
    pub fn mark(&self, all: &mut Spans, bounds: &PixelBox) {
        let left = self.cel.area.left as i64 + i64::from(self.moved.0);
        let by = |column: u32| (i64::from(column) + left).max(0) as u32;
        for row in 0..self.cel.area.height() {
            let Ok(y) = usize::try_from((self.cel.area.top + row) as i64 + i64::from(self.moved.1)) else { continue };
            self.cel.spans(row).iter().for_each(|&(start, end)| all.add(y, (by(start), by(end)), bounds));
        }
    }

    /// Lays its part of some columns of a row over premultiplied pixels; whether they are still `clear` before, and then.
    fn lay(&self, ground: &mut [u8], y: usize, (left, right): Span, clear: bool) -> bool {
        let Ok(row) = usize::try_from(y as i64 - i64::from(self.moved.1)) else { return clear };
        if !(self.cel.area.top..self.cel.area.bottom).contains(&row) || self.opacity == 0 {
            return clear;
        }
        let start = self.cel.area.left as i64 + i64::from(self.moved.0);
        let end = start + self.cel.area.width() as i64;
        let (from, to) = (start.max(i64::from(left)), end.min(i64::from(right)));
        if from >= to {
            return clear;
        }
        let ink = &self.cel.row(row)[(from - start) as usize * 4..(to - start) as usize * 4];
        let ground = &mut ground[(from - i64::from(left)) as usize * 4..(to - i64::from(left)) as usize * 4];
        match (clear, self.opacity) {
            // What is laid on nothing stays as it is.
            (true, 255) => ground.copy_from_slice(ink),
            (_, opacity) => over(ground, ink, opacity),
        }
        false
    }
}

/// A box moved; what would be left of or above the frame is cut off.
fn moved(area: &PixelBox, (dx, dy): (i32, i32)) -> PixelBox {
    let by = |at: usize, by: i32| at.saturating_add_signed(by as isize);
    PixelBox { left: by(area.left, dx), top: by(area.top, dy), right: by(area.right, dx), bottom: by(area.bottom, dy) }
}

/// Draws `pixels` of a picture anew, all of which lie in `area`: as they are in `still`, and where they are `loose`, cels
/// over each other on a clear ground, the first lowest. Both pictures are of one size, both sets of pixels settled.
pub fn renew(
    picture: &mut Raster,
    area: &PixelBox,
    still: &Raster,
    (pixels, loose): (&Spans, &Spans),
    cels: &[Laid<'_>],
) {
    let bytes = |(left, right): Span| (left as usize - area.left) * 4..(right as usize - area.left) * 4;
    let mut here = Vec::<Laid<'_>>::new();
    // A second core would cost more than there is to do.
    for y in pixels.rows() {
        let (spans, loose, from) = (pixels.row(y), loose.row(y), still.row(area, y));
        let line = picture.row_mut(area, y);
        spans.iter().for_each(|&span| line[bytes(span)].copy_from_slice(&from[bytes(span)]));
        if loose.is_empty() {
            continue;
        }
        here.clear();
        here.extend(cels.iter().filter(|laid| laid.crosses(y)));
        both(spans, loose, |span| {
            let ground = &mut line[bytes(span)];
            ground.fill(0);
            here.iter().fold(true, |clear, laid| laid.lay(ground, y, span, clear));
            straighten(ground);
        });
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
        if opacity == 0 {
            return line.fill(0);
        }
        if opacity == 255 && soft == 0 {
            return line.copy_from_slice(source);
        }
        // The columns that fade begin where the window's last `soft` ones do.
        let even = (window.right - seen.left).saturating_sub(soft).min(seen.width()) * 4;
        thin(&mut line[..even], &source[..even], opacity);
        let fading = window.right - seen.left - even / 4;
        let pixels = line[even..].as_chunks_mut::<4>().0.iter_mut().zip(source[even..].as_chunks::<4>().0);
        for (at, (to, from)) in pixels.enumerate() {
            let opacity = u32::from(opacity) * (fading - at) as u32 / soft.max(1) as u32;
            *to = thinner(*from, opacity as u8);
        }
    });
}

/// Copies straight pixels with their opacity lowered.
fn thin(to: &mut [u8], from: &[u8], opacity: u8) {
    /// So many pixels are looked at together: cards are solid for the most part, and there one opacity holds for all.
    const STEP: usize = 16;
    let (steps, rest) = to.as_chunks_mut::<4>().0.as_chunks_mut::<STEP>();
    let (from_steps, from_rest) = from.as_chunks::<4>().0.as_chunks::<STEP>();
    let solid = u32::from(opacity) << 24;
    for (to, from) in steps.iter_mut().zip(from_steps) {
        let pixels = from.map(u32::from_le_bytes);
        let all = pixels.iter().fold(u32::MAX, |all, pixel| all & pixel);
        *to = match all >> 24 {
            255 => pixels.map(|pixel| (pixel & 0x00ff_ffff | solid).to_le_bytes()),
            _ => from.map(|pixel| thinner(pixel, opacity)),
        };
    }
    rest.iter_mut().zip(from_rest).for_each(|(to, from)| *to = thinner(*from, opacity));
}

/// A straight pixel with its opacity lowered; what becomes clear has no colour.
#[inline]
fn thinner(pixel: [u8; 4], opacity: u8) -> [u8; 4] {
    let pixel = u32::from_le_bytes(pixel);
    let alpha = div255((pixel >> 24) * u32::from(opacity));
    let kept = if alpha == 0 { 0 } else { pixel & 0x00ff_ffff | alpha << 24 };
    kept.to_le_bytes()
}
