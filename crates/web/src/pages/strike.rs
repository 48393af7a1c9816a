//! The strike shown running: the drawing with what is seen beside it, a strip of the hours, every event, and what can be
//! put in wrong. Without the script it is a list of hours and events.

use crate::asked::{Answer, PageRequest, heavy, sent};
use crate::desk::Desk;
use crate::desk::{Refused, Whole};
use crate::form::{Fields, along, plain, query};
use crate::frame::frame;
use crate::plate::{Plate, turning};
use axum::Router;
use axum::http::{StatusCode, header};
use axum::response::IntoResponse;
use maud::{Markup, html};
use movement::{Movement, RACK};
use report::json::{self, RunningAnswer};
use report::page::struck as said;
use report::{Locale, page, say};
use serde::Deserialize;
use std::sync::Arc;
use strike::{Hour, PlantedFault, Struck, pace};
use tasks::Wrongs;

pub(super) fn routes() -> Router<Arc<Desk>> {
    Router::new()
        .route("/job/{id}/strike", heavy(run))
        .route("/job/{id}/strike/table", heavy(table))
}

/// What can be put in wrong: the name of its field, and that of the field beside it.
const KINDS: [(&str, &str); 5] = [
    ("shift", "shift-by"),
    ("bend", "bend-by"),
    ("worn", "worn-by"),
    ("missing", "missing-n"),
    ("slip", "slip-by"),
];

/// What is put in wrong: where, and by how much.
#[derive(Deserialize)]
#[serde(rename_all = "kebab-case")]
struct Wrong {
    shift: Option<String>,
    shift_by: Option<String>,
    bend: Option<String>,
    bend_by: Option<String>,
    worn: Option<String>,
    worn_by: Option<String>,
    missing: Option<String>,
    missing_n: Option<String>,
    slip: Option<String>,
    slip_by: Option<String>,
}

impl From<Wrong> for Wrongs {
    /// As the command line writes it; what lacks its place or its amount is left out.
    fn from(wrong: Wrong) -> Wrongs {
        let written = |of: Option<String>, between: char, by: Option<String>| {
            let written = of
                .zip(by)
                .map(|(of, by)| format!("{of}{between}{}", plain(&by)));
            Vec::from_iter(written)
        };
        Wrongs {
            shift: written(wrong.shift, '=', wrong.shift_by),
            bend: written(wrong.bend, '=', wrong.bend_by),
            worn: written(wrong.worn, '=', wrong.worn_by),
            missing: written(wrong.missing, ':', wrong.missing_n),
            slip: written(wrong.slip, '=', wrong.slip_by),
        }
    }
}

/// What was put in, as it was typed.
fn put(fields: &Fields) -> impl Iterator<Item = (&str, &str)> {
    fields.filled(KINDS.into_iter().flat_map(|(name, by)| [name, by]))
}

/// What was put in, as the question of an address; empty where nothing was.
pub(crate) fn question(fields: &Fields) -> String {
    match query(put(fields)) {
        none if none.is_empty() => none,
        some => format!("?{some}"),
    }
}

/// What was put in, and the run.
pub(crate) type Run = (Vec<PlantedFault>, Struck);

/// The page of a run, or why there is none; nothing where the job has no sheet.
pub(crate) fn running(job: &Whole, asked: &Fields, run: Result<&Run, &Refused>) -> Option<Markup> {
    let locale = &job.locale;
    let movement = job.state.struck()?;
    let struck = run.map(|(_, struck)| struck);
    let view = job.view();
    let table = format!("/job/{}/strike/table{}", job.id, question(asked));
    let main = html! {
        main #main.strike-page data-job=(job.id) data-table=[struck.is_ok().then_some(table)] {
            @if let Err(refused) = struck { p.refused role="alert" { (refused.say(locale)) } }
            figure.lies {
                div.lies-hold role="img" aria-label=(page::seen_from(locale, view.plate, view.upside_down)) {
                    (Plate::running(movement, &job.state.log, view, struck.ok().and_then(|struck| struck.motion.first()).map(AsRef::as_ref)).svg())
                }
                figcaption { (turns(job, asked)) }
            }
            div.beside {
                h1 #sentence tabindex="-1" { (say!(locale, "running")) }
                @if let Ok(struck) = struck {
                    (player(locale, movement))
                    @if let Ok((put_in, _)) = run { @for line in said::bends(locale, movement, put_in) { p { (line) } } }
                    section.sums { @for line in said::summary(locale, movement, struck) { p { (line) } } }
                    (hours(locale, movement, struck))
                }
                (put_in(locale, job, movement, asked))
                p.quiet { (say!(locale, "running-levers")) }
                p.whole { a.button href=(format!("/job/{}/way?stage=prove", job.id)) { (say!(locale, "whole-job")) } }
            }
            @if struck.is_ok() { script src="/script/running.js" type="module" {} }
        }
    };
    let about = page::seen_from(locale, view.plate, view.upside_down);
    Some(frame(locale, &job.name, Some(&about), &main))
}

