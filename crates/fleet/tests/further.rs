//! A log that grew, gone on with from what was believed before, comes to just what it does gone over anew: of movements and days that are
//! made up, after each line of the day.

mod day;

use entries::Log;
use fleet::{Taste, dice, grow};
use timing::{Bench, Priors};

const MOVEMENTS: u64 = 30;
const DAYS: usize = 2;

/// Beyond so many ways to mesh it a movement takes long to go over anew after each line.
const MOST_WAYS: usize = 1_000;

#[test]
fn a_day_gone_on_with_line_by_line_comes_to_the_same_as_gone_over_anew() {
    let mut compared = 0;
    for seed in 0..MOVEMENTS {
        let mut dice = dice(910_000 + seed);
        let sheet = grow(&Taste::realistic(), &mut dice).sheet();
        let movement = sheet::read(sheet.as_bytes())
            .expect("a good sheet")
            .movement;
        let bench = Bench::of(&movement, Priors::default()).ok();
        let Some(bench) = bench.filter(|bench| bench.ways() <= MOST_WAYS) else {
            continue;
        };
        let noted = tasks::note(sheet.as_bytes(), None, &[], None, timing::Eye::default());
        let blank = noted.expect("a log").log.text().to_owned();
        for _ in 0..DAYS {
            let Some(lines) = day::Day::of(&movement, &mut dice) else {
                break;
            };
            let log = |so_far: usize| {
                let text = day::log(&blank, &lines[..so_far]);
                Log::read(text.as_bytes()).expect("a log").0
            };
            let mut before = bench.recall(&log(0)).expect("a belief");
            for so_far in 1..=lines.len() {
                let log = log(so_far);
                let anew = bench.recall(&log).expect("a belief");
                let further = bench.recall_further(&log, &before).expect("a belief");
                assert_eq!(
                    format!("{further:?}"),
                    format!("{anew:?}"),
                    "{}",
                    log.text()
                );
                before = further;
                compared += 1;
            }
        }
    }
    assert!(compared > 100, "only {compared} lines");
}
