//! The seven points of a good place, bends, and blows of several voices. Common practice, no source.

mod samples;

use movement::Movement;
use quantity::{Degrees, Exact, fraction, whole};
use samples::{SAMPLES, read, text};
use strike::{End, FailedPoint, PlantedFault, Struck, judged, points, strike};

fn sample(name: &str) -> Movement {
    read(&text(name))
}

fn run(movement: &Movement, put_in: &[PlantedFault]) -> Struck {
    strike(movement, put_in, true).expect("fit to run")
}

fn deg(by: i64) -> Degrees {
    Degrees::deg(whole(by))
}

fn bent(movement: &Movement, lever: &str, by: i64) -> Struck {
    let works = movement.works().expect("levers");
    let lever = works.find_lever(lever).expect(lever);
    run(movement, &[PlantedFault::Bend { lever, by: deg(by) }])
}

fn pin_slipped(movement: &Movement, pin: &str, by: Degrees) -> Struck {
    let works = movement.works().expect("levers");
    let pin = works.find_pin(pin).expect(pin);
    run(movement, &[PlantedFault::SlippedPin { pin, by }])
}

/// The numbers of the points that do not hold at an hour.
fn broken(struck: &Struck, hour: usize) -> Vec<u8> {
    let mut numbers: Vec<u8> = points(&struck.hours[hour])
        .iter()
        .map(FailedPoint::number)
        .collect();
    numbers.dedup();
    numbers
}

/// The highest that a lever arbor comes, and how high it stands as the last lock is over.
fn highest(movement: &Movement, struck: &Struck, arbor: &str) -> Exact {
    let works = movement.works().expect("levers");
    let (id, _) = works
        .lever_arbors()
        .find(|(_, name)| *name == arbor)
        .expect(arbor);
    let heights = struck
        .motion
        .iter()
        .map(|pose| pose.levers[id.index()].exact().clone());
    heights.max().expect("it moves")
}

#[test]
fn every_sample_is_good_at_every_hour() {
    for name in SAMPLES {
        let struck = run(&sample(name), &[]);
        for hour in &struck.hours {
            assert_eq!(points(hour), [], "{name} at {}", hour.minutes);
        }
        assert!(struck.is_right(), "{name}");
    }
    let judged_at = |name: &str, hour: usize| judged(&run(&sample(name), &[]).hours[hour]);
    assert_eq!(judged_at("schoolroom", 3), [1, 2, 3, 4, 5, 6]);
    // A wall locks it: there is no locking arm.
    assert_eq!(judged_at("loft", 3), [1, 2, 3, 4, 5]);
    // The pallet's own tail locks it: no lever has to be in time.
    assert_eq!(judged_at("parlour", 3), [1, 2, 3, 4, 6, 7]);
    // Nothing runs at half past twelve.
    assert_eq!(judged_at("wharf", 0), [1]);
}

/// A warning pin may stand from a quarter to three quarters of a turn from its arm, and no farther.
#[test]
fn a_warning_is_good_to_the_ends_of_its_window() {
    for (name, pin, witness) in [
        ("parlour", "warning_pin", "pin"),
        ("quarters", "warning_pin", "pin"),
        ("loft", "warning_pin", "stop"),
    ] {
        let movement = sample(name);
        let witness = movement.find_witness(witness).expect("there");
        let witness = movement.witness(witness);
        for (end, beyond) in [(&witness.from, -1), (&witness.to, 1)] {
            let by = end - &witness.best;
            assert!(pin_slipped(&movement, pin, by.clone()).is_right(), "{name}");
            let beyond = pin_slipped(&movement, pin, &by + &deg(beyond));
            assert_eq!(broken(&beyond, beyond.hours.len() - 1), [4], "{name}");
        }
    }
}

