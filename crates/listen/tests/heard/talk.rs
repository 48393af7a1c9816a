//! Rooms in which somebody talks, made up: talk alone is no clock, and a clock is heard through it.

use crate::made::voices::{Struck, Tick};
use crate::made::{Sound, between, dice};
use listen::{Detector, UnfitSound, unfit};

const RATE_HZ: f64 = 12_000.0;

/// A room and a voice in it, each of such a root mean square.
fn talk(seconds: f64, seed: u64, rms: f64) -> Sound {
    let dice = &mut dice(seed);
    let mut sound = Sound::silent(seconds, RATE_HZ);
    sound.room(rms, dice);
    sound.speech(rms, dice);
    sound
}

#[test]
fn talk_alone_is_no_clock() {
    for seed in 300..306 {
        let mut ear = Detector::new(12_000);
        ear.hear(&talk(360.0, seed, 0.02).x);
        let heard = ear.finish();
        let beats: Vec<f64> = heard.beats.iter().map(|b| b.at_s).collect();
        assert_eq!(beats, Vec::<f64>::new(), "seed {seed}");
        assert_eq!(heard.strikes, Vec::new(), "seed {seed}");
        assert_eq!(unfit(&heard), Some(UnfitSound::Nothing));
    }
}

#[test]
fn half_an_hour_of_talk_does_not_become_the_bell() {
    // A rod of few partials, fast, so that blows ring on into each other; six hours are struck in half an hour.
    let dice = &mut dice(311);
    let rod = Struck::rod(dice);
    let tick = Tick::pallet(dice);
    let mut ear = Detector::new(12_000);
    let hours = [2, 9, 1, 5, 11, 3];
    for (k, blows) in hours.into_iter().enumerate() {
        let mut sound = talk(300.0, 320 + k as u64, 0.015);
        let mut at = 20.0;
        for _ in 0..blows {
            sound.add(&tick.sound(RATE_HZ, dice), at - 0.2, 0.03);
            sound.add(
                &rod.blow(6.0, RATE_HZ, dice),
                at,
                0.08 * between(dice, 0.8, 1.2),
            );
            at += 0.9 * between(dice, 0.97, 1.03);
        }
        ear.hear(&sound.x);
    }
    let heard: Vec<usize> = (ear.finish().strikes.iter())
        .map(|s| s.blow_times_s.len())
        .collect();
    assert_eq!(heard, hours);
}
