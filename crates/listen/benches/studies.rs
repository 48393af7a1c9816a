//! Studies of listening with all their seeds, as tables: `cargo bench -p listen --bench studies -- rates sound still cycles whole arbors`;
//! all of them where none is named; `cycles:20..40` only these trials of one.

#[path = "../tests/heard/made/mod.rs"]
mod made;

use made::trials;
use std::ops::Range;
use std::time::Instant;

fn main() {
    let asked: Vec<String> = std::env::args()
        .skip(1)
        .filter(|a| !a.starts_with('-'))
        .collect();
    // Which trials of a study, of so many.
    let wanted = |name: &str, all: u64| -> Option<Range<u64>> {
        if asked.is_empty() {
            return Some(0..all);
        }
        asked.iter().find_map(|a| match a.split_once(':') {
            None => (a == name).then_some(0..all),
            Some((named, part)) => (named == name).then(|| range(part)),
        })
    };
    let begun = Instant::now();
    let told = |what: String| println!("{:>6.0} s  {what}", begun.elapsed().as_secs_f64());
    let rate = |came: &trials::Rates| {
        format!(
            "{} trials: {:.3} times the Cramér–Rao bound; interval covers {:.1} in 100, the recorder's clock apart {:.1}",
            came.trials,
            came.ratio(),
            100.0 * came.covered as f64 / came.trials as f64,
            100.0 * came.covered_recorded as f64 / came.trials as f64,
        )
    };
    if let Some(seeds) = wanted("rates", 1000) {
        told(format!(
            "five minutes of onsets, {}",
            rate(&trials::rates(seeds, false))
        ));
    }
    if let Some(seeds) = wanted("sound", 50) {
        told(format!(
            "the same as sound at 10 dB, {}",
            rate(&trials::rates(seeds, true))
        ));
    }
    if let Some(seeds) = wanted("arbors", 500) {
        let came = trials::arbors(seeds);
        told(format!(
            "an arbor 0.3 ms untrue, ten minutes of onsets: {came:?}"
        ));
    }
    if let Some(seeds) = wanted("still", 15) {
        // Twelve of ten minutes, then three of an hour.
        for seed in seeds {
            let seconds = if seed < 12 { 600.0 } else { 3600.0 };
            let came = trials::still(seed, seconds, 16_000.0);
            told(format!(
                "{seconds} s of ticking {seed}, nothing struck: {came:?}"
            ));
        }
    }
    if let Some(seeds) = wanted("cycles", 500) {
        let (right, of) = trials::cycles(seeds, 30.0, 12_000.0);
        told(format!(
            "twelve hours with 30 s about each strike, at 6 dB: {right} of {of} right in every hour"
        ));
    }
    if let Some(seeds) = wanted("whole", 20) {
        let (right, of) = trials::cycles(1000 + seeds.start..1000 + seeds.end, 3600.0, 12_000.0);
        told(format!(
            "twelve whole hours, at 6 dB: {right} of {of} right in every hour"
        ));
    }
}

/// `20..40`.
fn range(part: &str) -> Range<u64> {
    let (from, to) = part.split_once("..").expect("from..to");
    from.parse().expect("a number")..to.parse().expect("a number")
}
