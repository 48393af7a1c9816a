//! The addresses of a job as a whole: its way, what is entered, its pictures, records and lessons; and the search.

use crate::asked::{Answer, Asked, heavy, on_its_own, on_to, read, refused, sent, write};
use crate::assets::FONTS;
use crate::bounds::{MOST_PICTURE, QUEUED_FOR};
use crate::desk::{Desk, Refused, Whole};
use crate::entering::{self, Odd};
use crate::form::{Fields, lines};
use crate::running::Run;
use crate::speech::Speech;
use crate::{lesson, record, running, search, way};
use ::way::Own;
use axum::Router;
use axum::extract::multipart::{Multipart, MultipartError};
use axum::extract::{DefaultBodyLimit, Path, State};
use axum::http::{StatusCode, header};
use axum::response::{Html, IntoResponse, Response};
use axum::routing::{get, post};
use book::{BookFault, JobId, Size};
use entries::{Day, Digest, Kept, Occasion, Stage, Work};
use report::json::{self, Running};
use std::sync::Arc;

use tasks::said;

pub(crate) fn routes() -> Router<Arc<Desk>> {
    Router::new()
        .route("/job/{id}/way", read(show))
        .route("/job/{id}/enter", write(enter))
        .route("/job/{id}/take-back", write(take_back))
        .route("/job/{id}/own", write(own))
        .route("/job/{id}/sheet", write(sheet))
        .route("/job/{id}/remove", write(remove))
        .route(
            "/job/{id}/picture",
            post(keep_picture).layer(DefaultBodyLimit::max(MOST_PICTURE)),
        )
        .route("/job/{id}/record", read(owners))
        .route("/job/{id}/record/whole", read(whole))
        .route("/job/{id}/lesson", read(learn).merge(write(shift)))
        .route("/job/{id}/strike", heavy(run))
        .route("/job/{id}/strike/table", heavy(table))
        .route("/lessons", write(begin_lesson))
        .route("/picture/{digest}", read(picture))
        .route("/picture/{digest}/small", read(preview))
        .route("/search", read(look_for))
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
    let day = |typed: &str| Day::parse(typed).ok_or_else(|| Refused::Odd(Odd::of("by", typed)));
    fields.get("by").map(day).transpose()
}

/// The page of a job's way.
pub(crate) fn page(asked: &Asked, why: Option<&Refused>) -> Answer {
    let id = asked.id()?;
    let job = asked
        .desk
        .on_its_way(id, asked.words, evening(&asked.fields)?)?;
    if job.lesson().is_some() {
        return Ok(on_to(&format!("/job/{id}/lesson")));
    }
    let status = why.map_or(StatusCode::OK, Refused::status);
    Ok(sent(status, way::way(&job, &asked.fields, why)))
}

fn show(asked: &Asked) -> Answer {
    page(asked, None)
}

/// Does something to a job, and goes on to its way; if that is refused, the way says so.
fn done(asked: &Asked, what: impl FnOnce(JobId) -> Result<(), Refused>) -> Answer {
    settled(asked, |id| what(id).map(|()| None))
}

/// The same where an entry was made: its number is given, and it is shown where it was made.
fn settled(asked: &Asked, what: impl FnOnce(JobId) -> Result<Option<usize>, Refused>) -> Answer {
    let id = asked.id()?;
    match what(id) {
        Ok(entered) => {
            let stage = asked.fields.get("stage").and_then(Stage::of_word);
            let mut at = stage.map_or_else(String::new, |stage| format!("?stage={}", stage.word()));
            // Back to where it was touched.
            if asked.fields.get("at") == Some("points") {
                at += "#points";
            } else if let (Some(n), Some(_)) = (entered, stage) {
                at += &format!("&entered={n}#{}", entering::ENTERED);
            }
            Ok(on_to(&format!("/job/{id}/way{at}")))
        }
        Err(why) => page(asked, Some(&why)),
    }
}

