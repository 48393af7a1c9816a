//! Connections, counted: as many as there is room for, each let go that asks nothing, or never asks it whole. Where there is no
//! more room, the one that was idle longest makes it.

use crate::bounds::{IDLE_FOR, MOST_CONNECTIONS, MOST_HEAD};
use axum::Router;
use axum::body::{Body, Bytes, HttpBody};
use axum::extract::{Request, State};
use axum::middleware::{self, Next};
use axum::response::Response;
use hyper::body::{Frame, SizeHint};
use hyper::server::conn::http1;
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::service::TowerToHyperService;
use std::pin::Pin;
use std::sync::{Arc, Mutex, PoisonError};
use std::task::{Context, Poll};
use std::time::{Duration, Instant};
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::Notify;

/// What a connection does.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Does {
    /// Nothing was asked yet, or all that was is answered.
    Idle,
    /// An answer is being sent.
    Sends,
    /// Something was asked and is worked out.
    Works,
}

/// A connection that is open.
#[derive(Debug)]
struct Open {
    /// What it does, and since when.
    state: Mutex<(Does, Instant)>,
    let_go: Notify,
}

impl Open {
    fn state(&self) -> (Does, Instant) {
        *self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn set(&self, does: Does) {
        let mut state = self.state.lock().unwrap_or_else(PoisonError::into_inner);
        *state = (does, Instant::now());
    }

    /// Waits until nothing was asked for as long as is waited, or room is wanted.
    async fn is_over(&self) {
        loop {
            let (does, since) = self.state();
            let left = match does {
                Does::Idle => IDLE_FOR.saturating_sub(since.elapsed()),
                _ => IDLE_FOR,
            };
            if left.is_zero() {
                return;
            }
            tokio::select! {
                () = self.let_go.notified() => return,
                () = tokio::time::sleep(left) => {}
            }
        }
    }
}

/// All that are open.
#[derive(Debug, Clone, Default)]
pub(crate) struct Connections {
    open: Arc<Mutex<Vec<Arc<Open>>>>,
    gone: Arc<Notify>,
}

impl Connections {
    fn open(&self) -> std::sync::MutexGuard<'_, Vec<Arc<Open>>> {
        self.open.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Serves whatever connects, for as long as it is let.
    pub(crate) async fn serve(self, listener: TcpListener, app: Router) {
        /// A breath where the machine has no more room for a connection.
        const BREATH: Duration = Duration::from_millis(50);
        loop {
            self.make_room().await;
            match listener.accept().await {
                Ok((stream, _)) => {
                    let open = Arc::new(Open {
                        state: Mutex::new((Does::Idle, Instant::now())),
                        let_go: Notify::new(),
                    });
                    self.open().push(Arc::clone(&open));
                    let (all, app) = (self.clone(), app.clone());
                    tokio::spawn(async move {
                        let _goes = Goes(all, Arc::clone(&open));
                        answer(stream, &open, app).await;
                    });
                }
                Err(_) => {
                    self.let_oldest_go();
                    tokio::time::sleep(BREATH).await;
                }
            }
        }
    }

    /// Waits until there is room for one more, and lets the one go that was idle longest.
    async fn make_room(&self) {
        loop {
            let gone = self.gone.notified();
            if self.open().len() < MOST_CONNECTIONS {
                return;
            }
            self.let_oldest_go();
            // Where all of them work, one of them ends by and by.
            let _ = tokio::time::timeout(Duration::from_secs(1), gone).await;
        }
    }

    /// Lets the connection go that was idle longest; where none is idle, the one that sends an answer nobody takes.
    fn let_oldest_go(&self) {
        let open = self.open();
        let states = open.iter().map(|one| (one.state(), one));
        let spare = states.filter(|((does, since), _)| match does {
            Does::Idle => true,
            Does::Sends => since.elapsed() > IDLE_FOR,
            Does::Works => false,
        });
        if let Some((_, oldest)) = spare.min_by_key(|(state, _)| *state) {
            oldest.let_go.notify_one();
        }
    }
}

/// Takes a connection off the list when it goes, however it does.
struct Goes(Connections, Arc<Open>);

impl Drop for Goes {
    fn drop(&mut self) {
        self.0.open().retain(|one| !Arc::ptr_eq(one, &self.1));
        self.0.gone.notify_one();
    }
}

/// Answers what one connection asks.
async fn answer(stream: TcpStream, open: &Arc<Open>, app: Router) {
    let app = app.layer(middleware::from_fn_with_state(Arc::clone(open), in_the_log));
    let served = http1::Builder::new()
        .timer(TokioTimer::new())
        .header_read_timeout(IDLE_FOR)
        .max_buf_size(MOST_HEAD)
        .serve_connection(TokioIo::new(stream), TowerToHyperService::new(app));
    // That it broke off is nobody's news but of whoever asked.
    tokio::select! {
        _ = served => {}
        () = open.is_over() => {}
    }
}

/// Notes what a connection does.
async fn in_the_log(State(open): State<Arc<Open>>, request: Request, next: Next) -> Response {
    open.set(Does::Works);
    let sending = Sending(Arc::clone(&open));
    let response = next.run(request).await;
    open.set(Does::Sends);
    response.map(|body| Body::new(Sent { body, sending }))
}

/// A connection that answers; dropped, it is idle again.
struct Sending(Arc<Open>);

impl Drop for Sending {
    fn drop(&mut self) {
        self.0.set(Does::Idle);
    }
}

/// The body of an answer, which tells when it is sent.
struct Sent {
    body: Body,
    sending: Sending,
}

impl HttpBody for Sent {
    type Data = Bytes;
    type Error = axum::Error;

    fn poll_frame(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
    ) -> Poll<Option<Result<Frame<Bytes>, axum::Error>>> {
        // While it goes on being taken, it is not one that nobody takes.
        self.sending.0.set(Does::Sends);
        Pin::new(&mut self.body).poll_frame(context)
    }

    fn is_end_stream(&self) -> bool {
        self.body.is_end_stream()
    }

    fn size_hint(&self) -> SizeHint {
        self.body.size_hint()
    }
}
