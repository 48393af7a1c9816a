//! How long an answer takes at the worst, and how much memory: twelve meshes, twelve witnesses, 200 random sheets.
//!
//!     cargo bench -p fleet --bench large [-- SHEETS [FIRST]]
//!
//! The goal is 2 s of processor on a slow machine and 100 MB for each, however long an exhaustive search would take.

use fleet::{arbitrary, dice, large, read_in_part};
use movement::Movement;
use rand::RngExt;
use timing::{Answer, Cure, Hands, Reading, answer, parse, read};

fn main() {
    let mut numbers = std::env::args().filter_map(|argument| argument.parse::<u64>().ok());
    let sheets = numbers.next().unwrap_or(200);
    let first = numbers.next().unwrap_or(0);
    let mut took: Vec<(f64, u64, String)> = (first..first + sheets).map(one).collect();
    took.sort_by(|a, b| a.0.total_cmp(&b.0));
    for (seconds, seed, says) in &took[took.len() - took.len().min(8)..] {
        println!("  {seconds:8.3} s  seed {seed:4} {says}");
    }
    let middle = took.len() / 2;
    let over = took.iter().filter(|(seconds, ..)| *seconds > 2.0).count();
    let last = took.last().map_or(0.0, |(seconds, ..)| *seconds);
    println!(
        "{sheets} sheets: processor median {:.3} s, worst {last:.3} s, {over} above 2 s; most memory {:.1} MB",
        took[middle].0,
        most_memory(),
    );
    for says in ["none needed", "shift", "no mesh", "not found"] {
        let of = |cut: bool| {
            (took.iter())
                .filter(|(.., told)| told.starts_with(says) && told.contains("cut short") == cut)
                .count()
        };
        println!("  {says}: {} whole, {} cut short", of(false), of(true));
    }
}

/// Seconds of processor, and what came of it.
fn one(seed: u64) -> (f64, u64, String) {
    let mut dice = dice(seed);
    let sheet = large(12, &mut dice).sheet();
    let movement = sheet::read(sheet.as_bytes())
        .expect("a good sheet")
        .movement;
    let part = if dice.random_bool(0.6) { 1.0 } else { 0.5 };
    // At last readings that nobody thought about.
    let meshes = [1, 2, 3, 6, 12, 40, 0][dice.random_range(0..7)];
    let saw = match meshes {
        0 => arbitrary(&movement, &mut dice),
        _ => read_in_part(&movement, meshes, part, &mut dice),
    };
    let readings = readings(&movement, &saw);
    if std::env::var_os("SHEETS").is_some() {
        let saw: Vec<_> = saw
            .iter()
            .map(|(id, at)| format!("--saw {id}={at}"))
            .collect();
        println!("{sheet}\n# {}", saw.join(" "));
    }
    let began = processor();
    let answer = answer(&movement, &readings, Hands::default());
    let took = processor() - began;
    (took, seed, says(&answer, saw.len(), meshes))
}

fn readings(movement: &Movement, saw: &[(String, String)]) -> Vec<Reading> {
    (saw.iter())
        .map(|(id, at)| {
            let (id, said) =
                parse(movement, movement.seen_from(), &format!("{id}={at}")).expect("a decimal");
            read(movement, id, &said).expect("a reading that can be used")
        })
        .collect()
}

fn says(answer: &Answer, read: usize, wrong: usize) -> String {
    let cure = match &answer.cure {
        Cure::NoneNeeded => "none needed".to_owned(),
        Cure::Shift(shifts) => format!("shift of {}", shifts.len()),
        Cure::Turn(..) => "turn".to_owned(),
        Cure::NoMesh(_) => "no mesh".to_owned(),
        Cure::NotFound(_) => "not found".to_owned(),
    };
    let cut = if answer.cut_short { ", cut short" } else { "" };
    let (left, work) = (answer.untried, answer.work / 1_000_000);
    format!(
        "{cure}{cut}; {read} read, {wrong} wrong; untried {} and {}, teeth {}, nearer {}; {work} million steps",
        left.fewer, left.as_many, left.teeth, left.nearer
    )
}

/// Seconds of processor that this thread has had.
fn processor() -> f64 {
    let text = std::fs::read_to_string("/proc/thread-self/schedstat").unwrap_or_default();
    let nanoseconds = text.split(' ').next().and_then(|n| n.parse::<f64>().ok());
    nanoseconds.expect("a system that counts them") / 1e9
}

/// The most memory that this process has had, in megabytes.
fn most_memory() -> f64 {
    let text = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = text.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    let kilobytes = line.and_then(|line| line.trim().split(' ').next()?.parse::<f64>().ok());
    kilobytes.expect("a system that counts it") * 1024.0 / 1e6
}
