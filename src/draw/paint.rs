//! The pixel writer: a scene becomes RGBA pixels, in the box that it paints and nowhere else.
//!
//! Must draw what [`super::svg`] writes. Artwork is painted by resvg, glyphs from their faces' masks, shapes from
//! tiny-skia.

use tiny_skia::{FillRule, LineCap, LineJoin, Paint, Path, PathBuilder, PixmapMut, Transform};

use super::composite::{blend, thinned};
use super::glyph::{GlyphMask, STEPS};
use super::raster::{MAX_SIDE, PixelBox};
use super::scene::{Node, PathData, Segment};
use super::{Art, Colour, DrawError, Point, Raster, Rect, Scene, Stroke, TextBlock};

/// Paints a scene. The raster takes the scene's size and keeps its buffer from picture to picture.
///
/// # Errors
/// [`DrawError::BadSize`] for an impossible frame or artwork size.
pub fn to_pixels(scene: &Scene, raster: &mut Raster) -> Result<(), DrawError> {
    raster.clear(scene.width, scene.height)?;
    paint_nodes(&scene.nodes, raster)?;
    raster.straighten();
    Ok(())
}

/// Paints nodes on a raster of the frame's size, premultiplied, over what is painted there; all of that is then the
/// raster's painted box.
pub(super) fn paint_nodes<'n>(
    nodes: impl IntoIterator<Item = &'n Node, IntoIter: Clone>,
    raster: &mut Raster,
) -> Result<PixelBox, DrawError> {
    let nodes = nodes.into_iter();
    let bounds = nodes.clone().fold(Rect::default(), |all, node| all.union(&node.bounds()));
    let painted = raster.painted().union(&raster.clip(&bounds));
    let (width, height) = (raster.width() as usize, raster.height() as usize);
    let mut canvas = Canvas { width, height, pixels: raster.open(painted) };
    for node in nodes {
        match node {
            Node::Rect { rect, radius, fill, stroke } => canvas.rect(rect, *radius, *fill, *stroke),
            Node::Text { block, x, y } => canvas.text(block, *x, *y),
            Node::Art { art, x, y, width, height } => canvas.art(art, (*x, *y), *width, *height)?,
            Node::Line { from, to, stroke } => {
                let mut path = PathBuilder::new();
                path.move_to(from.x, from.y);
                path.line_to(to.x, to.y);
                canvas.shape(path.finish(), None, Some(*stroke));
            }
            Node::Circle { centre, radius, fill, stroke } => {
                canvas.shape(PathBuilder::from_circle(centre.x, centre.y, *radius), *fill, *stroke);
            }
            Node::Arc { centre, radius, start, sweep, stroke } => {
                canvas.shape(skia_path(&arc_path(*centre, *radius, *start, *sweep)), None, Some(*stroke));
            }
            Node::Path { path, fill, stroke } => canvas.shape(skia_path(path), *fill, *stroke),
        }
    }
    Ok(painted)
}

/// A frame's premultiplied pixels.
struct Canvas<'a> {
    width: usize,
    height: usize,
    pixels: &'a mut [u8],
}

impl Canvas<'_> {
    fn rect(&mut self, rect: &Rect, radius: f32, fill: Option<Colour>, stroke: Option<Stroke>) {
        if let (Some(colour), None) = (fill, stroke)
            && radius <= 0.0
            && *rect == rect.rounded_out()
        {
            return self.fill_whole_pixels(rect, colour);
        }
        self.outline(rounded_rect(rect, radius), fill, stroke, LineJoin::Miter);
    }

    fn shape(&mut self, path: Option<Path>, fill: Option<Colour>, stroke: Option<Stroke>) {
        self.outline(path, fill, stroke, LineJoin::Round);
    }

    fn outline(&mut self, path: Option<Path>, fill: Option<Colour>, stroke: Option<Stroke>, join: LineJoin) {
        let Some(path) = path else { return };
        let Some(mut pixmap) = self.pixmap() else { return };
        let at = Transform::identity();
        if let Some(colour) = fill {
            pixmap.fill_path(&path, &paint(colour), FillRule::Winding, at, None);
        }
        if let Some(stroke) = stroke {
            let line = tiny_skia::Stroke {
                width: stroke.width,
                line_cap: if stroke.round { LineCap::Round } else { LineCap::Butt },
                line_join: join,
                ..tiny_skia::Stroke::default()
            };
            pixmap.stroke_path(&path, &paint(stroke.colour), &line, at, None);
        }
    }

    fn pixmap(&mut self) -> Option<PixmapMut<'_>> {
        PixmapMut::from_bytes(self.pixels, self.width as u32, self.height as u32)
    }

    fn fill_whole_pixels(&mut self, rect: &Rect, colour: Colour) {
        let ink = colour.premultiplied();
        let clipped = self.clip(rect);
        for y in clipped.top..clipped.bottom {
            let row = &mut self.pixels[(y * self.width + clipped.left) * 4..(y * self.width + clipped.right) * 4];
            for pixel in row.as_chunks_mut::<4>().0 {
                if colour.a == 255 {
                    *pixel = ink;
                } else {
                    blend(pixel, &ink);
                }
            }
        }
    }

    fn clip(&self, rect: &Rect) -> PixelBox {
        let within = |v: f32, end: usize| v.clamp(0.0, end as f32) as usize;
        PixelBox {
            left: within(rect.x, self.width),
            top: within(rect.y, self.height),
            right: within(rect.right(), self.width),
            bottom: within(rect.bottom(), self.height),
        }
    }

    fn text(&mut self, block: &TextBlock, x: i32, y: i32) {
        for run in block.runs() {
            let ink = run.colour.premultiplied();
            for glyph in &run.glyphs {
                let (across, down) = (glyph.x.rem_euclid(STEPS) as u8, glyph.y.rem_euclid(STEPS) as u8);
                let mask = run.face.mask(glyph.id, across, down);
                let left = x + glyph.x.div_euclid(STEPS) + mask.left;
                let top = y + glyph.y.div_euclid(STEPS) + mask.top;
                self.glyph(&mask, left, top, ink);
            }
        }
    }

    fn glyph(&mut self, mask: &GlyphMask, left: i32, top: i32, ink: [u8; 4]) {
        if mask.width == 0 {
            return;
        }
        for (row, coverage) in mask.coverage.chunks_exact(mask.width).enumerate() {
            let Some((line, skipped)) = self.row_at(left, top + row as i32, mask.width) else { continue };
            for (pixel, &covered) in line.as_chunks_mut::<4>().0.iter_mut().zip(&coverage[skipped..]) {
                if covered == 255 && ink[3] == 255 {
                    *pixel = ink;
                } else if covered != 0 {
                    blend(pixel, &thinned(ink, covered));
                }
            }
        }
    }

    fn art(&mut self, art: &Art, at: (i32, i32), width: u32, height: u32) -> Result<(), DrawError> {
        if !(1..=MAX_SIDE).contains(&width) || !(1..=MAX_SIDE).contains(&height) {
            return Err(DrawError::BadSize { width, height });
        }
        if let Some(mut pixmap) = self.pixmap() {
            art.paint(&mut pixmap, at, width, height);
        }
        Ok(())
    }

    /// The part of a row of `width` pixels that lies in the frame, and how many of its pixels lie left of the frame.
    fn row_at(&mut self, left: i32, y: i32, width: usize) -> Option<(&mut [u8], usize)> {
        let y = usize::try_from(y).ok().filter(|&y| y < self.height)?;
        let end = usize::try_from(left + width as i32).ok()?.min(self.width);
        let start = left.max(0) as usize;
        let skipped = left.min(0).unsigned_abs() as usize;
        (start < end).then(|| (&mut self.pixels[(y * self.width + start) * 4..(y * self.width + end) * 4], skipped))
    }
}

