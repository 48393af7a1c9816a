//! An answer is done with wheels turned by hand, and everything then stands where the answer says.

use fleet::{Taste, Wheels, arbitrary, dice, grow, mismeshed};
use quantity::{Degrees, nearest_alike};
use rand::RngExt;
use timing::{Answer, Cure, Hands, Reading, Shift, Stands, answer, parse, read};

/// Movements answered.
const MOVEMENTS: usize = 3000;

#[test]
fn everything_stands_where_the_answer_says() {
    let mut dice = dice(4);
    let (mut shifted, mut nearest) = (0, 0);
    for _ in 0..MOVEMENTS {
        let taste = if dice.random_bool(0.6) {
            Taste::realistic()
        } else {
            Taste::wild()
        };
        let taste = Taste { hold: 0.0, ..taste };
        let text = grow(&taste, &mut dice).sheet();
        let movement = sheet::read(text.as_bytes())
            .expect("a sheet as grown is good")
            .movement;
        let saw = if dice.random_bool(0.8) {
            let meshes = dice.random_range(1..=3);
            mismeshed(&movement, meshes, &mut dice)
        } else {
            arbitrary(&movement, &mut dice)
        };
        let readings: Vec<Reading> = (saw.iter())
            .filter_map(|(id, said)| {
                let said = format!("{id}={said}");
                let (id, said) = parse(&movement, movement.seen_from(), &said).expect("a decimal");
                read(&movement, id, &said).ok()
            })
            .collect();
        if readings.is_empty() {
            continue;
        }
        let Answer { cure, after, .. } = answer(&movement, &readings, Hands::default());
        let (shifts, after): (Vec<Shift>, Stands) = match cure {
            Cure::NoneNeeded => continue,
            Cure::Shift(shifts) => {
                shifted += 1;
                (shifts, after)
            }
            Cure::Turn(..) => panic!("nothing on it can be turned"),
            Cure::NoMesh(found) | Cure::NotFound(found) => {
                nearest += usize::from(!found.shifts.is_empty());
                (found.shifts, found.after)
            }
        };
        let mut wheels = Wheels::of(&movement);
        for shift in &shifts {
            wheels.shift(shift.mesh, shift.signed());
        }
        for (reading, standing) in readings.iter().zip(&after.witnesses) {
            assert_eq!(reading.witness, standing.witness);
            let witness = movement.witness(reading.witness);
            let place: Degrees = &reading.stands + &wheels.ahead(reading.witness);
            let alike = nearest_alike(&place, &witness.period(), &witness.best);
            assert_eq!(
                alike, standing.stands,
                "{} after {shifts:?}\n{saw:?}\n{text}",
                witness.id
            );
        }
    }
    println!("{shifted} shifts and {nearest} nearest misses of {MOVEMENTS} movements done by hand");
    assert!(shifted > MOVEMENTS / 4 && nearest > MOVEMENTS / 50);
}

#[test]
fn one_tooth_does_what_is_said_of_it() {
    let mut dice = dice(5);
    let mut moved = 0;
    for _ in 0..500 {
        let text = grow(&Taste::wild(), &mut dice).sheet();
        let movement = sheet::read(text.as_bytes())
            .expect("a sheet as grown is good")
            .movement;
        for (mesh, _) in movement.meshes() {
            let mut wheels = Wheels::of(&movement);
            if wheels.far_side(mesh).is_none() {
                continue;
            }
            wheels.shift(mesh, 1);
            for (witness, _) in movement.witnesses() {
                let step = kinematics::step(&movement, mesh, witness);
                assert_eq!(step.as_ref(), Some(&wheels.ahead(witness)), "{text}");
                moved += usize::from(!wheels.ahead(witness).is_zero());
            }
        }
    }
    assert!(moved > 1000, "{moved} were moved");
}
