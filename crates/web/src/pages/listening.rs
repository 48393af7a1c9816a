//! Listening at the bench: a recording that is chosen, or the microphone, live. The answer in a sentence, a plot, the sound itself
//! with what was found in it, the hours as struck; and with one touch it stands in the job's log.
//!
//! No sum is made here. Sound is kept a day at most, to be played.

mod page;
mod routes;
mod said;

pub(super) use routes::routes;
