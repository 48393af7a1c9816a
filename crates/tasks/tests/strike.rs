//! The shift works on every kind: put in wrong, read, asked, put right, and the clock strikes its hours again.

use kinematics::step;
use movement::{MeshId, Movement};
use quantity::whole;
use strike::{End, Hour, PlantedFault};
use timing::Cure;

const SAMPLES: [&str; 11] = [
    "schoolroom",
    "halfpast",
    "quay",
    "parlour",
    "wharf",
    "gallery",
    "loft",
    "vestry",
    "porter",
    "cutter",
    "quarters",
];

fn sample(name: &str) -> Vec<u8> {
    let root = env!("CARGO_MANIFEST_DIR");
    std::fs::read(format!("{root}/../../movements/{name}.toml")).expect(name)
}

/// Where each witness would be seen with a mesh so many teeth wrong.
fn seen(movement: &Movement, mesh: MeshId, teeth: i64) -> Vec<String> {
    (movement.witnesses())
        .map(|(id, witness)| {
            let moved = step(movement, mesh, id).expect("no loops in the samples");
            let stands = &witness.best + &(&moved * &whole(teeth));
            format!("{}={:.6}", witness.id, stands.to_f64())
        })
        .collect()
}

/// Whether every count is struck in its turn, nothing early, all chimed. A count wheel that went back some whole places is
/// timed; which hour it strikes next is for the hands to be set to.
fn right(movement: &Movement, put_in: &[PlantedFault]) -> Result<(), String> {
    let struck = strike::strike(movement, put_in, false).expect("fit to run");
    // Halves at which nothing is let go have no place on the count wheel.
    let heard = |of: fn(&Hour) -> u32| -> Vec<u32> {
        struck.hours.iter().map(of).filter(|n| *n > 0).collect()
    };
    let (owed, got) = (heard(|hour| hour.expected), heard(|hour| hour.blows));
    let in_turn = (0..owed.len()).any(|n| [&owed[n..], &owed[..n]].concat() == got);
    let early = struck.hours.iter().any(|hour| hour.early > 0);
    let chimed = (struck.hours.iter()).all(|hour| hour.owed.is_none_or(|owed| owed == hour.notes));
    if in_turn && !early && chimed && struck.end == End::SamePlace {
        return Ok(());
    }
    Err(format!("{:?}, {got:?}", struck.end))
}

#[test]
fn a_shift_put_in_is_found_and_put_right() {
    let mut put_right = 0;
    for name in SAMPLES {
        let text = sample(name);
        let movement = tasks::check(&text).expect("good").movement;
        for (mesh, _) in movement.meshes() {
            for teeth in [-3, -2, -1, 1, 2, 3] {
                let told = format!("{name}: {} by {teeth}", movement.mesh_name(mesh));
                let saw = seen(&movement, mesh, teeth);
                let wrong = PlantedFault::Shift { mesh, teeth };
                let sheet = tasks::check(&text).expect("good");
                let from = movement.seen_from();
                let saw = tasks::written::readings(&movement, from, &saw).expect(&told);
                let answer = tasks::remesh(sheet, &saw, None).expect(&told).answer;
                let mut put_in = vec![wrong];
                match answer.cure {
                    Cure::NoneNeeded => {}
                    Cure::Shift(shifts) => {
                        put_right += 1;
                        put_in.extend(shifts.iter().map(|shift| PlantedFault::Shift {
                            mesh: shift.mesh,
                            teeth: shift.signed(),
                        }));
                    }
                    Cure::Turn(..) | Cure::NoMesh(_) | Cure::NotFound(_) => {
                        panic!("{told}: a shift of one mesh is cured by one")
                    }
                }
                if let Err(why) = right(&movement, &put_in) {
                    panic!("{told}: {why}");
                }
            }
        }
    }
    assert!(
        put_right > 150,
        "only {put_right} were out of their windows"
    );
}
