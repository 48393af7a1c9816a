//! What was acknowledged is there, at whatever instant power fails or the program is killed; and without carrying anything to
//! the disk it would not be.
//!
//! A kill alone does not show that: what a killed program has written, the machine still carries to the disk. So the calls
//! by which a program reaches its files are written down (by `strace`), and the disk is made again as it may look if power
//! fails between any two of them (`disk/mod.rs`): with nothing of what was on its way, with any part of it, and with all of it,
//! which is what a kill leaves. What is carried is told by the calls, so all of it may lie in memory. The same calls without those that carry have to fail the same test.
#![cfg(target_os = "linux")]

mod deeds;
mod disk;
mod earlier;
mod made_up;
mod victim;

use book::Syncing;
use deeds::{Deed, ENOUGH, Told, work_if_watched};
use disk::{Call, Disk, Luck, calls};
use made_up::quick_folder;
use rand::SeedableRng;
use rand::seq::index::sample;
use rand_pcg::Pcg64Mcg;
use std::collections::BTreeSet;
use victim::watched;

/// Of the places between two calls so many are tried of each deed, by seeded chance, and the first and the last;
/// `TRUNDLE_CUTS` asks for another number, or for `all`.
const CUTS: usize = 30;

#[test]
fn entries_outlive_a_failure_of_power() {
    cut("entries_outlive_a_failure_of_power", Deed::Write);
}

#[test]
fn pictures_outlive_a_failure_of_power() {
    cut("pictures_outlive_a_failure_of_power", Deed::Upload);
}

#[test]
fn sheets_and_settings_outlive_a_failure_of_power() {
    cut(
        "sheets_and_settings_outlive_a_failure_of_power",
        Deed::Sheets,
    );
}

#[test]
fn backups_outlive_a_failure_of_power() {
    cut("backups_outlive_a_failure_of_power", Deed::Backup);
}

#[test]
fn a_removal_outlives_a_failure_of_power() {
    cut("a_removal_outlives_a_failure_of_power", Deed::Remove);
}

#[test]
fn a_restore_outlives_a_failure_of_power() {
    cut("a_restore_outlives_a_failure_of_power", Deed::Restore);
}

#[test]
fn an_import_outlives_a_failure_of_power() {
    cut("an_import_outlives_a_failure_of_power", Deed::Import);
}

#[test]
fn a_new_form_outlives_a_failure_of_power() {
    cut("a_new_form_outlives_a_failure_of_power", Deed::Migrate);
}

/// What came of it.
#[derive(Debug, Default)]
struct Tried {
    instants: usize,
    /// At so many of them something was on its way to the disk.
    waiting: usize,
    wrong: Vec<String>,
}

/// Lets power fail between the calls of a deed, where that can be tried here.
fn cut(test: &str, deed: Deed) {
    work_if_watched();
    let asked = std::env::var("TRUNDLE_CUTS").ok();
    let cuts = match asked.as_deref() {
        None => CUTS,
        Some("all") => usize::MAX,
        Some(number) => number.parse().expect("a number, or all"),
    };
    let folder = quick_folder();
    let root = folder.path().join("root");
    std::fs::create_dir(&root).unwrap();
    deed.prepare(&root);
    let before = Disk::of(&root);
    let run = |syncing| match watched(test, &deed.told(&root, syncing), ENOUGH) {
        Ok(trace) => Some(calls(&trace)),
        Err(why) if std::env::var_os("TRUNDLE_PROVE").is_some() => panic!("{why}"),
        Err(why) => {
            let why = why.trim();
            println!("no calls can be written down here ({why}): not tried");
            None
        }
    };
    let Some(calls) = run(Syncing::Each) else {
        return;
    };
    let places = places(&before, &calls);
    let tried = fail(deed, before.clone(), &calls, &some(&places, cuts));
    let (instants, waiting) = (tried.instants, tried.waiting);
    println!(
        "{deed:?}: power fails at {instants} of {} places, at {waiting} with something on its way: wrong at {}",
        places.len(),
        tried.wrong.len(),
    );
    let first: Vec<&String> = tried.wrong.iter().take(9).collect();
    assert!(first.is_empty(), "{deed:?}: {first:#?}");
    assert!(waiting > instants / 4, "{deed:?}: {tried:?}");

    let carries = |call: &Call| matches!(call, Call::Carry(_));
    let nothing_carried: Vec<Call> = calls.into_iter().filter(|call| !carries(call)).collect();
    let some = some(&self::places(&before, &nothing_carried), cuts.min(CUTS));
    let tried = fail(deed, before, &nothing_carried, &some);
    let (wrong, instants) = (tried.wrong.len(), tried.instants);
    println!("{deed:?} with nothing carried to the disk: wrong at {wrong} of {instants}");
    assert!(wrong > 0, "{deed:?}: carrying makes no difference");
}

