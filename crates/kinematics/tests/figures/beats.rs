//! The full table of trains: beats of a train from the centre arbor's turn an hour to the escape wheel.

use crate::ask::{Ask, Got};
use crate::row::{Mark, exact, within};
use crate::train::Train;
use quantity::{Exact, fraction};
use serde::Deserialize;

/// The table.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Table {
    pub(crate) train: Vec<Line>,
}

/// One line of it.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Line {
    pub(crate) name: String,
    source: String,
    mark: Mark,
    wheels: Vec<u16>,
    pinions: Vec<u16>,
    escape: u16,
    beats_per_hour: String,
    beats_per_minute: Print,
    length_in: Print,
}

/// A printed column: the number, or where it errs what was printed and what is right.
#[derive(Deserialize)]
#[serde(untagged)]
enum Print {
    Right(String),
    Wrong(Wrong),
}

/// What a wrong number should be.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Wrong {
    printed: String,
    right: String,
    why: String,
}

impl Print {
    fn check(&self, got: &Exact, half: &Exact) -> Result<(), String> {
        match self {
            Print::Right(printed) => within(got, printed, half),
            Print::Wrong(wrong) => {
                if *got != exact(&wrong.right) {
                    return Err(format!("got {got}, not {}", wrong.right));
                }
                if within(got, &wrong.printed, half).is_ok() {
                    return Err(format!("{} is no misprint of {got}", wrong.printed));
                }
                Ok(())
            }
        }
    }

    /// Whether the numbers are numbers and a slip has a why. Lengths are kept, not worked.
    fn told(&self) -> bool {
        match self {
            Print::Right(printed) => exact(printed) > fraction(0, 1),
            Print::Wrong(wrong) => {
                exact(&wrong.right) != exact(&wrong.printed) && !wrong.why.trim().is_empty()
            }
        }
    }
}

impl Line {
    pub(crate) fn check(&self) -> Result<(), String> {
        // The column of beats a minute is printed to a tenth, whole numbers without their nought.
        let half_a_tenth = fraction(1, 20);
        let told = self.beats_per_minute.told() && self.length_in.told();
        if self.source.trim().is_empty() || self.mark != Mark::Seen || !told {
            return Err("not told in full".into());
        }
        let asked = Ask::BeatsPerHour("escape.wheel".into());
        let movement = sheet::read(self.sheet().as_bytes())
            .map_err(|faults| format!("{faults:#?}"))?
            .movement;
        let Some(Got::Number(beats)) = asked.of(&movement) else {
            return Err("no beats".into());
        };
        if beats != exact(&self.beats_per_hour) {
            return Err(format!(
                "{beats} beats an hour, not {}",
                self.beats_per_hour
            ));
        }
        self.beats_per_minute
            .check(&(beats / fraction(60, 1)), &half_a_tenth)
    }

    fn sheet(&self) -> String {
        let names = ["centre", "third", "fourth"];
        let mut train = String::new();
        assert_eq!(self.wheels.len(), self.pinions.len(), "a pinion to a wheel");
        for (name, (wheel, pinion)) in names.iter().zip(self.wheels.iter().zip(&self.pinions)) {
            train += &format!("{name} {wheel}:{pinion} ");
        }
        let train = Train {
            train: vec![train + "escape"],
            with: vec![
                "centre.turn_s = 3600".into(),
                format!("escape.wheel = {}", self.escape),
            ],
            strike: None,
        };
        train.sheet(&self.name)
    }
}
