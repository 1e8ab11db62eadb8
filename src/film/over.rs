//! Frames over a video or a picture as a small MP4, through ffmpeg: H.264, which plays anywhere.
//! Must not know what the frames show.

use std::ffi::OsString;
use std::path::PathBuf;

use tempfile::NamedTempFile;

use super::ffmpeg::Ffmpeg;
use super::pipe::{MARKED, REC709, REPEATABLE, raw};
use super::{Film, FilmError, Spec};
use crate::draft::draft;
use crate::draw::{Colour, PixelBox, Raster};

/// What lies below the frames.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Ground {
    /// A plain colour.
    Plain(Colour),
    /// A picture, as long as the frames.
    Picture(PathBuf),
    /// A video with its sound; the film is as long as it is.
    Video(PathBuf),
}

/// An MP4 being written.
pub struct Over {
    spec: Spec,
    taken: u32,
    /// Whether ffmpeg takes more frames.
    open: bool,
    ffmpeg: Ffmpeg,
    file: NamedTempFile,
}

impl Over {
    /// Starts ffmpeg; the ground is fitted to the frames' size by cutting what stands over.
    ///
    /// # Errors
    /// [`FilmError::NoProgram`] where there is none, and what else stops it from starting.
    pub fn new(spec: Spec, ground: &Ground) -> Result<Self, FilmError> {
        let file = draft(&std::env::temp_dir(), ".mp4")?;
        let (width, height) = (spec.width, spec.height);
        let rate = format!("{}/{}", spec.pace.scale, spec.pace.frame);
        let mut arguments: Vec<OsString> = match ground {
            Ground::Plain(colour) => {
                let plain =
                    format!("color=0x{:02x}{:02x}{:02x}:s={width}x{height}:r={rate}", colour.r, colour.g, colour.b);
                vec!["-f".into(), "lavfi".into(), "-i".into(), plain.into()]
            }
            Ground::Picture(path) => {
                vec!["-loop".into(), "1".into(), "-framerate".into(), rate.clone().into(), "-i".into(), path.into()]
            }
            Ground::Video(path) => vec!["-i".into(), path.into()],
        };
        // A video goes on when the cards have ended; anything else ends with them.
        let end = if matches!(ground, Ground::Video(_)) { "eof_action=pass" } else { "shortest=1" };
        let filter = format!(
            "[0:v]scale={width}:{height}:force_original_aspect_ratio=increase,crop={width}:{height},setsar=1,fps={rate}[g];\
             [g][1:v]overlay=format=auto:{end},scale=out_color_matrix=bt709:out_range=tv,{MARKED}[v]"
        );
        arguments.extend(raw(spec));
        arguments.extend(["-filter_complex".into(), filter.into()]);
        let coding = [
            "-map",
            "[v]",
            "-map",
            "0:a?",
            "-c:v",
            "libx264",
            "-preset",
            "veryfast",
            "-crf",
            "23",
            "-pix_fmt",
            "yuv420p",
            "-c:a",
            "aac",
            "-movflags",
            "+faststart",
        ];
        arguments.extend(coding.iter().chain(&REC709).chain(&REPEATABLE).map(OsString::from));
        arguments.push(file.path().into());
        Ok(Self { spec, taken: 0, open: true, ffmpeg: Ffmpeg::start(arguments)?, file })
    }

    /// Ends the film and gives back its bytes.
    ///
    /// # Errors
    /// Whatever ffmpeg says.
    pub fn finish(mut self) -> Result<Vec<u8>, FilmError> {
        self.ffmpeg.end()?;
        Ok(std::fs::read(self.file.path())?)
    }
}

impl Film for Over {
    fn frame(&mut self, picture: &Raster, _changed: &[PixelBox]) -> Result<(), FilmError> {
        self.spec.admit(picture, self.taken)?;
        self.open = self.ffmpeg.send(picture.pixels())?;
        self.taken += 1;
        Ok(())
    }

    fn wants_more(&self) -> bool {
        self.open
    }
}
