//! Checks of what a theme brings along and of what a picture says of itself. Must not know cards.

use super::demo::told;
use super::text;
use std::sync::Arc;
use tallyspoon::diag::Findings;
use tallyspoon::draw::{
    Art, Raster, Scene, decode_png, encode_png, png_texts, svg_metadata, to_pixels, to_stamped_svg,
};
use tallyspoon::slate::{NoteStamp, STAMP_KEY, Stamp};
use tallyspoon::span::{Span, Spanned, Texts};
use tallyspoon::theme::{self, Plate, ThemeFile};

/// `theme.toml`, or artwork where the text starts with `<`: as a drawing at several sizes, and as a plate of a theme.
pub fn theme(data: &[u8]) -> bool {
    let text = text(data);
    if !text.trim_start_matches('\u{feff}').trim_start().starts_with('<') {
        return themed("theme.toml", data).is_some();
    }
    let Ok(art) = Art::parse("art/list.svg", &text) else { return false };
    for (width, height) in [(40, 30), (1, 1), (7, 333)] {
        painted(&art, width, height);
        for id in art.slot_ids() {
            art.slot(id, width, height).expect("a slot that is listed");
        }
    }
    if !["stretch", "rail", "body"].iter().all(|slot| art.slot_ids().contains(slot)) {
        return true;
    }
    let Some(theme) = themed("art/list.svg", data) else { return false };
    let margins = theme.margins(Plate::List);
    assert!([margins.left, margins.top, margins.least_width].iter().all(|length| length.is_finite()), "{margins:?}");
    for (width, height) in [(400, 300), (300, 900), (20, 20)] {
        if let Ok(panel) = theme.panel(Plate::List, width, height, 0.4) {
            painted(&panel.art, width, height);
        }
    }
    true
}

fn painted(art: &Arc<Art>, width: u32, height: u32) {
    let mut scene = Scene::new("art", width, height);
    scene.art(art, 0, 0, width, height);
    let mut raster = Raster::new(width, height).expect("a small picture");
    to_pixels(&scene, &mut raster).expect("artwork that was read can be painted");
    let (svg, stamp) = (to_stamped_svg(&scene, "a stamp"), "a stamp");
    assert_eq!(svg_metadata(&svg).as_deref(), Some(stamp));
    let png = encode_png(&raster, &[(STAMP_KEY, stamp)]).expect("a picture is written");
    let again = decode_png(&png).expect("a picture that was written is read");
    assert_eq!(again.pixels(), raster.pixels());
    assert_eq!(png_texts(&png), Some(vec![(STAMP_KEY.to_owned(), stamp.to_owned())]));
}

fn themed(path: &str, data: &[u8]) -> Option<theme::Theme> {
    let (mut texts, mut findings) = (Texts::new("content"), Findings::new());
    let home = texts.add("channel.toml", "theme = \"harbour\"\n");
    let source = Some(texts.add(format!("themes/harbour/{path}"), text(data)));
    let file = ThemeFile { path: path.to_owned(), source, bytes: data.to_vec().into() };
    let theme = theme::load(&Spanned::new("harbour".to_owned(), Span::new(home, 8, 17)), Some(&[file]), &mut findings);
    assert_eq!(theme.is_none(), findings.has_errors());
    // Places are bytes of the text as it is; what is no text has none.
    if std::str::from_utf8(data).is_ok() {
        told(&findings, &texts);
    }
    theme
}

/// Anything that may hold a stamp: a text, JSON, a PNG, an SVG. A stamp that is found is written as one that is found again.
pub fn stamps(data: &[u8]) -> bool {
    let picture = decode_png(data).is_some();
    let text = text(data);
    let mut texts = vec![text.to_string(), svg_metadata(&text).unwrap_or_default()];
    texts.extend(png_texts(data).unwrap_or_default().into_iter().map(|(_, text)| text));
    for stamp in texts.iter().filter_map(|text| Stamp::parse(text)) {
        assert_eq!(Stamp::parse(&stamp.text()), Some(stamp));
    }
    let note = NoteStamp::find(&text);
    if let Some((note, above)) = &note {
        assert!(above.len() < text.len());
        let written = note.text();
        let (again, _) = NoteStamp::find(&written).unwrap_or_else(|| panic!("{written} is no stamp"));
        assert_eq!(again, *note);
    }
    picture || note.is_some()
}
