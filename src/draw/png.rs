//! PNG bytes of a picture, and the texts in those of others. Knows nothing of what it shows; the same picture and texts give the same bytes.

use fdeflate::Compressor;
use png::chunk::{ChunkType, IDAT};
use png::{BitDepth, ColorType, DecodeOptions, Decoder, Encoder, SrgbRenderingIntent, Transformations};
use std::io::Cursor;
use std::ops::Range;

use super::{DrawError, Raster};

/// Encodes a picture as RGBA of 8 bits, straight alpha, marked as sRGB, with international text chunks (key, value).
///
/// # Errors
/// [`DrawError::BadTextChunk`] for a key that PNG doesn't allow (1 to 79 Latin-1 characters; ISO/IEC 15948, 11.3.3).
pub fn encode_png(picture: &Raster, texts: &[(&str, &str)]) -> Result<Vec<u8>, DrawError> {
    let data = image_data(picture, None).unwrap_or_default();
    encode((picture.width(), picture.height()), texts, &[(IDAT, data)])
}

/// The same of a picture that consists of strips as wide, one below the other. [`strips_of`] has them back.
///
/// # Errors
/// As for [`encode_png`].
pub fn encode_strips(width: u32, strips: &[Strip], texts: &[(&str, &str)]) -> Result<Vec<u8>, DrawError> {
    let line = u64::from(width) * BYTES as u64 + 1;
    let sum = strips.iter().fold(1, |sum, strip| joined_sum(sum, strip.sum, u64::from(strip.height) * line));
    let list = strips.iter().flat_map(|strip| [strip.height.to_be_bytes(), strip.sum.to_be_bytes()]).flatten();
    let mut chunks = vec![(STRIPS, list.collect()), (IDAT, ZLIB.to_vec())];
    chunks.extend(strips.iter().map(|strip| (IDAT, strip.blocks.clone())));
    chunks.push((IDAT, [&NOTHING[..], &sum.to_be_bytes()].concat()));
    encode((width, strips.iter().map(|strip| strip.height).sum()), texts, &chunks)
}

fn encode(size: (u32, u32), texts: &[(&str, &str)], chunks: &[(ChunkType, Vec<u8>)]) -> Result<Vec<u8>, DrawError> {
    for (key, value) in texts {
        let plain = key.chars().all(|c| matches!(c, ' '..='~' | '\u{a1}'..='\u{ff}'));
        if !plain || key.is_empty() || key.chars().count() > 79 || key.trim() != *key || value.contains('\0') {
            return Err(DrawError::BadTextChunk { key: (*key).to_owned() });
        }
    }
    let mut bytes = Vec::with_capacity(1024 + chunks.iter().map(|(_, data)| data.len() + 12).sum::<usize>());
    match write(size, texts, chunks, &mut bytes) {
        Ok(()) => Ok(bytes),
        // What is written to memory fails only for a picture of no size, which a raster can't be.
        Err(_) => Err(DrawError::BadSize { width: size.0, height: size.1 }),
    }
}

fn write(
    (width, height): (u32, u32),
    texts: &[(&str, &str)],
    chunks: &[(ChunkType, Vec<u8>)],
    bytes: &mut Vec<u8>,
) -> Result<(), png::EncodingError> {
    let mut encoder = Encoder::new(bytes, width, height);
    encoder.set_color(ColorType::Rgba);
    encoder.set_depth(BitDepth::Eight);
    encoder.set_source_srgb(SrgbRenderingIntent::Perceptual);
    for (key, value) in texts {
        encoder.add_itxt_chunk((*key).to_owned(), (*value).to_owned())?;
    }
    let mut writer = encoder.write_header()?;
    for (kind, data) in chunks {
        writer.write_chunk(*kind, data)?;
    }
    writer.finish()
}

/// The picture's rows, filtered and compressed. Most of a card's frame is clear and most of its rows are nearly those above
/// them: only what differs is looked at, and no copy of the picture is made. The compressor only shortens zeros, which the
/// filter makes of plain panels (without it: thirty times the bytes; with Sub: a tenth faster and a quarter more bytes).
/// `above` is the row of pixels above its first, where that is not the picture's.
fn image_data(picture: &Raster, above: Option<&[u8]>) -> std::io::Result<Vec<u8>> {
    let (width, painted) = (picture.width() as usize * BYTES, picture.painted());
    let mut compressed = Compressor::new(Vec::with_capacity(1 << 18))?;
    let clear = vec![0; width + 1];
    let mut line = clear.clone();
    // Outside of what is painted both rows are clear, but for what stands above the first.
    let inked = if above.is_none() { painted.left * BYTES..painted.right * BYTES } else { 0..width };
    let mut above = above.unwrap_or(&clear[1..]);
    for (y, row) in picture.pixels().chunks_exact(width).enumerate() {
        if y < painted.top || y > painted.bottom {
            compressed.write_data(&clear)?;
            above = row;
            continue;
        }
        line[0] = PAETH;
        let differing = differing(row, above, &inked);
        let changed = differing.start + 1..differing.end + 1;
        paeth(row, above, differing, &mut line[1..]);
        compressed.write_data(&line)?;
        line[changed].fill(0);
        above = row;
    }
    compressed.finish()
}

