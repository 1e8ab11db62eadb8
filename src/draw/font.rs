//! The fonts a picture may use: loaded from bytes, named by family and weight, never the system's.
//!
//! Owns which faces there are and the shared glyph caches. Must not know where the bytes come from.

use std::borrow::Cow;
use std::collections::HashMap;
use std::fmt;
use std::sync::{Arc, Mutex, PoisonError};

use parley::fontique::{Blob, Collection, CollectionOptions, FontInfo, FontStyle, SourceCache};
use parley::{FontContext, LayoutContext};
use skrifa::instance::{LocationRef, NormalizedCoord, Size};
use skrifa::{FontRef, MetadataProvider};

use super::DrawError;
use super::glyph::SizedFace;
use super::text::TextStyle;

/// One face of a font book, as a caller may ask for it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct FaceInfo {
    /// The family's name, as the font states it.
    pub family: String,
    /// The lightest weight it offers, 1 to 1000.
    pub lightest: u16,
    /// The boldest weight it offers; the same as `lightest` unless it is a variable font.
    pub boldest: u16,
    /// Whether it is an italic or oblique.
    pub italic: bool,
    /// Whether it only stands in for characters that the asked family lacks.
    pub fallback: bool,
}

/// A style's measures in pixels, all positive.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FontMetrics {
    /// From the baseline up to the font's stated top.
    pub ascent: f32,
    /// From the baseline down to the font's stated bottom.
    pub descent: f32,
    /// Height of a flat capital.
    pub cap_height: f32,
    /// Height of a flat small letter.
    pub x_height: f32,
}

/// What parley needs to shape one text; a layout takes one and gives it back, so threads don't wait for each other.
pub(super) struct Shaper {
    pub(super) fonts: FontContext,
    pub(super) layouts: LayoutContext<[u8; 4]>,
}

/// The fonts of one theme. Share it by reference: laying out and painting need no `mut`.
#[derive(Default)]
pub struct FontBook {
    collection: Option<Collection>,
    faces: Vec<FaceInfo>,
    fallback: Vec<String>,
    shapers: Mutex<Vec<Shaper>>,
    sized: Mutex<HashMap<SizedKey, Arc<SizedFace>>>,
}

type SizedKey = (u64, u32, Vec<NormalizedCoord>, u32);

impl FontBook {
    /// A book without fonts.
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds a font file (TTF, OTF or a collection) that text may ask for by family. `name` is for messages.
    ///
    /// # Errors
    /// [`DrawError::BadFont`] if the bytes hold no readable font.
    pub fn add(&mut self, name: &str, bytes: impl Into<Cow<'static, [u8]>>) -> Result<(), DrawError> {
        self.register(name, bytes.into(), false).map(drop)
    }

    /// Adds a font file for characters that the asked family lacks; of several the one added first is tried first.
    ///
    /// # Errors
    /// [`DrawError::BadFont`] if the bytes hold no readable font.
    pub fn add_fallback(&mut self, name: &str, bytes: impl Into<Cow<'static, [u8]>>) -> Result<(), DrawError> {
        for family in self.register(name, bytes.into(), true)? {
            if !self.fallback.contains(&family) {
                self.fallback.push(family);
            }
        }
        Ok(())
    }

    fn register(&mut self, name: &str, bytes: Cow<'static, [u8]>, fallback: bool) -> Result<Vec<String>, DrawError> {
        let collection = self
            .collection
            .get_or_insert_with(|| Collection::new(CollectionOptions { shared: false, system_fonts: false }));
        let added = collection.register_fonts(Blob::new(Arc::new(bytes)), None);
        let mut families = Vec::new();
        for (family, fonts) in &added {
            let family = collection.family_name(*family).unwrap_or_default().to_owned();
            self.faces.extend(fonts.iter().map(|font| face_info(&family, font, fallback)));
            families.push(family);
        }
        if families.is_empty() {
            let reason = "it holds no readable font; use an unpacked TTF or OTF file".to_owned();
            return Err(DrawError::BadFont { name: name.to_owned(), reason });
        }
        // Shapers hold copies of the collection from before.
        self.shapers.get_mut().unwrap_or_else(PoisonError::into_inner).clear();
        Ok(families)
    }

    /// The faces there are, in the order they were added.
    pub fn faces(&self) -> &[FaceInfo] {
        &self.faces
    }

