//! What may be said beside a recording, and the address that keeps it.

use crate::fields::{Field, Kind, typed};
use crate::form::{Fields, query};
use book::JobId;
use report::Words;
use tasks::listening::ListeningOptions;

/// What may be said beside a recording, by the names of the options that ask for the same.
pub(super) const KNOWN: [Field; 4] = [
    ("left-at", Kind::Plain),
    ("arc", Kind::Plain),
    ("nut", Kind::Length),
    ("clock-ppm", Kind::Plain),
];
pub(super) const FIELDS: [&str; 4] = [KNOWN[0].0, KNOWN[1].0, KNOWN[2].0, KNOWN[3].0];

/// What was typed into them.
pub(super) struct Typed([Option<String>; 4]);

pub(super) fn said_of(words: &Words, fields: &Fields) -> Typed {
    Typed(KNOWN.map(|field| typed(words, fields, field)))
}

impl Typed {
    pub(super) fn lent(&self) -> ListeningOptions<'_> {
        let [left_at, arc, nut, clock_ppm] = self.0.each_ref().map(Option::as_deref);
        ListeningOptions {
            clock_ppm,
            left_at,
            arc,
            nut,
        }
    }
}

/// The address of the page with a recording, what was typed, and what is to be told besides.
pub(super) fn address(
    job: JobId,
    fields: &Fields,
    (sound, more): (&str, &[(&str, &str)]),
) -> String {
    let beside = more.iter().copied();
    let all = fields
        .filled(FIELDS)
        .chain([("sound", sound)])
        .chain(beside);
    format!("/job/{job}/listen?{}", query(all))
}
