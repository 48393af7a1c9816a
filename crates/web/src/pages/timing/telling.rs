//! What is rarely told: arbors taken out and put in, the hour, a shift of one's own.

use crate::desk::{Job, Refused};
use crate::form::said::number;
use crate::form::{FieldFault, Fields, plain};
use maud::{Markup, html};
use movement::Movement;
use report::page::{self, named};
use report::say;
use serde::Deserialize;
use tasks::written::at_mesh;
use tasks::{Ask, Which};

/// What is told so, folded away; open where something of it was typed and refused.
pub(crate) fn telling(job: &Job, typed: &Fields) -> Markup {
    let locale = &job.locale;
    let movement = job.movement();
    let action = |what: &str| format!("/job/{}/{what}", job.id);
    let entries = html! { input type="hidden" name="entries" value=(job.entries()); };
    html! {
        details.telling open[typed.get("mesh").is_some()] {
            summary { (say!(locale, "more")) }
            h3 { (say!(locale, "arbors")) }
            ul.in-out {
                @for (id, arbor) in movement.arbors() {
                    @let out = job.timing.recalled.out.contains(&id);
                    @let what = if out { say!(locale, "put-back") } else { say!(locale, "take-out") };
                    li {
                        span { (named(&arbor.id)) }
                        form method="post" action=(action(if out { "in" } else { "out" })) {
                            (entries)
                            input type="hidden" name="arbor" value=(arbor.id);
                            button.plain aria-label=(say!(locale, "about", name = named(&arbor.id), what = &what)) { (what) }
                        }
                    }
                }
            }
            form.row method="post" action=(action("struck")) {
                (entries)
                label {
                    span { (say!(locale, "hour")) }
                    select name="hour" {
                        @for hour in 1..=12_u8 {
                            option value=(hour) selected[job.timing.recalled.hour == Some(hour)] { (hour) }
                        }
                    }
                }
                button { (say!(locale, "enter")) }
            }
            h3 { (say!(locale, "did")) }
            form.row method="post" action=(action("did")) {
                (entries)
                label {
                    span { (say!(locale, "did-mesh")) }
                    select name="mesh" {
                        @for (id, _) in movement.meshes() {
                            @if movement.far_side(id).is_some() {
                                @let name = movement.mesh_name(id);
                                option value=(name) selected[typed.get("mesh") == Some(&name)] { (name.replace('>', " · ")) }
                            }
                        }
                    }
                }
                label {
                    span { (say!(locale, "did-teeth")) }
                    input type="text" inputmode="text" name="teeth" size="4" value=[typed.get("teeth")] required;
                }
                button { (say!(locale, "enter")) }
            }
        }
    }
}

/// How arbors that are out go in.
pub(crate) fn order(job: &Job) -> Markup {
    let locale = &job.locale;
    html! {
        @if !job.timing.order.steps.is_empty() {
            section.order {
                h2 { (say!(locale, "order")) }
                ol {
                    @for step in &job.timing.order.steps {
                        li { (page::put_in(locale, job.movement(), step)) }
                    }
                }
                @if job.timing.order.cut_short { p { (say!(locale, "order-cut-short")) } }
            }
        }
    }
}

/// What is told with one touch, by the last of its address.
#[derive(Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(super) enum Touch {
    /// What its page advised was done; of several shifts all of them, or one by its number.
    Done {
        shift: Vec<String>,
        #[serde(deserialize_with = "number")]
        which: Option<usize>,
    },
    /// The same, but the other way round.
    OtherWay {
        shift: Vec<String>,
        #[serde(deserialize_with = "number")]
        which: Option<usize>,
    },
    /// What its page said was turned was turned so.
    Turned { moved: Vec<String> },
    /// It was turned the other way.
    TurnedOtherWay { moved: Vec<String> },
    /// What was told last was not so.
    Undo,
    /// An arbor jumped out, perhaps after what its page advised was done.
    Jumped {
        done: bool,
        shift: Vec<String>,
        arbor: Option<String>,
    },
    /// An arbor was taken out.
    Out { arbor: String },
    /// An arbor was put in.
    In { arbor: String },
    /// A witness was set right.
    SetRight { witness: String },
    /// An hour was struck.
    Struck {
        #[serde(deserialize_with = "number")]
        hour: Option<u8>,
    },
    /// A shift that nobody advised.
    Did { mesh: String, teeth: Option<String> },
}

