//! The addresses of a job as a whole: its way, what is entered, its pictures, records and lessons; and the search.

use crate::assets::FONTS;
use crate::desk::{Desk, Refused, Whole};
use crate::entering::{self, Odd};
use crate::form::Fields;
use crate::routes::{Pairs, aside, number, refused, sent};
use crate::speech::Speech;
use crate::{lesson, record, running, search, way};
use ::way::Own;
use axum::Router;
use axum::body::Bytes;
use axum::extract::multipart::{Multipart, MultipartError};
use axum::extract::{DefaultBodyLimit, Form, Path, Query, State};
use axum::http::{StatusCode, header};
use axum::response::{Html, IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use book::{BookFault, JobId, Size};
use entries::{Day, Digest, Kept, Occasion, Stage, Work};
use report::Words;
use std::sync::Arc;
use strike::Struck;
use tasks::said;

/// A picture as a camera gives it, and a little for the form it comes in.
const MOST_PICTURE: usize = 41 << 20;

pub(crate) fn routes() -> Router<Arc<Desk>> {
    Router::new()
        .route("/job/{id}/way", get(show))
        .route("/job/{id}/enter", post(enter))
        .route("/job/{id}/take-back", post(take_back))
        .route("/job/{id}/own", post(own))
        .route("/job/{id}/sheet", post(sheet))
        .route("/job/{id}/remove", post(remove))
        .route(
            "/job/{id}/picture",
            post(keep_picture).layer(DefaultBodyLimit::max(MOST_PICTURE)),
        )
        .route("/job/{id}/record", get(owners))
        .route("/job/{id}/record/whole", get(whole))
        .route("/job/{id}/lesson", get(learn).post(shift))
        .route("/job/{id}/strike", get(run))
        .route("/job/{id}/strike/table", get(table))
        .route("/lessons", post(begin_lesson))
        .route("/picture/{digest}", get(picture))
        .route("/picture/{digest}/small", get(preview))
        .route("/search", get(look_for))
        .route(record::STYLE, get(paper))
}

async fn paper() -> Response {
    (
        [(header::CONTENT_TYPE, "text/css; charset=utf-8")],
        [FONTS, paper::style().as_str()].concat(),
    )
        .into_response()
}

/// The evening on which a job is to be looked at.
fn evening(fields: &Fields) -> Result<Option<Day>, Refused> {
    let Some(typed) = fields.get("by") else {
        return Ok(None);
    };
    let odd = || Odd {
        field: "by",
        got: typed.to_owned(),
    };
    Ok(Some(Day::parse(typed).ok_or_else(|| Refused::Odd(odd()))?))
}

/// The page of a job's way, or why there is none.
fn page(desk: &Desk, words: Words, id: &str, fields: &Fields, why: Option<&Refused>) -> Response {
    match number(id).and_then(|id| desk.whole(id, words, evening(fields)?)) {
        Ok(job) if job.lesson().is_some() => {
            Redirect::to(&format!("/job/{id}/lesson")).into_response()
        }
        Ok(job) => {
            let status = why.map_or(StatusCode::OK, Refused::status);
            sent(status, way::way(&job, fields, why))
        }
        Err(why) => refused(&words, &why),
    }
}

async fn show(
    State(desk): State<Arc<Desk>>,
    Speech(words): Speech,
    Path(id): Path<String>,
    Query(pairs): Query<Pairs>,
) -> Response {
    aside(move || page(&desk, words, &id, &Fields(pairs), None)).await
}

/// Does something to a job, and goes on to its way; if that is refused, the way says so.
fn done(
    (desk, words): (&Desk, Words),
    id: &str,
    fields: &Fields,
    what: impl FnOnce(JobId, usize) -> Result<(), Refused>,
) -> Response {
    let did = number(id).and_then(|id| what(id, fields.count("entries").ok_or(Refused::Behind)?));
    match did {
        Ok(()) => {
            let stage = fields.get("stage").and_then(Stage::of_word);
            let mut at = stage.map_or_else(String::new, |stage| format!("?stage={}", stage.word()));
            // Back to where it was touched.
            if fields.get("at") == Some("points") {
                at += "#points";
            }
            Redirect::to(&format!("/job/{id}/way{at}")).into_response()
        }
        Err(why) => page(desk, words, id, fields, Some(&why)),
    }
}

async fn enter(
    State(desk): State<Arc<Desk>>,
    Speech(words): Speech,
    Path(id): Path<String>,
    Form(pairs): Form<Pairs>,
) -> Response {
    aside(move || {
        let fields = Fields(pairs);
        done((&desk, words), &id, &fields, |id, entries| {
            let work = entering::told(&fields).map_err(Refused::Odd)?;
            desk.enter(id, entries, &work)
        })
    })
    .await
}

async fn take_back(
    State(desk): State<Arc<Desk>>,
    Speech(words): Speech,
    Path(id): Path<String>,
    Form(pairs): Form<Pairs>,
) -> Response {
    aside(move || {
        let fields = Fields(pairs);
        done((&desk, words), &id, &fields, |id, entries| {
            desk.take_back(id, entries, fields.count("of").ok_or(Refused::Nothing)?)
        })
    })
    .await
}

/// A point of the shop's own is added, or dropped.
async fn own(
    State(desk): State<Arc<Desk>>,
    Speech(words): Speech,
    Path(id): Path<String>,
    Form(mut pairs): Form<Pairs>,
) -> Response {
    aside(move || {
        // What is settled for the shop is no entry of any job.
        pairs.push(("entries".to_owned(), "0".to_owned()));
        let fields = Fields(pairs);
        done((&desk, words), &id, &fields, |_, _| {
            let stage = fields.get("stage").and_then(Stage::of_word);
            let stage = stage.ok_or(Refused::Nothing)?;
            let mut own = desk.own()?;
            match (fields.get("drop"), fields.get("says")) {
                (Some(drop), _) => own.retain(|own| own.stage != stage || own.says != drop),
                (None, Some(says)) => {
                    let says = says.to_owned();
                    own.retain(|own| own.stage != stage || own.says != says);
                    own.push(Own { stage, says });
                }
                (None, None) => {
                    let odd = Odd {
                        field: "says",
                        got: String::new(),
                    };
                    return Err(Refused::Odd(odd));
                }
            }
            desk.settle_own(&own)
        })
    })
    .await
}

async fn sheet(
    State(desk): State<Arc<Desk>>,
    Speech(words): Speech,
    Path(id): Path<String>,
    Form(pairs): Form<Pairs>,
) -> Response {
    aside(move || {
        let fields = Fields(pairs);
        done((&desk, words), &id, &fields, |id, entries| {
            // Browsers send each line's end as two characters.
            let text = fields
                .get("sheet")
                .unwrap_or_default()
                .replace("\r\n", "\n")
                + "\n";
            desk.enter(id, entries, &tasks::new_sheet(&text)?)
        })
    })
    .await
}

async fn remove(
    State(desk): State<Arc<Desk>>,
    Speech(words): Speech,
    Path(id): Path<String>,
    Form(pairs): Form<Pairs>,
) -> Response {
    aside(move || {
        let fields = Fields(pairs);
        done((&desk, words), &id, &fields, |id, entries| {
            if fields.get("sure") != Some("yes") {
                return Err(Refused::Nothing);
            }
            desk.remove(id, entries)
        })
    })
    .await
}

/// What comes with a picture: the fields beside it, and its bytes.
async fn parts(mut form: Multipart) -> Result<(Fields, Bytes), MultipartError> {
    let mut fields = Fields::default();
    let mut picture = Bytes::new();
    while let Some(field) = form.next_field().await? {
        let name = field.name().unwrap_or_default().to_owned();
        if name == "picture" {
            picture = field.bytes().await?;
        } else {
            fields.0.push((name, field.text().await?));
        }
    }
    Ok((fields, picture))
}

async fn keep_picture(
    State(desk): State<Arc<Desk>>,
    Speech(words): Speech,
    Path(id): Path<String>,
    form: Multipart,
) -> Response {
    let (fields, picture) = match parts(form).await {
        Ok(parts) => parts,
        Err(error) if error.status() == StatusCode::PAYLOAD_TOO_LARGE => {
            return refused(&words, &Refused::Book(BookFault::PictureTooLarge));
        }
        Err(error) => return refused(&words, &Refused::Outside(error.body_text())),
    };
    aside(move || {
        done((&desk, words), &id, &fields, |id, entries| {
            if picture.is_empty() {
                let odd = Odd {
                    field: "picture",
                    got: String::new(),
                };
                return Err(Refused::Odd(odd));
            }
            let when = fields
                .get("when")
                .and_then(Occasion::of_word)
                .ok_or(Refused::Nothing)?;
            let kept = desk.book.keep_picture(&picture)?;
            let work = Work::Picture {
                picture: Kept::Here(kept.digest),
                when,
                says: said(fields.get("says")),
            };
            desk.enter(id, entries, &work)
        })
    })
    .await
}

async fn picture(desk: State<Arc<Desk>>, speech: Speech, digest: Path<String>) -> Response {
    bytes(desk, speech, digest, Size::Whole).await
}

async fn preview(desk: State<Arc<Desk>>, speech: Speech, digest: Path<String>) -> Response {
    bytes(desk, speech, digest, Size::Preview).await
}

async fn bytes(
    State(desk): State<Arc<Desk>>,
    Speech(words): Speech,
    Path(digest): Path<String>,
    size: Size,
) -> Response {
    aside(move || {
        let found = (Digest::parse(&digest).ok_or(Refused::Nothing))
            .and_then(|digest| Ok(desk.book.picture_bytes(&digest, size)?));
        match found {
            // Whoever knows the name knows the bytes; but a removal must reach the browser too.
            Ok((form, bytes)) => {
                let kind = [
                    (header::CONTENT_TYPE, form.media_type()),
                    (header::CACHE_CONTROL, "no-store"),
                ];
                (kind, bytes).into_response()
            }
            Err(why) => refused(&words, &why),
        }
    })
    .await
}

/// A record of a job, as it stands now or stood when a day was over.
fn printed(desk: &Desk, words: Words, id: &str, fields: &Fields, whole: bool) -> Response {
    match number(id).and_then(|id| desk.whole(id, words, evening(fields)?)) {
        Ok(job) => Html(record::record(&job, whole)).into_response(),
        Err(why) => refused(&words, &why),
    }
}

async fn owners(
    State(desk): State<Arc<Desk>>,
    Speech(words): Speech,
    Path(id): Path<String>,
    Query(pairs): Query<Pairs>,
) -> Response {
    aside(move || printed(&desk, words, &id, &Fields(pairs), false)).await
}

async fn whole(
    State(desk): State<Arc<Desk>>,
    Speech(words): Speech,
    Path(id): Path<String>,
    Query(pairs): Query<Pairs>,
) -> Response {
    aside(move || printed(&desk, words, &id, &Fields(pairs), true)).await
}

async fn look_for(
    State(desk): State<Arc<Desk>>,
    Speech(words): Speech,
    Query(pairs): Query<Pairs>,
) -> Response {
    aside(move || {
        let asked = Fields(pairs).get("for").unwrap_or_default().to_owned();
        match desk.book.search(&asked, search::MOST + 1) {
            Ok(hits) => sent(StatusCode::OK, search::search(&words, &asked, &hits)),
            Err(fault) => refused(&words, &fault.into()),
        }
    })
    .await
}

/// The lesson of a job, if it is one.
fn lesson_page(
    desk: &Desk,
    words: Words,
    id: &str,
    fields: &Fields,
    why: Option<&Refused>,
) -> Response {
    match number(id).and_then(|id| desk.whole(id, words, None)) {
        Ok(job) => match lesson::lesson(&job, fields, why) {
            Some(page) => sent(why.map_or(StatusCode::OK, Refused::status), page),
            None => refused(&words, &Refused::Nothing),
        },
        Err(why) => refused(&words, &why),
    }
}

async fn learn(
    State(desk): State<Arc<Desk>>,
    Speech(words): Speech,
    Path(id): Path<String>,
    Query(pairs): Query<Pairs>,
) -> Response {
    aside(move || lesson_page(&desk, words, &id, &Fields(pairs), None)).await
}

async fn shift(
    State(desk): State<Arc<Desk>>,
    Speech(words): Speech,
    Path(id): Path<String>,
    Form(pairs): Form<Pairs>,
) -> Response {
    aside(move || {
        let fields = Fields(pairs);
        let did = number(&id).and_then(|number| {
            let job: Whole = desk.whole(number, words, None)?;
            let entries = fields.count("entries").ok_or(Refused::Behind)?;
            let ask = lesson::shifts(&job, &fields)?;
            desk.tell(number, entries, &[ask])
        });
        match did {
            Ok(()) => Redirect::to(&format!("/job/{id}/lesson")).into_response(),
            Err(why) => lesson_page(&desk, words, &id, &fields, Some(&why)),
        }
    })
    .await
}

/// Runs the strike of a job with what was put in wrong, every event watched.
fn struck(job: &Whole, fields: &Fields) -> Result<Struck, Refused> {
    let movement = job.gone.movement().ok_or(Refused::Nothing)?;
    let run = tasks::prove(movement, &running::wrongs(fields), true);
    let (_, struck) = run.map_err(|why| Refused::Wrong(tasks::Refusal::Question(why)))?;
    Ok(struck)
}

async fn run(
    State(desk): State<Arc<Desk>>,
    Speech(words): Speech,
    Path(id): Path<String>,
    Query(pairs): Query<Pairs>,
) -> Response {
    aside(move || {
        let fields = Fields(pairs);
        let job = match number(&id).and_then(|id| desk.whole(id, words, None)) {
            Ok(job) => job,
            Err(why) => return refused(&words, &why),
        };
        let struck = struck(&job, &fields);
        let status = struck
            .as_ref()
            .err()
            .map_or(StatusCode::OK, Refused::status);
        match running::running(&job, &fields, struck.as_ref()) {
            Some(page) => sent(status, page),
            None => refused(&words, &Refused::Nothing),
        }
    })
    .await
}

/// The table that the page goes between.
async fn table(
    State(desk): State<Arc<Desk>>,
    Speech(words): Speech,
    Path(id): Path<String>,
    Query(pairs): Query<Pairs>,
) -> Response {
    aside(move || {
        let job = number(&id).and_then(|id| desk.whole(id, words, None));
        let run = job.and_then(|job| {
            let struck = struck(&job, &Fields(pairs))?;
            let movement = job.gone.movement().ok_or(Refused::Nothing)?;
            Ok(report::running_json(&words, movement, &struck).to_string())
        });
        match run {
            Ok(table) => ([(header::CONTENT_TYPE, "application/json")], table).into_response(),
            Err(why) => refused(&words, &why),
        }
    })
    .await
}

async fn begin_lesson(
    State(desk): State<Arc<Desk>>,
    Speech(words): Speech,
    Form(pairs): Form<Pairs>,
) -> Response {
    aside(move || {
        let begun = lesson::begin(&desk, &words, &Fields(pairs));
        match begun {
            Ok(id) => Redirect::to(&format!("/job/{id}/lesson")).into_response(),
            Err(why) => refused(&words, &why),
        }
    })
    .await
}
