//! How long an answer takes, and how much memory: eight meshes and a million places, and a schoolroom clock.
//!
//!     cargo bench -p fleet --bench answer
//!
//! The goal for eight meshes is 20 ms and 64 MiB. The places are counted first, by walking to every one of them.

use divan::{AllocProfiler, Bencher, black_box};
use fleet::Wheels;
use movement::{MeshId, Movement};
use num_integer::Integer;
use num_traits::ToPrimitive;
use quantity::{BigInt, Exact};
use std::collections::HashSet;
use timing::{Answer, Cure, Hands, Reading, answer, parse, read};

#[global_allocator]
static MEMORY: AllocProfiler = AllocProfiler::system();

const EIGHT: &str = include_str!("eight.toml");
const SCHOOLROOM: &str = include_str!("../../../movements/schoolroom.toml");

fn main() {
    let eight = movement(EIGHT);
    println!("eight meshes: {} places", places(&eight));
    for (says, saw) in EIGHT_SAW {
        println!("  {says}: {}", meshes(&ask(&eight, &look(&eight, saw))));
    }
    println!("schoolroom: {} places", places(&movement(SCHOOLROOM)));
    divan::main();
}

/// Readings of the movement with eight meshes.
const EIGHT_SAW: [(&str, &str); 4] = [
    (
        "one mesh wrong",
        "slot=0.1 lifts=-10 stop=-180 vane=5 pallet=-5 tail=2",
    ),
    (
        "three meshes wrong",
        "slot=1.25 lifts=-17 stop=-108 vane=-63 pallet=-5 tail=2",
    ),
    (
        "every witness out",
        "slot=1.3 lifts=15 stop=0 vane=80 pallet=160 tail=40",
    ),
    (
        "read loosely",
        "slot=1.3~0.5 lifts=15~5 stop=0~40 vane=80~30 pallet=160~40 tail=40~12",
    ),
];

#[divan::bench(args = [0, 1, 2, 3])]
fn eight_meshes(bencher: Bencher<'_, '_>, saw: usize) {
    let movement = movement(EIGHT);
    let readings = look(&movement, EIGHT_SAW[saw].1);
    bencher.bench_local(|| ask(black_box(&movement), black_box(&readings)));
}

#[divan::bench(args = ["slot=-1.2 star=-10 pin=-30", "slot=0.75 star=1.5 pin=0"])]
fn schoolroom(bencher: Bencher<'_, '_>, saw: &str) {
    let movement = movement(SCHOOLROOM);
    let readings = look(&movement, saw);
    bencher.bench_local(|| ask(black_box(&movement), black_box(&readings)));
}

#[divan::bench]
fn schoolroom_sheet_and_all() -> Answer {
    let movement = movement(black_box(SCHOOLROOM));
    let readings = look(&movement, black_box("slot=-1.2 star=-10 pin=-30"));
    ask(&movement, &readings)
}

fn movement(sheet: &str) -> Movement {
    sheet::read(sheet.as_bytes())
        .expect("a good sheet")
        .movement
}

fn look(movement: &Movement, saw: &str) -> Vec<Reading> {
    (saw.split(' '))
        .map(|saw| {
            let (id, said) = parse(movement, movement.seen_from(), saw).expect("a reading");
            read(movement, id, &said).expect("a reading that can be used")
        })
        .collect()
}

fn ask(movement: &Movement, readings: &[Reading]) -> Answer {
    answer(movement, readings, Hands::default())
}

fn meshes(answer: &Answer) -> String {
    match &answer.cure {
        Cure::NoneNeeded => "none needed".to_owned(),
        Cure::Shift(shifts) => format!("{} to shift", shifts.len()),
        Cure::Turn(..) => "turn".to_owned(),
        Cure::NoMesh(_) => "no mesh".to_owned(),
        Cure::NotFound(_) => "not found".to_owned(),
    }
}

/// In how many places all witnesses together can be put; every mesh must move some.
fn places(movement: &Movement) -> usize {
    let meshes: Vec<MeshId> = movement.meshes().map(|(mesh, _)| mesh).collect();
    let mut steps = vec![Vec::new(); meshes.len()];
    let mut around = Vec::new();
    for (witness, of) in movement.witnesses() {
        // One tooth at each mesh, in periods of the witness; then all in whole grains.
        let moved: Vec<Exact> = (meshes.iter())
            .map(|&mesh| {
                let mut wheels = Wheels::of(movement);
                wheels.shift(mesh, 1);
                wheels.ahead(witness).exact() / of.period().exact()
            })
            .collect();
        let grain = moved
            .iter()
            .fold(BigInt::from(1), |grain, moved| grain.lcm(moved.denom()));
        let whole = |x: &Exact| {
            (x * Exact::from_integer(grain.clone()))
                .to_integer()
                .to_i64()
        };
        for (steps, moved) in steps.iter_mut().zip(&moved) {
            steps.push(whole(moved).expect("a small number"));
        }
        around.push(grain.to_i64().expect("a small number"));
    }
    let mut places = HashSet::from([vec![0; around.len()]]);
    let mut fresh = vec![vec![0; around.len()]];
    while let Some(place) = fresh.pop() {
        for step in &steps {
            let next: Vec<i64> = (place.iter().zip(step).zip(&around))
                .map(|((place, step), around)| (place + step).rem_euclid(*around))
                .collect();
            if places.insert(next.clone()) {
                fresh.push(next);
            }
        }
    }
    places.len()
}