/// Which of several shifts a touch is about.
fn one_of(which: Option<usize>) -> Which {
    which.map_or(Which::All, |n| Which::These(vec![n]))
}

/// That the shifts that its page advised were made, or of several these. A form that does not say what its page advised means what
/// is advised now.
///
/// # Errors
/// It has no such shift.
fn done(movement: &Movement, shifts: &[String], which: Which) -> Result<Ask, Refused> {
    let shifts = (shifts.iter())
        .map(|shift| at_mesh(movement, shift))
        .collect::<Result<Vec<_>, _>>()?;
    Ok(match which {
        _ if shifts.is_empty() => Ask::Done(which),
        Which::All => Ask::Did(shifts),
        Which::These(numbers) => {
            let each = numbers
                .iter()
                .map(|n| shifts.get(n.checked_sub(1)?).cloned());
            Ask::Did(each.collect::<Option<_>>().ok_or(Refused::Nothing)?)
        }
    })
}

/// That the parts that its page said were turned, as it said or the other way. It says each witness that they carry.
///
/// # Errors
/// It says none, or one that is not on the sheet.
fn turned(job: &Job, turn: &[String], other_way: bool) -> Result<Vec<Ask>, Refused> {
    if turn.is_empty() {
        return Err(Refused::Nothing);
    }
    let one = |written: &String| {
        let mut moved = tasks::written::moved(job.movement(), job.view.plate, written)?;
        if other_way {
            moved.deg = moved.deg.negated();
        }
        Ok(Ask::Turned(moved))
    };
    turn.iter().map(one).collect()
}

/// What a touch tells.
///
/// # Errors
/// It tells nothing, or something that is not on the sheet.
pub(super) fn asks(job: &Job, touch: Touch) -> Result<Vec<Ask>, Refused> {
    let movement = job.movement();
    Ok(match touch {
        Touch::Done { shift, which } => vec![done(movement, &shift, one_of(which))?],
        Touch::OtherWay { shift, which } => {
            let other_way = Ask::OtherWay(one_of(which));
            // Before it is said that a shift was made: it was, the other way.
            let made = shift.is_empty()
                && (job.advised().is_empty() || job.timing.recalled.last_look.is_empty());
            match made {
                true => vec![other_way],
                false => vec![done(movement, &shift, Which::All)?, other_way],
            }
        }
        Touch::Turned { moved } => turned(job, &moved, false)?,
        Touch::TurnedOtherWay { moved } => turned(job, &moved, true)?,
        Touch::Undo => vec![Ask::Undo(None)],
        Touch::Jumped {
            done: was_done,
            shift,
            arbor,
        } => {
            let mut asks = Vec::new();
            if was_done {
                asks.push(done(movement, &shift, Which::All)?);
            }
            asks.push(Ask::Jumped(arbor.ok_or(Refused::Nothing)?));
            asks
        }
        Touch::Out { arbor } => vec![Ask::Out(arbor)],
        Touch::In { arbor } => vec![Ask::In(arbor)],
        Touch::SetRight { witness } => vec![Ask::SetRight(witness)],
        Touch::Struck { hour } => {
            let hour = hour.filter(|hour| (1..=12).contains(hour));
            vec![Ask::Struck(hour.ok_or(Refused::Nothing)?)]
        }
        Touch::Did { mesh, teeth } => {
            let teeth = teeth.unwrap_or_default();
            let whole = plain(&teeth).parse::<i64>().ok().filter(|n| *n != 0);
            let whole = whole.ok_or_else(|| FieldFault::of("teeth", &teeth))?;
            vec![Ask::Did(vec![at_mesh(
                movement,
                &format!("{mesh}={whole}"),
            )?])]
        }
    })
}