fn paint(colour: Colour) -> Paint<'static> {
    let mut paint = Paint::default();
    paint.set_color_rgba8(colour.r, colour.g, colour.b, colour.a);
    paint.anti_alias = true;
    paint
}

/// How far a cubic's control points stand from a quarter circle's ends, as a part of its radius.
const KAPPA: f32 = 0.552_284_8;

fn rounded_rect(rect: &Rect, radius: f32) -> Option<Path> {
    let r = radius.min(rect.w / 2.0).min(rect.h / 2.0);
    if r <= 0.0 {
        return tiny_skia::Rect::from_xywh(rect.x, rect.y, rect.w, rect.h).map(PathBuilder::from_rect);
    }
    let (left, top, right, bottom) = (rect.x, rect.y, rect.right(), rect.bottom());
    let k = r * (1.0 - KAPPA);
    let mut path = PathBuilder::new();
    path.move_to(left + r, top);
    path.line_to(right - r, top);
    path.cubic_to(right - k, top, right, top + k, right, top + r);
    path.line_to(right, bottom - r);
    path.cubic_to(right, bottom - k, right - k, bottom, right - r, bottom);
    path.line_to(left + r, bottom);
    path.cubic_to(left + k, bottom, left, bottom - k, left, bottom - r);
    path.line_to(left, top + r);
    path.cubic_to(left, top + k, left + k, top, left + r, top);
    path.close();
    path.finish()
}

fn skia_path(data: &PathData) -> Option<Path> {
    let mut path = PathBuilder::new();
    for segment in &data.segments {
        match segment {
            Segment::Move(p) => path.move_to(p.x, p.y),
            Segment::Line(p) => path.line_to(p.x, p.y),
            Segment::Quad(c, p) => path.quad_to(c.x, c.y, p.x, p.y),
            Segment::Cubic(c, d, p) => path.cubic_to(c.x, c.y, d.x, d.y, p.x, p.y),
            Segment::Close => path.close(),
        }
    }
    path.finish()
}

/// A part of a circle as cubics, at most an eighth of a turn each (there they are off by less than a hundredth of a
/// pixel on any frame).
pub(super) fn arc_path(centre: Point, radius: f32, start: f32, sweep: f32) -> PathData {
    let sweep = sweep.clamp(0.0, 1.0);
    let pieces = (sweep * 8.0).ceil().max(1.0) as usize;
    let turn = std::f32::consts::TAU;
    let step = sweep * turn / pieces as f32;
    let reach = radius * (4.0 / 3.0) * (step / 4.0).tan();
    let on = |angle: f32| Point::new(centre.x + radius * angle.sin(), centre.y - radius * angle.cos());
    let along = |angle: f32, by: f32| {
        let p = on(angle);
        Point::new(p.x + by * angle.cos(), p.y + by * angle.sin())
    };
    let mut segments = vec![Segment::Move(on(start * turn))];
    for piece in 0..pieces {
        let (from, to) = (start * turn + step * piece as f32, start * turn + step * (piece + 1) as f32);
        segments.push(Segment::Cubic(along(from, reach), along(to, -reach), on(to)));
    }
    PathData { segments }
}
