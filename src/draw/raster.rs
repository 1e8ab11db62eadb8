//! A picture of RGBA pixels with straight alpha, reused from card to card.
//!
//! Owns the buffer and which part of it is painted. Must not know what is painted.

use std::sync::LazyLock;

use rayon::prelude::*;

use super::{Colour, DrawError, Rect};

/// The longest side of a picture, in pixels.
pub(super) const MAX_SIDE: u32 = 16384;

/// A rectangle of whole pixels inside a raster; empty if `right` is not beyond `left`, or `bottom` beyond `top`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct PixelBox {
    /// Its first column.
    pub left: usize,
    /// Its first row.
    pub top: usize,
    /// One past its last column.
    pub right: usize,
    /// One past its last row.
    pub bottom: usize,
}

impl PixelBox {
    /// Whether it holds no pixel.
    pub fn is_empty(&self) -> bool {
        self.right <= self.left || self.bottom <= self.top
    }

    /// Its width in pixels.
    pub fn width(&self) -> usize {
        self.right.saturating_sub(self.left)
    }

    /// Its height in pixels.
    pub fn height(&self) -> usize {
        self.bottom.saturating_sub(self.top)
    }

    /// The smallest box that holds both; an empty one counts for nothing.
    pub fn union(&self, other: &Self) -> Self {
        if self.is_empty() {
            return *other;
        }
        if other.is_empty() {
            return *self;
        }
        Self {
            left: self.left.min(other.left),
            top: self.top.min(other.top),
            right: self.right.max(other.right),
            bottom: self.bottom.max(other.bottom),
        }
    }

    /// What both hold.
    pub fn intersection(&self, other: &Self) -> Self {
        Self {
            left: self.left.max(other.left),
            top: self.top.max(other.top),
            right: self.right.min(other.right),
            bottom: self.bottom.min(other.bottom),
        }
    }
}

/// A picture: rows of RGBA bytes, straight alpha, sRGB.
#[derive(Debug, Clone)]
pub struct Raster {
    width: usize,
    height: usize,
    pixels: Vec<u8>,
    painted: PixelBox,
}

impl Raster {
    /// A clear picture.
    ///
    /// # Errors
    /// [`DrawError::BadSize`] unless both sides are 1 to 16384 pixels.
    pub fn new(width: u32, height: u32) -> Result<Self, DrawError> {
        let mut raster = Self { width: 0, height: 0, pixels: Vec::new(), painted: PixelBox::default() };
        raster.clear(width, height)?;
        Ok(raster)
    }

    /// Width in pixels.
    pub fn width(&self) -> u32 {
        self.width as u32
    }

    /// Height in pixels.
    pub fn height(&self) -> u32 {
        self.height as u32
    }

    /// All pixels, row by row, four bytes each: red, green, blue and straight alpha.
    pub fn pixels(&self) -> &[u8] {
        &self.pixels
    }

    /// All of the picture.
    pub fn whole(&self) -> PixelBox {
        PixelBox { left: 0, top: 0, right: self.width, bottom: self.height }
    }

    /// The pixel at (x, y); clear outside the picture.
    pub fn pixel(&self, x: u32, y: u32) -> Colour {
        if x >= self.width() || y >= self.height() {
            return Colour::rgba(0, 0, 0, 0);
        }
        let at = (y as usize * self.width + x as usize) * 4;
        Colour::rgba(self.pixels[at], self.pixels[at + 1], self.pixels[at + 2], self.pixels[at + 3])
    }

    /// The smallest rectangle that holds every pixel that is not wholly clear, or none for a clear picture: what must
    /// lie in a safe area.
    pub fn ink(&self) -> Option<Rect> {
        let b = self.ink_box();
        (!b.is_empty()).then(|| Rect::from_edges(b.left as f32, b.top as f32, b.right as f32, b.bottom as f32))
    }

    /// What was painted: all outside it is clear.
    pub(super) fn painted(&self) -> PixelBox {
        self.painted
    }

    fn ink_box(&self) -> PixelBox {
        let p = self.painted;
        let mut ink = PixelBox { left: p.right, top: p.bottom, right: 0, bottom: 0 };
        for y in p.top..p.bottom {
            let row = &self.pixels[(y * self.width + p.left) * 4..(y * self.width + p.right) * 4];
            let mut alphas = row.chunks_exact(4).map(|pixel| pixel[3] != 0);
            let Some(first) = alphas.position(|inked| inked) else { continue };
            let last = row.chunks_exact(4).rposition(|pixel| pixel[3] != 0).unwrap_or(first);
            ink.left = ink.left.min(p.left + first);
            ink.right = ink.right.max(p.left + last + 1);
            ink.top = ink.top.min(y);
            ink.bottom = y + 1;
        }
        ink
    }

    /// Whether there can be a picture of that size.
    pub(super) fn check(width: u32, height: u32) -> Result<(), DrawError> {
        let there = (1..=MAX_SIDE).contains(&width) && (1..=MAX_SIDE).contains(&height);
        if there { Ok(()) } else { Err(DrawError::BadSize { width, height }) }
    }