/// A tip bent up off its track has to sink farther, and its arbor stands lower; bent down higher.
#[test]
fn a_lever_that_feels_stands_lower_bent_up() {
    let schoolroom = sample("schoolroom");
    let sound = run(&schoolroom, &[]);
    // The lifting lever alone holds its arbor; the wire of it holds the levers highest.
    for (lever, arbor, by) in [
        ("lifting_lever", "lifting", 3),
        ("lifting_lever", "levers", 3),
    ] {
        let was = highest(&schoolroom, &sound, arbor);
        let up = highest(&schoolroom, &bent(&schoolroom, lever, by), arbor);
        let down = highest(&schoolroom, &bent(&schoolroom, lever, -by), arbor);
        assert_eq!((&was - up, down - was), (whole(by), whole(by)), "{arbor}");
    }
    // With the count lever in a deep slot the drop lever alone keeps the locking arm out: bent up by five it does not.
    let struck = bent(&schoolroom, "drop_lever", 5);
    assert!(!struck.is_right());
    let below = |struck: &Struck| {
        let falls = struck.events.iter().filter_map(|event| match &event.seen {
            strike::StrikeEvent::Locked { .. } => Some(event.pose.levers[0].clone()),
            _ => None,
        });
        falls.max().expect("it locks")
    };
    assert_eq!(below(&sound), deg(0));
    assert!(below(&struck) > deg(3));
    // Bent down by five they keep it out for good.
    let struck = bent(&schoolroom, "drop_lever", -5);
    assert!(matches!(struck.end, End::Runaway { .. }));
    assert!(!struck.came_to_rest && struck.hours.is_empty());
}

/// A locking arm bent up is out of the path at a lower height of its arbor.
#[test]
fn an_arm_that_stops_stands_higher_bent_up() {
    let schoolroom = sample("schoolroom");
    assert!(bent(&schoolroom, "locking_arm", 1).is_right());
    // It lets go before the warning arm is there.
    let struck = bent(&schoolroom, "locking_arm", 2);
    assert!(matches!(struck.end, End::Runaway { .. }));
    assert!(struck.came_to_rest && !struck.is_whole());
    assert_eq!(unwarned(&struck), Some(deg(1)));
}

/// A hammer's tail bent up is lifted less and at last not at all; bent down it touches the next pin where it should lie at rest.
#[test]
fn a_hammers_tail_bent() {
    let schoolroom = sample("schoolroom");
    let up = bent(&schoolroom, "hammer", 12);
    assert_eq!(highest(&schoolroom, &up, "hammer"), whole(8));
    assert!(up.is_right());
    let off = bent(&schoolroom, "hammer", 20);
    assert_eq!((off.total(), &off.end), (0, &End::SamePlace));
    let down = bent(&schoolroom, "hammer", -20);
    assert_eq!(down.total(), 78);
    assert!(
        broken(&down, 3).contains(&2),
        "{:?}",
        points(&down.hours[3])
    );
}

/// The rack's tail bent up lets the rack fall farther, and it strikes more.
#[test]
fn a_racks_tail_bent() {
    let parlour = sample("parlour");
    let struck = |by| run(&parlour, &[PlantedFault::BentTail { by: deg(by) }]);
    // Fifteen of fourteen teeth.
    assert!(matches!(struck(6).end, End::Jam(_)));
    assert_eq!(struck(2).total(), 78 + 12);
    assert_eq!(struck(-2).total(), 78 - 12);
}

/// The rack's hook bent up has to be lifted farther before the rack is free.
#[test]
fn a_racks_hook_bent() {
    let parlour = sample("parlour");
    assert!(bent(&parlour, "rack_hook", 2).is_right());
    // On its teeth the hook then stands higher than the height from which the rack is free.
    assert!(!bent(&parlour, "rack_hook", -3).is_right());
}

#[test]
fn a_hammer_held_up_is_not_good() {
    let schoolroom = sample("schoolroom");
    let works = schoolroom.works().expect("levers");
    let track = works.find_track("pins").expect("there");
    // The pins turned back: the last does not let the hammer go before the train locks.
    let struck = run(
        &schoolroom,
        &[PlantedFault::SlippedTrack {
            track,
            by: deg(-26),
        }],
    );
    assert_eq!(struck.total(), 78);
    assert_eq!(struck.end, End::SamePlace);
    assert!(broken(&struck, 3).contains(&2) && !struck.is_right());
    // Turned on: it begins to lift in the warning run.
    let struck = run(
        &schoolroom,
        &[PlantedFault::SlippedTrack { track, by: deg(8) }],
    );
    assert_eq!(broken(&struck, 3), [3]);
}

#[test]
fn a_warning_of_a_hair_is_not_good() {
    let parlour = sample("parlour");
    let struck = pin_slipped(&parlour, "warning_pin", deg(178));
    assert_eq!(struck.total(), 78);
    let Some(FailedPoint::WarningRun { turns, .. }) = points(&struck.hours[0]).pop() else {
        panic!("{:?}", points(&struck.hours[0]));
    };
    assert_eq!(turns, fraction(1, 180));
    assert!(!struck.is_right());
}

