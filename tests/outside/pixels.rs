//! Our pixels against an independent renderer's picture of our SVG (`rsvg-convert`, Debian librsvg2-bin), on the box that
//! either of them paints. Owns the measure and its limits; must not know what the pictures show.

use std::io::Write as _;
use std::process::{Command, Stdio};

use tallyspoon::draw::Raster;

/// Side of the squares in which differences are looked for, in pixels; they are laid every half side.
const TILE: usize = 24;
/// The most that the mean difference of one square may be, in levels of 255.
pub const TILE_LIMIT: f64 = 8.0;
/// The most that the mean difference of the whole painted box may be, in levels of 255.
pub const BOX_LIMIT: f64 = 1.2;

/// How far two pictures are apart: means of the largest difference of a pixel's premultiplied channels.
#[derive(Debug, Clone, Copy)]
pub struct Distance {
    /// In the worst square.
    pub tile: f64,
    /// In the whole painted box.
    pub all: f64,
}

impl Distance {
    /// Whether the pictures show the same.
    pub fn same(&self) -> bool {
        self.tile <= TILE_LIMIT && self.all <= BOX_LIMIT
    }
}

/// The outside renderer's picture of an SVG, straight RGBA.
///
/// # Panics
/// If the renderer is missing or fails: a check that can't be made is a failed check.
pub fn rsvg(svg: &str) -> image::RgbaImage {
    let mut child = Command::new("rsvg-convert")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("`rsvg-convert` must be installed for this check (Debian: librsvg2-bin)");
    let mut input = child.stdin.take().expect("a pipe");
    let text = svg.as_bytes().to_vec();
    let feeder = std::thread::spawn(move || input.write_all(&text));
    let output = child.wait_with_output().expect("`rsvg-convert` runs");
    feeder.join().expect("no panic").expect("`rsvg-convert` reads our SVG");
    assert!(output.status.success(), "`rsvg-convert` refuses our SVG");
    image::load_from_memory(&output.stdout).expect("a PNG").to_rgba8()
}

/// Measures how far our pixels are from another picture of the same size.
pub fn distance(ours: &Raster, theirs: &image::RgbaImage) -> Distance {
    let (width, height) = (ours.width() as usize, ours.height() as usize);
    assert_eq!((width, height), (theirs.width() as usize, theirs.height() as usize), "sizes differ");
    let differences: Vec<u64> = ours
        .pixels()
        .chunks_exact(4)
        .zip(theirs.as_raw().chunks_exact(4))
        .map(|(a, b)| {
            let (a, b) = (premultiplied(a), premultiplied(b));
            a.iter().zip(b).map(|(a, b)| a.abs_diff(b)).max().unwrap_or(0)
        })
        .collect();
    let inked = |at: usize| ours.pixels()[at * 4 + 3] != 0 || theirs.as_raw()[at * 4 + 3] != 0;
    let painted: Vec<usize> = (0..width * height).filter(|&at| inked(at)).collect();
    let edge = |pick: fn(usize, usize) -> usize, along: fn(usize, usize) -> usize| {
        painted.iter().map(|&at| along(at, width)).reduce(pick).unwrap_or(0)
    };
    let (left, right) = (edge(usize::min, |at, w| at % w), edge(usize::max, |at, w| at % w) + 1);
    let (top, bottom) = (edge(usize::min, |at, w| at / w), edge(usize::max, |at, w| at / w) + 1);
    let sums = integral(&differences, width);
    let mean = |x0: usize, y0: usize, x1: usize, y1: usize| {
        let at = |x: usize, y: usize| sums[y * (width + 1) + x];
        let sum = at(x1, y1) + at(x0, y0) - at(x0, y1) - at(x1, y0);
        sum as f64 / ((x1 - x0) * (y1 - y0)) as f64
    };
    let starts = |from: usize, to: usize, end: usize| {
        (from..to).step_by(TILE / 2).map(move |start| start.min(end.saturating_sub(TILE)))
    };
    let worst = starts(top, bottom, height)
        .flat_map(|y| starts(left, right, width).map(move |x| (x, y)))
        .map(|(x, y)| mean(x, y, (x + TILE).min(width), (y + TILE).min(height)))
        .fold(0.0, f64::max);
    Distance { tile: worst, all: mean(left, top, right, bottom) }
}

fn premultiplied(pixel: &[u8]) -> [u64; 4] {
    let alpha = u64::from(pixel[3]);
    let scaled = |channel: u8| (u64::from(channel) * alpha + 127) / 255;
    [scaled(pixel[0]), scaled(pixel[1]), scaled(pixel[2]), alpha]
}

/// Sums of everything above and left of each corner.
fn integral(values: &[u64], width: usize) -> Vec<u64> {
    let stride = width + 1;
    let mut sums = vec![0; stride * (values.len() / width + 1)];
    for (y, row) in values.chunks_exact(width).enumerate() {
        let mut running = 0;
        for (x, value) in row.iter().enumerate() {
            running += value;
            sums[(y + 1) * stride + x + 1] = sums[y * stride + x + 1] + running;
        }
    }
    sums
}
