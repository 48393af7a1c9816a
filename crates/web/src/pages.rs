//! Every page, with its addresses. Whatever enters something sends the browser on to the page that shows it.

mod closeup;
mod describing;
mod entering;
mod jobs;
mod lesson;
mod listening;
mod pictures;
mod places;
mod record;
mod removal;
mod search;
mod settings;
mod stood;
mod strike;
mod sums;
mod timing;
mod way;

use crate::asked::refused;
use crate::assets;
use crate::bounds::MOST_BODY;
use crate::desk::{Desk, Refused};
use crate::guard::{Names, guard};
use crate::in_place::in_place;
use crate::paced::paced;
use crate::requests::logged;
use crate::speech::Speech;
use axum::extract::DefaultBodyLimit;
use axum::{Router, middleware};
use std::sync::Arc;

/// The pages of sums, each by the last of its address.
pub fn sums() -> impl Iterator<Item = &'static str> {
    sums::words()
}

/// The table of all pages: a further one is a line here.
fn pages() -> Router<Arc<Desk>> {
    Router::new()
        .merge(jobs::routes())
        .merge(settings::routes())
        .merge(search::routes())
        .merge(way::routes())
        .merge(describing::routes())
        .merge(places::routes())
        .merge(stood::routes())
        .merge(timing::routes())
        .merge(strike::routes())
        .merge(sums::routes())
        .merge(listening::routes())
        .merge(lesson::routes())
        .merge(record::routes())
        .merge(removal::routes())
        .merge(pictures::routes())
}

/// All that is answered.
pub(crate) fn routes(desk: Arc<Desk>, names: Names) -> Router {
    let answered = pages()
        .merge(assets::routes())
        .fallback(|Speech(words): Speech| async move { refused(&words, &Refused::Nothing) })
        .layer(DefaultBodyLimit::max(MOST_BODY))
        .layer(middleware::from_fn(logged))
        .layer(middleware::from_fn(paced))
        .layer(middleware::from_fn_with_state(names, guard))
        .with_state(desk);
    // Around all of it: a page that a form leads to is asked for as any other.
    Router::new()
        .fallback_service(answered)
        .layer(middleware::from_fn(in_place))
}
