//! The scene: what stands where on a frame, before anything is drawn. Both writers read it; neither changes it.

use std::fmt::Write as _;
use std::ops::Range;
use std::sync::Arc;

use super::{Art, Colour, Point, Rect, TextBlock};

/// The outline of a shape: centred on its edge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stroke {
    /// Its colour.
    pub colour: Colour,
    /// Its width in pixels, above zero.
    pub width: f32,
    /// Whether the ends of lines and arcs are half circles; else they end flat at their points.
    pub round: bool,
}

impl Stroke {
    /// A stroke with flat ends.
    pub const fn new(colour: Colour, width: f32) -> Self {
        Self { colour, width, round: false }
    }

    /// The same stroke with round ends.
    pub const fn rounded(self) -> Self {
        Self { round: true, ..self }
    }
}

/// One step of a path, in absolute pixels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Segment {
    /// Starts a new figure.
    Move(Point),
    /// A straight line.
    Line(Point),
    /// A quadratic curve: control point, end.
    Quad(Point, Point),
    /// A cubic curve: two control points, end.
    Cubic(Point, Point, Point),
    /// Closes the figure.
    Close,
}

/// A free shape.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct PathData {
    /// Its steps, the first of them a [`Segment::Move`].
    pub segments: Vec<Segment>,
}

/// One thing in a scene.
#[derive(Debug, Clone)]
pub enum Node {
    /// A rectangle: panels, bars, chips, rules.
    Rect {
        /// Where it is.
        rect: Rect,
        /// Radius of its corners in pixels, at most half of its shorter side.
        radius: f32,
        /// What fills it.
        fill: Option<Colour>,
        /// Its outline.
        stroke: Option<Stroke>,
    },
    /// A straight line.
    Line {
        /// One end.
        from: Point,
        /// The other.
        to: Point,
        /// How it is drawn.
        stroke: Stroke,
    },
    /// A full circle.
    Circle {
        /// Its centre.
        centre: Point,
        /// Its radius in pixels.
        radius: f32,
        /// What fills it.
        fill: Option<Colour>,
        /// Its outline.
        stroke: Option<Stroke>,
    },
    /// A part of a circle's line, clockwise.
    Arc {
        /// The circle's centre.
        centre: Point,
        /// The circle's radius in pixels.
        radius: f32,
        /// Where it starts, in turns clockwise from twelve o'clock.
        start: f32,
        /// How far it goes, in turns, 0 to 1.
        sweep: f32,
        /// How it is drawn.
        stroke: Stroke,
    },
    /// A free shape, filled by the non-zero rule.
    Path {
        /// Its outline.
        path: PathData,
        /// What fills it.
        fill: Option<Colour>,
        /// Its outline.
        stroke: Option<Stroke>,
    },
    /// Text that has been laid out.
    Text {
        /// The text.
        block: Arc<TextBlock>,
        /// Left edge of the block's box.
        x: i32,
        /// Top edge of the block's box.
        y: i32,
    },
    /// Artwork, stretched to a size.
    Art {
        /// The artwork.
        art: Arc<Art>,
        /// Left edge.
        x: i32,
        /// Top edge.
        y: i32,
        /// Width in pixels.
        width: u32,
        /// Height in pixels.
        height: u32,
    },
}

/// What a group of nodes is to who moves it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Role {
    /// One of the things listed, by its place in the list.
    Line(usize),
    /// The mark of that line, which stands before the line comes.
    Mark(usize),
    /// The bar of that line, a rectangle that grows to the right.
    Bar(usize),
    /// A figure of that line that may be counted up to.
    Count(usize),
    /// A time that may run down.
    Timer,
}

/// Nodes that belong together.
#[derive(Debug, Clone)]
pub struct Group {
    /// What they are.
    pub role: Role,
    /// Which nodes. One that is in several groups belongs to the first.
    pub nodes: Range<usize>,
    /// What may stand in their place on the way to them, first things first: a mark not yet lit, smaller figures. Those
    /// of a [`Role::Timer`] come after the nodes.
    pub stages: Vec<Vec<Node>>,
}

/// A frame and what stands on it, first things lowest.
#[derive(Debug, Clone)]
pub struct Scene {
    /// A short name, which starts every id in the SVG: names differ between scenes of one page.
    pub name: String,
    /// What the picture says, for readers who can't see it (the SVG's title); may be empty.
    pub title: String,
    /// Width in pixels.
    pub width: u32,
    /// Height in pixels.
    pub height: u32,
    /// What is drawn, lowest first.
    pub nodes: Vec<Node>,
    /// What of it belongs together; the rest stands there from the start.
    pub groups: Vec<Group>,
}

impl Scene {
    /// An empty, clear frame.
    pub fn new(name: impl Into<String>, width: u32, height: u32) -> Self {
        Self { name: name.into(), title: String::new(), width, height, nodes: Vec::new(), groups: Vec::new() }
    }

    /// Adds a filled rectangle.
    pub fn fill_rect(&mut self, rect: Rect, radius: f32, fill: Colour) {
        self.nodes.push(Node::Rect { rect, radius, fill: Some(fill), stroke: None });
    }

    /// Adds text with the top left corner of its box at (x, y).
    pub fn text(&mut self, block: TextBlock, x: i32, y: i32) {
        self.nodes.push(Node::Text { block: Arc::new(block), x, y });
    }

