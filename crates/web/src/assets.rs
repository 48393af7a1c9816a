//! What the page is dressed in, carried in the binary.

use crate::desk::Desk;
use axum::Router;
use axum::extract::Path;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use std::sync::Arc;

const STYLE: &str = include_str!("../assets/bench.css");
/// The typeface of all pages.
pub(crate) const FONTS: &str = include_str!("../assets/fonts.css");
const SERIF: &[u8] = include_bytes!("../assets/serif.woff2");
const ITALIC: &[u8] = include_bytes!("../assets/serif-italic.woff2");
const ICON: &str = include_str!("../assets/icon.svg");

/// A script by the last of its address, with its text.
macro_rules! scripts {
    ($($name:literal)*) => { [$(($name, include_str!(concat!("../assets/script/", $name)))),*] };
}

/// Every script of every page: `slate.js` runs before anything is painted, `ear.js` beside the page, the others are modules.
const SCRIPTS: [(&str, &str); 27] = scripts! {
    "aloud.js" "answers.js" "awake.js" "bell.js" "bench.js" "boxes.js" "closeup.js" "counting.js" "drag.js" "ear.js" "earlier.js" "jumped.js"
    "keys.js" "listening.js" "lying.js" "microphone.js" "minded.js" "page.js" "places.js" "played.js" "recording.js" "refuse.js" "running.js" "shade.js" "slate.js"
    "steps.js" "unentered.js"
};

/// A typeface does not change between starts that matter; the rest comes afresh from this same machine each time.
const KEPT: &str = "max-age=86400";

/// What pages are dressed in and moved by.
pub(crate) fn routes() -> Router<Arc<Desk>> {
    Router::new()
        .route("/bench.css", get(style))
        .route("/script/{name}", get(script))
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

async fn script(Path(name): Path<String>) -> Response {
    match SCRIPTS.iter().find(|(own, _)| *own == name) {
        Some((_, text)) => sent("text/javascript; charset=utf-8", "no-cache", *text),
        None => StatusCode::NOT_FOUND.into_response(),
    }
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
