//! Sound made up from seeds, a few of each: guards. The studies with all their seeds are a benchmark.

use crate::made;
use crate::made::dice;
use crate::made::scenes::{Going, beats};
use crate::made::trials::{arbors, cycles, rates, still};
use crate::made::voices::Struck;
use crate::made::{Sound, between};
use crate::outside::root;
use listen::{Cycle, Detector, ExpectedClock, HeardStrike, HourFault, Recorder, against, find};

#[test]
fn the_rate_is_as_good_as_onsets_allow_and_its_interval_holds() {
    let came = rates(0..200, false);
    assert!(came.ratio() < 1.3, "{came:?}");
    // 95 in 100 of 200, give or take three standard deviations.
    for covered in [came.covered, came.covered_recorded] {
        assert!((180..=199).contains(&covered), "{came:?}");
    }
}

#[test]
fn the_same_as_sound_ten_decibels_over_the_noise() {
    let came = rates(0..3, true);
    assert!(came.ratio() < 2.6, "{came:?}");
}

#[test]
fn where_a_clock_only_ticks_nothing_is_struck() {
    for seed in 0..4 {
        let came = still(seed, 300.0, 16_000.0);
        assert_eq!((came.strikes, came.chimes), (0, 0), "{seed}: {came:?}");
        assert!(
            10 * came.beats >= 9 * came.of && came.beats <= came.of,
            "{seed}: {came:?}"
        );
    }
}

#[test]
fn every_hour_is_counted_while_somebody_talks() {
    assert_eq!(cycles(0..1, 30.0, 12_000.0), (1, 1));
}

#[test]
fn an_arbor_that_is_not_true_is_named_and_a_true_one_is_not() {
    let came = arbors(0..60);
    assert!(came.named >= 56 && came.false_alarms <= 2, "{came:?}");
}

#[test]
fn a_missing_a_doubled_a_wrong_and_a_late_hour_are_pointed_out() {
    let strikes = [
        struck(0.2, 3),
        struck(1.2, 4),
        struck(3.2, 6),
        struck(4.2, 6),
        struck(5.2, 8),
        struck(5.21, 8),
        struck(6.3, 9),
        struck(7.2, 10),
    ];
    let due = against(&strikes, Cycle::Hours).expect("a cycle");
    let wrong: Vec<(u8, Option<HourFault>)> =
        due.iter().map(|d| (d.hour, d.wrong(&strikes))).collect();
    let right = [
        (3, None),
        (4, None),
        (5, Some(HourFault::Missing)),
        (6, None),
        (7, Some(HourFault::Number)),
        (8, Some(HourFault::Doubled)),
        (9, Some(HourFault::Late)),
        (10, None),
    ];
    assert_eq!(wrong, right);
}

fn struck(hour: f64, blows: usize) -> HeardStrike {
    HeardStrike {
        blow_times_s: (0..blows).map(|k| 3600.0 * hour + 1.5 * k as f64).collect(),
        spread_s: 0.005,
        pitch_hz: 700.0,
    }
}

#[test]
fn halves_that_are_silent_after_twelve_and_one_are_not_missed_and_a_third_is() {
    let hours = [
        (0.0, 12),
        (1.0, 1),
        (2.0, 2),
        (2.5, 1),
        (3.0, 3),
        (4.0, 4),
        (4.5, 1),
    ];
    let strikes: Vec<HeardStrike> = hours.iter().map(|&(at, n)| struck(at, n)).collect();
    let wrong = |cycle| -> Vec<(u8, bool, Option<HourFault>)> {
        let due = against(&strikes, cycle).expect("a cycle");
        let told = due.iter().map(|d| (d.hour, d.half, d.wrong(&strikes)));
        told.filter(|(_, _, wrong)| wrong.is_some()).collect()
    };
    assert_eq!(
        wrong(Cycle::HoursAndTenHalves),
        [(3, true, Some(HourFault::Missing))]
    );
    let halves = wrong(Cycle::HoursAndHalves);
    assert_eq!(
        halves,
        [12, 1, 3].map(|hour| (hour, true, Some(HourFault::Missing)))
    );
    // One that strikes where it should be silent.
    let mut more = strikes.clone();
    more.insert(1, struck(0.5, 1));
    let due = against(&more, Cycle::HoursAndTenHalves).expect("a cycle");
    assert_eq!(
        (due[1].hour, due[1].half, due[1].wrong(&more)),
        (12, true, Some(HourFault::Number))
    );
}

#[test]
fn ships_bells_are_called_bells_and_no_hour() {
    let strikes: Vec<HeardStrike> = [6, 7, 8, 1, 2, 4, 4]
        .iter()
        .enumerate()
        .map(|(k, &n)| struck(0.5 * k as f64, n))
        .collect();
    let due = against(&strikes, Cycle::ShipsBells).expect("a cycle");
    let called: Vec<_> = due.iter().map(|d| d.bells).collect();
    assert_eq!(called, [6, 7, 8, 1, 2, 3, 4].map(Some));
    let wrong: Vec<_> = due.iter().map(|d| d.wrong(&strikes)).collect();
    assert_eq!(wrong[5], Some(HourFault::Number));
    assert_eq!(wrong.iter().flatten().count(), 1);
    let hours = against(&[struck(0.0, 3), struck(1.0, 4)], Cycle::Hours).expect("a cycle");
    assert!(hours.iter().all(|d| d.bells.is_none()));
}

