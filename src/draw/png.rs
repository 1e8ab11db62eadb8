//! PNG bytes of a picture, and the texts in those of others. Knows nothing of what it shows; the same picture and texts give the same bytes.

use fdeflate::Compressor;
use png::{BitDepth, ColorType, DecodeOptions, Decoder, Encoder, SrgbRenderingIntent, Transformations};
use std::io::Cursor;
use std::ops::Range;

use super::{DrawError, Raster};

/// Encodes a picture as RGBA of 8 bits, straight alpha, marked as sRGB, with international text chunks (key, value).
///
/// # Errors
/// [`DrawError::BadTextChunk`] for a key that PNG doesn't allow (1 to 79 Latin-1 characters; ISO/IEC 15948, 11.3.3).
pub fn encode_png(picture: &Raster, texts: &[(&str, &str)]) -> Result<Vec<u8>, DrawError> {
    for (key, value) in texts {
        let plain = key.chars().all(|c| matches!(c, ' '..='~' | '\u{a1}'..='\u{ff}'));
        if !plain || key.is_empty() || key.chars().count() > 79 || key.trim() != *key || value.contains('\0') {
            return Err(DrawError::BadTextChunk { key: (*key).to_owned() });
        }
    }
    let mut bytes = Vec::with_capacity(1 << 18);
    match write(picture, texts, &mut bytes) {
        Ok(()) => Ok(bytes),
        // What is written to memory fails only for a picture of no size, which a raster can't be.
        Err(_) => Err(DrawError::BadSize { width: picture.width(), height: picture.height() }),
    }
}

fn write(picture: &Raster, texts: &[(&str, &str)], bytes: &mut Vec<u8>) -> Result<(), png::EncodingError> {
    let mut encoder = Encoder::new(bytes, picture.width(), picture.height());
    encoder.set_color(ColorType::Rgba);
    encoder.set_depth(BitDepth::Eight);
    encoder.set_source_srgb(SrgbRenderingIntent::Perceptual);
    for (key, value) in texts {
        encoder.add_itxt_chunk((*key).to_owned(), (*value).to_owned())?;
    }
    let mut writer = encoder.write_header()?;
    writer.write_chunk(png::chunk::IDAT, &image_data(picture)?)?;
    writer.finish()
}

/// The picture's rows, filtered and compressed. Most of a card's frame is clear and most of its rows are nearly those above
/// them: only what differs is filtered, and no copy of the picture is made. The compressor only shortens zeros, which the
/// filter makes of plain panels (without it: thirty times the bytes; with Sub: a tenth faster and a quarter more bytes).
fn image_data(picture: &Raster) -> std::io::Result<Vec<u8>> {
    let (width, painted) = (picture.width() as usize * BYTES, picture.painted());
    let mut compressed = Compressor::new(Vec::with_capacity(1 << 18))?;
    let clear = vec![0; width + 1];
    let mut line = clear.clone();
    let mut above = &clear[1..];
    for (y, row) in picture.pixels().chunks_exact(width).enumerate() {
        if y < painted.top || y > painted.bottom {
            compressed.write_data(&clear)?;
            continue;
        }
        line.fill(0);
        line[0] = PAETH;
        let (left, right) = differing(row, above);
        paeth(row, above, left..right, &mut line[1..]);
        compressed.write_data(&line)?;
        above = row;
    }
    compressed.finish()
}

/// Bytes of a pixel.
const BYTES: usize = 4;

/// A filter type of ISO/IEC 15948, 9.2.
const PAETH: u8 = 4;

/// From where to where two rows differ, as whole pixels; what is foretold from equal rows is right everywhere.
fn differing(row: &[u8], above: &[u8]) -> (usize, usize) {
    const STEP: usize = 16 * BYTES;
    let same = |(a, b): &(&[u8], &[u8])| a == b;
    let left = STEP * row.chunks(STEP).zip(above.chunks(STEP)).take_while(same).count();
    let right = row.len() - STEP * row.rchunks_exact(STEP).zip(above.rchunks_exact(STEP)).take_while(same).count();
    // The pixel right of the last that differs has it for a neighbour.
    (left.min(row.len()), (right + BYTES).min(row.len()))
}

/// Puts what the neighbours of a row's bytes do not foretell (ISO/IEC 15948, 9.4) where it differs from the one above.
fn paeth(row: &[u8], above: &[u8], range: Range<usize>, filtered: &mut [u8]) {
    let start = range.start.max(BYTES).min(range.end);
    for at in range.start..start {
        filtered[at] = row[at].wrapping_sub(above[at]);
    }
    let (x, up, out) = (&row[start..range.end], &above[start..range.end], &mut filtered[start..range.end]);
    let (left, corner) = (&row[start.saturating_sub(BYTES)..], &above[start.saturating_sub(BYTES)..]);
    for at in 0..x.len() {
        let (left, up, corner) = (i16::from(left[at]), i16::from(up[at]), i16::from(corner[at]));
        let (by_left, by_up) = ((up - corner).abs(), (left - corner).abs());
        let by_corner = (left + up - 2 * corner).abs();
        let nearer = if by_up <= by_corner { up } else { corner };
        let foretold = if by_left <= by_up && by_left <= by_corner { left } else { nearer };
        out[at] = x[at].wrapping_sub(foretold as u8);
    }
}

/// The picture in a whole PNG, whatever its colour type and depth; `None` for bytes that are none, or too large to draw.
pub fn decode_png(bytes: &[u8]) -> Option<Raster> {
    let mut decoder = Decoder::new(Cursor::new(bytes));
    decoder.set_transformations(Transformations::normalize_to_color8() | Transformations::ALPHA);
    let mut reader = decoder.read_info().ok()?;
    let (width, height) = (reader.info().width, reader.info().height);
    Raster::new(width, height).ok()?;
    let mut pixels = vec![0; reader.output_buffer_size()?];
    let info = reader.next_frame(&mut pixels).ok()?;
    pixels.truncate(info.buffer_size());
    let pixels = match info.color_type {
        ColorType::Rgba => pixels,
        ColorType::GrayscaleAlpha => pixels.chunks_exact(2).flat_map(|p| [p[0], p[0], p[0], p[1]]).collect(),
        ColorType::Grayscale | ColorType::Rgb | ColorType::Indexed => return None,
    };
    Some(Raster::from_pixels(width as usize, height as usize, pixels))
}

/// The most that texts of a PNG may unpack to, in bytes: far more than any of ours.
const MOST_TEXT: usize = 16 << 20;

/// The international text chunks (key, value) of a whole PNG; `None` for bytes that are none, that end early or whose
/// checksums are wrong. Pixels are not unpacked.
pub fn png_texts(bytes: &[u8]) -> Option<Vec<(String, String)>> {
    let mut options = DecodeOptions::default();
    options.set_skip_ancillary_crc_failures(false);
    let mut decoder = Decoder::new_with_options(Cursor::new(bytes), options);
    decoder.set_limits(png::Limits { bytes: MOST_TEXT });
    let mut reader = decoder.read_info().ok()?;
    reader.finish().ok()?;
    let texts = &reader.info().utf8_text;
    texts.iter().map(|chunk| Some((chunk.keyword.clone(), chunk.get_text().ok()?))).collect()
}