/// What the script is told to do: hidden where there is none.
fn player(locale: &Locale, movement: &Movement) -> Markup {
    let measured = movement.strike().is_some_and(|it| it.pace.is_some());
    let pace = say!(
        locale,
        "running-pace-about",
        measured = if measured { "yes" } else { "no" },
        blow = locale.decimal(pace::blow(movement), 2),
        hand = locale.decimal(pace::HAND, 0)
    );
    html! {
        section.player aria-label=(say!(locale, "running")) {
            p #seen.now-seen { (say!(locale, "running-loading")) }
            div.touches {
                button #play.primary type="button" disabled data-play=(say!(locale, "running-play")) data-pause=(say!(locale, "running-pause")) { (say!(locale, "running-play")) }
                button #next type="button" disabled data-next { (say!(locale, "running-next")) }
                button #before type="button" disabled { (say!(locale, "running-before")) }
            }
            fieldset.sure {
                legend { (say!(locale, "running-pace")) }
                label { input type="radio" name="pace" value="0.25" checked; span { (say!(locale, "running-slow")) } }
                label { input type="radio" name="pace" value="1"; span { (say!(locale, "running-real")) } }
                button #sound.plain type="button" aria-pressed="false" data-sound=(say!(locale, "running-sound")) data-quiet=(say!(locale, "running-quiet")) { (say!(locale, "running-sound")) }
            }
            p.quiet { (pace) " " (say!(locale, "running-sound-about")) }
        }
    }
}

/// The strip of the hours, each with its edge, and under it what is seen at each.
fn hours(locale: &Locale, movement: &Movement, struck: &Struck) -> Markup {
    let first = struck.first_events();
    html! {
        section.hours aria-labelledby="hours" {
            h2 #hours { (say!(locale, "running-hours")) }
            p.quiet { (say!(locale, "running-thin-mark")) }
            ol.strip {
                @for (n, hour) in struck.hours.iter().enumerate() {
                    li data-state=(state(hour)) {
                        a href=(format!("#hour-{n}")) data-hour=(n) data-first=(first[n]) {
                            b { (said::time(hour)) }
                            (edge(hour))
                            span { (said::blows(locale, hour)) }
                            small { (in_a_word(locale, hour)) }
                        }
                    }
                }
            }
            h2 { (say!(locale, "running-events")) }
            @for (n, hour) in struck.hours.iter().enumerate() {
                details id=(format!("hour-{n}")) {
                    summary { (say!(locale, "running-events-of", time = said::time(hour))) }
                    p { (account(locale, movement, hour)) }
                    ol start=(first[n] + 1) {
                        @for event in &struck.events[first[n]..first[n + 1]] {
                            li { (say!(locale, "running-at", time = said::clock(&event.pose.hours), what = said::seen(locale, movement, &event.seen))) }
                        }
                    }
                }
            }
        }
    }
}

/// Whether an hour is as it should be: right, thin or wrong.
fn state(hour: &Hour) -> &'static str {
    match (hour.is_right(), said::is_thin(hour)) {
        (false, _) => "wrong",
        (true, true) => "thin",
        (true, false) => "right",
    }
}

fn in_a_word(locale: &Locale, hour: &Hour) -> String {
    match state(hour) {
        "wrong" => say!(locale, "running-wrong"),
        "thin" => say!(locale, "running-thin"),
        _ => say!(locale, "running-right"),
    }
}

/// What an hour came to, in one line.
fn account(locale: &Locale, movement: &Movement, hour: &Hour) -> String {
    let owed = hour.expected;
    let blows = hour.blows;
    let mut said = vec![say!(
        locale,
        "running-hour",
        time = said::time(hour),
        blows = blows,
        owed = owed
    )];
    said.extend(
        said::warning(locale, hour).map(|turns| say!(locale, "running-warning", turns = turns)),
    );
    said.extend(said::fall(locale, hour).map(|fall| say!(locale, "running-fall", fall = fall)));
    said.extend(said::lead(locale, hour).map(|lead| say!(locale, "running-lead", lead = lead)));
    let edge = said::nearest_edge(locale, movement, hour);
    if !edge.is_empty() {
        said.push(edge);
    }
    said.extend(said::not_good(locale, hour));
    said.join("; ")
}

/// A slot with a tip in it, as near to its edges as it stood at the lock; for a rack a tooth with the pallet.
fn edge(hour: &Hour) -> Markup {
    let place = said::room(hour);
    let notched = if said::is_thin(hour) {
        "M3 18l3 3-3 3"
    } else {
        ""
    };
    html! {
        svg.edge viewBox="0 0 64 28" aria-hidden="true" {
            path.slot d="M0 5H10V24H54V5H64" {}
            @if let Some(place) = place {
                @let x = crate::form::written(10.0 + place * 32.0, 1);
                path.tip d=(format!("M{x} 0v22h12V0z")) {}
            }
            @if !notched.is_empty() { path.nick d=(notched) {} }
        }
    }
}

