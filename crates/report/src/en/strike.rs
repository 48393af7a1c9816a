//! The strike run through its hours on the command line: a line an hour, and every event on a line. The sentences are those
//! of the page.

use crate::Locale;
use crate::page::struck as said;
use movement::Movement;
use strike::{Event, Hour, PlantedFault, Struck};

/// The whole run: what each bend does, a line an hour, how it ends, what is not good, what is thin.
pub fn strike_text(movement: &Movement, put_in: &[PlantedFault], struck: &Struck) -> String {
    let locale = Locale::default();
    let mut text = vec![format!("{}: the strike through its hours", movement.name())];
    text.extend(said::bends(&locale, movement, put_in));
    text.extend([
        String::new(),
        "   time   blows         warning run   fall   lead    nearest edge".to_owned(),
    ]);
    text.extend(struck.hours.iter().map(|hour| hour_line(movement, hour)));
    text.push(String::new());
    text.extend(said::summary(&locale, movement, struck));
    text.push(String::new());
    text.join("\n")
}

/// What a table of the run does not say by itself, a sentence each: that not every hour was run, that not every event is in it.
pub fn beside_the_table(movement: &Movement, struck: &Struck, of_events: bool) -> Vec<String> {
    let locale = Locale::default();
    let end = (!struck.is_whole()).then(|| said::end(&locale, movement, struck));
    let short = (of_events).then(|| said::cut_short(&locale, struck));
    end.into_iter().chain(short.flatten()).collect()
}

fn hour_line(movement: &Movement, hour: &Hour) -> String {
    let locale = Locale::default();
    let or_dash = |said: Option<String>| said.unwrap_or_else(|| "-".to_owned());
    let line = format!(
        "  {:>5}   {:<13} {:<13} {:<6} {:<7} {}",
        said::time(hour),
        said::blows(&locale, hour),
        or_dash(said::warning(&locale, hour)),
        or_dash(said::fall(&locale, hour)),
        or_dash(said::lead(&locale, hour)),
        (Some(said::nearest_edge(&locale, movement, hour)).filter(|edge| !edge.is_empty()))
            .into_iter()
            .chain(said::not_good(&locale, hour))
            .collect::<Vec<_>>()
            .join("; ")
    );
    line.trim_end().to_owned()
}

/// Every event on a line of its own.
pub fn events_text(movement: &Movement, events: &[Event]) -> String {
    let locale = Locale::default();
    let line = |event: &Event| {
        format!(
            "  {:>8}   {}\n",
            said::clock(&event.pose.hours),
            said::seen(&locale, movement, &event.seen)
        )
    };
    events.iter().map(line).collect()
}
