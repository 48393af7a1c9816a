//! As it stood while it struck right: what is done in three lines, photographs, and how each lies at rest, before anything is let down
//! in the log or moved.

use crate::asked::{Answer, PageRequest, on_to, read, sent, write};
use crate::desk::{Desk, Job, Refused, Whole};
use crate::form::Fields;
use crate::form::said::number;
use crate::frame::frame;
use crate::pages::timing::reading::{self, Looked};
use crate::plate::{Plate, Show};
use axum::Router;
use axum::http::StatusCode;
use entries::{Occasion, Stage, Striking, Work};
use maud::{Markup, html};
use movement::{Movement, WitnessId};
use report::{page as said, say, stages};
use serde::Deserialize;
use std::sync::Arc;
use tasks::{Ask, QuestionFault, Refusal};
use timing::{Rest, tells_stood};
use way::StageDanger;

pub(crate) fn routes() -> Router<Arc<Desk>> {
    let page = read(show).merge(write(stood));
    Router::new().route("/job/{id}/stood", page)
}

fn show(asked: &PageRequest) -> Answer {
    let id = asked.id()?;
    if asked.whole()?.lesson().is_some() {
        return Ok(on_to(&format!("/job/{id}/lesson")));
    }
    Ok(sent(StatusCode::OK, page(asked, None)?))
}

/// Hours that were watched.
#[derive(Deserialize)]
struct Watched {
    #[serde(deserialize_with = "number")]
    hours: Option<u16>,
}

fn stood(asked: &PageRequest) -> Answer {
    let id = asked.id()?;
    let job = asked.desk.job(id, asked.locale)?;
    let told = (|| {
        let readings = reading::readings(&job, &asked.fields, true)?;
        let Watched { hours } = asked.fields.read()?;
        let hours = hours.filter(|hours| *hours > 0);
        let ask = Ask::Stood { readings, hours };
        Ok(asked.desk.tell(id, asked.entries()?, &[ask])?)
    })();
    match told {
        Ok(()) => Ok(on_to(&format!("/job/{id}/stood"))),
        Err(why) => Ok(sent(Refused::status(&why), page(asked, Some(&why))?)),
    }
}

/// Why it is not read as it stood.
enum Closed {
    /// Since this entry it stands no more as it came.
    Touched(usize),
    /// It struck wrong.
    Wrong,
    /// Nobody said that it struck right.
    NotSaid,
}

impl Closed {
    fn of(whole: &Whole, job: Option<&Job>) -> Option<Closed> {
        let log = &whole.state.log;
        if let Some(n) = way::touched(log) {
            return Some(Closed::Touched(n));
        }
        match way::struck_as_it_came(log) {
            Some(Striking::Wrong) => return Some(Closed::Wrong),
            Some(Striking::Right) => return None,
            None => {}
        }
        let stands = job.is_some_and(|job| job.stands_as_it_came);
        let offered = whole.state.way.at(Stage::In).points.iter();
        let mut offered = offered.map(|point| &point.item);
        let said = stands || offered.any(|item| *item == way::Item::AsItStood);
        (!said).then_some(Closed::NotSaid)
    }
}

fn page(asked: &PageRequest, refused: Option<&Refused>) -> Result<Markup, Refused> {
    let id = asked.id()?;
    let (whole, locale) = (asked.whole()?, &asked.locale);
    let job = asked.desk.train(id, asked.locale)?;
    let closed = Closed::of(&whole, job.as_ref());
    let why_closed = closed.map(|closed| match closed {
        Closed::Touched(n) => {
            Refused::Wrong(Refusal::Question(QuestionFault::NotAsItStood(n))).say(locale)
        }
        Closed::Wrong => say!(locale, "stood-wrong"),
        Closed::NotSaid => say!(locale, "stood-not-said"),
    });
    let open = why_closed.is_none();
    let main = html! {
        main #main.job.stood data-job=(id) data-entries=(whole.entries()) {
            @if let Some(refused) = refused { p.refused role="alert" { (refused.say(locale)) } }
            @if let Some(job) = &job {
                figure.lies { (Plate::of(job, Show::AtRest).markup(job)) }
            }
            div.beside {
                section.stood-say aria-labelledby="sentence" {
                    h1 #sentence tabindex="-1" { (say!(locale, "stood-page")) }
                    @if let Some(why) = &why_closed { p #beneath { (why) } } @else {
                        ol.stood-lines {
                            li { (say!(locale, "stood-first")) }
                            li { (say!(locale, "stood-second")) }
                            li { (say!(locale, "stood-third")) }
                        }
                        p.quiet { (say!(locale, "stood-why")) }
                    }
                }
                @if open { (mind(&whole)) }
                (found(job.as_ref()))
                (photographs(&whole, open))
                @if open { (readings(job.as_ref(), &whole, &asked.fields)?) }
                p.whole {
                    a.button href=(format!("/job/{id}")) { (say!(locale, "stood-back")) } " "
                    a.button.plain href=(format!("/job/{id}/way")) { (say!(locale, "whole-job")) }
                }
            }
        }
    };
    let about = stages::stage(locale, whole.state.way.stage);
    Ok(frame(locale, &whole.name, Some(&about), &main))
}

