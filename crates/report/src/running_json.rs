//! The strike shown running, as a table for the page: every pose with its second, and every event in its order.

use crate::Words;
use crate::page::struck as said;
use movement::Movement;
use quantity::{Degrees, to_f64};
use serde_json::{Map, Value, json};
use strike::{Event, Seen, Struck, pace};

/// All that the page goes between: for each pose its second, where each arbor stands ahead and how high each lever arbor
/// is, in degrees; for each event its pose and what is said of it; for each hour its first event.
pub fn running_json(words: &Words, movement: &Movement, struck: &Struck) -> Value {
    let round = |x: f64, unit: f64| (x * unit).round() / unit;
    let column = |of: &dyn Fn(usize) -> f64| -> Value {
        (0..struck.motion.len())
            .map(|i| round(of(i), 100.0))
            .collect()
    };
    let degrees = |angle: &Degrees| angle.to_f64();
    let arbors: Map<String, Value> = (movement.arbors().enumerate())
        .map(|(a, (_, arbor))| {
            (
                arbor.id.clone(),
                column(&|i| degrees(&struck.motion[i].arbors[a])),
            )
        })
        .collect();
    let levers: Map<String, Value> = (movement.works().into_iter())
        .flat_map(|works| works.lever_arbors().enumerate())
        .map(|(l, (_, name))| {
            (
                name.to_owned(),
                column(&|i| degrees(&struck.motion[i].levers[l])),
            )
        })
        .collect();
    let seconds = pace::seconds(movement, struck).into_iter();
    json!({
        "seconds": seconds.map(|at| round(at, 1000.0)).collect::<Vec<f64>>(),
        "hours": struck.motion.iter().map(|pose| round(to_f64(&pose.hours), 1e5)).collect::<Vec<f64>>(),
        "arbors": arbors,
        "levers": levers,
        "events": struck.events.iter().map(|event| event_row(words, movement, event)).collect::<Vec<_>>(),
        "first": struck.first_events(),
    })
}

fn event_row(words: &Words, movement: &Movement, event: &Event) -> Value {
    let bell = match event.seen {
        Seen::Blow(lever) | Seen::Voice(lever) => said::bell(movement, lever),
        _ => None,
    };
    json!({
        "pose": event.step,
        "at": said::clock(&event.pose.hours),
        "says": said::seen(words, movement, &event.seen),
        "bell": bell,
    })
}
