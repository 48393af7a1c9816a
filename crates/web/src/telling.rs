//! What is rarely told: arbors taken out and put in, the hour, a shift of one's own.

use crate::desk::Job;
use crate::form::Fields;
use maud::{Markup, html};
use report::en::bench;
use report::en::labels::LABELS;
use tasks::Ask;

pub(crate) fn telling(job: &Job) -> Markup {
    let movement = job.movement();
    let action = |what: &str| format!("/job/{}/{what}", job.id);
    let entries = html! { input type="hidden" name="entries" value=(job.entries()); };
    html! {
        details.telling {
            summary { (LABELS.more) }
            h3 { (LABELS.arbors) }
            ul.in-out {
                @for (id, arbor) in movement.arbors() {
                    @let out = job.noted.recalled.out.contains(&id);
                    li {
                        span { (bench::named(&arbor.id)) }
                        form method="post" action=(action(if out { "in" } else { "out" })) {
                            (entries)
                            input type="hidden" name="arbor" value=(arbor.id);
                            button.plain aria-label=(format!("{}: {}", bench::named(&arbor.id), LABELS.out_in[usize::from(out)])) {
                                (LABELS.out_in[usize::from(out)])
                            }
                        }
                    }
                }
            }
            form.row method="post" action=(action("struck")) {
                (entries)
                label {
                    span { (LABELS.hour) }
                    select name="hour" {
                        @for hour in 1..=12_u8 {
                            option value=(hour) selected[job.noted.recalled.hour == Some(hour)] { (hour) }
                        }
                    }
                }
                button { (LABELS.enter) }
            }
            h3 { (LABELS.did) }
            form.row method="post" action=(action("did")) {
                (entries)
                label {
                    span { (LABELS.did_mesh) }
                    select name="mesh" {
                        @for (id, _) in movement.meshes() {
                            @if movement.far_side(id).is_some() {
                                option value=(movement.mesh_name(id)) { (movement.mesh_name(id).replace('>', " · ")) }
                            }
                        }
                    }
                }
                label {
                    span { (LABELS.did_teeth) }
                    input type="text" inputmode="text" name="teeth" size="4" required;
                }
                button { (LABELS.enter) }
            }
        }
    }
}

/// How arbors that are out go in.
pub(crate) fn order(job: &Job) -> Markup {
    html! {
        @if !job.noted.order.is_empty() {
            section.order {
                h2 { (LABELS.order) }
                ol {
                    @for step in &job.noted.order {
                        li { (report::en::put_in(job.movement(), step)) }
                    }
                }
            }
        }
    }
}

/// What a form of one touch tells.
pub(crate) fn asks(what: &str, fields: &Fields) -> Option<Vec<Ask>> {
    let arbor = || fields.get("arbor").map(str::to_owned);
    Some(match what {
        "done" => vec![Ask::Done],
        "undo" => vec![Ask::Undo(None)],
        "jumped" => {
            let mut asks = Vec::new();
            if fields.has("done") {
                asks.push(Ask::Done);
            }
            asks.push(Ask::Jumped(arbor()?));
            asks
        }
        "out" => vec![Ask::Out(arbor()?)],
        "in" => vec![Ask::In(arbor()?)],
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
