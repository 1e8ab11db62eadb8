//! Artwork: a drawing in SVG, checked to stand alone.
//!
//! Owns what artwork may contain and how it is painted. Must not know which theme it belongs to.

use std::collections::HashMap;
use std::fmt;
use std::sync::Arc;

use tiny_skia::{PixmapMut, Transform};
use usvg::roxmltree::{Document, Node};

use super::{DrawError, Rect, budget};

/// The least and the longest side of artwork, in its own units: no picture is larger, and nothing stretches without end.
const LEAST_SIDE: f32 = 0.1;
const MOST_SIDE: f32 = 16_384.0;

/// A drawing in SVG. It holds no text, pictures or scripts and refers to nothing outside itself.
pub struct Art {
    name: String,
    tree: usvg::Tree,
    view: Rect,
    stretches: bool,
    slots: HashMap<String, Rect>,
}

impl Art {
    /// Reads artwork; `name` is for messages.
    ///
    /// # Errors
    /// [`DrawError::BadArt`] if it is no SVG, or holds `<text>`, `<image>`, `<script>`, `<foreignObject>`, `<filter>` or
    /// `<marker>`, or refers to anything but its own ids, or reaches beyond its view box, or is smaller or larger than any
    /// picture, or would take too long to paint.
    pub fn parse(name: &str, svg: &str) -> Result<Arc<Self>, DrawError> {
        Self::read(name, svg, true)
    }

    /// Reads what was made of artwork that was read before and is only stretched: its numbers are written longer.
    ///
    /// # Errors
    /// As for [`Art::parse`], but for what it may cost.
    pub fn refit(name: &str, svg: &str) -> Result<Arc<Self>, DrawError> {
        Self::read(name, svg, false)
    }

    fn read(name: &str, svg: &str, bounded: bool) -> Result<Arc<Self>, DrawError> {
        let bad = |line, reason: String| DrawError::BadArt { name: name.to_owned(), line, reason };
        // Without document types there are no entities that could reach outside or grow without end.
        let document = Document::parse(svg).map_err(|e| bad(Some(e.pos().row), not_svg(&e)))?;
        let line = |node: &Node<'_, '_>| Some(document.text_pos_at(node.range().start).row);
        for node in document.descendants() {
            if let Some(reason) = fault(&node) {
                return Err(bad(line(&node), reason));
            }
        }
        if bounded {
            budget::weigh(&document).map_err(|refusal| bad(line(&refusal.node), refusal.reason))?;
        }
        let tree = usvg::Tree::from_xmltree(&document, &options()).map_err(|e| bad(None, e.to_string()))?;
        if let Some(reason) = budget::dear(&tree).filter(|_| bounded) {
            return Err(bad(None, reason));
        }
        let sides = [tree.size().width(), tree.size().height()];
        if sides.iter().any(|side| !(LEAST_SIDE..=MOST_SIDE).contains(side)) {
            let [width, height] = sides;
            return Err(bad(
                None,
                format!("it is {width} by {height} units: draw it from {LEAST_SIDE} to {MOST_SIDE} units a side"),
            ));
        }
        if let Some(side) = overflow(&tree) {
            return Err(bad(
                None,
                format!("it reaches beyond the {side} of its view box: widen the box or move it inside"),
            ));
        }
        let view = view_box(&document).unwrap_or(Rect::new(0.0, 0.0, tree.size().width(), tree.size().height()));
        let stretches =
            document.root_element().attribute("preserveAspectRatio").is_some_and(|way| way.trim() == "none");
        let slots = document.descendants().filter_map(|node| slot(&node)).collect();
        Ok(Arc::new(Self { name: name.to_owned(), tree, view, stretches, slots }))
    }

    /// What the caller named it.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Its own width and height, in its own units.
    pub fn size(&self) -> (f32, f32) {
        (self.tree.size().width(), self.tree.size().height())
    }

    /// Its view box, in its own units.
    pub fn view(&self) -> Rect {
        self.view
    }

