//! A quantity in its base unit, and a range of two. Knows no ingredient.

use super::{Dimension, Exact, Unit};

/// A value in its dimension's base unit, with the unit it was written in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Quantity {
    /// What it measures.
    pub dimension: Dimension,
    /// The value in the base unit (g, mL, mm, s, °C, %, 1).
    pub value: Exact,
    /// The unit of its first term as written; `None` for a bare count.
    pub unit: Option<Unit>,
}

/// Two quantities of one dimension, `low` not above `high`; equal for a single value.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Range {
    /// The lower end.
    pub low: Quantity,
    /// The upper end.
    pub high: Quantity,
}

impl Range {
    /// What both ends measure.
    pub fn dimension(&self) -> Dimension {
        self.high.dimension
    }

    /// Whether it is one value.
    pub fn is_single(&self) -> bool {
        self.low.value == self.high.value
    }
}