    /// Adds text so that its first baseline is at y = `baseline`.
    pub fn text_on(&mut self, block: TextBlock, x: i32, baseline: i32) {
        let y = baseline - block.first_baseline();
        self.text(block, x, y);
    }

    /// Adds artwork, stretched to width × height pixels.
    pub fn art(&mut self, art: &Arc<Art>, x: i32, y: i32, width: u32, height: u32) {
        self.nodes.push(Node::Art { art: Arc::clone(art), x, y, width, height });
    }

    /// Every text on it, lowest first, as it reads: without the marks that only hold lines together.
    pub fn texts(&self) -> Vec<String> {
        let plain = |text: &str| text.replace('\u{2060}', "").replace('\u{a0}', " ").replace('\u{2044}', "/");
        let text = |node: &Node| match node {
            Node::Text { block, .. } => Some(plain(block.text())),
            Node::Rect { .. }
            | Node::Line { .. }
            | Node::Circle { .. }
            | Node::Arc { .. }
            | Node::Path { .. }
            | Node::Art { .. } => None,
        };
        self.nodes.iter().filter_map(text).collect()
    }

    /// What its pixels depend on beyond what its SVG says: numbers as they are, which the SVG rounds. Scenes that agree in
    /// both are painted alike by the same program.
    pub fn unrounded(&self) -> String {
        let mut text = String::new();
        for node in &self.nodes {
            let written = match node {
                Node::Rect { .. } | Node::Line { .. } | Node::Circle { .. } | Node::Arc { .. } | Node::Path { .. } => {
                    write!(text, "{node:?}")
                }
                // Letters stand on quarters of pixels, which the SVG writes in full, and artwork on whole ones.
                Node::Text { block, .. } => block.runs().iter().try_for_each(|run| write!(text, "{:?}", run.face)),
                Node::Art { art, .. } => write!(text, "{:?}", art.size()),
            };
            written.expect("a String takes any text");
        }
        text
    }

    /// A rectangle that holds everything drawn, ignoring the frame: what no writer paints beyond.
    pub fn bounds(&self) -> Rect {
        self.nodes.iter().fold(Rect::default(), |all, node| all.union(&node.bounds()))
    }
}

impl Node {
    /// A rectangle that holds all of the node's ink.
    pub fn bounds(&self) -> Rect {
        let grown = |rect: Rect, stroke: &Option<Stroke>| match stroke {
            // Corners of free paths are round, those of rectangles right angles: no mitre reaches further.
            Some(stroke) => rect.inset(-stroke.width / 2.0),
            None => rect,
        };
        match self {
            Self::Rect { rect, stroke, radius: _, fill: _ } => grown(*rect, stroke),
            Self::Line { from, to, stroke } => {
                let line = Rect::from_edges(from.x.min(to.x), from.y.min(to.y), from.x.max(to.x), from.y.max(to.y));
                line.inset(-stroke.width / 2.0)
            }
            Self::Circle { centre, radius, stroke, fill: _ } => grown(around(*centre, *radius), stroke),
            Self::Arc { centre, radius, stroke, start: _, sweep: _ } => {
                around(*centre, *radius).inset(-stroke.width / 2.0)
            }
            Self::Path { path, stroke, fill: _ } => {
                let reach = stroke.as_ref().map_or(0.0, |stroke| stroke.width / 2.0);
                path.bounds().inset(-reach)
            }
            Self::Text { block, x, y } => block.ink().moved(*x as f32, *y as f32),
            Self::Art { x, y, width, height, art: _ } => Rect::new(*x as f32, *y as f32, *width as f32, *height as f32),
        }
    }
}

impl PathData {
    /// A rectangle that holds the path: that of its points and control points.
    pub fn bounds(&self) -> Rect {
        let mut edges = [f32::INFINITY, f32::INFINITY, f32::NEG_INFINITY, f32::NEG_INFINITY];
        let mut take = |p: &Point| {
            edges = [edges[0].min(p.x), edges[1].min(p.y), edges[2].max(p.x), edges[3].max(p.y)];
        };
        for segment in &self.segments {
            match segment {
                Segment::Move(p) | Segment::Line(p) => take(p),
                Segment::Quad(c, p) => [c, p].into_iter().for_each(&mut take),
                Segment::Cubic(c, d, p) => [c, d, p].into_iter().for_each(&mut take),
                Segment::Close => {}
            }
        }
        if edges[0] > edges[2] { Rect::default() } else { Rect::from_edges(edges[0], edges[1], edges[2], edges[3]) }
    }
}

fn around(centre: Point, radius: f32) -> Rect {
    Rect::new(centre.x - radius, centre.y - radius, 2.0 * radius, 2.0 * radius)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::to_svg;

    #[test]
    fn what_the_svg_rounds_is_told_apart() {
        let bar = |width: f32| {
            let mut scene = Scene::new("bar", 100, 100);
            scene.fill_rect(Rect::new(10.0, 10.0, width, 8.0), 0.0, Colour::rgb(1, 2, 3));
            scene
        };
        assert_eq!(to_svg(&bar(50.0001)), to_svg(&bar(50.0002)));
        assert_ne!(bar(50.0001).unrounded(), bar(50.0002).unrounded());
        assert_eq!(bar(50.0001).unrounded(), bar(50.0001).unrounded());
    }
}
