//! What is rarely told: arbors taken out and put in, the hour, a shift of one's own.

use crate::desk::{Job, Refused};
use crate::form::Fields;
use maud::{Markup, html};
use movement::Movement;
use report::page::{self, named};
use report::say;
use tasks::written::at_mesh;
use tasks::{Ask, Which};

pub(crate) fn telling(job: &Job) -> Markup {
    let words = &job.words;
    let movement = job.movement();
    let action = |what: &str| format!("/job/{}/{what}", job.id);
    let entries = html! { input type="hidden" name="entries" value=(job.entries()); };
    html! {
        details.telling {
            summary { (say!(words, "more")) }
            h3 { (say!(words, "arbors")) }
            ul.in-out {
                @for (id, arbor) in movement.arbors() {
                    @let out = job.timing.recalled.out.contains(&id);
                    @let what = if out { say!(words, "put-back") } else { say!(words, "take-out") };
                    li {
                        span { (named(&arbor.id)) }
                        form method="post" action=(action(if out { "in" } else { "out" })) {
                            (entries)
                            input type="hidden" name="arbor" value=(arbor.id);
                            button.plain aria-label=(say!(words, "about", name = named(&arbor.id), what = &what)) { (what) }
                        }
                    }
                }
            }
            form.row method="post" action=(action("struck")) {
                (entries)
                label {
                    span { (say!(words, "hour")) }
                    select name="hour" {
                        @for hour in 1..=12_u8 {
                            option value=(hour) selected[job.timing.recalled.hour == Some(hour)] { (hour) }
                        }
                    }
                }
                button { (say!(words, "enter")) }
            }
            h3 { (say!(words, "did")) }
            form.row method="post" action=(action("did")) {
                (entries)
                label {
                    span { (say!(words, "did-mesh")) }
                    select name="mesh" {
                        @for (id, _) in movement.meshes() {
                            @if movement.far_side(id).is_some() {
                                option value=(movement.mesh_name(id)) { (movement.mesh_name(id).replace('>', " · ")) }
                            }
                        }
                    }
                }
                label {
                    span { (say!(words, "did-teeth")) }
                    input type="text" inputmode="text" name="teeth" size="4" required;
                }
                button { (say!(words, "enter")) }
            }
        }
    }
}

/// How arbors that are out go in.
pub(crate) fn order(job: &Job) -> Markup {
    let words = &job.words;
    html! {
        @if !job.timing.order.steps.is_empty() {
            section.order {
                h2 { (say!(words, "order")) }
                ol {
                    @for step in &job.timing.order.steps {
                        li { (page::put_in(words, job.movement(), step)) }
                    }
                }
                @if job.timing.order.cut_short { p { (say!(words, "order-cut-short")) } }
            }
        }
    }
}

/// Which of several shifts a form of one touch is about.
pub(crate) fn which(fields: &Fields) -> Which {
    fields
        .count("which")
        .map_or(Which::All, |n| Which::These(vec![n]))
}

/// That what its page advised was done, or of several shifts these. A form that does not say what its page advised means what is
/// advised now.
///
/// # Errors
/// It has no such shift.
pub(crate) fn done(movement: &Movement, fields: &Fields, which: &Which) -> Result<Ask, Refused> {
    let shifts = (fields.0.iter())
        .filter(|(name, _)| name == "shift")
        .map(|(_, shift)| at_mesh(movement, shift))
        .collect::<Result<Vec<_>, _>>()?;
    Ok(match which {
        _ if shifts.is_empty() => Ask::Done(which.clone()),
        Which::All => Ask::Did(shifts),
        Which::These(numbers) => {
            let each = numbers
                .iter()
                .map(|n| shifts.get(n.checked_sub(1)?).cloned());
            Ask::Did(each.collect::<Option<_>>().ok_or(Refused::Nothing)?)
        }
    })
}

/// What a form of one touch tells.
///
/// # Errors
/// It tells nothing, or something that is not on the sheet.
pub(crate) fn asks(movement: &Movement, what: &str, fields: &Fields) -> Result<Vec<Ask>, Refused> {
    let get = |name: &str| fields.get(name).ok_or(Refused::Nothing);
    let arbor = || get("arbor").map(str::to_owned);
    Ok(match what {
        "done" => vec![done(movement, fields, &which(fields))?],
        "undo" => vec![Ask::Undo(None)],
        "jumped" => {
            let mut asks = Vec::new();
            if fields.has("done") {
                asks.push(done(movement, fields, &Which::All)?);
            }
            asks.push(Ask::Jumped(arbor()?));
            asks
        }
        "out" => vec![Ask::Out(arbor()?)],
        "in" => vec![Ask::In(arbor()?)],
        "set-right" => vec![Ask::SetRight(get("witness")?.to_owned())],
        "struck" => {
            let hour = fields
                .count("hour")
                .and_then(|hour| u8::try_from(hour).ok());
            let hour = hour.filter(|hour| (1..=12).contains(hour));
            vec![Ask::Struck(hour.ok_or(Refused::Nothing)?)]
        }
        "did" => {
            let teeth = crate::form::plain(get("teeth")?);
            let shift = at_mesh(movement, &format!("{}={teeth}", get("mesh")?))?;
            vec![Ask::Did(vec![shift])]
        }
        _ => return Err(Refused::Nothing),
    })
}
