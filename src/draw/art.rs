//! Artwork: a drawing in SVG, checked to stand alone, and its picture at a size, made once and shared.
//!
//! Owns what artwork may contain and the cache of its pictures. Must not know which theme it belongs to.

use std::collections::HashMap;
use std::fmt;
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

use sha2::{Digest, Sha256};
use tiny_skia::{Pixmap, Transform};
use usvg::roxmltree::{Document, Node};

use super::raster::MAX_SIDE;
use super::{DrawError, Rect};

/// A drawing in SVG. It holds no text, pictures or scripts and refers to nothing outside itself.
pub struct Art {
    name: String,
    digest: [u8; 32],
    tree: usvg::Tree,
    view: Rect,
    slots: HashMap<String, Rect>,
}

impl Art {
    /// Reads artwork; `name` is for messages.
    ///
    /// # Errors
    /// [`DrawError::BadArt`] if it is no SVG, or holds `<text>`, `<image>`, `<script>` or `<foreignObject>`, or refers
    /// to anything but its own ids.
    pub fn parse(name: &str, svg: &str) -> Result<Arc<Self>, DrawError> {
        let bad = |line, reason: String| DrawError::BadArt { name: name.to_owned(), line, reason };
        // Without document types there are no entities that could reach outside or grow without end.
        let document = Document::parse(svg).map_err(|e| bad(Some(e.pos().row), e.to_string()))?;
        for node in document.descendants() {
            if let Some(reason) = fault(&node) {
                return Err(bad(Some(document.text_pos_at(node.range().start).row), reason));
            }
        }
        let tree = usvg::Tree::from_xmltree(&document, &options()).map_err(|e| bad(None, e.to_string()))?;
        let view = view_box(&document).unwrap_or(Rect::new(0.0, 0.0, tree.size().width(), tree.size().height()));
        let slots = document.descendants().filter_map(|node| slot(&node)).collect();
        Ok(Arc::new(Self { name: name.to_owned(), digest: Sha256::digest(svg).into(), tree, view, slots }))
    }

    /// What the caller named it.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Its own width and height, in its own units.
    pub fn size(&self) -> (f32, f32) {
        (self.tree.size().width(), self.tree.size().height())
    }

    /// Where the `<rect>` with an id lies when the artwork is stretched to width × height pixels, from the artwork's
    /// top left corner. Only rectangles with plain numbers and without transforms count; they need not be visible.
    pub fn slot(&self, id: &str, width: u32, height: u32) -> Option<Rect> {
        let slot = self.slots.get(id)?;
        let (sx, sy) = (width as f32 / self.view.w, height as f32 / self.view.h);
        Some(Rect::new((slot.x - self.view.x) * sx, (slot.y - self.view.y) * sy, slot.w * sx, slot.h * sy))
    }

    /// The ids of all slots, sorted.
    pub fn slot_ids(&self) -> Vec<&str> {
        let mut ids: Vec<&str> = self.slots.keys().map(String::as_str).collect();
        ids.sort_unstable();
        ids
    }

    /// The drawing with everything resolved, its ids starting with `prefix`; one `<svg>` element.
    pub(super) fn resolved(&self, prefix: &str) -> String {
        let options = usvg::WriteOptions {
            id_prefix: Some(prefix.to_owned()),
            indent: usvg::Indent::None,
            ..usvg::WriteOptions::default()
        };
        self.tree.to_string(&options)
    }

    fn draw(&self, width: u32, height: u32) -> Result<Layer, DrawError> {
        let bad_size = DrawError::BadSize { width, height };
        if width > MAX_SIDE || height > MAX_SIDE {
            return Err(bad_size);
        }
        let mut pixmap = Pixmap::new(width, height).ok_or(bad_size)?;
        let (own_width, own_height) = self.size();
        let stretch = Transform::from_scale(width as f32 / own_width, height as f32 / own_height);
        resvg::render(&self.tree, stretch, &mut pixmap.as_mut());
        Ok(Layer::trimmed(&pixmap))
    }
}

impl fmt::Debug for Art {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Art").field("name", &self.name).finish_non_exhaustive()
    }
}

/// A picture of artwork, only as large as its ink, premultiplied.
pub(super) struct Layer {
    /// Where its ink starts, from the artwork's left edge.
    pub(super) left: usize,
    /// Where its ink starts, from the artwork's top edge.
    pub(super) top: usize,
    pub(super) width: usize,
    pub(super) pixels: Vec<u8>,
}

impl Layer {
    fn trimmed(pixmap: &Pixmap) -> Self {
        let width = pixmap.width() as usize;
        let inked = |row: &[u8]| row.chunks_exact(4).any(|pixel| pixel[3] != 0);
        let rows = || pixmap.data().chunks_exact(width * 4);
        let top = rows().position(inked).unwrap_or(0);
        let bottom = rows().rposition(inked).map_or(0, |row| row + 1);
        let edges = rows().filter_map(|row| {
            let first = row.chunks_exact(4).position(|pixel| pixel[3] != 0)?;
            let last = row.chunks_exact(4).rposition(|pixel| pixel[3] != 0)?;
            Some((first, last + 1))
        });
        let (left, right) = edges.reduce(|a, b| (a.0.min(b.0), a.1.max(b.1))).unwrap_or((0, 0));
        let mut pixels = Vec::with_capacity((right - left) * 4 * (bottom - top.min(bottom)));
        for row in rows().take(bottom).skip(top) {
            pixels.extend_from_slice(&row[left * 4..right * 4]);
        }
        Self { left, top, width: right - left, pixels }
    }
}

