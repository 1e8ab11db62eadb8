//! The .mov taken apart again: its atoms after Apple's QuickTime File Format, its samples by a decoder of their own.

use std::io::Cursor;

use proptest::prelude::*;
use tallyspoon::draw::{Colour, PixelBox, Raster, over_colour};
use tallyspoon::film::{Apng, Film, FilmError, Pace, QuickTime, Spec};

const PACES: [(u32, u32); 8] = [
    (24_000, 1001),
    (24_000, 1000),
    (25_000, 1000),
    (30_000, 1001),
    (30_000, 1000),
    (50_000, 1000),
    (60_000, 1001),
    (60_000, 1000),
];

/// A solid picture of a colour.
fn plain(width: u32, height: u32, colour: Colour) -> Raster {
    over_colour(&Raster::new(width, height).expect("a size"), colour)
}

fn film(spec: Spec, keys: Option<u32>, frames: &[(Raster, Vec<PixelBox>)]) -> Vec<u8> {
    let mut film = QuickTime::new(Cursor::new(Vec::new()), spec, keys).expect("a film");
    frames.iter().for_each(|(picture, changed)| film.frame(picture, changed).expect("a frame"));
    film.finish().expect("all frames").into_inner()
}

fn number(bytes: &[u8]) -> u64 {
    bytes.iter().fold(0, |all, &byte| all << 8 | u64::from(byte))
}

#[test]
fn a_film_longer_than_its_clock_is_refused() {
    // A day at 50 frames a second.
    let spec = Spec { width: 8, height: 8, pace: Pace { scale: 50_000, frame: 1000 }, frames: 24 * 3600 * 50 };
    let told = QuickTime::new(Cursor::new(Vec::new()), spec, None).err().map(|error| error.to_string());
    assert!(told.as_ref().is_some_and(|told| told.contains("longer than the clock")), "{told:?}");
}

/// The contents of an atom on a path, each step the first of its name.
fn atom<'a>(bytes: &'a [u8], path: &[&[u8; 4]]) -> Option<&'a [u8]> {
    let (first, rest) = path.split_first()?;
    let mut at = 0;
    while at + 8 <= bytes.len() {
        let (mut size, mut head) = (number(&bytes[at..at + 4]) as usize, 8);
        if size == 1 {
            (size, head) = (number(&bytes[at + 8..at + 16]) as usize, 16);
        }
        if bytes[at + 4..at + 8] == first[..] {
            let inside = &bytes[at + head..at + size];
            return if rest.is_empty() { Some(inside) } else { atom(inside, rest) };
        }
        at += size;
    }
    None
}

const TABLE: [&[u8; 4]; 5] = [b"moov", b"trak", b"mdia", b"minf", b"stbl"];

fn table<'a>(film: &'a [u8], name: &'static [u8; 4]) -> Option<&'a [u8]> {
    atom(film, &[&TABLE[..], &[name]].concat())
}

fn numbers(bytes: &[u8]) -> Vec<u64> {
    bytes.chunks_exact(4).map(number).collect()
}

/// Every sample, found through the tables.
fn samples(film: &[u8]) -> Vec<&[u8]> {
    let sizes = &numbers(table(film, b"stsz").expect("sizes"))[3..];
    let offsets = &numbers(table(film, b"stco").expect("offsets"))[2..];
    let runs = &numbers(table(film, b"stsc").expect("runs"))[2..];
    let mut found = Vec::new();
    for (chunk, &offset) in (1..).zip(offsets) {
        let run = runs.chunks_exact(3).rfind(|run| run[0] <= chunk).expect("a run");
        let mut at = offset as usize;
        for _ in 0..run[1] {
            let size = sizes[found.len()] as usize;
            found.push(&film[at..at + size]);
            at += size;
        }
    }
    found
}

/// Decodes a sample onto the frame before it.
fn decode(sample: &[u8], width: usize, screen: &mut [[u8; 4]]) {
    assert_eq!(number(&sample[..4]) as usize, sample.len(), "a sample begins with its length");
    if sample.len() < 8 {
        return;
    }
    let (mut at, first, lines) = if sample[5] & 8 != 0 {
        (14, number(&sample[6..8]) as usize, number(&sample[10..12]) as usize)
    } else {
        (6, 0, screen.len() / width)
    };
    let mut take = |count: usize| {
        at += count;
        &sample[at - count..at]
    };
    for y in first..first + lines {
        let mut x = y * width + take(1)[0] as usize - 1;
        loop {
            let code = take(1)[0] as i8;
            let pixel = |bytes: &[u8]| [bytes[1], bytes[2], bytes[3], bytes[0]];
            match code {
                -1 => break,
                0 => x += take(1)[0] as usize - 1,
                run if run < 0 => {
                    let colour = pixel(take(4));
                    for _ in 0..-i32::from(run) {
                        screen[x] = colour;
                        x += 1;
                    }
                }
                count => {
                    for _ in 0..count {
                        screen[x] = pixel(take(4));
                        x += 1;
                    }
                }
            }
            assert!(x <= (y + 1) * width, "a line ends where the picture does");
        }
    }
    assert_eq!(take(1), [0], "a sample ends with a zero");
}

/// Frames of a few colours, so that runs, skips and single pixels all come up.
fn noise(width: usize, height: usize) -> impl Strategy<Value = Vec<(u8, Vec<u8>)>> {
    let frame = (0..4_u8, proptest::collection::vec(0..3_u8, width * height));
    proptest::collection::vec(frame, 1..6)
}