/// Bytes of a pixel.
const BYTES: usize = 4;

/// A filter type of ISO/IEC 15948, 9.2.
const PAETH: u8 = 4;

/// From where to where two rows that are the same outside of `inked` differ, as whole pixels; what is foretold from equal
/// rows is right everywhere.
fn differing(row: &[u8], above: &[u8], inked: &Range<usize>) -> Range<usize> {
    const STEP: usize = 4 * BYTES;
    let (here, there) = (&row[inked.clone()], &above[inked.clone()]);
    let alike = here.as_chunks::<STEP>().0.iter().zip(there.as_chunks::<STEP>().0).take_while(|(a, b)| a == b).count();
    let (here, there) = (&here[alike * STEP..], &there[alike * STEP..]);
    if here == there {
        return 0..0;
    }
    let behind = here.as_rchunks::<STEP>().1.iter().rev().zip(there.as_rchunks::<STEP>().1.iter().rev());
    let alike_behind = behind.take_while(|(a, b)| a == b).count();
    // The pixel right of the last that differs has it for a neighbour.
    inked.start + alike * STEP..(inked.end - alike_behind * STEP + BYTES).min(row.len())
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

/// Rows of a picture, filtered and compressed by themselves: they stand in it as they are, whatever the others say.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Strip {
    height: u32,
    /// Adler-32 of its filtered rows.
    sum: u32,
    /// Deflate blocks (RFC 1951), none of them the last, up to a whole byte.
    blocks: Vec<u8>,
}

impl Strip {
    /// All the rows of a picture, below the last row of another as wide if there is one.
    pub fn new(picture: &Raster, below: Option<&Raster>) -> Self {
        let width = picture.width() as usize * BYTES;
        let above = below.and_then(|below| below.pixels().rchunks_exact(width).next());
        let stream = image_data(picture, above).unwrap_or_default();
        let (body, sum) = stream.split_last_chunk::<4>().expect("a zlib stream ends with its sum");
        let mut blocks = body[ZLIB.len()..].to_vec();
        // The one block is no longer the last.
        blocks[0] &= !1;
        // A stored block of no bytes begins with three clear bits and goes on at a whole byte. The code that ends the
        // compressor's block ends with a set bit: the clear ones behind it are all the room that is left in the byte.
        if blocks.last().is_some_and(|last| last.leading_zeros() < 3) {
            blocks.push(0);
        }
        blocks.extend([0, 0, 0xff, 0xff]);
        Self { height: picture.height(), sum: u32::from_be_bytes(*sum), blocks }
    }
}

/// The width and the strips of a PNG that [`encode_strips`] wrote; `None` for any other.
pub fn strips_of(bytes: &[u8]) -> Option<(u32, Vec<Strip>)> {
    let word = |bytes: &[u8]| Some(u32::from_be_bytes(*bytes.first_chunk::<4>()?));
    let (mut rest, mut data, mut list, mut width) = (bytes.get(8..)?, Vec::new(), None, None);
    while !rest.is_empty() {
        let length = word(rest)? as usize;
        let kind = ChunkType(*rest.get(4..)?.first_chunk::<4>()?);
        let chunk = rest.get(8..)?.get(..length)?;
        match kind {
            png::chunk::IHDR => width = word(chunk),
            STRIPS => list = Some(chunk),
            IDAT => data.push(chunk),
            _ => {}
        }
        rest = rest.get(8 + length + 4..)?;
    }
    // The first and the last have the stream's head and its end.
    let (list, blocks) = (list?.as_chunks::<8>().0, data.get(1..data.len().checked_sub(1)?)?);
    let strip = |(list, blocks): (&[u8; 8], &&[u8])| {
        Some(Strip { height: word(list)?, sum: word(&list[4..])?, blocks: blocks.to_vec() })
    };
    let strips = list.iter().zip(blocks).map(strip).collect::<Option<Vec<_>>>()?;
    (list.len() == blocks.len()).then_some((width?, strips))
}

/// What a private chunk, not to be copied where the picture is changed, has of each strip: its height and its sum.
const STRIPS: ChunkType = ChunkType(*b"stRP");
/// What a zlib stream begins with (RFC 1950) as the compressor writes it.
const ZLIB: [u8; 2] = [0x78, 0x01];
/// A last block of nothing (RFC 1951).
const NOTHING: [u8; 2] = [3, 0];

/// Adler-32 (RFC 1950, 8.2) of bytes followed by `length` others, of the sums of both.
fn joined_sum(first: u32, second: u32, length: u64) -> u32 {
    const BASE: u64 = 65_521;
    let halves = |sum: u32| (u64::from(sum & 0xffff), u64::from(sum >> 16));
    let ((low, high), (more_low, more_high)) = (halves(first), halves(second));
    let sum = (low + more_low + BASE - 1) % BASE;
    let sums = (high + more_high + length % BASE * (low + BASE - 1)) % BASE;
    (sums << 16 | sum) as u32
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
