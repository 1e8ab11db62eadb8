//! Pictures laid over colours and over each other, and made smaller: for contact sheets and checks on a ground.

use super::{Colour, DrawError, PixelBox, Raster};

/// A picture over a plain colour; solid if the colour is.
pub fn over_colour(picture: &Raster, ground: Colour) -> Raster {
    let (width, height) = (picture.width() as usize, picture.height() as usize);
    let mut over = Raster::from_pixels(width, height, [ground.r, ground.g, ground.b, ground.a].repeat(width * height));
    over_raster(&mut over, picture, 0, 0);
    over
}

/// A picture of one colour.
///
/// # Errors
/// [`DrawError::BadSize`] as for [`Raster::new`].
pub fn plain(width: u32, height: u32, colour: Colour) -> Result<Raster, DrawError> {
    Raster::check(width, height)?;
    let (width, height) = (width as usize, height as usize);
    Ok(Raster::from_pixels(width, height, [colour.r, colour.g, colour.b, colour.a].repeat(width * height)))
}

/// Lays a picture onto another with its top left corner at (x, y); what falls outside is left out.
pub fn over_raster(ground: &mut Raster, picture: &Raster, x: i32, y: i32) {
    let (ink, whole) = (picture.painted(), ground.whole());
    let within = |at: usize, by: i32, end: usize| (at as i64 + i64::from(by)).clamp(0, end as i64) as usize;
    let area = PixelBox {
        left: within(ink.left, x, whole.right),
        top: within(ink.top, y, whole.bottom),
        right: within(ink.right, x, whole.right),
        bottom: within(ink.bottom, y, whole.bottom),
    };
    if area.is_empty() {
        return;
    }
    let from = |at: usize, by: i32| (at as i64 - i64::from(by)) as usize;
    let source = PixelBox { left: from(area.left, x), right: from(area.right, x), ..ink };
    for row in area.top..area.bottom {
        lay(ground.row_mut(&area, row), picture.row(&source, from(row, y)));
    }
}

/// Lays a row of straight pixels over another.
fn lay(below: &mut [u8], ink: &[u8]) {
    const STEP: usize = 64;
    let (steps, rest) = below.as_chunks_mut::<STEP>();
    let (ink_steps, ink_rest) = ink.as_chunks::<STEP>();
    for (below, ink) in steps.iter_mut().zip(ink_steps) {
        // Most pixels are solid or clear: sixteen are looked at at once.
        let alphas = ink.as_chunks::<4>().0.iter().map(|pixel| u32::from_le_bytes(*pixel));
        let (all, any) = alphas.fold((u32::MAX, 0), |(all, any), pixel| (all & pixel, any | pixel));
        match (all >> 24, any >> 24) {
            (_, 0) => {}
            (255, _) => *below = *ink,
            _ => lay_each(below, ink),
        }
    }
    lay_each(rest, ink_rest);
}

