//! The sums of an overhaul, a page each. Each is answered by its address alone, so that it can be kept, and asked by a plain form
//! that keeps what was typed.
//!
//! No sum is made here: [`tasks`] makes them from the sheet and what was typed.

mod boxes;
mod counts;
mod laid;
mod oil;
mod page;
mod pendulum;
mod power;
mod putting;

pub(super) use page::Sum;

use crate::asked::{Answer, PageRequest, again, answered, heavy, on_to, sent, write};
use crate::desk::Desk;
use crate::fields::Question;
use crate::form::query;
use axum::Router;
use axum::http::StatusCode;
use axum::routing::{get, post};
use boxes::BoxesTold;
use entries::Stage;
use laid::markup;
use std::sync::Arc;

/// All of them: a further one is a row here.
const SUMS: [&Sum; 4] = [&counts::SUM, &power::SUM, &oil::SUM, &pendulum::SUM];

/// Each by the last of its address.
pub(super) fn words() -> impl Iterator<Item = &'static str> {
    SUMS.into_iter().map(|sum| sum.word)
}

impl Sum {
    /// Those that belong to a stage.
    pub(super) fn at(stage: Stage) -> impl Iterator<Item = &'static Sum> {
        SUMS.into_iter().filter(move |sum| sum.stage == stage)
    }
}

pub(super) fn routes() -> Router<Arc<Desk>> {
    let pages = SUMS.into_iter().fold(Router::new(), |router, sum| {
        let address = format!("/job/{{id}}/{}", sum.word);
        // What takes its time takes its turn among the heavy sums.
        let page = match sum.heavy {
            true => heavy(move |asked: &PageRequest| show(sum, asked)),
            false => get(move |asked: PageRequest| answered(asked, move |asked| show(sum, asked))),
        };
        let put =
            post(move |asked: PageRequest| answered(asked, move |asked| putting::put(sum, asked)));
        router
            .route(&address, page)
            .route(&format!("{address}/put"), put)
    });
    pages
        .route("/job/{id}/counts/stop", write(stop))
        .route("/job/{id}/counts/found", write(putting::put_found))
}

fn show(sum: &Sum, asked: &PageRequest) -> Answer {
    let job = asked.whole()?;
    let question = Question {
        job: &job,
        fields: &asked.fields,
        foreign: asked.foreign,
    };
    let page = (sum.page)(&question, &asked.desk.searches);
    // A sheet that lacks something is no wrong question.
    let wrong = page.refused.is_some() && asked.fields.all().next().is_some();
    let status = if wrong {
        StatusCode::UNPROCESSABLE_ENTITY
    } else {
        StatusCode::OK
    };
    let response = sent(status, markup(sum, &question, &page, &BoxesTold::default()));
    Ok(if page.goes_on {
        again(response)
    } else {
        response
    })
}

/// Has a search for counts end with what was found so far, and goes back to its page.
fn stop(asked: &PageRequest) -> Answer {
    let id = asked.id()?;
    asked.desk.searches.stop(id);
    let asked = query(asked.fields.all());
    Ok(on_to(&format!("/job/{id}/counts?{asked}")))
}
