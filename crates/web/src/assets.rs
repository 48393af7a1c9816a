//! What the page is dressed in, carried in the binary.

use crate::desk::Desk;
use axum::Router;
use axum::http::header;
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use std::sync::Arc;

const STYLE: &str = include_str!("../assets/bench.css");
/// The typeface of all pages.
pub(crate) const FONTS: &str = include_str!("../assets/fonts.css");
const SCRIPT: &str = include_str!("../assets/bench.js");
const STRIKE: &str = include_str!("../assets/strike.js");
const LISTEN: &str = include_str!("../assets/listen.js");
const EAR: &str = include_str!("../assets/ear.js");
const EARLY: &str = include_str!("../assets/slate.js");
const SERIF: &[u8] = include_bytes!("../assets/serif.woff2");
const ITALIC: &[u8] = include_bytes!("../assets/serif-italic.woff2");
const ICON: &str = include_str!("../assets/icon.svg");

/// A typeface does not change between starts that matter; the rest comes afresh from this same machine each time.
const KEPT: &str = "max-age=86400";

/// What pages are dressed in and moved by.
pub(crate) fn routes() -> Router<Arc<Desk>> {
    Router::new()
        .route("/bench.css", get(style))
        .route("/bench.js", get(script))
        .route("/slate.js", get(early))
        .route("/strike.js", get(strike))
        .route("/listen.js", get(listen))
        .route("/ear.js", get(ear))
        .route("/serif.woff2", get(serif))
        .route("/serif-italic.woff2", get(italic))
        .route("/icon.svg", get(icon))
}

fn sent(kind: &'static str, kept: &'static str, body: impl IntoResponse) -> Response {
    (
        [(header::CONTENT_TYPE, kind), (header::CACHE_CONTROL, kept)],
        body,
    )
        .into_response()
}

async fn style() -> Response {
    sent(
        "text/css; charset=utf-8",
        "no-cache",
        [FONTS, draw::STYLE, STYLE].concat(),
    )
}

async fn script() -> Response {
    sent("text/javascript; charset=utf-8", "no-cache", SCRIPT)
}

async fn strike() -> Response {
    sent("text/javascript; charset=utf-8", "no-cache", STRIKE)
}

async fn listen() -> Response {
    sent("text/javascript; charset=utf-8", "no-cache", LISTEN)
}

async fn ear() -> Response {
    sent("text/javascript; charset=utf-8", "no-cache", EAR)
}

async fn early() -> Response {
    sent("text/javascript; charset=utf-8", "no-cache", EARLY)
}

async fn serif() -> Response {
    sent("font/woff2", KEPT, SERIF)
}

async fn italic() -> Response {
    sent("font/woff2", KEPT, ITALIC)
}

async fn icon() -> Response {
    sent("image/svg+xml", KEPT, ICON)
}
