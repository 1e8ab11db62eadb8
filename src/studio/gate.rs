//! Who may speak to the studio: whoever has its address, from its own page. Must not know what is asked.

use super::reply::Reply;
use crate::desk::Fault;
use crate::sheet::digest;
use axum::http::{HeaderMap, Method, header};
use std::fmt::Write as _;

/// Bytes of the key in the address: 256 bits can't be guessed.
const KEY: usize = 32;

/// The studio's door.
#[derive(Debug)]
pub(super) struct Gate {
    port: u16,
    key: String,
    /// What a key is compared by: equal digests say equal keys, and how far unequal ones agree says nothing.
    digest: String,
}

impl Gate {
    /// A door with a fresh key.
    pub(super) fn new(port: u16) -> Result<Self, Fault> {
        let mut bytes = [0_u8; KEY];
        getrandom::fill(&mut bytes).map_err(|error| Fault::Io(std::io::Error::other(error.to_string())))?;
        let mut key = String::with_capacity(KEY * 2);
        for byte in bytes {
            let _ = write!(key, "{byte:02x}");
        }
        Ok(Self { port, digest: digest(key.as_bytes()), key })
    }

    /// The address of the page.
    pub(super) fn address(&self) -> String {
        format!("http://127.0.0.1:{}/{}/", self.port, self.key)
    }

    /// What is asked for below the key, or why nothing is.
    pub(super) fn admit<'p>(&self, method: &Method, path: &'p str, headers: &HeaderMap) -> Result<&'p str, Reply> {
        let header = |name: header::HeaderName| headers.get(name).and_then(|value| value.to_str().ok());
        let hosts = [format!("127.0.0.1:{}", self.port), format!("localhost:{}", self.port)];
        // A name that was pointed here from elsewhere comes with that name (DNS rebinding).
        if headers.get_all(header::HOST).iter().count() != 1
            || !header(header::HOST).is_some_and(|host| hosts.iter().any(|own| own == host))
        {
            return Err(Reply::refused(421, "this is no address of the studio"));
        }
        let own = |origin: &str| hosts.iter().any(|host| origin == format!("http://{host}"));
        let origin = headers.contains_key(header::ORIGIN).then(|| header(header::ORIGIN).is_some_and(own));
        let site = headers.get("sec-fetch-site").map(|value| value.to_str().unwrap_or_default());
        let foreign = origin == Some(false) || site.is_some_and(|site| !matches!(site, "same-origin" | "none"));
        if foreign {
            return Err(Reply::refused(403, "another site may not speak to the studio"));
        }
        let (key, rest) = path.strip_prefix('/').and_then(|path| path.split_once('/')).unwrap_or_default();
        if digest(key.as_bytes()) != self.digest {
            return Err(Reply::refused(404, "there is nothing here: use the address that the studio printed"));
        }
        match *method {
            Method::GET => Ok(rest),
            Method::POST if origin != Some(true) => Err(Reply::refused(403, "only the studio's own page may do that")),
            Method::POST => {
                let kind = header(header::CONTENT_TYPE).unwrap_or_default();
                let json = kind.split(';').next().is_some_and(|kind| kind.trim() == "application/json");
                if json { Ok(rest) } else { Err(Reply::refused(415, "the studio reads JSON")) }
            }
            _ => Err(Reply::refused(405, "the studio is asked by GET and told by POST")),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn headers(list: &[(&'static str, &str)]) -> HeaderMap {
        list.iter().map(|(name, value)| (name.parse().expect("a name"), value.parse().expect("a value"))).collect()
    }

    #[test]
    fn only_its_own_page_is_admitted() {
        let gate = Gate::new(4321).unwrap_or_else(|_| panic!("random"));
        let path = format!("/{}/state", gate.key);
        let status = |method: Method, path: &str, list: &[(&'static str, &str)]| {
            gate.admit(&method, path, &headers(list)).map(str::to_owned).map_err(|reply| reply.status)
        };
        let host = ("host", "127.0.0.1:4321");
        assert_eq!(status(Method::GET, &path, &[host]), Ok("state".into()));
        assert_eq!(status(Method::GET, &path, &[("host", "localhost:4321")]), Ok("state".into()));
        for wrong in ["127.0.0.1", "127.0.0.1:80", "evil.example:4321", "127.0.0.1:4321.evil.example", ""] {
            assert_eq!(status(Method::GET, &path, &[("host", wrong)]), Err(421), "{wrong}");
        }
        assert_eq!(status(Method::GET, &path, &[]), Err(421));
        assert_eq!(status(Method::GET, &path, &[host, host]), Err(421));
        assert_eq!(status(Method::GET, &path, &[host, ("origin", "http://evil.example")]), Err(403));
        assert_eq!(status(Method::GET, &path, &[host, ("origin", "null")]), Err(403));
        assert_eq!(status(Method::GET, &path, &[host, ("sec-fetch-site", "cross-site")]), Err(403));
        assert_eq!(status(Method::GET, &path, &[host, ("sec-fetch-site", "same-site")]), Err(403));
        let mut other = gate.key.clone();
        other.replace_range(63.., if other.ends_with('0') { "1" } else { "0" });
        for wrong in ["/state", "//state", "/0/state", "/", "", &format!("/{other}/state"), &format!("/{}", gate.key)] {
            assert_eq!(status(Method::GET, wrong, &[host]), Err(404), "{wrong}");
        }
        let own = ("origin", "http://127.0.0.1:4321");
        let json = ("content-type", "application/json");
        assert_eq!(status(Method::POST, &path, &[host, own, json]), Ok("state".into()));
        assert_eq!(status(Method::POST, &path, &[host, json]), Err(403), "a form of another page has no such origin");
        assert_eq!(status(Method::POST, &path, &[host, own]), Err(415));
        assert_eq!(status(Method::POST, &path, &[host, own, ("content-type", "text/plain")]), Err(415));
        assert_eq!(status(Method::OPTIONS, &path, &[host]), Err(405));
        assert_eq!(status(Method::DELETE, &path, &[host, own, json]), Err(405));
        assert_ne!(gate.key, Gate::new(4321).unwrap_or_else(|_| panic!("random")).key);
    }
}