/// A pin a degree after the drop is caught at leisure only: no lever falls in so little.
#[test]
fn a_pin_that_comes_at_once_is_not_good() {
    let schoolroom = sample("schoolroom");
    assert!(pin_slipped(&schoolroom, "locking_pin", deg(30)).is_right());
    assert_eq!(
        broken(&pin_slipped(&schoolroom, "locking_pin", deg(31)), 3),
        [5]
    );
}

/// The warning arm too low as the train is let go: it goes off at once.
#[test]
fn an_arm_that_is_not_in_time_does_not_warn() {
    let struck = bent(&sample("schoolroom"), "warning_arm", -2);
    assert_eq!(unwarned(&struck), Some(deg(1)));
}

/// How much too low the warning arm stood as the first hour was let go.
fn unwarned(struck: &Struck) -> Option<Degrees> {
    (points(&struck.hours[0]).into_iter()).find_map(|point| match point {
        FailedPoint::Unwarned { short, .. } => Some(short),
        _ => None,
    })
}

/// A pallet that is in the rack's teeth at rest.
#[test]
fn a_pallet_parked_in_the_rack_is_not_good() {
    let struck = pin_slipped(&sample("parlour"), "pallet", deg(-120));
    assert!(
        broken(&struck, 3).contains(&7),
        "{:?}",
        points(&struck.hours[3])
    );
}

/// Two wheels two teeth wrong: the lever comes down but once in a turn of the count wheel, and seventy-eight are struck at
/// every hour. That it then stands as it began is no comfort.
#[test]
fn a_whole_round_at_every_hour_is_not_right() {
    let schoolroom = sample("schoolroom");
    let mesh = schoolroom
        .find_mesh("second.wheel>third.pinion")
        .expect("there");
    let struck = run(&schoolroom, &[PlantedFault::Shift { mesh, teeth: -2 }]);
    assert_eq!((struck.total(), &struck.end), (936, &End::SamePlace));
    assert!(!struck.is_right());
}

/// Two hammers that one track lets go, or that two like tracks let go in turn, strike one blow of two voices.
#[test]
fn a_blow_may_have_two_voices() {
    let second = "[[lever]]\nid = \"other\"\non = \"other\"\nfeels = \"TRACK\"\nlift_deg = 20\nstrikes = \"the other bell\"\n";
    let later =
        "[[track]]\nid = \"later\"\non = \"second\"\npins = 9\nfirst_deg = 31\nrise_deg = 15\n";
    for (track, more) in [("pins", ""), ("later", later)] {
        let text = text("schoolroom") + "\n" + more + &second.replace("TRACK", track);
        let struck = run(&read(&text), &[]);
        assert_eq!(struck.total(), 78, "{track}");
        let voices: u32 = struck.hours.iter().map(|hour| hour.voices).sum();
        assert_eq!(voices, 156, "{track}");
    }
    // With a pin of the first missing, the other voice still tells the blow.
    let text = text("schoolroom") + "\n" + later + &second.replace("TRACK", "later");
    let movement = read(&text);
    let track = movement
        .works()
        .expect("levers")
        .find_track("pins")
        .expect("there");
    let struck = run(&movement, &[PlantedFault::MissingLobe { track, lobe: 3 }]);
    assert_eq!(struck.total(), 78);
    // Two tracks that share the blows between them are no voices of one blow.
    let halves = text_of_halves();
    assert_eq!(run(&read(&halves), &[]).total(), 78 - 78 / 9);
}

/// The nine pins told as two tracks, of five and of three, one left out.
fn text_of_halves() -> String {
    let pins = "pins = 9\nfirst_deg = 25                  # the first lets the hammer go so far on\nrise_deg = 15";
    let whole = text("schoolroom");
    assert!(whole.contains(pins));
    let odd = "places_deg = [25, 105, 185, 265, 345]\nrise_deg = 15";
    let even =
        "[[track]]\nid = \"even\"\non = \"second\"\nplaces_deg = [65, 145, 225]\nrise_deg = 15\n";
    let hammer = "[[lever]]\nid = \"other\"\non = \"hammer\"\nfeels = \"even\"\nlift_deg = 20\nstrikes = \"the bell\"\n";
    whole.replace(pins, odd) + "\n" + even + hammer
}
