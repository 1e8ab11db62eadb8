//! Films through ffmpeg, where it is installed: ProRes 4444 and VP9, both with alpha. Frames go down its standard input;
//! the colour of what is clear is that of what is beside it, so that no codec blends black into an edge.
//! Must not know where the film will stand: it is written to a file of its own and read back whole.

use std::ffi::OsString;
use std::io::{ErrorKind, Read as _, Write as _};
use std::path::Path;
use std::process::{Child, ChildStdin, Command, Stdio};
use std::thread::JoinHandle;

use tempfile::NamedTempFile;

use super::{Film, FilmError, Spec};
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
            Self::ProRes => {
                &["-c:v", "prores_ks", "-profile:v", "4444", "-pix_fmt", "yuva444p10le", "-alpha_bits", "16"]
            }
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
            ],
        }
    }
}

/// A film that ffmpeg is writing.
pub struct Pipe {
    spec: Spec,
    taken: u32,
    child: Child,
    input: Option<ChildStdin>,
    said: Option<JoinHandle<String>>,
    file: NamedTempFile,
    filled: Vec<u8>,
}

impl Pipe {
    /// Starts ffmpeg.
    ///
    /// # Errors
    /// [`FilmError::NoProgram`] where there is none, and what else stops it from starting.
    pub fn new(spec: Spec, codec: Codec) -> Result<Self, FilmError> {
        let file =
            tempfile::Builder::new().prefix("tallyspoon").suffix(&format!(".{}", codec.extension())).tempfile()?;
        let size = format!("{}x{}", spec.width, spec.height);
        let rate = format!("{}/{}", spec.pace.scale, spec.pace.frame);
        let source = ["-f", "rawvideo", "-pix_fmt", "rgba", "-s:v", &size, "-r", &rate, "-i", "-"];
        // The matrix that the tags say; without the filter ffmpeg takes another.
        let colour = [
            "-vf",
            "scale=out_color_matrix=bt709:out_range=tv",
            "-color_primaries",
            "bt709",
            "-color_trc",
            "bt709",
            "-colorspace",
            "bt709",
            "-color_range",
            "tv",
        ];
        let arguments = source.iter().chain(codec.arguments()).chain(&colour).chain(&["-fflags", "+bitexact"]);
        let mut arguments: Vec<OsString> = arguments.map(OsString::from).collect();
        arguments.extend(["-flags:v".into(), "+bitexact".into(), file.path().into()]);
        let mut child = start(arguments, Stdio::piped())?;
        let (input, said) = (child.stdin.take(), Some(listen(&mut child)));
        Ok(Self { spec, taken: 0, child, input, said, file, filled: Vec::new() })
    }

    /// Ends the film and gives back its bytes.
    ///
    /// # Errors
    /// Fewer frames than promised, and whatever ffmpeg says.
    pub fn finish(mut self) -> Result<Vec<u8>, FilmError> {
        self.spec.complete(self.taken)?;
        drop(self.input.take());
        self.ended()?;
        Ok(std::fs::read(self.file.path())?)
    }

    /// Waits for ffmpeg to end; an error with the last that it said unless all went well.
    fn ended(&mut self) -> Result<(), FilmError> {
        let status = self.child.wait()?;
        let said = self.said.take().and_then(|thread| thread.join().ok()).unwrap_or_default();
        if status.success() { Ok(()) } else { Err(FilmError::Program(last_line(&said, &status.to_string()))) }
    }
}

impl Film for Pipe {
    fn frame(&mut self, picture: &Raster, changed: &[PixelBox]) -> Result<(), FilmError> {
        self.spec.admit(picture, self.taken)?;
        if self.taken == 0 || !changed.is_empty() {
            fill_clear(picture, &mut self.filled);
        }
        let sent = self.input.as_mut().map_or(Ok(()), |input| input.write_all(&self.filled));
        if let Err(error) = sent {
            drop(self.input.take());
            // It went away: what it said tells more than the pipe that broke.
            self.ended()?;
            return Err(FilmError::Write(error));
        }
        self.taken += 1;
        Ok(())
    }
}

/// A film given up half-way leaves no program running.
impl Drop for Pipe {
    fn drop(&mut self) {
        drop(self.input.take());
        if self.said.is_some() {
            let _ = self.child.kill();
            let _ = self.child.wait();
        }
    }
}

/// Whether ffmpeg is there to be run.
pub fn installed() -> bool {
    let mut command = Command::new("ffmpeg");
    command.arg("-version").stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
    command.status().is_ok_and(|status| status.success())
}

/// Runs ffmpeg with arguments to its end; `to` is where it writes, and is removed if it fails.
///
/// # Errors
/// [`FilmError::NoProgram`] where there is none, and whatever it says.
pub fn ffmpeg(arguments: impl IntoIterator<Item = OsString>, to: &Path) -> Result<(), FilmError> {
    let all = arguments.into_iter().chain([to.as_os_str().to_owned()]);
    let mut child = start(all, Stdio::null())?;
    let said = listen(&mut child);
    let status = child.wait()?;
    let said = said.join().unwrap_or_default();
    if status.success() {
        return Ok(());
    }
    let _ = std::fs::remove_file(to);
    Err(FilmError::Program(last_line(&said, &status.to_string())))
}

fn start(arguments: impl IntoIterator<Item = OsString>, input: Stdio) -> Result<Child, FilmError> {
    let mut command = Command::new("ffmpeg");
    command.args(["-hide_banner", "-loglevel", "error", "-nostats", "-y"]).args(arguments);
    command.stdin(input).stdout(Stdio::null()).stderr(Stdio::piped());
    command.spawn().map_err(|error| match error.kind() {
        ErrorKind::NotFound => FilmError::NoProgram,
        _ => FilmError::Write(error),
    })
}

/// Reads what ffmpeg says while it works, so that it never waits for a reader.
fn listen(child: &mut Child) -> JoinHandle<String> {
    let stderr = child.stderr.take();
    std::thread::spawn(move || {
        let mut said = Vec::new();
        if let Some(mut stderr) = stderr {
            let _ = stderr.read_to_end(&mut said);
        }
        String::from_utf8_lossy(&said).into_owned()
    })
}

fn last_line(said: &str, status: &str) -> String {
    said.lines().map(str::trim).rfind(|line| !line.is_empty()).unwrap_or(status).to_owned()
}

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
