//! An animated PNG: every frame its own, as large as what changed. The `png` crate writes it; it plays once.

use std::io::Write;

use png::{
    BitDepth, BlendOp, ColorType, Compression, DisposeOp, Encoder, EncodingError, Filter, SrgbRenderingIntent, Writer,
};

use super::{Film, FilmError, Pace, Spec};
use crate::draw::{PixelBox, Raster};

/// An animated PNG being written.
pub struct Apng<W: Write> {
    writer: Writer<W>,
    spec: Spec,
    taken: u32,
    pixels: Vec<u8>,
}

impl<W: Write> Apng<W> {
    /// Begins a film.
    ///
    /// # Errors
    /// What can't be written.
    pub fn new(out: W, spec: Spec) -> Result<Self, FilmError> {
        let mut encoder = Encoder::new(out, spec.width, spec.height);
        encoder.set_color(ColorType::Rgba);
        encoder.set_depth(BitDepth::Eight);
        encoder.set_source_srgb(SrgbRenderingIntent::Perceptual);
        encoder.set_compression(Compression::Fast);
        encoder.set_filter(Filter::Paeth);
        encoder.set_animated(spec.frames, 1).map_err(failed)?;
        let (part, whole) = delay(spec.pace);
        encoder.set_frame_delay(part, whole).map_err(failed)?;
        encoder.set_dispose_op(DisposeOp::None).map_err(failed)?;
        encoder.set_blend_op(BlendOp::Source).map_err(failed)?;
        Ok(Self { writer: encoder.write_header().map_err(failed)?, spec, taken: 0, pixels: Vec::new() })
    }

    /// Ends the film.
    ///
    /// # Errors
    /// Fewer frames than promised, or what can't be written.
    pub fn finish(self) -> Result<(), FilmError> {
        self.spec.complete(self.taken)?;
        self.writer.finish().map_err(failed)
    }
}

impl<W: Write> Film for Apng<W> {
    fn frame(&mut self, picture: &Raster, changed: &[PixelBox]) -> Result<(), FilmError> {
        self.spec.admit(picture, self.taken)?;
        let area = if self.taken == 0 {
            self.spec.whole()
        } else {
            // A frame has at least one pixel.
            let all = changed.iter().copied().reduce(|a, b| a.union(&b)).unwrap_or_default();
            if all.is_empty() { PixelBox { left: 0, top: 0, right: 1, bottom: 1 } } else { all }
        };
        self.pixels.clear();
        for y in area.top..area.bottom {
            let start = (y * self.spec.width as usize + area.left) * 4;
            self.pixels.extend_from_slice(&picture.pixels()[start..start + (area.right - area.left) * 4]);
        }
        if self.taken > 0 {
            let (width, height) = ((area.right - area.left) as u32, (area.bottom - area.top) as u32);
            self.writer.reset_frame_position().map_err(failed)?;
            self.writer.set_frame_dimension(width, height).map_err(failed)?;
            self.writer.set_frame_position(area.left as u32, area.top as u32).map_err(failed)?;
        }
        self.writer.write_image_data(&self.pixels).map_err(failed)?;
        self.taken += 1;
        Ok(())
    }
}

/// A frame's time in seconds, as the two short numbers that the format has.
fn delay(pace: Pace) -> (u16, u16) {
    let mut divisor = (pace.frame, pace.scale);
    while divisor.1 != 0 {
        divisor = (divisor.1, divisor.0 % divisor.1);
    }
    ((pace.frame / divisor.0) as u16, (pace.scale / divisor.0) as u16)
}

fn failed(error: EncodingError) -> FilmError {
    match error {
        EncodingError::IoError(error) => FilmError::Write(error),
        other => FilmError::Write(std::io::Error::other(other)),
    }
}
