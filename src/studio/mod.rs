//! The studio: a local page that a creator works in, alive to every edit of the sources.
//!
//! Owns the server, who may speak to it, what it keeps in memory and what the page can ask for. Must not know how anything
//! asked for is made: the desk does the work. It listens on the loopback address alone.

mod answer;
mod bench;
mod events;
mod first;
mod gate;
mod looks;
mod picture;
mod reply;
mod state;
mod watch;
mod work;
mod write;

use crate::desk::{Fault, Home};
use axum::Router;
use axum::extract::{Request, State};
use axum::response::Response;
use gate::Gate;
use state::Studio;
use std::net::{Ipv4Addr, SocketAddr};
use std::path::PathBuf;
use std::sync::Arc;
use std::time::Duration;
use tokio::net::TcpListener;

/// How long work at hand may go on after the studio is told to close.
const GRACE: Duration = Duration::from_secs(3);

/// How a studio is opened.
#[derive(Clone, Debug)]
pub struct Options {
    /// The channel; it may not be there yet.
    pub home: Home,
    /// Where publishing goes to.
    pub out: PathBuf,
    /// The port; 0 for any that is free.
    pub port: u16,
    /// Whether the browser is opened.
    pub browser: bool,
}

/// Serves the studio until it is closed: by its button, Ctrl-C or a request to terminate. `say` is told the address.
///
/// # Errors
/// A port that is taken, or a machine that gives no random number.
pub fn serve(options: Options, say: &dyn Fn(&str)) -> Result<(), Fault> {
    let runtime = tokio::runtime::Builder::new_current_thread().enable_io().enable_time().build()?;
    let done = runtime.block_on(run(options, say));
    // What a blocking task still does is not waited for any longer.
    runtime.shutdown_timeout(GRACE);
    done
}

async fn run(options: Options, say: &dyn Fn(&str)) -> Result<(), Fault> {
    let listener = TcpListener::bind(SocketAddr::from((Ipv4Addr::LOCALHOST, options.port))).await.map_err(|error| {
        Fault::Request(format!("port {} can't be had: {error}; give another with `--port`, or none", options.port))
    })?;
    let gate = Gate::new(listener.local_addr()?.port())?;
    let address = gate.address();
    let browser = options.browser;
    let studio = Arc::new(Studio::new(options.home, options.out, gate));
    studio.open();
    say(&address);
    if browser {
        // Where there is no browser the address is there to be copied.
        let _ = open::that_detached(&address);
    }
    let app = Router::new().fallback(handle).with_state(Arc::clone(&studio));
    let closing = Arc::clone(&studio);
    let serving = axum::serve(listener, app).with_graceful_shutdown(async move { closed(&closing).await });
    let late = Arc::clone(&studio);
    tokio::select! {
        done = async { serving.await } => done?,
        () = async { late.closed().await; tokio::time::sleep(GRACE).await } => {}
    }
    Ok(())
}

/// Waits for the button or a signal.
async fn closed(studio: &Studio) {
    #[cfg(unix)]
    let terminate = async {
        match tokio::signal::unix::signal(tokio::signal::unix::SignalKind::terminate()) {
            Ok(mut signal) => drop(signal.recv().await),
            Err(_) => std::future::pending().await,
        }
    };
    #[cfg(not(unix))]
    let terminate = std::future::pending::<()>();
    tokio::select! {
        () = studio.closed() => {}
        _ = tokio::signal::ctrl_c() => {}
        () = terminate => {}
    }
    studio.close();
}

async fn handle(State(studio): State<Arc<Studio>>, request: Request) -> Response {
    answer::handle(studio, request).await
}
