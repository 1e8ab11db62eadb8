//! What is alive while the studio is open: the bench that everybody looks at, who listens for news, and whether it is
//! closing. Must not know what is asked.

use super::bench::Bench;
use super::gate::Gate;
use super::watch;
use crate::desk::Home;
use serde_json::Value;
use std::path::PathBuf;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, PoisonError, RwLock};
use tokio::sync::{broadcast, watch as channel};

/// News that nobody has taken yet: a slow page misses some and reads the state anew.
const NEWS: usize = 256;

/// The studio.
pub(super) struct Studio {
    pub(super) home: Home,
    pub(super) out: PathBuf,
    pub(super) gate: Gate,
    bench: RwLock<Arc<Bench>>,
    news: broadcast::Sender<Value>,
    closing: channel::Sender<bool>,
    /// One writer at a time.
    writing: Mutex<()>,
    /// Whether a channel is being published, or set side by side with another.
    busy: AtomicBool,
    watching: Mutex<Option<watch::Watch>>,
}

/// Says when what takes long is done.
pub(super) struct Busy<'s>(&'s AtomicBool);

impl Drop for Busy<'_> {
    fn drop(&mut self) {
        self.0.store(false, Ordering::Release);
    }
}

impl Studio {
    /// A studio that looks at nothing yet.
    pub(super) fn new(home: Home, out: PathBuf, gate: Gate) -> Self {
        Self {
            home,
            out,
            gate,
            bench: RwLock::default(),
            news: broadcast::channel(NEWS).0,
            closing: channel::channel(false).0,
            writing: Mutex::default(),
            busy: AtomicBool::new(false),
            watching: Mutex::default(),
        }
    }

    /// Reads the channel, if there is one, and watches its folder from then on; again, the folder that stands there now.
    pub(super) fn open(self: &Arc<Self>) {
        self.refresh();
        let mut watching = self.watching.lock().unwrap_or_else(PoisonError::into_inner);
        *watching = if self.home.content.is_dir() { watch::begin(self) } else { None };
    }

    /// What everybody looks at.
    pub(super) fn bench(&self) -> Arc<Bench> {
        Arc::clone(&self.bench.read().unwrap_or_else(PoisonError::into_inner))
    }

    /// Reads the sources again. Tells whether anything is other than it was.
    pub(super) fn refresh(&self) -> bool {
        let before = self.bench();
        let Some(after) = Bench::read(&self.home, &before) else { return false };
        let version = after.version;
        let broken = after.broken();
        *self.bench.write().unwrap_or_else(PoisonError::into_inner) = Arc::new(after);
        self.tell(serde_json::json!({ "news": "sources", "version": version, "broken": broken }));
        true
    }

    /// Looks through everything that deserves a look, and tells when that is done.
    pub(super) fn check(&self) {
        let bench = self.bench();
        if bench.check(&self.home) {
            self.tell(serde_json::json!({ "news": "checked", "version": bench.version }));
        }
    }

    /// Tells every page.
    pub(super) fn tell(&self, news: Value) {
        // Nobody may be listening.
        let _ = self.news.send(news);
    }

    /// Listens for news.
    pub(super) fn listen(&self) -> broadcast::Receiver<Value> {
        self.news.subscribe()
    }

    /// Holds other writers off.
    pub(super) fn write(&self) -> std::sync::MutexGuard<'_, ()> {
        self.writing.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Holds other long work off; `None` while some is at hand.
    pub(super) fn busy(&self) -> Option<Busy<'_>> {
        let free = self.busy.compare_exchange(false, true, Ordering::AcqRel, Ordering::Acquire).is_ok();
        free.then(|| Busy(&self.busy))
    }

    /// Closes the studio.
    pub(super) fn close(&self) {
        self.closing.send_replace(true);
    }

    /// Waits until it is closing.
    pub(super) async fn closed(&self) {
        let mut closing = self.closing.subscribe();
        // The sender lives as long as the studio.
        let _ = closing.wait_for(|closing| *closing).await;
    }
}