fn rgba(width: usize, height: usize, levels: &[u8]) -> Raster {
    // Painted through a solid picture of one pixel at a time: a raster has no other way in.
    let mut picture = Raster::new(width as u32, height as u32).expect("a size");
    for (at, &level) in levels.iter().enumerate() {
        let colour = Colour::rgba(level * 90, 40, 200, if level == 0 { 0 } else { 100 + level * 60 });
        if level > 0 {
            let dot = plain(1, 1, colour);
            tallyspoon::draw::over_raster(&mut picture, &dot, (at % width) as i32, (at / width) as i32);
        }
    }
    picture
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]
    #[test]
    fn any_frames_come_back_bit_for_bit(wide in 1_usize..330, high in 1_usize..5, keys in 0_u32..4, seed in noise(1, 40)) {
        // Wide enough that skips and runs pass what one code can say.
        let frames: Vec<(Raster, Vec<PixelBox>)> = seed
            .iter()
            .map(|(stretch, levels)| {
                let stretch = [1, 3, 40, 300][usize::from(*stretch)];
                let levels: Vec<u8> = (0..wide * high).map(|at| levels[at / stretch % levels.len()]).collect();
                let whole = PixelBox { left: 0, top: 0, right: wide, bottom: high };
                (rgba(wide, high, &levels), vec![whole])
            })
            .collect();
        let pace = Pace { scale: 25_000, frame: 1000 };
        let spec = Spec { width: wide as u32, height: high as u32, pace, frames: frames.len() as u32 };
        let bytes = film(spec, (keys > 0).then_some(keys), &frames);
        let mut screen = vec![[9_u8; 4]; wide * high];
        for (sample, (picture, _)) in samples(&bytes).iter().zip(&frames) {
            decode(sample, wide, &mut screen);
            prop_assert_eq!(screen.concat(), picture.pixels());
        }
    }
}

#[test]
fn clocks_tables_and_tags_are_exact() {
    for (scale, frame) in PACES {
        let pace = Pace { scale, frame };
        let spec = Spec { width: 16, height: 8, pace, frames: 77 };
        let (red, blue) = (plain(16, 8, Colour::rgb(200, 0, 0)), plain(16, 8, Colour::rgba(0, 0, 200, 128)));
        let whole = vec![PixelBox { left: 0, top: 0, right: 16, bottom: 8 }];
        let frames: Vec<(Raster, Vec<PixelBox>)> = (0..77)
            .map(|at| match at % 3 {
                0 => (red.clone(), whole.clone()),
                1 => (red.clone(), Vec::new()),
                _ => (blue.clone(), whole.clone()),
            })
            .collect();
        let bytes = film(spec, Some(30), &frames);
        let movie = numbers(atom(&bytes, &[b"moov", b"mvhd"]).expect("a movie header"));
        assert_eq!((movie[3], movie[4]), (u64::from(scale), u64::from(77 * frame)));
        let media = numbers(atom(&bytes, &[b"moov", b"trak", b"mdia", b"mdhd"]).expect("a media header"));
        assert_eq!((media[3], media[4]), (u64::from(scale), u64::from(77 * frame)));
        assert_eq!(numbers(table(&bytes, b"stts").expect("times")), [0, 1, 77, u64::from(frame)]);
        assert_eq!(numbers(table(&bytes, b"stss").expect("keys")), [0, 3, 1, 31, 61]);
        // Graphics mode 0x100 is straight alpha (QuickTime File Format, table of graphics modes).
        let mode = atom(&bytes, &[b"moov", b"trak", b"mdia", b"minf", b"vmhd"]).expect("a video header");
        assert_eq!((&mode[..4], &mode[4..6]), (&[0, 0, 0, 1][..], &[1, 0][..]));
        let description = &table(&bytes, b"stsd").expect("a description")[8..];
        assert_eq!(&description[4..8], b"rle ");
        assert_eq!(number(&description[82..84]), 32, "depth");
        let colour = atom(&description[86..], &[b"colr"]).expect("a colour tag");
        assert_eq!(colour, b"nclc\0\x01\0\x01\0\x01");
        assert_eq!(samples(&bytes).len(), 77);
        // A frame that stays costs its length and a header.
        assert_eq!(samples(&bytes)[1], [0, 0, 0, 7, 0, 0, 0]);
        let data = number(&bytes[28..36]) as usize;
        assert_eq!(&bytes[20 + data + 4..20 + data + 8], b"moov", "the data ends where the table begins");
    }
}

#[test]
fn a_film_is_as_long_as_promised_or_none() {
    let spec = Spec { width: 4, height: 4, pace: Pace { scale: 25_000, frame: 1000 }, frames: 2 };
    let picture = plain(4, 4, Colour::WHITE);
    let begun = || QuickTime::new(Cursor::new(Vec::new()), spec, None).expect("a film");
    let mut short = begun();
    short.frame(&picture, &[]).expect("a frame");
    assert!(matches!(short.finish(), Err(FilmError::Frames { .. })));
    let mut long = begun();
    long.frame(&picture, &[]).expect("a frame");
    long.frame(&picture, &[]).expect("a frame");
    assert!(matches!(long.frame(&picture, &[]), Err(FilmError::Frames { .. })));
    assert!(matches!(begun().frame(&plain(5, 4, Colour::WHITE), &[]), Err(FilmError::Frames { .. })));
    let mut animated = Apng::new(Vec::new(), spec).expect("a film");
    animated.frame(&picture, &[]).expect("a frame");
    assert!(matches!(animated.finish(), Err(FilmError::Frames { .. })));
}
