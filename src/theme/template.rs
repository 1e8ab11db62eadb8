//! Plates: artwork that fits any size. Points on one side of its `stretch` rectangle keep their distance from the edge,
//! points within move in proportion; radii and strokes stay as drawn. Must not know what stands on a plate.

use std::sync::Arc;

use svgtypes::{PathParser, PathSegment};
use usvg::roxmltree::{Attribute, Document, Node};

use super::Margins;
use crate::draw::{Art, DrawError, Rect};

/// Artwork with a `stretch` rectangle.
#[derive(Debug)]
pub(super) struct Template {
    source: String,
    art: Arc<Art>,
    size: (f32, f32),
    stretch: Rect,
}

/// A plate at a size.
#[derive(Clone, Debug)]
pub struct Panel {
    /// Its artwork, of that size in pixels.
    pub art: Arc<Art>,
    /// Where content goes, from its top left corner, in pixels.
    pub body: Rect,
    /// Where marks hang, if it has a rail.
    pub rail: Option<Rect>,
}

/// How the plate's units move.
struct Warp {
    stretch: Rect,
    wider: f32,
    taller: f32,
}

impl Warp {
    fn x(&self, x: f64) -> f64 {
        moved(x, self.stretch.x, self.stretch.w, self.wider)
    }

    fn y(&self, y: f64) -> f64 {
        moved(y, self.stretch.y, self.stretch.h, self.taller)
    }

    fn rect(&self, rect: Rect) -> Rect {
        let (x, y) = (|x: f32| self.x(f64::from(x)) as f32, |y: f32| self.y(f64::from(y)) as f32);
        Rect::from_edges(x(rect.x), y(rect.y), x(rect.right()), y(rect.bottom()))
    }
}

fn moved(at: f64, start: f32, length: f32, more: f32) -> f64 {
    let (start, length, more) = (f64::from(start), f64::from(length), f64::from(more));
    at + more * ((at - start) / length).clamp(0.0, 1.0)
}

impl Template {
    /// Takes artwork whose slots have been checked to be there.
    ///
    /// # Errors
    /// [`DrawError::BadArt`] for what can't be fitted: a transform, a unit or a percent in a coordinate.
    pub(super) fn new(name: &str, source: &str, art: &Arc<Art>) -> Result<Self, DrawError> {
        let bad = |reason: &str| DrawError::BadArt { name: name.to_owned(), line: None, reason: reason.to_owned() };
        let (size, view) = (art.size(), art.view());
        let off = [view.x, view.y, view.w - size.0, view.h - size.1];
        if off.iter().any(|off| off.abs() > 0.01) {
            return Err(bad(
                "its `viewBox` doesn't start at 0 0 with its own width and height: draw it in plain units",
            ));
        }
        let whole = |size: f32| size.round() as u32;
        let stretch = art
            .slot("stretch", whole(size.0), whole(size.1))
            .ok_or_else(|| bad("it has no rectangle with the id `stretch`"))?;
        let template = Self { source: source.to_owned(), art: Arc::clone(art), size, stretch };
        // Fitted once to something else, so that what can't be fitted is known before a card asks for it.
        template.fit(whole(size.0) + 8, whole(size.1) + 8, 1.0)?;
        Ok(template)
    }

    pub(super) fn margins(&self) -> Margins {
        let body = self.slot("body").unwrap_or_default();
        let rail = self.slot("rail");
        Margins {
            rail_x: rail.map_or(0.0, |rail| rail.x - body.x),
            rail_width: rail.map_or(0.0, |rail| rail.w),
            left: body.x,
            top: body.y,
            right: self.size.0 - body.right(),
            bottom: self.size.1 - body.bottom(),
            least_width: self.size.0 - self.stretch.w + 1.0,
            least_height: self.size.1 - self.stretch.h + 1.0,
        }
    }

    fn slot(&self, id: &str) -> Option<Rect> {
        self.art.slot(id, self.size.0.round() as u32, self.size.1.round() as u32)
    }

    pub(super) fn fit(&self, width: u32, height: u32, unit: f32) -> Result<Panel, DrawError> {
        let warp = Warp {
            stretch: self.stretch,
            wider: width as f32 / unit - self.size.0,
            taller: height as f32 / unit - self.size.1,
        };
        if self.stretch.w + warp.wider <= 0.0 || self.stretch.h + warp.taller <= 0.0 {
            return Err(DrawError::BadSize { width, height });
        }
        let scaled = |rect: Rect| {
            let rect = warp.rect(rect);
            Rect::new(rect.x * unit, rect.y * unit, rect.w * unit, rect.h * unit)
        };
        let art = Art::refit(self.art.name(), &self.fitted(width, height, unit, &warp)?)?;
        Ok(Panel { art, body: scaled(self.slot("body").unwrap_or_default()), rail: self.slot("rail").map(scaled) })
    }

