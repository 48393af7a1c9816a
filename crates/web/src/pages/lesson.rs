//! A lesson: the movement as it was mis-timed on purpose stands under the glasses, the pupil says which wheel, how many
//! teeth and which way, and the openings are counted. Nothing is advised here.

use crate::asked::{Answer, PageRequest, on_to, read, sent, write};
use crate::desk::{Desk, Refused, Whole};
use crate::form::said::{lenient, number};
use crate::form::{FieldFault, Fields};
use crate::frame::{count_again, frame};
use crate::pages::closeup;
use crate::plate::{Plate, turning};
use axum::Router;
use axum::http::StatusCode;
use book::JobId;
use entries::{AtMesh, Work};
use maud::{Markup, html};
use movement::{MeshId, Movement, Turning};
use report::{Locale, page as said, say};
use serde::Deserialize;
use std::sync::Arc;
use std::time::{SystemTime, UNIX_EPOCH};
use tasks::{Ask, Lesson};

pub(super) fn routes() -> Router<Arc<Desk>> {
    Router::new()
        .route("/job/{id}/lesson", read(learn).merge(write(shift)))
        .route("/lessons", write(begin_lesson))
}

/// With the movement of which job a lesson is begun, and how many wheels are put wrong.
#[derive(Deserialize)]
struct Begun {
    #[serde(deserialize_with = "number")]
    job: Option<JobId>,
    #[serde(deserialize_with = "lenient")]
    wheels: Option<Wheels>,
}

#[derive(Deserialize)]
enum Wheels {
    #[serde(rename = "1")]
    One,
    #[serde(rename = "2")]
    Two,
}

/// Puts a lesson on the bench, with the sheet of a job that is there.
fn begin(desk: &Desk, locale: &Locale, fields: &Fields) -> Result<JobId, Refused> {
    let Begun { job, wheels } = fields.read()?;
    let from = job.ok_or(Refused::Nothing)?;
    let wheels = match wheels {
        Some(Wheels::Two) => 2,
        Some(Wheels::One) | None => 1,
    };
    let job = desk.whole(from, *locale, None)?;
    let movement = job.state.movement().ok_or(Refused::Nothing)?;
    // Which wheel it is need only be hard to guess for whoever sits there.
    let now = SystemTime::now().duration_since(UNIX_EPOCH);
    let seed = now.map_or(0, |now| u64::from(now.subsec_nanos()) ^ now.as_secs());
    let hidden = tasks::mistime(movement, wheels, seed).ok_or(Refused::NoLesson)?;
    let name = say!(locale, "lesson-name", name = movement.name());
    Ok(desk.come_in(&name, &job.sheet, &Work::Lesson { hidden })?)
}

/// Whether somebody gives up.
#[derive(Deserialize)]
struct GivenUp {
    solution: bool,
}

/// The page of a lesson.
///
/// # Errors
/// The job is none.
fn lesson(job: &Whole, asked: &Fields, refused: Option<&Refused>) -> Result<Markup, Refused> {
    let locale = &job.locale;
    let hidden = job.lesson().ok_or(Refused::Nothing)?;
    let movement = job.state.movement().ok_or(Refused::Nothing)?;
    let GivenUp { solution: gives_up } = asked.read()?;
    let stands = tasks::lesson(movement, hidden, job.state.log.standing());
    let view = job.view();
    let plate = Plate::of_lesson(movement, &job.state.log, view, &stands.stands);
    let main = html! {
        main #main.job data-step="lesson" data-job=(job.id) {
            @if let Some(refused) = refused { p.refused role="alert" { (refused.say(locale)) } }
            (count_again(locale, Some(movement)))
            figure.lies {
                div.lies-hold role="img" aria-label=(said::seen_from(locale, view.plate, view.upside_down)) { (plate.svg()) }
                figcaption { (turns(job)) }
            }
            div.beside {
                section.seen aria-label=(say!(locale, "seen")) {
                    @for (id, place) in &stands.stands {
                        @let look = said::look_of(movement, *id, place);
                        figure data-state=(closeup::state(Some(look.inside()))) {
                            (closeup::stands(movement, view, *id, place))
                            figcaption {
                                b { (said::named(&movement.witness(*id).id)) }
                                span.looks { (closeup::marks()) span { (look.say(locale)) } }
                            }
                        }
                    }
                }
                section #say.say aria-labelledby="sentence" {
                    h1 #sentence tabindex="-1" { (sentence(locale, &stands)) }
                    p #beneath.beneath { (say!(locale, "lesson-openings", count = stands.openings)) }
                    @if !stands.right { (question(job, movement, asked)) }
                }
                (solution(job, movement, stands.right || gives_up))
            }
        }
    };
    let about = said::seen_from(locale, view.plate, view.upside_down);
    Ok(frame(locale, &job.name, Some(&about), &main))
}

