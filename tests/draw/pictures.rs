//! Colours, artwork, both writers, pictures and PNG bytes.

use std::collections::BTreeSet;

use proptest::prelude::*;
use tallyspoon::draw::{
    Art, Colour, DrawError, Node, Point, Raster, Rect, Scene, Strip, Stroke, decode_png, encode_png, encode_strips,
    over_colour, over_raster, plain, png_texts, shrink, strips_of, to_pixels, to_svg,
};

use crate::sample::{Fault, PANEL, drawn, sample, theme_fonts};

/// Greys on white and their ratios: W3C, Web Content Accessibility Guidelines 2.2 (definition of contrast ratio);
/// figures to the thousandth computed from it independently.
#[test]
fn artwork_keeps_its_proportions_unless_its_root_says_otherwise() {
    let art = |ratio: &str| {
        let svg =
            format!("<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 4 2'{ratio}><path d='M0 0H4V2H0Z'/></svg>");
        Art::parse("mark", &svg).expect("artwork")
    };
    let room = Rect::new(10.0, 20.0, 40.0, 100.0);
    assert_eq!(art("").within(room), Rect::new(10.0, 60.0, 40.0, 20.0));
    assert_eq!(art(" preserveAspectRatio='xMidYMid meet'").within(room), Rect::new(10.0, 60.0, 40.0, 20.0));
    assert_eq!(art(" preserveAspectRatio='none'").within(room), room);
}

#[test]
fn contrast_is_that_of_the_guidelines() {
    let pairs = [("#767676", 4.542), ("#777777", 4.478), ("#595959", 7.005), ("#949494", 3.033), ("#959595", 2.995)];
    for (grey, ratio) in pairs {
        let found = Colour::parse(grey).expect("a colour").contrast(Colour::WHITE);
        assert!((found - ratio).abs() < 0.0005, "{grey} on white: {found}, published {ratio}");
    }
    assert!((Colour::BLACK.contrast(Colour::WHITE) - 21.0).abs() < 1e-9);
    // A half-clear panel is judged where it is worst: black ink on grey-over-black.
    let panel = Colour::WHITE.with_alpha(128);
    let worst = Colour::BLACK.contrast(panel.over(Colour::BLACK));
    assert!((Colour::BLACK.least_contrast_on(panel) - worst).abs() < 1e-9);
}

#[test]
fn colours_are_read_strictly() {
    assert_eq!(Colour::parse("#17314a"), Some(Colour::rgb(0x17, 0x31, 0x4a)));
    assert_eq!(Colour::parse("#17314A80"), Some(Colour::rgba(0x17, 0x31, 0x4a, 0x80)));
    for bad in ["17314a", "#17314", "#fff", "#17314g", "#+7314a", "#17314a8", "#17314a800", "", "#é314a"] {
        assert_eq!(Colour::parse(bad), None, "{bad}");
    }
    for text in ["#17314a", "#17314a80"] {
        assert_eq!(Colour::parse(text).expect("a colour").to_string(), text);
    }
}

proptest! {
    /// Source-over as W3C Compositing and Blending 1, 5.1 states it, in floats.
    #[test]
    fn compositing_is_source_over(s in any::<[u8; 4]>(), b in any::<[u8; 4]>()) {
        let (ink, ground) = (Colour::rgba(s[0], s[1], s[2], s[3]), Colour::rgba(b[0], b[1], b[2], b[3]));
        let unit = |level: u8| f64::from(level) / 255.0;
        let alpha = unit(ink.a) + unit(ground.a) * (1.0 - unit(ink.a));
        let found = ink.over(ground);
        prop_assert!((unit(found.a) - alpha).abs() <= 0.5001 / 255.0);
        if alpha > 0.0 {
            for (s, b, f) in [(ink.r, ground.r, found.r), (ink.g, ground.g, found.g), (ink.b, ground.b, found.b)] {
                let mixed = (unit(s) * unit(ink.a) + unit(b) * unit(ground.a) * (1.0 - unit(ink.a))) / alpha;
                prop_assert!((unit(f) - mixed).abs() <= 0.5001 / 255.0, "{} is not {}", unit(f), mixed);
            }
        }
    }

    /// A plain rectangle keeps its colour through premultiplied painting, as closely as its opacity lets it.
    #[test]
    fn painted_colours_survive(c in any::<[u8; 3]>(), a in 1_u8..) {
        let colour = Colour::rgba(c[0], c[1], c[2], a);
        let mut scene = Scene::new("plain", 4, 4);
        scene.fill_rect(Rect::new(1.0, 1.0, 2.0, 2.0), 0.0, colour);
        let found = drawn(&scene).pixel(2, 2);
        prop_assert_eq!(found.a, a);
        let slack = 255 / u32::from(a) / 2 + 1;
        for (want, got) in [(colour.r, found.r), (colour.g, found.g), (colour.b, found.b)] {
            prop_assert!(u32::from(want.abs_diff(got)) <= slack, "{} became {}", colour, found);
        }
    }
}

