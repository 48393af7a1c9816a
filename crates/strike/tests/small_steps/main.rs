//! Made-up movements against a simulation by small steps of time: the same counts hour by hour, or the same jam.

mod plan;
mod slow;

use movement::Movement;
use plan::{Counted, Plan, blows_at_halves};
use quantity::{Degrees, fraction};
use rand::SeedableRng;
use slow::{Outcome, Slow, slow};
use std::collections::BTreeMap;
use strike::{End, Jam, PlantedFault, strike};

/// How many movements are tried.
const MOVEMENTS: usize = 2000;

/// What the plan has wrong that is no part of its sheet.
fn put_in(plan: &Plan, movement: &Movement) -> Vec<PlantedFault> {
    let works = movement.works().expect("levers");
    let mil = |mil: i64| Degrees::deg(fraction(mil, 1000));
    let mut put_in = Vec::new();
    let levers = ["count_lever", "drop_lever", "wire"];
    for (lever, by) in levers.iter().zip(plan.bends) {
        if let Some(lever) = works.find_lever(lever) {
            let by = mil(by);
            put_in.push(PlantedFault::Bend { lever, by });
        }
    }
    if let Some(pin) = plan.missing {
        put_in.push(PlantedFault::MissingLobe {
            track: works.find_track("lifters").expect("there"),
            lobe: usize::try_from(pin).expect("few"),
        });
    }
    if let Counted::Wheel(wheel) = &plan.counted {
        put_in.push(PlantedFault::Shift {
            mesh: movement
                .find_mesh("second.count_pinion>count.wheel")
                .expect("there"),
            teeth: wheel.shift,
        });
        put_in.push(PlantedFault::SlippedTrack {
            track: works.find_track("cam").expect("there"),
            by: mil(plan.cam_slip),
        });
    }
    put_in
}

/// The exact run, told as the slow one is.
fn exact(plan: &Plan) -> Slow {
    let sheet = sheet::read(plan.sheet().as_bytes());
    let sheet = sheet.unwrap_or_else(|faults| panic!("{faults:#?}\n{}", plan.sheet()));
    let movement = sheet.movement;
    let run = strike(&movement, &put_in(plan, &movement), false).expect("fit to run");
    let mut struck: Vec<u32> = run.hours.iter().map(|hour| hour.blows).collect();
    struck.resize(if blows_at_halves(plan) { 24 } else { 12 }, 0);
    let name = |lever| movement.works().expect("levers").lever(lever).id.clone();
    let outcome = match run.end {
        End::SamePlace | End::AnotherPlace => Outcome::Through,
        End::Runaway { .. } => Outcome::Runaway,
        End::Jam(Jam::Wall { lever, .. }) => match name(lever).as_str() {
            "count_lever" => Outcome::Jam("count_lever"),
            "drop_lever" => Outcome::Jam("drop_lever"),
            other => panic!("{other} feels no wall"),
        },
        End::Jam(Jam::Snail { .. }) => Outcome::Jam("snail"),
        End::Jam(Jam::PastRack) => Outcome::Jam("rack"),
        End::Jam(Jam::HandHeld { .. }) => panic!("no pin on the hand"),
        End::LeftOff => panic!("a small run is not left off"),
    };
    Slow {
        before: run.before,
        struck,
        outcome,
    }
}

/// What is compared: of a train that never stops only that it does not, since where it is given up is no fact of the clock.
fn comparable(mut slow: Slow) -> Slow {
    if slow.outcome == Outcome::Runaway {
        slow.before = 0;
        let last = slow.struck.iter().rposition(|n| *n > 0);
        if let Some(last) = last {
            slow.struck[last] = 0;
        }
    }
    slow
}

/// Tries some movements; how each kind of outcome came up, and how many wanted finer steps.
fn try_all(plans: &[Plan]) -> (BTreeMap<String, usize>, usize) {
    let mut kinds = BTreeMap::new();
    let mut finer = 0;
    for plan in plans {
        let exact = comparable(exact(plan));
        // What is nearer than a step needs smaller ones.
        let mut tried = Vec::new();
        let agrees = [2.0, 0.25, 1.0 / 32.0, 1.0 / 256.0].iter().any(|&step| {
            let slow = comparable(slow(plan, step));
            let agrees = slow == exact;
            tried.push((step, slow));
            agrees
        });
        finer += usize::from(tried.len() > 1);
        assert!(
            agrees,
            "{exact:?}, but by steps {tried:?}\n{plan:?}\n{}",
            plan.sheet()
        );
        let right = exact.outcome == Outcome::Through && exact.struck == owed(plan);
        let kind = match right {
            true => "right".to_owned(),
            false => format!("{:?}", exact.outcome),
        };
        *kinds.entry(kind).or_default() += 1;
    }
    (kinds, finer)
}

#[test]
fn counts_and_jams_are_those_of_small_steps() {
    let mut dice = rand_pcg::Pcg64Mcg::seed_from_u64(7);
    let plans: Vec<Plan> = (0..MOVEMENTS).map(|_| Plan::throw(&mut dice)).collect();
    let tried = std::thread::scope(|scope| {
        let (one, other) = plans.split_at(MOVEMENTS / 2);
        let halves = [one, other].map(|half| scope.spawn(|| try_all(half)));
        halves.map(|half| half.join().expect("they agree"))
    });
    let mut kinds: BTreeMap<String, usize> = BTreeMap::new();
    for (kind, n) in tried.iter().flat_map(|(kinds, _)| kinds) {
        *kinds.entry(kind.clone()).or_default() += n;
    }
    let finer = tried[0].1 + tried[1].1;
    println!("{kinds:?}, {finer} of them by finer steps");
    assert_eq!(kinds.values().sum::<usize>(), MOVEMENTS);
    for kind in [
        "right",
        "Through",
        "Runaway",
        "Jam(\"count_lever\")",
        "Jam(\"drop_lever\")",
        "Jam(\"rack\")",
        "Jam(\"snail\")",
    ] {
        let seen = kinds.get(kind).is_some_and(|n| *n >= 10);
        assert!(seen, "{kind}: {kinds:?}");
    }
}

fn owed(plan: &Plan) -> Vec<u32> {
    let counts = plan.counts();
    counts
        .iter()
        .map(|&n| u32::try_from(n).expect("few"))
        .collect()
}
