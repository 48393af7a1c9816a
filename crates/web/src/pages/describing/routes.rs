//! The addresses of a movement that is described.

use super::page::page;
use crate::asked::{Answer, PageRequest, read, sent};
use crate::desk::Desk;
use axum::Router;
use axum::http::StatusCode;
use std::sync::Arc;

pub(crate) fn routes() -> Router<Arc<Desk>> {
    Router::new().route("/job/{id}/movement", read(show))
}

fn show(asked: &PageRequest) -> Answer {
    let job = asked.whole()?;
    Ok(sent(StatusCode::OK, page(&job, &asked.fields, None)?))
}
