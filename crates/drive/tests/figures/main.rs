//! Published figures of springs and weights, worked by this project's own sums: each row of `outside/springs.toml` a test
//! of its own name.

#[path = "../../../workshop/tests/figures/row.rs"]
mod row;

use drive::{
    Spring, Strip, Weight, coils_down, coils_up, fallen, room, steel, stored_bound, through_a_mesh,
    turns_by_half, wound,
};
use libtest_mimic::{Arguments, Failed, Trial};
use quantity::{Known, Length, Mass, Measure, Stress};
use row::Row;
use std::f64::consts::{PI, TAU};
use std::process::ExitCode;

fn main() -> ExitCode {
    let rows = row::rows("springs.toml");
    let trials = rows.into_iter().map(|row| {
        let name = format!("springs: {}", row.name);
        Trial::test(name, move || row.check(worked(&row)).map_err(Failed::from))
    });
    libtest_mimic::run(&Arguments::from_args(), trials.collect()).exit_code()
}

fn mm(x: f64) -> Known<Length> {
    Known::sure(Length::mm(x))
}

/// A spring with room enough, for its torque alone.
fn spring(row: &Row) -> Spring {
    Spring {
        strip: Strip {
            width: mm(row.num("width")),
            thick: mm(row.num("thick")),
            long: mm(row.num("long")),
        },
        arbor: mm(12.0),
        outside: mm(120.0),
        barrel: true,
        free: None,
    }
}

/// Torque of a turn, with the row's own stiffness of steel in place of ours.
fn per_turn(row: &Row) -> f64 {
    let ours = wound(&spring(row)).expect("room").per_turn.value.as_n_mm();
    ours * row.num("gpa") / steel().value.as_gpa()
}

fn worked(row: &Row) -> f64 {
    let n = |key: &str| row.num(key);
    // Half the room between arbor and wall.
    let long = || room(n("barrel"), n("arbor")) / 2.0 / n("thick");
    match row.sum() {
        "per_turn" => per_turn(row),
        "at_turns" => per_turn(row) * n("turns"),
        "joules" => TAU * per_turn(row) * n("turns").powi(2) / 2.0 / 1000.0,
        "bound" => {
            // A cubic centimetre.
            let strip = Strip {
                width: mm(10.0),
                thick: mm(1.0),
                long: mm(100.0),
            };
            let stress = Known::sure(Stress::mpa(n("mpa")));
            stored_bound(&strip, stress).value.as_joules()
        }
        "ring_of_space" | "ring_of_barrel" => {
            // A barrel of 30 with an arbor of 10: the coils at the wall, as thick as they lie.
            let thick = 0.1;
            let long = room(30.0, 10.0) / 2.0 / thick;
            let ring = coils_down(long, thick, 30.0).expect("room") * thick;
            if row.sum() == "ring_of_space" {
                ring / 10.0
            } else {
                ring / 30.0
            }
        }
        "half_length" => long(),
        "coils_down" => coils_down(long(), n("thick"), n("barrel")).expect("room"),
        "coils_up" => coils_up(long(), n("thick"), n("arbor")),
        "turns" => {
            let closed = turns_by_half(n("barrel"), n("arbor"), n("thick"));
            let coils = coils_up(long(), n("thick"), n("arbor"))
                - coils_down(long(), n("thick"), n("barrel")).expect("room");
            assert!((closed - coils).abs() < 1e-9, "{closed} and {coils}");
            closed
        }
        "twice_as_thick" => {
            let with = |thick: f64| {
                let strip = Strip {
                    width: mm(19.0),
                    thick: mm(thick),
                    long: mm(1400.0),
                };
                let spring = Spring {
                    strip,
                    arbor: mm(12.0),
                    outside: mm(120.0),
                    barrel: true,
                    free: None,
                };
                wound(&spring).expect("room").per_turn.value.base()
            };
            with(0.8) / with(0.4)
        }
        "drum_turns" => {
            let cord = Length::inch(0.06);
            let weight = Weight {
                mass: Known::sure(Mass::lb(14.0)),
                drum: Known::sure(Length::inch(n("round_in") / PI - cord.as_inch())),
                cord: Known::sure(cord),
                pulley: row.ask["double"].as_bool().expect("yes or no"),
                fall: Some(Known::sure(Length::inch(n("fall_in")))),
            };
            fallen(&weight).turns.expect("a fall").value.as_plain()
        }
        "fall_joules" => {
            let weight = Weight {
                mass: Known::sure(Mass::lb(n("lb"))),
                drum: mm(50.0),
                cord: mm(1.5),
                pulley: false,
                fall: Some(Known::sure(Length::inch(n("fall_in")))),
            };
            fallen(&weight).energy.expect("a fall").value.as_joules()
        }
        "through" => through_a_mesh().value.as_plain().powf(n("meshes")),
        other => panic!("{}: no sum `{other}`", row.name),
    }
}
