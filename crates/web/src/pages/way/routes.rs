//! The addresses of a job's way: what is entered, taken back; its sheet and its pictures.

use super::page::way;
use crate::asked::{Answer, PageRequest, on_its_own, on_to, read, refused, sent, write};
use crate::bounds::{MOST_PICTURE, QUEUED_FOR};
use crate::desk::{Desk, Refused};
use crate::form::{FieldFault, Fields, lines, short_enough};
use crate::pages::entering;
use crate::speech::Speech;
use ::way::Own;
use axum::Router;
use axum::extract::multipart::{Multipart, MultipartError};
use axum::extract::{DefaultBodyLimit, Path, State};
use axum::http::StatusCode;
use axum::response::Response;
use axum::routing::post;
use book::{BookFault, JobId};
use entries::{Kept, Occasion, Stage, Work};
use std::sync::Arc;
use tasks::kept_text;

pub(crate) fn routes() -> Router<Arc<Desk>> {
    Router::new()
        .route("/job/{id}/way", read(show))
        .route("/job/{id}/enter", write(enter))
        .route("/job/{id}/take-back", write(take_back))
        .route("/job/{id}/own", write(own))
        .route("/job/{id}/sheet", write(sheet))
        .route(
            "/job/{id}/picture",
            post(keep_picture).layer(DefaultBodyLimit::max(MOST_PICTURE)),
        )
}

/// The page of a job's way.
pub(crate) fn page(asked: &PageRequest, why: Option<&Refused>) -> Answer {
    let id = asked.id()?;
    let job = asked.desk.on_its_way(id, asked.words, asked.evening()?)?;
    if job.lesson().is_some() {
        return Ok(on_to(&format!("/job/{id}/lesson")));
    }
    let status = why.map_or(StatusCode::OK, Refused::status);
    let left = asked.desk.left_of_removal(&job)?;
    let page = way(&job, &asked.fields, why, &left);
    Ok(sent(status, page))
}

fn show(asked: &PageRequest) -> Answer {
    page(asked, None)
}

/// Does something to a job, and goes on to its way; if that is refused, the way says so.
fn done(asked: &PageRequest, what: impl FnOnce(JobId) -> Result<(), Refused>) -> Answer {
    settled(asked, |id| what(id).map(|()| None))
}

/// The same where an entry was made: its number is given, and it is shown where it was made.
fn settled(
    asked: &PageRequest,
    what: impl FnOnce(JobId) -> Result<Option<usize>, Refused>,
) -> Answer {
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

fn enter(asked: &PageRequest) -> Answer {
    settled(asked, |id| {
        let entries = asked.entries()?;
        let work = entering::told(&asked.fields).map_err(Refused::FieldFault)?;
        let on_purpose = asked.fields.get("sure") == Some("yes");
        Ok(Some(match work {
            Work::HandedBack { .. } => (asked.desk).hand_back(id, entries, &work, on_purpose)?,
            _ => asked.desk.enter(id, entries, &work)?,
        }))
    })
}

fn take_back(asked: &PageRequest) -> Answer {
    done(asked, |id| {
        let entries = asked.entries()?;
        let of = asked.fields.count("of").ok_or(Refused::Nothing)?;
        Ok(asked.desk.take_back(id, entries, of)?)
    })
}

/// A point of the shop's own is added, or dropped: it is settled for the shop, and no entry of any job.
fn own(asked: &PageRequest) -> Answer {
    done(asked, |_| {
        let PageRequest { desk, fields, .. } = asked;
        let stage = fields.get("stage").and_then(Stage::of_word);
        let stage = stage.ok_or(Refused::Nothing)?;
        let (named, added) = match (fields.get("drop"), fields.get("says")) {
            (Some(drop), _) => (drop, false),
            (None, Some(says)) => (says, true),
            (None, None) => return Err(Refused::FieldFault(FieldFault::of("says", ""))),
        };
        let mut own = desk.own()?;
        own.retain(|own| own.stage != stage || own.says != named);
        if added {
            short_enough(fields).map_err(Refused::FieldFault)?;
            let says = named.to_owned();
            own.push(Own { stage, says });
        }
        Ok(desk.settle_own(&own)?)
    })
}

fn sheet(asked: &PageRequest) -> Answer {
    settled(asked, |id| {
        let entries = asked.entries()?;
        let text = lines(asked.fields.get("sheet").unwrap_or_default());
        let work = tasks::new_sheet(&text)?;
        Ok(Some(asked.desk.enter(id, entries, &work)?))
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
    let asked = PageRequest::of_job(desk, words, id, fields);
    on_its_own(asked, (place, unpacking), move |asked| {
        settled(asked, |id| {
            let entries = asked.entries()?;
            short_enough(&asked.fields).map_err(Refused::FieldFault)?;
            if picture.is_empty() {
                return Err(Refused::FieldFault(FieldFault::of("picture", "")));
            }
            let when = asked.fields.get("when").and_then(Occasion::of_word);
            let when = when.ok_or(Refused::Nothing)?;
            let kept = asked.desk.book.keep_picture(picture)?;
            let work = Work::Picture {
                picture: Kept::Here(kept.digest.clone()),
                when,
                says: kept_text(asked.fields.get("says")),
            };
            let entered = asked.desk.enter(id, entries, &work);
            if entered.is_err() {
                // What resists is tried again with the next backup; why it was refused is what is told.
                let _ = asked.desk.book.let_go(&kept.digest);
            }
            Ok(Some(entered?))
        })
    })
    .await
}
