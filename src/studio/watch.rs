//! Sees edits of the channel's files, by whatever editor, and has them read again. Waits without looking: idle is idle.

use super::state::Studio;
use notify::{Event, EventKind, RecommendedWatcher, RecursiveMode, Watcher as _};
use std::path::Path;
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::sync::{Arc, Weak};
use std::thread;
use std::time::{Duration, Instant};

/// So long nothing more must come before a burst of events is taken for one edit.
const QUIET: Duration = Duration::from_millis(6);
/// A burst that goes on is taken so late at the latest.
const LATEST: Duration = Duration::from_millis(60);
/// So long after an edit everything that deserves a look is looked through: pictures come first.
const LOOK: Duration = Duration::from_millis(350);

/// A watch; it ends when it is dropped.
pub(super) struct Watch {
    _watcher: RecommendedWatcher,
}

/// Watches the channel's folder; `None` where the machine can't.
pub(super) fn begin(studio: &Arc<Studio>) -> Option<Watch> {
    let root = studio.home.content.canonicalize().ok()?;
    let (sender, receiver) = channel::<()>();
    let mut watcher = notify::recommended_watcher(seen(root.clone(), sender.clone())).ok()?;
    watcher.watch(&root, RecursiveMode::Recursive).ok()?;
    let studio = Arc::downgrade(studio);
    thread::Builder::new().name("watch".into()).spawn(move || attend(&studio, &receiver)).ok()?;
    // The first look comes without an edit.
    let _ = sender.send(());
    Some(Watch { _watcher: watcher })
}

/// Passes on what may have changed a source.
fn seen(root: std::path::PathBuf, sender: Sender<()>) -> impl FnMut(notify::Result<Event>) + Send + 'static {
    move |event| {
        // An error may have swallowed an edit.
        let matters = event.as_ref().map_or(true, |event| {
            let changes = !matches!(event.kind, EventKind::Access(_));
            changes && (event.paths.is_empty() || event.paths.iter().any(|path| visible(&root, path)))
        });
        if matters {
            let _ = sender.send(());
        }
    }
}

/// Hidden files and folders are nobody's business.
fn visible(root: &Path, path: &Path) -> bool {
    let inner = path.strip_prefix(root).unwrap_or(path);
    inner.components().all(|part| !part.as_os_str().to_string_lossy().starts_with('.'))
}

/// Reads the sources again after each burst of events, and later looks through everything.
fn attend(studio: &Weak<Studio>, events: &Receiver<()>) {
    let mut look_through = false;
    loop {
        let next = if look_through {
            events.recv_timeout(LOOK)
        } else {
            events.recv().map_err(|_| RecvTimeoutError::Disconnected)
        };
        match next {
            Ok(()) => {
                let begun = Instant::now();
                while begun.elapsed() < LATEST && events.recv_timeout(QUIET).is_ok() {}
                let Some(studio) = studio.upgrade() else { return };
                studio.refresh();
                look_through = true;
            }
            Err(RecvTimeoutError::Timeout) => {
                let Some(studio) = studio.upgrade() else { return };
                studio.check();
                look_through = false;
            }
            Err(RecvTimeoutError::Disconnected) => return,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hidden_files_are_passed_by() {
        let root = Path::new("/c");
        assert!(visible(root, Path::new("/c/dish/recipe.md")));
        assert!(!visible(root, Path::new("/c/.tallyspoon.kept/prices.csv.1")));
        assert!(!visible(root, Path::new("/c/dish/.recipe.md.swp")));
    }
}
