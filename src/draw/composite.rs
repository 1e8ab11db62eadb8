//! Pictures laid over colours and over each other, and made smaller: for contact sheets and checks on a ground.

use super::colour::div255;
use super::{Colour, DrawError, Raster};

/// A picture over a plain colour; solid if the colour is.
pub fn over_colour(picture: &Raster, ground: Colour) -> Raster {
    let mut pixels = picture.pixels().to_vec();
    for p in pixels.chunks_exact_mut(4) {
        let c = Colour::rgba(p[0], p[1], p[2], p[3]).over(ground);
        p.copy_from_slice(&[c.r, c.g, c.b, c.a]);
    }
    Raster::from_pixels(picture.width() as usize, picture.height() as usize, pixels)
}

/// Lays a picture onto another with its top left corner at (x, y); what falls outside is left out.
pub fn over_raster(ground: &mut Raster, picture: &Raster, x: i32, y: i32) {
    let (width, height) = (i64::from(ground.width()), i64::from(ground.height()));
    let pixels = ground.open_whole();
    for row in 0..picture.height() {
        let to_y = i64::from(y) + i64::from(row);
        if !(0..height).contains(&to_y) {
            continue;
        }
        for column in 0..picture.width() {
            let to_x = i64::from(x) + i64::from(column);
            let ink = picture.pixel(column, row);
            if ink.a == 0 || !(0..width).contains(&to_x) {
                continue;
            }
            let at = ((to_y * width + to_x) * 4) as usize;
            let below = Colour::rgba(pixels[at], pixels[at + 1], pixels[at + 2], pixels[at + 3]);
            let mixed = ink.over(below);
            pixels[at..at + 4].copy_from_slice(&[mixed.r, mixed.g, mixed.b, mixed.a]);
        }
    }
}

/// A picture made smaller: each pixel is the mean of the area it stands for, weighted by opacity.
///
/// # Errors
/// [`DrawError::BadSize`] for a side of no pixels, or of more than the picture has.
pub fn shrink(picture: &Raster, width: u32, height: u32) -> Result<Raster, DrawError> {
    if width == 0 || height == 0 || width > picture.width() || height > picture.height() {
        return Err(DrawError::BadSize { width, height });
    }
    let columns = spans(picture.width(), width);
    let rows = spans(picture.height(), height);
    let stride = picture.width() as usize * 4;
    let source = picture.pixels();
    let mut pixels = Vec::with_capacity((width * height * 4) as usize);
    for row in &rows {
        for column in &columns {
            let mut sums = [0_u64; 4];
            for (y, wy) in row {
                for (x, wx) in column {
                    let p = &source[y * stride + x * 4..][..4];
                    let weight = wx * wy;
                    let alpha = u64::from(p[3]) * weight;
                    for (sum, channel) in sums.iter_mut().zip(&p[..3]) {
                        *sum += u64::from(*channel) * alpha;
                    }
                    sums[3] += alpha;
                }
            }
            let area = u64::from(picture.width()) * u64::from(picture.height());
            let mean = |sum: u64, by: u64| (sum + by / 2).checked_div(by).unwrap_or(0) as u8;
            pixels.extend(sums[..3].iter().map(|&sum| mean(sum, sums[3])));
            pixels.push(mean(sums[3], area));
        }
    }
    Ok(Raster::from_pixels(width as usize, height as usize, pixels))
}

/// For each of `to` pixels, the pixels of `from` it covers and how much of each, in `to`-ths of a pixel.
fn spans(from: u32, to: u32) -> Vec<Vec<(usize, u64)>> {
    let (from, to) = (u64::from(from), u64::from(to));
    (0..to)
        .map(|index| {
            let (start, end) = (index * from, (index + 1) * from);
            (start / to..end.div_ceil(to))
                .map(|pixel| {
                    let covered = end.min((pixel + 1) * to) - start.max(pixel * to);
                    (pixel as usize, covered)
                })
                .collect()
        })
        .collect()
}

/// Lays one premultiplied pixel over another.
pub(super) fn blend(below: &mut [u8], ink: &[u8]) {
    let kept = 255 - u32::from(ink[3]);
    for (below, ink) in below.iter_mut().zip(ink) {
        *below = (u32::from(*ink) + div255(u32::from(*below) * kept)).min(255) as u8;
    }
}
