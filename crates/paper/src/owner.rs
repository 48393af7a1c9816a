//! The owner's record: one or two pages in plain words.

use crate::{Links, Record, TimedNote, page, ran};
use entries::{Digest, Occasion, Work};
use maud::{Markup, html};
use report::work::{kept_text, occasion, work};
use report::{Locale, say};

/// Lists longer than this stand in two columns, smaller, so that the record stays on two pages.
const MANY: usize = 10;

/// The record that the owner is handed.
pub fn owners(record: &Record<'_>, links: Links<'_>) -> String {
    let locale = &record.locale;
    let standing: Vec<&Work> = record
        .log
        .standing()
        .filter_map(|entry| entry.work())
        .collect();
    let told = |is: fn(&Work) -> bool| -> Vec<String> {
        let those = standing.iter().filter(|told| is(told));
        those.map(|told| work(locale, told)).collect()
    };
    let complaint = standing.iter().rev().find_map(|told| match told {
        Work::Intake { complaint, .. } => complaint.as_ref(),
        _ => None,
    });
    let found = told(|w| matches!(w, Work::Found { .. }));
    let mut done = told(|w| matches!(w, Work::Fitted { .. }));
    done.extend(timed(locale, record.timed));
    done.extend(told(|w| matches!(w, Work::Oil { .. })));
    let oiled = standing.iter().any(|w| matches!(w, Work::Oil { .. }));
    let last_run = (standing.iter().rev()).find(|w| matches!(w, Work::TrialRun { .. }));
    let body = html! {
        (pictures(record, &standing))
        @if let Some(complaint) = complaint {
            section { h2 { (say!(locale, "record-complaint")) } p { (kept_text(locale, complaint)) } }
        }
        (list(&say!(locale, "record-found"), &found, &say!(locale, "record-found-none")))
        (list(&say!(locale, "record-done"), &done, &say!(locale, "record-done-none")))
        section {
            h2 { (say!(locale, "record-ran")) }
            @match last_run {
                Some(run) => p { (work(locale, run)) },
                None => p { (say!(locale, "record-ran-none")) },
            }
            (ran::plot(record))
        }
        @if !record.winding.is_empty() {
            section { h2 { (say!(locale, "record-wind")) } @for says in record.winding { p { (says) } } }
        }
        section {
            h2 { (say!(locale, "record-oil")) }
            p {
                @if oiled {
                    (say!(locale, "record-oil-next", from = record.day.to_string(), look = record.oil.look.as_str(), again = record.oil.again.as_str()))
                } @else { (say!(locale, "record-oil-none")) }
            }
        }
    };
    page(record, links, &say!(locale, "record-owner"), &body)
}

/// How the strike was timed: no more than the log bears out.
fn timed(locale: &Locale, timed: TimedNote) -> Option<String> {
    Some(match timed {
        TimedNote::Unsaid => return None,
        TimedNote::InTime { openings: None } => say!(locale, "record-in-time"),
        TimedNote::InTime {
            openings: Some(openings),
        } => say!(locale, "record-timed", openings = openings),
        TimedNote::Out => say!(locale, "record-out-of-time"),
        TimedNote::NotLookedSince => say!(locale, "record-not-looked"),
        TimedNote::NotSure => say!(locale, "record-not-sure"),
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
    let locale = &record.locale;
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
                        (picture_of(locale, record.picture, digest, &says.map_or_else(|| occasion(locale, when), |s| kept_text(locale, s))))
                    }
                }
            }
        }
    }
}

fn picture_of(
    locale: &Locale,
    address: &dyn Fn(&Digest) -> String,
    digest: &Digest,
    caption: &str,
) -> Markup {
    html! {
        figure {
            img src=(address(digest)) alt=(say!(locale, "record-picture", says = caption));
            figcaption { (caption) }
        }
    }
}
