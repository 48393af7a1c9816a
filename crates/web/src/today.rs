//! The day, from this machine's clock: handed on to whoever may not read a clock.

use entries::Day;

/// The day where this machine stands. A clock that tells no day there is tells the first of the calendar.
pub(crate) fn today() -> Day {
    let now = jiff::Zoned::now().date().to_string();
    Day::parse(&now).unwrap_or(Day::FIRST)
}
