//! Who is answered: only pages of this very address, asked for under a loopback name.
//!
//! Another site that a browser shows can send requests to this machine, and a name of its own can be made to point here.
//! So the `Host` asked for must be a loopback one with our port, an `Origin` must be the same as that host, and whatever
//! changes something must name its origin. <https://owasp.org/www-community/attacks/csrf> (from memory) tells the one
//! danger, <https://en.wikipedia.org/wiki/DNS_rebinding> (from memory) the other.

use crate::speech::locale_of;
use axum::extract::{Request, State};
use axum::http::header::{self, HeaderMap, HeaderName, HeaderValue};
use axum::http::{Method, StatusCode};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use report::say;

/// Everything from ourselves, and nothing inline.
pub(crate) const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; font-src 'self'; \
     connect-src 'self'; media-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

/// The names under which this machine may ask itself, with a port.
#[derive(Debug, Clone)]
pub(crate) struct Names {
    hosts: [String; 3],
}

impl Names {
    pub(crate) fn at(port: u16) -> Names {
        Names {
            hosts: ["127.0.0.1", "localhost", "[::1]"].map(|name| format!("{name}:{port}")),
        }
    }

    /// Whether a request is from our own page, or from whoever types our address.
    fn admit(&self, method: &Method, headers: &HeaderMap) -> bool {
        let only = |name: &HeaderName| -> Result<Option<&str>, ()> {
            let mut all = headers.get_all(name).iter();
            match (all.next(), all.next()) {
                (None, _) => Ok(None),
                (Some(one), None) => one.to_str().map(Some).map_err(|_| ()),
                (Some(_), Some(_)) => Err(()),
            }
        };
        let Ok(Some(host)) = only(&header::HOST) else {
            return false;
        };
        if !self.hosts.iter().any(|own| own == host) {
            return false;
        }
        let reads = *method == Method::GET || *method == Method::HEAD;
        match only(&header::ORIGIN) {
            Ok(Some(origin)) => origin.strip_prefix("http://") == Some(host),
            Ok(None) => reads,
            Err(()) => false,
        }
    }
}

/// Marks a request that a page of another site made: it is answered, as it may only be read there by whoever sits before it, and
/// nothing is changed for it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Foreign;

/// Whether a request says that it comes from elsewhere: `Sec-Fetch-Site` (W3C Fetch Metadata Request Headers, 2.3, from memory),
/// or, of browsers that do not send it, a `Referer` of another origin.
fn is_foreign(headers: &HeaderMap) -> bool {
    let text = |name: &str| headers.get(name).map(|value| value.to_str().unwrap_or("?"));
    match (text("sec-fetch-site"), text("referer"), text("host")) {
        (Some(site), ..) => !matches!(site, "same-origin" | "none"),
        (None, Some(from), Some(host)) => {
            let path = (from.strip_prefix("http://")).and_then(|from| from.strip_prefix(host));
            !path.is_some_and(|path| path.is_empty() || path.starts_with('/'))
        }
        _ => false,
    }
}

/// Refuses strangers, and sends what keeps a page to itself along with every answer.
pub(crate) async fn guard(
    State(names): State<Names>,
    mut request: Request,
    next: Next,
) -> Response {
    if is_foreign(request.headers()) {
        request.extensions_mut().insert(Foreign);
    }
    let mut response = if names.admit(request.method(), request.headers()) {
        next.run(request).await
    } else {
        let words = locale_of(request.headers());
        (StatusCode::FORBIDDEN, say!(words, "refused-foreign")).into_response()
    };
    let headers = response.headers_mut();
    for (name, value) in [
        (header::CONTENT_SECURITY_POLICY, POLICY),
        (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
        (header::REFERRER_POLICY, "same-origin"),
        (
            HeaderName::from_static("cross-origin-opener-policy"),
            "same-origin",
        ),
        (
            HeaderName::from_static("cross-origin-resource-policy"),
            "same-origin",
        ),
    ] {
        headers.insert(name, HeaderValue::from_static(value));
    }
    if !headers.contains_key(header::CACHE_CONTROL) {
        headers.insert(header::CACHE_CONTROL, HeaderValue::from_static("no-store"));
    }
    response
}