fn enter(asked: &Asked) -> Answer {
    settled(asked, |id| {
        let entries = asked.entries()?;
        let work = entering::told(&asked.fields).map_err(Refused::Odd)?;
        if matches!(work, Work::HandedBack { .. }) {
            let way = (asked.desk).on_its_way(id, asked.words, None)?.gone.way;
            let sure = asked.fields.get("sure") == Some("yes");
            match way.home {
                true => return Err(Refused::Home),
                false if !sure && !way.open().is_empty() => return Err(Refused::LeftOpen),
                false => {}
            }
        }
        asked.desk.enter(id, entries, &work).map(Some)
    })
}

fn take_back(asked: &Asked) -> Answer {
    done(asked, |id| {
        let entries = asked.entries()?;
        let of = asked.fields.count("of").ok_or(Refused::Nothing)?;
        asked.desk.take_back(id, entries, of)
    })
}

/// A point of the shop's own is added, or dropped: it is settled for the shop, and no entry of any job.
fn own(asked: &Asked) -> Answer {
    done(asked, |_| {
        let Asked { desk, fields, .. } = asked;
        let stage = fields.get("stage").and_then(Stage::of_word);
        let stage = stage.ok_or(Refused::Nothing)?;
        let (named, added) = match (fields.get("drop"), fields.get("says")) {
            (Some(drop), _) => (drop, false),
            (None, Some(says)) => (says, true),
            (None, None) => return Err(Refused::Odd(Odd::of("says", ""))),
        };
        let mut own = desk.own()?;
        own.retain(|own| own.stage != stage || own.says != named);
        if added {
            entering::short_enough(fields).map_err(Refused::Odd)?;
            let says = named.to_owned();
            own.push(Own { stage, says });
        }
        desk.settle_own(&own)
    })
}

fn sheet(asked: &Asked) -> Answer {
    settled(asked, |id| {
        let entries = asked.entries()?;
        let text = lines(asked.fields.get("sheet").unwrap_or_default());
        let work = tasks::new_sheet(&text)?;
        asked.desk.enter(id, entries, &work).map(Some)
    })
}

fn remove(asked: &Asked) -> Answer {
    done(asked, |id| {
        let entries = asked.entries()?;
        if asked.fields.get("sure") != Some("yes") {
            return Err(Refused::Nothing);
        }
        asked.desk.remove(id, entries)
    })
}