fn lay_each(below: &mut [u8], ink: &[u8]) {
    // Panels and grounds are plain: both pixels before are mostly the same.
    let mut last = ([0; 4], [0; 4]);
    let mut mixed = [0; 4];
    for (below, ink) in below.as_chunks_mut::<4>().0.iter_mut().zip(ink.as_chunks::<4>().0) {
        match ink[3] {
            0 => {}
            255 => *below = *ink,
            _ => {
                if last != (*ink, *below) {
                    last = (*ink, *below);
                    let [ink, below] = [ink, below].map(|p| Colour::rgba(p[0], p[1], p[2], p[3]));
                    let c = ink.over(below);
                    mixed = [c.r, c.g, c.b, c.a];
                }
                *below = mixed;
            }
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
    let times = picture.width() / width;
    if (times * width, times * height) == (picture.width(), picture.height())
        && let Some(by_blocks) = whole_times(times)
    {
        return Ok(by_blocks(picture));
    }
    let area = u64::from(picture.width()) * u64::from(picture.height());
    let ink = picture.painted();
    let inked = |(x, weight): (usize, u64)| (ink.left..ink.right).contains(&x).then(|| (x - ink.left, weight));
    let columns = spans(picture.width(), width).into_iter().map(|span| span.into_iter().filter_map(inked).collect());
    let columns: Vec<Vec<(usize, u64)>> = columns.collect();
    let mut pixels = vec![0; (width * height * 4) as usize];
    // The columns of the painted box, each summed downwards; 255 × 255 × 16,384 rows is within 32 bits.
    let mut down = vec![[0_u32; 4]; ink.width()];
    for (row, line) in spans(picture.height(), height).iter().zip(pixels.chunks_exact_mut(width as usize * 4)) {
        let mut rows = row.iter().filter(|(y, _)| (ink.top..ink.bottom).contains(y)).peekable();
        if rows.peek().is_none() {
            continue;
        }
        down.fill([0; 4]);
        for (y, weight) in rows {
            add_row(&mut down, picture.row(&ink, *y), *weight as u32);
        }
        // Panels are plain: the sums before are mostly the same.
        let (mut last, mut mean) = ([0; 4], [0; 4]);
        for (column, pixel) in columns.iter().zip(line.as_chunks_mut::<4>().0) {
            let mut sums = [0_u64; 4];
            for (x, weight) in column {
                sums.iter_mut().zip(down[*x]).for_each(|(sum, more)| *sum += u64::from(more) * weight);
            }
            if sums != last {
                last = sums;
                mean = mean_of(sums, area);
            }
            *pixel = mean;
        }
    }
    Ok(Raster::from_pixels(width as usize, height as usize, pixels))
}

/// What makes a picture so many times smaller, up to eight: so far the sums of colours are whole numbers of 24 bits, and
/// quotients of them, rounded to as many, are never rounded up to a whole number.
fn whole_times(times: u32) -> Option<fn(&Raster) -> Raster> {
    Some(match times {
        1 => shrink_times::<1>,
        2 => shrink_times::<2>,
        3 => shrink_times::<3>,
        4 => shrink_times::<4>,
        5 => shrink_times::<5>,
        6 => shrink_times::<6>,
        7 => shrink_times::<7>,
        8 => shrink_times::<8>,
        _ => return None,
    })
}

/// A picture made a whole number of times smaller on both sides, to the same pixels as by spans of pixels.
fn shrink_times<const TIMES: usize>(picture: &Raster) -> Raster {
    let (width, height) = (picture.width() as usize / TIMES, picture.height() as usize / TIMES);
    let ink = picture.painted();
    // Whole blocks around what is painted.
    let (left, right) = (ink.left / TIMES, ink.right.div_ceil(TIMES));
    let wide = PixelBox { left: left * TIMES, right: right * TIMES, ..ink };
    let mut pixels = vec![0; width * height * 4];
    for row in ink.top / TIMES..ink.bottom.div_ceil(TIMES) {
        let rows: [&[[[u8; 4]; TIMES]]; TIMES] =
            std::array::from_fn(|y| picture.row(&wide, row * TIMES + y).as_chunks().0.as_chunks().0);
        let out = &mut pixels[(row * width + left) * 4..(row * width + right) * 4];
        for (x, pixel) in out.as_chunks_mut::<4>().0.iter_mut().enumerate() {
            let first = rows[0][x][0];
            // Panels are plain: most blocks are of one colour.
            *pixel = if rows.iter().all(|row| row[x] == [first; TIMES]) {
                if first[3] == 0 { [0; 4] } else { first }
            } else {
                mean_of_pixels(&rows.map(|row| row[x]))
            };
        }
    }
    Raster::from_pixels(width, height, pixels)
}

/// The pixel that stands for a block: the mean of opacity, and of colours weighted by it.
fn mean_of_pixels<const TIMES: usize>(block: &[[[u8; 4]; TIMES]; TIMES]) -> [u8; 4] {
    let mut sums = [0_u32; 4];
    for pixel in block.as_flattened() {
        let [.., alpha] = *pixel;
        let by = [alpha, alpha, alpha, 1];
        for (sum, (channel, by)) in sums.iter_mut().zip(pixel.iter().zip(by)) {
            *sum += u32::from(u16::from(*channel) * u16::from(by));
        }
    }
    let [red, green, blue, alpha] = sums;
    let by = alpha.max(1) as f32;
    let mean = |sum: u32| ((sum + alpha / 2) as f32 / by) as u8;
    let count = (TIMES * TIMES) as u32;
    [mean(red), mean(green), mean(blue), ((alpha + count / 2) / count) as u8]
}

/// Adds a row of pixels, weighted by their opacity and by how much of the row counts.
fn add_row(sums: &mut [[u32; 4]], row: &[u8], weight: u32) {
    for (sum, p) in sums.iter_mut().zip(row.as_chunks::<4>().0) {
        let [red, green, blue, alpha] = p.map(u32::from);
        let alpha = alpha * weight;
        sum[0] += red * alpha;
        sum[1] += green * alpha;
        sum[2] += blue * alpha;
        sum[3] += alpha;
    }
}

/// The pixel of colours weighted by opacity, of opacity, and of the area that both are sums over.
fn mean_of(sums: [u64; 4], area: u64) -> [u8; 4] {
    let mean = |sum: u64, by: u64| (sum + by / 2).checked_div(by).unwrap_or(0) as u8;
    let [red, green, blue, alpha] = sums;
    [mean(red, alpha), mean(green, alpha), mean(blue, alpha), mean(alpha, area)]
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
pub(super) fn blend(below: &mut [u8; 4], ink: &[u8; 4]) {
    let kept = 255 - u32::from(ink[3]);
    let ([first, second], [low, high]) = (pairs(*ink), pairs(*below));
    *below = joined([first + scaled(low, kept), second + scaled(high, kept)].map(at_most_255));
}

/// Lays premultiplied pixels with their opacity lowered over others.
pub(super) fn over(ground: &mut [u8], ink: &[u8], opacity: u8) {
    /// Four pixels at once, a channel in 16 bits each, as processors have them.
    const STEP: usize = 16;
    let (steps, rest) = ground.as_chunks_mut::<STEP>();
    let (ink_steps, ink_rest) = ink.as_chunks::<STEP>();
    for (below, ink) in steps.iter_mut().zip(ink_steps) {
        let ink = ink.map(u16::from);
        if ink.iter().fold(0, |all, channel| all | channel) == 0 {
            continue;
        }
        let ink = ink.map(|channel| div255_of(channel, u16::from(opacity)));
        let kept: [u16; STEP] = std::array::from_fn(|at| 255 - ink[at | 3]);
        *below = std::array::from_fn(|at| (ink[at] + div255_of(u16::from(below[at]), kept[at])).min(255) as u8);
    }
    for (below, ink) in rest.as_chunks_mut::<4>().0.iter_mut().zip(ink_rest.as_chunks::<4>().0) {
        blend(below, &thinned(*ink, opacity));
    }
}

/// One channel times another ÷ 255, as `div255` rounds, within 16 bits.
#[inline]
fn div255_of(channel: u16, by: u16) -> u16 {
    let product = channel * by + 128;
    (product + (product >> 8)) >> 8
}

/// A premultiplied pixel with its opacity lowered.
pub(super) fn thinned(pixel: [u8; 4], opacity: u8) -> [u8; 4] {
    joined(pairs(pixel).map(|pair| scaled(pair, u32::from(opacity))))
}

/// A pixel's channels, two to a number with 16 bits for each: red and blue, green and alpha.
fn pairs(pixel: [u8; 4]) -> [u32; 2] {
    let all = u32::from_le_bytes(pixel);
    [all & PAIR, all >> 8 & PAIR]
}

fn joined([low, high]: [u32; 2]) -> [u8; 4] {
    (low | high << 8).to_le_bytes()
}

const PAIR: u32 = 0x00ff_00ff;

/// Both channels of a pair times `by` ÷ 255, as `div255` rounds: neither runs over its 16 bits.
fn scaled(pair: u32, by: u32) -> u32 {
    let product = pair * by + 0x0080_0080;
    (product + (product >> 8 & PAIR)) >> 8 & PAIR
}

/// Both channels of a pair, none above 510, as far as a byte holds them.
fn at_most_255(pair: u32) -> u32 {
    (pair | ((pair >> 8 & 0x0001_0001) * 255)) & PAIR
}

#[cfg(test)]
mod tests {
    use super::super::colour::div255;
    use super::*;

    /// Whole numbers are the judge.
    #[test]
    fn whole_times_smaller_is_the_same_by_both_ways() {
        let mut seed = 7_u32;
        let mut next = || {
            seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            (seed >> 24) as u8
        };
        for (times, by_blocks) in (1..).map_while(|times| Some((times as usize, whole_times(times)?))) {
            let (width, height) = (24 * times, 10 * times);
            let mut pixels: Vec<u8> = (0..width * height * 4).map(|_| if next() < 90 { 255 } else { next() }).collect();
            let (clear, plain) = pixels[..width * times * 8].split_at_mut(width * times * 4);
            clear.as_chunks_mut().0.fill([9, 8, 7, 0]);
            plain.as_chunks_mut().0.fill([9, 8, 7, 130]);
            let picture = Raster::from_pixels(width, height, pixels);
            let fast = by_blocks(&picture);
            for (index, pixel) in fast.pixels().as_chunks::<4>().0.iter().enumerate() {
                let (x, y) = (index % 24 * times, index / 24 * times);
                let mut sums = [0_u64; 4];
                for (x, y) in (0..times * times).map(|at| (x + at % times, y + at / times)) {
                    let at = (y * width + x) * 4;
                    let [red, green, blue, alpha] = std::array::from_fn(|part| u64::from(picture.pixels()[at + part]));
                    [red * alpha, green * alpha, blue * alpha, alpha]
                        .into_iter()
                        .zip(&mut sums)
                        .for_each(|(s, sum)| *sum += s);
                }
                assert_eq!(*pixel, mean_of(sums, (times * times) as u64), "{times} {index}");
            }
        }
    }

    #[test]
    fn pairs_of_channels_are_reckoned_as_single_ones() {
        for channel in 0..=255_u8 {
            for part in 0..=255_u8 {
                let one = div255(u32::from(channel) * u32::from(part)) as u8;
                let other = div255(u32::from(255 - channel) * u32::from(part)) as u8;
                assert_eq!(thinned([channel, 255 - channel, 255, channel], part), [one, other, part, one]);
                let mut below = [channel, 255 - channel, 255, channel];
                let ink = [part, 3, part, 255 - part];
                blend(&mut below, &ink);
                let expected = [(part, one), (3, other), (part, part), (255 - part, one)]
                    .map(|(ink, kept)| (u32::from(ink) + u32::from(kept)).min(255) as u8);
                assert_eq!(below, expected, "{channel} {part}");
                // Four of them at once, and a fifth alone.
                let ink = [channel / 2, channel / 3, channel, channel];
                let mut one = [part, 255 - part, 7, part];
                let mut all = one.repeat(5);
                over(&mut all, &ink.repeat(5), part);
                blend(&mut one, &thinned(ink, part));
                assert_eq!(all, one.repeat(5), "{channel} {part}");
            }
        }
    }
}
