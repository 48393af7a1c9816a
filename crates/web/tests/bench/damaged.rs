//! Damaged sheets on every page of a job: each is shown, or says why not.
//!
//! A few in the usual run; `TRUNDLE_SHEETS` says how many, `TRUNDLE_SEED` which others, `TRUNDLE_PAGES=one` that of each sheet only one page is asked
//! for, by chance, so that more sheets can be tried. The time is told, and held to only where a page hangs.

use crate::served::{Served, serve};
use fleet::{Dice, absurd, dice, mutate};
use rand::RngExt;
use std::time::{Duration, Instant};

/// How many, if nothing else is said.
const SHEETS: u32 = 40;

/// After so many jobs another bench is begun, as a bench takes in a backup a day what it has.
const A_BENCH: u32 = 200;

/// So long nobody waits, even where other things go on beside.
const HANGS: Duration = Duration::from_secs(120);

const SAMPLES: [&str; 4] = [
    include_str!("../../../../movements/parlour.toml"),
    include_str!("../../../../movements/schoolroom.toml"),
    include_str!("../../../../movements/quarters.toml"),
    include_str!("../../../../movements/mantel.toml"),
];

/// The pages of a job beside its sums, as they are behind its address.
const PAGES: [&str; 10] = [
    "",
    "?step=look&slot=-3&pin=12",
    "/way",
    "/way?stage=in",
    "/way?stage=together",
    "/strike",
    "/strike?hour=12",
    "/strike/table",
    "/power?runs=8days",
    "/record/whole",
];

#[test]
fn every_page_of_a_damaged_sheet_is_shown_or_says_why_not() {
    let sheets = std::env::var("TRUNDLE_SHEETS");
    let sheets = sheets.map_or(SHEETS, |said| said.parse().expect("how many"));
    let seed = std::env::var("TRUNDLE_SEED");
    let mut dice = dice(seed.map_or(17, |said| said.parse().expect("a number")));
    let one = std::env::var_os("TRUNDLE_PAGES").is_some_and(|pages| pages == "one");
    let mut served = serve(&[]);
    let sums = web::sums().map(|sum| format!("/{sum}"));
    let pages: Vec<String> = PAGES.map(str::to_owned).into_iter().chain(sums).collect();
    let mut asked = 0;
    let mut slowest = vec![(Duration::ZERO, 0, Duration::ZERO); pages.len()];
    for n in 0..sheets {
        if n % A_BENCH == A_BENCH - 1 {
            served = serve(&[]);
        }
        let sheet = damaged(&mut dice);
        let put_on = served.post("/jobs", &[("sheet", &sheet), ("as-another", "yes")]);
        let Some(at) = put_on.header("location") else {
            assert_eq!(put_on.status, 422, "{sheet}\n{}", put_on.body);
            continue;
        };
        let job = at.trim_end_matches("/way");
        let only = one.then(|| dice.random_range(0..pages.len()));
        for (at, (page, slowest)) in pages.iter().zip(&mut slowest).enumerate() {
            if only.is_some_and(|only| only != at) {
                continue;
            }
            asked += 1;
            let took = shown(&served, &format!("{job}{page}"), &sheet);
            if took > slowest.0 {
                (slowest.0, slowest.1) = (took, n);
            }
            slowest.2 += took;
        }
    }
    println!("{sheets} sheets, {asked} pages");
    for (page, (took, n, all)) in pages.iter().zip(slowest) {
        println!("{page}: at most {took:.1?}, sheet {n}; in all {all:.1?}");
    }
}

/// One page, and how long it took; a turn that was not had is waited for.
fn shown(served: &Served, address: &str, sheet: &str) -> Duration {
    let began = Instant::now();
    let page = served.get(address);
    let took = began.elapsed();
    let said = matches!(page.status, 200 | 303 | 404 | 422 | 503);
    assert!(said, "{address}: {}\n{sheet}\n{}", page.status, page.body);
    if page.status == 503 {
        assert!(page.header("retry-after").is_some(), "{address}\n{sheet}");
    }
    assert!(took < HANGS, "{address} took {took:?}\n{sheet}");
    // What has no words in the catalogue would stand there as its own name.
    for raw in ["refused-", "trouble-", "NaN", "inf ", "{ $"] {
        assert!(
            !page.body.contains(raw),
            "{address}: {raw}\n{sheet}\n{}",
            page.body
        );
    }
    took
}

fn damaged(dice: &mut Dice) -> String {
    let sample = SAMPLES[dice.random_range(0..SAMPLES.len())];
    match dice.random_bool(0.4) {
        true => absurd(&mutate(sample, dice), dice),
        false => absurd(sample, dice),
    }
}
