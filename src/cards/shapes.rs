//! The ways of setting a table, the best first: how many columns, how large, how close. Must not know whether it fits.

use super::desk::{Desk, STEPS};
use super::rows::Row;
use super::table::Area;

/// One way of setting a table.
#[derive(Clone, Copy, Debug)]
pub(super) struct Shape {
    /// The most lines of a name.
    pub(super) lines: usize,
    /// Whether rows stand closer together.
    pub(super) tight: bool,
    pub(super) step: f32,
    pub(super) columns: Columns,
    /// Between figures, in pixels.
    pub(super) gap: f32,
    /// How many figures stand beside each other below a name; `None` where they stand beside the name.
    pub(super) below: Option<usize>,
}

/// Columns of rows on a page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Columns {
    One,
    /// Two that are as wide as each other.
    Even,
    /// Two that are as wide as what stands in each.
    Uneven,
}

impl Columns {
    pub(super) fn count(self) -> usize {
        match self {
            Self::One => 1,
            Self::Even | Self::Uneven => 2,
        }
    }
}

/// So many figures stand beside each other below a name at the most.
const MOST_ACROSS: usize = 4;
/// The most lines that what sizes are of may take.
pub(super) const MOST_OF_SIZES: usize = 6;

/// Ways of setting a table, of those with as few pages as can be the best first: names on one line and rows at ease, then
/// large type, then a single column.
pub(super) fn shapes(desk: &Desk<'_>, rows: &[Row], area: Area) -> impl Iterator<Item = Shape> {
    let unit = desk.gap();
    let columns: &[Columns] =
        if area.columns { &[Columns::One, Columns::Even, Columns::Uneven] } else { &[Columns::One] };
    // Figures below the names, the first beside them: where names and figures are too wide to stand side by side.
    let most = rows.iter().map(|row| row.cells.len()).max().unwrap_or(0);
    let across = (1..=most.saturating_sub(1).clamp(1, MOST_ACROSS)).rev().map(Some);
    let below: Vec<Option<usize>> = [None].into_iter().chain(across).collect();
    // Many figures beside each other need air between them; below names they have it.
    let gap = move |below: Option<usize>| unit * if most > 2 && below.is_none() { 2.3 } else { 1.5 };
    // Figures closer to each other are better than a name in two.
    let ease = [(false, 1, 1.0), (true, 1, 1.0), (false, 1, 0.66), (true, 1, 0.66), (false, 2, 1.0), (true, 2, 1.0)];
    // Long names on three lines are the last resort of a number of pages.
    let mut spreads: Vec<_> = below.iter().flat_map(|&below| ease.map(|spread| (below, spread))).collect();
    spreads.extend(below.into_iter().map(|below| (below, (true, 3, 1.0))));
    spreads.into_iter().flat_map(move |(below, (tight, lines, close))| {
        let gap = (gap(below) * close).round();
        // What is uneven is told by names on one line with their figures beside them.
        let flat = lines == 1 && below.is_none();
        let columns = columns.iter().filter(move |&&columns| flat || columns != Columns::Uneven);
        STEPS.into_iter().flat_map(move |step| {
            columns.clone().map(move |&columns| Shape { lines, tight, step, columns, gap, below })
        })
    })
}
