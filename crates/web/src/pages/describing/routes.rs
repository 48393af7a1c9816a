//! The addresses of a movement that is described: each touch is entered, and what comes next is asked.

use super::asking::answered;
use super::bare;
use super::counting::name;
use super::page::{Asked, page};
use crate::asked::{Answer, PageRequest, on_to, read, sent, write};
use crate::desk::{Desk, Refused};
use crate::form::said::{lenient, sheet};
use crate::form::{FieldFault, Fields, plain, query};
use axum::Router;
use axum::http::StatusCode;
use book::JobId;
use movement::ToothForm;
use quantity::Teeth;
use report::page::describing as said;
use report::{Locale, say};
use serde::Deserialize;
use std::sync::Arc;
use tasks::{CountState, Described, PartLook, PlaceId, PresentAnswer, QuestionAnswer};

pub(crate) fn routes() -> Router<Arc<Desk>> {
    Router::new()
        .route("/job/{id}/movement", read(show))
        .route("/job/{id}/movement/kind", write(kind))
        .route("/job/{id}/movement/bare", write(begin_bare))
        .route("/job/{id}/movement/like", write(like))
        .route("/job/{id}/movement/as-like", write(as_like))
        .route("/job/{id}/movement/strikes", write(strikes))
        .route("/job/{id}/movement/add", write(add))
        .route("/job/{id}/movement/away", write(away))
        .route("/job/{id}/movement/count", write(count))
        .route("/job/{id}/movement/answer", write(answer))
        .route("/job/{id}/movement/rest", write(rest))
        .route("/job/{id}/movement/sheet", write(text))
        .route("/job/{id}/movement/undo", write(undo))
}

/// The page, with why something was refused.
fn shown(asked: &PageRequest, fields: &Fields, why: Option<&Refused>) -> Answer {
    let job = asked.whole()?;
    let described = asked.desk.described(job.id)?;
    let status = why.map_or(StatusCode::OK, Refused::status);
    let page = page(
        &job,
        described.as_ref(),
        &Asked {
            fields,
            like: &|| asked.desk.like_ones(job.id),
            heard: asked.desk.recordings.pace(job.id),
        },
        why,
    )?;
    Ok(sent(status, page))
}

fn show(asked: &PageRequest) -> Answer {
    shown(asked, &asked.fields, None)
}

/// Why it was not entered, told by what was typed: whoever answers on this page never saw the lines of the sheet.
fn told_by(locale: &Locale, why: Refused, typed: &str) -> Refused {
    match why {
        Refused::Wrong(tasks::Refusal::Sheet(_)) => {
            Refused::Told(say!(locale, "refused-does-not-fit", typed = typed))
        }
        other => other,
    }
}

/// On to what comes next, or the same page again with why not, and what was typed.
fn next(asked: &PageRequest, done: Result<String, Refused>, again: &Fields) -> Answer {
    match done {
        Ok(question) => Ok(on_to(&format!("/job/{}/movement{question}", asked.id()?))),
        Err(why) => shown(asked, again, Some(&why)),
    }
}

#[derive(Deserialize)]
struct Chosen {
    kind: Option<String>,
}

fn kind(asked: &PageRequest) -> Answer {
    let begun = || {
        let Chosen { kind } = asked.fields.read()?;
        let kind = kind.ok_or(Refused::Nothing)?;
        asked.desk.describe(asked.id()?, asked.entries()?, &kind)?;
        Ok(String::new())
    };
    next(asked, begun(), &Fields::default())
}

fn begin_bare(asked: &PageRequest) -> Answer {
    let begun = || {
        let [first, next] = bare::first();
        asked
            .desk
            .describe_bare(asked.id()?, asked.entries()?, &first, &next)?;
        Ok(String::new())
    };
    next(asked, begun(), &Fields::default())
}

/// A bare train strikes like this kind.
fn strikes(asked: &PageRequest) -> Answer {
    let told = || {
        let Chosen { kind } = asked.fields.read()?;
        let kind = kind.ok_or(Refused::Nothing)?;
        asked
            .desk
            .touch(asked.id()?, asked.entries()?, |described| {
                described.strike_like(&kind)
            })?;
        Ok(String::new())
    };
    next(asked, told(), &Fields::default())
}

#[derive(Deserialize)]
struct LikeOne {
    like: Option<String>,
}

fn like(asked: &PageRequest) -> Answer {
    let begun = || {
        let LikeOne { like } = asked.fields.read()?;
        let like = like.and_then(|like: String| like.parse().ok());
        let like = like.and_then(|like: String| like.parse().ok());
        let like: JobId = like.ok_or(Refused::Nothing)?;
        asked
            .desk
            .describe_like(asked.id()?, asked.entries()?, like)?;
        Ok(String::new())
    };
    next(asked, begun(), &Fields::default())
}

/// What was not counted yet is as on the like clock.
fn as_like(asked: &PageRequest) -> Answer {
    let taken = || {
        asked
            .desk
            .touch(asked.id()?, asked.entries()?, Described::take_as_on)?;
        Ok(format!("?{}", query([("from", "as-like")])))
    };
    next(asked, taken(), &Fields::default())
}

fn add(asked: &PageRequest) -> Answer {
    let added = bare::add(asked).map(|()| String::new());
    next(asked, added, &asked.fields)
}

fn away(asked: &PageRequest) -> Answer {
    let gone = bare::away(asked).map(|()| String::new());
    next(asked, gone, &asked.fields)
}

/// How a count is sent.
#[derive(Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum How {
    Next,
    Lost,
    Unsure,
}

#[derive(Clone, Copy, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum Form {
    Cut,
    Lantern,
}