proptest! {
    /// Another program's decoder, the image crate's, reads back every pixel, whatever is painted where.
    #[test]
    fn a_png_holds_every_pixel(
        size in (1_u32..200, 1_u32..60),
        boxes in prop::collection::vec((any::<[u8; 4]>(), any::<[u8; 4]>()), 0..9),
    ) {
        let (width, height) = size;
        let mut scene = Scene::new("random", width, height);
        for (at, colour) in boxes {
            let part = |byte: u8, whole: u32| (u32::from(byte) * whole / 255) as f32;
            let rect = Rect::from_edges(part(at[0], width), part(at[1], height), part(at[2], width), part(at[3], height));
            if !rect.is_empty() {
                scene.fill_rect(rect, 0.0, Colour::rgba(colour[0], colour[1], colour[2], colour[3]));
            }
        }
        let picture = drawn(&scene);
        let bytes = encode_png(&picture, &[]).expect("a PNG");
        let read = image::load_from_memory(&bytes).expect("a sound PNG").to_rgba8();
        prop_assert_eq!(read.dimensions(), size);
        prop_assert!(read.as_raw() == picture.pixels());
    }
}

#[test]
fn the_same_scene_gives_the_same_bytes() {
    let book = theme_fonts();
    let scene = sample(&book, Fault::None);
    let (svg, png) = (to_svg(&scene), encode_png(&drawn(&scene), &[("Title", "Sample")]).expect("a PNG"));
    std::thread::scope(|threads| {
        for _ in 0..4 {
            threads.spawn(|| {
                // Fonts loaded anew, laid out anew, a raster that held something else before.
                let again = sample(&theme_fonts(), Fault::None);
                let mut raster = Raster::new(1920, 1080).expect("a raster");
                let mut other = Scene::new("other", 1920, 1080);
                other.fill_rect(Rect::new(0.0, 0.0, 1920.0, 1080.0), 0.0, Colour::WHITE);
                to_pixels(&other, &mut raster).expect("pixels");
                to_pixels(&again, &mut raster).expect("pixels");
                assert!(encode_png(&raster, &[("Title", "Sample")]).expect("a PNG") == png);
                assert!(to_svg(&again) == svg);
            });
        }
    });
}

#[test]
fn nothing_is_painted_outside_the_bounds_of_the_scene() {
    let scene = sample(&theme_fonts(), Fault::None);
    let raster = drawn(&scene);
    let (ink, bounds) = (raster.ink().expect("ink"), scene.bounds().rounded_out());
    assert!(bounds.contains(&ink), "{ink:?} reaches out of {bounds:?}");
    let whole = over_colour(&raster, Colour::rgba(0, 0, 0, 0)).ink().expect("ink");
    assert_eq!(ink, whole, "ink was painted outside the painted box");
    assert_eq!(drawn(&Scene::new("empty", 30, 20)).ink(), None);
    let mut dot = Scene::new("dot", 30, 20);
    dot.fill_rect(Rect::new(7.0, 3.0, 2.0, 1.0), 0.0, Colour::BLACK);
    assert_eq!(drawn(&dot).ink(), Some(Rect::new(7.0, 3.0, 2.0, 1.0)));
}

