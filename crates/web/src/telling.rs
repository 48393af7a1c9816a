//! What is rarely told: arbors taken out and put in, the hour, a shift of one's own.

use crate::desk::Job;
use crate::form::Fields;
use maud::{Markup, html};
use report::page::{self, named};
use report::say;
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
                    @let out = job.noted.recalled.out.contains(&id);
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
                            option value=(hour) selected[job.noted.recalled.hour == Some(hour)] { (hour) }
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
        @if !job.noted.order.is_empty() {
            section.order {
                h2 { (say!(words, "order")) }
                ol {
                    @for step in &job.noted.order {
                        li { (page::put_in(words, job.movement(), step)) }
                    }
                }
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

/// That what its page advised was done, or of several shifts these; nothing where it has no such shift. A form that does not say
/// what its page advised means what is advised now.
pub(crate) fn done(fields: &Fields, which: &Which) -> Option<Ask> {
    let shifts: Vec<String> = (fields.0.iter())
        .filter(|(name, _)| name == "shift")
        .map(|(_, shift)| shift.clone())
        .collect();
    Some(match which {
        _ if shifts.is_empty() => Ask::Done(which.clone()),
        Which::All => Ask::Did(shifts),
        Which::These(numbers) => {
            let each = numbers
                .iter()
                .map(|n| shifts.get(n.checked_sub(1)?).cloned());
            Ask::Did(each.collect::<Option<_>>()?)
        }
    })
}

/// What a form of one touch tells.
pub(crate) fn asks(what: &str, fields: &Fields) -> Option<Vec<Ask>> {
    let arbor = || fields.get("arbor").map(str::to_owned);
    Some(match what {
        "done" => vec![done(fields, &which(fields))?],
        "undo" => vec![Ask::Undo(None)],
        "jumped" => {
            let mut asks = Vec::new();
            if fields.has("done") {
                asks.push(done(fields, &Which::All)?);
            }
            asks.push(Ask::Jumped(arbor()?));
            asks
        }
        "out" => vec![Ask::Out(arbor()?)],
        "in" => vec![Ask::In(arbor()?)],
        "set-right" => vec![Ask::SetRight(fields.get("witness")?.to_owned())],
        "struck" => vec![Ask::Struck(
            u8::try_from(fields.count("hour")?)
                .ok()
                .filter(|h| (1..=12).contains(h))?,
        )],
        "did" => {
            let teeth = crate::form::plain(fields.get("teeth")?);
            vec![Ask::Did(vec![format!("{}={teeth}", fields.get("mesh")?)])]
        }
        _ => return None,
    })
}
