//! All that is on the bench, and another sheet to be put on it.

use crate::desk::Refused;
use crate::page::frame;
use book::JobLine;
use maud::{Markup, html};
use report::{Words, say};

pub(crate) fn jobs(
    words: &Words,
    jobs: &[JobLine],
    sheet: &str,
    refused: Option<&Refused>,
) -> Markup {
    let main = html! {
        main #main.plain-page {
            h1 #sentence tabindex="-1" { (say!(words, "jobs")) }
            ul.jobs {
                @for job in jobs {
                    li { a href=(format!("/job/{}", job.id)) { (job.name) } }
                }
            }
            form.another method="post" action="/jobs" {
                h2 { (say!(words, "another")) }
                @if let Some(refused) = refused { p.refused role="alert" { (refused.say(words)) } }
                label {
                    span { (say!(words, "sheet")) }
                    textarea name="sheet" rows="14" spellcheck="false" required { (sheet) }
                }
                button.primary { (say!(words, "put-on")) }
            }
        }
    };
    frame(words, &say!(words, "program"), None, &main)
}
