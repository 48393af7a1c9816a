//! The strike run through its hours on the command line: a line an hour, and every event on a line. The sentences are those
//! of the page.

use crate::Words;
use crate::page::struck as said;
use movement::Movement;
use strike::{Event, Hour, Struck};

/// The whole run: a line an hour, what is thin, how it ends.
pub fn strike_text(movement: &Movement, struck: &Struck) -> String {
    let words = Words::default();
    let mut text = vec![
        format!("{}: the strike through its hours", movement.name()),
        String::new(),
        "   time   blows         warning run   fall   lead    nearest edge".to_owned(),
    ];
    text.extend(struck.hours.iter().map(|hour| hour_line(movement, hour)));
    text.push(String::new());
    text.extend(said::summary(&words, movement, struck));
    text.push(String::new());
    text.join("\n")
}

fn hour_line(movement: &Movement, hour: &Hour) -> String {
    let words = Words::default();
    let or_dash = |said: Option<String>| said.unwrap_or_else(|| "-".to_owned());
    let line = format!(
        "  {:>5}   {:<13} {:<13} {:<6} {:<7} {}",
        said::time(hour),
        said::blows(&words, hour),
        or_dash(said::warning(&words, hour)),
        or_dash(said::fall(&words, hour)),
        or_dash(said::lead(&words, hour)),
        said::nearest_edge(&words, movement, hour)
    );
    line.trim_end().to_owned()
}

/// Every event on a line of its own.
pub fn events_text(movement: &Movement, events: &[Event]) -> String {
    let words = Words::default();
    let line = |event: &Event| {
        format!(
            "  {:>8}   {}\n",
            said::clock(&event.pose.hours),
            said::seen(&words, movement, &event.seen)
        )
    };
    events.iter().map(line).collect()
}
