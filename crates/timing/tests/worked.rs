//! The worked answers of the contract (`docs/contract`), to the last figure it prints.

use movement::{Movement, Plate, Turning};
use timing::{Answer, Cure, Hands, SaidReading, ShiftWay, answer, parse, read};

fn sheet(name: &str) -> Movement {
    let path = format!("{}/../../movements/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read(path).expect("sample sheet");
    sheet::read(&text).expect("good sheet").movement
}

fn ask(movement: &Movement, saw: &str) -> Answer {
    let readings: Vec<_> = saw
        .split(' ')
        .map(|saw| {
            let (id, said): (_, SaidReading) =
                parse(movement, movement.seen_from(), saw).expect(saw);
            read(movement, id, &said).expect(saw)
        })
        .collect();
    answer(movement, &readings, Hands::default())
}

/// The shifts as `lift teeth way mesh`, then every place after, to three decimals.
fn told(movement: &Movement, answer: &Answer, from: Plate) -> String {
    let mut told: Vec<String> = match &answer.cure {
        Cure::NoneNeeded => vec!["none needed".into()],
        Cure::Turn(..) => vec!["turn".into()],
        Cure::NoMesh(_) => vec!["no mesh".into()],
        Cure::NotFound(_) => vec!["not found".into()],
        Cure::Shift(shifts) => shifts
            .iter()
            .map(|shift| {
                let far = movement
                    .far_arbor(shift.mesh)
                    .expect("a mesh that can be shifted");
                let runs = movement.runs(far, from);
                let way = match (shift.way, runs) {
                    (ShiftWay::Either, _) => "either",
                    (ShiftWay::Ahead, Turning::Clockwise)
                    | (ShiftWay::Back, Turning::Counterclockwise) => "clockwise",
                    _ => "counterclockwise",
                };
                let lift = &movement.arbor(far).id;
                format!(
                    "{lift} {} {way} {}",
                    shift.teeth,
                    movement.mesh_name(shift.mesh)
                )
            })
            .collect(),
    };
    for standing in &answer.after.witnesses {
        let id = &movement.witness(standing.witness).id;
        told.push(format!("{id}={:.3}", standing.stands.to_f64()));
    }
    told.join("; ")
}

#[test]
fn schoolroom() {
    let movement = sheet("schoolroom");
    let second = "second 2 counterclockwise second.wheel>third.pinion; slot=-0.046; star=0.000";
    for (saw, expected) in [
        (
            "slot=-0.3 star=-2 pin=-75",
            "none needed; slot=-0.300; star=-2.000; pin=-75.000".to_owned(),
        ),
        (
            "slot=-1.2 star=-10 pin=-75",
            format!("{second}; pin=-75.000"),
        ),
        (
            "slot=-1.2 star=-10 pin=-30",
            "second 2 counterclockwise second.wheel>third.pinion; fourth 1 clockwise \
             third.wheel>fourth.pinion; slot=-0.046; star=0.000; pin=-81.429"
                .to_owned(),
        ),
        (
            "slot=2.31 star=0 pin=-75",
            "count 1 either second.count_pinion>count.wheel; slot=0.002; star=0.000; pin=-75.000"
                .to_owned(),
        ),
        (
            "slot=1.15 star=0 pin=-75",
            "second 1 clockwise second.wheel>third.pinion; slot=0.573; star=-5.000; pin=-75.000"
                .to_owned(),
        ),
        (
            "star=-10",
            "second 2 counterclockwise second.wheel>third.pinion; star=0.000".to_owned(),
        ),
    ] {
        let answer = ask(&movement, saw);
        assert_eq!(told(&movement, &answer, Plate::Back), expected, "{saw}");
    }
    let answer = ask(&movement, "slot=-1.2 star=-10 pin=-75");
    assert!(told(&movement, &answer, Plate::Front).starts_with("second 2 clockwise"));
    assert!(
        (answer.now.in_window.get() - 0.000_048_6).abs() < 5e-8,
        "{:?}",
        answer.now.in_window
    );
    assert!((answer.now.witnesses[0].in_window.get() - 0.0228).abs() < 5e-5);
    assert!(answer.sound);
    assert!(
        !ask(&movement, "slot=1.15 star=0 pin=-75").sound,
        "a makeshift"
    );
    assert_eq!(ask(&movement, "star=-10").unread.len(), 2);
}

#[test]
fn quay() {
    let movement = sheet("quay");
    for (saw, expected) in [
        (
            "slot=-0.8 lifts=-9.5 stop=-180 vane=10",
            "lifting 2 counterclockwise lifting.wheel>locking.pinion; slot=0.000; lifts=-0.500; stop=-180.000; vane=10.000",
        ),
        (
            "slot=1.4 lifts=0 stop=-180 vane=0",
            "barrel 1 counterclockwise barrel.ring>lifting.pinion; slot=0.067; lifts=0.000; stop=-180.000; vane=0.000",
        ),
        (
            "slot=0 lifts=0 stop=-60 vane=0",
            "warning 2 clockwise locking.wheel>warning.pinion; slot=0.000; lifts=0.000; stop=-180.000; vane=0.000",
        ),
        (
            "slot=0 lifts=0 stop=-180 vane=80",
            "fly 2 either warning.wheel>fly.pinion; slot=0.000; lifts=0.000; stop=-180.000; vane=-10.000",
        ),
    ] {
        let answer = ask(&movement, saw);
        assert_eq!(told(&movement, &answer, Plate::Front), expected, "{saw}");
        assert!(answer.sound, "{saw}");
    }
}

#[test]
fn lattice() {
    let movement = sheet("lattice");
    for (saw, expected) in [
        (
            "stop=-103",
            "two 7 counterclockwise one.wheel>two.pinion; stop=2.000",
        ),
        ("stop=5", "none needed; stop=5.000"),
        ("stop=5.5", "no mesh; stop=5.500"),
    ] {
        assert_eq!(
            told(&movement, &ask(&movement, saw), Plate::Back),
            expected,
            "{saw}"
        );
    }
}
