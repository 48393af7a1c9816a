//! A lesson: the movement as it was mis-timed on purpose stands under the glasses, the pupil says which wheel, how many
//! teeth and which way, and the openings are counted. Nothing is advised here.

use crate::closeup;
use crate::desk::{Desk, Refused, Whole};
use crate::entering::Odd;
use crate::form::Fields;
use crate::page::frame;
use crate::plate::Plate;
use book::JobId;
use draw::View;
use entries::Work;
use maud::{Markup, html};
use movement::{MeshId, Movement, Turning};
use report::{Words, page as said, say};
use std::time::{SystemTime, UNIX_EPOCH};
use tasks::{Ask, Lesson};

/// Puts a lesson on the bench, with the sheet of a job that is there.
pub(crate) fn begin(desk: &Desk, words: &Words, fields: &Fields) -> Result<JobId, Refused> {
    let from: JobId = (fields.get("job").and_then(|id| id.parse().ok())).ok_or(Refused::Nothing)?;
    let wheels = if fields.get("wheels") == Some("2") {
        2
    } else {
        1
    };
    let job = desk.whole(from, *words, None)?;
    let movement = job.gone.movement().ok_or(Refused::Nothing)?;
    // Which wheel it is need only be hard to guess for whoever sits there.
    let now = SystemTime::now().duration_since(UNIX_EPOCH);
    let seed = now.map_or(0, |now| u64::from(now.subsec_nanos()) ^ now.as_secs());
    let hidden = tasks::mistime(movement, wheels, seed).ok_or(Refused::NoLesson)?;
    let name = say!(words, "lesson-name", name = movement.name());
    desk.come_in(&name, &job.sheet, &Work::Lesson { hidden })
}

/// The page of a lesson; nothing where the job is none.
pub(crate) fn lesson(job: &Whole, asked: &Fields, refused: Option<&Refused>) -> Option<Markup> {
    let words = &job.words;
    let hidden = job.lesson()?;
    let movement = job.gone.movement()?;
    let stands = tasks::lesson(movement, hidden, job.gone.log.standing());
    let view = job.view();
    let plate = Plate::of_lesson(movement, view, &stands.stands);
    let main = html! {
        main #main.job data-step="lesson" data-job=(job.id) {
            @if let Some(refused) = refused { p.refused role="alert" { (refused.say(words)) } }
            figure.lies {
                div.lies-hold role="img" aria-label=(said::seen_from(words, view.plate, view.upside_down)) { (plate.svg()) }
                figcaption { (turns(job)) }
            }
            div.beside {
                section.seen aria-label=(say!(words, "seen")) {
                    @for (id, place) in &stands.stands {
                        @let look = said::look_of(movement, *id, place);
                        figure data-state=(closeup::state(Some(look.inside()))) {
                            (closeup::stands(movement, view, *id, place))
                            figcaption {
                                b { (said::named(&movement.witness(*id).id)) }
                                span.looks { (closeup::marks()) span { (look.say(words)) } }
                            }
                        }
                    }
                }
                section #say.say aria-labelledby="sentence" {
                    h1 #sentence tabindex="-1" { (sentence(words, &stands)) }
                    p #beneath.beneath { (say!(words, "lesson-openings", count = stands.openings)) }
                    @if !stands.right { (question(job, movement, asked)) }
                }
                (solution(words, job, movement, stands.right))
            }
        }
    };
    let about = said::seen_from(words, view.plate, view.upside_down);
    Some(frame(words, &job.name, Some(&about), &main))
}

fn sentence(words: &Words, stands: &Lesson) -> String {
    if stands.right {
        say!(words, "lesson-right", count = stands.openings)
    } else if stands.openings == 0 {
        say!(words, "lesson-question")
    } else {
        say!(words, "lesson-not-yet")
    }
}

