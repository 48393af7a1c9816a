//! What a request asks: of which job, in what words, with what fields; and how it is answered where it may take its time.

use crate::desk::{Desk, Refused, Whole};
use crate::form::Fields;
use crate::page::refusal;
use crate::speech::words_of;
use axum::extract::{Form, FromRequest, RawPathParams, Request};
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Redirect, Response};
use axum::routing::{MethodRouter, get, post};
use book::JobId;
use maud::Markup;
use report::Words;
use std::sync::Arc;

/// A request, taken apart: the fields are those after the question mark of an address, or of the form that is sent.
pub(crate) struct Asked {
    pub(crate) desk: Arc<Desk>,
    pub(crate) words: Words,
    pub(crate) fields: Fields,
    /// What stands in the address where a route has a name in braces.
    named: Vec<(String, String)>,
}

/// An answer, or why there is none: that is told on a page of its own.
pub(crate) type Answer = Result<Response, Refused>;

impl FromRequest<Arc<Desk>> for Asked {
    type Rejection = Response;

    async fn from_request(request: Request, desk: &Arc<Desk>) -> Result<Asked, Response> {
        use axum::extract::FromRequestParts;
        let (mut parts, body) = request.into_parts();
        let words = words_of(&parts.headers);
        let named = RawPathParams::from_request_parts(&mut parts, desk)
            .await
            .map_err(IntoResponse::into_response)?;
        let named = (named.iter())
            .map(|(name, value)| (name.to_owned(), value.to_owned()))
            .collect();
        let Form(pairs) = Form::from_request(Request::from_parts(parts, body), desk)
            .await
            .map_err(IntoResponse::into_response)?;
        Ok(Asked {
            desk: Arc::clone(desk),
            words,
            fields: Fields(pairs),
            named,
        })
    }
}

impl Asked {
    /// About a job, with fields that came in a form of another kind.
    pub(crate) fn of_job(desk: Arc<Desk>, words: Words, id: String, fields: Fields) -> Asked {
        Asked {
            desk,
            words,
            fields,
            named: vec![("id".to_owned(), id)],
        }
    }

    /// What stands in the address under a name of its route.
    pub(crate) fn named(&self, name: &str) -> Result<&str, Refused> {
        let found = self.named.iter().find(|(n, _)| n == name);
        found
            .map(|(_, value)| value.as_str())
            .ok_or(Refused::Nothing)
    }

    /// The job it is about.
    pub(crate) fn id(&self) -> Result<JobId, Refused> {
        self.named("id")?.parse().map_err(|_| Refused::Nothing)
    }

    /// That job, as it stands now.
    pub(crate) fn whole(&self) -> Result<Whole, Refused> {
        self.desk.whole(self.id()?, self.words, None)
    }

    /// How many entries the job's log had when the page was drawn.
    pub(crate) fn entries(&self) -> Result<usize, Refused> {
        self.fields.count("entries").ok_or(Refused::Behind)
    }
}

/// A page that is read.
pub(crate) fn read(answer: fn(&Asked) -> Answer) -> MethodRouter<Arc<Desk>> {
    get(move |asked: Asked| answered(asked, answer))
}

/// A form that is sent.
pub(crate) fn write(answer: fn(&Asked) -> Answer) -> MethodRouter<Arc<Desk>> {
    post(move |asked: Asked| answered(asked, answer))
}

/// Runs what reads and writes the book where it may take its time.
pub(crate) async fn answered(
    asked: Asked,
    answer: impl FnOnce(&Asked) -> Answer + Send + 'static,
) -> Response {
    let words = asked.words;
    let answer = tokio::task::spawn_blocking(move || answer(&asked)).await;
    match answer.unwrap_or_else(|error| Err(Refused::Outside(error.to_string()))) {
        Ok(response) => response,
        Err(why) => refused(&words, &why),
    }
}

pub(crate) fn sent(status: StatusCode, page: Markup) -> Response {
    (status, Html(page.into_string())).into_response()
}

/// On to another address, to be read.
pub(crate) fn on_to(address: &str) -> Response {
    Redirect::to(address).into_response()
}

pub(crate) fn refused(words: &Words, why: &Refused) -> Response {
    sent(why.status(), refusal(words, why))
}