#[test]
fn what_hangs_over_the_frame_is_cut_at_its_edge() {
    let art =
        Art::parse("dot", "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 2 2'><path d='M0 0H2V2H0Z'/></svg>")
            .expect("artwork");
    for (x, y, ink) in [(-3, -2, (0, 0, 7, 8)), (15, 5, (15, 5, 5, 10)), (5, 12, (5, 12, 10, 3))] {
        let mut scene = Scene::new("edge", 20, 15);
        scene.art(&art, x, y, 10, 10);
        let raster = drawn(&scene);
        let (l, t, w, h) = ink;
        assert_eq!(raster.ink(), Some(Rect::new(l as f32, t as f32, w as f32, h as f32)), "at ({x}, {y})");
    }
    let mut away = Scene::new("away", 20, 15);
    away.art(&art, 40, 40, 10, 10);
    away.fill_rect(Rect::new(-50.0, -50.0, 20.0, 20.0), 3.0, Colour::BLACK);
    away.nodes.push(Node::Line {
        from: Point::new(-5.0, -5.0),
        to: Point::new(-5.0, 40.0),
        stroke: Stroke::new(Colour::BLACK, 2.0),
    });
    assert_eq!(drawn(&away).ink(), None);
}

#[test]
fn a_png_is_the_raster() {
    let raster = drawn(&sample(&theme_fonts(), Fault::None));
    let bytes = encode_png(&raster, &[("Title", "Chickpea fritters · ½"), ("Source", "made here")]).expect("a PNG");
    // Read by the `image` crate, through another decoder's settings than ours.
    let read = image::load_from_memory(&bytes).expect("a sound PNG").to_rgba8();
    assert_eq!((read.width(), read.height()), (1920, 1080));
    assert!(read.as_raw() == raster.pixels());
    let has = |chunk: &[u8]| bytes.windows(chunk.len()).any(|window| window == chunk);
    assert!(has(b"sRGB") && has("iTXtTitle\0\0\0\0\0Chickpea fritters · ½".as_bytes()));
    for key in ["", " x", "x ", "naïve\u{200b}", "a\nb", &"k".repeat(80)] {
        let refused = encode_png(&raster, &[(key, "value")]);
        assert!(matches!(refused, Err(DrawError::BadTextChunk { .. })), "{key:?}");
    }
    let empty = encode_png(&Raster::new(1920, 1080).expect("a raster"), &[]).expect("a PNG");
    assert!(empty.len() < 60_000, "an empty frame takes {} bytes", empty.len());
}

/// A picture of strips is the picture of the same rows, whatever the strips hold and wherever their last byte ends.
#[test]
fn strips_make_a_picture_and_come_back() {
    let mut seed = 1_u32;
    let mut byte = || {
        seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (seed >> 24) as u8
    };
    for turn in 0..60 {
        let width = 1 + turn % 7;
        let mut rasters: Vec<Raster> = Vec::new();
        for height in [1, 1 + turn % 3, 2] {
            let mut raster = plain(width, height, Colour::rgb(58, 58, 58)).expect("a raster");
            for at in 0..turn * 3 {
                let dot = plain(1, 1, Colour::rgba(byte(), byte(), byte(), byte())).expect("a raster");
                over_raster(&mut raster, &dot, (at % width) as i32, (at / width % height) as i32);
            }
            rasters.push(raster);
        }
        let below = std::iter::once(None).chain(rasters.iter().map(Some));
        let strips: Vec<Strip> = rasters.iter().zip(below).map(|(rows, below)| Strip::new(rows, below)).collect();
        let bytes = encode_strips(width, &strips, &[("Title", "Sample")]).expect("a PNG");
        let picture = decode_png(&bytes).expect("a PNG is read");
        assert_eq!(picture.pixels(), rasters.iter().flat_map(Raster::pixels).copied().collect::<Vec<u8>>());
        assert_eq!(png_texts(&bytes).expect("texts")[0].1, "Sample");
        assert_eq!(strips_of(&bytes), Some((width, strips)));
        let outside = image::load_from_memory(&bytes).expect("a sound PNG").into_rgba8();
        assert_eq!(outside.as_raw(), picture.pixels());
        (0..bytes.len()).for_each(|end| drop(strips_of(&bytes[..end])));
        assert_eq!(strips_of(&encode_png(&picture, &[]).expect("a PNG")), None);
    }
}

