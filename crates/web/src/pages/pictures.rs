//! The pictures of jobs: whole, and small.

use crate::asked::{Answer, PageRequest, read};
use crate::desk::{Desk, Refused};
use axum::Router;
use axum::http::header;
use axum::response::IntoResponse;
use book::Size;
use entries::Digest;
use std::sync::Arc;

pub(super) fn routes() -> Router<Arc<Desk>> {
    Router::new()
        .route("/picture/{digest}", read(picture))
        .route("/picture/{digest}/small", read(preview))
}

fn picture(asked: &PageRequest) -> Answer {
    bytes(asked, Size::Whole)
}

fn preview(asked: &PageRequest) -> Answer {
    bytes(asked, Size::Preview)
}

fn bytes(asked: &PageRequest, size: Size) -> Answer {
    let digest = Digest::parse(asked.named("digest")?).ok_or(Refused::Nothing)?;
    let (form, bytes) = asked.desk.book.picture_bytes(&digest, size)?;
    // Whoever knows the name knows the bytes; but a removal must reach the browser too.
    let kind = [
        (header::CONTENT_TYPE, form.media_type()),
        (header::CACHE_CONTROL, "no-store"),
    ];
    Ok((kind, bytes).into_response())
}
