//! The log of the server, for whoever asks for it: which kind of page was asked for, how it was answered and how long that took.
//! Nothing that was typed stands in it, no name, no number of a job and no path of a file: a page goes by its route alone.

use axum::extract::{MatchedPath, Request};
use axum::middleware::Next;
use axum::response::Response;
use std::time::Instant;

pub(crate) async fn logged(request: Request, next: Next) -> Response {
    let began = Instant::now();
    let method = request.method().clone();
    let route = request.extensions().get::<MatchedPath>().cloned();
    let answer = next.run(request).await;
    tracing::info!(
        method = method.as_str(),
        route = route.as_ref().map_or("no page", MatchedPath::as_str),
        status = answer.status().as_u16(),
        milliseconds = began.elapsed().as_millis(),
    );
    answer
}
