//! The owner's record: one or two pages in plain words.

use crate::{Links, Record, TimedNote, page, ran};
use entries::{Digest, Occasion, Work};
use maud::{Markup, html};
use report::work::{kept_text, occasion, work};
use report::{Words, say};

/// Lists longer than this stand in two columns, smaller, so that the record stays on two pages.
const MANY: usize = 10;

/// The record that the owner is handed.
pub fn owners(record: &Record<'_>, links: Links<'_>) -> String {
    let words = &record.words;
    let standing: Vec<&Work> = record
        .log
        .standing()
        .filter_map(|entry| entry.work())
        .collect();
    let told = |is: fn(&Work) -> bool| -> Vec<String> {
        let those = standing.iter().filter(|told| is(told));
        those.map(|told| work(words, told)).collect()
    };
    let complaint = standing.iter().rev().find_map(|told| match told {
        Work::Intake { complaint, .. } => complaint.as_ref(),
        _ => None,
    });
    let found = told(|w| matches!(w, Work::Found { .. }));
    let mut done = told(|w| matches!(w, Work::Fitted { .. }));
    done.extend(timed(words, record.timed));
    done.extend(told(|w| matches!(w, Work::Oil { .. })));
    let oiled = standing.iter().any(|w| matches!(w, Work::Oil { .. }));
    let last_run = (standing.iter().rev()).find(|w| matches!(w, Work::TrialRun { .. }));
    let body = html! {
        (pictures(record, &standing))
        @if let Some(complaint) = complaint {
            section { h2 { (say!(words, "record-complaint")) } p { (kept_text(words, complaint)) } }
        }
        (list(&say!(words, "record-found"), &found, &say!(words, "record-found-none")))
        (list(&say!(words, "record-done"), &done, &say!(words, "record-done-none")))
        section {
            h2 { (say!(words, "record-ran")) }
            @match last_run {
                Some(run) => p { (work(words, run)) },
                None => p { (say!(words, "record-ran-none")) },
            }
            (ran::plot(record))
        }
        @if !record.winding.is_empty() {
            section { h2 { (say!(words, "record-wind")) } @for says in record.winding { p { (says) } } }
        }
        section {
            h2 { (say!(words, "record-oil")) }
            p {
                @if oiled {
                    (say!(words, "record-oil-next", from = record.day.to_string(), look = record.oil.look.as_str(), again = record.oil.again.as_str()))
                } @else { (say!(words, "record-oil-none")) }
            }
        }
    };
    page(record, links, &say!(words, "record-owner"), &body)
}

/// How the strike was timed: no more than the log bears out.
fn timed(words: &Words, timed: TimedNote) -> Option<String> {
    Some(match timed {
        TimedNote::Unsaid => return None,
        TimedNote::InTime { openings: None } => say!(words, "record-in-time"),
        TimedNote::InTime {
            openings: Some(openings),
        } => say!(words, "record-timed", openings = openings),
        TimedNote::Out => say!(words, "record-out-of-time"),
        TimedNote::NotLookedSince => say!(words, "record-not-looked"),
        TimedNote::NotSure => say!(words, "record-not-sure"),
    })
}

fn list(title: &str, items: &[String], none: &str) -> Markup {
    html! {
        section {
            h2 { (title) }
            @if items.is_empty() { p { (none) } } @else { ul.many[items.len() > MANY] { @for item in items { li { (item) } } } }
        }
    }
}

/// The first picture as it came, and the last as it went, side by side.
fn pictures(record: &Record<'_>, standing: &[&Work]) -> Markup {
    let words = &record.words;
    let of = |wanted: Occasion| {
        standing.iter().filter_map(move |told| match told {
            Work::Picture {
                picture,
                when,
                says,
            } if *when == wanted => Some((picture.here()?, says.as_ref())),
            _ => None,
        })
    };
    let shown = [
        (Occasion::Before, of(Occasion::Before).next()),
        (Occasion::After, of(Occasion::After).next_back()),
    ];
    html! {
        @if shown.iter().any(|(_, picture)| picture.is_some()) {
            div.pictures {
                @for (when, picture) in shown {
                    @if let Some((digest, says)) = picture {
                        (picture_of(words, record.picture, digest, &says.map_or_else(|| occasion(words, when), |s| kept_text(words, s))))
                    }
                }
            }
        }
    }
}

fn picture_of(
    words: &Words,
    address: &dyn Fn(&Digest) -> String,
    digest: &Digest,
    caption: &str,
) -> Markup {
    html! {
        figure {
            img src=(address(digest)) alt=(say!(words, "record-picture", says = caption));
            figcaption { (caption) }
        }
    }
}