/// The pictures of artwork, each drawn once for its size and shared by all threads. It holds at most 64 MiB beside what is
/// being painted: the pictures not used for longest go first.
#[derive(Default)]
pub struct ArtCache {
    layers: Mutex<Layers>,
}

/// How many bytes of pictures are kept.
const BUDGET: usize = 64 << 20;

type Key = ([u8; 32], u32, u32);
type Drawn = Arc<OnceLock<Result<Arc<Layer>, DrawError>>>;

#[derive(Default)]
struct Layers {
    /// Each with when it was last asked for.
    drawn: HashMap<Key, (u64, Drawn)>,
    asked: u64,
}

impl ArtCache {
    /// An empty cache.
    pub fn new() -> Self {
        Self::default()
    }

    /// How many bytes of pictures it holds.
    pub fn held(&self) -> usize {
        self.layers.lock().unwrap_or_else(PoisonError::into_inner).held()
    }

    pub(super) fn layer(&self, art: &Art, width: u32, height: u32) -> Result<Arc<Layer>, DrawError> {
        let key = (art.digest, width, height);
        let cell = self.layers.lock().unwrap_or_else(PoisonError::into_inner).ask(key);
        // Drawn outside the lock; who asks for the same layer meanwhile waits for it rather than drawing it too.
        let mut new = false;
        let drawn = cell.get_or_init(|| {
            new = true;
            art.draw(width, height).map(Arc::new)
        });
        if new {
            self.layers.lock().unwrap_or_else(PoisonError::into_inner).trim();
        }
        drawn.clone()
    }
}

impl Layers {
    fn ask(&mut self, key: Key) -> Drawn {
        self.asked += 1;
        let (last, cell) = self.drawn.entry(key).or_default();
        *last = self.asked;
        Arc::clone(cell)
    }

    fn held(&self) -> usize {
        self.drawn.values().map(|(_, cell)| bytes(cell)).sum()
    }

    /// Lets go of what was not used for longest until the rest is within the budget.
    fn trim(&mut self) {
        let mut held = self.held();
        while held > BUDGET {
            let done = self.drawn.iter().filter(|(_, (_, cell))| bytes(cell) > 0);
            let Some((&oldest, (_, cell))) = done.min_by_key(|(_, (last, _))| *last) else { return };
            held -= bytes(cell);
            self.drawn.remove(&oldest);
        }
    }
}

impl fmt::Debug for ArtCache {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("ArtCache").finish_non_exhaustive()
    }
}

fn bytes(cell: &Drawn) -> usize {
    cell.get().and_then(|drawn| drawn.as_ref().ok()).map_or(0, |layer| layer.pixels.len())
}

/// What is wrong with an element, if anything.
fn fault(node: &Node<'_, '_>) -> Option<String> {
    if !node.is_element() {
        return None;
    }
    let element = node.tag_name().name();
    match element {
        "text" | "tspan" | "textPath" => {
            return Some(format!("`<{element}>` can't be drawn: turn the text into paths"));
        }
        "image" | "script" | "foreignObject" | "animate" | "set" => {
            return Some(format!("`<{element}>` is not allowed in artwork: take it out"));
        }
        _ => {}
    }
    for attribute in node.attributes() {
        let value = attribute.value();
        if attribute.name() == "href" && !value.starts_with('#') || outside(value) {
            return Some(format!("`{value}` reaches outside the artwork: refer to an id in it, `#name`"));
        }
    }
    match node.text() {
        Some(css) if element == "style" && (css.contains("@import") || outside(css)) => {
            Some("its style sheet reaches outside the artwork: take the `@import` or `url()` out".to_owned())
        }
        Some(_) | None => None,
    }
}

/// Whether a value refers to something that is not an id of the same drawing.
fn outside(value: &str) -> bool {
    value.split("url(").skip(1).any(|rest| {
        let target = rest.trim_start().trim_start_matches(['"', '\'']);
        !target.starts_with('#')
    })
}

fn options() -> usvg::Options<'static> {
    usvg::Options {
        image_href_resolver: usvg::ImageHrefResolver {
            resolve_data: Box::new(|_, _, _| None),
            resolve_string: Box::new(|_, _| None),
        },
        ..usvg::Options::default()
    }
}

fn view_box(document: &Document<'_>) -> Option<Rect> {
    let text = document.root_element().attribute("viewBox")?;
    let numbers: Vec<f32> =
        text.split([' ', ',']).filter(|part| !part.is_empty()).map(|part| part.parse().ok()).collect::<Option<_>>()?;
    match numbers[..] {
        [x, y, w, h] if w > 0.0 && h > 0.0 => Some(Rect::new(x, y, w, h)),
        _ => None,
    }
}

fn slot(node: &Node<'_, '_>) -> Option<(String, Rect)> {
    if node.tag_name().name() != "rect" || node.ancestors().any(|above| above.has_attribute("transform")) {
        return None;
    }
    let number = |name| node.attribute(name).map_or(Some(0.0), |value: &str| value.parse::<f32>().ok());
    let rect = Rect::new(number("x")?, number("y")?, number("width")?, number("height")?);
    Some((node.attribute("id")?.to_owned(), rect)).filter(|_| !rect.is_empty())
}