#[test]
fn sizes_that_no_picture_has_are_refused() {
    for (width, height) in [(0, 10), (10, 0), (20_000, 10)] {
        assert_eq!(Raster::new(width, height).err(), Some(DrawError::BadSize { width, height }));
        let scene = Scene::new("size", width, height);
        let mut raster = Raster::new(1, 1).expect("a raster");
        assert!(to_pixels(&scene, &mut raster).is_err());
    }
    let art = Art::parse("panel", PANEL).expect("artwork");
    let mut scene = Scene::new("size", 10, 10);
    scene.art(&art, 0, 0, 0, 5);
    let refused = to_pixels(&scene, &mut Raster::new(1, 1).expect("a raster"));
    assert_eq!(refused, Err(DrawError::BadSize { width: 0, height: 5 }));
}

#[test]
fn artwork_stands_alone() {
    let wrap = |inner: &str| {
        format!(
            "<svg xmlns='http://www.w3.org/2000/svg' xmlns:xlink='http://www.w3.org/1999/xlink' viewBox='0 0 9 9'>\n{inner}\n</svg>"
        )
    };
    for inner in [
        "<text x='1' y='1'>hello</text>",
        "<g><image href='data:image/png;base64,AAAA'/></g>",
        "<script>1</script>",
        "<foreignObject/>",
        "<use href='other.svg#a'/>",
        "<use xlink:href='https://example.com/a.svg#a'/>",
        "<rect width='1' height='1' fill='url(other.svg#a)'/>",
        "<rect width='1' height='1' style='fill: url( \"/etc/a.svg#a\" )'/>",
        "<style>@import 'a.css';</style>",
        "<style>rect { fill: url(a.svg#b) }</style>",
        "<filter id='f'><feImage href='../a.png'/></filter>",
    ] {
        let refused = Art::parse("bad.svg", &wrap(inner)).expect_err(inner);
        let DrawError::BadArt { line, .. } = &refused else { panic!("{refused}") };
        assert_eq!(*line, Some(2), "{refused}");
        assert!(refused.to_string().contains("bad.svg"), "{refused}");
    }
    let slow = Art::parse("glow.svg", &wrap("<filter id='f'><feGaussianBlur stdDeviation='2'/></filter>"));
    assert!(slow.expect_err("a filter").to_string().contains("as gradients"));
    for (inner, side) in [
        ("<path d='M-1 0H9V9Z'/>", "left"),
        ("<circle cx='4.5' cy='4.5' r='5'/>", "left"),
        ("<path d='M1 0H8' stroke='#000' stroke-width='1'/>", "top"),
        ("<path d='M1 1H10V8Z'/>", "right"),
        ("<path d='M1 1H8V9.2Z'/>", "bottom"),
    ] {
        let refused = Art::parse("wide.svg", &wrap(inner)).expect_err(inner).to_string();
        assert!(refused.contains(&format!("the {side} of its view box")), "{inner}: {refused}");
    }
    let entity = "<!DOCTYPE svg [<!ENTITY a SYSTEM 'file:///etc/passwd'>]><svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 9 9'>&a;</svg>";
    assert!(Art::parse("entity", entity).is_err());
    assert!(Art::parse("empty", "").is_err());
    assert!(Art::parse("html", "<p/>").is_err());
    let sound = wrap(
        "<defs><path id='a' d='M0 0H9V9Z'/></defs><use href='#a' fill='#123456'/><style>path { opacity: 0.5 }</style>",
    );
    Art::parse("sound", &sound).expect("sound artwork");
}

#[test]
fn slots_scale_with_their_artwork() {
    let art = Art::parse("panel", PANEL).expect("artwork");
    assert_eq!(art.slot_ids(), ["rows"]);
    assert_eq!(art.slot("rows", 800, 600), Some(Rect::new(60.0, 120.0, 680.0, 420.0)));
    assert_eq!(art.slot("rows", 1600, 300), Some(Rect::new(120.0, 60.0, 1360.0, 210.0)));
    assert_eq!(art.slot("none", 800, 600), None);
}

