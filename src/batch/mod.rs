//! The formula at a wanted yield: sizes of parts, scaled lines, hydration, variants.
//! Must not know prices or outputs.

mod overall;
mod scale;
mod size;
mod wanted;

pub use overall::{Hydration, Overall, OverallLine};
pub use scale::{Batch, BatchLine, BatchPart, Quota, scale};
pub use size::{Unsizable, WrittenSizes, written_sizes};
pub use wanted::{Have, Unreachable, Wanted, beside, factor};
