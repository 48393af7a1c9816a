//! What every repairer knows of these machines. Common practice, no source.

use movement::Movement;
use quantity::{Degrees, fraction, whole};
use strike::{End, Hour, Jam, PlantedFault, StrikeEvent, Struck, strike};

fn sample(name: &str) -> Movement {
    let path = format!("{}/../../movements/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    sheet::read(&std::fs::read(path).expect(name))
        .expect("good")
        .movement
}

fn run(movement: &Movement, put_in: &[PlantedFault]) -> Struck {
    strike(movement, put_in, true).expect("fit to run")
}

fn blows(struck: &Struck) -> Vec<u32> {
    struck.hours.iter().map(|hour| hour.blows).collect()
}

fn track(movement: &Movement, name: &str) -> movement::TrackId {
    let works = movement.works().expect("levers");
    works.find_track(name).expect(name)
}

fn lever(movement: &Movement, name: &str) -> movement::LeverId {
    let works = movement.works().expect("levers");
    works.find_lever(name).expect(name)
}

/// A count wheel that is one hour on goes on being one hour on.
#[test]
fn a_count_wheel_does_not_correct_itself() {
    let schoolroom = sample("schoolroom");
    // Five teeth of its pinion's mesh ahead of where it belongs, less what is left of a place: three blows.
    let mesh = schoolroom
        .find_mesh("second.count_pinion>count.wheel")
        .expect("there");
    let struck = run(&schoolroom, &[PlantedFault::Shift { mesh, teeth: -2 }]);
    assert_eq!(struck.end, End::SamePlace);
    assert_eq!(struck.before, 3);
    assert_eq!(blows(&struck), [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]);
    let struck = run(&schoolroom, &[PlantedFault::Shift { mesh, teeth: 4 }]);
    let told = blows(&struck);
    assert_eq!(told, [4, 5, 6, 7, 8, 9, 10, 11, 12, 1, 2, 3]);
}

/// The same train with a rack strikes what the snail says, whatever its wheels were put to.
#[test]
fn a_rack_corrects_itself() {
    let parlour = sample("parlour");
    let mesh = parlour
        .find_mesh("great.wheel>second.pinion")
        .expect("there");
    for teeth in [-3, 1, 5] {
        let struck = run(&parlour, &[PlantedFault::Shift { mesh, teeth }]);
        assert!(
            struck.hours.iter().all(Hour::is_number_right),
            "{:?}",
            blows(&struck)
        );
    }
}

/// A chime that is out of step waits for the hour, and is in step from then on.
#[test]
fn a_chime_is_put_right_at_the_hour() {
    let quarters = sample("quarters");
    let mesh = quarters
        .find_mesh("cylinder.quarter_pinion>quarter.wheel")
        .expect("there");
    let struck = run(&quarters, &[PlantedFault::Shift { mesh, teeth: 4 }]);
    let notes: Vec<u32> = struck.hours.iter().map(|hour| hour.notes).collect();
    assert_eq!(notes[..4], [8, 12, 0, 16]);
    assert!(struck.hours[3..].iter().all(Hour::is_number_right));
}

/// The pin must meet the arm after the levers are down and before the next blow.
#[test]
fn the_pin_meets_its_arm_after_the_drop_and_before_the_next_blow() {
    for name in [
        "schoolroom",
        "halfpast",
        "quay",
        "wharf",
        "gallery",
        "vestry",
        "cutter",
    ] {
        let movement = sample(name);
        let struck = run(&movement, &[]);
        for hour in &struck.hours {
            if hour.expected == 0 {
                continue;
            }
            let lock = hour.lock.as_ref().expect("locked");
            assert!(lock.lead > Some(Degrees::zero()), "{name}");
            assert_eq!(lock.fall, Some(whole(1)), "{name}");
            for hammer in &lock.hammers {
                assert!(hammer.at_rest && hammer.until > Degrees::zero(), "{name}");
            }
        }
    }
}

/// A pin that comes to its arm a degree after the drop is caught. One that comes at the very instant is not: it passes before
/// the lever has fallen, and by the time it has come round the cam has lifted the levers again.
#[test]
fn what_comes_at_the_instant_of_the_drop_is_not_caught() {
    let schoolroom = sample("schoolroom");
    let works = schoolroom.works().expect("levers");
    let pin = works.find_pin("locking_pin").expect("there");
    let slipped = |by| {
        let by = Degrees::deg(whole(by));
        run(&schoolroom, &[PlantedFault::SlippedPin { pin, by }])
    };
    let struck = slipped(74);
    assert!(struck.hours.iter().all(Hour::is_number_right));
    let lock = struck.hours[3].lock.as_ref().expect("locked");
    assert_eq!(lock.lead, Some(Degrees::deg(whole(1))));
    for late in [75, 76] {
        assert!(matches!(slipped(late).end, End::Runaway { .. }));
    }
}

/// A worn slot gives the tip more room; one worn into the next place strikes short.
#[test]
fn worn_slots() {
    let schoolroom = sample("schoolroom");
    let worn = |by| PlantedFault::Worn {
        track: track(&schoolroom, "slots"),
        slot: Some(2),
        by: Degrees::deg(by),
    };
    let sound = run(&schoolroom, &[]);
    let loose = run(&schoolroom, &[worn(fraction(1, 2))]);
    let room = |struck: &Struck| {
        struck.hours[2].lock.as_ref().expect("locked").gaps[0]
            .short
            .clone()
    };
    assert_eq!(&room(&loose) - &room(&sound), Degrees::deg(fraction(1, 2)));
    let gone = run(&schoolroom, &[worn(whole(4))]);
    assert_ne!(blows(&gone), blows(&sound));
}

/// A wall that nothing lifts the tip over is a jam, told with where all stood.
#[test]
fn a_square_slot_and_a_short_lift_jam() {
    let text = include_str!("../../../movements/schoolroom.toml")
        .replace("ramp_deg = 0.6", "ramp_deg = 0");
    let movement = sheet::read(text.as_bytes()).expect("good").movement;
    let bend = PlantedFault::Bend {
        lever: lever(&movement, "count_lever"),
        by: Degrees::deg(whole(-2)),
    };
    let struck = run(&movement, &[bend]);
    let End::Jam(Jam::Wall {
        lever: at, hand, ..
    }) = struck.end
    else {
        panic!("{:?}", struck.end);
    };
    assert_eq!((at, hand), (lever(&movement, "count_lever"), false));
    assert_eq!(blows(&struck), [1, 0]);
    let last = struck.events.last().expect("events");
    assert!(matches!(last.seen, StrikeEvent::Jams(_)));
    assert_eq!(last.pose.hours, whole(2));
}

/// Half a fall: the tip lies on the edge of its slot, and the arm does not come down far enough.
#[test]
fn a_tip_on_the_edge_falls_half() {
    let schoolroom = sample("schoolroom");
    let mesh = schoolroom
        .find_mesh("second.wheel>third.pinion")
        .expect("there");
    let half = (2..=3).any(|teeth| {
        let struck = run(&schoolroom, &[PlantedFault::Shift { mesh, teeth }]);
        struck.events.iter().any(|event| {
            matches!(&event.seen, StrikeEvent::Falls { from, to, deepest, .. } if to < from && to > deepest)
        })
    });
    assert!(half);
}