/// A count that is sent.
#[derive(Deserialize)]
struct Counted {
    at: Option<String>,
    count: Option<String>,
    #[serde(deserialize_with = "lenient")]
    form: Option<Form>,
    #[serde(deserialize_with = "lenient")]
    how: Option<How>,
    /// Where to go then, where that was touched.
    then: Option<String>,
}

fn count(asked: &PageRequest) -> Answer {
    let counted = || {
        let sent: Counted = asked.fields.read()?;
        let id = asked.id()?;
        let described = asked.desk.described(id)?.ok_or(Refused::Nothing)?;
        let at = sent.at.as_deref().unwrap_or_default();
        let counts = described.counts();
        let place = counts.iter().find(|place| name(place) == at);
        let place = place.ok_or(Refused::Nothing)?;
        let pins = place.look == PartLook::Pins || are_pins(&sent, &described, &place.id);
        let state = state(&sent, pins)?;
        let form = sent.form.map(|form| match form {
            Form::Cut => ToothForm::Cut,
            Form::Lantern => ToothForm::Lantern,
        });
        let form = form.or(pins.then_some(ToothForm::Pins));
        asked
            .desk
            .touch(id, asked.entries()?, |described| {
                if let Some(form) = form {
                    described.form(&place.id, form)?;
                }
                described.count(&place.id, state)
            })
            .map_err(|why| {
                told_by(
                    &asked.locale,
                    why.into(),
                    &said::part(&asked.locale, &place.id),
                )
            })?;
        let then = sent.then.as_deref().map(|then| ("at", then));
        Ok(format!(
            "?{}",
            query(then.into_iter().chain([("from", at)]))
        ))
    };
    next(asked, counted(), &asked.fields)
}

/// Whether so few can only be pins: of what drives an arbor that drives nothing further, beside the wheel of its own, as what moves a
/// count wheel on does.
fn are_pins(sent: &Counted, described: &Described, part: &PlaceId) -> bool {
    let typed = sent.count.as_deref().unwrap_or_default();
    let few = (plain(typed.trim()).parse()).is_ok_and(|few: u8| (1..=3).contains(&few));
    let name = format!("{}.{}", part.arbor, part.part);
    let meshes = described.meshes();
    let arbor = |name: &str| name.split('.').next().unwrap_or_default().to_owned();
    let drives = |of: &str| {
        meshes
            .iter()
            .filter(|[driver, _]| arbor(driver) == of)
            .count()
    };
    let mut driven = meshes.iter().filter(|[driver, _]| *driver == name);
    few && drives(&part.arbor) > 1 && driven.any(|[_, driven]| drives(&arbor(driven)) == 0)
}

/// How a count stands that is sent: blank is not counted, which only what is lost may be.
fn state(sent: &Counted, pins: bool) -> Result<CountState, Refused> {
    if sent.how == Some(How::Lost) {
        return Ok(CountState::Lost);
    }
    let typed = sent.count.as_deref().unwrap_or_default();
    let doubtful = sent.how == Some(How::Unsure) || typed.trim_end().ends_with('?');
    let figures = plain(typed.trim_end().trim_end_matches('?'));
    let number: i64 = (figures.parse()).map_err(|_| FieldFault::of("count", typed))?;
    let teeth = match pins {
        true => Teeth::pins(number),
        false => Teeth::new(number),
    };
    let teeth = teeth.ok_or(Refused::NoCount { pins })?;
    Ok(match doubtful {
        true => CountState::NotSure(teeth),
        false => CountState::Counted(teeth),
    })
}

#[derive(Deserialize)]
struct Answered {
    question: Option<String>,
}

fn answer(asked: &PageRequest) -> Answer {
    let Answered { question } = asked.fields.read()?;
    let id = question.unwrap_or_default();
    let told = || {
        let job = asked.id()?;
        let described = asked.desk.described(job)?.ok_or(Refused::Nothing)?;
        let questions = described.questions();
        let question = questions.iter().find(|q| q.question.id == id);
        let heard = asked.desk.recordings.pace(job);
        let question = question.ok_or(Refused::Nothing)?.question;
        let answer = answered(question, &asked.fields, heard)?;
        let typed = || said::question(&asked.locale, question, "");
        asked
            .desk
            .touch(job, asked.entries()?, |described| {
                described.answer(&id, &answer)
            })
            .map_err(|why| told_by(&asked.locale, why.into(), &typed()))?;
        Ok(format!("?{}", query([("from", id.as_str())])))
    };
    next(asked, told(), &asked.fields.clone().with("ask", &id))
}

/// All that was not asked yet is as usual.
fn rest(asked: &PageRequest) -> Answer {
    let told = || {
        asked
            .desk
            .touch(asked.id()?, asked.entries()?, |described| {
                let open = described.questions();
                for asked in open.iter().filter(|q| q.answer == PresentAnswer::None) {
                    described.answer(&asked.question.id, &QuestionAnswer::Usual)?;
                }
                Ok(())
            })?;
        Ok(String::new())
    };
    next(asked, told(), &Fields::default())
}

#[derive(Deserialize)]
struct AsText {
    #[serde(deserialize_with = "sheet")]
    sheet: Option<String>,
}

fn text(asked: &PageRequest) -> Answer {
    let entered = || {
        let AsText { sheet } = asked.fields.read()?;
        let work = tasks::new_sheet(&sheet.unwrap_or_default())?;
        asked.desk.enter(asked.id()?, asked.entries()?, &work)?;
        Ok(String::new())
    };
    next(asked, entered(), &asked.fields)
}

/// Takes the last touch back, and asks again what it told.
fn undo(asked: &PageRequest) -> Answer {
    let undone = || {
        asked.desk.untouch(asked.id()?, asked.entries()?)?;
        Ok(String::new())
    };
    next(asked, undone(), &Fields::default())
}
