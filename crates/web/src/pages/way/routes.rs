//! The addresses of a job's way: what is entered, taken back; its sheet and its pictures.

use super::page::way;
use crate::asked::{Answer, PageRequest, on_its_own, on_to, read, refused, sent, write};
use crate::bounds::{MOST_PICTURE, QUEUED_FOR};
use crate::desk::{Desk, Refused};
use crate::form::said::{self, Text, lenient, number, yes};
use crate::form::{FieldFault, Fields};
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
use entries::{Kept, KeptText, Occasion, Stage, Work};
use serde::Deserialize;
use std::sync::Arc;

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
    let job = asked.desk.on_its_way(id, asked.locale, asked.evening()?)?;
    if job.lesson().is_some() {
        return Ok(on_to(&format!("/job/{id}/lesson")));
    }
    let status = why.map_or(StatusCode::OK, Refused::status);
    let left = asked.desk.left_of_removal(&job)?;
    let page = way(&job, &asked.fields, why, &left)?;
    Ok(sent(status, page))
}

fn show(asked: &PageRequest) -> Answer {
    page(asked, None)
}

/// Does something to a job, and goes on to its way; if that is refused, the way says so.
fn done(asked: &PageRequest, what: impl FnOnce(JobId) -> Result<(), Refused>) -> Answer {
    settled(asked, |id| what(id).map(|()| None))
}

/// Where a form was sent from.
#[derive(Deserialize)]
struct SentFrom {
    #[serde(deserialize_with = "lenient")]
    stage: Option<Stage>,
    #[serde(deserialize_with = "lenient")]
    at: Option<At>,
}

/// A place on the page to go back to.
#[derive(Deserialize)]
#[serde(rename_all = "kebab-case")]
#[derive(Clone, Copy)]
enum At {
    Points,
    Places,
    Stood,
}

/// The same where an entry was made: its number is given, and it is shown where it was made.
fn settled(
    asked: &PageRequest,
    what: impl FnOnce(JobId) -> Result<Option<usize>, Refused>,
) -> Answer {
    let id = asked.id()?;
    match what(id) {
        Ok(entered) => {
            let SentFrom { stage, at } = asked.fields.read()?;
            if let Some(At::Stood) = at {
                return Ok(on_to(&format!("/job/{id}/stood")));
            }
            let mut to = stage.map_or_else(String::new, |stage| format!("?stage={}", stage.word()));
            if let (Some(At::Places), Some(_)) = (at, entered) {
                return Ok(on_to(&format!("/job/{id}/places#photographs")));
            }
            // Back to where it was touched.
            if let Some(At::Points) = at {
                to += "#points";
            } else if let (Some(n), Some(_)) = (entered, stage) {
                to += &format!("&entered={n}#{}", entering::ENTERED);
            }
            Ok(on_to(&format!("/job/{id}/way{to}")))
        }
        Err(why) => page(asked, Some(&why)),
    }
}

/// Whether it is handed back with points open on purpose.
#[derive(Deserialize)]
struct OnPurpose {
    #[serde(deserialize_with = "yes")]
    sure: bool,
}

fn enter(asked: &PageRequest) -> Answer {
    settled(asked, |id| {
        let entries = asked.entries()?;
        let work = entering::told::work(&asked.fields)?;
        let OnPurpose { sure } = asked.fields.read()?;
        Ok(Some(match work {
            Work::HandedBack { .. } => (asked.desk).hand_back(id, entries, &work, sure)?,
            _ => asked.desk.enter(id, entries, &work)?,
        }))
    })
}

/// The entry that is taken back.
#[derive(Deserialize)]
struct TakenBack {
    #[serde(deserialize_with = "number")]
    of: Option<usize>,
}

fn take_back(asked: &PageRequest) -> Answer {
    done(asked, |id| {
        let entries = asked.entries()?;
        let TakenBack { of } = asked.fields.read()?;
        let of = of.ok_or(Refused::Nothing)?;
        Ok(asked.desk.take_back(id, entries, of)?)
    })
}

/// A point of the shop's own at a stage: one to be dropped, or what a further one says.
#[derive(Deserialize)]
struct OwnPoint {
    #[serde(deserialize_with = "lenient")]
    stage: Option<Stage>,
    drop: Option<String>,
    says: Option<Text>,
}

/// A point of the shop's own is added, or dropped: it is settled for the shop, and no entry of any job.
fn own(asked: &PageRequest) -> Answer {
    done(asked, |_| {
        let OwnPoint { stage, drop, says } = asked.fields.read()?;
        let stage = stage.ok_or(Refused::Nothing)?;
        let (named, added) = match (&drop, &says) {
            (Some(drop), _) => (drop.as_str(), false),
            (None, Some(says)) => (says.as_str(), true),
            (None, None) => return Err(FieldFault::of("says", "").into()),
        };
        let mut own = asked.desk.own()?;
        own.retain(|own| own.stage != stage || own.says != named);
        if added {
            let says = named.to_owned();
            own.push(Own { stage, says });
        }
        Ok(asked.desk.settle_own(&own)?)
    })
}

/// The sheet as it is known now.
#[derive(Deserialize)]
struct NewSheet {
    #[serde(deserialize_with = "said::sheet")]
    sheet: Option<String>,
}

fn sheet(asked: &PageRequest) -> Answer {
    settled(asked, |id| {
        let entries = asked.entries()?;
        let NewSheet { sheet } = asked.fields.read()?;
        let work = tasks::new_sheet(&sheet.unwrap_or_default())?;
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
            fields = fields.with(&name, &field.text().await?);
        }
    }
    Ok((fields, picture))
}

/// What is said of a picture.
#[derive(Deserialize)]
struct OfPicture {
    #[serde(deserialize_with = "lenient")]
    when: Option<Occasion>,
    says: Option<Text>,
}

async fn keep_picture(
    State(desk): State<Arc<Desk>>,
    Speech(locale): Speech,
    Path(id): Path<String>,
    form: Multipart,
) -> Response {
    // Few come in at once, as each is held in memory; what waits is not read yet.
    let place = Arc::clone(&desk.room.uploads).acquire_owned();
    let Ok(Ok(place)) = tokio::time::timeout(QUEUED_FOR, place).await else {
        return refused(&locale, &Refused::Busy);
    };
    let (fields, picture) = match parts(form).await {
        Ok(parts) => parts,
        Err(error) if error.status() == StatusCode::PAYLOAD_TOO_LARGE => {
            return refused(&locale, &Refused::Book(BookFault::PictureTooLarge));
        }
        Err(_) => return refused(&locale, &Refused::BrokeOff),
    };
    // Unpacked it takes several times as much.
    let unpacking = desk.room.unpacking().await;
    let asked = PageRequest::of_job(desk, locale, id, fields);
    on_its_own(asked, (place, unpacking), move |asked| {
        settled(asked, |id| {
            let entries = asked.entries()?;
            let OfPicture { when, says } = asked.fields.read()?;
            if picture.is_empty() {
                return Err(FieldFault::of("picture", "").into());
            }
            let when = when.ok_or(Refused::Nothing)?;
            let kept = asked.desk.book.keep_picture(picture)?;
            let work = Work::Picture {
                picture: Kept::Here(kept.digest.clone()),
                when,
                says: says.map(KeptText::from),
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
