//! The way of a job from its coming in to its going home: which stage it is at, what is left to do there, what comes next,
//! and what can hurt.
//!
//! The points of a stage follow from the sheet (two springs: two let-downs) and from what a shop adds of its own; what the
//! log already shows counts as done, the rest is ticked off. Makes no sums and no sentences: what other rooms computed
//! comes in as [`Facts`], and words come later.
//!
//! ```
//! use entries::{Header, Kind, Log, Stage, Work};
//! use way::{Facts, Item, Way};
//!
//! let mut log = Log::start(Header { sheet: "Quay Street".to_owned(), hash: "5f0c".to_owned() });
//! log.append(&Kind::Work(Work::Stage { to: Stage::Down }), None).unwrap();
//! let way = Way::of(None, &log, &Facts::default(), &[]);
//! assert_eq!(way.stage, Stage::Down);
//! assert_eq!(way.next(), Some(&Item::Power("".to_owned())));
//! ```

mod danger;
mod item;
mod power;

pub use danger::{Danger, dangers};
pub use item::Item;
pub use power::{Power, Source, sources};

use entries::{Log, Occasion, Stage, Striking, Work};
use movement::Movement;
use std::collections::BTreeMap;

/// What is known of a job beside its log.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Facts {
    /// Whether there is a sheet with every count on it.
    pub counted: bool,
    /// Whether all that can be read stands in its window; nothing where there is nothing to time.
    pub timed: Option<bool>,
}

/// A point of a shop's own list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Own {
    /// The stage it belongs to.
    pub stage: Stage,
    /// What it says.
    pub says: String,
}

/// Something to do at a stage.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Point {
    /// What.
    pub item: Item,
    /// Whether it is done.
    pub done: Done,
}

/// Whether a point is done, and what shows it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Done {
    /// Not yet.
    Open,
    /// It was ticked off in the entry with this number.
    Ticked(usize),
    /// The log or the sheet shows it.
    Shown,
}

/// A stage with its points.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AtStage {
    /// Which.
    pub stage: Stage,
    /// What is to be done there, in order.
    pub points: Vec<Point>,
}

impl AtStage {
    /// What is left.
    pub fn left(&self) -> impl Iterator<Item = &Item> {
        (self.points.iter())
            .filter(|point| point.done == Done::Open)
            .map(|point| &point.item)
    }
}

/// A job's way.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Way {
    /// The stage it is at.
    pub stage: Stage,
    /// All stages, in order.
    pub stages: Vec<AtStage>,
    /// Whether the clock went home.
    pub home: bool,
}

impl Way {
    /// The way of a job. `movement` is what is on its sheet, where it has one that checks; `own` is what the shop adds.
    pub fn of(movement: Option<&Movement>, log: &Log, facts: &Facts, own: &[Own]) -> Way {
        let ticked = ticked(log);
        let stages = Stage::ALL.map(|stage| {
            let items = item::items(stage, movement);
            let own = (own.iter())
                .filter(|own| own.stage == stage)
                .map(|own| Item::Own(own.says.clone()));
            let points = (items.into_iter().chain(own))
                .map(|item| {
                    let key = (stage, item.key());
                    let done = match ticked.get(&key) {
                        _ if shown(&item, log, facts) => Done::Shown,
                        Some(n) => Done::Ticked(*n),
                        None => Done::Open,
                    };
                    Point { item, done }
                })
                .collect();
            AtStage { stage, points }
        });
        Way {
            stage: stage(log),
            stages: stages.to_vec(),
            home: log.handed_back(),
        }
    }

    /// The stage it is at, with its points.
    pub fn here(&self) -> &AtStage {
        self.at(self.stage)
    }

    /// A stage with its points.
    pub fn at(&self, stage: Stage) -> &AtStage {
        // Every stage is in the list.
        (self.stages.iter().find(|at| at.stage == stage)).unwrap_or(&self.stages[0])
    }

    /// What comes next at the stage it is at; nothing where all there is done.
    pub fn next(&self) -> Option<&Item> {
        self.here().left().next()
    }

    /// The stage after the one it is at.
    pub fn onward(&self) -> Option<Stage> {
        Stage::ALL.into_iter().find(|stage| *stage > self.stage)
    }
}

/// The stage a job is at. One that only ever had its train timed is being put together: nobody said that it came in.
fn stage(log: &Log) -> Stage {
    let told = |work: &Work| matches!(work, Work::Intake { .. } | Work::Stage { .. });
    if log.standing().filter_map(|entry| entry.work()).any(told) {
        log.stage()
    } else {
        Stage::Together
    }
}

/// The points that were ticked off and still count, each with the last entry that says so.
fn ticked(log: &Log) -> BTreeMap<(Stage, String), usize> {
    let mut ticked = BTreeMap::new();
    for entry in log.standing() {
        if let Some(Work::Check { stage, item }) = entry.work()
            && let Some(item) = item.here()
        {
            ticked.insert((*stage, item.clone()), entry.n);
        }
    }
    ticked
}

/// Whether the log or the sheet shows that a point is done.
fn shown(item: &Item, log: &Log, facts: &Facts) -> bool {
    let any = |is: fn(&Work) -> bool| log.standing().filter_map(|e| e.work()).any(is);
    match item {
        Item::PictureBefore => any(|w| {
            matches!(
                w,
                Work::Picture {
                    when: Occasion::Before,
                    ..
                }
            )
        }),
        Item::PictureAfter => any(|w| {
            matches!(
                w,
                Work::Picture {
                    when: Occasion::After,
                    ..
                }
            )
        }),
        Item::Complaint => any(|w| {
            matches!(
                w,
                Work::Intake {
                    complaint: Some(_),
                    ..
                }
            )
        }),
        Item::Counted => facts.counted,
        Item::Timed => facts.timed == Some(true),
        Item::Hours => any(
            |w| matches!(w, Work::TrialRun { struck: Some(Striking::Right), hours, .. } if whole_round(hours)),
        ),
        Item::Beat => any(|w| {
            matches!(
                w,
                Work::TrialRun {
                    beat_error_ms: Some(_),
                    ..
                }
            )
        }),
        Item::Rate => any(|w| {
            matches!(
                w,
                Work::TrialRun {
                    rate_s_per_day: Some(_),
                    ..
                }
            )
        }),
        Item::Oiled => any(|w| matches!(w, Work::Oil { .. })),
        Item::HandedBack => log.handed_back(),
        _ => false,
    }
}

/// Whether it ran long enough for every hour to strike: twelve hours.
fn whole_round(hours: &entries::Decimal) -> bool {
    hours.text().parse::<f64>().is_ok_and(|hours| hours >= 12.0)
}
