//! One face at one size: its glyphs as outlines and as coverage masks, each made once and shared by all threads.
//!
//! Owns the caches of both writers. Must not know where glyphs are placed.

use std::collections::HashMap;
use std::fmt;
use std::sync::{Arc, OnceLock, PoisonError, RwLock};

use parley::fontique::Blob;
use skrifa::instance::{LocationRef, NormalizedCoord, Size};
use skrifa::outline::{DrawSettings, OutlinePen};
use skrifa::{FontRef, GlyphId, MetadataProvider};
use tiny_skia::{FillRule, Mask, Path, PathBuilder, Transform};

use super::Rect;

/// How many places a pixel has for a glyph, across and down: both writers place glyphs on these.
pub(super) const STEPS: i32 = 4;

/// A glyph's shape in pixels at its face's size, y down, the pen at (0, 0). `None` if it leaves no ink.
pub(super) struct Outline {
    pub(super) path: Option<Path>,
    /// The same as the SVG writer has it, as soon as it has.
    pub(super) written: OnceLock<String>,
}

/// A glyph's coverage of whole pixels, for the pen at one of the places within a pixel.
pub(super) struct GlyphMask {
    /// Left edge, from the pixel the pen is in.
    pub(super) left: i32,
    /// Top edge, from the pixel the pen is in.
    pub(super) top: i32,
    pub(super) width: usize,
    /// Row by row, 0 to 255.
    pub(super) coverage: Vec<u8>,
}

/// A face at a size.
pub(super) struct SizedFace {
    data: Blob<u8>,
    index: u32,
    coords: Vec<NormalizedCoord>,
    size: f32,
    outlines: RwLock<HashMap<u32, Arc<Outline>>>,
    masks: RwLock<HashMap<(u32, u8, u8), Arc<GlyphMask>>>,
}

impl SizedFace {
    pub(super) fn new(data: Blob<u8>, index: u32, coords: Vec<NormalizedCoord>, size: f32) -> Self {
        Self { data, index, coords, size, outlines: RwLock::default(), masks: RwLock::default() }
    }

    pub(super) fn outline(&self, glyph: u32) -> Arc<Outline> {
        cached(&self.outlines, glyph, || self.draw_outline(glyph))
    }

    /// The mask for a pen `across` and `down` steps into its pixel.
    pub(super) fn mask(&self, glyph: u32, across: u8, down: u8) -> Arc<GlyphMask> {
        cached(&self.masks, (glyph, across, down), || draw_mask(&self.outline(glyph), across, down))
    }

    fn draw_outline(&self, glyph: u32) -> Outline {
        let mut pen = SkiaPen(PathBuilder::new());
        if let Ok(font) = FontRef::from_index(self.data.data(), self.index)
            && let Some(outline) = font.outline_glyphs().get(GlyphId::new(glyph))
        {
            let settings = DrawSettings::unhinted(Size::new(self.size), LocationRef::new(&self.coords));
            // A broken outline is left without ink here; `layout` has already refused glyphs that are not there.
            if outline.draw(settings, &mut pen).is_err() {
                pen = SkiaPen(PathBuilder::new());
            }
        }
        Outline { path: pen.0.finish(), written: OnceLock::new() }
    }
}

impl Outline {
    /// A rectangle that holds the glyph's ink.
    pub(super) fn bounds(&self) -> Rect {
        self.path.as_ref().map_or(Rect::default(), |path| {
            let b = path.bounds();
            Rect::from_edges(b.left(), b.top(), b.right(), b.bottom())
        })
    }
}

impl fmt::Debug for SizedFace {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("SizedFace").field("size", &self.size).finish_non_exhaustive()
    }
}

fn cached<K: Eq + std::hash::Hash, V>(cache: &RwLock<HashMap<K, Arc<V>>>, key: K, make: impl FnOnce() -> V) -> Arc<V> {
    if let Some(found) = cache.read().unwrap_or_else(PoisonError::into_inner).get(&key) {
        return Arc::clone(found);
    }
    // Made outside the lock: two threads may both make it, and get the same.
    let made = Arc::new(make());
    Arc::clone(cache.write().unwrap_or_else(PoisonError::into_inner).entry(key).or_insert(made))
}

fn draw_mask(outline: &Outline, across: u8, down: u8) -> GlyphMask {
    let empty = GlyphMask { left: 0, top: 0, width: 0, coverage: Vec::new() };
    let Some(path) = &outline.path else { return empty };
    let (dx, dy) = (f32::from(across) / STEPS as f32, f32::from(down) / STEPS as f32);
    let ink = outline.bounds().moved(dx, dy).rounded_out();
    let (left, top) = (ink.x as i32, ink.y as i32);
    let Some(mut mask) = Mask::new(ink.w as u32, ink.h as u32) else { return empty };
    mask.fill_path(path, FillRule::Winding, true, Transform::from_translate(dx - left as f32, dy - top as f32));
    GlyphMask { left, top, width: ink.w as usize, coverage: mask.take() }
}

/// Takes font outlines (y up) as paths (y down).
struct SkiaPen(PathBuilder);

impl OutlinePen for SkiaPen {
    fn move_to(&mut self, x: f32, y: f32) {
        self.0.move_to(x, -y);
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.0.line_to(x, -y);
    }

    fn quad_to(&mut self, cx: f32, cy: f32, x: f32, y: f32) {
        self.0.quad_to(cx, -cy, x, -y);
    }

    fn curve_to(&mut self, cx0: f32, cy0: f32, cx1: f32, cy1: f32, x: f32, y: f32) {
        self.0.cubic_to(cx0, -cy0, cx1, -cy1, x, -y);
    }

    fn close(&mut self) {
        self.0.close();
    }
}
