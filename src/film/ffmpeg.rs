//! Running ffmpeg: frames go down its standard input, and when it fails its own last words are told.
//! Must not know what it is asked to make.

use std::ffi::OsString;
use std::io::{ErrorKind, Read as _, Write as _};
use std::process::{Child, ChildStdin, Command, ExitStatus, Stdio};
use std::thread::JoinHandle;

use super::FilmError;

/// ffmpeg at work. One that is let go of before its end is ended.
pub(super) struct Ffmpeg {
    child: Child,
    input: Option<ChildStdin>,
    said: Option<JoinHandle<String>>,
}

impl Ffmpeg {
    /// Starts it; it overwrites what it is told to write to.
    pub(super) fn start(arguments: impl IntoIterator<Item = OsString>) -> Result<Self, FilmError> {
        let mut command = Command::new("ffmpeg");
        command.args(["-hide_banner", "-loglevel", "error", "-nostats", "-y"]).args(arguments);
        command.stdin(Stdio::piped()).stdout(Stdio::null()).stderr(Stdio::piped());
        let mut child = command.spawn().map_err(|error| match error.kind() {
            ErrorKind::NotFound => FilmError::NoProgram,
            _ => FilmError::Write(error),
        })?;
        let (input, said) = (child.stdin.take(), Some(listen(&mut child)));
        Ok(Self { child, input, said })
    }

    /// Sends bytes; `false` once it has ended well without wanting more.
    pub(super) fn send(&mut self, bytes: &[u8]) -> Result<bool, FilmError> {
        let Some(input) = self.input.as_mut() else { return Ok(false) };
        match input.write_all(bytes) {
            Ok(()) => Ok(true),
            // It went away: what it said tells more than the pipe that broke.
            Err(_) => self.end().map(|()| false),
        }
    }

    /// Waits for its end.
    pub(super) fn end(&mut self) -> Result<(), FilmError> {
        drop(self.input.take());
        let status = self.child.wait()?;
        let said = self.said.take().and_then(|thread| thread.join().ok()).unwrap_or_default();
        if status.success() { Ok(()) } else { Err(FilmError::Program(last_words(&said, status))) }
    }
}

impl Drop for Ffmpeg {
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

/// Reads what it says while it works, so that it never waits for a reader.
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

fn last_words(said: &str, status: ExitStatus) -> String {
    let last = said.lines().map(str::trim).rfind(|line| !line.is_empty());
    last.map_or_else(|| format!("it said nothing and ended with {status}"), str::to_owned)
}
