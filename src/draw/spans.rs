//! Which pixels of a frame: columns of each row, in order and apart. Must not know what is painted there.

use std::ops::Range;

use super::raster::PixelBox;

/// Columns of a row, from the first to one past the last.
pub(super) type Span = (u32, u32);

/// Pixels of a frame as spans of its rows.
#[derive(Debug, Clone, Default)]
pub struct Spans {
    rows: Vec<Vec<Span>>,
    /// The rows that hold any.
    top: usize,
    bottom: usize,
}

impl Spans {
    /// Holds nothing any more.
    pub fn clear(&mut self) {
        self.rows[self.top..self.bottom].iter_mut().for_each(Vec::clear);
        (self.top, self.bottom) = (0, 0);
    }

    /// Adds columns of a row, as far as they lie in `bounds`.
    pub(super) fn add(&mut self, y: usize, span: Span, bounds: &PixelBox) {
        let (left, right) = (span.0.max(bounds.left as u32), span.1.min(bounds.right as u32));
        if left >= right || !(bounds.top..bounds.bottom).contains(&y) {
            return;
        }
        if self.rows.len() <= y {
            self.rows.resize(y + 1, Vec::new());
        }
        self.rows[y].push((left, right));
        let is_first = self.top == self.bottom;
        self.top = if is_first { y } else { self.top.min(y) };
        self.bottom = self.bottom.max(y + 1);
    }

    /// Brings what was added in order; what meets becomes one.
    pub fn settle(&mut self) {
        for row in &mut self.rows[self.top..self.bottom] {
            row.sort_unstable();
            row.dedup_by(|next, last| {
                let meets = next.0 <= last.1;
                if meets {
                    last.1 = last.1.max(next.1);
                }
                meets
            });
        }
    }

    /// Rows outside which there are none.
    pub(super) fn rows(&self) -> Range<usize> {
        self.top..self.bottom
    }

    /// The columns of a row.
    pub(super) fn row(&self, y: usize) -> &[Span] {
        self.rows.get(y).map_or(&[], Vec::as_slice)
    }
}

/// Calls `each` with what two rows of spans both hold, from left to right.
pub(super) fn both(a: &[Span], b: &[Span], mut each: impl FnMut(Span)) {
    let (mut a, mut b) = (a.iter().peekable(), b.iter().peekable());
    while let (Some(&&one), Some(&&other)) = (a.peek(), b.peek()) {
        let span = (one.0.max(other.0), one.1.min(other.1));
        if span.0 < span.1 {
            each(span);
        }
        let _ = if one.1 <= other.1 { a.next() } else { b.next() };
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const ROOM: PixelBox = PixelBox { left: 2, top: 1, right: 30, bottom: 4 };

    fn filled(list: &[(usize, u32, u32)]) -> Spans {
        let mut spans = Spans::default();
        list.iter().for_each(|&(y, left, width)| spans.add(y, (left, left + width), &ROOM));
        spans.settle();
        spans
    }

    proptest! {
        #[test]
        fn they_hold_what_was_added_and_what_two_have_in_common(
            one in prop::collection::vec((0..6_usize, 0..40_u32, 0..9_u32), 0..12),
            other in prop::collection::vec((0..6_usize, 0..40_u32, 0..9_u32), 0..12),
        ) {
            let has = |list: &[(usize, u32, u32)], y: usize, x: u32| {
                (1..4).contains(&y) && (2..30).contains(&x)
                    && list.iter().any(|&(row, left, width)| row == y && (left..left + width).contains(&x))
            };
            let (mut a, b) = (filled(&one), filled(&other));
            for y in 0..6 {
                let mut common = Vec::new();
                both(a.row(y), b.row(y), |span| common.push(span));
                for x in 0..50 {
                    let within = |spans: &[Span]| spans.iter().filter(|span| (span.0..span.1).contains(&x)).count();
                    prop_assert_eq!(within(a.row(y)), usize::from(has(&one, y, x)));
                    prop_assert_eq!(within(&common), usize::from(has(&one, y, x) && has(&other, y, x)));
                }
                prop_assert!(a.row(y).windows(2).all(|pair| pair[0].1 < pair[1].0));
            }
            prop_assert!((0..6).all(|y| a.row(y).is_empty() || a.rows().contains(&y)));
            a.clear();
            prop_assert!(a.rows().is_empty() && (0..6).all(|y| a.row(y).is_empty()));
        }
    }
}
