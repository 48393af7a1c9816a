//! Listening at the bench: a recording that is chosen, or the microphone, live. The answer in a sentence, a plot, the sound itself
//! with what was found in it, the hours as struck; and with one touch it stands in the job's log.
//!
//! No sum is made here. Sound is kept a day at most, to be played.

mod live;
mod page;
mod recordings;
mod routes;

pub(crate) use live::{MOST_LIVE, MOST_S};
pub(crate) use recordings::{MOST_BYTES, MOST_COMING, Recordings};
pub(crate) use routes::routes;

use crate::form::{Fields, query};
use crate::sums::fields::{Field, Kind, typed};
use book::JobId;
use report::Words;
use tasks::listening::Said;

/// What may be said beside a recording, by the names of the options that ask for the same.
const KNOWN: [Field; 4] = [
    ("left-at", Kind::Plain),
    ("arc", Kind::Plain),
    ("nut", Kind::Length),
    ("clock-ppm", Kind::Plain),
];
const FIELDS: [&str; 4] = [KNOWN[0].0, KNOWN[1].0, KNOWN[2].0, KNOWN[3].0];

/// What was typed into them.
struct Typed([Option<String>; 4]);

fn said_of(words: &Words, fields: &Fields) -> Typed {
    Typed(KNOWN.map(|field| typed(words, fields, field)))
}

impl Typed {
    fn lent(&self) -> Said<'_> {
        let [left_at, arc, nut, clock_ppm] = self.0.each_ref().map(Option::as_deref);
        Said {
            clock_ppm,
            left_at,
            arc,
            nut,
        }
    }
}

/// The address of the page with a recording, what was typed, and what is to be told besides.
fn address(job: JobId, fields: &Fields, (sound, more): (&str, &[(&str, &str)])) -> String {
    let beside = more.iter().copied();
    let all = fields
        .filled(FIELDS)
        .chain([("sound", sound)])
        .chain(beside);
    format!("/job/{job}/listen?{}", query(all))
}