fn sentence(locale: &Locale, stands: &Lesson) -> String {
    if stands.right {
        say!(locale, "lesson-right", count = stands.openings)
    } else if stands.openings == 0 {
        say!(locale, "lesson-question")
    } else {
        say!(locale, "lesson-not-yet")
    }
}

/// Which wheel, how many teeth, which way as it is looked at now: as many wheels as were put wrong may be moved in one
/// opening.
fn question(job: &Whole, movement: &Movement, asked: &Fields) -> Markup {
    let locale = &job.locale;
    let wheels = job.lesson().unwrap_or_default().len();
    html! {
        form.lesson method="post" action=(format!("/job/{}/lesson", job.id)) data-whole {
            input type="hidden" name="entries" value=(job.entries());
            @for n in 1..=wheels {
                @if n > 1 { h2 { (say!(locale, "lesson-also")) } }
                (wheel(locale, movement, n, asked))
            }
            button.primary { (say!(locale, "lesson-open")) }
        }
    }
}

/// The fields of a wheel; only the first must be filled in.
fn wheel(locale: &Locale, movement: &Movement, n: usize, asked: &Fields) -> Markup {
    let [mesh_field, teeth_field, way_field] = FIELDS.map(|field| format!("{field}.{n}"));
    let ways = [
        ("clockwise", say!(locale, "lesson-clockwise")),
        ("counterclockwise", say!(locale, "lesson-counterclockwise")),
    ];
    html! {
        div.row {
            label {
                span { (say!(locale, "lesson-wheel")) }
                select name=(mesh_field) {
                    @for (id, _) in movement.meshes() {
                        @if let Some(far) = movement.far_arbor(id) {
                            @let name = movement.mesh_name(id);
                            option value=(name) selected[asked.get(&mesh_field) == Some(name.as_str())] {
                                (say!(locale, "lesson-arbor", arbor = said::named(&movement.arbor(far).id), mesh = name.replace('>', " · ")))
                            }
                        }
                    }
                }
            }
            label {
                span { (say!(locale, "lesson-teeth")) }
                input type="text" inputmode="numeric" name=(teeth_field) size="3" required[n == 1] value=[asked.get(&teeth_field)];
            }
            fieldset.ways {
                legend { (say!(locale, "lesson-way")) }
                @for (value, name) in ways {
                    label.check { input type="radio" name=(way_field) value=(value) required[n == 1] checked[asked.get(&way_field) == Some(value)]; span { (name) } }
                }
            }
        }
    }
}

/// The plate it is looked at from, to be turned.
fn turns(job: &Whole) -> Markup {
    let action = format!("/job/{}/view", job.id);
    html! {
        form method="post" action=(action) data-whole {
            input type="hidden" name="back" value="lesson";
            (turning(&job.locale, job.view(), None, &action))
        }
    }
}

