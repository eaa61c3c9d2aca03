//! Guard: who may ask. Only this machine's browser, under our own name, with the key that was printed in the terminal.

use crate::preview::answer::Declined;
use axum::extract::{Request, State};
use axum::http::{HeaderMap, HeaderName, HeaderValue, StatusCode, Uri, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use std::sync::Arc;

pub struct Guard {
    port: u16,
    key: String,
}

/// Bytes of a key: 128 bits.
const KEY: usize = 16;

/// Said with every answer: nothing from outside, nothing inside another page, no guessing of types.
const HEADERS: [(HeaderName, &str); 6] = [
    (
        header::CONTENT_SECURITY_POLICY,
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; connect-src 'self'; base-uri 'none'; \
         form-action 'none'; frame-ancestors 'none'",
    ),
    (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
    (header::REFERRER_POLICY, "no-referrer"),
    (header::X_FRAME_OPTIONS, "DENY"),
    (HeaderName::from_static("cross-origin-opener-policy"), "same-origin"),
    (HeaderName::from_static("cross-origin-resource-policy"), "same-origin"),
];

impl Guard {
    /// With a new key from the system's source of chance; the reason where it has none.
    pub fn new(port: u16) -> Result<Guard, String> {
        let mut bytes = [0; KEY];
        getrandom::fill(&mut bytes).map_err(|fault| format!("the system gives no random key: {fault}"))?;
        let digits = bytes.map(|byte| format!("{byte:02x}"));
        Ok(Guard { port, key: digits.concat() })
    }

    /// Where the page is opened.
    pub fn address(&self) -> String {
        format!("http://127.0.0.1:{}/?key={}", self.port, self.key)
    }

    /// Cookies are shared by all ports of a machine: each preview has one of its own.
    fn cookie(&self) -> String {
        format!("jaconet-{}", self.port)
    }

    /// Why a request is refused; `Ok(true)` when it brought the key in its address.
    fn judge(&self, uri: &Uri, headers: &HeaderMap) -> Result<bool, Declined> {
        let refused = |message: &str, help: &str| Err(Declined::new(StatusCode::FORBIDDEN, message, help));
        let here = "open the address that `jaconet preview` printed in the terminal";
        let mut hosts = headers.get_all(header::HOST).iter();
        let host = hosts.next().and_then(|host| host.to_str().ok()).unwrap_or_default();
        let asked = uri.authority().map_or(host, |authority| authority.as_str());
        if hosts.next().is_some() || !self.is_ours(host) || !self.is_ours(asked) {
            return refused("this server answers only under its own name, 127.0.0.1 or localhost", here);
        }
        for origin in headers.get_all(header::ORIGIN) {
            let name = origin.to_str().ok().and_then(|origin| origin.strip_prefix("http://"));
            if !name.is_some_and(|name| self.is_ours(name)) {
                return refused("another page may not ask this server", here);
            }
        }
        if uri.path() == "/" && query_key(uri).is_some_and(|key| same(key, &self.key)) {
            return Ok(true);
        }
        if self.brings_cookie(headers) {
            Ok(false)
        } else {
            refused("the key is missing or is that of an earlier run", here)
        }
    }

    fn is_ours(&self, name: &str) -> bool {
        let stated = name.rsplit_once(':').filter(|(_, port)| port.parse() == Ok(self.port));
        stated.is_some_and(|(host, _)| ["127.0.0.1", "localhost", "[::1]"].contains(&host))
    }

    fn brings_cookie(&self, headers: &HeaderMap) -> bool {
        let lines = headers.get_all(header::COOKIE).iter().filter_map(|line| line.to_str().ok());
        let mut cookies = lines.flat_map(|line| line.split(';')).filter_map(|cookie| cookie.trim().split_once('='));
        cookies.any(|(name, value)| name == self.cookie() && same(value, &self.key))
    }
}

fn query_key(uri: &Uri) -> Option<&str> {
    uri.query()?.split('&').find_map(|part| part.strip_prefix("key="))
}

/// Takes as long whichever letter is wrong.
fn same(one: &str, other: &str) -> bool {
    let differ = one.bytes().zip(other.bytes()).fold(0, |differ, (one, other)| differ | (one ^ other));
    one.len() == other.len() && differ == 0
}

/// Stands before every request.
pub async fn guard(State(guard): State<Arc<Guard>>, request: Request, next: Next) -> Response {
    let judged = guard.judge(request.uri(), request.headers());
    let mut response = match &judged {
        Ok(_) => next.run(request).await,
        Err(_) => StatusCode::FORBIDDEN.into_response(),
    };
    let enters = match judged {
        Ok(enters) => enters,
        Err(declined) => {
            response = declined.into_response();
            false
        }
    };
    let headers = response.headers_mut();
    if enters {
        let cookie = format!("{}={}; HttpOnly; SameSite=Strict; Path=/", guard.cookie(), guard.key);
        let cookie = HeaderValue::try_from(cookie).expect("a number and hexadecimal digits are visible ASCII");
        headers.insert(header::SET_COOKIE, cookie);
    }
    for (name, value) in HEADERS {
        headers.insert(name, HeaderValue::from_static(value));
    }
    headers.entry(header::CACHE_CONTROL).or_insert(HeaderValue::from_static("no-store"));
    response
}

#[cfg(test)]
mod tests {
    use super::*;

    fn judged(uri: &str, headers: &[(&str, &str)]) -> Option<bool> {
        let guard = Guard { port: 4000, key: "a1".to_owned() };
        let mut all = HeaderMap::new();
        for (name, value) in headers {
            all.append(HeaderName::try_from(*name).expect("a name"), HeaderValue::try_from(*value).expect("a value"));
        }
        guard.judge(&uri.parse().expect("an address"), &all).ok()
    }

    const HOST: (&str, &str) = ("host", "127.0.0.1:4000");
    const COOKIE: (&str, &str) = ("cookie", "other=1; jaconet-4000=a1");

    #[test]
    fn the_key_opens_the_page_and_the_cookie_the_rest() {
        assert_eq!(judged("/?key=a1", &[HOST]), Some(true));
        assert_eq!(judged("/state", &[HOST, COOKIE]), Some(false));
        assert_eq!(
            judged("/state", &[("host", "localhost:4000"), COOKIE, ("origin", "http://[::1]:4000")]),
            Some(false)
        );
        for uri in ["/state?key=a1", "/?key=a2", "/?key=", "/", "/?key=a1x"] {
            assert_eq!(judged(uri, &[HOST]), None, "{uri}");
        }
    }

    #[test]
    fn other_names_are_refused() {
        for host in
            ["evil.example:4000", "127.0.0.1", "127.0.0.1:4001", "127.0.0.1.evil.example:4000", "", "0.0.0.0:4000"]
        {
            assert_eq!(judged("/state", &[("host", host), COOKIE]), None, "{host}");
        }
        assert_eq!(judged("/state", &[COOKIE]), None);
        assert_eq!(judged("/state", &[HOST, ("host", "evil.example:4000"), COOKIE]), None);
        assert_eq!(judged("http://evil.example/state", &[HOST, COOKIE]), None);
        for origin in ["http://evil.example", "null", "https://127.0.0.1:4000", "http://127.0.0.1:80"] {
            assert_eq!(judged("/state", &[HOST, COOKIE, ("origin", origin)]), None, "{origin}");
        }
    }

    #[test]
    fn keys_are_long_and_never_the_same() {
        let key = || Guard::new(1).expect("there is chance").key;
        assert!(key().len() == 32 && key() != key());
    }
}
