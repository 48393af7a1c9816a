//! How does it strike? Kinds of strike, each with its picture.

use super::bare;
use crate::desk::Whole;
use book::JobId;
use maud::{Markup, PreEscaped, html};
use report::page::describing as said;
use report::say;
use tasks::Kind;

/// A picture by its name, told by the words beside it.
pub(super) fn pictured(name: Option<&str>) -> Markup {
    let drawing = name.and_then(draw::pictured);
    html! {
        @if let Some(drawing) = drawing {
            (PreEscaped(drawing.svg().replacen("<svg ", "<svg aria-hidden=\"true\" ", 1)))
        }
    }
}

pub(super) fn choose(job: &Whole, like: &[(JobId, String)]) -> Markup {
    let locale = &job.locale;
    html! {
        section.striking {
            h1 #sentence tabindex="-1" { (say!(locale, "describe-how")) }
            p #beneath.quiet { (say!(locale, "describe-how-about")) }
            form.chosen-by-picture method="post" action=(format!("/job/{}/movement/kind", job.id)) {
                input type="hidden" name="entries" value=(job.entries());
                @for kind in Kind::all() {
                    button name="kind" value=(kind.id) {
                        (pictured(Some(&kind.picture)))
                        span { (said::kind(locale, &kind.id)) }
                    }
                }
            }
            (bare::offered(job))
            (like_ones(job, like))
        }
    }
}

/// Clocks that were here before, to start from.
fn like_ones(job: &Whole, like: &[(JobId, String)]) -> Markup {
    let locale = &job.locale;
    html! {
        @if !like.is_empty() {
            details.like-ones {
                summary { (say!(locale, "describe-like")) }
                p.quiet { (say!(locale, "describe-like-about")) }
                form.arbors method="post" action=(format!("/job/{}/movement/like", job.id)) {
                    input type="hidden" name="entries" value=(job.entries());
                    @for (id, name) in like { button name="like" value=(id) { (name) } }
                }
            }
        }
    }
}
