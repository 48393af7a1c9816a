//! The log beside the drawing, in order of time.

use crate::desk::Job;
use entries::{EntryContent, EntryKind};
use maud::{Markup, html};
use report::page::history::{self, ToldBy};
use report::say;
use std::collections::BTreeSet;

/// Entries one after the other that tell the same.
struct Told {
    says: String,
    /// The last of them.
    n: usize,
    many: usize,
    stands: bool,
}

pub(crate) fn history(job: &Job) -> Markup {
    let locale = &job.locale;
    let log = &job.timing.log;
    let counts: BTreeSet<usize> = log.standing().map(|entry| entry.n).collect();
    let shown = (log.entries().iter())
        .filter(|entry| !matches!(entry.told, EntryContent::Known(EntryKind::Undo { .. })));
    let by = ToldBy {
        movement: job.movement(),
        from: job.view.plate,
        at_rest: &job.timing.recalled.at_rest,
        figures: false,
    };
    let mut all: Vec<Told> = Vec::new();
    for entry in shown {
        let says = history::entry(locale, &by, entry);
        let (n, stands) = (entry.n, counts.contains(&entry.n));
        // Every touch on a sheet is an entry: of many in a row one line is told.
        let of_sheet = matches!(
            &entry.told,
            EntryContent::Known(EntryKind::Work(entries::Work::Sheet { .. }))
        );
        match all.last_mut() {
            Some(last) if of_sheet && last.says == says && last.stands == stands => {
                (last.n, last.many) = (n, last.many + 1);
            }
            _ => all.push(Told {
                says,
                n,
                many: 1,
                stands,
            }),
        }
    }
    let says = |told: &Told| match told.many {
        1 => told.says.clone(),
        many => say!(locale, "log-many", says = told.says.clone(), count = many),
    };
    html! {
        section.log aria-label=(say!(locale, "log")) {
            h2 { (say!(locale, "log")) }
            @if all.is_empty() { p.quiet { (say!(locale, "log-empty")) } }
            ol {
                @for told in &all {
                    @if told.stands {
                        li value=(told.n) { (says(told)) }
                    } @else {
                        li.back value=(told.n) { s { (says(told)) } " " (say!(locale, "log-taken-back")) }
                    }
                }
            }
        }
    }
}
