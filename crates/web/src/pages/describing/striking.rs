//! How does it strike? Kinds of strike, each with its picture.

use crate::desk::Whole;
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

pub(super) fn choose(job: &Whole) -> Markup {
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
        }
    }
}
