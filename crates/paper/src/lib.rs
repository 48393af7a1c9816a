//! The record of a job as pages that print well on A4 and on US Letter: a short one in plain words for the owner, and the
//! whole for the next repairer. Drawings keep their scale when printed, and say which it is.
//!
//! A page is HTML that needs nothing but its pictures and its style sheet ([`style`]). This crate asks
//! no book and makes no sums: it is told the log and what other rooms computed.

mod owner;
mod plate;
mod ran;
mod repairer;

pub use owner::owners;
pub use plate::PlateDrawing;
pub use repairer::repairers;

use entries::{Day, Digest, EntryContent, EntryKind, Log, Work};
use maud::{DOCTYPE, Markup, html};
use report::{Locale, say};
use std::collections::BTreeSet;

/// The style sheet of all records, and of the drawings in them.
pub fn style() -> String {
    [draw::STYLE, include_str!("paper.css")].concat()
}

/// The addresses that a record's page names.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Links<'a> {
    /// Where [`style`] is.
    pub style: &'a str,
    /// The page of the job, which it leads back to as long as it is on a screen.
    pub back: &'a str,
}

/// When to come back for the oil, each time with its spread, and where the plan of it is.
#[derive(Debug, Clone)]
pub struct OilNote {
    /// After what time to look at it.
    pub look: String,
    /// After what time to clean and oil again.
    pub again: String,
    /// The address of the plan, where there is one.
    pub plan: Option<String>,
}

/// What the log bears out of the timing of a strike.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TimedNote {
    /// Nothing.
    Unsaid,
    /// It was looked at and stands in time.
    InTime {
        /// How often the plates were spread for it; nothing where nothing was shifted.
        openings: Option<usize>,
    },
    /// It was not in time when it was last looked at.
    Out,
    /// It was moved since it was last looked at.
    NotLookedSince,
    /// It was in time as far as it was looked at.
    NotSure,
}

/// All that a record tells.
#[derive(Clone)]
pub struct Record<'a> {
    /// What it is said in.
    pub locale: Locale,
    /// What the clock is called.
    pub clock: &'a str,
    /// The day of the record.
    pub day: Day,
    /// The log, as it is to be told.
    pub log: &'a Log,
    /// What each entry says, in the order of the log.
    pub told: &'a [String],
    /// The address of a picture, of a size to be looked at.
    pub picture: &'a dyn Fn(&Digest) -> String,
    /// How it is wound and set, a sentence each.
    pub winding: &'a [String],
    /// What the log bears out of the timing of the strike.
    pub timed: TimedNote,
    /// Its oil.
    pub oil: OilNote,
    /// Drawings of the movement.
    pub plates: &'a [PlateDrawing],
    /// The sheet, as text; empty where there is none.
    pub sheet: &'a str,
}

/// The frame of a record.
fn page(record: &Record<'_>, links: Links<'_>, title: &str, body: &Markup) -> String {
    let locale = &record.locale;
    html! {
        (DOCTYPE)
        html lang=(locale.tag()) {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (say!(locale, "record-title", name = record.clock, title = title)) }
                link rel="stylesheet" href=(links.style);
            }
            body.record {
                nav { a href=(links.back) { (say!(locale, "record-back")) } }
                header {
                    h1 { (record.clock) }
                    p { (title) ", " time datetime=(record.day) { (record.day) } }
                }
                main { (body) }
                footer { p { (say!(locale, "record-local")) } }
            }
        }
    }
    .into_string()
}

/// The numbers of the entries that were put right by a later one.
pub fn put_right(log: &Log) -> BTreeSet<usize> {
    (log.standing())
        .filter_map(|entry| match &entry.told {
            EntryContent::Known(EntryKind::Work(Work::Correction { of, .. })) => Some(*of),
            _ => None,
        })
        .collect()
}
