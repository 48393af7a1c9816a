//! The addresses of a train that is timed: what was seen and done goes into its log.

use super::page::page;
use super::step::Step;
use super::{reading, telling};
use crate::asked::{Answer, PageRequest, on_to, read, sent, write};
use crate::desk::{Desk, Job, Refused};
use crate::form::said::lenient;
use crate::form::{Fields, query};
use crate::pages::{strike, way};
use crate::underlay::{Drawn, Under};
use axum::Router;
use axum::http::StatusCode;
use report::page::plate_key;
use serde::Deserialize;
use std::sync::Arc;
use tasks::{Ask, QuestionFault, Refusal};

pub(crate) fn routes() -> Router<Arc<Desk>> {
    Router::new()
        .route("/job/{id}", read(show))
        .route("/job/{id}/saw", write(saw))
        .route("/job/{id}/view", write(turn))
        .route("/job/{id}/{what}", write(tell))
}

fn show(asked: &PageRequest) -> Answer {
    let id = asked.id()?;
    let train = asked.desk.train(id, asked.locale);
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
    let under = under(asked, &job)?;
    let fields = reading::as_chosen(&asked.desk.held, &job, &asked.fields)?;
    Ok(sent(
        StatusCode::OK,
        page(&job, &fields, under.as_ref(), None)?,
    ))
}

/// The photograph under its drawing.
fn under(asked: &PageRequest, job: &Job) -> Result<Option<Under>, Refused> {
    let drawn = Drawn {
        movement: job.movement(),
        layout: job.timing.layout(),
        view: job.view,
    };
    Under::of(&asked.desk, job.id, &job.timing.log, &drawn)
}

/// Enters into a job's log, and goes on to its page; if that is refused, the page says so, with what was typed.
fn entered(asked: &PageRequest, fields: &Fields, asks: Result<Vec<Ask>, Refused>) -> Answer {
    let id = asked.id()?;
    let told = asks.and_then(|asks| Ok(asked.desk.tell(id, asked.entries()?, &asks)?));
    match told {
        Ok(()) => Ok(on_to(&format!("/job/{id}"))),
        Err(why) => {
            let job = asked.desk.job(id, asked.locale)?;
            let under = under(asked, &job)?;
            let page = page(&job, fields, under.as_ref(), Some(&why))?;
            Ok(sent(why.status(), page))
        }
    }
}

fn saw(asked: &PageRequest) -> Answer {
    let job = asked.desk.job(asked.id()?, asked.locale)?;
    let asks = reading::seen(&job, &asked.fields).map(|ask| vec![ask]);
    entered(asked, &asked.fields.clone().with("look", ""), asks)
}

fn tell(asked: &PageRequest) -> Answer {
    let job = asked.desk.job(asked.id()?, asked.locale)?;
    let touch = asked.fields.read_as(asked.named("what")?);
    // What no form of the page sends is told nothing.
    let touch = touch.map_err(|_| Refused::Nothing)?;
    match telling::asks(&job, touch) {
        Err(Refused::Nothing) => Err(Refused::Nothing),
        asks => entered(asked, &asked.fields, asks),
    }
}

/// How a view is turned, and from where.
#[derive(Deserialize)]
struct Turn {
    #[serde(deserialize_with = "lenient")]
    turn: Option<Turned>,
    #[serde(deserialize_with = "lenient")]
    back: Option<Back>,
    #[serde(deserialize_with = "lenient")]
    step: Option<Step>,
}

/// Which way a view is turned.
#[derive(Deserialize)]
#[serde(rename_all = "kebab-case")]
enum Turned {
    Plate,
    Over,
}

/// The page to go back to, where it is not the one of timing.
#[derive(Deserialize)]
#[serde(rename_all = "kebab-case")]
enum Back {
    Lesson,
    Strike,
    Places,
}

fn turn(asked: &PageRequest) -> Answer {
    let (id, fields) = (asked.id()?, &asked.fields);
    let Turn { turn, back, step } = fields.read()?;
    let view = asked.desk.view(id)?;
    let over = matches!(turn, Some(Turned::Over));
    let plate = if over { view.plate } else { view.plate.other() };
    let upside_down = view.upside_down != over;
    (asked.desk.book).set_view(id, plate_key(plate), upside_down)?;
    Ok(on_to(&match back {
        Some(Back::Places) => format!("/job/{id}/places"),
        Some(Back::Lesson) => format!("/job/{id}/lesson"),
        Some(Back::Strike) => format!("/job/{id}/strike{}", strike::question(fields)),
        None => format!("/job/{id}{}", carried(fields, step.unwrap_or(Step::Look))),
    }))
}

/// Back to the page of timing from elsewhere, with what is being read.
pub(crate) fn carried_on(asked: &PageRequest) -> Result<String, Refused> {
    let Turn { step, .. } = asked.fields.read()?;
    let step = step.unwrap_or(Step::Look);
    Ok(format!(
        "/job/{}{}",
        asked.id()?,
        carried(&asked.fields, step)
    ))
}

/// What is being read, as the question of an address, so that it is still there after the view is turned.
fn carried(fields: &Fields, step: Step) -> String {
    let step = step.name();
    let read = |name: &str| {
        let ends = [".deg", ".pick", ".sure", ".notch", ".quarters"];
        ["slack", "held", "pallet"].contains(&name) || ends.iter().any(|end| name.ends_with(end))
    };
    let read = (fields.all()).filter(|(name, value)| read(name) && !value.is_empty());
    match &query(read)[..] {
        "" => format!("?{step}"),
        read => format!("?{step}&{read}"),
    }
}