    /// Where it stands in a room: in the middle, as large as it fits in its own proportions, or in all of it if its
    /// root says `preserveAspectRatio="none"`.
    pub fn within(&self, room: Rect) -> Rect {
        if self.stretches {
            return room;
        }
        let (width, height) = self.size();
        let scale = (room.w / width).min(room.h / height);
        let (w, h) = ((width * scale).round(), (height * scale).round());
        Rect::new(room.x + (room.w - w) / 2.0, room.y + (room.h - h) / 2.0, w, h)
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

    /// Paints it onto premultiplied pixels, stretched to width × height pixels with its top left corner at (x, y).
    pub(super) fn paint(&self, onto: &mut PixmapMut<'_>, (x, y): (i32, i32), width: u32, height: u32) {
        let (own_width, own_height) = self.size();
        let stretch = Transform::from_scale(width as f32 / own_width, height as f32 / own_height);
        resvg::render(&self.tree, stretch.post_translate(x as f32, y as f32), onto);
    }
}

impl fmt::Debug for Art {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Art").field("name", &self.name).finish_non_exhaustive()
    }
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
        "marker" => return Some("`<marker>` would be drawn at every point of a line: draw it as paths".to_owned()),
        _ => {}
    }
    if element == "filter" {
        let reason = "`<filter>` would be worked out anew for every card: paint shadows and glows as gradients";
        return Some(reason.to_owned());
    }
    for attribute in node.attributes() {
        let value = attribute.value();
        if attribute.name() == "href" && !value.starts_with('#') || outside(value) {
            return Some(format!("`{value}` reaches outside the artwork: refer to an id in it, `#name`"));
        }
        if attribute.name() == "style" && value.contains('\\') {
            return Some(format!("`{value}` spells something with a backslash: write it plainly"));
        }
    }
    let reaches = |css: &str| {
        let css = css.to_ascii_lowercase();
        // A backslash can spell any word in other letters.
        css.contains("@import") || css.contains("url(") || css.contains('\\')
    };
    if element == "style" && node.descendants().filter_map(|text| text.text()).any(reaches) {
        return Some("its style sheet refers to something: take `@import`, `url()` and `\\` out of it".to_owned());
    }
    None
}

/// What is wrong with what is no SVG, in words that say what to do.
fn not_svg(error: &usvg::roxmltree::Error) -> String {
    match error {
        usvg::roxmltree::Error::DtdDetected => {
            "it has a document type, which may hold entities: take `<!DOCTYPE …>` out".to_owned()
        }
        other => other.to_string(),
    }
}

/// The side on which a drawing has ink outside its own box, if there is one: it is painted onto the card unclipped.
fn overflow(tree: &usvg::Tree) -> Option<&'static str> {
    /// Curves' boxes are found in steps; too little to be painted at any size.
    const SLACK: f32 = 0.005;
    let (ink, size) = (tree.root().abs_layer_bounding_box(), tree.size());
    let sides = [
        ("left", -ink.left()),
        ("top", -ink.top()),
        ("right", ink.right() - size.width()),
        ("bottom", ink.bottom() - size.height()),
    ];
    sides.into_iter().find(|(_, beyond)| *beyond > SLACK).map(|(side, _)| side)
}

/// Whether a value refers to something that is not an id of the same drawing.
fn outside(value: &str) -> bool {
    value.to_ascii_lowercase().split("url(").skip(1).any(|rest| {
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
        [x, y, w, h] if w > 0.0 && h > 0.0 && numbers.iter().all(|n| n.is_finite()) => Some(Rect::new(x, y, w, h)),
        _ => None,
    }
}

fn slot(node: &Node<'_, '_>) -> Option<(String, Rect)> {
    if node.tag_name().name() != "rect" || node.ancestors().any(|above| above.has_attribute("transform")) {
        return None;
    }
    let number = |name| {
        node.attribute(name).map_or(Some(0.0), |value: &str| value.parse::<f32>().ok().filter(|n| n.is_finite()))
    };
    let rect = Rect::new(number("x")?, number("y")?, number("width")?, number("height")?);
    Some((node.attribute("id")?.to_owned(), rect)).filter(|_| !rect.is_empty())
}
