//! A film as pictures, one PNG a frame, numbered from 1: what every program reads.

use super::{Film, FilmError, Spec};
use crate::draw::{PixelBox, Raster, encode_png};

/// Pictures being made; each is handed on with its name.
pub struct Frames<P> {
    put: P,
    spec: Spec,
    taken: u32,
    last: Vec<u8>,
}

impl<P: FnMut(&str, &[u8])> Frames<P> {
    /// Begins a film whose pictures are handed to `put`.
    pub fn new(spec: Spec, put: P) -> Self {
        Self { put, spec, taken: 0, last: Vec::new() }
    }

    /// Ends the film.
    ///
    /// # Errors
    /// Fewer frames than promised.
    pub fn finish(self) -> Result<(), FilmError> {
        self.spec.complete(self.taken)
    }
}

impl<P: FnMut(&str, &[u8])> Film for Frames<P> {
    fn frame(&mut self, picture: &Raster, changed: &[PixelBox]) -> Result<(), FilmError> {
        self.spec.admit(picture, self.taken)?;
        // What did not change has the bytes that it had.
        if self.taken == 0 || !changed.is_empty() {
            self.last = encode_png(picture, &[])?;
        }
        self.taken += 1;
        (self.put)(&format!("{:05}.png", self.taken), &self.last);
        Ok(())
    }
}
