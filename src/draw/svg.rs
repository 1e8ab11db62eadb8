//! The SVG writer: a scene becomes text that any renderer draws alike, letters as outlines.
//!
//! Must write what [`super::paint`] draws. Ids start with the scene's name, so that pictures can share a page.

use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::sync::Arc;

use tiny_skia::{Path, PathSegment};

use super::glyph::{STEPS, SizedFace};
use super::paint::arc_path;
use super::scene::{Node, PathData, Segment};
use super::{Art, Colour, Scene, Stroke, TextBlock};

/// Writes a scene as one SVG document.
pub fn to_svg(scene: &Scene) -> String {
    to_stamped_svg(scene, "")
}

/// Writes a scene as one SVG document with a text for machines in its `<metadata>`, unless it is empty.
pub fn to_stamped_svg(scene: &Scene, metadata: &str) -> String {
    let mut writer = Writer { prefix: prefix(&scene.name), ..Writer::default() };
    for node in &scene.nodes {
        writer.node(node);
    }
    let (w, h) = (scene.width, scene.height);
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" width=\"{w}\" height=\"{h}\" viewBox=\"0 0 {w} {h}\" role=\"img\">\n"
    );
    if !scene.title.is_empty() {
        svg.push_str("<title>");
        escape(&mut svg, &scene.title);
        svg.push_str("</title>\n");
    }
    if !metadata.is_empty() {
        svg.push_str("<metadata>");
        escape(&mut svg, metadata);
        svg.push_str("</metadata>\n");
    }
    if !writer.defs.is_empty() {
        svg.push_str("<defs>\n");
        svg.push_str(&writer.defs);
        svg.push_str("</defs>\n");
    }
    svg.push_str(&writer.body);
    svg.push_str("</svg>\n");
    svg
}

