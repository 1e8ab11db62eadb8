//! News for the page, as server-sent events: one connection that says nothing while nothing happens. Must not know the news.

use super::reply::secured;
use super::state::Studio;
use axum::response::sse::{Event, Sse};
use axum::response::{IntoResponse as _, Response};
use futures_util::stream::unfold;
use std::convert::Infallible;
use std::sync::Arc;
use tokio::sync::broadcast::error::RecvError;

/// A stream of news that ends when the studio closes.
pub(super) fn stream(studio: Arc<Studio>) -> Response {
    let news = studio.listen();
    // What happened before the page listened is told by the version it starts from.
    let hello = serde_json::json!({ "news": "hello", "version": studio.bench().version });
    let stream = unfold((studio, news, Some(hello)), |(studio, mut news, first)| async move {
        let told = match first {
            Some(hello) => hello,
            None => tokio::select! {
                told = news.recv() => match told {
                    Ok(told) => told,
                    // The page was slow: it reads everything anew.
                    Err(RecvError::Lagged(_)) => serde_json::json!({ "news": "hello", "version": studio.bench().version }),
                    Err(RecvError::Closed) => return None,
                },
                () = studio.closed() => return None,
            },
        };
        let event = Event::default().data(told.to_string());
        Some((Ok::<Event, Infallible>(event), (studio, news, None)))
    });
    secured(Sse::new(stream).into_response(), "text/event-stream")
}
