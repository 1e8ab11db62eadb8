//! The terminal: its width and colours, results to standard output, progress and findings to standard error.
//! Must not know what is said.

use crate::diag::{Findings, Severity, Style, render, sanitise};
use crate::publish::Tick;
use crate::span::Texts;
use console::Term;
use indicatif::{ProgressBar, ProgressStyle};
use std::io::{self, Write as _};
use std::path::Path;

/// A line is no easier to read for being longer.
const WIDEST: usize = 100;

/// Columns to write in: the terminal's, within reason; plenty where there is none.
pub(super) fn width() -> usize {
    let term = Term::stdout();
    term.size_checked().map_or(WIDEST, |(_, columns)| usize::from(columns).min(WIDEST))
}

/// A heading, bold where the terminal does it.
pub(super) fn heading(text: &str) -> String {
    console::style(text).bold().to_string()
}

/// Writes a result. A reader that has gone away is no error.
///
/// # Errors
/// Any other failure to write, such as a full disk.
pub(super) fn say(bytes: &[u8]) -> io::Result<()> {
    let mut out = io::stdout().lock();
    match out.write_all(bytes).and_then(|()| out.flush()) {
        Err(e) if e.kind() == io::ErrorKind::BrokenPipe => Ok(()),
        result => result,
    }
}

/// Writes lines to standard error, names and texts of others in them made safe; there is nowhere to tell of a failure to.
pub(super) fn tell(text: &str) {
    let _ = io::stderr().lock().write_all(safe(text).as_bytes());
}

/// Writes a heading to standard error.
pub(super) fn tell_heading(text: &str) {
    let _ = io::stderr().lock().write_all(format!("{}\n", heading(&sanitise(text))).as_bytes());
}

/// Lines with names and texts of others in them, none of which steers a terminal.
pub(super) fn safe(text: &str) -> String {
    text.lines().map(|line| sanitise(line) + "\n").collect()
}

/// A path as it is told.
pub(super) fn shown(path: &Path) -> String {
    sanitise(&path.display().to_string())
}

/// Writes every finding to standard error, by place, and how many there are.
pub(super) fn report(findings: &Findings, texts: &Texts) {
    let sorted = findings.sorted();
    let style = if console::colors_enabled_stderr() { Style::Coloured } else { Style::Plain };
    for finding in &sorted {
        // Its colours are ours; what is shown in it is safe already.
        let _ = io::stderr().lock().write_all(format!("{}\n\n", render(finding, texts, style)).as_bytes());
    }
    let count = |severity| sorted.iter().filter(|finding| finding.severity == severity).count();
    let (errors, warnings) = (count(Severity::Error), count(Severity::Warning));
    if errors + warnings > 0 {
        tell(&format!("{}, {}", counted(errors, "error"), counted(warnings, "warning")));
    }
    let (more_errors, more_warnings) = findings.unlisted();
    if more_errors + more_warnings > 0 {
        let more = format!("{}, {}", counted(more_errors, "error"), counted(more_warnings, "warning"));
        tell(&format!("and more that are not listed: {more}"));
    }
}

pub(super) use crate::diag::counted;

/// A progress bar over recipes, on a terminal only.
pub(super) struct Progress(ProgressBar);

impl Progress {
    /// A bar of so many recipes.
    pub(super) fn new(recipes: usize) -> Self {
        let bar = ProgressBar::new(recipes as u64);
        let style = ProgressStyle::with_template("{bar:24} {pos}/{len} recipes · {msg}");
        bar.set_style(style.expect("the template is one of ours"));
        Self(bar)
    }

    /// Follows the work.
    pub(super) fn tick(&self, tick: Tick) {
        match tick {
            Tick::Recipe(id) => self.0.set_message(id.to_owned()),
            Tick::File => self.0.tick(),
            Tick::Done => self.0.inc(1),
        }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        self.0.finish_and_clear();
    }
}
