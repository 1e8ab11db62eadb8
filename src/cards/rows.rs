//! What a table's rows hold: names, figures and how they look. Must not know how rows are fitted or drawn.

use super::desk::{Desk, figure};
use crate::sheet::{Figure, Phrase};

/// What a row is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// One of the listed things.
    Line,
    /// The sum of what stands above: a strong rule, heavier type.
    Total,
    /// A result below the sum.
    Extra,
    /// The heads of the columns, repeated on every column of rows.
    Head,
    /// The same where columns are sizes: what they are sizes of, which must be read.
    Sizes,
}

impl Kind {
    pub(super) fn is_head(self) -> bool {
        match self {
            Self::Head | Self::Sizes => true,
            Self::Line | Self::Total | Self::Extra => false,
        }
    }
}

/// A row of a table.
#[derive(Clone, Debug)]
pub(super) struct Row {
    pub(super) kind: Kind,
    pub(super) name: Phrase,
    /// A quiet remark below the name.
    pub(super) aside: Option<Phrase>,
    /// Figures, right-aligned, one a column.
    pub(super) cells: Vec<Cell>,
    /// Length of its bar in thousandths.
    pub(super) bar: Option<u16>,
    /// Whether its mark on the rail is one of what is there, rather than of what is missing.
    pub(super) there: bool,
}

/// A figure in a row.
#[derive(Clone, Debug, Default)]
pub(super) struct Cell {
    pub(super) text: Phrase,
    pub(super) look: Look,
    /// What it shows on the way, if it is counted up to.
    pub(super) tally: Vec<Phrase>,
}

/// How a cell is set.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Look {
    /// As the amount it is.
    #[default]
    Amount,
    /// A figure beside it: lighter.
    Beside,
    /// What counts most.
    Accent,
    /// A column's name in words.
    Head,
    /// What no longer holds: quiet and struck through.
    Struck,
    /// The column that is this batch's own: on a ground of its own.
    Own,
}

impl Cell {
    pub(super) fn new(text: Phrase, look: Look) -> Self {
        Self { text, look, tally: Vec::new() }
    }

    /// The same for a figure that is counted up to where the card moves.
    pub(super) fn counted(desk: &Desk<'_>, counted: &Figure, look: Look) -> Self {
        Self { tally: desk.tally(counted), ..Self::new(figure(counted), look) }
    }
}

impl Row {
    pub(super) fn line(name: Phrase, cells: Vec<Cell>) -> Self {
        Self { kind: Kind::Line, name, aside: None, cells, bar: None, there: true }
    }
}

/// How a row stands on one picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum State {
    /// It is there.
    Shown,
    /// It is what is being added.
    Now,
    /// It is to come: its place is kept.
    ToCome,
}
