//! The way of a job from its coming in to its going home: which stage it is at, what is left to do there, what comes next,
//! and what can hurt.
//!
//! The points of a stage follow from the sheet (two springs: two let-downs) and from what a shop adds of its own; what the
//! log already shows counts as done, the rest is ticked off. What is done anew each time the plates were closed counts from
//! the last closing, and a clock that comes in again begins anew. Makes no sums and no sentences: what other rooms computed
//! comes in as [`JobFacts`], and words come later.
//!
//! ```
//! use entries::{LogHeader, EntryKind, Log, Stage, Work};
//! use way::{JobFacts, Item, Way};
//!
//! let mut log = Log::start(LogHeader { sheet: "Quay Street".to_owned(), hash: "5f0c".to_owned() });
//! log.append(&EntryKind::Work(Work::Stage { to: Stage::Down }), None).unwrap();
//! let way = Way::of(None, &log, &JobFacts::default(), &[]);
//! assert_eq!(way.stage, Stage::Down);
//! assert_eq!(way.next(), Some(&Item::Power("".to_owned())));
//! ```

mod changes;
mod danger;
mod item;
mod power;
mod setting;
mod visit;

pub use changes::{Change, KnownSheet, SheetItem, Value, changes};
pub use danger::{StageDanger, dangers};
pub use item::Item;
pub use power::{DrivenBy, Source, sources};
pub use setting::{Setting, Waits, settings};

use entries::{Log, Stage, Striking};
use movement::Movement;
use visit::Visit;

/// The entry since which a clock does not stand as it came: power was let down, it was taken apart, or something was moved. Nothing
/// while it does.
pub fn touched(log: &Log) -> Option<usize> {
    visit::touched(log)
}

/// Whether a clock struck right when it was last tried before anything of it was touched; nothing where it was not tried so.
pub fn struck_as_it_came(log: &Log) -> Option<Striking> {
    visit::struck_as_it_came(log)
}

/// What is known of a job beside its log.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct JobFacts {
    /// Whether there is a sheet with every count on it.
    pub counted: bool,
    /// Whether the strike train is in time, as far as the log bears that out; nothing where there is nothing to time.
    pub timed: Option<bool>,
    /// Whether it struck every hour right and came whole, as its sheet was asked; nothing where it was not.
    pub as_it_came: Option<bool>,
}

/// Whether it may still be read as it stood while it struck right: that was said of it or it was tried so, not wrong since, and nothing of
/// it was touched.
pub fn stands_as_it_came(log: &Log, as_it_came: Option<bool>) -> bool {
    let right = match struck_as_it_came(log) {
        Some(Striking::Wrong) => false,
        Some(Striking::Right) => as_it_came != Some(false),
        None => as_it_came == Some(true),
    };
    right && touched(log).is_none()
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
pub struct ToDo {
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
    pub points: Vec<ToDo>,
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
    /// The stage it is at; the last where it went home.
    pub stage: Stage,
    /// All stages, in order.
    pub stages: Vec<AtStage>,
    /// Whether the clock went home.
    pub home: bool,
}

impl Way {
    /// The way of a job. `movement` is what is on its sheet, where it has one that checks; `own` is what the shop adds.
    pub fn of(movement: Option<&Movement>, log: &Log, facts: &JobFacts, own: &[Own]) -> Way {
        let visit = Visit::of(log, movement);
        let stages = Stage::ALL.map(|stage| {
            let mut items = item::items(stage, movement);
            // While it stands as it came that is read before anything is let down.
            let strikes = movement.is_none_or(|movement| movement.strike().is_some());
            if stage == Stage::In
                && strikes
                && (visit.stood() || stands_as_it_came(log, facts.as_it_came))
            {
                let after = items.iter().position(|item| *item == Item::Tried);
                items.insert(after.map_or(0, |at| at + 1), Item::AsItStood);
            }
            let own = (own.iter())
                .filter(|own| own.stage == stage)
                .map(|own| Item::Own(own.says.clone()));
            let points = (items.into_iter().chain(own))
                .map(|item| {
                    let done = match visit.ticked(stage, &item) {
                        _ if visit.shows(&item, facts) => Done::Shown,
                        Some(n) => Done::Ticked(n),
                        None => Done::Open,
                    };
                    ToDo { item, done }
                })
                .collect();
            AtStage { stage, points }
        });
        Way {
            stage: visit.stage(),
            stages: stages.to_vec(),
            home: visit.home(),
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

    /// What comes next at the stage it is at; nothing where all there is done, or the clock went home.
    pub fn next(&self) -> Option<&Item> {
        (self.here().left().next()).filter(|_| !self.home)
    }

    /// The stages at which something is left, beside handing it back.
    pub fn open(&self) -> Vec<(Stage, Vec<&Item>)> {
        (self.stages.iter())
            .map(|at| {
                let left = at.left().filter(|item| **item != Item::HandedBack);
                (at.stage, left.collect::<Vec<_>>())
            })
            .filter(|(_, left)| !left.is_empty())
            .collect()
    }

    /// The stage after the one it is at.
    pub fn onward(&self) -> Option<Stage> {
        Stage::ALL.into_iter().find(|stage| *stage > self.stage)
    }
}
