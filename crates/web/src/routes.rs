//! Each address and what it answers. Whatever enters something sends the browser on to the page that shows it.

use crate::assets;
use crate::desk::{Desk, Refused, lesson_of};
use crate::form::Fields;
use crate::guard::{Names, guard};
use crate::page::{Step, page, refusal};
use crate::speech::{Speech, cookie};
use crate::{entering, job_routes, jobs, reading, running, settings, sums, telling};
use axum::extract::{DefaultBodyLimit, Form, Path, Query, State};
use axum::http::StatusCode;
use axum::http::header::SET_COOKIE;
use axum::response::{Html, IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum::{Router, middleware};
use book::JobId;
use entries::Stage;
use maud::Markup;
use movement::Plate;
use report::Words;
use std::fmt::Write;
use std::sync::Arc;
use tasks::Ask;

/// A sheet has at most so many bytes, and a form of it a few times as many, as every one may be written as three.
const MOST_BODY: usize = 4 << 20;

pub(crate) type Pairs = Vec<(String, String)>;

pub(crate) fn routes(desk: Arc<Desk>, names: Names) -> Router {
    Router::new()
        .route("/", get(home))
        .route("/jobs", get(list).post(begin))
        .route("/settings", get(choose).post(choose_words))
        .merge(job_routes::routes())
        .merge(sums::routes())
        .route("/job/{id}", get(show))
        .route("/job/{id}/saw", post(saw))
        .route("/job/{id}/view", post(turn))
        .route("/job/{id}/{what}", post(told))
        .route("/bench.css", get(assets::style))
        .route("/bench.js", get(assets::script))
        .route("/slate.js", get(assets::early))
        .route("/strike.js", get(assets::strike))
        .route("/serif.woff2", get(assets::serif))
        .route("/serif-italic.woff2", get(assets::italic))
        .route("/icon.svg", get(assets::icon))
        .fallback(|Speech(words): Speech| async move { refused(&words, &Refused::Nothing) })
        .layer(DefaultBodyLimit::max(MOST_BODY))
        .layer(middleware::from_fn_with_state(names, guard))
        .with_state(desk)
}

pub(crate) fn sent(status: StatusCode, page: Markup) -> Response {
    (status, Html(page.into_string())).into_response()
}

pub(crate) fn refused(words: &Words, why: &Refused) -> Response {
    sent(why.status(), refusal(words, why))
}

/// Runs what reads and writes the book where it may take its time.
pub(crate) async fn aside(work: impl FnOnce() -> Response + Send + 'static) -> Response {
    match tokio::task::spawn_blocking(work).await {
        Ok(response) => response,
        Err(error) => refused(&Words::default(), &Refused::Outside(error.to_string())),
    }
}

pub(crate) fn number(id: &str) -> Result<JobId, Refused> {
    id.parse().map_err(|_| Refused::Nothing)
}

/// Where work goes on with a job: its train is timed on a page of its own.
fn address(desk: &Desk, id: JobId) -> String {
    let gone = (desk.book.job(id).ok())
        .and_then(|kept| tasks::job(kept.sheet.as_bytes(), kept.log.as_bytes(), &[]).ok());
    match gone {
        Some(gone) if gone.sheet.is_some() && gone.way.stage == Stage::Together => {
            format!("/job/{id}")
        }
        _ => format!("/job/{id}/way"),
    }
}

async fn home(State(desk): State<Arc<Desk>>, Speech(words): Speech) -> Response {
    aside(move || match desk.book.current() {
        Ok(Some(id)) => Redirect::to(&address(&desk, id)).into_response(),
        Ok(None) => Redirect::to("/jobs").into_response(),
        Err(fault) => refused(&words, &fault.into()),
    })
    .await
}

async fn list(
    State(desk): State<Arc<Desk>>,
    Speech(words): Speech,
    Query(pairs): Query<Pairs>,
) -> Response {
    aside(
        move || match jobs::jobs(&desk, &words, &Fields(pairs), None) {
            Ok(page) => sent(StatusCode::OK, page),
            Err(why) => refused(&words, &why),
        },
    )
    .await
}

/// A clock comes in. One that has no name of its own goes by that of its sheet; a sheet without anything else is put on the
/// bench to have its train timed.
async fn begin(
    State(desk): State<Arc<Desk>>,
    Speech(words): Speech,
    Form(pairs): Form<Pairs>,
) -> Response {
    aside(move || {
        let fields = Fields(pairs);
        // Browsers send each line's end as two characters.
        let sheet = fields
            .get("sheet")
            .map(|sheet| sheet.replace("\r\n", "\n") + "\n");
        let told = ["clock", "complaint", "owner", "reach", "promised"];
        let begun = match &sheet {
            Some(sheet)
                if !told.iter().any(|name| fields.get(name).is_some()) && counted(sheet) =>
            {
                desk.put_on(sheet).map(|id| format!("/job/{id}"))
            }
            sheet => come_in(&desk, &fields, sheet.as_deref()).map(|id| format!("/job/{id}/way")),
        };
        match begun {
            Ok(address) => Redirect::to(&address).into_response(),
            Err(why) => match jobs::jobs(&desk, &words, &fields, Some(&why)) {
                Ok(page) => sent(why.status(), page),
                Err(why) => refused(&words, &why),
            },
        }
    })
    .await
}

/// Whether no count is missing on a sheet, so that its train can be timed if all else is right.
fn counted(sheet: &str) -> bool {
    !matches!(tasks::check_open(sheet.as_bytes()), Ok(Some(_)))
}

fn come_in(desk: &Desk, fields: &Fields, sheet: Option<&str>) -> Result<JobId, Refused> {
    let mut fields = fields.clone();
    fields.0.push(("kind".to_owned(), "intake".to_owned()));
    if fields.get("clock").is_none()
        && let Some(sheet) = sheet
    {
        let movement = tasks::as_counted(sheet.as_bytes()).map_err(tasks::Refusal::from)?;
        let name = movement.name().to_owned();
        fields.0.push(("clock".to_owned(), name));
    }
    let intake = entering::told(&fields).map_err(Refused::Odd)?;
    let clock = fields.get("clock").unwrap_or_default();
    desk.come_in(clock, sheet.unwrap_or_default(), &intake)
}

async fn show(
    State(desk): State<Arc<Desk>>,
    Speech(words): Speech,
    Path(id): Path<String>,
    Query(pairs): Query<Pairs>,
) -> Response {
    aside(move || {
        let shown = number(&id).and_then(|id| {
            if desk.book.job(id)?.sheet.is_empty() {
                return Ok(None);
            }
            let job = desk.job(id, words)?;
            if desk.book.current()? != Some(id) {
                desk.book.set_current(id)?;
            }
            Ok(lesson_of(&job.noted.log).is_none().then_some(job))
        });
        match shown {
            // What is no train to be timed here has a page of its own.
            Ok(None) => Redirect::to(&format!("/job/{id}/way")).into_response(),
            Ok(Some(job)) => sent(StatusCode::OK, page(&job, &Fields(pairs), None)),
            Err(why) => refused(&words, &why),
        }
    })
    .await
}

/// Enters into a job's log, and goes on to its page; if that is refused, the page says so, with what was typed.
fn entered(
    (desk, words): (&Desk, Words),
    id: &str,
    fields: &Fields,
    asks: Result<Vec<Ask>, Refused>,
) -> Response {
    let id = match number(id) {
        Ok(id) => id,
        Err(why) => return refused(&words, &why),
    };
    let told = asks.and_then(|asks| {
        let entries = fields.count("entries").ok_or(Refused::Behind)?;
        desk.tell(id, entries, &asks)
    });
    match told {
        Ok(()) => Redirect::to(&format!("/job/{id}")).into_response(),
        Err(why) => match desk.job(id, words) {
            Ok(job) => sent(why.status(), page(&job, fields, Some(&why))),
            Err(why) => refused(&words, &why),
        },
    }
}

async fn saw(
    State(desk): State<Arc<Desk>>,
    Speech(words): Speech,
    Path(id): Path<String>,
    Form(pairs): Form<Pairs>,
) -> Response {
    aside(move || {
        let mut fields = Fields(pairs);
        let asks = number(&id).and_then(|number| {
            let job = desk.job(number, words)?;
            reading::seen(job.movement(), &fields).map(|ask| vec![ask])
        });
        fields.0.push(("look".to_owned(), String::new()));
        entered((&desk, words), &id, &fields, asks)
    })
    .await
}

async fn told(
    State(desk): State<Arc<Desk>>,
    Speech(words): Speech,
    Path((id, what)): Path<(String, String)>,
    Form(pairs): Form<Pairs>,
) -> Response {
    aside(move || {
        let fields = Fields(pairs);
        let asks = if what == "other-way" {
            number(&id).and_then(|number| {
                // Before it is said that a shift was made: it was, the other way.
                let job = desk.job(number, words)?;
                Ok(
                    if job.advised().is_empty() || job.noted.recalled.last_look.is_empty() {
                        vec![Ask::OtherWay]
                    } else {
                        vec![Ask::Done, Ask::OtherWay]
                    },
                )
            })
        } else {
            telling::asks(&what, &fields).ok_or(Refused::Nothing)
        };
        entered((&desk, words), &id, &fields, asks)
    })
    .await
}

async fn turn(
    State(desk): State<Arc<Desk>>,
    Speech(words): Speech,
    Path(id): Path<String>,
    Form(pairs): Form<Pairs>,
) -> Response {
    aside(move || {
        let fields = Fields(pairs);
        let turned = number(&id).and_then(|id| {
            let view = desk.view(id)?;
            let over = fields.get("turn") == Some("over");
            let plate = if over { view.plate } else { view.plate.other() };
            let word = match plate {
                Plate::Front => "front",
                Plate::Back => "back",
            };
            desk.book.set_view(id, word, view.upside_down != over)?;
            Ok(())
        });
        match turned {
            Ok(()) if fields.get("back") == Some("lesson") => {
                Redirect::to(&format!("/job/{id}/lesson")).into_response()
            }
            Ok(()) if fields.get("back") == Some("strike") => {
                let query = running::question(&fields);
                Redirect::to(&format!("/job/{id}/strike{query}")).into_response()
            }
            Ok(()) => Redirect::to(&format!("/job/{id}{}", carried(&fields))).into_response(),
            Err(why) => refused(&words, &why),
        }
    })
    .await
}

async fn choose(Speech(words): Speech) -> Response {
    sent(StatusCode::OK, settings::settings(&words))
}

/// Keeps what was chosen, and goes back to the bench.
async fn choose_words(Speech(words): Speech, Form(pairs): Form<Pairs>) -> Response {
    let chosen = settings::chosen(&Fields(pairs), &words);
    ([(SET_COOKIE, cookie(&chosen))], Redirect::to("/")).into_response()
}

/// What is being read, as the question of an address, so that it is still there after the view is turned.
fn carried(fields: &Fields) -> String {
    let step = fields.get("step").unwrap_or(Step::LOOK);
    let mut query = format!("?{step}");
    for (name, value) in &fields.0 {
        let kept = name == "slack"
            || [".deg", ".pick", ".sure"]
                .iter()
                .any(|end| name.ends_with(end));
        if kept && !value.is_empty() {
            query.push('&');
            escape(&mut query, name);
            query.push('=');
            escape(&mut query, value);
        }
    }
    query
}

/// Percent encoding of RFC 3986, section 2.1: all but its unreserved characters.
pub(crate) fn escape(out: &mut String, text: &str) {
    for byte in text.bytes() {
        if byte.is_ascii_alphanumeric() || b"-._~".contains(&byte) {
            out.push(char::from(byte));
        } else {
            let _ = write!(out, "%{byte:02X}");
        }
    }
}
