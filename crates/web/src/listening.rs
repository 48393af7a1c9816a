//! Listening at the bench: a recording that is chosen, or the microphone, live. The answer in a sentence, a plot, the sound itself
//! with what was found in it, the hours as struck; and with one touch it stands in the job's log.
//!
//! No sum is made here, and no sound is kept longer than it is looked at.

mod live;
mod page;
mod recordings;
mod routes;

pub(crate) use recordings::Recordings;
pub(crate) use routes::routes;

use crate::form::Fields;
use crate::routes::escape;
use crate::sums::fields::{Field, Kind, typed};
use report::Words;
use tasks::listening::Said;

/// What may be said beside a recording, by the names of the options that ask for the same.
const KNOWN: [Field; 4] = [
    ("left-at", Kind::Plain),
    ("arc", Kind::Plain),
    ("nut", Kind::Length),
    ("clock-ppm", Kind::Plain),
];
const FIELDS: [&str; 4] = ["left-at", "arc", "nut", "clock-ppm"];

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

/// What was typed, and what stands in other fields, as the beginning of an address's question.
fn question(fields: &Fields, more: &[&str]) -> String {
    let mut query = String::new();
    for name in FIELDS.iter().chain(more) {
        if let Some(value) = fields.get(name) {
            query.push_str(name);
            query.push('=');
            escape(&mut query, value);
            query.push('&');
        }
    }
    query
}
