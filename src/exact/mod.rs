//! Exact quantities: rationals, decimal text, units and money's minor units; owns the only rounding.
//! Must not know files or recipes.

mod number;
mod parse;
mod quantity;
mod unit;

pub use number::{Exact, apportion};
pub use parse::{Malformed, parse_number, parse_quantity, parse_range};
pub use quantity::{Quantity, Range};
pub use unit::{Dimension, Measures, Unit};

/// The largest quantity or price a source may state, in its base unit.
///
/// Above it the text is taken for a slip of the keyboard (source format: 10^9).
pub fn ceiling() -> Exact {
    Exact::from(1_000_000_000)
}
