//! The log beside the drawing, in order of time.

use crate::desk::Job;
use entries::{Kind, Told};
use maud::{Markup, html};
use report::en::history;
use report::en::labels::LABELS;
use std::collections::BTreeSet;

pub(crate) fn history(job: &Job) -> Markup {
    let log = &job.noted.log;
    let counts: BTreeSet<usize> = log.standing().map(|entry| entry.n).collect();
    let shown = || {
        (log.entries().iter()).filter(|entry| !matches!(entry.told, Told::Known(Kind::Undo { .. })))
    };
    html! {
        section.log aria-label=(LABELS.log) {
            h2 { (LABELS.log) }
            @if shown().next().is_none() { p.quiet { (LABELS.log_empty) } }
            ol {
                @for entry in shown() {
                    @let words = history::entry(job.movement(), entry, job.view.plate);
                    @if counts.contains(&entry.n) {
                        li value=(entry.n) { (words) }
                    } @else {
                        li.back value=(entry.n) { s { (words) } " " (history::taken_back()) }
                    }
                }
            }
        }
    }
}
