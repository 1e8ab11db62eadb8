//! From a request to an answer: admitted, bounded, read, and passed to whoever knows. Must not know what is asked.

use super::bench::Good;
use super::picture::Wish;
use super::reply::Reply;
use super::state::Studio;
use super::{events, first, looks, work, write};
use crate::desk::Fault;
use crate::slate::Asked;
use crate::theme::builtin_files;
use axum::body::to_bytes;
use axum::extract::Request;
use axum::http::Method;
use axum::response::Response;
use serde::de::DeserializeOwned;
use std::sync::Arc;

/// The largest body that is read: captions of many hours.
const BODY: usize = 4 << 20;
/// The longest address that is read.
const ADDRESS: usize = 8 << 10;

/// Answers a request.
pub(super) async fn handle(studio: Arc<Studio>, request: Request) -> Response {
    let (parts, body) = request.into_parts();
    let rest = match studio.gate.admit(&parts.method, parts.uri.path(), &parts.headers) {
        Ok(rest) => rest.to_owned(),
        Err(refused) => return refused.response(),
    };
    let query = parts.uri.query().unwrap_or_default().to_owned();
    if query.len() > ADDRESS {
        return Reply::refused(414, "the address is too long").response();
    }
    if parts.method == Method::GET && rest == "events" {
        return events::stream(studio);
    }
    let Ok(body) = to_bytes(body, BODY).await else {
        return Reply::refused(413, "that is too much: the studio reads up to four megabytes").response();
    };
    let telling = parts.method == Method::POST;
    let answered =
        tokio::task::spawn_blocking(
            move || {
                if telling { told(&studio, &rest, &body) } else { asked(&studio, &rest, &query) }
            },
        );
    match answered.await {
        Ok(reply) => reply.response(),
        Err(_) => Reply::refused(500, "the studio stumbled: try again").response(),
    }
}

/// What is asked for.
fn asked(studio: &Arc<Studio>, rest: &str, query: &str) -> Reply {
    let query = Query::new(query);
    let answered = match rest {
        "" => Ok(Reply::file("text/html; charset=utf-8", include_str!("web/index.html"))),
        "studio.css" => Ok(Reply::file("text/css; charset=utf-8", include_str!("web/studio.css"))),
        "studio.js" => Ok(script(include_str!("web/studio.js"))),
        "kit.js" => Ok(script(include_str!("web/kit.js"))),
        "stage.js" => Ok(script(include_str!("web/stage.js"))),
        "words.js" => Ok(script(include_str!("web/words.js"))),
        "drawers.js" => Ok(script(include_str!("web/drawers.js"))),
        "first.js" => Ok(script(include_str!("web/first.js"))),
        "icon.svg" => Ok(Reply::file("image/svg+xml", include_str!("web/icon.svg"))),
        "heading.ttf" => font("fonts/Vollkorn-Bold.ttf"),
        "text.ttf" => font("fonts/AlegreyaSans-Medium.ttf"),
        "strong.ttf" => font("fonts/AlegreyaSans-ExtraBold.ttf"),
        "state" => Ok(Reply::json(&looks::state(studio))),
        "view" => query.wish().and_then(|wish| looks::view(studio, &wish)).map(|value| Reply::json(&value)),
        "card.png" => picture(studio, &query),
        "text" => write::text(studio, query.one("path").unwrap_or_default()),
        "prices" => looks::prices(studio, query.one("item")).map(|value| Reply::json(&value)),
        "notes" => query.wish().and_then(|wish| work::notes(studio, &wish, query.one("format").unwrap_or("plain"))),
        _ => Ok(Reply::refused(404, "there is nothing of that name")),
    };
    answered.unwrap_or_else(|fault| Reply::fault(&fault))
}

/// What is told.
fn told(studio: &Arc<Studio>, rest: &str, body: &[u8]) -> Reply {
    let answered = match rest {
        "check" => read(body).and_then(|draft| write::check(studio, &draft)),
        "save" => read(body).and_then(|draft| write::save(studio, &draft)),
        "price" => read(body).and_then(|price| write::price(studio, &price)),
        "what-if" => read(body).and_then(|asked| work::what_if(studio, &asked)),
        "proof" => read(body).and_then(|asked| work::proof(studio, &asked)),
        "slate" => read(body).and_then(|asked| work::slate(studio, &asked)),
        "publish" => work::publish(studio),
        "show" => work::show(studio),
        "begin" => read(body).and_then(|answers| first::begin(studio, &answers)),
        "close" => {
            studio.close();
            Ok(Reply::json(&serde_json::json!({ "closing": true })))
        }
        _ => Ok(Reply::refused(404, "there is nothing of that name")),
    };
    answered.unwrap_or_else(|fault| Reply::fault(&fault))
}

fn read<T: DeserializeOwned>(body: &[u8]) -> Result<T, Fault> {
    serde_json::from_slice(body).map_err(|error| Fault::Request(format!("what was sent can't be read: {error}")))
}

fn script(text: &'static str) -> Reply {
    Reply::file("text/javascript; charset=utf-8", text)
}

/// A font of the house's own.
fn font(path: &str) -> Result<Reply, Fault> {
    let files = builtin_files("harbour").unwrap_or_default();
    let found = files.into_iter().find(|file| file.path == path);
    Ok(found.map_or_else(
        || Reply::refused(404, "there is no such font"),
        |file| Reply::file("font/ttf", file.bytes.to_vec()),
    ))
}

fn picture(studio: &Studio, query: &Query) -> Result<Reply, Fault> {
    let bench = studio.bench();
    let good: &Good = bench.good()?;
    let small = query.one("small").is_some();
    let name = query.one("card").unwrap_or("title");
    let found = good.picture(&query.wish()?, name, small)?;
    Ok(found.map_or_else(
        || Reply::refused(404, "the recipe has no card of that name"),
        |bytes| Reply::file("image/png", bytes.as_slice()),
    ))
}

/// The fields of an address.
struct Query(Vec<(String, String)>);

impl Query {
    fn new(text: &str) -> Self {
        Self(form_urlencoded::parse(text.as_bytes()).into_owned().collect())
    }

    fn one(&self, name: &str) -> Option<&str> {
        self.0.iter().find(|(key, value)| key == name && !value.is_empty()).map(|(_, value)| value.as_str())
    }

    /// What is to be seen.
    fn wish(&self) -> Result<Wish, Fault> {
        let own = |name: &str| self.one(name).map(str::to_owned);
        let have =
            self.0.iter().filter(|(key, value)| key == "have" && !value.is_empty()).map(|(_, value)| value.clone());
        let asked = Asked {
            makes: own("makes"),
            batch: own("batch"),
            have: have.collect(),
            times: own("times"),
            variant: own("variant"),
            on: own("on"),
        };
        let recipe = own("recipe").ok_or_else(|| Fault::Request("no recipe is named".into()))?;
        Ok(Wish { recipe, asked, frame: own("frame").unwrap_or_default() })
    }
}