#[test]
fn ids_never_collide_and_always_resolve() {
    let book = theme_fonts();
    let mut seen = BTreeSet::new();
    for name in ["weigh-out", "cost 2"] {
        let mut scene = sample(&book, Fault::None);
        scene.name = name.to_owned();
        let art = Art::parse("panel", PANEL).expect("artwork");
        scene.art(&art, 1300, 700, 300, 200);
        let svg = to_svg(&scene);
        let document = usvg::roxmltree::Document::parse(&svg).expect("well-formed");
        let elements = || document.descendants().filter(|node| node.is_element());
        let ids: Vec<&str> = elements().filter_map(|node| node.attribute("id")).collect();
        for id in &ids {
            assert!(seen.insert((*id).to_owned()), "`{id}` is there twice");
            assert!(id.starts_with(&name.replace(' ', "-")), "{id}");
        }
        for attribute in elements().flat_map(|node| node.attributes()) {
            let value = attribute.value();
            let target = match attribute.name() {
                "href" => value.strip_prefix('#'),
                _ => value.strip_prefix("url(#").and_then(|rest| rest.strip_suffix(')')),
            };
            if let Some(target) = target {
                assert!(ids.contains(&target), "`{value}` leads nowhere");
            }
        }
        assert!(elements().all(|node| !matches!(node.tag_name().name(), "text" | "image" | "style")));
        assert!(svg.contains("<title>A sample &amp; its figures</title>"));
    }
}

#[test]
fn pictures_are_laid_over_each_other_and_made_smaller() {
    let mut half = Scene::new("half", 4, 4);
    half.fill_rect(Rect::new(0.0, 0.0, 2.0, 4.0), 0.0, Colour::rgba(200, 100, 0, 255));
    let picture = drawn(&half);
    let small = shrink(&picture, 2, 2).expect("smaller");
    assert_eq!([small.pixel(0, 0), small.pixel(1, 1)], [Colour::rgb(200, 100, 0), Colour::rgba(0, 0, 0, 0)]);
    // A mean over a clear half keeps the colour and halves the opacity: clear pixels have no colour to mix in.
    assert_eq!(shrink(&picture, 1, 1).expect("one").pixel(0, 0), Colour::rgba(200, 100, 0, 128));
    // Areas that don't divide evenly: 2 of 4 columns are ink, so of three the middle one is half covered.
    assert_eq!(shrink(&picture, 3, 4).expect("three").pixel(1, 0), Colour::rgba(200, 100, 0, 128));
    assert!(shrink(&picture, 5, 4).is_err() && shrink(&picture, 0, 4).is_err());
    let solid = over_colour(&picture, Colour::WHITE);
    assert_eq!([solid.pixel(0, 0), solid.pixel(3, 3)], [Colour::rgb(200, 100, 0), Colour::WHITE]);
    let mut ground = solid.clone();
    over_raster(&mut ground, &picture, 2, -1);
    assert_eq!([ground.pixel(2, 0), ground.pixel(2, 3)], [Colour::rgb(200, 100, 0), Colour::WHITE]);
    over_raster(&mut ground, &picture, -9, 99);
    assert_eq!(ground.pixel(3, 3), Colour::WHITE);
}

/// The row above the first that has paint is clear, whatever the strip above ends with.
#[test]
fn a_strip_that_begins_clear_comes_back() {
    let painted = plain(3, 2, Colour::rgb(58, 58, 58)).expect("a raster");
    let mut begins_clear = Raster::new(3, 3).expect("a raster");
    over_raster(&mut begins_clear, &plain(3, 1, Colour::rgb(200, 9, 1)).expect("a raster"), 0, 2);
    let strips = [Strip::new(&painted, None), Strip::new(&begins_clear, Some(&painted))];
    let picture = decode_png(&encode_strips(3, &strips, &[]).expect("a PNG")).expect("a PNG is read");
    assert_eq!(picture.pixels(), [painted.pixels(), begins_clear.pixels()].concat());
}
