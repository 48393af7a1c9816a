//! What is sent must come: a form or a recording that stalls, or trickles, is given up, so that its place is free for others.

use crate::bounds::{LEAST_BYTES, STALLED_FOR};
use axum::body::{Body, BodyDataStream, Bytes};
use axum::extract::Request;
use axum::middleware::Next;
use axum::response::Response;
use futures_util::{StreamExt, stream};
use std::io::{Error, ErrorKind};
use std::time::Duration;
use tokio::time::{Instant, timeout_at};

/// How a body has come in the stretch of time that is under way.
struct Pace {
    until: Instant,
    bytes: usize,
}

/// Passes a request on whose body fails where it comes no more.
pub(crate) async fn paced(request: Request, next: Next) -> Response {
    next.run(request.map(|body| kept_up(body, STALLED_FOR)))
        .await
}

/// A body that fails where a stretch of time brings less of it than it must.
fn kept_up(body: Body, stretch: Duration) -> Body {
    let begin = move || Pace {
        until: Instant::now() + stretch,
        bytes: 0,
    };
    // The first stretch begins when somebody reads: what waits for its turn does not stall.
    let from = (Some(body.into_data_stream()), None);
    Body::from_stream(stream::unfold(from, move |(body, pace)| async move {
        let mut body: BodyDataStream = body?;
        let mut pace: Pace = pace.unwrap_or_else(begin);
        let slow = || Error::new(ErrorKind::TimedOut, "what was sent came no more");
        match timeout_at(pace.until, body.next()).await {
            Err(_) => Some((Err(slow()), (None, Some(pace)))),
            Ok(None) => None,
            Ok(Some(Err(error))) => Some((Err(Error::other(error)), (None, Some(pace)))),
            Ok(Some(Ok(bytes))) => {
                pace.bytes += Bytes::len(&bytes);
                if pace.bytes >= LEAST_BYTES {
                    pace = begin();
                }
                Some((Ok(bytes), (Some(body), Some(pace))))
            }
        }
    }))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Whether all of a body comes, where each stretch of so many milliseconds must bring something.
    fn comes(body: Body, stretch_ms: u64) -> bool {
        let runtime = tokio::runtime::Builder::new_current_thread()
            .enable_time()
            .build()
            .expect("a runtime");
        let body = kept_up(body, Duration::from_millis(stretch_ms));
        runtime.block_on(async { axum::body::to_bytes(body, usize::MAX).await.is_ok() })
    }

    /// A hundred thousand pieces of so many bytes, a breath between them; how long that takes does not matter.
    fn pieces(bytes: usize) -> Body {
        Body::from_stream(stream::unfold(0, move |n| async move {
            tokio::time::sleep(Duration::from_millis(1)).await;
            (n < 100_000).then(|| (Ok::<_, Error>(Bytes::from(vec![0; bytes])), n + 1))
        }))
    }

    #[test]
    fn what_stalls_or_trickles_is_given_up_and_what_comes_is_not() {
        assert!(comes(Body::from("all at once"), 600_000));
        assert!(comes(Body::empty(), 600_000));
        let stalls = Body::from_stream(stream::pending::<Result<Bytes, Error>>());
        assert!(!comes(stalls, 50), "it stalls");
        assert!(!comes(pieces(1), 50), "it trickles");
    }

    #[test]
    fn what_waits_for_its_turn_does_not_stall() {
        let runtime = tokio::runtime::Builder::new_current_thread()
            .enable_time()
            .build()
            .expect("a runtime");
        let late = async {
            let stretch = Duration::from_millis(300);
            let from = stream::once(async move {
                tokio::time::sleep(stretch / 10).await;
                Ok::<_, Error>(Bytes::from("a picture"))
            });
            let body = kept_up(Body::from_stream(from), stretch);
            tokio::time::sleep(3 * stretch).await;
            axum::body::to_bytes(body, usize::MAX).await
        };
        assert!(runtime.block_on(late).is_ok());
    }
}
