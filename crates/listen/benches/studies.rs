//! Studies of listening with all their seeds, as tables: `cargo bench -p listen --bench studies -- rates sound still cycles whole arbors`;
//! all of them where none is named.

#[path = "../tests/heard/made/mod.rs"]
mod made;

use made::trials;
use std::time::Instant;

fn main() {
    let asked: Vec<String> = std::env::args()
        .skip(1)
        .filter(|a| !a.starts_with('-'))
        .collect();
    let wanted = |name: &str| asked.is_empty() || asked.iter().any(|a| a == name);
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
    if wanted("rates") {
        told(format!(
            "five minutes of onsets, {}",
            rate(&trials::rates(0..1000, false))
        ));
    }
    if wanted("sound") {
        told(format!(
            "the same as sound at 10 dB, {}",
            rate(&trials::rates(0..50, true))
        ));
    }
    if wanted("arbors") {
        let came = trials::arbors(0..500);
        told(format!(
            "an arbor 0.3 ms untrue, ten minutes of onsets: {came:?}"
        ));
    }
    if wanted("still") {
        let hours = (0..3).map(|seed| (seed, 3600.0));
        for (seed, seconds) in (0..12).map(|seed| (seed, 600.0)).chain(hours) {
            let came = trials::still(seed, seconds, 16_000.0);
            told(format!(
                "{seconds} s of ticking {seed}, nothing struck: {came:?}"
            ));
        }
    }
    if wanted("cycles") {
        let (right, of) = trials::cycles(0..500, 30.0, 12_000.0);
        told(format!(
            "twelve hours with 30 s about each strike, at 6 dB: {right} of {of} right in every hour"
        ));
    }
    if wanted("whole") {
        let (right, of) = trials::cycles(1000..1020, 3600.0, 12_000.0);
        told(format!(
            "twelve whole hours, at 6 dB: {right} of {of} right in every hour"
        ));
    }
}
