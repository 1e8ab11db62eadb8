//! Points and rectangles in pixels. Knows nothing of what is drawn in them.

/// A point, in pixels.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Point {
    /// To the right.
    pub x: f32,
    /// Down.
    pub y: f32,
}

impl Point {
    /// A point at (x, y).
    pub const fn new(x: f32, y: f32) -> Self {
        Self { x, y }
    }
}

/// A rectangle, in pixels; one without width or height is empty.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Rect {
    /// Left edge.
    pub x: f32,
    /// Top edge.
    pub y: f32,
    /// Width, never negative.
    pub w: f32,
    /// Height, never negative.
    pub h: f32,
}

impl Rect {
    /// A rectangle from its top left corner and its size.
    pub const fn new(x: f32, y: f32, w: f32, h: f32) -> Self {
        Self { x, y, w, h }
    }

    /// A rectangle from its edges.
    pub fn from_edges(left: f32, top: f32, right: f32, bottom: f32) -> Self {
        Self { x: left, y: top, w: (right - left).max(0.0), h: (bottom - top).max(0.0) }
    }

    /// The right edge.
    pub fn right(&self) -> f32 {
        self.x + self.w
    }

    /// The bottom edge.
    pub fn bottom(&self) -> f32 {
        self.y + self.h
    }

    /// The middle.
    pub fn centre(&self) -> Point {
        Point::new(self.x + self.w / 2.0, self.y + self.h / 2.0)
    }

    /// Whether it covers nothing.
    pub fn is_empty(&self) -> bool {
        !(self.w > 0.0 && self.h > 0.0)
    }

    /// The same rectangle moved.
    pub fn moved(&self, dx: f32, dy: f32) -> Self {
        Self { x: self.x + dx, y: self.y + dy, ..*self }
    }

    /// Smaller by `by` on all sides (larger if negative).
    pub fn inset(&self, by: f32) -> Self {
        Self::from_edges(self.x + by, self.y + by, self.right() - by, self.bottom() - by)
    }

    /// The smallest rectangle that holds both; an empty one counts for nothing.
    pub fn union(&self, other: &Self) -> Self {
        if self.is_empty() {
            return *other;
        }
        if other.is_empty() {
            return *self;
        }
        Self::from_edges(
            self.x.min(other.x),
            self.y.min(other.y),
            self.right().max(other.right()),
            self.bottom().max(other.bottom()),
        )
    }

    /// What both cover.
    pub fn intersection(&self, other: &Self) -> Self {
        Self::from_edges(
            self.x.max(other.x),
            self.y.max(other.y),
            self.right().min(other.right()),
            self.bottom().min(other.bottom()),
        )
    }

    /// Whether `other` lies wholly inside (edges may touch).
    pub fn contains(&self, other: &Self) -> bool {
        other.is_empty()
            || (self.x <= other.x
                && self.y <= other.y
                && self.right() >= other.right()
                && self.bottom() >= other.bottom())
    }

    /// The smallest rectangle of whole pixels around it.
    pub fn rounded_out(&self) -> Self {
        Self::from_edges(self.x.floor(), self.y.floor(), self.right().ceil(), self.bottom().ceil())
    }
}
