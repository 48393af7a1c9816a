//! The strike shown running, as a table for the page: every pose with its second, and every event in its order. No command prints
//! it, and no schema is published.

use super::ByName;
use crate::Locale;
use crate::page::struck as said;
use movement::Movement;
use quantity::to_f64;
use serde::Serialize;
use strike::{Event, MovementPose, StrikeEvent, Struck, pace};

/// All that the page goes between.
#[derive(Debug, Serialize)]
pub struct RunningAnswer {
    /// For each pose its second.
    seconds: Vec<f64>,
    /// For each pose the hours that the hand has gone.
    hours: Vec<f64>,
    /// For each arbor, pose by pose, how far it stands ahead, in degrees.
    arbors: ByName<Vec<f64>>,
    /// For each lever arbor, pose by pose, how high it is, in degrees.
    levers: ByName<Vec<f64>>,
    /// What is seen.
    events: Vec<Row>,
    /// For each hour its first event.
    first: Vec<usize>,
}

/// An event.
#[derive(Debug, Serialize)]
struct Row {
    /// Its pose.
    pose: usize,
    /// When, as on a dial.
    at: String,
    /// What is said of it.
    says: String,
    /// The bell that sounds.
    bell: Option<String>,
}

impl RunningAnswer {
    /// The run as it was watched.
    pub fn of(locale: &Locale, movement: &Movement, struck: &Struck) -> RunningAnswer {
        let motion = &struck.motion;
        let column = |of: &dyn Fn(&MovementPose) -> f64| -> Vec<f64> {
            motion.iter().map(|pose| round(of(pose), 100.0)).collect()
        };
        let arbors = movement.arbors().enumerate();
        let levers = movement.works().into_iter();
        let levers = levers.flat_map(|works| works.lever_arbors().enumerate());
        let seconds = pace::seconds(movement, struck).into_iter();
        let hours = motion.iter().map(|pose| round(to_f64(&pose.hours), 1e5));
        let events = struck.events.iter();
        RunningAnswer {
            seconds: seconds.map(|at| round(at, 1000.0)).collect(),
            hours: hours.collect(),
            arbors: arbors
                .map(|(a, (_, arbor))| (arbor.id.clone(), column(&|pose| pose.arbors[a].to_f64())))
                .collect(),
            levers: levers
                .map(|(l, (_, name))| (name.to_owned(), column(&|pose| pose.levers[l].to_f64())))
                .collect(),
            events: events.map(|event| row(locale, movement, event)).collect(),
            first: struck.first_events(),
        }
    }
}

fn round(x: f64, unit: f64) -> f64 {
    (x * unit).round() / unit
}

fn row(locale: &Locale, movement: &Movement, event: &Event) -> Row {
    let bell = match event.seen {
        StrikeEvent::Blow(lever) | StrikeEvent::Voice(lever) => said::bell(movement, lever),
        _ => None,
    };
    Row {
        pose: event.step,
        at: said::clock(&event.pose.hours),
        says: said::seen(locale, movement, &event.seen),
        bell: bell.map(str::to_owned),
    }
}
