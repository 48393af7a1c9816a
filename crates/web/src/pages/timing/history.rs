//! The log beside the drawing, in order of time.

use crate::desk::Job;
use entries::{EntryContent, EntryKind};
use maud::{Markup, html};
use report::page::history;
use report::say;
use std::collections::BTreeSet;

pub(crate) fn history(job: &Job) -> Markup {
    let locale = &job.locale;
    let log = &job.timing.log;
    let counts: BTreeSet<usize> = log.standing().map(|entry| entry.n).collect();
    let shown = || {
        (log.entries().iter())
            .filter(|entry| !matches!(entry.told, EntryContent::Known(EntryKind::Undo { .. })))
    };
    html! {
        section.log aria-label=(say!(locale, "log")) {
            h2 { (say!(locale, "log")) }
            @if shown().next().is_none() { p.quiet { (say!(locale, "log-empty")) } }
            ol {
                @for entry in shown() {
                    @let told = history::entry(locale, job.movement(), entry, job.view.plate);
                    @if counts.contains(&entry.n) {
                        li value=(entry.n) { (told) }
                    } @else {
                        li.back value=(entry.n) { s { (told) } " " (say!(locale, "log-taken-back")) }
                    }
                }
            }
        }
    }
}
