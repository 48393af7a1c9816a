//! Torque down a train, held against the work it does.

use drive::{PowerFault, at_blow, down_the_train, on_sheet, runs};
use quantity::{Known, Number, Torque, to_f64};

const MANTEL: &str = include_str!("../../../movements/mantel.toml");

fn mantel() -> movement::Movement {
    sheet::read(MANTEL.as_bytes()).expect("good").movement
}

/// If nothing is lost, each arbor does the work of the first: torque times turns.
#[test]
fn nothing_is_gained_on_the_way() {
    let movement = mantel();
    let great = movement.find_arbor("going_great").expect("there");
    let torque = Known::new(Torque::n_mm(450.0), Torque::n_mm(45.0));
    let train = down_the_train(&movement, great, torque);
    let names: Vec<&str> = (train.iter())
        .map(|at| movement.arbor(at.arbor).id.as_str())
        .collect();
    assert_eq!(
        names,
        [
            "going_great",
            "intermediate",
            "centre",
            "going_third",
            "escape"
        ]
    );
    for at in &train {
        let turns = to_f64(&kinematics::speed(&movement, at.arbor, great).expect("one train"));
        let work = at.lossless.value.as_n_mm() * turns;
        assert!((work / 450.0 - 1.0).abs() < 1e-12, "{work}");
        let part = at.lossless.spread.as_n_mm() / at.lossless.value.as_n_mm();
        assert!((part - 0.1).abs() < 1e-9, "{part}");
        let left = at.likely.value.as_n_mm() / at.lossless.value.as_n_mm();
        assert!(
            (left - 0.8_f64.powi(at.meshes.into())).abs() < 1e-12,
            "{left}"
        );
    }
    // 80/12 · 60/10 · 84/7 · 78/7 turns of the escape wheel in one of the great wheel.
    let last = train
        .last()
        .expect("an escape wheel")
        .lossless
        .value
        .as_n_mm();
    assert!(
        (450.0 / last - 80.0 / 12.0 * 6.0 * 12.0 * 78.0 / 7.0).abs() < 1e-9,
        "{last}"
    );
}

#[test]
fn a_blow_takes_a_ninth_of_a_turn() {
    let movement = mantel();
    let great = movement.find_arbor("strike_great").expect("there");
    let train = down_the_train(&movement, great, Known::sure(Torque::n_mm(900.0)));
    let blow = at_blow(&movement, &train).expect("a strike");
    assert_eq!(movement.arbor(blow.arbor).id, "second");
    // 900 N mm over 9, less a fifth, through a ninth of a turn.
    let joules = 0.8 * 100.0 * std::f64::consts::TAU / 9.0 / 1000.0;
    assert!((blow.energy.value.as_joules() - joules).abs() < 1e-12);
}

#[test]
fn a_winding_lasts_as_long_as_its_turns() {
    let movement = mantel();
    let turns = |n: f64| Known::new(Number::plain(n), Number::plain(0.1 * n));
    let great = movement.find_arbor("going_great").expect("there");
    // The centre arbor turns forty times in one of the great wheel.
    let run = runs(&movement, great, turns(5.0)).expect("it tells time");
    assert!((run.time.value.as_hours() - 200.0).abs() < 1e-9);
    assert!((run.time.spread.as_hours() - 20.0).abs() < 1e-9);
    assert!(run.blows.is_none());
    let strike = movement.find_arbor("strike_great").expect("there");
    let run = runs(&movement, strike, turns(14.0)).expect("it strikes");
    // 81 blows a turn, 156 a day.
    assert!((run.blows.expect("blows").value.as_plain() - 14.0 * 81.0).abs() < 1e-9);
    assert!((run.time.value.as_days() - 14.0 * 81.0 / 156.0).abs() < 1e-9);
}

#[test]
fn what_is_missing_is_told_by_its_key() {
    let spoiled = MANTEL
        .replace("spring_arbor_mm = 13.3\n", "")
        .replace("spring_thick_mm = 0.40\n", "");
    let movement = sheet::read(spoiled.as_bytes()).expect("good").movement;
    let missing = PowerFault::Missing {
        arbor: "going_great".to_owned(),
        keys: vec!["spring_thick_mm", "spring_arbor_mm"],
    };
    assert_eq!(on_sheet(&movement), Err(missing));
}
