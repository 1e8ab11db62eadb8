//! QuickTime's Animation compression, 32 bits with alpha: lines of skips, runs and pixels against the frame before.
//! Must not know the file that its samples go in.
//!
//! A sample is its length, a header that says which lines follow, the lines, and a zero. A line is a skip, then codes:
//! n above zero, n pixels; n below -1, one pixel -n times; 0 and a skip, pixels that stay; -1, the end of the line. A
//! skip is written plus one, so that a zero can end the sample. Pixels are alpha, red, green, blue. (Form: Apple's
//! QuickTime File Format names `rle ` and its depths; its codes as the decoder of ffmpeg reads them.)

use std::ops::Range;

use crate::draw::{PixelBox, Raster};

/// The most pixels that one skip passes.
const MOST_SKIP: usize = 254;
/// The most that one code repeats.
const MOST_RUN: usize = 128;
/// The most pixels that one code lists.
const MOST_PIXELS: usize = 127;

/// A pixel as pictures have it: red, green, blue, alpha.
type Pixel = [u8; 4];

/// Turns frames into samples.
pub(super) struct Encoder {
    width: usize,
    height: usize,
    /// The last frame.
    before: Vec<u8>,
}

impl Encoder {
    pub(super) fn new(width: u32, height: u32) -> Self {
        let (width, height) = (width as usize, height as usize);
        Self { width, height, before: vec![0; width * height * 4] }
    }

    /// The sample of a frame that differs from the one before inside `changed` only; a key stands alone.
    pub(super) fn sample(&mut self, picture: &Raster, changed: &[PixelBox], key: bool, out: &mut Vec<u8>) {
        out.clear();
        out.extend([0; 4]);
        let lines = if key { (0, self.height) } else { self.lines(picture, changed) };
        if lines == (0, self.height) || lines.0 >= lines.1 {
            out.extend([0, 0]);
        } else {
            out.extend([0, 8]);
            for number in [lines.0, 0, lines.1 - lines.0, 0] {
                out.extend((number as u16).to_be_bytes());
            }
        }
        for y in lines.0..lines.1 {
            let span = if key { Some((0, self.width)) } else { columns(changed, y) };
            self.line(picture, y, span, key, out);
        }
        out.push(0);
        let length = (out.len() as u32).to_be_bytes();
        out[..4].copy_from_slice(&length);
    }

    /// The bytes of some pixels of a line.
    fn bytes(&self, y: usize, (left, right): (usize, usize)) -> Range<usize> {
        (y * self.width + left) * 4..(y * self.width + right) * 4
    }

    /// The first line that differs and one past the last.
    fn lines(&self, picture: &Raster, changed: &[PixelBox]) -> (usize, usize) {
        let top = changed.iter().map(|b| b.top).min().unwrap_or(0);
        let bottom = changed.iter().map(|b| b.bottom).max().unwrap_or(0);
        let differs = |y: &usize| {
            columns(changed, *y).is_some_and(|span| {
                let bytes = self.bytes(*y, span);
                picture.pixels()[bytes.clone()] != self.before[bytes]
            })
        };
        match ((top..bottom).find(differs), (top..bottom).rev().find(differs)) {
            (Some(first), Some(last)) => (first, last + 1),
            _ => (0, 0),
        }
    }

    fn line(&mut self, picture: &Raster, y: usize, span: Option<(usize, usize)>, key: bool, out: &mut Vec<u8>) {
        let Some((left, right)) = span else {
            out.extend([1, END]);
            return;
        };
        let bytes = self.bytes(y, (0, right));
        let (new, before) = (&picture.pixels()[bytes.clone()], &mut self.before[bytes]);
        encode(new.as_chunks().0, before.as_chunks().0, left, key, out);
        before[left * 4..].copy_from_slice(&new[left * 4..]);
    }
}

const END: u8 = 0xff;

fn write(pixel: Pixel, out: &mut Vec<u8>) {
    let [red, green, blue, alpha] = pixel;
    out.extend([alpha, red, green, blue]);
}

/// How many pixels are alike at the start of two lists of the same length.
fn alike(a: &[Pixel], b: &[Pixel]) -> usize {
    /// So many are compared at once.
    const STEP: usize = 16;
    let steps = a.chunks_exact(STEP).zip(b.chunks_exact(STEP)).take_while(|(a, b)| a == b).count() * STEP;
    steps + a[steps..].iter().zip(&b[steps..]).take_while(|(a, b)| a == b).count()
}

/// How often a list's first pixel stands at its start.
fn repeats(list: &[Pixel]) -> usize {
    list.get(1..).map_or(0, |rest| 1 + alike(rest, &list[..rest.len()]))
}

/// The columns of a line that any of the rectangles touches.
fn columns(changed: &[PixelBox], y: usize) -> Option<(usize, usize)> {
    let here = changed.iter().filter(|b| (b.top..b.bottom).contains(&y) && b.left < b.right);
    here.fold(None, |all, b| match all {
        None => Some((b.left, b.right)),
        Some((left, right)) => Some((b.left.min(left), b.right.max(right))),
    })
}

/// Writes one line: `new[left..]` against `before`, whose pixels left of `left` stay.
fn encode(new: &[Pixel], before: &[Pixel], left: usize, key: bool, out: &mut Vec<u8>) {
    let end = new.len();
    let same = |x: usize| !key && new[x] == before[x];
    // How many pixels from x on stay.
    let stays = |x: usize| if key { 0 } else { alike(&new[x..], &before[x..]) };
    let mut x = left + stays(left);
    if x >= end {
        out.extend([1, END]);
        return;
    }
    let mut skip = x.min(MOST_SKIP);
    out.push(skip as u8 + 1);
    let mut left_over = x - skip;
    while left_over > 0 {
        skip = left_over.min(MOST_SKIP);
        out.extend([0, skip as u8 + 1]);
        left_over -= skip;
    }
    while x < end {
        let mut stay = stays(x);
        if x + stay >= end {
            break;
        }
        // One pixel that stays is cheaper written again than passed.
        if stay > 1 {
            x += stay;
            while stay > 0 {
                let skip = stay.min(MOST_SKIP);
                out.extend([0, skip as u8 + 1]);
                stay -= skip;
            }
        }
        let pixel = new[x];
        let run = repeats(&new[x..end.min(x + MOST_RUN)]);
        if run > 1 {
            out.push((run as i16).wrapping_neg() as u8);
            write(pixel, out);
            x += run;
            continue;
        }
        let stop = end.min(x + MOST_PIXELS);
        let mut to = x + 1;
        while to < stop {
            let repeats = to + 2 < end && new[to] == new[to + 1] && new[to] == new[to + 2];
            let passes = to + 1 < end && same(to) && same(to + 1);
            if repeats || passes {
                break;
            }
            to += 1;
        }
        out.push((to - x) as u8);
        new[x..to].iter().for_each(|&pixel| write(pixel, out));
        x = to;
    }
    out.push(END);
}