/// The text for machines of an SVG document that [`to_stamped_svg`] wrote.
pub fn svg_metadata(svg: &str) -> Option<String> {
    let (before, after) = svg.split_once("<metadata>")?;
    let text = after.split_once("</metadata>")?.0;
    before.contains("<svg").then(|| text.replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&"))
}

#[derive(Default)]
struct Writer {
    prefix: String,
    defs: String,
    body: String,
    /// Faces by first use: the address tells them apart, the number names them.
    faces: Vec<Arc<SizedFace>>,
    /// Those of each face that are defined.
    glyphs: BTreeSet<(usize, u32)>,
    art: usize,
}

impl Writer {
    fn node(&mut self, node: &Node) {
        match node {
            Node::Rect { rect, radius, fill, stroke } => {
                let r = radius.min(rect.w / 2.0).min(rect.h / 2.0);
                self.body.push_str("<rect");
                self.numbers(&[("x", rect.x), ("y", rect.y), ("width", rect.w), ("height", rect.h)]);
                if r > 0.0 {
                    self.numbers(&[("rx", r)]);
                }
                self.close(*fill, *stroke, false);
            }
            Node::Line { from, to, stroke } => {
                self.body.push_str("<line");
                self.numbers(&[("x1", from.x), ("y1", from.y), ("x2", to.x), ("y2", to.y)]);
                self.close(None, Some(*stroke), true);
            }
            Node::Circle { centre, radius, fill, stroke } => {
                self.body.push_str("<circle");
                self.numbers(&[("cx", centre.x), ("cy", centre.y), ("r", *radius)]);
                self.close(*fill, *stroke, true);
            }
            Node::Arc { centre, radius, start, sweep, stroke } => {
                self.path(&arc_path(*centre, *radius, *start, *sweep));
                self.close(None, Some(*stroke), true);
            }
            Node::Path { path, fill, stroke } => {
                self.path(path);
                self.close(*fill, *stroke, true);
            }
            Node::Text { block, x, y } => self.text(block, *x, *y),
            Node::Art { art, x, y, width, height } => self.art(art, [*x, *y], [*width, *height]),
        }
    }

    fn numbers(&mut self, attributes: &[(&str, f32)]) {
        for (name, value) in attributes {
            attribute(&mut self.body, name, *value);
        }
    }

    /// Ends an element with how it is filled and stroked.
    fn close(&mut self, fill: Option<Colour>, stroke: Option<Stroke>, round_joins: bool) {
        paint(&mut self.body, "fill", fill);
        if let Some(stroke) = stroke {
            paint(&mut self.body, "stroke", Some(stroke.colour));
            self.numbers(&[("stroke-width", stroke.width)]);
            if stroke.round {
                self.body.push_str(" stroke-linecap=\"round\"");
            }
            if round_joins {
                self.body.push_str(" stroke-linejoin=\"round\"");
            }
        }
        self.body.push_str("/>\n");
    }

    fn path(&mut self, path: &PathData) {
        self.body.push_str("<path d=\"");
        for segment in &path.segments {
            match segment {
                Segment::Move(p) => step(&mut self.body, 'M', &[p.x, p.y]),
                Segment::Line(p) => step(&mut self.body, 'L', &[p.x, p.y]),
                Segment::Quad(c, p) => step(&mut self.body, 'Q', &[c.x, c.y, p.x, p.y]),
                Segment::Cubic(c, d, p) => step(&mut self.body, 'C', &[c.x, c.y, d.x, d.y, p.x, p.y]),
                Segment::Close => step(&mut self.body, 'Z', &[]),
            }
        }
        self.body.push('"');
    }

    fn text(&mut self, block: &TextBlock, x: i32, y: i32) {
        for run in block.runs() {
            self.body.push_str("<g");
            paint(&mut self.body, "fill", Some(run.colour));
            self.body.push_str(">\n");
            for glyph in &run.glyphs {
                let face = self.glyph(&run.face, glyph.id);
                let steps = STEPS as f32;
                let (gx, gy) = ((x * STEPS + glyph.x) as f32 / steps, (y * STEPS + glyph.y) as f32 / steps);
                self.body.push_str("<use xlink:href=\"#");
                glyph_id(&mut self.body, &self.prefix, (face, glyph.id));
                self.body.push('"');
                self.numbers(&[("x", gx), ("y", gy)]);
                self.body.push_str("/>\n");
            }
            self.body.push_str("</g>\n");
        }
    }

    /// The number of a glyph's face; the glyph is defined at its first use.
    fn glyph(&mut self, face: &Arc<SizedFace>, glyph: u32) -> usize {
        let known = self.faces.iter().position(|known| Arc::ptr_eq(known, face));
        let number_of_face = known.unwrap_or_else(|| {
            self.faces.push(Arc::clone(face));
            self.faces.len() - 1
        });
        if self.glyphs.insert((number_of_face, glyph)) {
            self.defs.push_str("<path id=\"");
            glyph_id(&mut self.defs, &self.prefix, (number_of_face, glyph));
            self.defs.push_str("\" d=\"");
            let outline = face.outline(glyph);
            self.defs.push_str(outline.written.get_or_init(|| written(outline.path.as_ref())));
            self.defs.push_str("\"/>\n");
        }
        number_of_face
    }

    fn art(&mut self, art: &Art, at: [i32; 2], size: [u32; 2]) {
        self.art += 1;
        let resolved = art.resolved(&format!("{}-a{}-", self.prefix, self.art));
        let inner = resolved.find('>').map_or("", |end| &resolved[end + 1..]);
        let (own_width, own_height) = art.size();
        let _ = write!(
            self.body,
            "<svg x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" viewBox=\"0 0",
            at[0], at[1], size[0], size[1],
        );
        for side in [own_width, own_height] {
            self.body.push(' ');
            number(&mut self.body, side);
        }
        self.body.push_str("\" preserveAspectRatio=\"none\">");
        self.body.push_str(inner);
        self.body.push('\n');
    }
}

/// An id for a glyph of a face.
fn glyph_id(out: &mut String, prefix: &str, (face, glyph): (usize, u32)) {
    out.push_str(prefix);
    out.push_str("-f");
    whole(out, face as u64);
    out.push('g');
    whole(out, u64::from(glyph));
}

/// A glyph's outline.
fn written(path: Option<&Path>) -> String {
    let mut out = String::new();
    for segment in path.iter().flat_map(|path| path.segments()) {
        match segment {
            PathSegment::MoveTo(p) => step(&mut out, 'M', &[p.x, p.y]),
            PathSegment::LineTo(p) => step(&mut out, 'L', &[p.x, p.y]),
            PathSegment::QuadTo(c, p) => step(&mut out, 'Q', &[c.x, c.y, p.x, p.y]),
            PathSegment::CubicTo(c, d, p) => step(&mut out, 'C', &[c.x, c.y, d.x, d.y, p.x, p.y]),
            PathSegment::Close => step(&mut out, 'Z', &[]),
        }
    }
    out
}

fn paint(out: &mut String, name: &str, colour: Option<Colour>) {
    let Some(colour) = colour else {
        let _ = write!(out, " {name}=\"none\"");
        return;
    };
    let _ = write!(out, " {name}=\"{}\"", colour.with_alpha(255));
    if colour.a != 255 {
        attribute(out, &format!("{name}-opacity"), f32::from(colour.a) / 255.0);
    }
}

fn attribute(out: &mut String, name: &str, value: f32) {
    out.push(' ');
    out.push_str(name);
    out.push_str("=\"");
    number(out, value);
    out.push('"');
}

fn step(out: &mut String, letter: char, numbers: &[f32]) {
    out.push(letter);
    for (index, value) in numbers.iter().enumerate() {
        if index > 0 {
            out.push(' ');
        }
        number(out, *value);
    }
}

/// A number to the nearest thousandth, without idle zeros.
fn number(out: &mut String, value: f32) {
    // A float of 24 bits times a thousand is exact in one of 53.
    let thousandths = (f64::from(value) * 1000.0).round_ties_even();
    let size = thousandths.abs() as u64;
    if thousandths < 0.0 {
        out.push('-');
    }
    whole(out, size / 1000);
    let mut rest = size % 1000;
    if rest > 0 {
        out.push('.');
    }
    for place in [100, 10, 1] {
        if rest > 0 {
            out.push(char::from(b'0' + (rest / place) as u8));
            rest %= place;
        }
    }
}

/// A whole number; most here have few digits.
fn whole(out: &mut String, value: u64) {
    if value >= 10 {
        whole(out, value / 10);
    }
    out.push(char::from(b'0' + (value % 10) as u8));
}

/// A name made fit for ids: letters, digits and dashes, a letter first.
fn prefix(name: &str) -> String {
    let plain = name.chars().map(|c| if c.is_ascii_alphanumeric() { c } else { '-' });
    let text: String = plain.collect();
    if text.starts_with(|c: char| c.is_ascii_alphabetic()) { text } else { format!("s{text}") }
}

fn escape(out: &mut String, text: &str) {
    for ch in text.chars() {
        match ch {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            // Control characters have no place in XML.
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::number;
    use proptest::prelude::*;

    proptest! {
        /// The standard library's own decimals are the judge, ties included.
        #[test]
        fn numbers_are_what_the_standard_library_writes(value in -2e6_f32..2e6, eighths in -80_000_i32..80_000) {
            for value in [value, value / 1e6, eighths as f32 / 16.0, eighths as f32 / 2000.0] {
                let text = format!("{value:.3}");
                let text = text.trim_end_matches('0').trim_end_matches('.');
                let mut ours = String::new();
                number(&mut ours, value);
                prop_assert_eq!(ours, if text == "-0" { "0" } else { text });
            }
        }
    }
}