    /// The measures of a style.
    ///
    /// # Errors
    /// [`DrawError::UnknownFace`] if no loaded font is of that family, weight and slope.
    pub fn metrics(&self, style: &TextStyle) -> Result<FontMetrics, DrawError> {
        self.require(style)?;
        let unknown = || self.unknown(style);
        let family = self.shape(|shaper| shaper.fonts.collection.family_by_name(&style.family)).ok_or_else(unknown)?;
        let font = family
            .match_font(Default::default(), slope(style.italic), weight(style.weight), false)
            .ok_or_else(unknown)?;
        let data = font.load(None).ok_or_else(unknown)?;
        let font_ref = FontRef::from_index(data.data(), font.index()).map_err(|_| self.unknown(style))?;
        let location = font_ref.axes().location([("wght", f32::from(style.weight))]);
        let metrics = font_ref.metrics(Size::new(style.size), LocationRef::from(&location));
        Ok(FontMetrics {
            ascent: metrics.ascent,
            descent: -metrics.descent,
            // Common practice for fonts that don't say: capitals 0.7, small letters 0.5 of the size.
            cap_height: metrics.cap_height.unwrap_or(0.7 * style.size),
            x_height: metrics.x_height.unwrap_or(0.5 * style.size),
        })
    }

    /// Fails unless the style's own family has that weight and slope: no other weight is shown in its place.
    pub(super) fn require(&self, style: &TextStyle) -> Result<(), DrawError> {
        let found = self.faces.iter().any(|face| {
            face.family == style.family
                && face.italic == style.italic
                && (face.lightest..=face.boldest).contains(&style.weight)
        });
        if found { Ok(()) } else { Err(self.unknown(style)) }
    }

    fn unknown(&self, style: &TextStyle) -> DrawError {
        let mut loaded: Vec<String> = self.faces.iter().map(FaceInfo::to_string).collect();
        loaded.sort();
        loaded.dedup();
        DrawError::UnknownFace {
            family: style.family.clone(),
            weight: style.weight,
            italic: style.italic,
            loaded: if loaded.is_empty() { "none".to_owned() } else { loaded.join(", ") },
        }
    }

    /// The family asked for and the fallbacks, in the order they are tried.
    pub(super) fn families<'a>(&'a self, family: &'a str) -> Vec<&'a str> {
        let fallback = self.fallback.iter().map(String::as_str).filter(|&name| name != family);
        std::iter::once(family).chain(fallback).collect()
    }

    /// Lends a shaper to `work`.
    pub(super) fn shape<T>(&self, work: impl FnOnce(&mut Shaper) -> T) -> T {
        let lent = self.shapers.lock().unwrap_or_else(PoisonError::into_inner).pop();
        let mut shaper = lent.unwrap_or_else(|| self.new_shaper());
        let result = work(&mut shaper);
        self.shapers.lock().unwrap_or_else(PoisonError::into_inner).push(shaper);
        result
    }

    fn new_shaper(&self) -> Shaper {
        let collection = self
            .collection
            .clone()
            .unwrap_or_else(|| Collection::new(CollectionOptions { shared: false, system_fonts: false }));
        Shaper {
            fonts: FontContext { collection, source_cache: SourceCache::default() },
            layouts: LayoutContext::new(),
        }
    }

    /// The shared face at a size, with its glyph caches.
    pub(super) fn sized(&self, font: &parley::FontData, coords: Vec<NormalizedCoord>, size: f32) -> Arc<SizedFace> {
        let key = (font.data.id(), font.index, coords, size.to_bits());
        let mut sized = self.sized.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(face) = sized.get(&key) {
            return Arc::clone(face);
        }
        let face = Arc::new(SizedFace::new(font.data.clone(), font.index, key.2.clone(), size));
        sized.insert(key, Arc::clone(&face));
        face
    }
}

impl fmt::Debug for FontBook {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("FontBook").field("faces", &self.faces).finish_non_exhaustive()
    }
}

impl fmt::Display for FaceInfo {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "`{}` {}", self.family, self.lightest)?;
        if self.boldest != self.lightest {
            write!(f, "-{}", self.boldest)?;
        }
        if self.italic { f.write_str(" italic") } else { Ok(()) }
    }
}

fn face_info(family: &str, font: &FontInfo, fallback: bool) -> FaceInfo {
    let own = font.weight().value().round() as u16;
    let axis = font.axes().iter().find(|axis| axis.tag.to_be_bytes() == *b"wght");
    let (lightest, boldest) = axis.map_or((own, own), |axis| (axis.min.round() as u16, axis.max.round() as u16));
    FaceInfo { family: family.to_owned(), lightest, boldest, italic: font.style() != FontStyle::Normal, fallback }
}

/// Characters that steer shaping and leave no ink: a font need not have them.
pub(super) fn invisible(ch: char) -> bool {
    ch.is_whitespace()
        || matches!(ch, '\u{ad}' | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{2069}' | '\u{fe00}'..='\u{fe0f}' | '\u{feff}')
}

pub(super) fn slope(italic: bool) -> FontStyle {
    if italic { FontStyle::Italic } else { FontStyle::Normal }
}

pub(super) fn weight(weight: u16) -> parley::FontWeight {
    parley::FontWeight::new(f32::from(weight))
}
