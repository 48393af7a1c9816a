//! Twelve meshes and twelve witnesses: the work is bounded, and what is said is true when wheels are turned by hand.
//!
//! How long that is on a machine is measured by `cargo bench -p fleet --bench large`.

use fleet::{Wheels, arbitrary, dice, large, read_in_part};
use rand::RngExt;
use timing::{Cure, Hands, MOST_WORK, answer, parse, read};

/// Seeds of sheets; one more whose numbers grow beyond 128 bits on the way.
fn seeds() -> impl Iterator<Item = u64> {
    (0..20).chain([83])
}

#[test]
fn the_work_is_bounded_and_what_is_said_is_true() {
    let (mut shifted, mut whole) = (0, 0);
    for seed in seeds() {
        let mut dice = dice(seed);
        let sheet = large(12, &mut dice).sheet();
        let movement = sheet::read(sheet.as_bytes())
            .expect("a good sheet")
            .movement;
        let part = if dice.random_bool(0.6) { 1.0 } else { 0.5 };
        // As in the benchmark; at last readings that nobody thought about.
        let saw = match [1, 2, 3, 6, 12, 40, 0][dice.random_range(0..7)] {
            0 => arbitrary(&movement, &mut dice),
            meshes => read_in_part(&movement, meshes, part, &mut dice),
        };
        let readings: Vec<_> = (saw.iter())
            .map(|(id, at)| {
                let (id, said) = parse(&movement, movement.seen_from(), &format!("{id}={at}"))
                    .expect("a decimal");
                read(&movement, id, &said).expect("a reading that can be used")
            })
            .collect();
        let answer = answer(&movement, &readings, Hands::default());
        assert!(answer.work <= MOST_WORK, "seed {seed}: {}", answer.work);
        assert_eq!(answer.cut_short, !answer.untried.is_nothing());
        whole += usize::from(!answer.cut_short);
        let (shifts, after, cured) = match &answer.cure {
            Cure::NoneNeeded => continue,
            Cure::Shift(shifts) => (shifts, &answer.after, true),
            Cure::Turn(..) => panic!("seed {seed}: nothing on it can be turned"),
            Cure::NoMesh(nearest) | Cure::NotFound(nearest) => {
                (&nearest.shifts, &nearest.after, false)
            }
        };
        let mut wheels = Wheels::of(&movement);
        for shift in shifts {
            wheels.shift(shift.mesh, shift.signed());
        }
        let mut all_in = true;
        for (reading, standing) in readings.iter().zip(&after.witnesses) {
            let witness = movement.witness(reading.witness);
            let place = &reading.stands + &wheels.ahead(reading.witness);
            all_in &= witness.admits(&place);
            let alike = quantity::nearest_alike(&place, &witness.period(), &witness.best);
            assert_eq!(alike, standing.stands, "seed {seed}: {}", witness.id);
        }
        assert_eq!(all_in, cured, "seed {seed}");
        shifted += usize::from(cured);
    }
    println!("{shifted} cured, {whole} gone through to the end");
    assert!(shifted > 10 && whole > 10);
}
