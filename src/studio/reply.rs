//! What the studio answers: a body, its kind, and the headers that keep a page to itself. Must not know what is asked.

use crate::desk::Fault;
use crate::diag::{Diagnostic, Severity, one_line};
use crate::span::Texts;
use axum::body::Body;
use axum::http::{HeaderName, HeaderValue, StatusCode, header};
use axum::response::Response;
use serde_json::{Value, json};

/// Nothing but the studio's own files; no script or style in the page, and no other site's.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; font-src 'self'; \
                      connect-src 'self'; form-action 'none'; base-uri 'none'; frame-ancestors 'none'";

/// An answer.
#[derive(Debug)]
pub(super) struct Reply {
    pub(super) status: u16,
    pub(super) kind: &'static str,
    pub(super) body: Vec<u8>,
}

impl Reply {
    /// A file of that kind.
    pub(super) fn file(kind: &'static str, body: impl Into<Vec<u8>>) -> Self {
        Self { status: 200, kind, body: body.into() }
    }

    /// Data.
    pub(super) fn json(value: &Value) -> Self {
        Self::file("application/json", value.to_string())
    }

    /// A refusal in words.
    pub(super) fn refused(status: u16, why: &str) -> Self {
        Self { status, ..Self::json(&json!({ "error": why })) }
    }

    /// Why something can't be had, with places where there are some.
    pub(super) fn fault(fault: &Fault) -> Self {
        match fault {
            // A name of an option is a name of a field here.
            Fault::Request(why) => Self::refused(422, &why.replace("`--", "`")),
            Fault::Meanwhile(why) => Self::refused(409, why),
            Fault::Io(error) => Self::refused(500, &format!("the machine would not: {error}")),
            Fault::Findings(findings, texts) => {
                let list: Vec<Value> = findings.sorted().iter().map(|found| finding(found, texts)).collect();
                let errors = findings.sorted().into_iter().filter(|found| found.severity == Severity::Error);
                let lines: Vec<String> = errors.map(|found| one_line(found, texts)).collect();
                Self { status: 422, ..Self::json(&json!({ "error": lines.join("\n"), "findings": list })) }
            }
        }
    }

    /// With the headers that every answer has.
    pub(super) fn response(self) -> Response {
        let mut response = Response::new(Body::from(self.body));
        *response.status_mut() = StatusCode::from_u16(self.status).unwrap_or(StatusCode::INTERNAL_SERVER_ERROR);
        secured(response, self.kind)
    }
}

/// An answer with the headers that every answer has.
pub(super) fn secured(mut response: Response, kind: &'static str) -> Response {
    let fixed = |name: &'static str, value: &'static str| (HeaderName::from_static(name), value);
    let all = [
        (header::CONTENT_TYPE, kind),
        (header::CONTENT_SECURITY_POLICY, POLICY),
        (header::CACHE_CONTROL, "no-store"),
        (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
        (header::REFERRER_POLICY, "no-referrer"),
        (header::X_FRAME_OPTIONS, "DENY"),
        fixed("cross-origin-resource-policy", "same-origin"),
        fixed("cross-origin-opener-policy", "same-origin"),
        fixed("permissions-policy", "camera=(), microphone=(), geolocation=()"),
    ];
    for (name, value) in all {
        response.headers_mut().insert(name, HeaderValue::from_static(value));
    }
    response
}

/// A finding with its place: the path below the channel's folder, line, column and length in characters.
pub(super) fn finding(found: &Diagnostic, texts: &Texts) -> Value {
    let place = found.span.and_then(|span| {
        let text = texts.get(span.source)?;
        let (line, column) = text.position(span.start);
        let end = text.line_range(line).end;
        let marked = text.content.get(span.start..span.end.min(end).max(span.start)).unwrap_or("");
        Some(json!({ "path": text.path, "line": line, "column": column, "length": marked.chars().count() }))
    });
    let severity = match found.severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
    };
    json!({ "severity": severity, "code": found.code, "message": found.message, "hint": found.hint, "place": place })
}