/// With syncing off nothing that is acknowledged outlives it.
#[test]
fn with_syncing_off_it_is_lost() {
    work_if_watched();
    for deed in [Deed::Write, Deed::Upload] {
        let folder = quick_folder();
        let root = folder.path().join("root");
        std::fs::create_dir(&root).unwrap();
        let before = Disk::of(&root);
        let told = deed.told(&root, Syncing::Never);
        let Ok(trace) = watched("with_syncing_off_it_is_lost", &told, ENOUGH) else {
            assert!(std::env::var_os("TRUNDLE_PROVE").is_none());
            return;
        };
        let calls = calls(&trace);
        let some = some(&places(&before, &calls), CUTS);
        let tried = fail(deed, before, &calls, &some);
        let (wrong, instants) = (tried.wrong.len(), tried.instants);
        println!("{deed:?} with syncing off: wrong at {wrong} of {instants}");
        assert!(
            wrong > instants / 2,
            "{deed:?}: syncing makes no difference"
        );
    }
}

/// What was acknowledged by a call, if anything was.
fn said(call: &Call) -> Option<&str> {
    match call {
        Call::Say(said) => said.split_once("kept ").map(|(_, kept)| kept.trim_end()),
        _ => None,
    }
}

/// The calls before which the disk, or what was acknowledged, is another than before the last of them; and the end.
fn places(before: &Disk, calls: &[Call]) -> Vec<usize> {
    let mut disk = before.clone();
    let mut places = vec![0];
    for (at, call) in calls.iter().enumerate() {
        if disk.take(call) || said(call).is_some() {
            places.push(at + 1);
        }
    }
    places
}

/// So many of the places, and the first and the last.
fn some(places: &[usize], cuts: usize) -> BTreeSet<usize> {
    let mut chance = Pcg64Mcg::seed_from_u64(7);
    let sampled = sample(&mut chance, places.len(), cuts.min(places.len()));
    let ends = places.first().into_iter().chain(places.last());
    sampled
        .iter()
        .map(|at| places[at])
        .chain(ends.copied())
        .collect()
}

fn fail(deed: Deed, mut disk: Disk, calls: &[Call], places: &BTreeSet<usize>) -> Tried {
    let mut chance = Pcg64Mcg::seed_from_u64(11);
    let mut tried = Tried::default();
    let mut told = Told::default();
    for at in 0..=calls.len() {
        if places.contains(&at) {
            tried.instants += 1;
            tried.waiting += usize::from(disk.waiting());
            for luck in [Luck::None, Luck::Some, Luck::All] {
                let left = quick_folder();
                disk.fail(left.path(), luck, &mut chance);
                if let Err(wrong) = deed.inspect(left.path(), &told) {
                    let before = calls.get(at).map(|call| {
                        format!("{call:?}")[..]
                            .chars()
                            .take(160)
                            .collect::<String>()
                    });
                    let wrong = format!("before call {at} {before:?}, {luck:?}: {wrong}");
                    tried.wrong.push(wrong);
                    break;
                }
            }
        }
        if let Some(call) = calls.get(at) {
            disk.take(call);
            said(call)
                .into_iter()
                .for_each(|kept| told.note(deed, kept));
        }
    }
    assert!(told.any());
    tried
}
