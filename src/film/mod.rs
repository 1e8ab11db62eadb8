//! Films: frames with straight alpha become files that editors read.
//!
//! Owns the formats: QuickTime Animation and APNG written here, pictures one by one, ProRes 4444 and VP9 through ffmpeg.
//! Must not know cards or what moves on them: it is handed each frame and which of its rectangles changed.

mod animation;
mod apng;
mod atoms;
mod ffmpeg;
mod frames;
mod over;
mod pipe;
mod quicktime;

pub use apng::Apng;
pub use ffmpeg::installed;
pub use frames::Frames;
pub use over::{Ground, Over};
pub use pipe::{Codec, Pipe};
pub use quicktime::QuickTime;

use std::fmt;
use std::io;

use crate::draw::{DrawError, PixelBox, Raster};

/// How long a frame lasts, exactly: `frame` ticks of a clock of `scale` ticks a second.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pace {
    /// Ticks a second.
    pub scale: u32,
    /// Ticks a frame, at least one.
    pub frame: u32,
}

impl Pace {
    /// How many frames last about so many seconds, at least one.
    pub fn frames(self, seconds: u32) -> u32 {
        (seconds * self.scale).div_ceil(self.frame).max(1)
    }
}

/// What a film will be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spec {
    /// Width in pixels.
    pub width: u32,
    /// Height in pixels.
    pub height: u32,
    /// How long a frame lasts.
    pub pace: Pace,
    /// How many frames it has, at least one.
    pub frames: u32,
}

/// Something that takes a film's frames in order.
pub trait Film {
    /// Takes the next frame; outside `changed` it is as the one before. The first frame is taken whole.
    ///
    /// # Errors
    /// [`FilmError`] for what can't be written, a frame of another size or one too many.
    fn frame(&mut self, picture: &Raster, changed: &[PixelBox]) -> Result<(), FilmError>;

    /// Whether more frames would be seen: a film over a video ends with it.
    fn wants_more(&self) -> bool {
        true
    }
}

/// Why there is no film.
#[derive(Debug)]
pub enum FilmError {
    /// It can't be written.
    Write(io::Error),
    /// A frame is not as large as the film, or there are more or fewer of them than were promised.
    Frames {
        /// What was promised.
        promised: String,
        /// What came.
        came: String,
    },
    /// A frame can't be encoded.
    Picture(DrawError),
    /// There is no ffmpeg.
    NoProgram,
    /// ffmpeg gave up, or was ended; with the last that it said.
    Program(String),
}

impl fmt::Display for FilmError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Write(error) => write!(f, "the film can't be written: {error}"),
            Self::Frames { promised, came } => write!(f, "the film is {promised}, and {came} came"),
            Self::Picture(error) => error.fmt(f),
            Self::NoProgram => f.write_str(
                "`ffmpeg` is not installed, and this form needs it: install it (Debian: `apt install ffmpeg`), or use \
                 `mov`, `apng` or `frames`, which need nothing",
            ),
            Self::Program(last) => write!(f, "`ffmpeg` gave up: {last}"),
        }
    }
}

impl std::error::Error for FilmError {}

impl From<io::Error> for FilmError {
    fn from(error: io::Error) -> Self {
        Self::Write(error)
    }
}

impl From<DrawError> for FilmError {
    fn from(error: DrawError) -> Self {
        Self::Picture(error)
    }
}

impl Spec {
    /// Checks that the frame after `taken` others may come.
    fn admit(&self, picture: &Raster, taken: u32) -> Result<(), FilmError> {
        let fits = (picture.width(), picture.height()) == (self.width, self.height);
        if fits && taken < self.frames {
            return Ok(());
        }
        let came = format!("frame {} of {}x{}", taken + 1, picture.width(), picture.height());
        Err(FilmError::Frames { promised: self.to_string(), came })
    }

    /// Checks that all frames came.
    fn complete(&self, taken: u32) -> Result<(), FilmError> {
        if taken == self.frames && taken > 0 {
            return Ok(());
        }
        Err(FilmError::Frames { promised: self.to_string(), came: format!("{taken} frames") })
    }

    /// The whole picture.
    fn whole(&self) -> PixelBox {
        PixelBox { left: 0, top: 0, right: self.width as usize, bottom: self.height as usize }
    }
}

impl fmt::Display for Spec {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} frames of {}x{}", self.frames, self.width, self.height)
    }
}
