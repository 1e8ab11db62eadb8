//! A pile: what stands on a plate's body, in pixels from the body's top left corner; and how a plate is put on a frame.
//! Must not know what the pieces say.

use std::sync::Arc;

use super::desk::{Desk, Set};
use crate::draw::{Art, Colour, DrawError, Group, Node, Point, Rect, Role, Scene, Segment, Stroke};
use crate::theme::Plate;

/// Placed pieces and the room they take.
#[derive(Clone, Debug, Default)]
pub(super) struct Pile {
    nodes: Vec<Node>,
    groups: Vec<Group>,
    pub(super) width: f32,
    pub(super) height: f32,
}

impl Pile {
    pub(super) fn new() -> Self {
        Self::default()
    }

    /// Text with the top of its first line's capitals at `y`; counted in the pile's size.
    pub(super) fn text(&mut self, set: &Set, x: f32, y: f32) {
        self.hang(set, x, y);
        self.width = self.width.max(x + set.width);
        self.height = self.height.max(y + set.height);
    }

    /// The same, its box starting at `x` whatever its alignment; counted in height only.
    pub(super) fn hang(&mut self, set: &Set, x: f32, y: f32) {
        if set.block.text().is_empty() {
            return;
        }
        let baseline = (y + set.cap).round() as i32;
        let top = baseline - set.block.first_baseline();
        self.nodes.push(Node::Text { block: Arc::clone(&set.block), x: x.round() as i32, y: top });
        self.height = self.height.max(y + set.height);
    }

    /// Text that ends at `right`.
    pub(super) fn text_to(&mut self, set: &Set, right: f32, y: f32) {
        self.text(set, (right - set.width).floor(), y);
    }

    /// A pile of one text that ends at `right`.
    pub(super) fn of_text_to(set: &Set, right: f32, y: f32) -> Self {
        let mut pile = Self::new();
        pile.text_to(set, right, y);
        pile
    }

    /// A pile of one text at the left.
    pub(super) fn of_text(set: &Set, y: f32) -> Self {
        let mut pile = Self::new();
        pile.text(set, 0.0, y);
        pile
    }

    pub(super) fn rect(&mut self, rect: Rect, radius: f32, fill: Colour) {
        let whole = Rect::from_edges(rect.x.round(), rect.y.round(), rect.right().round(), rect.bottom().round());
        let radius = radius.min(whole.w / 2.0).min(whole.h / 2.0);
        self.nodes.push(Node::Rect { rect: whole, radius, fill: Some(fill), stroke: None });
    }

    /// A line from left to right.
    pub(super) fn strike(&mut self, from: f32, to: f32, y: f32, colour: Colour, width: f32) {
        let (from, to) = (Point::new(from, y), Point::new(to, y));
        self.nodes.push(Node::Line { from, to, stroke: Stroke::new(colour, width) });
    }

    /// Artwork fitted into a box: as large as its shape allows, in the middle.
    pub(super) fn drawing(&mut self, art: &Arc<Art>, room: Rect) {
        self.art(art, art.within(room));
    }

    /// Artwork stretched to a box.
    pub(super) fn art(&mut self, art: &Arc<Art>, rect: Rect) {
        let (width, height) = (rect.w.round() as u32, rect.h.round() as u32);
        if width > 0 && height > 0 {
            let (x, y) = (rect.x.round() as i32, rect.y.round() as i32);
            self.nodes.push(Node::Art { art: Arc::clone(art), x, y, width, height });
        }
    }

    /// Another pile on this one, its corner at (x, y).
    pub(super) fn add(&mut self, other: &Self, x: f32, y: f32) {
        let (x, y) = (x.round(), y.round());
        put(&mut self.nodes, &mut self.groups, other, x, y);
        self.width = self.width.max(x + other.width);
        self.height = self.height.max(y + other.height);
    }

    /// How many pieces there are: where the next one's place is.
    pub(super) fn mark(&self) -> usize {
        self.nodes.len()
    }

    /// Says that all pieces since `from` belong together; those that are in a group already stay in it. `stages` are piles
    /// of what may stand in their place.
    pub(super) fn group(&mut self, role: Role, from: usize, stages: Vec<Self>) {
        if from < self.nodes.len() {
            let stages = stages.into_iter().map(|pile| pile.nodes).collect();
            self.groups.push(Group { role, nodes: from..self.nodes.len(), stages });
        }
    }

    /// Another pile below this one.
    pub(super) fn below(&mut self, other: &Self, gap: f32) {
        let y = if self.height > 0.0 { self.height + gap } else { 0.0 };
        self.add(other, 0.0, y);
    }
}

