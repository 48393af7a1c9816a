//! The strike run through its hours on the command line: a line an hour, and every event on a line. The sentences are those
//! of the page.

use crate::Words;
use crate::page::struck as said;
use movement::Movement;
use strike::{Event, Hour, PlantedFault, Struck};

/// The whole run: what each bend does, a line an hour, how it ends, what is not good, what is thin.
pub fn strike_text(movement: &Movement, put_in: &[PlantedFault], struck: &Struck) -> String {
    let words = Words::default();
    let mut text = vec![format!("{}: the strike through its hours", movement.name())];
    text.extend(said::bends(&words, movement, put_in));
    text.extend([
        String::new(),
        "   time   blows         warning run   fall   lead    nearest edge".to_owned(),
    ]);
    text.extend(struck.hours.iter().map(|hour| hour_line(movement, hour)));
    text.push(String::new());
    text.extend(said::summary(&words, movement, struck));
    text.push(String::new());
    text.join("\n")
}

/// What a table of the run does not say by itself, a sentence each: that not every hour was run, that not every event is in it.
pub fn beside_the_table(movement: &Movement, struck: &Struck, of_events: bool) -> Vec<String> {
    let words = Words::default();
    let end = (!struck.is_whole()).then(|| said::end(&words, movement, struck));
    let short = (of_events).then(|| said::cut_short(&words, struck));
    end.into_iter().chain(short.flatten()).collect()
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
        (Some(said::nearest_edge(&words, movement, hour)).filter(|edge| !edge.is_empty()))
            .into_iter()
            .chain(said::not_good(&words, hour))
            .collect::<Vec<_>>()
            .join("; ")
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
