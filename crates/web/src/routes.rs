//! Each address and what it answers. Whatever enters something sends the browser on to the page that shows it.

use crate::asked::{Answer, Asked, on_to, read, refused, sent, write};
use crate::assets;
use crate::bounds::MOST_BODY;
use crate::desk::{Desk, Refused};
use crate::form::{Fields, lines, query};
use crate::guard::{Names, guard};
use crate::paced::paced;
use crate::page::{Step, page};
use crate::speech::{Speech, cookie};
use crate::{entering, job_routes, jobs, listening, reading, running, settings, sums, telling};
use axum::extract::DefaultBodyLimit;
use axum::http::StatusCode;
use axum::http::header::SET_COOKIE;
use axum::response::IntoResponse;
use axum::routing::get;
use axum::{Router, middleware};
use book::JobId;
use entries::Stage;
use report::page::plate_key;
use std::sync::Arc;
use tasks::{Ask, QuestionFault, Refusal, Which};

pub(crate) fn routes(desk: Arc<Desk>, names: Names) -> Router {
    Router::new()
        .route("/", read(home))
        .route("/jobs", read(list).merge(write(begin)))
        .route("/settings", read(choose).merge(write(choose_words)))
        .merge(job_routes::routes())
        .merge(sums::routes())
        .merge(listening::routes())
        .route("/job/{id}", read(show))
        .route("/job/{id}/saw", write(saw))
        .route("/job/{id}/view", write(turn))
        .route("/job/{id}/{what}", write(told))
        .route("/bench.css", get(assets::style))
        .route("/bench.js", get(assets::script))
        .route("/slate.js", get(assets::early))
        .route("/strike.js", get(assets::strike))
        .route("/listen.js", get(assets::listen))
        .route("/ear.js", get(assets::ear))
        .route("/serif.woff2", get(assets::serif))
        .route("/serif-italic.woff2", get(assets::italic))
        .route("/icon.svg", get(assets::icon))
        .fallback(|Speech(words): Speech| async move { refused(&words, &Refused::Nothing) })
        .layer(DefaultBodyLimit::max(MOST_BODY))
        .layer(middleware::from_fn(paced))
        .layer(middleware::from_fn_with_state(names, guard))
        .with_state(desk)
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

fn home(asked: &Asked) -> Answer {
    Ok(match asked.desk.book.current()? {
        Some(id) => on_to(&address(&asked.desk, id)),
        None => on_to("/jobs"),
    })
}

fn list(asked: &Asked) -> Answer {
    let page = jobs::jobs(&asked.desk, &asked.words, &asked.fields, None)?;
    Ok(sent(StatusCode::OK, page))
}

/// A clock comes in. One that has no name of its own goes by that of its sheet; a sheet without anything else is put on the
/// bench to have its train timed, or its missing counts found. Where a job has just this sheet, it is asked whether that job or
/// another is meant.
fn begin(asked: &Asked) -> Answer {
    let Asked { desk, fields, .. } = asked;
    let sheet = fields.get("sheet").map(lines);
    let told = ["clock", "complaint", "owner", "reach", "promised"];
    let begun = match &sheet {
        Some(sheet) if !told.iter().any(|name| fields.get(name).is_some()) => {
            put_on(desk, sheet, fields.has("as-another")).map(|id| address(desk, id))
        }
        sheet => come_in(desk, fields, sheet.as_deref()).map(|id| format!("/job/{id}/way")),
    };
    match begun {
        Ok(address) => Ok(on_to(&address)),
        Err(why) => {
            let page = jobs::jobs(desk, &asked.words, fields, Some(&why))?;
            Ok(sent(why.status(), page))
        }
    }
}

fn put_on(desk: &Desk, sheet: &str, as_another: bool) -> Result<JobId, Refused> {
    match desk.in_hand(sheet)? {
        Some(job) if !as_another => Err(Refused::InHand(job)),
        _ => Ok(desk.put_on(sheet)?),
    }
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
    Ok(desk.come_in(clock, sheet.unwrap_or_default(), &intake)?)
}

fn show(asked: &Asked) -> Answer {
    let id = asked.id()?;
    let train = asked.desk.train(id, asked.words);
    // A train that cannot be followed from look to look has a job all the same: its way says why, and what to count again.
    if let Err(why @ Refused::Wrong(Refusal::Question(QuestionFault::TooManyPlaces { .. }))) =
        &train
    {
        return job_routes::page(asked, Some(why));
    }
    let Some(job) = train? else {
        // What is no train to be timed here has a page of its own.
        return Ok(on_to(&format!("/job/{id}/way")));
    };
    if !asked.foreign && asked.desk.book.current()? != Some(id) {
        asked.desk.book.set_current(id)?;
    }
    if tasks::hidden_of(&job.noted.log).is_some() {
        return Ok(on_to(&format!("/job/{id}/way")));
    }
    Ok(sent(StatusCode::OK, page(&job, &asked.fields, None)))
}

/// Enters into a job's log, and goes on to its page; if that is refused, the page says so, with what was typed.
fn entered(asked: &Asked, fields: &Fields, asks: Result<Vec<Ask>, Refused>) -> Answer {
    let id = asked.id()?;
    let told = asks.and_then(|asks| Ok(asked.desk.tell(id, asked.entries()?, &asks)?));
    match told {
        Ok(()) => Ok(on_to(&format!("/job/{id}"))),
        Err(why) => {
            let job = asked.desk.job(id, asked.words)?;
            Ok(sent(why.status(), page(&job, fields, Some(&why))))
        }
    }
}

fn saw(asked: &Asked) -> Answer {
    let job = asked.desk.job(asked.id()?, asked.words)?;
    let asks = reading::seen(&job, &asked.fields).map(|ask| vec![ask]);
    let mut fields = asked.fields.clone();
    fields.0.push(("look".to_owned(), String::new()));
    entered(asked, &fields, asks)
}

fn told(asked: &Asked) -> Answer {
    let job = asked.desk.job(asked.id()?, asked.words)?;
    let fields = &asked.fields;
    let asks = match asked.named("what")? {
        "other-way" => {
            // Before it is said that a shift was made: it was, the other way.
            let made = !fields.has("shift")
                && (job.advised().is_empty() || job.noted.recalled.last_look.is_empty());
            let other_way = Ask::OtherWay(telling::which(fields));
            match made {
                true => Ok(vec![other_way]),
                false => telling::done(job.movement(), fields, &Which::All)
                    .map(|done| vec![done, other_way]),
            }
        }
        what => telling::asks(job.movement(), what, fields),
    };
    match asks {
        Err(Refused::Nothing) => Err(Refused::Nothing),
        asks => entered(asked, fields, asks),
    }
}

fn turn(asked: &Asked) -> Answer {
    let (id, fields) = (asked.id()?, &asked.fields);
    let view = asked.desk.view(id)?;
    let over = fields.get("turn") == Some("over");
    let plate = if over { view.plate } else { view.plate.other() };
    let upside_down = view.upside_down != over;
    (asked.desk.book).set_view(id, plate_key(plate), upside_down)?;
    Ok(on_to(&match fields.get("back") {
        Some("lesson") => format!("/job/{id}/lesson"),
        Some("strike") => format!("/job/{id}/strike{}", running::question(fields)),
        _ => format!("/job/{id}{}", carried(fields)),
    }))
}

fn choose(asked: &Asked) -> Answer {
    Ok(sent(StatusCode::OK, settings::settings(&asked.words)))
}

/// Keeps what was chosen, and goes back to the bench.
fn choose_words(asked: &Asked) -> Answer {
    let chosen = settings::chosen(&asked.fields, &asked.words);
    Ok(([(SET_COOKIE, cookie(&chosen))], on_to("/")).into_response())
}

/// What is being read, as the question of an address, so that it is still there after the view is turned.
fn carried(fields: &Fields) -> String {
    let step = fields.get("step").unwrap_or(Step::LOOK);
    let read = |name: &str| {
        let ends = [".deg", ".pick", ".sure"];
        name == "slack" || ends.iter().any(|end| name.ends_with(end))
    };
    let pairs = fields.0.iter().map(|(name, value)| (&name[..], &value[..]));
    match &query(pairs.filter(|(name, value)| read(name) && !value.is_empty()))[..] {
        "" => format!("?{step}"),
        read => format!("?{step}&{read}"),
    }
}
