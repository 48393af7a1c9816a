//! A lesson is put wrong so that it shows, and is put right by what the tool would say of it.

use entries::{AtMesh, EntryKind, Log, LogHeader};
use movement::Movement;
use tasks::{lesson, mistime};
use timing::{Cure, Hands, SaidReading, answer, read};

const SHEETS: [&str; 4] = ["schoolroom", "quay", "halfpast", "parlour"];

fn movement(name: &str) -> Movement {
    let path = format!("{}/../../movements/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    tasks::check(&std::fs::read(path).expect("a sample"))
        .expect("it checks")
        .movement
}

fn log() -> Log {
    Log::start(LogHeader {
        sheet: "a lesson".to_owned(),
        hash: "5f0c".to_owned(),
    })
}

#[test]
fn what_the_tool_says_puts_it_right_in_one_opening_and_the_wrong_way_does_not() {
    for name in SHEETS {
        let movement = movement(name);
        for seed in 0..25 {
            for wheels in [1, 2] {
                let Some(hidden) = mistime(&movement, wheels, seed) else {
                    assert_eq!((name, wheels), ("parlour", 2), "{seed}");
                    continue;
                };
                assert_eq!(hidden, mistime(&movement, wheels, seed).expect("again"));
                let mut log = log();
                let begun = lesson(&movement, &hidden, log.standing());
                assert!(
                    !begun.right && begun.openings == 0,
                    "{name} {seed}: it shows"
                );
                let readings: Vec<_> = (begun.stands.iter())
                    .map(|(id, place)| {
                        read(&movement, *id, &SaidReading::Degrees(place.clone(), None))
                            .expect("read")
                    })
                    .collect();
                let Cure::Shift(shifts) = answer(&movement, &readings, Hands::default()).cure
                else {
                    panic!("{name} {seed}: it can be put right")
                };
                let at = |sign: i64| -> Vec<AtMesh> {
                    (shifts.iter())
                        .map(|shift| AtMesh {
                            mesh: movement.mesh_name(shift.mesh),
                            teeth: i32::try_from(sign * shift.signed()).expect("few"),
                        })
                        .collect()
                };
                let mut wrong = log.clone();
                wrong
                    .append(&EntryKind::Shift(at(-1)), None)
                    .expect("entered");
                let went = lesson(&movement, &hidden, wrong.standing());
                log.append(&EntryKind::Shift(at(1)), None).expect("entered");
                let done = lesson(&movement, &hidden, log.standing());
                assert!(done.right, "{name} {seed}");
                let outside = shifts
                    .iter()
                    .all(|s| movement.mesh(s.mesh).reached == movement::Reached::Outside);
                assert_eq!(done.openings, usize::from(!outside));
                // The other way round is the same only where both come to the same places.
                let either = shifts.iter().all(|s| s.way == timing::ShiftWay::Either);
                assert!(either || went.stands != done.stands, "{name} {seed}");
            }
        }
    }
}

#[test]
fn a_movement_without_witnesses_gives_no_lesson() {
    let text = include_str!("../../../movements/schoolroom.toml");
    let without = &text[..text.find("[[witness]]").expect("witnesses")];
    let movement = tasks::check(without.as_bytes())
        .expect("it checks")
        .movement;
    assert_eq!(mistime(&movement, 1, 7), None);
    assert_eq!(mistime(&movement, 0, 7), None);
}