    /// Makes it a clear picture of a size, keeping the buffer; only what was painted is wiped.
    pub(super) fn clear(&mut self, width: u32, height: u32) -> Result<(), DrawError> {
        Self::check(width, height)?;
        if (width as usize, height as usize) == (self.width, self.height) {
            let p = self.painted;
            for y in p.top..p.bottom {
                self.pixels[(y * self.width + p.left) * 4..(y * self.width + p.right) * 4].fill(0);
            }
        } else {
            (self.width, self.height) = (width as usize, height as usize);
            // A fresh allocation comes zeroed page by page, as it is touched.
            self.pixels = vec![0; self.width * self.height * 4];
        }
        self.painted = PixelBox::default();
        Ok(())
    }

    /// A picture from its parts; the whole of it counts as painted.
    pub(super) fn from_pixels(width: usize, height: usize, pixels: Vec<u8>) -> Self {
        let painted = PixelBox { left: 0, top: 0, right: width, bottom: height };
        Self { width, height, pixels, painted }
    }

    /// The whole pixels of the picture that `rect` touches.
    pub(super) fn clip(&self, rect: &Rect) -> PixelBox {
        let out = rect.rounded_out();
        let within = |v: f32, end: usize| v.clamp(0.0, end as f32) as usize;
        PixelBox {
            left: within(out.x, self.width),
            top: within(out.y, self.height),
            right: within(out.right(), self.width),
            bottom: within(out.bottom(), self.height),
        }
    }

    /// The bytes, to be painted with premultiplied pixels inside `painted` and then straightened.
    pub(super) fn open(&mut self, painted: PixelBox) -> &mut [u8] {
        self.painted = painted;
        &mut self.pixels
    }

    /// Turns premultiplied pixels of the painted box to straight alpha.
    pub(super) fn straighten(&mut self) {
        let p = self.painted;
        for y in p.top..p.bottom {
            straighten(&mut self.pixels[(y * self.width + p.left) * 4..(y * self.width + p.right) * 4]);
        }
    }

    /// The pixels of a row of a box.
    pub(super) fn row(&self, area: &PixelBox, y: usize) -> &[u8] {
        &self.pixels[(y * self.width + area.left) * 4..(y * self.width + area.right) * 4]
    }

    /// The rows of a box, numbered, to be written to with straight pixels on all cores; the box counts as painted.
    pub(super) fn rows_mut(&mut self, area: &PixelBox) -> impl ParallelIterator<Item = (usize, &mut [u8])> {
        /// Fewer rows than this are not worth a second core.
        const ROWS: usize = 32;
        let area = if area.is_empty() { PixelBox::default() } else { *area };
        self.painted = self.painted.union(&area);
        let stride = self.width * 4;
        let rows = self.pixels[area.top * stride..area.bottom * stride].par_chunks_mut(stride).with_min_len(ROWS);
        rows.enumerate().map(move |(row, line)| (area.top + row, &mut line[area.left * 4..area.right * 4]))
    }

    /// A row of a box to be written to with straight pixels; the box counts as painted.
    pub(super) fn row_mut(&mut self, area: &PixelBox, y: usize) -> &mut [u8] {
        self.painted = self.painted.union(area);
        &mut self.pixels[(y * self.width + area.left) * 4..(y * self.width + area.right) * 4]
    }
}

/// Turns premultiplied pixels to straight alpha.
pub(super) fn straighten(row: &mut [u8]) {
    let (steps, rest) = row.as_chunks_mut::<64>();
    for step in steps {
        // Most pixels are solid or clear: sixteen are looked at at once.
        let odd = step
            .as_chunks::<4>()
            .0
            .iter()
            .fold(0, |odd, pixel| odd | (((u32::from_le_bytes(*pixel) >> 24) + 1) & 0xfe));
        if odd != 0 {
            straighten_each(step);
        }
    }
    straighten_each(rest);
}

fn straighten_each(row: &mut [u8]) {
    let table = &*RECIPROCALS;
    // Panels are plain: the pixel before is mostly the same.
    let (mut last, mut straight) = ([0; 4], [0; 4]);
    for pixel in row.as_chunks_mut::<4>().0 {
        if pixel[3] == 255 || pixel[3] == 0 {
            continue;
        }
        if *pixel != last {
            last = *pixel;
            let scale = table[usize::from(last[3])];
            straight = last.map(|channel| ((u32::from(channel) * scale + (1 << 15)) >> 16).min(255) as u8);
            straight[3] = last[3];
        }
        *pixel = straight;
    }
}

/// 255 ÷ alpha in 16.16 fixed point.
static RECIPROCALS: LazyLock<[u32; 256]> =
    LazyLock::new(|| std::array::from_fn(|alpha| if alpha == 0 { 0 } else { (255 << 16) / alpha as u32 }));