/// What comes with a picture: the fields beside it, and its bytes.
async fn parts(mut form: Multipart) -> Result<(Fields, Vec<u8>), MultipartError> {
    let mut fields = Fields::default();
    let mut picture = Vec::new();
    while let Some(mut field) = form.next_field().await? {
        let name = field.name().unwrap_or_default().to_owned();
        if name == "picture" {
            // Room for the largest at once: grown piece by piece, it would be held twice. What is not written to takes none; and
            // so large a piece is given back to the machine at once, where a smaller one is kept for the next (measured).
            picture = Vec::with_capacity(MOST_PICTURE);
            while let Some(piece) = field.chunk().await? {
                picture.extend_from_slice(&piece);
            }
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
    // Few come in at once, as each is held in memory; what waits is not read yet.
    let place = Arc::clone(&desk.room.uploads).acquire_owned();
    let Ok(Ok(place)) = tokio::time::timeout(QUEUED_FOR, place).await else {
        return refused(&words, &Refused::Busy);
    };
    let (fields, picture) = match parts(form).await {
        Ok(parts) => parts,
        Err(error) if error.status() == StatusCode::PAYLOAD_TOO_LARGE => {
            return refused(&words, &Refused::Book(BookFault::PictureTooLarge));
        }
        Err(_) => return refused(&words, &Refused::BrokeOff),
    };
    // Unpacked it takes several times as much.
    let unpacking = desk.room.unpacking().await;
    let asked = Asked::of_job(desk, words, id, fields);
    on_its_own(asked, (place, unpacking), move |asked| {
        settled(asked, |id| {
            let entries = asked.entries()?;
            entering::short_enough(&asked.fields).map_err(Refused::Odd)?;
            if picture.is_empty() {
                return Err(Refused::Odd(Odd::of("picture", "")));
            }
            let when = asked.fields.get("when").and_then(Occasion::of_word);
            let when = when.ok_or(Refused::Nothing)?;
            let kept = asked.desk.book.keep_picture(picture)?;
            let work = Work::Picture {
                picture: Kept::Here(kept.digest.clone()),
                when,
                says: said(asked.fields.get("says")),
            };
            let entered = asked.desk.enter(id, entries, &work);
            if entered.is_err() {
                // What resists is tried again with the next backup; why it was refused is what is told.
                let _ = asked.desk.book.let_go(&kept.digest);
            }
            entered.map(Some)
        })
    })
    .await
}

fn picture(asked: &Asked) -> Answer {
    bytes(asked, Size::Whole)
}

fn preview(asked: &Asked) -> Answer {
    bytes(asked, Size::Preview)
}

fn bytes(asked: &Asked, size: Size) -> Answer {
    let digest = Digest::parse(asked.named("digest")?).ok_or(Refused::Nothing)?;
    let (form, bytes) = asked.desk.book.picture_bytes(&digest, size)?;
    // Whoever knows the name knows the bytes; but a removal must reach the browser too.
    let kind = [
        (header::CONTENT_TYPE, form.media_type()),
        (header::CACHE_CONTROL, "no-store"),
    ];
    Ok((kind, bytes).into_response())
}

/// A record of a job, as it stands now or stood when a day was over.
fn printed(asked: &Asked, whole: bool) -> Answer {
    let by = evening(&asked.fields);
    let (id, desk) = (asked.id()?, &asked.desk);
    let job = desk.whole(id, asked.words, by?)?;
    Ok(Html(record::record(&job, desk.eye(id)?, whole)).into_response())
}

fn owners(asked: &Asked) -> Answer {
    printed(asked, false)
}

fn whole(asked: &Asked) -> Answer {
    printed(asked, true)
}

fn look_for(asked: &Asked) -> Answer {
    let sought = asked.fields.get("for").unwrap_or_default();
    let hits = asked.desk.book.search(sought, search::MOST + 1)?;
    Ok(sent(
        StatusCode::OK,
        search::search(&asked.words, sought, &hits),
    ))
}

/// The lesson of a job, if it is one.
fn lesson_page(asked: &Asked, why: Option<&Refused>) -> Answer {
    let page = lesson::lesson(&asked.whole()?, &asked.fields, why).ok_or(Refused::Nothing)?;
    Ok(sent(why.map_or(StatusCode::OK, Refused::status), page))
}

fn learn(asked: &Asked) -> Answer {
    lesson_page(asked, None)
}

fn shift(asked: &Asked) -> Answer {
    let id = asked.id()?;
    let did = asked.whole().and_then(|job| {
        let entries = asked.entries()?;
        let ask = lesson::shifts(&job, &asked.fields)?;
        asked.desk.tell(id, entries, &[ask])
    });
    match did {
        Ok(()) => Ok(on_to(&format!("/job/{id}/lesson"))),
        Err(why) => lesson_page(asked, Some(&why)),
    }
}

/// Runs the strike of a job with what was put in wrong, every event watched.
fn struck(job: &Whole, fields: &Fields) -> Result<Run, Refused> {
    let movement = job.gone.movement().ok_or(Refused::Nothing)?;
    let run = tasks::prove(movement, &running::wrongs(fields), true);
    run.map_err(|why| Refused::Wrong(tasks::Refusal::Question(why)))
}

fn run(asked: &Asked) -> Answer {
    let job = asked.whole()?;
    let struck = struck(&job, &asked.fields);
    let status = (struck.as_ref().err()).map_or(StatusCode::OK, Refused::status);
    let page = running::running(&job, &asked.fields, struck.as_ref());
    Ok(sent(status, page.ok_or(Refused::Nothing)?))
}

/// The table that the page goes between.
fn table(asked: &Asked) -> Answer {
    let job = asked.whole()?;
    let (_, struck) = struck(&job, &asked.fields)?;
    let movement = job.gone.movement().ok_or(Refused::Nothing)?;
    let table = json::line(&Running::of(&asked.words, movement, &struck));
    Ok(([(header::CONTENT_TYPE, "application/json")], table).into_response())
}

fn begin_lesson(asked: &Asked) -> Answer {
    let id = lesson::begin(&asked.desk, &asked.words, &asked.fields)?;
    Ok(on_to(&format!("/job/{id}/lesson")))
}
