//! Warning before the strike, made up: a whirr of half a second between the ticks, some minutes before.

#![expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "lengths and levels of made-up sound"
)]

use crate::made::voices::{Struck, Tick};
use crate::made::{Sound, between, dice, normal};
use listen::{Detector, ExpectedClock, Findings, HeardWarning, Recorder, find};
use rand::RngExt;
use rand_pcg::Pcg64Mcg;

const RATE: f64 = 8_000.0;
const PIECE_S: f64 = 15.0;

/// What is heard of a clock in a room.
struct Scene {
    voices: [Vec<f32>; 2],
    still: Vec<f32>,
    blow: Vec<f32>,
    whirr: Vec<f32>,
    dice: Pcg64Mcg,
}

impl Scene {
    fn new(seed: u64) -> Scene {
        let mut dice = dice(seed);
        let voices = [0, 1].map(|_| Tick::pallet(&mut dice).sound(RATE, &mut dice));
        let blow = Struck::bell(&mut dice).blow(2.0, RATE, &mut dice);
        let mut still = Sound::silent(PIECE_S, RATE);
        still.hiss(0.002, &mut dice);
        // A wheel let go: teeth falling past a pinion some ninety times a second, until it is caught.
        let n = (0.5 * RATE) as usize;
        let whirr = (0..n).map(|k| {
            let tooth = (k as f64 / RATE * 90.0).fract();
            (0.15 * (-tooth * 8.0).exp() * normal(&mut dice)) as f32
        });
        let whirr = whirr.collect();
        Scene {
            voices,
            still: still.x,
            blow,
            whirr,
            dice,
        }
    }

    /// Half hours struck, the first so many minutes from the beginning, the warning so many seconds before, if any; and bumps just like it, in
    /// so many of the quarters of a minute.
    fn heard(&mut self, first_min: f64, leads: &[Option<f64>], bumps: f64) -> Findings {
        let at: Vec<f64> = (0..leads.len())
            .map(|k| 60.0 * (first_min + 30.0 * k as f64))
            .collect();
        let mut ear = Detector::new(RATE as u32);
        let pieces = ((at[at.len() - 1] + 60.0) / PIECE_S) as usize;
        for piece in 0..pieces {
            let from = piece as f64 * PIECE_S;
            let mut sound = Sound {
                rate: RATE,
                x: self.still.clone(),
            };
            for n in 0..(PIECE_S / 0.5) as usize {
                sound.add(&self.voices[n % 2], 0.1 + 0.5 * n as f64, 0.1);
            }
            for (k, strike) in at.iter().enumerate() {
                for blow in 0..3 + k {
                    let blow_at = strike + 1.6 * blow as f64 + 0.3;
                    if (from..from + PIECE_S).contains(&blow_at) {
                        sound.add(&self.blow, blow_at - from, 0.2);
                    }
                }
                if let Some(warning) = leads[k].map(|lead| strike + 0.3 - lead)
                    && (from..from + PIECE_S).contains(&warning)
                {
                    sound.add(&self.whirr, warning - from, 0.15);
                }
            }
            if self.dice.random::<f64>() < bumps {
                let at = between(&mut self.dice, 0.0, PIECE_S - 1.0);
                sound.add(&self.whirr, at, 0.15);
            }
            ear.hear(&sound.x);
        }
        find(ear.finish(), &ExpectedClock::default(), Recorder::default())
    }
}

#[test]
fn a_warning_is_heard_at_its_distance_and_one_that_did_not_come_is_missed() {
    let leads = [Some(352.0), Some(360.5), None, Some(347.0)];
    let found = Scene::new(31).heard(14.0, &leads, 0.0);
    assert_eq!(found.heard.strikes.len(), 4);
    for (lead, warning) in leads.iter().zip(&found.warnings) {
        match (lead, warning) {
            (Some(lead), HeardWarning::Heard(heard)) => {
                assert!((lead - heard).abs() < 0.3, "{lead} {heard}");
            }
            (None, HeardWarning::NotHeard) => {}
            other => panic!("{other:?}"),
        }
    }
}

#[test]
fn without_a_warning_none_is_heard() {
    let found = Scene::new(32).heard(14.0, &[None, None, None], 0.0);
    assert_eq!(found.warnings, [HeardWarning::NotHeard; 3]);
}

#[test]
fn where_the_recording_begins_too_late_or_somebody_is_about_it_cannot_be_told() {
    let found = Scene::new(33).heard(4.0, &[Some(400.0), None], 0.0);
    assert_eq!(found.warnings[0], HeardWarning::CannotTell);
    let found = Scene::new(34).heard(13.0, &[Some(400.0), None], 0.7);
    assert_eq!(found.warnings, [HeardWarning::CannotTell; 2]);
}
