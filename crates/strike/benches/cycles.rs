//! A thousand cycles of twelve hours, each with something else put in wrong, on two threads.
//!
//!     cargo bench -p strike --bench cycles
//!
//! The goal is under a second on two cores. Where others use the machine too, the time of the processor tells more than that of the
//! clock on the wall: half of it is what two idle cores would need.

use divan::{Bencher, black_box};
use movement::Movement;
use quantity::{Degrees, fraction};
use std::time::Instant;
use strike::{PlantedFault, strike};

const SCHOOLROOM: &str = include_str!("../../../movements/schoolroom.toml");
const PARLOUR: &str = include_str!("../../../movements/parlour.toml");

/// How many cycles a round runs.
const CYCLES: i64 = 1000;

fn main() {
    let movement = movement(SCHOOLROOM);
    let mut ends = std::collections::BTreeMap::new();
    let mut blows = 0;
    for n in 0..CYCLES {
        let struck = strike(&movement, &put_in(&movement, n), false).expect("fit to run");
        blows += struck.total();
        let end = format!("{:?}", struck.end);
        let end = end.split(['(', ' ']).next().unwrap_or("").to_owned();
        *ends.entry(end).or_insert(0) += 1;
    }
    println!("schoolroom: {blows} blows in {CYCLES} cycles; {ends:?}");
    for (name, text) in [("schoolroom", SCHOOLROOM), ("parlour", PARLOUR)] {
        let movement = self::movement(text);
        let (began, worked) = (Instant::now(), processor());
        on_two_threads(&movement);
        let wall = began.elapsed().as_secs_f64();
        let used = processor().zip(worked).map(|(now, then)| now - then);
        let used = used.map_or_else(
            || "not known here".to_owned(),
            |used| format!("{used:.2} s, {:.2} s a thread", used / 2.0),
        );
        println!(
            "{name}: {CYCLES} cycles on two threads: {wall:.2} s by the clock on the wall; by the processor {used}"
        );
    }
    divan::main();
}

/// Seconds that the processor worked for this program, its threads together: the 14th and 15th field of `/proc/self/stat`
/// (proc(5), Linux), in hundredths of a second as that page has them on all common machines.
fn processor() -> Option<f64> {
    let stat = std::fs::read_to_string("/proc/self/stat").ok()?;
    let after = stat.rsplit_once(')')?.1;
    let mut fields = after.split_whitespace().skip(11);
    let (own, system) = (fields.next()?, fields.next()?);
    Some((own.parse::<f64>().ok()? + system.parse::<f64>().ok()?) / 100.0)
}

/// Runs all cycles, every other one on each of two threads.
fn on_two_threads(movement: &Movement) {
    std::thread::scope(|scope| {
        for half in 0..2 {
            scope.spawn(move || {
                for n in (half..CYCLES).step_by(2) {
                    let put_in = put_in(movement, n);
                    let struck = strike(black_box(movement), &put_in, false);
                    black_box(&struck.expect("fit").hours);
                }
            });
        }
    });
}

fn movement(text: &str) -> Movement {
    sheet::read(text.as_bytes()).expect("good").movement
}

/// The nth thing to put in: a wheel some teeth wrong, a lever bent, a slot worn, a part slipped, in all mixtures.
fn put_in(movement: &Movement, n: i64) -> Vec<PlantedFault> {
    let works = movement.works().expect("levers");
    let tenths = |n: i64| Degrees::deg(fraction(n, 10));
    let mut put_in = Vec::new();
    let meshes: Vec<_> = movement.meshes().map(|(id, _)| id).collect();
    let count = i64::try_from(meshes.len()).expect("few");
    let index = usize::try_from(n % count).expect("few");
    put_in.push(PlantedFault::Shift {
        mesh: meshes[index],
        teeth: n / count % 5 - 2,
    });
    let levers = works.levers().len();
    let at = usize::try_from(n).expect("few") % levers;
    if let Some((lever, _)) = works.levers().nth(at) {
        let by = tenths(n % 7 - 3);
        put_in.push(PlantedFault::Bend { lever, by });
    }
    let at = usize::try_from(n).expect("few") % works.tracks().len();
    if let Some((track, _)) = works.tracks().nth(at) {
        let by = tenths(n % 11);
        put_in.push(PlantedFault::Worn {
            track,
            slot: None,
            by: by.clone(),
        });
        put_in.push(PlantedFault::SlippedTrack { track, by });
    }
    put_in
}

#[divan::bench(args = ["schoolroom", "parlour"], sample_count = 5, sample_size = 1)]
fn a_thousand_cycles(bencher: Bencher<'_, '_>, sheet: &str) {
    let movement = movement(if sheet == "parlour" {
        PARLOUR
    } else {
        SCHOOLROOM
    });
    bencher.bench(|| on_two_threads(&movement));
}
