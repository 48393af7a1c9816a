//! What a request asks: of which job, in what words, with what fields; and how it is answered where it may take its time.

use crate::desk::{Desk, Refused, Whole};
use crate::form::Fields;
use crate::form::said::{OnDay, number};
use crate::frame::refusal;
use crate::guard::Foreign;
use crate::speech::locale_of;
use axum::extract::{Form, FromRequest, RawPathParams, Request};
use axum::http::{HeaderValue, StatusCode, header};
use axum::response::{Html, IntoResponse, Redirect, Response};
use axum::routing::{MethodRouter, get, post};
use book::JobId;
use entries::Day;
use maud::Markup;
use report::Locale;
use serde::Deserialize;
use std::sync::Arc;

/// A request, taken apart: the fields are those after the question mark of an address, or of the form that is sent.
pub(crate) struct PageRequest {
    pub(crate) desk: Arc<Desk>,
    pub(crate) locale: Locale,
    pub(crate) fields: Fields,
    /// Whether it comes from a page of another site: then nothing is changed for it.
    pub(crate) foreign: bool,
    /// What stands in the address where a route has a name in braces.
    named: Vec<(String, String)>,
}

/// An answer, or why there is none: that is told on a page of its own.
pub(crate) type Answer = Result<Response, Refused>;

impl FromRequest<Arc<Desk>> for PageRequest {
    type Rejection = Response;

    async fn from_request(request: Request, desk: &Arc<Desk>) -> Result<PageRequest, Response> {
        use axum::extract::FromRequestParts;
        let (mut parts, body) = request.into_parts();
        let locale = locale_of(&parts.headers);
        let foreign = parts.extensions.get::<Foreign>().is_some();
        let named = RawPathParams::from_request_parts(&mut parts, desk)
            .await
            .map_err(IntoResponse::into_response)?;
        let named = (named.iter())
            .map(|(name, value)| (name.to_owned(), value.to_owned()))
            .collect();
        let Form(pairs) = Form::from_request(Request::from_parts(parts, body), desk)
            .await
            .map_err(|why| unread(&locale, why.into_response()))?;
        Ok(PageRequest {
            desk: Arc::clone(desk),
            locale,
            fields: Fields::of(pairs),
            foreign,
            named,
        })
    }
}

impl PageRequest {
    /// About a job, with fields that came in a form of another kind.
    pub(crate) fn of_job(
        desk: Arc<Desk>,
        locale: Locale,
        id: String,
        fields: Fields,
    ) -> PageRequest {
        PageRequest {
            desk,
            locale,
            fields,
            foreign: false,
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
        self.desk.whole(self.id()?, self.locale, None)
    }

    /// The evening on which a job is to be looked at.
    pub(crate) fn evening(&self) -> Result<Option<Day>, Refused> {
        let Evening { by } = self.fields.read()?;
        Ok(by.map(Day::from))
    }

    /// How many entries the job's log had when the page was drawn.
    pub(crate) fn entries(&self) -> Result<usize, Refused> {
        let Drawn { entries } = self.fields.read()?;
        entries.ok_or(Refused::Behind)
    }
}

#[derive(Deserialize)]
struct Evening {
    by: Option<OnDay>,
}

/// What a page says of when it was drawn.
#[derive(Deserialize)]
struct Drawn {
    #[serde(deserialize_with = "number")]
    entries: Option<usize>,
}

/// A form that could not be read, in words; what is too long stays that.
fn unread(locale: &Locale, why: Response) -> Response {
    match why.status() {
        StatusCode::PAYLOAD_TOO_LARGE => why,
        _ => refused(locale, &Refused::BrokeOff),
    }
}

/// A page for which a heavy sum is made: one of a job at a time.
pub(crate) fn heavy(
    answer: impl Fn(&PageRequest) -> Answer + Clone + Send + Sync + 'static,
) -> MethodRouter<Arc<Desk>> {
    get(move |asked: PageRequest| worked_out(asked, answer.clone()))
}

async fn worked_out(
    asked: PageRequest,
    answer: impl FnOnce(&PageRequest) -> Answer + Send + 'static,
) -> Response {
    let locale = asked.locale;
    let job = match asked.id() {
        Ok(job) => job,
        Err(why) => return refused(&locale, &why),
    };
    match asked.desk.room.turn(job).await {
        Some(turn) => on_its_own(asked, turn, answer).await,
        None => refused(&locale, &Refused::Busy),
    }
}

/// Runs a heavy sum on a thread of its own, so that the memory it takes is given to the next one, and not kept by every thread on
/// which one was ever made.
pub(crate) async fn on_its_own(
    asked: PageRequest,
    held: impl Send + 'static,
    answer: impl FnOnce(&PageRequest) -> Answer + Send + 'static,
) -> Response {
    let locale = asked.locale;
    let (tell, told) = tokio::sync::oneshot::channel();
    let begun = std::thread::Builder::new().spawn(move || {
        // What is held is held for as long as the sum goes on, whether or not somebody waits for it still.
        let _held = held;
        let _ = tell.send(answer(&asked));
    });
    let answer = match begun {
        Ok(_) => told
            .await
            .unwrap_or_else(|error| Err(Refused::Outside(error.to_string()))),
        Err(error) => Err(Refused::Outside(error.to_string())),
    };
    told_as(&locale, answer)
}

/// An answer, or why there is none.
fn told_as(locale: &Locale, answer: Answer) -> Response {
    answer.unwrap_or_else(|why| refused(locale, &why))
}

/// A page that is read.
pub(crate) fn read(answer: fn(&PageRequest) -> Answer) -> MethodRouter<Arc<Desk>> {
    get(move |asked: PageRequest| answered(asked, answer))
}

/// A form that is sent.
pub(crate) fn write(answer: fn(&PageRequest) -> Answer) -> MethodRouter<Arc<Desk>> {
    post(move |asked: PageRequest| answered(asked, answer))
}

/// Runs what reads and writes the book where it may take its time.
pub(crate) async fn answered(
    asked: PageRequest,
    answer: impl FnOnce(&PageRequest) -> Answer + Send + 'static,
) -> Response {
    let locale = asked.locale;
    // The semaphore is never closed; and its place is held until the work is done, not only until nobody waits for it.
    let place = Arc::clone(&asked.desk.room.pages).acquire_owned().await;
    let answer = tokio::task::spawn_blocking(move || {
        let _place = place;
        answer(&asked)
    })
    .await;
    let answer = answer.unwrap_or_else(|error| Err(Refused::Outside(error.to_string())));
    told_as(&locale, answer)
}

pub(crate) fn sent(status: StatusCode, page: Markup) -> Response {
    (status, Html(page.into_string())).into_response()
}

/// On to another address, to be read.
pub(crate) fn on_to(address: &str) -> Response {
    Redirect::to(address).into_response()
}

/// A page that is asked for again in a moment.
pub(crate) fn again(mut page: Response) -> Response {
    const IN_A_MOMENT: &str = "2";
    for name in [header::RETRY_AFTER, header::REFRESH] {
        page.headers_mut()
            .insert(name, HeaderValue::from_static(IN_A_MOMENT));
    }
    page
}

pub(crate) fn refused(locale: &Locale, why: &Refused) -> Response {
    let page = sent(why.status(), refusal(locale, why));
    match why {
        Refused::Busy => again(page),
        _ => page,
    }
}