/// Adds a pile's pieces and groups to others, moved.
fn put(nodes: &mut Vec<Node>, groups: &mut Vec<Group>, pile: &Pile, x: f32, y: f32) {
    let first = nodes.len();
    nodes.extend(pile.nodes.iter().map(|node| moved(node, x, y)));
    groups.extend(pile.groups.iter().map(|group| Group {
        role: group.role,
        nodes: group.nodes.start + first..group.nodes.end + first,
        stages: group.stages.iter().map(|stage| stage.iter().map(|node| moved(node, x, y)).collect()).collect(),
    }));
}

fn moved(node: &Node, dx: f32, dy: f32) -> Node {
    let (ix, iy) = (dx as i32, dy as i32);
    let point = |p: Point| Point::new(p.x + dx, p.y + dy);
    match node.clone() {
        Node::Rect { rect, radius, fill, stroke } => Node::Rect { rect: rect.moved(dx, dy), radius, fill, stroke },
        Node::Line { from, to, stroke } => Node::Line { from: point(from), to: point(to), stroke },
        Node::Circle { centre, radius, fill, stroke } => Node::Circle { centre: point(centre), radius, fill, stroke },
        Node::Arc { centre, radius, start, sweep, stroke } => {
            Node::Arc { centre: point(centre), radius, start, sweep, stroke }
        }
        Node::Path { mut path, fill, stroke } => {
            for segment in &mut path.segments {
                *segment = match *segment {
                    Segment::Move(p) => Segment::Move(point(p)),
                    Segment::Line(p) => Segment::Line(point(p)),
                    Segment::Quad(c, p) => Segment::Quad(point(c), point(p)),
                    Segment::Cubic(c, d, p) => Segment::Cubic(point(c), point(d), point(p)),
                    Segment::Close => Segment::Close,
                };
            }
            Node::Path { path, fill, stroke }
        }
        Node::Text { block, x, y } => Node::Text { block, x: x + ix, y: y + iy },
        Node::Art { art, x, y, width, height } => Node::Art { art, x: x + ix, y: y + iy, width, height },
    }
}

/// The size of a plate around a body of that size, in whole pixels.
pub(super) fn plate_size(desk: &Desk<'_>, plate: Plate, body: (f32, f32)) -> (u32, u32) {
    let margins = desk.margins(plate);
    let fill = if desk.is_wide() { 0.0 } else { desk.safe.w };
    let width = (body.0 + margins.left + margins.right).max(margins.least_width).max(fill);
    let height = (body.1 + margins.top + margins.bottom).max(margins.least_height);
    (width.ceil() as u32, height.ceil() as u32)
}

/// Where a plate stands in the safe area. What may be on screen together stands apart: a step's card below, and its lines'
/// amounts and its wait above.
#[derive(Clone, Copy)]
pub(super) enum Corner {
    LowerLeft,
    UpperRight,
}

/// Puts a pile on a plate at the lower left of the safe area. The plate's body is at least `body` wide and high.
///
/// # Errors
/// [`DrawError::TooLarge`] if it is larger than the safe area: nothing is ever drawn beyond it.
pub(super) fn scene(
    desk: &Desk<'_>,
    name: &str,
    plate: Plate,
    pile: &Pile,
    body: (f32, f32),
) -> Result<Scene, DrawError> {
    scene_in(Corner::LowerLeft, desk, name, plate, pile, body)
}

/// The same in a corner.
pub(super) fn scene_in(
    corner: Corner,
    desk: &Desk<'_>,
    name: &str,
    plate: Plate,
    pile: &Pile,
    body: (f32, f32),
) -> Result<Scene, DrawError> {
    let (width, height) = plate_size(desk, plate, (pile.width.max(body.0), pile.height.max(body.1)));
    if width as f32 > desk.safe.w || height as f32 > desk.safe.h {
        return Err(DrawError::TooLarge { size: (width, height), room: (desk.safe.w as u32, desk.safe.h as u32) });
    }
    let panel = desk.theme.panel(plate, width, height, desk.unit())?;
    let (left, top) = match corner {
        Corner::LowerLeft => (desk.safe.x, desk.safe.bottom() - height as f32),
        Corner::UpperRight => ((desk.safe.right() - width as f32).floor(), desk.safe.y.ceil()),
    };
    let mut scene = Scene::new(name, desk.frame.width, desk.frame.height);
    scene.art(&panel.art, left as i32, top as i32, width, height);
    // What is left over stands below and above in equal parts.
    let spare = ((panel.body.h - pile.height) / 2.0).max(0.0).floor();
    let (x, y) = ((left + panel.body.x).round(), (top + panel.body.y + spare).round());
    put(&mut scene.nodes, &mut scene.groups, pile, x, y);
    Ok(scene)
}