#[test]
fn ships_bells_are_counted_by_their_pairs() {
    // Between pairs three times the step within one (Goodrich, The Modern Clock, p. 315).
    let dice = &mut dice(78);
    let bell = Struck::bell(dice);
    let struck = [1, 2, 3, 4, 5, 6, 7, 8];
    let mut ear = Detector::new(12_000);
    for blows in struck {
        let mut sound = Sound::silent(40.0, 12_000.0);
        for k in 0..blows {
            let at = 5.0 + 0.7 * (4 * (k / 2) + k % 2) as f64;
            sound.add(&bell.blow(2.0, 12_000.0, dice), at, 0.1);
        }
        sound.room(0.002, dice);
        ear.hear(&sound.x);
    }
    let heard: Vec<usize> = (ear.finish().strikes.iter())
        .map(|s| s.blow_times_s.len())
        .collect();
    assert_eq!(heard, struck);
}

#[test]
fn a_rod_held_at_one_end_is_counted_and_its_partials_are_those_of_a_held_bar() {
    let dice = &mut dice(79);
    let rod = Struck::rod(dice);
    let table: toml::Table = (std::fs::read_to_string(root().join("outside/partials.toml")))
        .expect("the partials")
        .parse()
        .expect("TOML");
    let printed = table["printed"].as_array().expect("a list");
    assert_eq!(printed.len(), 3);
    for (partial, printed) in rod.partials.iter().zip(printed) {
        let printed = printed.as_str().expect("a figure");
        let off = (partial.0 - printed.parse::<f64>().expect("a number")).abs();
        assert!(off <= 0.000_05, "{} for {printed}", partial.0);
    }
    let mut sound = Sound::silent(40.0, 16_000.0);
    for k in 0..7 {
        sound.add(
            &rod.blow(5.0, 16_000.0, dice),
            6.0 + 1.7 * f64::from(k),
            0.1,
        );
    }
    sound.room(0.002, dice);
    let mut ear = Detector::new(16_000);
    ear.hear(&sound.x);
    let heard = ear.finish();
    assert_eq!(heard.strikes.len(), 1);
    assert_eq!(heard.strikes[0].blow_times_s.len(), 7);
    // What is heard as the pitch is one of the partials, to a quarter tone.
    let hz = heard.strikes[0].pitch_hz;
    let off = |p: &made::voices::Partial| (hz / (rod.base_hz * p.0)).log2().abs();
    let nearest = rod.partials.iter().map(off).fold(1.0, f64::min);
    assert!(nearest < 1.0 / 24.0, "{hz}");
}

#[test]
fn four_bells_are_told_in_their_order() {
    let dice = &mut dice(77);
    let bells: Vec<Struck> = [880.0, 784.0, 698.0, 523.0]
        .iter()
        .map(|hz| Struck {
            base_hz: *hz,
            ..Struck::bell(dice)
        })
        .collect();
    let mut sound = Sound::silent(30.0, 16_000.0);
    let order = [1, 2, 3, 4, 3, 1, 2, 4];
    for (k, bell) in order.iter().enumerate() {
        let blow = bells[bell - 1].blow(3.0, 16_000.0, dice);
        sound.add(&blow, 4.0 + 0.7 * k as f64 + 0.8 * (k / 4) as f64, 0.1);
    }
    sound.room(0.001, dice);
    let mut ear = Detector::new(16_000);
    ear.hear(&sound.x);
    let heard = ear.finish();
    assert_eq!(
        heard
            .chimes
            .iter()
            .map(listen::Chime::order)
            .collect::<Vec<_>>(),
        [order.to_vec()]
    );
}

#[test]
fn which_way_to_move_the_crutch_and_how_far_follow_from_the_pendulum() {
    // A pendulum of arc 3 degrees that drops at 1 degree either side, the crutch 0.1 degrees off to the left: the right drop is late.
    let (full, arc, drop, off) = (2.0_f64, 3.0_f64, 1.0_f64, 0.1_f64);
    let from_middle = |angle: f64| full / std::f64::consts::TAU * (angle / arc).asin();
    let right = from_middle(drop + off);
    let left = full / 2.0 + from_middle(drop - off);
    let times: Vec<(i64, f64)> = (0..120)
        .map(|n| {
            (
                n,
                full * (n / 2) as f64 + if n % 2 == 0 { right } else { left },
            )
        })
        .collect();
    let mut heard = Detector::new(8_000).finish();
    heard.beats = beats(&times, 0.0);
    let expected = ExpectedClock {
        left_at_s: Some(left + 10.0 * full),
        arc_deg: Some(arc),
        ..ExpectedClock::default()
    };
    let found = find(heard, &expected, Recorder::default());
    assert_eq!(found.crutch, Some(listen::SwingSide::Right));
    let most = found.crutch_deg.expect("an arc");
    assert!((0.1..0.11).contains(&most), "{most}");
}

#[test]
fn a_slow_wander_widens_the_interval() {
    let dice = &mut dice(4);
    let going = Going {
        half_s: 0.5,
        late_s: 0.004,
        jitter_s: 0.0005,
    };
    let mut times = going.times(1200.0, dice);
    let mut walk = 0.0;
    for (_, at) in &mut times {
        walk += 0.0002 * between(dice, -1.7, 1.7);
        *at += walk;
    }
    let pace = listen::pace(&beats(&times, 0.0), Recorder::default()).expect("a pace");
    assert!(pace.wander > 2.0, "{}", pace.wander);
}
