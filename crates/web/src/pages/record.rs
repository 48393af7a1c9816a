//! The records of a job, made from its log as paper has them.

use crate::asked::{Answer, PageRequest, read};
use crate::assets::FONTS;
use crate::desk::Desk;
use crate::desk::Whole;
use axum::Router;
use axum::http::header;
use axum::response::{Html, IntoResponse, Response};
use axum::routing::get;
use draw::{Marks, Pose, View, layout, scene};
use entries::{Digest, Log};
use movement::{Movement, Plate as Side};
use paper::{Links, OilNote, PlateDrawing, Record, TimedNote, owners, repairers};
use report::{Locale, page as said};
use std::sync::Arc;
use timing::Eye;

pub(super) fn routes() -> Router<Arc<Desk>> {
    Router::new()
        .route("/job/{id}/record", read(the_owners))
        .route("/job/{id}/record/whole", read(whole))
        .route(STYLE, get(paper))
}

/// Where the style of the records is.
pub(crate) const STYLE: &str = "/paper.css";

/// A record as a page: the owner's, or the whole. The job's readings were read by this eye.
pub(crate) fn record(job: &Whole, eye: Eye, whole: bool) -> String {
    let locale = job.locale;
    let movement = job.state.movement();
    let told = job.entry_texts();
    let winding = winding(&locale, movement);
    let plates = movement.map_or_else(Vec::new, |m| plates(&locale, m, &job.state.log));
    let picture = |digest: &Digest| format!("/picture/{}", digest.text());
    let record = Record {
        locale,
        clock: &job.name,
        day: job.day,
        log: &job.state.log,
        told: &told,
        picture: &picture,
        winding: &winding,
        timed: timed(job, eye),
        oil: oil(job),
        plates: &plates,
        sheet: &job.sheet,
    };
    let back = format!("/job/{}/way", job.id);
    let links = Links {
        style: STYLE,
        back: &back,
    };
    if whole {
        repairers(&record, links)
    } else {
        owners(&record, links)
    }
}

/// When to come back for the oil, as its plan says, and where that is.
fn oil(job: &Whole) -> OilNote {
    let [look, again] = tasks::oil_back(job.state.movement())
        .map(|time| report::measures::years(&job.locale, &time));
    OilNote {
        look,
        again,
        plan: (job.state.sheet.is_some()).then(|| format!("/job/{}/oil", job.id)),
    }
}

/// What the log bears out of the timing of the strike; of a lesson, which was put wrong on purpose, nothing.
fn timed(job: &Whole, eye: Eye) -> TimedNote {
    if job.lesson().is_some() {
        return TimedNote::Unsaid;
    }
    let (sheet, log) = (job.sheet.as_bytes(), job.state.log.text().as_bytes());
    let Ok(noted) = tasks::note(sheet, Some(log), &[], None, eye) else {
        return TimedNote::Unsaid;
    };
    match tasks::timed(&noted) {
        tasks::Timed::NeverLooked => TimedNote::Unsaid,
        tasks::Timed::InTime { shifted } => TimedNote::InTime {
            openings: shifted
                .then(|| tasks::openings(&noted.sheet.movement, noted.log.of_this_sheet())),
        },
        tasks::Timed::Out => TimedNote::Out,
        tasks::Timed::NotLookedSince => TimedNote::NotLookedSince,
        tasks::Timed::NotSure => TimedNote::NotSure,
    }
}

/// How the clock is wound and set, a sentence each.
fn winding(locale: &Locale, movement: Option<&Movement>) -> Vec<String> {
    let settings = ::way::settings(movement).into_iter();
    settings.map(|told| report::setting(locale, told)).collect()
}

/// The movement from both plates.
fn plates(locale: &Locale, movement: &Movement, log: &Log) -> Vec<PlateDrawing> {
    let centres = tasks::centres(movement, Some(log));
    let laid = layout(movement, &centres);
    let measured = laid.to_scale(movement, &centres);
    [Side::Front, Side::Back]
        .map(|plate| {
            let view = View {
                plate,
                upside_down: false,
            };
            let marks = Marks::default();
            PlateDrawing {
                caption: said::seen_from(locale, plate, false),
                drawing: scene(movement, &laid, view, &Pose::default(), &marks),
                measured,
            }
        })
        .to_vec()
}

async fn paper() -> Response {
    (
        [(header::CONTENT_TYPE, "text/css; charset=utf-8")],
        [FONTS, paper::style().as_str()].concat(),
    )
        .into_response()
}

/// A record of a job, as it stands now or stood when a day was over.
fn printed(asked: &PageRequest, whole: bool) -> Answer {
    let by = asked.evening();
    let (id, desk) = (asked.id()?, &asked.desk);
    let job = desk.on_its_way(id, asked.locale, by?)?;
    Ok(Html(record(&job, desk.eye(id)?, whole)).into_response())
}

fn the_owners(asked: &PageRequest) -> Answer {
    printed(asked, false)
}

fn whole(asked: &PageRequest) -> Answer {
    printed(asked, true)
}