/// What was hidden: in the page only once it is right, or to whoever gives up.
fn solution(job: &Whole, movement: &Movement, told: bool) -> Markup {
    let locale = &job.locale;
    if !told {
        return html! {
            p.give-up { a.button.plain href=(format!("/job/{}/lesson?solution", job.id)) { (say!(locale, "lesson-give-up")) } }
        };
    }
    html! {
        section.solution aria-labelledby="solution" {
            h2 #solution { (say!(locale, "lesson-solution")) }
            ul {
                @for at in job.lesson().unwrap_or_default() {
                    @if let Some(mesh) = movement.find_mesh(&at.mesh) {
                        li { (said::history::shift_short(locale, movement, mesh, at.teeth.into(), job.view().plate)) }
                    }
                }
            }
            p { a.button href="/jobs" { (say!(locale, "jobs")) } }
        }
    }
}

/// What is asked of each wheel, by the names of its fields, which its number follows.
const FIELDS: [&str; 3] = ["mesh", "teeth", "way"];

/// A wheel that was moved. The first was.
#[derive(Deserialize)]
struct Wheel {
    mesh: Option<String>,
    teeth: Option<String>,
}

/// Which way a wheel was moved, as it is looked at.
#[derive(Deserialize)]
struct Moved {
    way: Way,
}

#[derive(Clone, Copy, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum Way {
    Clockwise,
    Counterclockwise,
}

impl From<Way> for Turning {
    fn from(way: Way) -> Turning {
        match way {
            Way::Clockwise => Turning::Clockwise,
            Way::Counterclockwise => Turning::Counterclockwise,
        }
    }
}

/// The shifts that a form says, made in one opening.
fn shifts(job: &Whole, fields: &Fields) -> Result<Ask, Refused> {
    let movement = job.state.movement().ok_or(Refused::Nothing)?;
    let hidden = job.lesson().ok_or(Refused::Nothing)?;
    if tasks::lesson(movement, hidden, job.state.log.standing()).right {
        return Err(Refused::Behind);
    }
    let mut did = Vec::new();
    for n in 1..=hidden.len() {
        let of_it = fields.part(|name| name.strip_suffix(&n.to_string())?.strip_suffix('.'));
        let Wheel { mesh, teeth } = of_it.read()?;
        if n > 1 && teeth.is_none() {
            continue;
        }
        let mesh = mesh.as_deref().unwrap_or_default();
        let id: MeshId = movement.find_mesh(mesh).ok_or(Refused::Nothing)?;
        let far = movement.far_arbor(id).ok_or(Refused::Nothing)?;
        let Moved { way } = of_it.read()?;
        let teeth = teeth.as_deref().unwrap_or_default();
        let count = (teeth.parse::<u16>().ok()).filter(|teeth| *teeth > 0);
        let count = i32::from(count.ok_or_else(|| FieldFault::of("teeth", teeth))?);
        let ahead = movement.runs(far, job.view().plate) == Turning::from(way);
        did.push(AtMesh {
            mesh: movement.mesh_name(id),
            teeth: if ahead { count } else { -count },
        });
    }
    Ok(Ask::Did(did))
}

/// The lesson of a job, if it is one.
fn lesson_page(asked: &PageRequest, why: Option<&Refused>) -> Answer {
    let page = lesson(&asked.whole()?, &asked.fields, why)?;
    Ok(sent(why.map_or(StatusCode::OK, Refused::status), page))
}

fn learn(asked: &PageRequest) -> Answer {
    lesson_page(asked, None)
}

fn shift(asked: &PageRequest) -> Answer {
    let id = asked.id()?;
    let did = asked.whole().and_then(|job| {
        let entries = asked.entries()?;
        let ask = shifts(&job, &asked.fields)?;
        Ok(asked.desk.tell(id, entries, &[ask])?)
    });
    match did {
        Ok(()) => Ok(on_to(&format!("/job/{id}/lesson"))),
        Err(why) => lesson_page(asked, Some(&why)),
    }
}

fn begin_lesson(asked: &PageRequest) -> Answer {
    let id = begin(&asked.desk, &asked.locale, &asked.fields)?;
    Ok(on_to(&format!("/job/{id}/lesson")))
}
