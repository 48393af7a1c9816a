//! The addresses of a train that is timed: what was seen and done goes into its log.

use super::page::page;
use super::step::Step;
use super::{reading, telling};
use crate::asked::{Answer, PageRequest, on_to, read, sent, write};
use crate::desk::{Desk, Refused};
use crate::form::{Fields, query};
use crate::pages::{strike, way};
use axum::Router;
use axum::http::StatusCode;
use report::page::plate_key;
use std::sync::Arc;
use tasks::{Ask, QuestionFault, Refusal, Which};

pub(crate) fn routes() -> Router<Arc<Desk>> {
    Router::new()
        .route("/job/{id}", read(show))
        .route("/job/{id}/saw", write(saw))
        .route("/job/{id}/view", write(turn))
        .route("/job/{id}/{what}", write(told))
}

fn show(asked: &PageRequest) -> Answer {
    let id = asked.id()?;
    let train = asked.desk.train(id, asked.words);
    // A train that cannot be followed from look to look has a job all the same: its way says why, and what to count again.
    if let Err(why @ Refused::Wrong(Refusal::Question(QuestionFault::TooManyPlaces { .. }))) =
        &train
    {
        return way::page(asked, Some(why));
    }
    let Some(job) = train? else {
        // What is no train to be timed here has a page of its own.
        return Ok(on_to(&format!("/job/{id}/way")));
    };
    if !asked.foreign && asked.desk.book.current()? != Some(id) {
        asked.desk.book.set_current(id)?;
    }
    if tasks::hidden_of(&job.timing.log).is_some() {
        return Ok(on_to(&format!("/job/{id}/way")));
    }
    Ok(sent(StatusCode::OK, page(&job, &asked.fields, None)))
}

/// Enters into a job's log, and goes on to its page; if that is refused, the page says so, with what was typed.
fn entered(asked: &PageRequest, fields: &Fields, asks: Result<Vec<Ask>, Refused>) -> Answer {
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

fn saw(asked: &PageRequest) -> Answer {
    let job = asked.desk.job(asked.id()?, asked.words)?;
    let asks = reading::seen(&job, &asked.fields).map(|ask| vec![ask]);
    let mut fields = asked.fields.clone();
    fields.0.push(("look".to_owned(), String::new()));
    entered(asked, &fields, asks)
}

fn told(asked: &PageRequest) -> Answer {
    let job = asked.desk.job(asked.id()?, asked.words)?;
    let fields = &asked.fields;
    let asks = match asked.named("what")? {
        "other-way" => {
            // Before it is said that a shift was made: it was, the other way.
            let made = !fields.has("shift")
                && (job.advised().is_empty() || job.timing.recalled.last_look.is_empty());
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

fn turn(asked: &PageRequest) -> Answer {
    let (id, fields) = (asked.id()?, &asked.fields);
    let view = asked.desk.view(id)?;
    let over = fields.get("turn") == Some("over");
    let plate = if over { view.plate } else { view.plate.other() };
    let upside_down = view.upside_down != over;
    (asked.desk.book).set_view(id, plate_key(plate), upside_down)?;
    Ok(on_to(&match fields.get("back") {
        Some("lesson") => format!("/job/{id}/lesson"),
        Some("strike") => format!("/job/{id}/strike{}", strike::question(fields)),
        _ => format!("/job/{id}{}", carried(fields)),
    }))
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