/// The plate it is looked at from, to be turned.
fn turns(job: &Whole, asked: &Fields) -> Markup {
    let action = format!("/job/{}/view", job.id);
    html! {
        form method="post" action=(action) data-whole {
            input type="hidden" name="back" value="strike";
            (along(put(asked)))
            (turning(&job.locale, job.view(), None, &action))
        }
    }
}

/// What can be put in wrong, as a plain form; nothing of it is entered in the book.
fn put_in(locale: &Locale, job: &Whole, movement: &Movement, asked: &Fields) -> Markup {
    let Some(works) = movement.works() else {
        return html! {};
    };
    let meshes: Vec<(String, String)> = (movement.meshes())
        .filter(|(id, _)| movement.far_side(*id).is_some())
        .map(|(id, _)| movement.mesh_name(id))
        .map(|name| (name.replace('>', ":"), name.replace('>', " · ")))
        .collect();
    let same = |ids: Vec<&str>| -> Vec<(String, String)> {
        ids.into_iter()
            .map(|id| (id.to_owned(), page::named(id)))
            .collect()
    };
    let tail = works.rack().map(|_| RACK);
    let called = |id| page::lever_called(locale, movement, id);
    let levers = works
        .levers()
        .map(|(id, lever)| (lever.id.clone(), called(id)));
    let levers = levers.chain(same(tail.into_iter().collect())).collect();
    let felt = |id| (works.levers()).any(|(_, lever)| lever.track() == Some(id));
    let tracks = same(
        (works.tracks().filter(|(id, _)| felt(*id)))
            .map(|(_, t)| t.id.as_str())
            .collect(),
    );
    let pins = works.pins().map(|(_, pin)| pin.id.as_str());
    let both = same(
        works
            .tracks()
            .map(|(_, track)| track.id.as_str())
            .chain(pins)
            .collect(),
    );
    let choices = [&meshes, &levers, &tracks, &both, &both];
    let labels = [
        say!(locale, "running-shift"),
        say!(locale, "running-bend"),
        say!(locale, "running-worn"),
        say!(locale, "running-missing"),
        say!(locale, "running-slip"),
    ];
    let open = put(asked).next().is_some();
    html! {
        details.put-in open[open] {
            summary { (say!(locale, "running-put-in")) }
            form method="get" action=(format!("/job/{}/strike", job.id)) {
                @for (((name, by), choices), label) in KINDS.iter().zip(choices).zip(&labels) {
                    div.row {
                        label {
                            span { (label) }
                            select name=(name) {
                                option value="" { (say!(locale, "running-none")) }
                                @for (value, shown) in choices { option value=(value) selected[asked.get(name) == Some(value.as_str())] { (shown) } }
                            }
                        }
                        label {
                            span { (say!(locale, "running-by")) span.visually-hidden { " " (label) } }
                            input type="text" inputmode="decimal" name=(by) size="4" value=(asked.get(by).unwrap_or_default());
                        }
                    }
                }
                p.quiet { (say!(locale, "bend-about")) }
                div.forward {
                    button { (say!(locale, "running-run")) }
                    @if open { a.button.plain href=(format!("/job/{}/strike", job.id)) { (say!(locale, "running-clear")) } }
                }
            }
        }
    }
}

/// Runs the strike of a job with what was put in wrong, every event watched.
fn struck(job: &Whole, fields: &Fields) -> Result<Run, Refused> {
    let movement = job.state.struck().ok_or(Refused::Nothing)?;
    let wrong: Wrong = fields.read()?;
    let run = tasks::prove(movement, &wrong.into(), true);
    run.map_err(|why| Refused::Wrong(tasks::Refusal::Question(why)))
}

fn run(asked: &PageRequest) -> Answer {
    let job = asked.whole()?;
    let struck = struck(&job, &asked.fields);
    let status = (struck.as_ref().err()).map_or(StatusCode::OK, Refused::status);
    let page = running(&job, &asked.fields, struck.as_ref());
    Ok(sent(status, page.ok_or(Refused::Nothing)?))
}

/// The table that the page goes between.
fn table(asked: &PageRequest) -> Answer {
    let job = asked.whole()?;
    let (_, struck) = struck(&job, &asked.fields)?;
    let movement = job.state.struck().ok_or(Refused::Nothing)?;
    let table = json::line(&RunningAnswer::of(&asked.locale, movement, &struck));
    Ok(([(header::CONTENT_TYPE, "application/json")], table).into_response())
}