/// What can hurt as power is let down.
fn mind(whole: &Whole) -> Markup {
    let locale = &whole.locale;
    let of_it = |danger: &StageDanger| {
        matches!(
            danger,
            StageDanger::Springs | StageDanger::Weights | StageDanger::Tower | StageDanger::Fusee
        )
    };
    let dangers = way::dangers(Stage::Down, whole.state.movement(), whole.state.driven);
    html! {
        section.mind aria-label=(say!(locale, "cautions-now")) {
            h2 { (say!(locale, "cautions-now")) }
            ul { @for danger in dangers.into_iter().filter(of_it) { li { (stages::danger(locale, danger)) } } }
            p { (stages::danger_local(locale)) }
        }
    }
}

/// What was read so, and how far from an edge each stood.
fn found(job: Option<&Job>) -> Markup {
    let Some(job) = job.filter(|job| !job.timing.stood.each.is_empty()) else {
        return html! {};
    };
    let locale = &job.locale;
    html! {
        section.stood-found aria-labelledby="found" {
            h2 #found { (say!(locale, "stood-found")) }
            ul {
                @for line in said::stood_right(locale, job.movement(), &job.timing.stood) { li { (line) } }
            }
        }
    }
}

/// Photographs of how it came, and one more.
fn photographs(whole: &Whole, open: bool) -> Markup {
    let locale = &whole.locale;
    let log = &whole.state.log;
    let came = log.standing().filter_map(|entry| match entry.work()? {
        work @ Work::Picture {
            when: Occasion::Before,
            ..
        } => Some((entry.n, work.picture()?.text())),
        _ => None,
    });
    let came: Vec<_> = came.collect();
    html! {
        section.stood-photographs aria-labelledby="photographs" {
            h2 #photographs { (say!(locale, "stood-photographs")) }
            @for (n, name) in &came {
                a.thumb href=(format!("/picture/{name}")) {
                    img src=(format!("/picture/{name}/small")) alt=(say!(locale, "record-picture-of", n = *n)) loading="lazy";
                }
            }
            @if open {
                form.row method="post" action=(format!("/job/{}/picture", whole.id)) enctype="multipart/form-data" data-whole {
                    input type="hidden" name="entries" value=(whole.entries());
                    input type="hidden" name="when" value="before";
                    input type="hidden" name="at" value="stood";
                    label { span { (say!(locale, "enter-picture")) } input type="file" name="picture" accept="image/jpeg,image/png" capture="environment" required; }
                    button { (say!(locale, "enter")) }
                }
            }
        }
    }
}

/// What is seen at rest tells of these where they stood.
fn telling(movement: &Movement) -> Vec<WitnessId> {
    let rest = Rest::of(movement);
    let all = movement.witnesses().map(|(id, _)| id);
    all.filter(|id| tells_stood(movement, &rest, *id)).collect()
}

/// How each lies.
fn readings(job: Option<&Job>, whole: &Whole, typed: &Fields) -> Result<Markup, Refused> {
    let locale = &whole.locale;
    let Some(job) = job else {
        return Ok(html! { p.quiet { (say!(locale, "stood-no-sheet")) } });
    };
    let asked = telling(job.movement());
    if asked.is_empty() {
        return Ok(html! { p.quiet { (say!(locale, "stood-none-tells")) } });
    }
    let plate = Plate::of(job, Show::AtRest);
    let looked = Looked {
        job,
        plate: &plate,
        asked: &asked,
    };
    Ok(html! {
        h2 #readings { (say!(locale, "stood-readings")) }
        form #reading.reading aria-labelledby="readings" method="post" action=(format!("/job/{}/stood", job.id)) autocomplete="off" data-since=(reading::since(job)) {
            input type="hidden" name="entries" value=(job.entries());
            (reading::close_ups_at_rest(&looked, typed))
            label.stood-hours {
                span { (say!(locale, "stood-hours")) }
                input type="text" inputmode="numeric" name="hours" size="4" value=[typed.get("hours")];
            }
        }
        div.touches { button.primary form="reading" data-next { (say!(locale, "stood-enter")) } }
    })
}
