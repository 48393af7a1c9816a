//! What may be said beside a recording, and the address that keeps it.

use crate::fields::{Field, Kind, measured};
use crate::form::{FieldFault, Fields, query};
use book::JobId;
use report::Locale;
use serde::Deserialize;
use tasks::listening::ListeningOptions;

/// What may be said beside a recording, by the names of the options that ask for the same.
pub(super) const KNOWN: [Field; 4] = [
    ("left-at", Kind::Plain),
    ("arc", Kind::Plain),
    ("nut", Kind::Length),
    ("clock-ppm", Kind::Plain),
];
pub(super) const FIELDS: [&str; 4] = [KNOWN[0].0, KNOWN[1].0, KNOWN[2].0, KNOWN[3].0];

/// What was said beside it.
#[derive(Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(super) struct Beside {
    left_at: Option<String>,
    arc: Option<String>,
    nut: Option<String>,
    clock_ppm: Option<String>,
}

impl Beside {
    pub(super) fn of(locale: &Locale, fields: &Fields) -> Result<Beside, FieldFault> {
        measured(locale, fields, &KNOWN).read()
    }

    pub(super) fn lent(&self) -> ListeningOptions<'_> {
        ListeningOptions {
            clock_ppm: self.clock_ppm.as_deref(),
            left_at: self.left_at.as_deref(),
            arc: self.arc.as_deref(),
            nut: self.nut.as_deref(),
        }
    }
}

/// The address of the page with a recording, what was typed, and what is to be told besides.
pub(super) fn address(job: JobId, fields: &Fields, sound: &str, more: &[(&str, &str)]) -> String {
    let beside = more.iter().copied();
    let all = fields
        .filled(FIELDS)
        .chain([("sound", sound)])
        .chain(beside);
    format!("/job/{job}/listen?{}", query(all))
}
