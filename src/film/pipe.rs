//! Films through ffmpeg, where it is installed: ProRes 4444 and VP9, both with alpha. Frames go down its standard input;
//! the colour of what is clear is that of what is beside it, so that no codec blends black into an edge.
//! Must not know where the film will stand: it is written to a file of its own and read back whole.

use std::ffi::OsString;

use tempfile::NamedTempFile;

use super::ffmpeg::Ffmpeg;
use super::{Film, FilmError, Spec};
use crate::draft::draft;
use crate::draw::{PixelBox, Raster};

/// What ffmpeg makes of the frames.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Codec {
    /// ProRes 4444 in a .mov, 10 bits.
    ProRes,
    /// VP9 in a .webm, 8 bits, colour at half the resolution.
    Vp9,
}

impl Codec {
    fn extension(self) -> &'static str {
        match self {
            Self::ProRes => "mov",
            Self::Vp9 => "webm",
        }
    }

    fn arguments(self) -> &'static [&'static str] {
        match self {
            // One quantiser for all frames: a quarter of the time that ffmpeg takes to search one for each, and no
            // difference that is seen.
            Self::ProRes => &[
                "-c:v",
                "prores_ks",
                "-profile:v",
                "4444",
                "-pix_fmt",
                "yuva444p10le",
                "-alpha_bits",
                "16",
                "-qscale:v",
                "4",
            ],
            Self::Vp9 => &[
                "-c:v",
                "libvpx-vp9",
                "-pix_fmt",
                "yuva420p",
                "-crf",
                "18",
                "-b:v",
                "0",
                "-auto-alt-ref",
                "0",
                "-row-mt",
                "1",
                "-cpu-used",
                "4",
            ],
        }
    }
}

/// A film that ffmpeg is writing.
pub struct Pipe {
    spec: Spec,
    taken: u32,
    ffmpeg: Ffmpeg,
    file: NamedTempFile,
    filled: Vec<u8>,
}

impl Pipe {
    /// Starts ffmpeg.
    ///
    /// # Errors
    /// [`FilmError::NoProgram`] where there is none, and what else stops it from starting.
    pub fn new(spec: Spec, codec: Codec) -> Result<Self, FilmError> {
        let ending = format!(".{}", codec.extension());
        let file = draft(&std::env::temp_dir(), &ending)?;
        let mut arguments = raw(spec);
        // The matrix that the tags say; without the filter ffmpeg takes another.
        let matrix = ["-vf", &format!("scale=out_color_matrix=bt709:out_range=tv,{MARKED}")];
        arguments.extend(
            codec.arguments().iter().copied().chain(matrix).chain(REC709).chain(REPEATABLE).map(OsString::from),
        );
        arguments.push(file.path().into());
        Ok(Self { spec, taken: 0, ffmpeg: Ffmpeg::start(arguments)?, file, filled: Vec::new() })
    }

    /// Ends the film and gives back its bytes.
    ///
    /// # Errors
    /// Fewer frames than promised, and whatever ffmpeg says.
    pub fn finish(mut self) -> Result<Vec<u8>, FilmError> {
        self.spec.complete(self.taken)?;
        self.ffmpeg.end()?;
        Ok(std::fs::read(self.file.path())?)
    }
}

impl Film for Pipe {
    fn frame(&mut self, picture: &Raster, changed: &[PixelBox]) -> Result<(), FilmError> {
        self.spec.admit(picture, self.taken)?;
        if self.taken == 0 || !changed.is_empty() {
            fill_clear(picture, &mut self.filled);
        }
        if !self.ffmpeg.send(&self.filled)? {
            return Err(FilmError::Program("it ended before the film did".to_owned()));
        }
        self.taken += 1;
        Ok(())
    }
}

/// Frames with alpha as ffmpeg's input.
pub(super) fn raw(spec: Spec) -> Vec<OsString> {
    let size = format!("{}x{}", spec.width, spec.height);
    let rate = format!("{}/{}", spec.pace.scale, spec.pace.frame);
    let source = ["-f", "rawvideo", "-pix_fmt", "rgba", "-s:v", &size, "-r", &rate, "-i", "-"];
    source.iter().map(OsString::from).collect()
}

/// Marks the frames themselves as ITU-R BT.709: the ProRes encoder reads its tags off them.
pub(super) const MARKED: &str = "setparams=color_primaries=bt709:color_trc=bt709:colorspace=bt709:range=tv";

/// Tags of ITU-R BT.709.
pub(super) const REC709: [&str; 8] =
    ["-color_primaries", "bt709", "-color_trc", "bt709", "-colorspace", "bt709", "-color_range", "tv"];
/// No version or date in the file.
pub(super) const REPEATABLE: [&str; 4] = ["-fflags", "+bitexact", "-flags:v", "+bitexact"];

/// The picture with clear pixels in the colour of the nearest painted one at their left, else at their right, else of the
/// line above, else of the first painted line below.
fn fill_clear(picture: &Raster, out: &mut Vec<u8>) {
    let stride = picture.width() as usize * 4;
    out.clear();
    out.extend_from_slice(picture.pixels());
    let mut first_inked = None;
    for y in 0..picture.height() as usize {
        let (above, here) = out.split_at_mut(y * stride);
        let row = &mut here[..stride];
        if spread(row) {
            first_inked = first_inked.or(Some(y));
        } else if first_inked.is_some() {
            tint(row, &above[(y - 1) * stride..]);
        }
    }
    if let Some(first) = first_inked {
        let (above, inked) = out.split_at_mut(first * stride);
        above.chunks_exact_mut(stride).for_each(|row| tint(row, &inked[..stride]));
    }
}

/// Gives clear pixels of a row the colour beside them; `false` for a row without paint.
fn spread(row: &mut [u8]) -> bool {
    let mut last: Option<[u8; 3]> = None;
    for pixel in row.chunks_exact_mut(4) {
        match (pixel[3], last) {
            (0, Some([r, g, b])) => pixel[..3].copy_from_slice(&[r, g, b]),
            (0, None) => {}
            _ => last = Some([pixel[0], pixel[1], pixel[2]]),
        }
    }
    let Some(first) = row.chunks_exact(4).position(|pixel| pixel[3] != 0) else { return false };
    let colour = [row[first * 4], row[first * 4 + 1], row[first * 4 + 2]];
    row[..first * 4].chunks_exact_mut(4).for_each(|pixel| pixel[..3].copy_from_slice(&colour));
    true
}

/// Gives clear pixels the colours of another row.
fn tint(row: &mut [u8], from: &[u8]) {
    for (pixel, other) in row.chunks_exact_mut(4).zip(from.chunks_exact(4)) {
        pixel[..3].copy_from_slice(&other[..3]);
    }
}
