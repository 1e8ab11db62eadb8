//! Cards that move: a card's picture and its theme's movements become frames of a film.
//!
//! Owns when what moves and how far. Must not know the disk, which recipe it is, or how a film is written: it hands each
//! frame on with the rectangles of it that changed.

mod plan;
mod reel;
mod stage;

pub use plan::{Lines, Look, Plan, Pose, Show, Timing, reading_frames};
pub use reel::{Part, guides, moment, small, strip, unreel};
pub use stage::Stage;

use crate::draw::{DrawError, Scene};
use crate::film::{Film, FilmError};

/// How many figures lead up to one that is counted.
pub const COUNTED: u32 = 24;

/// Makes every frame of a card's film.
///
/// # Errors
/// What can't be drawn or written.
pub fn shoot(scene: &Scene, plan: &Plan, film: &mut dyn Film) -> Result<(), FilmError> {
    let mut stage = Stage::new(scene)?;
    for number in 0..plan.length() {
        let (picture, changed) = stage.frame(plan, number)?;
        film.frame(picture, changed)?;
    }
    Ok(())
}

/// A card at one frame of its film.
///
/// # Errors
/// What can't be drawn.
pub fn frame_at(scene: &Scene, plan: &Plan, number: u32) -> Result<crate::draw::Raster, DrawError> {
    let mut stage = Stage::new(scene)?;
    stage.frame(plan, number).map(|(picture, _)| picture.clone())
}