/// Which wheel, how many teeth, which way as it is looked at now.
fn question(job: &Whole, movement: &Movement, asked: &Fields) -> Markup {
    let words = &job.words;
    html! {
        form.row method="post" action=(format!("/job/{}/lesson", job.id)) data-whole {
            input type="hidden" name="entries" value=(job.entries());
            label {
                span { (say!(words, "lesson-wheel")) }
                select name="mesh" {
                    @for (id, _) in movement.meshes() {
                        @if let Some(far) = movement.far_arbor(id) {
                            @let name = movement.mesh_name(id);
                            option value=(name) selected[asked.get("mesh") == Some(name.as_str())] {
                                (say!(words, "lesson-arbor", arbor = said::named(&movement.arbor(far).id), mesh = name.replace('>', " · ")))
                            }
                        }
                    }
                }
            }
            label {
                span { (say!(words, "lesson-teeth")) }
                input type="text" inputmode="numeric" name="teeth" size="3" required value=(asked.get("teeth").unwrap_or_default());
            }
            fieldset.ways {
                legend { (say!(words, "lesson-way")) }
                @for (value, name) in [("clockwise", say!(words, "lesson-clockwise")), ("counterclockwise", say!(words, "lesson-counterclockwise"))] {
                    label.check { input type="radio" name="way" value=(value) required checked[asked.get("way") == Some(value)]; span { (name) } }
                }
            }
            button.primary { (say!(words, "lesson-open")) }
        }
    }
}

/// The plate it is looked at from, to be turned.
fn turns(job: &Whole) -> Markup {
    let words = &job.words;
    let view = job.view();
    html! {
        form method="post" action=(format!("/job/{}/view", job.id)) data-whole {
            input type="hidden" name="back" value="lesson";
            button.plain name="turn" value="plate" { (say!(words, "see-from", plate = said::plate_key(view.plate.other()))) }
            button.plain name="turn" value="over" {
                @if view.upside_down { (say!(words, "upright")) } @else { (say!(words, "upside")) }
            }
        }
    }
}

/// What was hidden: told once it is right, and to whoever gives up.
fn solution(words: &Words, job: &Whole, movement: &Movement, right: bool) -> Markup {
    let Some(hidden) = job.lesson() else {
        return html! {};
    };
    html! {
        details.solution open[right] {
            summary { (say!(words, "lesson-solution")) }
            ul {
                @for at in hidden {
                    @if let Some(mesh) = movement.find_mesh(&at.mesh) {
                        li { (said::history::shift_short(words, movement, mesh, at.teeth.into(), job.view().plate)) }
                    }
                }
            }
            @if right { p { a.button.primary href="/jobs" { (say!(words, "jobs")) } } }
        }
    }
}

/// The shift that a form says.
pub(crate) fn shift(job: &Whole, fields: &Fields) -> Result<Ask, Refused> {
    let movement = job.gone.movement().ok_or(Refused::Nothing)?;
    let hidden = job.lesson().ok_or(Refused::Nothing)?;
    if tasks::lesson(movement, hidden, job.gone.log.standing()).right {
        return Err(Refused::Behind);
    }
    let name = fields.get("mesh").unwrap_or_default();
    let mesh: MeshId = movement.find_mesh(name).ok_or(Refused::Nothing)?;
    let far = movement.far_arbor(mesh).ok_or(Refused::Nothing)?;
    let typed = fields.get("teeth").unwrap_or_default();
    let teeth: u16 = typed
        .parse()
        .ok()
        .filter(|teeth| *teeth > 0)
        .ok_or_else(|| {
            Refused::Odd(Odd {
                field: "teeth",
                got: typed.to_owned(),
            })
        })?;
    let way = match fields.get("way") {
        Some("clockwise") => Turning::Clockwise,
        Some("counterclockwise") => Turning::Counterclockwise,
        _ => return Err(Refused::Nothing),
    };
    let view: View = job.view();
    let ahead = movement.runs(far, view.plate) == way;
    let signed = if ahead {
        i32::from(teeth)
    } else {
        -i32::from(teeth)
    };
    Ok(Ask::Did(vec![format!(
        "{}={signed}",
        name.replace('>', ":")
    )]))
}