    /// The artwork's text with every coordinate moved.
    fn fitted(&self, width: u32, height: u32, unit: f32, warp: &Warp) -> Result<String, DrawError> {
        let bad = |reason: String| DrawError::BadArt { name: self.art.name().to_owned(), line: None, reason };
        let document = Document::parse(&self.source).map_err(|e| bad(e.to_string()))?;
        let root = document.root_element();
        // What the whole drawing has of paint stays around it.
        let own = |attribute: &Attribute<'_, '_>| {
            attribute.namespace().is_none() && !matches!(attribute.name(), "width" | "height" | "viewBox")
        };
        let paint: String =
            root.attributes().filter(own).map(|around| format!(" {}", &self.source[around.range()])).collect();
        if root.has_attribute("transform") {
            return Err(bad("`transform` can't be stretched: draw at the place itself".to_owned()));
        }
        let mut edits: Vec<(std::ops::Range<usize>, String)> = Vec::new();
        for node in root.descendants().filter(|node| node.is_element() && *node != root) {
            for attribute in node.attributes() {
                if let Some(text) = moved_attribute(&node, &attribute, warp).map_err(bad)? {
                    edits.push((attribute.range_value(), text));
                }
            }
        }
        edits.sort_by_key(|(range, _)| range.start);
        let (start, end) = match (root.first_child(), root.last_child()) {
            (Some(first), Some(last)) => (first.range().start, last.range().end),
            _ => return Err(bad("it holds no drawing".to_owned())),
        };
        let mut text = format!(
            r#"<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}" viewBox="0 0 {width} {height}"><g transform="scale({unit})"{paint}>"#
        );
        let mut at = start;
        for (range, new) in edits {
            text.push_str(&self.source[at..range.start]);
            text.push_str(&new);
            at = range.end;
        }
        text.push_str(&self.source[at..end]);
        text.push_str("</g></svg>");
        Ok(text)
    }
}

/// The new value of an attribute that holds coordinates; `None` for one that doesn't.
fn moved_attribute(node: &Node<'_, '_>, attribute: &Attribute<'_, '_>, warp: &Warp) -> Result<Option<String>, String> {
    let element = node.tag_name().name();
    let own_space = matches!(element, "linearGradient" | "radialGradient")
        && node.attribute("gradientUnits") != Some("userSpaceOnUse");
    if own_space {
        return Ok(None);
    }
    let number = |name: &str| -> Result<f64, String> {
        let text = node.attribute(name).unwrap_or("0");
        text.parse().map_err(|_| format!("`{name}=\"{text}\"` can't be stretched: use a plain number"))
    };
    let moved = match attribute.name() {
        "transform" | "gradientTransform" => {
            return Err(format!("`{}` can't be stretched: draw at the place itself", attribute.name()));
        }
        "points" => return Err("`points` can't be stretched: use a `<path>`".to_owned()),
        "d" => return moved_path(attribute.value(), warp).map(Some),
        name @ ("x" | "x1" | "x2" | "cx" | "fx") => warp.x(number(name)?),
        name @ ("y" | "y1" | "y2" | "cy" | "fy") => warp.y(number(name)?),
        // A rectangle's far edges move like any other point; a circle's radius doesn't.
        "width" if element == "rect" => warp.x(number("x")? + number("width")?) - warp.x(number("x")?),
        "height" if element == "rect" => warp.y(number("y")? + number("height")?) - warp.y(number("y")?),
        _ => return Ok(None),
    };
    Ok(Some(moved.to_string()))
}

fn moved_path(data: &str, warp: &Warp) -> Result<String, String> {
    let mut text = String::new();
    // Where the pen is and where its figure began, as drawn.
    let (mut pen, mut begin) = ((0.0, 0.0), (0.0, 0.0));
    for segment in PathParser::from(data) {
        let segment = segment.map_err(|e| format!("its path can't be read: {e}"))?;
        let (from, relative) = (pen, is_relative(segment));
        let at = |x: f64, y: f64| if relative { (from.0 + x, from.1 + y) } else { (x, y) };
        let mut put = |command: &str, points: &[(f64, f64)]| {
            text.push_str(command);
            for &(x, y) in points {
                text.push_str(&format!("{} {} ", warp.x(x), warp.y(y)));
            }
        };
        match segment {
            PathSegment::MoveTo { abs: _, x, y } => {
                (pen, begin) = (at(x, y), at(x, y));
                put("M", &[pen]);
            }
            PathSegment::LineTo { abs: _, x, y } => {
                pen = at(x, y);
                put("L", &[pen]);
            }
            PathSegment::HorizontalLineTo { abs: _, x } => {
                pen = (at(x, 0.0).0, from.1);
                put("L", &[pen]);
            }
            PathSegment::VerticalLineTo { abs: _, y } => {
                pen = (from.0, at(0.0, y).1);
                put("L", &[pen]);
            }
            PathSegment::CurveTo { abs: _, x1, y1, x2, y2, x, y } => {
                pen = at(x, y);
                put("C", &[at(x1, y1), at(x2, y2), pen]);
            }
            PathSegment::SmoothCurveTo { abs: _, x2, y2, x, y } => {
                pen = at(x, y);
                put("S", &[at(x2, y2), pen]);
            }
            PathSegment::Quadratic { abs: _, x1, y1, x, y } => {
                pen = at(x, y);
                put("Q", &[at(x1, y1), pen]);
            }
            PathSegment::SmoothQuadratic { abs: _, x, y } => {
                pen = at(x, y);
                put("T", &[pen]);
            }
            PathSegment::EllipticalArc { abs: _, rx, ry, x_axis_rotation, large_arc, sweep, x, y } => {
                pen = at(x, y);
                let flags = (u8::from(large_arc), u8::from(sweep));
                put(&format!("A{rx} {ry} {x_axis_rotation} {} {} ", flags.0, flags.1), &[pen]);
            }
            PathSegment::ClosePath { abs: _ } => {
                pen = begin;
                put("Z", &[]);
            }
        }
    }
    Ok(text)
}

fn is_relative(segment: PathSegment) -> bool {
    !match segment {
        PathSegment::MoveTo { abs, .. }
        | PathSegment::LineTo { abs, .. }
        | PathSegment::HorizontalLineTo { abs, .. }
        | PathSegment::VerticalLineTo { abs, .. }
        | PathSegment::CurveTo { abs, .. }
        | PathSegment::SmoothCurveTo { abs, .. }
        | PathSegment::Quadratic { abs, .. }
        | PathSegment::SmoothQuadratic { abs, .. }
        | PathSegment::EllipticalArc { abs, .. }
        | PathSegment::ClosePath { abs } => abs,
    }
}
