//! From a style of the theme to a text style of some pixels. Must not know what is set in it.

use super::tokens::Face;
use crate::draw::{Colour, TextStyle};

/// A face at a size in pixels.
#[derive(Clone, Copy, Debug)]
pub struct Ink<'a> {
    /// The face.
    pub face: &'a Face,
    /// Height of a capital in pixels.
    pub cap: f32,
    /// Its colour.
    pub colour: Colour,
}

impl<'a> Ink<'a> {
    /// The face at its full size, or `step` of the way down to its least (0 to 1), on a frame whose shorter side is
    /// `side` pixels.
    pub fn new(face: &'a Face, side: u32, step: f32, colour: Colour) -> Self {
        let share = face.cap + (face.least - face.cap) * step;
        Self { face, cap: share * side as f32, colour }
    }

    /// The same in another colour.
    #[must_use]
    pub fn coloured(self, colour: Colour) -> Self {
        Self { colour, ..self }
    }

    /// The text style.
    pub fn style(&self) -> TextStyle {
        TextStyle {
            family: self.face.family.clone(),
            weight: self.face.weight,
            italic: self.face.italic,
            size: self.cap * self.face.em,
            colour: self.colour,
            features: self.face.features.clone(),
            letter_spacing: 0.0,
        }
    }
}
