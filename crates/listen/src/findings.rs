//! All that one recording says of a clock, beside what was expected of it.

use crate::ear::Heard;
use crate::hours::{Cycle, Due, against};
use crate::rate::{DAY_S, Pace, Recorder, Within, pace};
use crate::round::{ArborTurn, ComesRound, comes_round};
use crate::unfit::{UnfitSound, unfit};
use crate::warning::{HeardWarning, warnings};

/// What is known of the clock.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct ExpectedClock {
    /// Beats an hour when it is right.
    pub beats_per_hour: Option<f64>,
    /// Arbors of the going train.
    pub arbors: Vec<ArborTurn>,
    /// What it strikes.
    pub cycle: Option<Cycle>,
    /// When, in the recording's seconds, somebody tapped as the pendulum stood at the left end of its swing.
    pub left_at_s: Option<f64>,
    /// The arc on one side of rest, degrees.
    pub arc_deg: Option<f64>,
    /// Millimetres the bob rises for a turn of the rating nut.
    pub nut_mm: Option<f64>,
}

/// A side of the swing, as you look at the clock.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SwingSide {
    /// Left.
    Left,
    /// Right.
    Right,
}

/// What one recording says.
#[derive(Debug, Clone, PartialEq)]
pub struct Findings {
    /// What was heard.
    pub heard: Heard,
    /// Why it is good for nothing, if so.
    pub unfit: Option<UnfitSound>,
    /// What the beats say.
    pub pace: Option<Pace>,
    /// Gains or loses, seconds a day, where it is known what is right.
    pub rate: Option<Within>,
    /// The same, the recorder's clock taken as true.
    pub rate_recorded: Option<Within>,
    /// The side to which the crutch is to be moved, where a tap told which beat is the left one.
    pub crutch: Option<SwingSide>,
    /// By at most how much, degrees, where the arc is known.
    pub crutch_deg: Option<f64>,
    /// Turns of the rating nut that bring it to time, up more than nought.
    pub nut_turns: Option<f64>,
    /// What comes round.
    pub comes_round: Vec<ComesRound>,
    /// Strikes against the cycle.
    pub due: Option<Vec<Due>>,
    /// Which cycle that is.
    pub cycle: Option<Cycle>,
    /// The warning before each strike heard.
    pub warnings: Vec<HeardWarning>,
}

/// Works out what a recording says.
pub fn find(heard: Heard, expected: &ExpectedClock, recorder: Recorder) -> Findings {
    let pace = pace(&heard.beats, recorder);
    let right = expected.beats_per_hour;
    let rate = pace
        .as_ref()
        .zip(right)
        .map(|(pace, right)| pace.rate_s_per_day(right));
    let recorded = pace
        .as_ref()
        .zip(right)
        .map(|(pace, right)| pace.rate_recorded_s_per_day(right));
    let crutch = pace
        .as_ref()
        .zip(expected.left_at_s)
        .and_then(|(p, tap)| crutch(p, tap));
    // Without a sheet, the cycle that fits better.
    let cycle = expected.cycle.or_else(|| {
        let wrong = |cycle| {
            let due = against(&heard.strikes, cycle);
            due.map_or(usize::MAX, |due| {
                due.iter()
                    .filter(|d| d.wrong(&heard.strikes).is_some())
                    .count()
            })
        };
        (heard.strikes.len() >= 4).then(|| {
            if wrong(Cycle::HoursAndHalves) < wrong(Cycle::Hours) {
                Cycle::HoursAndHalves
            } else {
                Cycle::Hours
            }
        })
    });
    Findings {
        unfit: unfit(&heard),
        crutch,
        crutch_deg: pace
            .as_ref()
            .zip(expected.arc_deg)
            .map(|(pace, arc)| crutch_deg(pace, arc)),
        nut_turns: rate
            .zip(right)
            .zip(expected.nut_mm)
            .map(|((rate, right), mm)| nut_turns(rate.value, right, mm)),
        comes_round: pace
            .as_ref()
            .map_or(Vec::new(), |pace| comes_round(pace, &expected.arbors)),
        due: cycle.and_then(|cycle| against(&heard.strikes, cycle)),
        cycle,
        warnings: warnings(&heard.strikes, &heard.between),
        rate,
        rate_recorded: recorded,
        pace,
        heard,
    }
}

/// Where the crutch has to go. The drop that comes late is the one on the side to which the pendulum has to go further than it
/// should; the crutch, bent to that side, drops it sooner (follows from the geometry; as a rule of the bench, common practice,
/// no source).
fn crutch(pace: &Pace, tap_s: f64) -> Option<SwingSide> {
    let (n, _, _) = pace
        .late
        .iter()
        .min_by(|a, b| (a.1 - tap_s).abs().total_cmp(&(b.1 - tap_s).abs()))?;
    let left_is_even = n.rem_euclid(2) == 0;
    // The longer half ends at the drop that comes late.
    let late_is_odd = pace.even_is_longer;
    Some(if late_is_odd == left_is_even {
        SwingSide::Right
    } else {
        SwingSide::Left
    })
}

/// By how much at most the crutch is out, degrees.
///
/// # Formula
/// A pendulum of arc A passes an angle e about the middle in e·T/(2π·A); the halves differ by four times that where the drops
/// come near the middle, and by more the nearer they come to the ends. So e ≤ π·A·(difference)/(2·T).
fn crutch_deg(pace: &Pace, arc_deg: f64) -> f64 {
    std::f64::consts::PI * arc_deg * pace.out_of_beat_s / (2.0 * pace.full_period_s)
}

/// Turns of the rating nut, up more than nought.
///
/// # Formula
/// A pendulum of half period t seconds is g·t²/π² long; a change of length by a part p changes the day by p/2.
///
/// # Source
/// 9.80665 m/s², the standard acceleration (3rd CGPM, 1901). The simple pendulum's law; a heavy rod makes it a few in a hundred less.
fn nut_turns(rate_s_per_day: f64, right_per_hour: f64, nut_mm: f64) -> f64 {
    let half = 3_600.0 / right_per_hour;
    let length_mm = 9_806.65 * (half / std::f64::consts::PI).powi(2);
    -rate_s_per_day * length_mm / (0.5 * DAY_S * nut_mm)
}
